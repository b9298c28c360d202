"""A recipe and what it is scaled to, as a request has them."""

from typing import Annotated, ClassVar, Final, Literal

from msgspec import Meta

from service.calculations.batch.alkalis import AlkaliShares
from service.calculations.batch.split_reading import Compensate, CountLiquidsAs, Rest, ShareOfAdded
from service.calculations.shared.given import (
    Density,
    LiquidRatio,
    MeasuredTemperature,
    PlainMass,
    Proportion,
    Share,
    Superfat,
    Volume,
)
from service.calculations.shared.identifiers import SHELF
from service.calculations.shared.messages import MOST_FATS, MOST_LIQUIDS, Alkali, Identifier, NamedFat, Strength
from service.calculations.shared.rules import ExactlyOne, OnlyWith, Rule, Ruled

MOST_ADDITIONS: Final = 50
MOST_ALLERGENS: Final = 100
MOST_BARS: Final = 1_000_000

UseLevel = Annotated[Proportion, Meta(description="Its mass per mass of all the fats.", examples=["3 %"])]
RecipeMass = Annotated[
    PlainMass,
    Meta(description="Its mass in the recipe as it is written; only where the fats have masses too. It is scaled."),
]
BarMass = Annotated[PlainMass, Meta(description="Of one bar as it is poured or cut, before it dries.")]
Count = Annotated[int, Meta(ge=1, le=MOST_BARS, description="How many bars.", examples=[40])]
InciName = Annotated[
    str,
    Meta(
        min_length=1,
        max_length=120,
        description="Its name for the list of ingredients; a colour by its Colour Index number.",
        examples=["Kaolin", "CI 77492"],
    ),
]


class RecipeFat(NamedFat, kw_only=True):
    """A fat of a recipe, by its share of all the fats or by its mass."""

    share: Annotated[Share, Meta(description="Its share of all the fats by mass.", examples=["60 %"])] | None = None
    mass: Annotated[PlainMass, Meta(description="Its mass in the recipe as it is written; it is scaled.")] | None = None
    inci_name: InciName | None = None
    soap_inci_name: (
        Annotated[
            str,
            Meta(
                min_length=1,
                max_length=120,
                description="What its soap is called in a list of ingredients, where the catalogue has no name.",
                examples=["Sodium Olivate"],
            ),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (*NamedFat.rules, ExactlyOne(("share", "mass")))

    @property
    def amount(self) -> float:
        """Its share, or its mass [kg]; of 0 there is none in the recipe."""
        told = self.share or self.mass
        return 0.0 if told is None else told.value


class RecipeTotalLiquid(Ruled, kw_only=True):
    """All the liquid of a recipe, the stock's own included, said in exactly one way."""

    water_ratio: (
        Annotated[LiquidRatio, Meta(description="Liquid per mass of pure hydroxide.", examples=["2:1"])] | None
    ) = None
    liquid_to_fat_ratio: (
        Annotated[Proportion, Meta(description="Liquid per mass of all the fats.", examples=["30 %"])] | None
    ) = None
    mass: RecipeMass | None = None
    final_strength: Annotated[Strength, Meta(description="Hydroxide in hydroxide and liquid together.")] | None = None

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("water_ratio", "liquid_to_fat_ratio", "mass", "final_strength")),)


class RecipeLiquid(Ruled, kw_only=True):
    """A liquid of a recipe that goes in beside the stock, and how much of it."""

    liquid: Annotated[Identifier, Meta(examples=["goat-milk"], extra={SHELF: "liquids"})]
    share: ShareOfAdded | None = None
    use_level: UseLevel | None = None
    mass: RecipeMass | None = None
    rest: Rest | None = None
    add_to: (
        Annotated[
            Literal["fats", "stock"],
            Meta(
                description="Where plain water goes; all else goes into the fats. Default the fats; where no alkali "
                "comes from a stock, what the solid is dissolved in (stock)."
            ),
        ]
        | None
    ) = None
    temperature: (
        Annotated[MeasuredTemperature, Meta(description="Default 20 °C, or 0 °C where it is frozen.")] | None
    ) = None
    frozen: Annotated[bool, Meta(description="Whether its water is ice. Default false.")] | None = None
    inci_name: InciName | None = None

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("share", "use_level", "mass", "rest")),)


class RecipeAcid(Ruled, kw_only=True):
    """An acid of a recipe, whose neutralisation takes alkali of its own."""

    acid: Annotated[Identifier, Meta(examples=["citric-acid-anhydrous"], extra={SHELF: "acids"})]
    use_level: UseLevel | None = None
    mass: RecipeMass | None = None

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("use_level", "mass")),)


class Allergen(Ruled, kw_only=True):
    """A substance that must be named on a label by itself, as the supplier of a fragrance states it."""

    inci_name: InciName
    share: Annotated[
        Share, Meta(description="Its share of the addition by mass, at the highest that is stated.", examples=["2 %"])
    ]


class RecipeAddition(Ruled, kw_only=True):
    """Something else of a recipe: fragrance, colour, clay, salt. It is taken to react with nothing."""

    material: Annotated[
        str,
        Meta(min_length=1, max_length=120, description="What it is called in the workshop.", examples=["white clay"]),
    ]
    kind: Annotated[
        Literal["fragrance", "colour", "other"], Meta(description="What it is; lists of ingredients treat them apart.")
    ]
    use_level: UseLevel | None = None
    mass: RecipeMass | None = None
    goes_into: (
        Annotated[
            Literal["fats", "trace"],
            Meta(description="Whether it goes into the fats, or into the batter at trace. Default at trace."),
        ]
        | None
    ) = None
    water_share: Annotated[Share, Meta(description="Water in it by mass. Default: none.")] | None = None
    density: Annotated[Density, Meta(description="Its own, as stirred in. Default 1.7 kg/L, within 0.8.")] | None = None
    highest_share: (
        Annotated[
            Share,
            Meta(
                description="The most of it that the finished bar may hold, as its supplier or a standard states it.",
                examples=["4 %"],
            ),
        ]
        | None
    ) = None
    sku: (
        Annotated[
            str,
            Meta(
                min_length=1,
                max_length=80,
                description="SKU of the soap that it is, such as shreds; production-plan makes that first.",
                examples=["PLAIN-100"],
            ),
        ]
        | None
    ) = None
    inci_name: InciName | None = None
    allergens: (
        Annotated[
            list[Allergen],
            Meta(min_length=1, max_length=MOST_ALLERGENS, description="What of it a label must name by itself."),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("use_level", "mass")),)


class Recipe(Ruled, kw_only=True):
    """What a soap is made of, for a batch of any size."""

    name: (
        Annotated[
            str, Meta(min_length=1, max_length=120, description="What the soap is called.", examples=["oat and milk"])
        ]
        | None
    ) = None
    fats: Annotated[
        list[RecipeFat],
        Meta(min_length=1, max_length=MOST_FATS, description="The fats: all by share, or all by mass."),
    ]
    superfat: (
        Annotated[
            Superfat,
            Meta(description="Share of the fats' need for alkali that is left unmet. Default 5 %.", examples=["5 %"]),
        ]
        | None
    ) = None
    alkalis: AlkaliShares | None = None
    total_liquid: (
        Annotated[RecipeTotalLiquid, Meta(description="Default: nothing is added beside the stock.")] | None
    ) = None
    liquids: (
        Annotated[
            list[RecipeLiquid],
            Meta(
                min_length=1,
                max_length=MOST_LIQUIDS,
                description="Liquids that go in beside the stock; distilled water where none are named.",
            ),
        ]
        | None
    ) = None
    count_liquids_as: CountLiquidsAs | None = None
    compensate: Compensate | None = None
    acids: Annotated[list[RecipeAcid], Meta(max_length=MOST_LIQUIDS, description="Acids that take alkali.")] | None = (
        None
    )
    additions: (
        Annotated[
            list[RecipeAddition],
            Meta(max_length=MOST_ADDITIONS, description="Fragrance, colour, clay, salt and the like."),
        ]
        | None
    ) = None


SCALES: Final = ("fat_mass", "batter_mass", "mould_volume", "bars", "stock_draw")


class ScaleTo(Ruled, kw_only=True):
    """What the batch is to come to, said in exactly one way."""

    fat_mass: Annotated[PlainMass, Meta(description="Mass of all the fats.", examples=["2.5 kg"])] | None = None
    batter_mass: Annotated[PlainMass, Meta(description="Mass of all that is poured.", examples=["4 kg"])] | None = None
    mould_volume: Annotated[Volume, Meta(description="What the moulds hold, filled.", examples=["3.6 L"])] | None = None
    bars: Count | None = None
    stock_draw: (
        Annotated[PlainMass, Meta(description="A draw of stock that is at hand already.", examples=["400 g"])] | None
    ) = None
    bar_mass: BarMass | None = None
    alkali: (
        Annotated[Alkali, Meta(description="Which stock's draw it is; needed where the recipe takes two alkalis.")]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (
        ExactlyOne(SCALES),
        OnlyWith("alkali", ("stock_draw",)),
        OnlyWith("bars", ("bar_mass",)),
    )
