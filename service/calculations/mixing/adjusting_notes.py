"""What an adjustment says beside its numbers, and its steps: the mass to add, its interval, and the draw factors."""

from typing import Final

from service.calculations.mixing.adjusting import Adjusting
from service.calculations.shared.cautions import degrees
from service.calculations.shared.notes import Notes, at_least, points, weight
from service.calculations.shared.reading import NORMAL_95
from service.calculations.stock.stock_heat import FLASHES
from service.chemistry.uncertainty import Combined, coverage_factor, coverage_half_width

UNCERTAIN: Final = 0.5
"""Share of the mass to add from which its spread is told (judged)."""


def caution_adjusting(adjusting: Adjusting, half: float, notes: Notes) -> None:
    """What an adjustment is to be told beside what pouring and dissolving are.

    Args:
        adjusting: the stock and what is added.
        half: 95 % half-width of the mass to add [kg].
        notes: where the cautions go.
    """
    known = coverage_half_width(adjusting.stock.spread)
    if known and (adjusting.what == "nothing" or half >= UNCERTAIN * adjusting.mass):
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
        stock, apart = adjusting.stock, adjusting.content - target
        mass = stock.part.mass
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
            by_mass = adjusting.mass * stock.volume_spread / NORMAL_95
            notes.step(
                "half-width of the mass to add",
                "k * sqrt((mass * u_present)**2 + (to_add * u_added)**2 + (u_volume * (wanted - added))**2) "
                "/ sqrt((added - wanted)**2)",
                {
                    "mass": (mass, "kg"),
                    "to_add": (adjusting.mass, "kg"),
                    "u_present": (stock.spread.standard_uncertainty, "1"),
                    "u_added": (adjusting.content_spread.standard_uncertainty, "1"),
                    "u_volume": (by_mass, "kg"),
                    "k": (coverage_factor(spread), "1"),
                    **ends,
                },
                (half, "kg"),
                f"JCGM 100:2008, 5.1.2; u: standard uncertainties; k: 95 % coverage; added - wanted is {apart:.4g}",
            )
    notes.step("draw factor", "1 / present", {"present": (present, "1")}, (1 / present, "1"), "balance of masses")
    notes.step(
        "draw correction",
        "wanted / present",
        {"wanted": (target, "1"), "present": (present, "1")},
        (target / present, "1"),
        "the same hydroxide from a stock of another strength",
    )
