"""By which result of an assay a stock or a soap is not to be used as it is, and what becomes of it."""

from typing import Final

from service.calculations.shared.messages import AlkaliName, Strength
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.standing_cautions import CORROSIVE, IRRITANT, WASTE
from service.calculations.stock.solutions import mass_fraction
from service.chemistry import molar_masses

CARBONATED: Final = 0.10
"""Carbonate over all alkali, by what each takes of acid, from which a stock is better discarded (a choice of this
service: three times what fresh solid may bring)."""
OFF_LABEL: Final = 0.05
"""Deviation from the label, over the label, that takes a usual superfat of 5 % away or doubles it."""
NOT_THAT_STOCK: Final = 0.20
"""Deviation from the label, over the label, that no ageing explains (a choice of this service)."""
HIGHEST_LIMIT: Final = 0.001
"""Free caustic alkali, as NaOH, that the mildest of the standards of toilet soap allows: GB/T 2485 (from memory)."""

NO_STOCK: Final = 0.01
"""Mass fraction below which nobody keeps a stock (a choice of this service)."""

CHOICE: Final = "a choice of this service"


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


def caution_no_stock(alkali: AlkaliName, strength: float, check: str, notes: Notes) -> None:
    """Say so where a stock comes out so weak that it is likelier a slip.

    Args:
        alkali: its hydroxide.
        strength: mass fraction of hydroxide.
        check: what to look at, as the end of a sentence.
        notes: where the caution goes.
    """
    if strength < NO_STOCK:
        notes.caution(
            "slip-likely",
            f"{percent(strength, 2)} {alkali} is no stock that anybody keeps: most likely a figure slipped. "
            f"Check {check}.",
        )


def caution_carbonated(alkali: AlkaliName, strength: float, total: tuple[float, float], notes: Notes) -> None:
    """Say so where a stock has gone to carbonate.

    Args:
        alkali: its hydroxide.
        strength: mass fraction of hydroxide.
        total: hydroxide and carbonate counted as hydroxide, and the 95 % half-width of what is carbonate of that.
        notes: where the caution goes.
    """
    whole, half_width = total
    carbonate = whole - strength
    if carbonate - half_width <= CARBONATED * whole:
        return
    notes.caution(
        "not-for-use",
        f"{percent(carbonate / whole)} of its alkali is carbonate, which makes no soap of fats: do not make soap with "
        "this stock. Draws by its label leave fat over, and carbonate settles and blooms on the soap. Hand it over as "
        f"caustic waste, and mix new {alkali} from a fresh bag.",
        basis=f"{CHOICE}: 10 %; fresh solid 3 % (JECFA, USP)",
    )
    notes.tell(WASTE)


def caution_off_label(found: tuple[float, float], label: float | None, notes: Notes) -> None:
    """Say so where a stock is not as strong as its label.

    Args:
        found: mass fraction of hydroxide, and its 95 % half-width.
        label: mass fraction that the label tells; None where none was told.
        notes: where the caution goes.
    """
    if label is None:
        return
    strength, half_width = found
    off = strength / label - 1
    if abs(strength - label) - half_width <= OFF_LABEL * label:
        return
    stronger = off > 0
    how = f"{percent(abs(off))} {'stronger' if stronger else 'weaker'}"
    left = 1 - 0.95 * strength / label
    makes = f"{percent(-left)} of free alkali" if left < 0 else f"{percent(left)} of superfat"
    what = (
        "No ageing explains that: repeat the assay, and if it holds, discard the stock, since nobody knows what it is."
        if abs(off) >= NOT_THAT_STOCK
        else "Do not draw by the label: write the strength found on it, or bring it to the label and assay it again."
    )
    notes.caution(
        "not-for-use",
        f"The stock is {how} than its label ({percent(strength, 2)} for {percent(label, 2)}): a batch for 5 % superfat "
        f"drawn by the label gets {makes}. {what}",
        "danger" if stronger else None,
        f"{CHOICE}: 5 % and 20 % of the label, beyond the interval",
    )


def caution_unfit_soap(alkali: AlkaliName, free: tuple[float, float], notes: Notes) -> None:
    """Say so where a soap holds more free alkali than any standard of toilet soap allows.

    Args:
        alkali: what the free alkali is told as.
        free: mass fraction of free alkali, and its 95 % half-width.
        notes: where the caution goes.
    """
    as_soda = molar_masses.NAOH / molar_masses.ALKALI[alkali]
    share, least = free[0] * as_soda, (free[0] - free[1]) * as_soda
    if share >= CORROSIVE:
        notes.caution(
            "not-for-use",
            f"{percent(share, 2)} of free alkali as NaOH burns like lye: discard this soap as caustic waste, unless "
            "trained persons rework all of it. Curing does not mend so much.",
            "danger",
            "Regulation (EC) 1272/2008, Annex VI, index 011-002-00-6",
        )
        notes.tell(WASTE)
    elif least > HIGHEST_LIMIT:
        notes.caution(
            "not-for-use",
            f"Even the lower end, {percent(least, 2)} as NaOH, is above what standards of toilet soap allow (0.05 to "
            "0.1 %). If it is cured and a second assay agrees, it will fall no further: rework it, or discard it.",
            "danger" if share >= IRRITANT else None,
            "IS 2888, EAS 186, GB/T 2485 (from memory)",
        )
