"""POST /v1/stock-mixing: how hot a mixing of lye stock gets, before anyone mixes it."""

from typing import Annotated, ClassVar, Final

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.mixing.mixing_contents import (
    GivenContents,
    Ice,
    Solid,
    Water,
    check_strength,
    read_contents,
    read_solid,
)
from service.calculations.mixing.mixing_links import links_from_stock
from service.calculations.mixing.mixing_notes import caution_mixing
from service.calculations.mixing.mixing_runs import POINTS, Runs, Surroundings
from service.calculations.mixing.mixing_steps import explain_mixing
from service.calculations.mixing.vessels import find_vessel
from service.calculations.registry import Calculation, Example
from service.calculations.shared.given import Duration, Temperature
from service.calculations.shared.messages import AlkaliName, Answer, Request, Solution, Vessel
from service.calculations.shared.notes import Notes
from service.calculations.shared.rules import AtLeastOne, Rule
from service.calculations.shared.standing_cautions import HANDLING
from service.calculations.shared.told import (
    EnergyFigure,
    FractionFigure,
    MarginFigure,
    MassFigure,
    TemperatureFigure,
    VolumeFigure,
)
from service.calculations.stock.solutions import ROOM
from service.chemistry import density
from service.chemistry.errors import OutOfRange
from service.chemistry.mixing import mix
from service.chemistry.mixing_records import Mixing
from service.chemistry.mixing_records import PathPoint as Point


class StockMixingRequest(Request, kw_only=True):
    """What is in the vessel, and the solid alkali that goes into it."""

    solid: Annotated[Solid, Meta(description="The solid alkali that goes in.")]
    water: Annotated[Water, Meta(description="Liquid water that is in the vessel.")] | None = None
    ice: Annotated[Ice, Meta(description="Ice that is in the vessel.")] | None = None
    existing_stock: (
        Annotated[Solution, Meta(description="Stock that is in the vessel already, of the same alkali.")] | None
    ) = None
    vessel: Annotated[Vessel, Meta(description="What it is mixed in.")] | None = None
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

    strength: Annotated[
        StrengthFigure,
        Meta(
            description="Of the finished stock. Where it can boil, its ends have those of `water_boiled_off`: bounds, "
            "wider than 95 %."
        ),
    ]
    mass: Annotated[
        MassFigure,
        Meta(
            description="Of the finished stock, what boiled off not counted. Its ends are what an existing stock told "
            "by volume leaves open; where it can boil, bounds as those of `water_boiled_off`."
        ),
    ]
    peak_temperature: Annotated[
        TemperatureFigure,
        Meta(
            description="Highest temperature, without any heat lost, capped at boiling. The upper end adds the "
            "uncertainty of the data, purity and strength at their worst at once, the lower end also the most heat "
            "that can be lost: bounds, wider than 95 %."
        ),
    ]
    peak_at: Annotated[FractionFigure, Meta(description="Share of the solid that is in at the peak.")]
    boils: Annotated[bool, Meta(description="Whether it can boil: whether the boiling margin is not positive.")]
    boiling_margin: Annotated[
        MarginFigure,
        Meta(
            description="Least distance to boiling along the path, from the upper end of the temperature to the lower "
            "end of the boiling point; positive is safe."
        ),
    ]
    water_boiled_off: Annotated[
        MassFigure,
        Meta(
            description="Water that leaves as steam, without heat lost. Where it can boil, the ends have data, purity, "
            "moisture and strength at their worst at once: bounds, wider than 95 %."
        ),
    ]
    heat_released: Annotated[
        EnergyFigure,
        Meta(
            description="Heat of dissolving and diluting at 25 °C; positive is given off. Melting takes from it. Its "
            "ends are bounds."
        ),
    ]
    path: Annotated[list[PathPoint], Meta(description="Point by point while the solid is added.")]
    volume: Annotated[VolumeFigure, Meta(description="At 20 °C; left out where no data reach.")] | UnsetType = UNSET
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
            MarginFigure,
            Meta(description="Distance of the peak's upper end to the limit of the vessel; positive is safe."),
        ]
        | UnsetType
    ) = UNSET
    adiabatic_temperature: (
        Annotated[
            TemperatureFigure,
            Meta(
                description="Of the finished stock, if nothing were lost and nothing boiled, with data, purity and "
                "strength at their worst at once: bounds; left out above 200 °C and where no data reach."
            ),
        ]
        | UnsetType
    ) = UNSET


def calculate(request: StockMixingRequest, notes: Notes) -> StockMixingAnswer:
    """How hot a mixing gets, and the stock it makes."""
    ambient = _ambient(request, notes)
    vessel = None if request.vessel is None else find_vessel(request.vessel, notes)
    solid = read_solid(request.solid, ambient, notes)
    given = GivenContents(request.water, request.ice, request.existing_stock)
    contents = read_contents(given, request.solid.alkali, ambient, notes)
    notes.stop_at_faults()
    if solid is None or contents is None:
        raise TypeError(solid)  # what is missing is a fault, and faults have stopped us
    check_strength(solid, contents.charge, notes)
    notes.stop_at_faults()

    plain = mix(solid.solid, contents.charge, points=POINTS, boiling_shift=None)  # the margin is that of the bounds
    runs = Runs(solid, contents, plain, Surroundings(request.duration, ambient, vessel), notes)
    w = plain.solution_strength
    limit = None if vessel is None else vessel.limit(w)
    margin = None if limit is None else limit - runs.peak_high
    notes.tell(*HANDLING)
    caution_mixing(runs, vessel, limit, notes)
    if notes.explain:
        explain_mixing(runs, ambient, notes)
    strength, mass, boiled = _finished(runs)
    return StockMixingAnswer(
        strength=strength,
        mass=mass,
        peak_temperature=TemperatureFigure(runs.peak, runs.peak_low, runs.peak_high),
        peak_at=FractionFigure(runs.peak_at),
        adiabatic_temperature=runs.adiabatic_figure,
        boils=runs.boiling_margin <= 0,
        boiling_margin=MarginFigure(runs.boiling_margin),
        water_boiled_off=boiled,
        heat_released=EnergyFigure.around(plain.heat_released, runs.heat_half_width),
        path=[_point(point) for point in plain.path],
        volume=_volume(solid.alkali, plain, ROOM),
        hot_volume=UNSET if plain.ice_left != 0 else _volume(solid.alkali, plain, plain.temperature),
        ice_left=UNSET if plain.ice_left is None else MassFigure(plain.ice_left),
        vessel_limit=UNSET if limit is None else TemperatureFigure(limit),
        vessel_margin=UNSET if margin is None else MarginFigure(margin),
    )


def _finished(runs: Runs) -> tuple[StrengthFigure, MassFigure, MassFigure]:
    """Strength and mass of the stock and what boiled off, with ends where contents or steam leave them open."""
    w, mass, boiled = runs.plain.mass_fraction, runs.plain.mass, runs.plain.water_boiled_off
    by_strength, by_mass, (least, most) = runs.strength_half_width, runs.mass_half_width, runs.steam_ends
    if least == most:
        strength, whole = FractionFigure.around(w, by_strength), MassFigure.around(mass, by_mass)
        return StrengthFigure(mass_fraction=strength), whole, MassFigure(boiled)
    light, heavy = mass + boiled - most, mass + boiled - least
    strength = FractionFigure(w, max(0.0, w - by_strength) * mass / heavy, min(1.0, (w + by_strength) * mass / light))
    whole = MassFigure(mass, max(0.0, light - by_mass), heavy + by_mass)
    return StrengthFigure(mass_fraction=strength), whole, MassFigure(boiled, least, most)


def _ambient(request: StockMixingRequest, notes: Notes) -> float:
    if request.ambient is None:
        notes.assume("/ambient", "20 °C", "a workshop's room")
        return ROOM
    return request.ambient.value


def _volume(alkali: AlkaliName, mixing: Mixing, t: float | None) -> VolumeFigure | UnsetType:
    if t is None:
        return UNSET
    try:
        return VolumeFigure(mixing.mass / density.density(alkali, mixing.solution_strength, t))
    except OutOfRange:
        return UNSET


def _point(point: Point) -> PathPoint:
    w, boiling = point.liquid_mass_fraction, point.boiling_point
    return PathPoint(
        solid_added_share=FractionFigure(point.solid_added_share),
        strength=UNSET if w is None else StrengthFigure(mass_fraction=FractionFigure(w)),
        temperature=UNSET if point.temperature is None else TemperatureFigure(point.temperature),
        boiling_point=UNSET if w is None or boiling is None else TemperatureFigure(boiling),
        ice_mass=UNSET if point.ice_mass is None else MassFigure(point.ice_mass),
    )


CALCULATION: Final = Calculation(
    name="stock-mixing",
    summary="How hot a mixing of lye stock gets",
    description=(
        "For planning, before anyone mixes: the peak and where it comes, the margins to boiling and to the vessel's "
        "limit, and the stock that results. A balance of enthalpies for solid alkali that goes into water, ice, both, "
        "or existing stock: heat of solution as a function of strength, heat capacities of solution, solid and ice, "
        "melting along the freezing line, water bound in the commercial solid, and steam where it boils.\n\n"
        "Range: NaOH to 52 %, KOH to 50 %, one alkali; solid from -40 to 100 °C, ice from -30 °C. The value is without "
        "any heat lost, an upper bound for slow additions; it holds for stirred contents: undissolved solid on the "
        "floor boils earlier. Not for waiting and cooling between stages.\n\n"
        "Sources: Parker, NSRDS-NBS 2 (1965) (heats of solution and of the hydrates); Olsson, Jernqvist & Aly, Int. J. "
        "Thermophys. 18 (1997) 779 (enthalpy of NaOH solutions); boiling points as in `concentration`; limits of "
        "vessels by the sources that their entry of the catalogue names."
    ),
    request=StockMixingRequest,
    answer=StockMixingAnswer,
    calculate=calculate,
    examples=(
        Example(
            "one-to-one-with-water",
            "10 kg of beads into 10 kg of water in a steel pot (invented)",
            {
                "reference": "invented stock 1",
                "solid": {"alkali": "NaOH", "mass_as_supplied": "10 kg", "purity": "98.5 %"},
                "water": {"mass": "10 kg", "temperature": "15 °C"},
                "vessel": {"material": "stainless-steel", "mass": "4 kg", "volume": "20 L", "lid": False},
                "duration": "20 min",
            },
        ),
        Example(
            "with-ice-and-heel",
            "Water and ice onto what is left in the tank (invented)",
            {
                "solid": {
                    "alkali": "NaOH",
                    "mass_as_supplied": "22 lb",
                    "purity": {"low": 97, "high": 99, "unit": "%"},
                },
                "water": {"mass": "10 lb"},
                "ice": {"mass": "12 lb", "temperature": "0 °F"},
                "existing_stock": {"alkali": "NaOH", "volume": "1 gal", "strength": {"mass_fraction": "50 %"}},
                "vessel": {"material": "hdpe", "volume": "5 gal"},
                "ambient": "72 °F",
            },
        ),
        Example(
            "potash-flakes",
            "KOH flakes, with the water bound in them (invented)",
            {
                "solid": {"alkali": "KOH", "mass_as_supplied": "5 kg", "purity": "90 %", "moisture": "9 %"},
                "water": {"mass": "5 kg"},
            },
        ),
        Example(
            "published-heat-of-solution",
            "10 mol of NaOH into 30 mol of water: the heat that calorimetry found",
            {
                "solid": {"alkali": "NaOH", "mass_as_supplied": "399.97 g"},
                "water": {"mass": "540.45 g"},
                "ambient": "25 °C",
            },
            "Published: 44.51 kJ/mol at infinite dilution (V. B. Parker, NSRDS-NBS 2, 1965, reprinted in the CRC "
            "Handbook), less 14.02 kJ/mol of dilution from 3 mol of water per mol (R. M. Felder and R. W. Rousseau, "
            "Elementary Principles of Chemical Processes, table B.11; from memory; J. Thomsen has 14.01): 304.9 kJ.",
        ),
    ),
    links=links_from_stock("that was mixed"),
)
