"""What an adjustment says beside its numbers, and its steps: the mass to add, its interval, and the draw factors."""

from typing import Final

from service.calculations.mixing.adjusting import Adjusting, added_by
from service.calculations.shared.cautions import degrees
from service.calculations.shared.notes import Notes, at_least, points, weight
from service.calculations.stock.stock_heat import FLASHES
from service.chemistry.uncertainty import Combined, coverage_factor, coverage_half_width

UNCERTAIN: Final = 0.5
"""Share of the mass to add from which its spread is told (judged)."""
HARDLY_APART: Final = 0.2
"""Half-width of what is added, over its difference to what is wanted, from which the interval of the mass is told to be
too narrow (judged): it is of first order, and 1 / (1 - 0.2) is 1.25 and no 1.2."""


def caution_adjusting(adjusting: Adjusting, half: float, notes: Notes) -> None:
    """What an adjustment is to be told beside what pouring and dissolving are.

    Args:
        adjusting: the stock and what is added.
        half: 95 % half-width of the mass to add [kg].
        notes: where the cautions go.
    """
    known = coverage_half_width(adjusting.stock.spread)
    apart, content = abs(adjusting.content - adjusting.target), coverage_half_width(adjusting.content_spread)
    if content >= HARDLY_APART * apart and adjusting.what != "nothing":
        most = (
            f"it may take {at_least(adjusting.mass * apart / (apart - content))}"
            if content < apart
            else "it may not do"
        )
        notes.caution(
            "adjustment-within-spread",
            f"What is added is {points(apart)} from the wanted strength, and its own is known to {points(content)}: "
            f"{most}, more than the interval says. Assay it better, or add something farther from what is wanted.",
        )
    elif known and (adjusting.what == "nothing" or half >= UNCERTAIN * adjusting.mass):
        told = "no more is needed" if adjusting.what == "nothing" else f"{weight(adjusting.mass)} are to be added"
        most = "" if adjusting.what == "nothing" else f", and it may be up to {at_least(adjusting.mass + half)}"
        notes.caution(
            "adjustment-within-spread",
            f"By the strength as given {told}{most}, but that strength is known to {points(known)} only: assay it "
            "better before it is adjusted.",
        )
    if adjusting.solid is None:
        return
    t = adjusting.stock.part.temperature
    if t >= FLASHES:
        notes.caution(
            "stock-hot",
            f"The stock is at {degrees(t)}: solid that is strewn into it boils it where it falls. Let it cool first.",
            "danger",
        )
    notes.caution(
        "assay-after-mixing",
        "Stir until no grain is felt, let it cool, measure its strength again, and label it with the new strength and "
        "the date: the reckoning is no better than the strength and the purity it was given.",
    )


def explain_adjusting(adjusting: Adjusting, spread: Combined, notes: Notes) -> None:
    """Write the steps down.

    Args:
        adjusting: the stock and what is added.
        spread: of the mass to add [kg].
        notes: where they go.
    """
    present, target = adjusting.present, adjusting.target
    if adjusting.what != "nothing":
        mass = adjusting.stock.part.mass
        masses = {"mass": (mass, "kg"), "present": (present, "1")}
        ends = {"wanted": (target, "1"), "added": (adjusting.content, "1")}
        notes.step(
            "mass to add",
            "mass * (wanted - present) / (added - wanted)",
            masses | ends,
            (adjusting.mass, "kg"),
            "balance of hydroxide; added: mass fraction of hydroxide in what is added, of a solid its purity",
        )
        half = coverage_half_width(spread)
        if half:
            by_present, by_added, by_density = (each * part[0] for each, part in added_by(adjusting))
            notes.step(
                "half-width of the mass to add",
                "k * sqrt(by_present**2 + by_added**2 + by_density**2)",
                {
                    "by_present": (by_present, "kg"),
                    "by_added": (by_added, "kg"),
                    "by_density": (by_density, "kg"),
                    "k": (coverage_factor(spread), "1"),
                },
                (half, "kg"),
                "JCGM 100:2008, 5.1.2; what one standard uncertainty of the strength of the stock, of that of what is "
                "added and of the densities changes: of the stock mass / (added - wanted) for each mass fraction and "
                "to_add / mass for each mass, of what is added to_add / (added - wanted); k: 95 % coverage",
            )
    notes.step("draw factor", "1 / present", {"present": (present, "1")}, (1 / present, "1"), "balance of masses")
    notes.step(
        "draw correction",
        "wanted / present",
        {"wanted": (target, "1"), "present": (present, "1")},
        (target / present, "1"),
        "the same hydroxide from a stock of another strength",
    )
