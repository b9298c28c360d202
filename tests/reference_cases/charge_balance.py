"""A titration of caustic with carbonate as chemistry has it: pH by the balance of charges, end points found on it.

Written for the tests alone and independent of the service: what the two-end-point method would read, without any
error of burette or eye, from a mixture that is known.

pKa of carbonic acid 6.35 and 10.33 at 25 °C (CRC Handbook of Chemistry and Physics, Dissociation Constants of
Inorganic Acids and Bases; from memory), ion product of water 1.0e-14. No ionic strength, no carbon dioxide that
escapes.
"""

from typing import Final

K1: Final = 10**-6.35
K2: Final = 10**-10.33
KW: Final = 1e-14

PHENOLPHTHALEIN: Final = 8.3
"""pH at which it has just lost its colour."""
BROMOCRESOL_GREEN: Final = 4.3
"""pH of its change from blue to green-yellow, which is near the bicarbonate's own end point."""


def charge_of_carbonate(h: float) -> float:
    """Mean negative charge of dissolved carbonate at a concentration of H+ [mol/L]."""
    return (K1 * h + 2 * K1 * K2) / (h * h + K1 * h + K1 * K2)


def acid_for(ph: float, hydroxide: float, carbonate: float, water: float, acid: float) -> float:
    """Volume of acid that brings a mixture to a pH [L].

    The balance of charges is linear in the volume, so no root is sought.

    Args:
        ph: the pH.
        hydroxide: NaOH [mol].
        carbonate: Na2CO3 [mol].
        water: volume that they are dissolved in [L].
        acid: molarity of the strong acid [mol/L].
    """
    h = 10**-ph
    free = h - KW / h
    metal = hydroxide + 2 * carbonate
    return (metal - carbonate * charge_of_carbonate(h) + free * water) / (acid - free)


def inflection(
    near: float, hydroxide: float, carbonate: float, water: float, acid: float, *, step: float = 1e-3
) -> float:
    """Volume of acid at the steepest pH within 1.2 of a guess, looked for by steps of the pH [L]."""
    places = [near - 1.2 + step * index for index in range(round(2.4 / step) + 1)]
    volumes = [acid_for(ph, hydroxide, carbonate, water, acid) for ph in places]
    steepest = min(range(1, len(places) - 1), key=lambda at: volumes[at - 1] - volumes[at + 1])
    return volumes[steepest]
