"""POST /v1/stock-mixing: how hot a mixing of lye stock gets, before anyone mixes it."""

from typing import Annotated, ClassVar

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.given import Duration, Fraction, Mass, Temperature
from service.calculations.messages import (
    Alkali,
    Answer,
    MoistureGiven,
    PurityGiven,
    Request,
    Solution,
    Vessel,
)
from service.calculations.rules import AtLeastOne, Rule, Ruled
from service.calculations.told import (
    EnergyFigure,
    FractionFigure,
    MassFigure,
    TemperatureDifferenceFigure,
    TemperatureFigure,
    VolumeFigure,
)


class Solid(Ruled, kw_only=True):
    """The solid alkali, as it is weighed from the bag."""

    alkali: Alkali
    mass_as_supplied: Annotated[Mass, Meta(description="What is weighed from the bag.", examples=["10 kg"])]
    temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None
    purity: PurityGiven | None = None
    moisture: MoistureGiven | None = None


class Water(Ruled, kw_only=True):
    """Liquid water in the vessel."""

    mass: Annotated[Mass, Meta(description="Its mass.", examples=["10 kg"])]
    temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None


class Ice(Ruled, kw_only=True):
    """Ice in the vessel."""

    mass: Annotated[Mass, Meta(description="Its mass, what has melted of it included.", examples=["6 kg"])]
    temperature: (
        Annotated[Temperature, Meta(description="Default 0 °C, the cautious side.", examples=["-18 °C"])] | None
    ) = None
    melted_share: (
        Annotated[Fraction, Meta(description="The part of it that has melted already.", examples=["20 %"])] | None
    ) = None


class StockMixingRequest(Request, kw_only=True):
    """What is in the vessel, and the solid alkali that goes into it."""

    solid: Solid
    water: Water | None = None
    ice: Ice | None = None
    existing_stock: Solution | None = None
    vessel: Vessel | None = None
    ambient: Annotated[Temperature, Meta(description="Temperature of the air; default 20 °C.")] | None = None
    duration: (
        Annotated[Duration, Meta(description="How long the addition takes; bounds the heat lost.", examples=["20 min"])]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (AtLeastOne(("water", "ice", "existing_stock")),)


class StrengthFigure(Struct, frozen=True, kw_only=True):
    """Strength of a solution."""

    mass_fraction: Annotated[FractionFigure, Meta(description="Pure hydroxide per mass of solution.")]


class PathPoint(Struct, frozen=True, kw_only=True):
    """The vessel when a share of the solid is in."""

    solid_added_share: Annotated[FractionFigure, Meta(description="Share of the solid that is in.")]
    strength: (
        Annotated[StrengthFigure, Meta(description="Of the liquid; left out with the temperature.")] | UnsetType
    ) = UNSET
    temperature: (
        Annotated[TemperatureFigure, Meta(description="Without heat lost; left out where no data reach.")] | UnsetType
    ) = UNSET
    boiling_point: Annotated[TemperatureFigure, Meta(description="Of the liquid at 1 atm.")] | UnsetType = UNSET
    ice_mass: Annotated[MassFigure, Meta(description="Ice that is left; left out where no data reach.")] | UnsetType = (
        UNSET
    )


class StockMixingAnswer(Answer):
    """How hot the mixing gets, and the stock it makes."""

    strength: Annotated[StrengthFigure, Meta(description="Of the finished stock.")]
    mass: Annotated[MassFigure, Meta(description="Of the finished stock, what boiled off not counted.")]
    volume: Annotated[VolumeFigure, Meta(description="At 20 °C.")]
    peak_temperature: Annotated[
        TemperatureFigure,
        Meta(
            description="Highest temperature, without any heat lost, capped at boiling. The upper end adds the "
            "uncertainty of the data, the lower end also the most heat that can be lost."
        ),
    ]
    peak_at: Annotated[FractionFigure, Meta(description="Share of the solid that is in at the peak.")]
    adiabatic_temperature: Annotated[
        TemperatureFigure, Meta(description="Of the finished stock, if nothing were lost and nothing boiled.")
    ]
    boils: Annotated[bool, Meta(description="Whether it can boil: whether the boiling margin is not positive.")]
    boiling_margin: Annotated[
        TemperatureDifferenceFigure,
        Meta(description="Least distance to boiling along the path, reckoned with the upper end; positive is safe."),
    ]
    water_boiled_off: Annotated[MassFigure, Meta(description="Water that leaves as steam, without heat lost.")]
    heat_released: Annotated[
        EnergyFigure,
        Meta(description="Heat of dissolving and diluting at 25 °C; positive is given off. Melting takes from it."),
    ]
    path: Annotated[list[PathPoint], Meta(description="Point by point while the solid is added.")]
    hot_volume: (
        Annotated[VolumeFigure, Meta(description="At the end of the addition; left out where no data reach.")]
        | UnsetType
    ) = UNSET
    ice_left: Annotated[MassFigure, Meta(description="Ice at the end; left out where no data reach.")] | UnsetType = (
        UNSET
    )
    vessel_limit: Annotated[TemperatureFigure, Meta(description="Of the vessel, where known.")] | UnsetType = UNSET
    vessel_margin: (
        Annotated[
            TemperatureDifferenceFigure,
            Meta(description="Distance of the peak's upper end to the limit of the vessel; positive is safe."),
        ]
        | UnsetType
    ) = UNSET
