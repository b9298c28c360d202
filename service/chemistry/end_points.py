"""How far from its end points a titrated caustic is seen to turn, since an indicator turns at a pH.

Where all carbonate is bicarbonate the pH falls slowly: between pH 8.6 and 8.0 several percent of it take their proton,
and in the salt of the titration carbonate lets go of its own less readily than in pure water, so that the first end
point is seen early. At the second one some bicarbonate is left, so that it is seen early too, and acid that makes the
water itself sour is spent, so that it is seen late. What is seen early or late grows with the carbonate and with the
water, and no finer burette makes it less.

References:
    .. [1] pitzer.dat, a data base of the program PHREEQC (U.S. Geological Survey) with Pitzer's equations for the
       activities in mixed salts, as the package phreeqpython 1.6.2 ships and runs it, at 25 °C: chloride that brings
       sodium hydroxide with carbonate to a pH.
"""

from typing import Final

from service.chemistry.titration import Titration

FIRST_OFF: Final = 0.076
"""Share of the carbonate by which the first end point is off, at most [-] (computed [1]_).

At pH 8.0 to 8.6, for an eye that stops up to 0.3 from 8.3: 0.2 % late to 5.7 % early with 20 to 25 mL of normal acid in
100 mL of water, 7.5 % early with 48 mL; 1.3 % late to 3.0 % early with tenth-normal acid."""
SECOND_OFF: Final = 0.025
"""Share of the carbonate by which the second end point is early, at most [-] (computed [1]_).

At pH 4.6, for an eye that stops up to 0.3 from 4.3: 2.0 to 2.4 % with normal acid."""
ACID_LEFT: Final = 0.125
"""Acid that water holds at pH 4.0 beside 0.2 mol/L of salt, the most of pH 4.0 to 4.6 [mol/m3] (computed [1]_)."""


def rooms(titration: Titration, water: float) -> tuple[float, float]:
    """Most by which the acid to each end point is off where it is seen by a colour, to either side [m3].

    Args:
        titration: its two end points; the difference of them is what the carbonate's second proton takes.
        water: volume of water that the sample was put into [m3].
    """
    carbonate = titration.second - titration.first
    sour = ACID_LEFT * (water + titration.second) / titration.normality
    return FIRST_OFF * carbonate, max(SECOND_OFF * carbonate, sour)
