"""POST /v1/concentration: every form of a solution's strength, and its properties."""

import math
from math import hypot
from typing import Annotated, Any, Final, NamedTuple, Self

from msgspec import UNSET, Meta, UnsetType

from service.calculations.registry import Calculation, Example, Link
from service.calculations.shared.cautions import degrees
from service.calculations.shared.messages import (
    Alkali,
    AlkaliName,
    Answer,
    Request,
    Strength,
    TemperatureGiven,
)
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.reading import NORMAL_95, part_of
from service.calculations.shared.standing_cautions import of_solution
from service.calculations.shared.told import (
    FIRST_SOLID_GUARD,
    DegreesFigure,
    DensityFigure,
    FractionFigure,
    HeatCapacityFigure,
    MassConcentrationFigure,
    MolalityFigure,
    MolarityFigure,
    PressureFigure,
    RatioFigure,
    TemperatureFigure,
    Told,
    ViscosityFigure,
)
from service.calculations.stock.concentration_notes import caution_concentration, explain_concentration
from service.calculations.stock.solution_properties import (
    DILUTE,
    STEP,
    Conditions,
    Properties,
    definitions,
    half_widths,
    properties,
    slopes,
)
from service.calculations.stock.solutions import (
    COLDEST,
    HOTTEST,
    HYDROMETER_REASON,
    MODULUS_REASON,
    ROOM,
    SIXTY_FAHRENHEIT,
    USUAL_MODULUS,
    Found,
    mass_fraction,
)
from service.chemistry import freezing, viscosity
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import FirstSolid
from service.chemistry.uncertainty import EXACT, Combined, Part, coverage_half_width

MEASURED: Final = frozenset({"molarity", "mass_concentration", "density"})
"""Forms of strength that hold at one temperature and may carry a spread of their own."""
TOLD_AS_GIVEN: Final = MEASURED | {"degrees_baume", "degrees_twaddell"}
"""Forms that carry only their own spread where they were given, and no model's."""
FIGURES: Final[dict[str, type[Told]]] = dict(
    zip(
        Properties._fields,
        (
            FractionFigure,
            RatioFigure,
            FractionFigure,
            MolalityFigure,
            MolarityFigure,
            MassConcentrationFigure,
            DensityFigure,
            RatioFigure,
            DegreesFigure,
            DegreesFigure,
            FractionFigure,
            TemperatureFigure,
            HeatCapacityFigure,
            PressureFigure,
        ),
        strict=True,
    )
)
"""Kind of figure of each property."""
SAME_TEMPERATURE: Final = 1e-6
"""Distance [K] within which two temperatures are one: that between 20 °C and the same in another unit, rounded."""


class ConcentrationRequest(Request, kw_only=True):
    """A solution, by its strength."""

    alkali: Alkali
    strength: Annotated[Strength, Meta(description="Its strength, in any one form.")]
    temperature: TemperatureGiven | None = None


class ConcentrationAnswer(Answer):
    """Every form of the strength, and the properties of the solution."""

    mass_fraction: Annotated[FractionFigure, Meta(description="Pure hydroxide per mass of solution.")]
    mole_fraction: Annotated[FractionFigure, Meta(description="Moles of hydroxide per moles of hydroxide and water.")]
    molality: Annotated[MolalityFigure, Meta(description="Moles of hydroxide per mass of water.")]
    molarity: Annotated[MolarityFigure, Meta(description="Moles of hydroxide per volume at this temperature.")]
    mass_concentration: Annotated[
        MassConcentrationFigure, Meta(description="Mass of hydroxide per volume at this temperature.")
    ]
    density: Annotated[DensityFigure, Meta(description="Density at this temperature.")]
    degrees_baume: Annotated[DegreesFigure, Meta(description="Degrees Baumé, heavier than water, by the modulus.")]
    baume_modulus: Annotated[float, Meta(description="Modulus of the Baumé scale.", examples=[145])]
    degrees_twaddell: Annotated[DegreesFigure, Meta(description="200 (specific gravity - 1).")]
    specific_gravity: Annotated[
        RatioFigure, Meta(description="Density over that of water, both at the reference temperature.")
    ]
    reference_temperature: Annotated[
        TemperatureFigure, Meta(description="Temperature of the specific gravity, 60 °F unless asked otherwise.")
    ]
    oxide_fraction: Annotated[FractionFigure, Meta(description="The hydroxide counted as Na2O or K2O.")]
    temperature: Annotated[TemperatureFigure, Meta(description="Temperature the answer holds for.")]
    first_solid_temperature: Annotated[
        TemperatureFigure, Meta(description=f"Where the first solid forms on slow cooling. {FIRST_SOLID_GUARD}")
    ]
    first_solid: Annotated[str, Meta(description="What that solid is.", examples=["sodium hydroxide dihydrate"])]
    fully_liquid: Annotated[bool, Meta(description="Whether it is surely all liquid at this temperature.")]
    boiling_point: Annotated[TemperatureFigure, Meta(description="At 1 atm (101.325 kPa).")]
    heat_capacity: Annotated[HeatCapacityFigure, Meta(description="Heat capacity at this temperature.")]
    water_vapour_pressure: Annotated[PressureFigure, Meta(description="Water vapour pressure over the solution.")]
    water_ratio: (
        Annotated[RatioFigure, Meta(description="Mass of everything else per mass of hydroxide; left out for water.")]
        | UnsetType
    ) = UNSET
    viscosity: (
        Annotated[ViscosityFigure, Meta(description="Dynamic viscosity; left out where no data reach.")] | UnsetType
    ) = UNSET


def calculate(request: ConcentrationRequest, notes: Notes) -> ConcentrationAnswer:
    """Every form of a solution's strength, and its properties."""
    alkali = request.alkali
    t = _temperature(request, notes)
    found = mass_fraction(request.strength, alkali, notes, "/strength")
    at = Conditions(t, *_scales(request.strength, notes))
    notes.stop_at_faults()
    if found is None:
        raise TypeError(found)  # a missing strength is a fault, and faults have stopped us
    w = found.mass_fraction
    first = first_solid_within(alkali, found)
    best = properties(alkali, w, at)
    figures = _figures(alkali, found, _Given.of(request.strength), best, at)
    if w <= DILUTE:
        del figures["water_ratio"]
    viscous = _viscosity(alkali, found, t, notes)
    if viscous is not None:
        figures["viscosity"] = viscous
    notes.tell(*of_solution(alkali, w))
    caution_concentration(alkali, w, t, notes, first=first, boiling=best.boiling_point)
    if notes.explain:
        explain_concentration(alkali, w, at, notes)
    members: dict[str, Any] = figures  # FIGURES holds each member's own kind
    return ConcentrationAnswer(
        **members,
        baume_modulus=at.modulus,
        reference_temperature=TemperatureFigure(at.reference),
        temperature=TemperatureFigure(t),
        first_solid_temperature=TemperatureFigure(first.temperature, first.low, first.high),
        first_solid=first.name,
        fully_liquid=t > first.high,
    )


class _Given(NamedTuple):
    """What the form in which a strength was given says beside the mass fraction."""

    form: str
    part: Part
    """Spread of a measured form."""
    temperature: float
    """Temperature a measured form holds for [°C]."""

    @classmethod
    def of(cls, strength: Strength) -> Self:
        """The form that was given."""
        if strength.mass_fraction is not None:
            return cls("mass_fraction", EXACT, ROOM)
        form = strength.form
        part = part_of(getattr(strength, form)) if form in MEASURED else EXACT
        return cls(form, part, ROOM if strength.temperature is None else strength.temperature.value)


def _figures(alkali: AlkaliName, found: Found, given: _Given, best: Properties, at: Conditions) -> dict[str, Told]:
    """The properties with the intervals that the spread of the strength and the models leave."""
    spread = coverage_half_width(found.spread)
    widths = half_widths(alkali, best, at)
    if spread:
        from_strength = slopes(alkali, best, at)
        widths = Properties._make(
            [_together(slope, found.spread, own) for slope, own in zip(from_strength, widths, strict=True)]
        )
    figures = {
        name: kind.around(value, width)
        for (name, kind), value, width in zip(FIGURES.items(), best, widths, strict=True)
    }
    if spread:
        ends = definitions(alkali, found.mass_fraction, spread)
        figures |= {name: FIGURES[name](getattr(best, name), *pair) for name, pair in ends.items()}
    here = abs(given.temperature - at.temperature) <= SAME_TEMPERATURE
    if given.form in TOLD_AS_GIVEN and (here or given.form not in MEASURED):
        kind, own = FIGURES[given.form], getattr(best, given.form)
        figures[given.form] = kind.around(own, coverage_half_width(Combined(*given.part)))
    return figures


def _together(slope: float, strength: Combined, own: float) -> float:
    """Half-width that the spread of the strength and the model leave together (JCGM 100:2008, 5.1.2).

    The model's part is taken as normal; that of the strength may be a rectangle.

    Args:
        slope: of the property against the mass fraction.
        strength: spread of the mass fraction.
        own: 95 % half-width that the model leaves.
    """
    reach = abs(slope) * strength.widest_rectangular
    return coverage_half_width(Combined(hypot(slope * strength.standard_uncertainty, own / NORMAL_95), reach))


def first_solid_within(alkali: AlkaliName, found: Found) -> FirstSolid:
    """The first solid, with limits that hold for every strength within its interval.

    What boiled down to more than freezing points are known of is told as the strongest that they are: it sets there or
    warmer yet.

    Args:
        alkali: NaOH or KOH.
        found: the strength and its spread.
    """
    highest = freezing.HIGHEST_MASS_FRACTION[alkali]
    first = freezing.first_solid(alkali, min(found.mass_fraction, highest))
    spread = coverage_half_width(found.spread)
    if not spread:
        return first
    ends = (found.mass_fraction - spread, found.mass_fraction + spread)
    others = [freezing.first_solid(alkali, min(max(0.0, w), highest)) for w in ends]
    low = min(first.low, *(one.low for one in others))
    return first._replace(low=low, high=max(first.high, *(one.high for one in others)))


def _temperature(request: ConcentrationRequest, notes: Notes) -> float:
    if request.temperature is None:
        notes.assume("/temperature", "20 °C", "a workshop's room")
        return ROOM
    t = request.temperature.value
    if not COLDEST <= t <= HOTTEST:
        notes.fault(
            "/temperature",
            "beyond-data",
            f"{t:.4g} °C is outside {COLDEST:g} to {HOTTEST:g} °C, where the properties are known",
            "ask for a temperature between them",
        )
    return t


def _scales(given: Strength, notes: Notes) -> tuple[float, float]:
    """Reference temperature and Baumé modulus to answer with: those asked with, else the usual ones."""
    reference, modulus = SIXTY_FAHRENHEIT, USUAL_MODULUS
    if given.reference_temperature is not None:
        reference = given.reference_temperature.value
    elif given.degrees_baume is None and given.degrees_twaddell is None:
        notes.assume("/strength/reference_temperature", "60 °F", HYDROMETER_REASON)
    if given.baume_modulus is not None:
        modulus = given.baume_modulus
    elif given.degrees_baume is None:
        notes.assume("/strength/baume_modulus", f"{USUAL_MODULUS:g}", MODULUS_REASON)
    return reference, modulus


def _viscosity(alkali: AlkaliName, found: Found, t: float, notes: Notes) -> Told | None:
    w, spread, _ = found
    try:
        value = viscosity.viscosity(alkali, w, t)
    except OutOfRange as error:
        warm = error.quantity == "temperature"
        low, high = (degrees(end, 1) if warm else percent(end) for end in (error.low, error.high))
        message = f"The viscosity is left out: it is known from {low} to {high}."
        notes.caution("property-missing", message, basis="Laliberté 2009")
        return None
    own = viscosity.RELATIVE_HALF_WIDTH * value
    if not spread.standard_uncertainty:
        return ViscosityFigure.around(value, own)
    # It goes with the strength about as an exponential does, so that one side is the longer.
    weaker = max(0.0, w - STEP)
    ratio = viscosity.viscosity(alkali, weaker + STEP, t) / viscosity.viscosity(alkali, weaker, t)
    steep = _together(math.log(ratio) / STEP, spread, viscosity.RELATIVE_HALF_WIDTH)
    return ViscosityFigure(value, value * math.exp(-steep), value * math.exp(steep))


CALCULATION: Final = Calculation(
    name="concentration",
    summary="Strength in every form, and the solution's properties",
    description=(
        "For reading a certificate, a hydrometer or a jug's label, and for choosing where a stock is kept. From any "
        "form of a strength all others, with density, boiling point, first solid, heat capacity, viscosity and water "
        "vapour pressure. Says whether the solution is fully liquid at that temperature: a 50 % NaOH stock starts to "
        "crystallise in a cool room.\n\n"
        "Range: NaOH to 52 %, KOH to 50 %, from 0 to 100 °C; what no data reach is left out or refused. Not for "
        "solutions of both hydroxides, nor for what carbonate, salt or glycerol change.\n\n"
        "Sources: Olsson, Jernqvist & Aly, Int. J. Thermophys. 18 (1997) 779 (density and vapour pressure of "
        "NaOH); Laliberté, J. Chem. Eng. Data 54 (2009) 1725 (density of KOH, viscosity, most heat capacities); Balej, "
        "Int. J. Hydrogen Energy 10 (1985) 233 (vapour pressure of KOH); first solids by the CRC Handbook and makers."
    ),
    request=ConcentrationRequest,
    answer=ConcentrationAnswer,
    calculate=calculate,
    examples=(
        Example(
            "fifty-per-cent",
            "A 50 % NaOH stock in a cool room (invented)",
            {
                "alkali": "NaOH",
                "strength": {"mass_fraction": "50 %", "uncertainty": "0.5 %"},
                "temperature": "12 °C",
            },
        ),
        Example(
            "hydrometer-degrees",
            "A KOH solution by its degrees Baumé (invented)",
            {
                "alkali": "KOH",
                "strength": {"degrees_baume": 42.5, "baume_modulus": 145},
                "temperature": "68 °F",
            },
        ),
        Example(
            "handbook-fifty-per-cent",
            "A 50 % NaOH solution, as handbooks have it",
            {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}, "temperature": "20 °C"},
            "Published: density 1.5253 g/mL at 20 °C (International Critical Tables 3 (1928) 79, as printed in Perry's "
            "Chemical Engineers' Handbook; from memory); boiling point about 145 °C (Dow Chemical, caustic soda "
            "product page).",
        ),
        Example(
            "handbook-thirty-per-cent",
            "A 30 % NaOH solution, as a handbook has it",
            {"alkali": "NaOH", "strength": {"mass_fraction": "30 %"}, "temperature": "20 °C"},
            "Published: density 1.3277 g/mL and viscosity 13.517 mPa s at 20 °C (CRC Handbook of Chemistry and "
            "Physics, 102nd ed. 2021, Concentrative Properties of Aqueous Solutions).",
        ),
    ),
    links=(
        Link(
            "draw-from-this-solution",
            "liquid-split",
            "How much of this solution holds 100 g of pure hydroxide.",
            {
                "alkalis": [{"alkali": "$request.body#/alkali", "mass": "100 g"}],
                "stocks": [
                    {
                        "alkali": "$request.body#/alkali",
                        "strength": {"mass_fraction": "$response.body#/mass_fraction"},
                    }
                ],
            },
        ),
    ),
)
