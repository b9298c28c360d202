"""What a production plan is asked for: orders, recipes, stocks, materials and what the workshop can do in a day."""

from typing import Annotated, ClassVar, Final

from msgspec import Meta

from service.calculations.keeping.cooling_reading import Surroundings
from service.calculations.mixing.ice_reading import IceKind
from service.calculations.orders.recipe import BarMass, Recipe
from service.calculations.shared.given import Density, Efficiency, PlainMass, Power, Temperature, Volume
from service.calculations.shared.messages import (
    Alkali,
    MoistureGiven,
    PurityGiven,
    Strength,
    TemperatureGiven,
    Vessel,
)
from service.calculations.shared.rules import AtMostOne, ExactlyOne, Rule, Ruled

MOST_LINES: Final = 10_000
"""Order lines of one plan."""
MOST_RECIPES: Final = 1_000
MOST_STOCKS: Final = 20
MOST_MATERIALS: Final = 2_000
MOST_QUANTITY: Final = 1_000_000
MOST_DAYS: Final = 3_660

Sku = Annotated[
    str,
    Meta(
        min_length=1,
        max_length=80,
        description="The caller's own number of an article; it comes back as it was sent.",
        examples=["OAT-100"],
    ),
]
Date = Annotated[
    str,
    Meta(
        pattern=r"^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$",
        description="A day, by ISO 8601.",
        examples=["2031-03-14"],
    ),
]
Quantity = Annotated[int, Meta(ge=1, le=MOST_QUANTITY, description="How many bars.", examples=[120])]


class Order(Ruled, kw_only=True):
    """A line of an order."""

    sku: Sku
    quantity: Quantity
    due: (
        Annotated[Date, Meta(description="The day on which the bars must be ready. Default: when all else is.")] | None
    ) = None
    order: (
        Annotated[str, Meta(min_length=1, max_length=80, description="The caller's mark of it.", examples=["order 7"])]
        | None
    ) = None


class BatchSize(Ruled, kw_only=True):
    """How large a batch of a recipe is made."""

    fat_mass: Annotated[PlainMass, Meta(description="Mass of all the fats.", examples=["4 kg"])]


class PlanRecipe(Ruled, kw_only=True):
    """A recipe, and the batch that is made of it."""

    recipe: Recipe
    batch: Annotated[BatchSize, Meta(description="One batch.")]
    bars: Annotated[int, Meta(ge=1, le=MOST_QUANTITY, description="What a batch gives.", examples=[40])]
    bar_mass: BarMass | None = None
    description: (
        Annotated[str, Meta(min_length=1, max_length=120, description="What the article is called.")] | None
    ) = None
    mould_set: (
        Annotated[
            str,
            Meta(min_length=1, max_length=80, description="Which moulds a batch fills.", examples=["slab of 40"]),
        ]
        | None
    ) = None
    ready_after_days: (
        Annotated[
            int,
            Meta(ge=0, le=MOST_DAYS, description="Days from pouring to sale: drying and release.", examples=[28]),
        ]
        | None
    ) = None


class Remixing(Ruled, kw_only=True):
    """How a tank is filled anew, as `stock-mixing/ice` asks it."""

    strength: Annotated[Strength, Meta(description="Wanted of it; default that of the stock.")] | None = None
    peak_limit: Annotated[Temperature, Meta(description="What the upper end of the peak shall not pass.")]
    purity: PurityGiven | None = None
    moisture: MoistureGiven | None = None
    water_temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None
    ice: Annotated[IceKind, Meta(description="The ice.")] | None = None
    cool_to: (
        Annotated[Temperature, Meta(description="When it may be drawn from; default 38 °C.", examples=["30 °C"])] | None
    ) = None
    surroundings: Annotated[Surroundings, Meta(description="What the tank cools in; default still air.")] | None = None


class PlanStock(Ruled, kw_only=True):
    """A stock in its tank or jug."""

    alkali: Alkali
    mass: Annotated[PlainMass, Meta(description="What is there.")] | None = None
    volume: Annotated[Volume, Meta(description="What is there, at its temperature.")] | None = None
    strength: Annotated[Strength, Meta(description="How much of that hydroxide it holds.")]
    temperature: TemperatureGiven | None = None
    vessel: Annotated[Vessel, Meta(description="What it is in; `dead_volume` stays below its outlet.")] | None = None
    reserve: (
        Annotated[PlainMass, Meta(description="What shall stay in it beside that; default the reserve of the plan.")]
        | None
    ) = None
    remixing: Annotated[Remixing, Meta(description="How it is filled anew; without it, it is not.")] | None = None

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("mass", "volume")),)


class FinishedOnHand(Ruled, kw_only=True):
    """Bars that are there already."""

    sku: Sku
    quantity: Annotated[int, Meta(ge=0, le=MOST_QUANTITY, description="How many bars; none is 0.", examples=[12])]


class PlanMaterial(Ruled, kw_only=True):
    """A material on the shelf, and how it is bought."""

    material: Annotated[
        str,
        Meta(
            min_length=1,
            max_length=120,
            description="As in a weigh list: an identifier of the catalogue, or the name it has in a recipe; solid "
            "alkali by its formula; ice.",
            examples=["olive-oil", "NaOH", "ice"],
        ),
    ]
    sku: Sku | None = None
    description: (
        Annotated[str, Meta(min_length=1, max_length=120, description="What it is called.", examples=["olive oil"])]
        | None
    ) = None
    mass: Annotated[PlainMass, Meta(description="What is there; left out where there is none.")] | None = None
    volume: Annotated[Volume, Meta(description="What is there, with `density`.")] | None = None
    density: Annotated[Density, Meta(description="Its own, for what is counted by volume.")] | None = None
    package_mass: Annotated[PlainMass, Meta(description="What a package holds.", examples=["5 kg"])] | None = None
    package_volume: Annotated[Volume, Meta(description="What a package holds, with `density`.")] | None = None

    rules: ClassVar[tuple[Rule, ...]] = (
        AtMostOne(("mass", "volume")),
        AtMostOne(("package_mass", "package_volume")),
    )


class Heating(Ruled, kw_only=True):
    """What warms the fats."""

    power: Annotated[Power, Meta(description="Of the heater.", examples=["1.5 kW"])]
    efficiency: Annotated[Efficiency, Meta(description="Share of it that reaches the fats; default 80 %.")] | None = (
        None
    )
    fats_temperature: Annotated[Temperature, Meta(description="What the fats are warmed to.", examples=["50 °C"])]
    ambient: Annotated[Temperature, Meta(description="What they start from; default 20 °C.")] | None = None
