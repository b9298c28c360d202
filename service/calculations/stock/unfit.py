"""By which result of an assay a stock or a soap is not to be used as it is, and what becomes of it."""

from typing import Final

from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.standing_cautions import CORROSIVE, IRRITANT, WASTE
from service.chemistry import molar_masses

CARBONATED: Final = 0.10
"""Carbonate over all alkali, by what each takes of acid, from which a stock is better discarded (a choice of this
service: three times what fresh solid may bring)."""
HIGHEST_LIMIT: Final = 0.001
"""Free caustic alkali, as NaOH, that the mildest of the standards of toilet soap allows [-] (GB/T 2485, from
memory)."""

NO_STOCK: Final = 0.01
"""Mass fraction below which nobody keeps a stock (a choice of this service)."""

CHOICE: Final = "a choice of this service"


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
