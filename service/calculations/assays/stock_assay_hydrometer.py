"""POST /v1/stock-assay/hydrometer: how strong a stock is, by what a hydrometer shows in it."""

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.calculations.assays.hydrometer_notes import (
    caution_exact_reading,
    caution_hardly_known,
    caution_reading,
    explain_reading,
)
from service.calculations.assays.hydrometer_reading import Found, HydrometerReading, Waters, read_scale
from service.calculations.assays.stock_assay_hydrometer_examples import EXAMPLES
from service.calculations.assays.stock_assay_titration_notes import HIGHEST_CARBONATE
from service.calculations.mixing.stock_mixing import StrengthFigure
from service.calculations.registry import Calculation, Link
from service.calculations.shared.given import Fraction, MeasuredTemperature, Temperature
from service.calculations.shared.messages import Alkali, AlkaliName, Answer, Request, Strength
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.reading import NORMAL_95, part_of
from service.calculations.shared.told import DensityFigure, FractionFigure, RatioFigure
from service.calculations.stock.draw_factor import WEAKEST, draw_factor
from service.calculations.stock.label import caution_off_label, labelled
from service.calculations.stock.solutions import (
    COLDEST,
    HOTTEST,
    HYDROMETER_REASON,
    SIXTY_FAHRENHEIT,
    SOLUBILITY,
    SOLUBILITY_REASON,
)
from service.calculations.stock.stock_age import Age, caution_age
from service.calculations.stock.unfit import caution_no_stock
from service.chemistry import density, hydrometer, water
from service.chemistry import strength as forms
from service.chemistry.carbonate_density import (
    CARBONATE_OF,
    density_with_carbonate,
    hydroxide_beside_carbonate,
    source_range_ends,
)
from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import Combined, Part, combine, coverage_half_width, normal

ROOM_TEMPERATURE: Final = 20.0
STEP: Final = 1e-5

CARBONATE_KNOWN_TO: Final = 0.05
CARBONATE_GUESSED_TO: Final = 0.2
"""95 % half-width of what carbonate reads as, over itself, where solutions of it were measured and beyond [-]
(assumed). Reckoned with Laliberté's own figures for NaOH it comes out within 3 % from 15 to 40 °C and 5 to 48 %; that
its volume can be drawn out beyond the data to a fifth is a choice of this service."""


class StockAssayHydrometerRequest(Request, kw_only=True):
    """A reading, and what it was read in."""

    alkali: Alkali
    reading: Annotated[HydrometerReading, Meta(description="What the hydrometer shows.")]
    temperature: Annotated[
        MeasuredTemperature,
        Meta(description="Of the liquid when it was read; limits or an uncertainty count.", examples=["22 °C"]),
    ]
    reference_temperature: (
        Annotated[
            Temperature,
            Meta(description="What the instrument's scale holds for; default 60 °F, of a density 20 °C."),
        ]
        | None
    ) = None
    water_reference_temperature: (
        Annotated[
            Temperature,
            Meta(
                description="Of the water that a scale compares with: 4 °C of a scale marked 20/4 °C. Default: the "
                "reference temperature, as 20/20 °C or 60/60 °F.",
                examples=["4 °C"],
            ),
        ]
        | None
    ) = None
    carbonate_mass_fraction: (
        Annotated[
            Fraction,
            Meta(
                description="Na2CO3 or K2CO3 dissolved per mass of stock, as a titration answers it; what it reads as "
                "is taken off the strength. Default: none.",
                examples=["1 %"],
            ),
        ]
        | None
    ) = None
    labelled_strength: (
        Annotated[Strength, Meta(description="What the label of the stock says; a caution tells where it is off.")]
        | None
    ) = None
    age: Age | None = None
    baume_modulus: (
        Annotated[float, Meta(ge=140, le=150, description="Modulus of a Baumé scale; default 145.", examples=[144.3])]
        | None
    ) = None


class StockAssayHydrometerAnswer(Answer):
    """How strong the stock is."""

    strength: Annotated[
        StrengthFigure, Meta(description="If all that is dissolved, beside the carbonate that was given, is hydroxide.")
    ]
    density: Annotated[DensityFigure, Meta(description="At the temperature it was read at.")]
    density_at_20: Annotated[
        DensityFigure,
        Meta(
            description="Of the same stock at 20 °C. The interval is wider than 95 %: the model of densities counts at "
            "both temperatures."
        ),
    ]
    draw_factor: Annotated[RatioFigure, Meta(description="Mass of this stock that holds a mass of pure hydroxide.")]
    carbonate_reads_as: (
        Annotated[
            FractionFigure,
            Meta(
                description="Mass fraction of hydroxide that the carbonate looks like, already taken off `strength`; "
                "left out where no carbonate was given."
            ),
        ]
        | UnsetType
    ) = UNSET


def calculate(request: StockAssayHydrometerRequest, notes: Notes) -> StockAssayHydrometerAnswer:
    """How strong a stock is, by what a hydrometer shows in it."""
    alkali, t = request.alkali, request.temperature.value
    _check_temperature(t, "/temperature", notes)
    waters = _waters(request, notes)
    label = labelled(request.labelled_strength, alkali, notes)
    notes.stop_at_faults()
    read = read_scale(request.reading, request.baume_modulus, waters, notes)
    try:
        rho = hydrometer.density_read(read.gravity, t, *waters)
    except OutOfRange as error:
        raise notes.refuse(
            "/reading",
            "beyond-data",
            f"a specific gravity of {read.gravity:.4g} is none of caustic",
            "check the number, its scale and its unit",
        ) from error
    found = _beside_carbonate(request, rho, _strength(request, rho, notes), notes)
    w, carbonate = found.w, found.carbonate
    of_reading = Part(*(width * rho / read.gravity for width in read.part))
    spread = combine(_contributions(request, found, of_reading))
    half_width = coverage_half_width(spread)
    caution_reading(alkali, found, t, notes)
    caution_exact_reading(request, notes)
    caution_no_stock(alkali, w, "which scale it is, and its unit: 1.53 is a specific gravity, not degrees", notes)
    caution_hardly_known(w, half_width, notes)
    caution_off_label((w, half_width), label, notes)
    caution_age(request.age, "A hydrometer takes its carbonate for hydroxide: titrate it.", notes)
    if notes.explain:
        explain_reading(alkali, (read.gravity, waters), found, t, notes)
    cool = density_with_carbonate(alkali, w, carbonate, ROOM_TEMPERATURE)
    at_20 = _slope(alkali, w + carbonate, ROOM_TEMPERATURE)
    own = density.density_half_width(alkali, w + carbonate, ROOM_TEMPERATURE)
    warmth = -rho * hydrometer.GLASS_EXPANSION
    of_density = combine([(1.0, of_reading), (warmth, part_of(request.temperature))])
    strength = FractionFigure.around(w, half_width)
    return StockAssayHydrometerAnswer(
        strength=StrengthFigure(mass_fraction=strength),
        density=DensityFigure.around(rho, coverage_half_width(of_density)),
        density_at_20=DensityFigure.around(cool, max(half_width * at_20, own)),
        draw_factor=draw_factor(strength),
        carbonate_reads_as=UNSET
        if request.carbonate_mass_fraction is None
        else FractionFigure.around(found.over, _over_half_width(request.carbonate_mass_fraction, alkali, found)),
    )


def _waters(request: StockAssayHydrometerRequest, notes: Notes) -> Waters:
    """What the scale holds for, and which water it compares with; faults go into the notes."""
    reference = SIXTY_FAHRENHEIT
    by_density = request.reading.density is not None
    if request.reference_temperature is not None:
        reference = request.reference_temperature.value
        _check_temperature(reference, "/reference_temperature", notes)
    elif by_density:
        reference = ROOM_TEMPERATURE
        notes.assume(
            "/reference_temperature", "20 °C", "density hydrometers are marked at 20 °C (ISO 649, from memory)"
        )
    else:
        notes.assume("/reference_temperature", "60 °F", HYDROMETER_REASON)
    given = request.water_reference_temperature
    if given is None:
        if not by_density:
            notes.assume(
                "/water_reference_temperature",
                "60 °F" if request.reference_temperature is None else f"{reference:.4g} °C",
                "as 60/60 °F and 20/20 °C; the same figure on a scale of 20/4 °C is 0.2 to 0.3 points of strength more",
            )
        return Waters(reference, reference)
    if by_density:
        notes.fault(
            "/water_reference_temperature",
            "contradiction",
            "a scale of density compares with no water",
            "leave water_reference_temperature out, or give the reading as specific_gravity",
        )
    else:
        _check_temperature(given.value, "/water_reference_temperature", notes)
    return Waters(reference, given.value)


def _beside_carbonate(request: StockAssayHydrometerRequest, rho: float, w: float, notes: Notes) -> Found:
    """The hydroxide beside the carbonate that was told.

    Raises:
        Refusal: the carbonate alone is as heavy.
    """
    given = request.carbonate_mass_fraction
    if given is None:
        return Found(rho, w, 0.0, 0.0)
    top = HIGHEST_CARBONATE[request.alkali]
    if given.value > top:
        raise notes.refuse(
            "/carbonate_mass_fraction",
            "beyond-solubility",
            f"not even water dissolves more than {percent(top)} {CARBONATE_OF[request.alkali]}",
            "give what is dissolved per mass of stock; sediment does not count",
        )
    try:
        beside = hydroxide_beside_carbonate(request.alkali, rho, given.value, request.temperature.value)
    except OutOfRange:
        beside = 0.0
    if beside < WEAKEST:
        raise notes.refuse(
            "/carbonate_mass_fraction",
            "contradiction",
            f"a solution of {percent(given.value)} {CARBONATE_OF[request.alkali]} is as heavy as that reading, and "
            "leaves no room for hydroxide",
            "give the carbonate that is dissolved, per mass of stock, as a titration answers it",
        )
    return Found(rho, beside, given.value, w - beside)


def _carbonate_known_to(alkali: AlkaliName, found: Found) -> float:
    """How far the figure of what carbonate reads as may be off, over itself."""
    within = found.w + found.carbonate <= source_range_ends(alkali)
    return CARBONATE_KNOWN_TO if within else CARBONATE_GUESSED_TO


def _over_half_width(given: Fraction, alkali: AlkaliName, found: Found) -> float:
    """95 % half-width of what the carbonate reads as."""
    own = found.over * _carbonate_known_to(alkali, found) / NORMAL_95
    per_carbonate = found.over / found.carbonate if found.carbonate else 0.0
    return coverage_half_width(combine([(per_carbonate, part_of(given)), (1.0, normal(own))]))


def _contributions(
    request: StockAssayHydrometerRequest, found: Found, of_reading: Part
) -> list[tuple[float, Part | Combined]]:
    """What each input leaves of the strength: reading, densities, temperature and carbonate."""
    alkali, t = request.alkali, request.temperature.value
    dissolved = found.w + found.carbonate
    slope = _slope(alkali, dissolved, t)
    own = density.density_half_width(alkali, dissolved, t)
    found_by: list[tuple[float, Part | Combined]] = [(1 / slope, of_reading), (1 / slope, normal(own / NORMAL_95))]
    of_temperature = part_of(request.temperature)
    if of_temperature.standard_uncertainty:
        # Warmer liquid is lighter for the same strength, and a warmer float shows less for the same density.
        cold, hot = max(t - 0.5, COLDEST), min(t + 0.5, HOTTEST)
        lighter = (_at(alkali, found, hot) - _at(alkali, found, cold)) / (hot - cold)
        shown = -found.rho * hydrometer.GLASS_EXPANSION
        found_by.append(((shown - lighter) / slope, of_temperature))
    if request.carbonate_mass_fraction is not None and found.carbonate:
        known_to = found.over * _carbonate_known_to(alkali, found)
        found_by.append((found.over / found.carbonate, part_of(request.carbonate_mass_fraction)))
        found_by.append((1.0, normal(known_to / NORMAL_95)))
    return found_by


def _at(alkali: AlkaliName, found: Found, t: float) -> float:
    """Density of what was found at another temperature [kg/m3]."""
    return density_with_carbonate(alkali, found.w, found.carbonate, t)


def _check_temperature(t: float, at: str, notes: Notes) -> None:
    if not COLDEST <= t <= HOTTEST:
        notes.fault(
            at,
            "beyond-data",
            f"{t:.4g} °C is outside {COLDEST:g} to {HOTTEST:g} °C, where densities are known",
            "give the temperature that was measured, or let the sample come to the room's",
        )


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


def _slope(alkali: AlkaliName, w: float, t: float) -> float:
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
        "A titration tells them apart (`stock-assay/titration`); what carbonate it found can be given here and is "
        "taken off. A scale of 20/4 °C compares with water of 4 °C: name that as `water_reference_temperature`.\n\n"
        "The interval covers the densities' own spread, the step of the scale, and the spread of the temperature where "
        "those are given. Range: NaOH to 52 %, KOH to 50 %, 0 to 100 °C. Sources: densities as in `concentration`, of "
        "carbonate Laliberté, J. Chem. Eng. Data 54 (2009) 1725-1760, beyond 21 % of Na2CO3 and 36 % of K2CO3 drawn "
        "out; expansion of glass and trueness of scales by ISO 649-1 (from memory); definitions of the scales as in "
        "Simmons and Appleton 1908."
    ),
    request=StockAssayHydrometerRequest,
    answer=StockAssayHydrometerAnswer,
    calculate=calculate,
    examples=EXAMPLES,
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
