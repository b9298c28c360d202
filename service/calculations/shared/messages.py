"""What every request and every answer holds, and the objects that several requests share."""

from typing import Annotated, ClassVar, Final, Literal

from msgspec import UNSET, Meta, Struct, UnsetType, field

from service.calculations.shared.cautions import Caution
from service.calculations.shared.given import (
    Density,
    Fraction,
    IodineValue,
    Length,
    Mass,
    MassConcentration,
    Molality,
    Molarity,
    PlainMass,
    Purity,
    Ratio,
    SaponificationValue,
    Share,
    Temperature,
    Volume,
)
from service.calculations.shared.identifiers import SHELF
from service.calculations.shared.notes import Assumption, Step
from service.calculations.shared.rules import AtMostOne, ExactlyOne, NeverWith, OnlyWith, Rule, Ruled, Together

MOST_FATS: Final = 200
MOST_LIQUIDS: Final = 50
LONGEST_IDENTIFIER: Final = 80
LONGEST_REFERENCE: Final = 200

AlkaliName = Literal["NaOH", "KOH"]
"""The two hydroxides."""

Identifier = Annotated[
    str,
    Meta(
        min_length=1,
        max_length=LONGEST_IDENTIFIER,
        description="Identifier in the catalogue: the plain English name in kebab-case.",
        examples=["olive-oil"],
    ),
]
Alkali = Annotated[AlkaliName, Meta(description="The hydroxide.", examples=["NaOH"])]
Reference = Annotated[
    str,
    Meta(
        max_length=LONGEST_REFERENCE,
        description="The caller's own mark, such as a batch number; it comes back as it was sent.",
        examples=["batch 12"],
    ),
]
PurityGiven = Annotated[
    Purity, Meta(description="Mass fraction of hydroxide in the solid; for solid KOH it must be given.")
]
MoistureGiven = Annotated[
    Share,
    Meta(
        description="Mass fraction of water in the solid. It dilutes, and being bound as hydrate it gives less heat."
        " What is neither hydroxide nor water counts as inert."
    ),
]
TemperatureGiven = Annotated[Temperature, Meta(description="Temperature; 20 °C where it is not given.")]


class Request(Ruled, kw_only=True):
    """What every request may carry."""

    reference: Reference | None = None


class Answer(Struct, kw_only=True):
    """What every answer carries beside its results."""

    reference: Reference | UnsetType = UNSET
    cautions: Annotated[list[Caution], Meta(description="What to know about this answer.")] = field(
        default_factory=list
    )
    assumed: Annotated[list[Assumption], Meta(description="Every default that was used.")] = field(default_factory=list)
    data_version: Annotated[
        str, Meta(description="Version of the reference data.", examples=["sha256-0123456789ab"])
    ] = ""
    steps: Annotated[list[Step], Meta(description="The calculation step by step, with `explain=true`.")] | UnsetType = (
        UNSET
    )


STRENGTH_FORMS: Final = (
    "mass_fraction",
    "water_ratio",
    "mole_fraction",
    "molality",
    "molarity",
    "mass_concentration",
    "density",
    "degrees_baume",
    "degrees_twaddell",
    "oxide_fraction",
    "as_mixed",
)


class AsMixed(Ruled, kw_only=True):
    """A solution described by what it was mixed from: equal masses of water and 98 % beads make 49 %."""

    mass_as_supplied: Annotated[Mass, Meta(description="What was weighed from the bag.")]
    water_mass: Annotated[Mass, Meta(description="The water it was mixed with.")]
    purity: PurityGiven | None = None
    moisture: MoistureGiven | None = None


class Strength(Ruled, kw_only=True):
    """Strength of a solution, in exactly one form."""

    mass_fraction: Annotated[Fraction, Meta(description="Pure hydroxide per mass of solution.")] | None = None
    water_ratio: (
        Annotated[Ratio, Meta(description="Mass of everything else per mass of pure hydroxide (1:1 is 50 %).")] | None
    ) = None
    mole_fraction: (
        Annotated[Fraction, Meta(description="Moles of hydroxide per moles of hydroxide and water.")] | None
    ) = None
    molality: Annotated[Molality, Meta(description="Moles of hydroxide per mass of water.")] | None = None
    molarity: Annotated[Molarity, Meta(description="Moles of hydroxide per volume, at `temperature`.")] | None = None
    mass_concentration: (
        Annotated[MassConcentration, Meta(description="Mass of hydroxide per volume, at `temperature`.")] | None
    ) = None
    density: Annotated[Density, Meta(description="Density at `temperature`.")] | None = None
    degrees_baume: (
        Annotated[
            float,
            Meta(ge=0, le=70, description="Degrees Baumé (heavier than water), by `baume_modulus`.", examples=[50]),
        ]
        | None
    ) = None
    degrees_twaddell: (
        Annotated[
            float,
            Meta(ge=0, le=200, description="Degrees Twaddell: 200 (specific gravity - 1).", examples=[100]),
        ]
        | None
    ) = None
    oxide_fraction: (
        Annotated[Fraction, Meta(description="The hydroxide counted as Na2O or K2O per mass of solution.")] | None
    ) = None
    as_mixed: Annotated[AsMixed, Meta(description="What the solution was mixed from.")] | None = None
    temperature: (
        Annotated[Temperature, Meta(description="Temperature of density and of amounts per volume; default 20 °C.")]
        | None
    ) = None
    reference_temperature: (
        Annotated[
            Temperature,
            Meta(description="Temperature of solution and water in the specific gravity; default 60 °F."),
        ]
        | None
    ) = None
    baume_modulus: (
        Annotated[
            float,
            Meta(ge=140, le=150, description="Modulus of the Baumé scale; default 145 (USA).", examples=[145, 144.3]),
        ]
        | None
    ) = None
    uncertainty: (
        Annotated[Share, Meta(description="Standard uncertainty of the mass fraction.", examples=["0.5 %"])] | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (
        ExactlyOne(STRENGTH_FORMS),
        NeverWith(
            "temperature",
            ("degrees_baume", "degrees_twaddell"),
            "degrees of a hydrometer hold at its reference temperature, and a reading at another is off",
            "reduce the reading to the reference temperature, or name that as reference_temperature",
        ),
        OnlyWith("baume_modulus", ("degrees_baume",)),
        OnlyWith("reference_temperature", ("degrees_baume", "degrees_twaddell")),
    )

    @property
    def form(self) -> str:
        """Name of the form it is given in."""
        return next(name for name in STRENGTH_FORMS if getattr(self, name) is not None)


class Stock(Ruled, kw_only=True):
    """A stock that alkali is drawn from."""

    alkali: Alkali
    strength: Annotated[Strength, Meta(description="How much of that hydroxide it holds.")]
    temperature: TemperatureGiven | None = None


class Solution(Ruled, kw_only=True):
    """An amount of a solution; water has strength 0."""

    alkali: Alkali
    mass: Annotated[PlainMass, Meta(description="Its mass.")] | None = None
    volume: Annotated[Volume, Meta(description="Its volume at its temperature.")] | None = None
    strength: Annotated[Strength, Meta(description="How much of that hydroxide it holds; 0 for water.")]
    temperature: TemperatureGiven | None = None
    state: Annotated[Literal["liquid", "ice"], Meta(description="`ice` only for water.")] | None = None

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("mass", "volume")),)


class Vessel(Ruled, kw_only=True):
    """A vessel for caustic."""

    material: Annotated[Identifier, Meta(examples=["hdpe", "stainless-steel"], extra={SHELF: "vessel materials"})]
    mass: Annotated[PlainMass, Meta(description="Its own mass; it takes up a part of the heat.")] | None = None
    volume: Annotated[Volume, Meta(description="What it holds to the brim.")] | None = None
    diameter: Annotated[Length, Meta(description="Inner diameter.")] | None = None
    height: Annotated[Length, Meta(description="Inner height.")] | None = None
    wall_thickness: (
        Annotated[Length, Meta(description="Thickness of the wall; it bears on a warming and a cooling.")] | None
    ) = None
    lid: Annotated[bool, Meta(description="Whether it is closed.")] | None = None
    maximum_temperature: Annotated[Temperature, Meta(description="Its limit, where its maker states one.")] | None = (
        None
    )
    dead_volume: (
        Annotated[Volume, Meta(description="What stays below the outlet; it bears on a warming alone.")] | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (
        Together(("diameter", "height")),
        AtMostOne(("volume", "diameter")),
    )


class NamedFat(Ruled, kw_only=True):
    """A fat of the catalogue, or one's own fat by its certificate of analysis."""

    fat: Annotated[Identifier, Meta(extra={SHELF: "fats"})] | None = None
    name: (
        Annotated[
            str,
            Meta(min_length=1, max_length=120, description="Name of one's own fat.", examples=["own olive oil, lot 7"]),
        ]
        | None
    ) = None
    saponification_value: (
        Annotated[SaponificationValue, Meta(description="From the certificate of analysis.", examples=["192 mg/g"])]
        | None
    ) = None
    iodine_value: (
        Annotated[IodineValue, Meta(description="From the certificate of analysis.", examples=["84 g/100g"])] | None
    ) = None
    fatty_acids: (
        Annotated[
            dict[Annotated[str, Meta(extra={SHELF: "fatty acids"})], Share],
            Meta(
                max_length=40,
                description="Mass fraction of each acid of all fatty acids, in the standard shorthand.",
                examples=[{"C18:1": "72 %", "C16:0": "12 %"}],
            ),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (
        ExactlyOne(("fat", "name")),
        NeverWith(
            "saponification_value",
            ("fat",),
            "the catalogue has a saponification value for this fat, and the certificate gives another",
            "give name instead of fat, to reckon with the certificate",
        ),
        Together(("name", "saponification_value")),
        OnlyWith("iodine_value", ("name",)),
        OnlyWith("fatty_acids", ("name",)),
    )


class FatLine(NamedFat, kw_only=True):
    """A fat of the catalogue and its mass; or one's own fat by its certificate of analysis."""

    mass: Annotated[Mass, Meta(description="Its mass.")]


FatLines = Annotated[list[FatLine], Meta(min_length=1, max_length=MOST_FATS, description="The fats, in any order.")]
