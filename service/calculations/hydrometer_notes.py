"""What a reading of a hydrometer says beside its numbers: what it cannot tell, and the steps."""

from typing import Final

from service.calculations.cautions import degrees
from service.calculations.messages import AlkaliName
from service.calculations.notes import Notes
from service.calculations.solution_steps import explain_density
from service.calculations.standing_cautions import CHILDREN, LOCAL_CODES, STORE, of_solution
from service.calculations.stocks import known_stock
from service.chemistry import hydrometer, water

HOT: Final = 60.0
"""Temperature [°C] from which a cold glass cylinder or float may crack in the liquid (from memory)."""


def caution_reading(alkali: AlkaliName, w: float, t: float, notes: Notes) -> None:
    """Everything the person at the cylinder should know."""
    notes.tell(*of_solution(alkali, w), LOCAL_CODES, STORE, CHILDREN)
    notes.caution(
        "hydrometer-counts-all",
        "A hydrometer weighs all that is dissolved: carbonate, salt or glycerol make a stock look stronger than it is, "
        "and a soap made with it keeps more fat. An old, cloudy or coloured stock is titrated.",
    )
    notes.caution(
        "sample-clear-and-mixed",
        "Read in a stock that is stirred, clear and free of bubbles, at one temperature throughout, with the float dry "
        "above the liquid. One to two months closed is as long as many keep a stock; after that, assay it again.",
    )
    crystals = known_stock(alkali, w, t).crystals
    if crystals is not None:
        notes.tell(crystals)
    if t >= HOT:
        notes.caution(
            "glass-may-crack",
            f"At {degrees(t)} a cold cylinder or float of glass may crack and let go of the caustic: let the sample "
            "cool to the room first.",
            "caution",
        )


def explain_reading(
    alkali: AlkaliName, read: tuple[float, float], found: tuple[float, float, float], notes: Notes
) -> None:
    """The steps, so that a person can redo them by hand.

    Args:
        alkali: the hydroxide.
        read: the reading as specific gravity, and the temperature of its scale [°C].
        found: density [kg/m3], mass fraction and temperature [°C].
        notes: where the steps go.
    """
    (gravity, reference), (rho, w, t) = read, found
    notes.step(
        "density at the temperature of the liquid",
        "gravity * water / (1 + expansion * (temperature - reference))",
        {
            "gravity": (gravity, "1"),
            "water": (water.density(reference) / 1000, "kg/L"),
            "expansion": (hydrometer.GLASS_EXPANSION, "1/K"),
            "temperature": (t, "°C"),
            "reference": (reference, "°C"),
        },
        (rho / 1000, "kg/L"),
        "a float of glass grows with warmth: ISO 649-1 (from memory)",
    )
    explain_density(alkali, w, t, notes)
    notes.step(
        "draw factor",
        "1 / strength",
        {"strength": (w, "1")},
        (1 / w, "1"),
        "definition of mass fraction",
    )
