"""POST /v1/stock-assay/hydrometer: how strong a stock is, by what a hydrometer shows in it."""

from typing import Annotated, ClassVar, Final, NamedTuple

from msgspec import Meta

from service.calculations.given import Density, Temperature
from service.calculations.hydrometer_notes import caution_reading, explain_reading
from service.calculations.messages import Alkali, Answer, Request
from service.calculations.notes import Notes
from service.calculations.reading import NORMAL_95, part_of
from service.calculations.registry import Calculation, Example, Link
from service.calculations.rules import ExactlyOne, NeverWith, Rule, Ruled
from service.calculations.solutions import (
    COLDEST,
    HOTTEST,
    HYDROMETER_REASON,
    MODULUS_REASON,
    SIXTY_FAHRENHEIT,
    SOLUBILITY,
    SOLUBILITY_REASON,
    USUAL_MODULUS,
)
from service.calculations.stock_mixing import StrengthFigure
from service.calculations.told import DensityFigure, FractionFigure, RatioFigure
from service.chemistry import density, hydrometer, water
from service.chemistry import strength as forms
from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import EXACT, Combined, Part, combine, coverage_half_width, normal, rectangular

WEAKEST: Final = 1e-3
"""Mass fraction below which a hydrometer tells no caustic from water."""
ROOM_TEMPERATURE: Final = 20.0
STEP: Final = 1e-5


class HydrometerReading(Ruled, kw_only=True):
    """What the hydrometer shows, on the one scale that it has."""

    density: Annotated[Density, Meta(description="A scale of density.", examples=["1.525 g/mL"])] | None = None
    specific_gravity: (
        Annotated[float, Meta(ge=0.7, le=2.0, description="A scale of specific gravity, as 60/60 °F.", examples=[1.53])]
        | None
    ) = None
    degrees_baume: (
        Annotated[float, Meta(ge=0, le=70, description="Degrees Baumé, heavier than water.", examples=[50])] | None
    ) = None
    degrees_twaddell: Annotated[float, Meta(ge=0, le=200, description="Degrees Twaddell.", examples=[105])] | None = (
        None
    )
    division: (
        Annotated[
            float,
            Meta(
                gt=0,
                le=5,
                description="Step of that scale, in its own degrees or as specific gravity; read to half of it. Of a "
                "density give limits or an uncertainty.",
                examples=[0.5],
            ),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (
        ExactlyOne(("density", "specific_gravity", "degrees_baume", "degrees_twaddell")),
        NeverWith(
            "division",
            ("density",),
            "a density carries its own spread",
            "give the density with low and high, or with its uncertainty",
        ),
    )


class StockAssayHydrometerRequest(Request, kw_only=True):
    """A reading, and what it was read in."""

    alkali: Alkali
    reading: Annotated[HydrometerReading, Meta(description="What the hydrometer shows.")]
    temperature: Annotated[Temperature, Meta(description="Of the liquid when it was read.", examples=["22 °C"])]
    reference_temperature: (
        Annotated[Temperature, Meta(description="What the instrument's scale holds for; default 60 °F.")] | None
    ) = None
    baume_modulus: (
        Annotated[float, Meta(ge=140, le=150, description="Modulus of a Baumé scale; default 145.", examples=[144.3])]
        | None
    ) = None


class StockAssayHydrometerAnswer(Answer):
    """How strong the stock is."""

    strength: Annotated[StrengthFigure, Meta(description="If all that is dissolved is that hydroxide.")]
    density: Annotated[DensityFigure, Meta(description="At the temperature it was read at.")]
    density_at_20: Annotated[DensityFigure, Meta(description="Of the same stock at 20 °C.")]
    draw_factor: Annotated[RatioFigure, Meta(description="Mass of this stock that holds a mass of pure hydroxide.")]


class _Read(NamedTuple):
    """A reading as specific gravity, and how well it is known."""

    gravity: float
    part: Part
    reference: float


def calculate(request: StockAssayHydrometerRequest, notes: Notes) -> StockAssayHydrometerAnswer:
    """How strong a stock is, by what a hydrometer shows in it."""
    t = request.temperature.value
    _check_temperature(t, "/temperature", notes)
    reference = SIXTY_FAHRENHEIT
    if request.reference_temperature is None:
        notes.assume("/reference_temperature", "60 °F", HYDROMETER_REASON)
    else:
        reference = request.reference_temperature.value
        _check_temperature(reference, "/reference_temperature", notes)
    notes.stop_at_faults()
    read = _reading(request, reference, notes)
    try:
        rho = hydrometer.density_read(read.gravity, t, reference)
    except OutOfRange as error:
        raise notes.refuse(
            "/reading",
            "beyond-data",
            f"a specific gravity of {read.gravity:.4g} is none of caustic",
            "check the number, its scale and its unit",
        ) from error
    w = _strength(request, rho, notes)
    alkali = request.alkali
    slope = _slope(alkali, w, t)
    own = density.density_half_width(alkali, w, t)
    to_density = rho / read.gravity
    of_reading = Part(*(width * to_density for width in read.part))
    spread = combine([(1 / slope, of_reading), (1 / slope, normal(own / NORMAL_95))])
    half_width = coverage_half_width(spread)
    caution_reading(alkali, w, t, notes)
    if notes.explain:
        explain_reading(alkali, (read.gravity, reference), (rho, w, t), notes)
    cool = density.density(alkali, w, ROOM_TEMPERATURE)
    at_20 = _slope(alkali, w, ROOM_TEMPERATURE)
    return StockAssayHydrometerAnswer(
        strength=StrengthFigure(mass_fraction=FractionFigure.around(w, half_width)),
        density=DensityFigure.around(rho, coverage_half_width(Combined(*of_reading))),
        density_at_20=DensityFigure.around(
            cool, max(half_width * at_20, density.density_half_width(alkali, w, ROOM_TEMPERATURE))
        ),
        draw_factor=_draw_factor(w, half_width),
    )


def _draw_factor(w: float, half_width: float) -> RatioFigure:
    if not half_width:
        return RatioFigure(1 / w)
    return RatioFigure(1 / w, 1 / (w + half_width), 1 / max(w - half_width, WEAKEST))


def _check_temperature(t: float, at: str, notes: Notes) -> None:
    if not COLDEST <= t <= HOTTEST:
        notes.fault(
            at,
            "beyond-data",
            f"{t:.4g} °C is outside {COLDEST:g} to {HOTTEST:g} °C, where densities are known",
            "give the temperature that was measured, or let the sample come to the room's",
        )


def _reading(request: StockAssayHydrometerRequest, reference: float, notes: Notes) -> _Read:
    """The reading as specific gravity against water of the instrument's reference temperature."""
    asked = request.reading
    if request.baume_modulus is not None and asked.degrees_baume is None:
        raise notes.refuse(
            "/baume_modulus", "contradiction", "a modulus belongs to degrees Baumé alone", "leave baume_modulus out"
        )
    if asked.density is not None:
        reading = asked.density.value / water.density(reference)
        part = part_of(asked.density)
        return _Read(reading, Part(*(width / water.density(reference) for width in part)), reference)
    half = EXACT if asked.division is None else rectangular(asked.division / 2)
    if asked.degrees_baume is not None:
        modulus = USUAL_MODULUS if request.baume_modulus is None else request.baume_modulus
        if request.baume_modulus is None:
            notes.assume("/baume_modulus", f"{USUAL_MODULUS:g}", MODULUS_REASON)
        gravity = hydrometer.specific_gravity_from_degrees_baume(asked.degrees_baume, modulus)
        return _Read(gravity, Part(*(width * gravity**2 / modulus for width in half)), reference)
    if asked.degrees_twaddell is not None:
        gravity = hydrometer.specific_gravity_from_degrees_twaddell(asked.degrees_twaddell)
        return _Read(gravity, Part(*(width / 200 for width in half)), reference)
    if asked.specific_gravity is None:
        raise TypeError(asked)  # one of them is due, and the rules of the request see to it
    return _Read(asked.specific_gravity, half, reference)


def _strength(request: StockAssayHydrometerRequest, rho: float, notes: Notes) -> float:
    """Mass fraction by the density.

    Raises:
        Refusal: lighter than water, or heavier than the solution can be.
    """
    alkali, t, top = request.alkali, request.temperature.value, SOLUBILITY[request.alkali]
    if rho <= water.density(t):
        raise notes.refuse(
            "/reading",
            "contradiction",
            f"that is {rho / 1000:.4f} kg/L, no more than water at {t:.4g} °C: there is no caustic in it",
            "check the scale, the temperature, and that the hydrometer floats freely and dry above the liquid",
        )
    if rho > density.density(alkali, top, t):
        raise notes.refuse(
            "/reading",
            "beyond-solubility",
            f"that is {rho / 1000:.4f} kg/L, more than any {alkali} solution has: {SOLUBILITY_REASON[alkali]}",
            "check the scale and the temperature; carbonate and crystals make a stock heavier too",
        )
    w = float(forms.mass_fraction_from_density(alkali, rho, t))
    if w < WEAKEST:
        raise notes.refuse(
            "/reading",
            "contradiction",
            f"that is {rho / 1000:.4f} kg/L, hardly more than water at {t:.4g} °C: a hydrometer tells nothing of it",
            "use a titration for so weak a solution",
        )
    return w


def _slope(alkali: Alkali, w: float, t: float) -> float:
    """How the density rises with the mass fraction [kg/m3]."""
    low, high = max(0.0, w - STEP), min(density.HIGHEST_MASS_FRACTION[alkali], w + STEP)
    return (density.density(alkali, high, t) - density.density(alkali, low, t)) / (high - low)


CALCULATION: Final = Calculation(
    name="stock-assay/hydrometer",
    summary="Strength of a stock by a hydrometer",
    description=(
        "For a quick look at a jug: the strength, from what a hydrometer of density, specific gravity, degrees Baumé "
        "or Twaddell shows at the temperature of the liquid, and the temperature its scale holds for. The glass is "
        "corrected for, the liquid is reckoned at its own temperature.\n\n"
        "A hydrometer weighs all that is dissolved: carbonate, salt or glycerol make a stock look stronger than it is. "
        "A titration tells them apart (`stock-assay/titration`).\n\n"
        "Range: NaOH to 52 %, KOH to 50 %, 0 to 100 °C. Sources: densities as in `concentration`; expansion of glass "
        "by ISO 649-1 (from memory); definitions of the scales as in Simmons and Appleton 1908."
    ),
    request=StockAssayHydrometerRequest,
    answer=StockAssayHydrometerAnswer,
    calculate=calculate,
    examples=(
        Example(
            "degrees-baume-in-a-warm-jug",
            "49 degrees Baumé in a stock that is still warm (invented)",
            {
                "reference": "invented jug 5",
                "alkali": "NaOH",
                "reading": {"degrees_baume": 49, "division": 0.5},
                "temperature": "31 °C",
            },
        ),
        Example(
            "specific-gravity-of-potash",
            "A KOH solution by a hydrometer marked at 20 °C (invented)",
            {
                "alkali": "KOH",
                "reading": {"specific_gravity": 1.455, "division": 0.005},
                "temperature": "72 °F",
                "reference_temperature": "20 °C",
            },
        ),
        Example(
            "handbook-thirty-per-cent",
            "The density that a handbook has for 30 % NaOH",
            {
                "alkali": "NaOH",
                "reading": {"density": "1.3277 g/mL"},
                "temperature": "20 °C",
                "reference_temperature": "20 °C",
            },
            "Published: 30 % NaOH has 1.3277 g/mL at 20 °C (CRC Handbook of Chemistry and Physics, 102nd ed. 2021, "
            "Concentrative Properties of Aqueous Solutions).",
        ),
    ),
    links=(
        Link(
            "properties-of-the-stock",
            "concentration",
            "The properties of a stock of this strength.",
            {"alkali": "$request.body#/alkali", "strength": "$response.body#/strength"},
        ),
        Link(
            "draw-from-the-stock",
            "liquid-split",
            "How much of this stock holds 100 g of pure hydroxide.",
            {
                "alkalis": [{"alkali": "$request.body#/alkali", "mass": "100 g"}],
                "stocks": [{"alkali": "$request.body#/alkali", "strength": "$response.body#/strength"}],
            },
        ),
    ),
)
