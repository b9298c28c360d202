"""Temperatures beside a threshold of a caution, however their unit was said.

50 °C said as 122 °F or as 323.15 K comes out some 1e-14 K beside 50 °C, and a caution must not hang on that: what
stands on a threshold is cautioned, but for one that says itself that it is allowed, as in "38 °C or less".
"""

from typing import Final

SAID_ALIKE: Final = 1e-6
"""Difference [K] that rounding and units may leave of one temperature; no thermometer tells it."""


def above(t: float, threshold: float) -> bool:
    """Whether a temperature is above a threshold, or stands on it.

    Args:
        t: a temperature [°C], or a difference of two [K].
        threshold: likewise.
    """
    return not short_of(t, threshold)


def beyond(t: float, limit: float) -> bool:
    """Whether a temperature is above a limit that is itself allowed.

    Args:
        t: a temperature [°C], or a difference of two [K].
        limit: likewise.
    """
    return t > limit + SAID_ALIKE


def below(t: float, threshold: float) -> bool:
    """Whether a temperature is below a threshold, or stands on it.

    Args:
        t: a temperature [°C], or a difference of two [K].
        threshold: likewise.
    """
    return not beyond(t, threshold)


def short_of(t: float, limit: float) -> bool:
    """Whether a temperature is below a limit that is itself allowed.

    Args:
        t: a temperature [°C], or a difference of two [K].
        limit: likewise.
    """
    return t < limit - SAID_ALIKE
