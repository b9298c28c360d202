"""What a reading of a hydrometer says beside its numbers: what it cannot tell, and the steps."""

from typing import TYPE_CHECKING, Final

from service.calculations.assays.hydrometer_reading import Found, Waters
from service.calculations.assays.stock_assay_titration_notes import HARDLY_KNOWN
from service.calculations.shared.cautions import degrees
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.standing_cautions import CHILDREN, LOCAL_CODES, STORE, of_solution
from service.calculations.shared.thresholds import above
from service.calculations.stock.solution_steps import explain_density, explain_water_density
from service.calculations.stock.stocks import known_stock
from service.chemistry import density, hydrometer, water
from service.chemistry.carbonate_density import (
    CARBONATE_OF,
    carbonate_volume,
    density_with_carbonate,
    over_reading,
    source_range_ends,
)

if TYPE_CHECKING:
    from service.calculations.assays.stock_assay_hydrometer import StockAssayHydrometerRequest

HOT: Final = 60.0
"""Temperature [°C] from which a cold glass cylinder or float may crack in the liquid (from memory)."""
A_POINT: Final = 0.01
"""Carbonate that a caution tells the effect of, for each point of it [-]."""
FOUND_BY_TRYING: Final = (
    "apparent volumes add up (Laliberté 2009); found by trying: with so much hydroxide it is the density read"
)


def caution_reading(alkali: AlkaliName, found: Found, t: float, notes: Notes) -> None:
    """Everything the person at the cylinder should know.

    Args:
        alkali: the hydroxide.
        found: what the reading tells.
        t: temperature of the liquid [°C].
        notes: where the cautions go.
    """
    w = found.w
    notes.tell(*of_solution(alkali, w), LOCAL_CODES, STORE, CHILDREN)
    notes.caution(
        "hydrometer-counts-all",
        "A hydrometer weighs all that is dissolved: carbonate, salt or glycerol make a stock look stronger than it is, "
        f"and a soap made with it keeps more fat. {_effect(alkali, found, t)} An old, cloudy or coloured stock is "
        "titrated.",
    )
    notes.caution(
        "sample-clear-and-mixed",
        "Read in a stock that is stirred, clear and free of bubbles, at one temperature throughout, with the float dry "
        "above the liquid. One to two months closed is as long as many keep a stock; after that, assay it again.",
    )
    crystals = known_stock(alkali, w, t).crystals
    if crystals is not None:
        notes.tell(crystals)
    if above(t, HOT):
        notes.caution(
            "glass-may-crack",
            f"At {degrees(t)} a cold cylinder or float of glass may crack and let go of the caustic: let the sample "
            "cool to the room first.",
            "caution",
        )


def _effect(alkali: AlkaliName, found: Found, t: float) -> str:
    """What carbonate reads as, as a sentence."""
    name = CARBONATE_OF[alkali]
    if found.carbonate:
        return f"{percent(found.carbonate, 2)} {name} reads as {percent(found.over, 2)} {alkali}, which is taken off."
    if found.w < 2 * A_POINT:
        return f"Each percentage point of {name} reads as about one of {alkali}."
    over = over_reading(alkali, found.rho, A_POINT, t)
    rough = "" if found.w <= source_range_ends(alkali) else " (drawn out beyond the data)"
    return f"Each percentage point of dissolved {name} reads here as {over / A_POINT:.1f} of {alkali}{rough}."


def caution_exact_reading(request: "StockAssayHydrometerRequest", notes: Notes) -> None:
    """Say which inputs came without a spread, so that the interval lacks theirs.

    Args:
        request: the request.
        notes: where the caution goes.
    """
    reading = request.reading
    lacking = []
    if reading.division is None and (reading.density is None or reading.density.part is None):
        lacking.append("reading")
    if request.temperature.part is None:
        lacking.append("temperature")
    if request.carbonate_mass_fraction is not None and request.carbonate_mass_fraction.part is None:
        lacking.append("carbonate mass fraction")
    if lacking:
        notes.caution(
            "budget-incomplete",
            f"Taken as exact, since no spread is given: {', '.join(lacking)}. The interval is too narrow by what they "
            "bring: a kelvin is 0.02 to 0.08 percentage points of strength. Give the division of the scale, and limits "
            "or an uncertainty.",
            "note",
        )


def caution_hardly_known(w: float, half_width: float, notes: Notes) -> None:
    """Say so where batches drawn by a reading miss their superfat.

    Args:
        w: mass fraction of hydroxide.
        half_width: its 95 % half-width.
        notes: where the caution goes.
    """
    if half_width > HARDLY_KNOWN * w:
        known = percent(half_width / w) if half_width < w else "100 % and more"
        notes.caution(
            "strength-hardly-known",
            f"The strength is known to {known} of itself only, and a superfat moves by as many percentage points. "
            "Draw by a titration, or use a finer scale and a thermometer.",
        )


def explain_reading(alkali: AlkaliName, read: tuple[float, Waters], found: Found, t: float, notes: Notes) -> None:
    """The steps, so that a person can redo them by hand.

    Args:
        alkali: the hydroxide.
        read: the reading as specific gravity, and what its scale holds for.
        found: what it tells.
        t: temperature of the liquid [°C].
        notes: where the steps go.
    """
    gravity, waters = read
    notes.step(
        "density at the temperature of the liquid",
        "gravity * water / (1 + expansion * (temperature - reference))",
        {
            "gravity": (gravity, "1"),
            "water": (water.density(waters.water) / 1000, "kg/L"),
            "expansion": (hydrometer.GLASS_EXPANSION, "1/K"),
            "temperature": (t, "°C"),
            "reference": (waters.reference, "°C"),
        },
        (found.rho / 1000, "kg/L"),
        "a float of glass grows with warmth: ISO 649-1 (from memory)",
    )
    if found.carbonate:
        _explain_carbonate(alkali, found, t, notes)
    else:
        explain_density(alkali, found.w, t, notes)
    notes.step(
        "draw factor",
        "1 / strength",
        {"strength": (found.w, "1")},
        (1 / found.w, "1"),
        "definition of mass fraction",
    )


def _explain_carbonate(alkali: AlkaliName, found: Found, t: float, notes: Notes) -> None:
    """The density with carbonate in the place of some hydroxide, and what that carbonate reads as."""
    w, carbonate = found.w, found.carbonate
    dissolved = w + carbonate
    alone = density.density(alkali, dissolved, t) / 1000
    explain_density(alkali, dissolved, t, notes, "density, were all that is dissolved hydroxide")
    explain_water_density(t, notes)
    of_carbonate = carbonate_volume(alkali, dissolved, t) * 1000
    notes.step(
        "density with carbonate",
        "1 / (1 / alone + carbonate * (carbonate_volume - (1 / alone - (1 - dissolved) / water) / dissolved))",
        {
            "alone": (alone, "kg/L"),
            "carbonate": (carbonate, "1"),
            "carbonate_volume": (of_carbonate, "L/kg"),
            "dissolved": (dissolved, "1"),
            "water": (water.density(t) / 1000, "kg/L"),
        },
        (density_with_carbonate(alkali, w, carbonate, t) / 1000, "kg/L"),
        FOUND_BY_TRYING,
    )
    notes.step(
        "what the carbonate reads as",
        "all_as_hydroxide - strength",
        {"all_as_hydroxide": (w + found.over, "1"), "strength": (w, "1")},
        (found.over, "1"),
        "strength of the same density without carbonate, less that beside it",
    )
