"""The draw factor of a stock that was assayed: mass of it for each mass of pure hydroxide, with its interval."""

from typing import Final

from service.calculations.shared.told import RatioFigure

WEAKEST: Final = 1e-3
"""Mass fraction that the interval reckons with at least; a hydrometer tells no less from water."""


def draw_factor(w: float, half_width: float) -> RatioFigure:
    """One over the strength and over the ends of its interval, of which the lower may be nothing.

    Args:
        w: mass fraction of hydroxide, above 0.
        half_width: its 95 % half-width.
    """
    if not half_width:
        return RatioFigure(1 / w)
    return RatioFigure(1 / w, 1 / (w + half_width), 1 / max(w - half_width, min(w, WEAKEST)))
