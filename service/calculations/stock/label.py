"""What the label of a stock says, held against what an assay found, and what becomes of batches drawn by the label."""

from typing import Final

from service.calculations.shared.messages import AlkaliName, Strength
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.standing_cautions import reaches
from service.calculations.stock.solutions import mass_fraction
from service.chemistry.ranges import ROUNDING

SUPERFAT: Final = 0.05
"""The usual superfat, by which what a batch gets is told [-] (common practice)."""
OFF_LABEL: Final = 0.05
"""Deviation from the label, over the label, that takes the usual superfat away or doubles it."""
NOT_THAT_STOCK: Final = 0.20
"""Deviation from the label, over the label, that no ageing explains (a choice of this service)."""
LEAST_TOLD: Final = 0.0005
"""Share that a message would round to nothing."""
BASIS: Final = "JCGM 100:2008 (95 % interval); a choice of this service: 5 % and 20 % of the label"


def labelled(given: Strength | None, alkali: AlkaliName, notes: Notes) -> float | None:
    """Mass fraction that the label of a stock tells; faults go into the notes.

    Args:
        given: what the label says.
        alkali: its hydroxide.
        notes: where faults go.
    """
    if given is None:
        return None
    found = mass_fraction(given, alkali, notes, "/labelled_strength", lowest=0.001)
    return None if found is None else found.mass_fraction


def caution_off_label(found: tuple[float, float], label: float | None, notes: Notes) -> None:
    """Say so where a stock is not as strong as its label, as soon as its interval leaves the label out.

    A stronger stock takes superfat away, and then leaves alkali free; a weaker one leaves more fat as it is.

    Args:
        found: mass fraction of hydroxide, and its 95 % half-width.
        label: mass fraction that the label tells; None where none was told.
        notes: where the caution goes.
    """
    if label is None:
        return
    strength, half_width = found
    kept, least = (1 - (1 - SUPERFAT) * share / label for share in (strength, strength + half_width))
    apart = abs(strength - label) - half_width
    if apart <= ROUNDING * label:
        _caution_unsure(label, kept, least, notes)
        return
    off = strength / label - 1
    burns = off > 0 and least < -ROUNDING
    beyond = apart > OFF_LABEL * label
    what = (
        "No ageing explains that: repeat the assay, and if it holds, discard the stock: nobody knows what it is."
        if beyond and reaches(abs(off), NOT_THAT_STOCK)
        else "Do not draw by the label: write the strength found on it, or bring it to the label and assay it again."
    )
    notes.caution(
        "not-for-use" if burns or beyond else "label-contradicts",
        f"The stock is {_share(abs(off))} {'stronger' if off > 0 else 'weaker'} than its label "
        f"({percent(strength, 2)} for {percent(label, 2)}): a batch for 5 % superfat drawn by the label gets "
        f"{_kept(kept, least) if burns else _kept(kept)}. {what}",
        "danger" if burns or (beyond and off > 0) else "caution",
        BASIS,
    )


def _caution_unsure(label: float, kept: float, least: float, notes: Notes) -> None:
    """Say so where the label may be right, but a stock as strong as the interval allows leaves alkali free.

    Args:
        label: mass fraction that the label tells.
        kept: superfat that a batch drawn by the label gets by the strength found; negative where alkali is left.
        least: the same by the upper end of its interval.
        notes: where the caution goes.
    """
    if least < -ROUNDING:
        notes.caution(
            "free-alkali-possible",
            f"This assay is too coarse to trust the label ({percent(label, 2)}) by: a batch for 5 % superfat drawn by "
            f"the label gets {_kept(kept, least)}. Assay the stock more closely before a batch is drawn from it.",
            "danger" if kept < -ROUNDING else "caution",
        )


def _share(share: float) -> str:
    """A share for a message, also one so small that it would be rounded to nothing."""
    return percent(share) if share >= LEAST_TOLD else f"less than {percent(2 * LEAST_TOLD)}"


def _kept(superfat: float, least: float | None = None) -> str:
    """The superfat that a batch gets, or by how much its alkali is too much.

    Args:
        superfat: by the strength found; negative where alkali is left.
        least: the same by the upper end of its interval, where that leaves alkali.
    """
    if superfat < 0:
        most = "" if least is None else f", up to {_share(-least)}"
        return f"{_share(-superfat)} more alkali than its fats take{most}"
    worst = "" if least is None else f", and {_kept(least)} by the upper end of the interval"
    return f"{_share(superfat)} of superfat{worst}"
