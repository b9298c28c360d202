"""The draw factor of a stock that was assayed: mass of it for each mass of pure hydroxide, with its interval."""

from typing import Final

from service.calculations.shared.told import FractionFigure, RatioFigure

WEAKEST: Final = 1e-3
"""Mass fraction that the interval reckons with at least; a hydrometer tells no less from water."""


def draw_factor(strength: FractionFigure) -> RatioFigure:
    """One over the strength and over the ends of its interval, of which the lower may be nothing.

    Args:
        strength: mass fraction of hydroxide, above 0, with the ends it is answered with, alike on both sides or not.
    """
    w, low, high = strength.value, strength.low, strength.high
    if low is None or high is None:
        return RatioFigure(1 / w)
    return RatioFigure(1 / w, 1 / high, 1 / max(low, min(w, WEAKEST)))
