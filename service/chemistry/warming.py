"""How long a heater takes to bring the contents of a vessel to a temperature, against what the vessel loses.

The contents are of one temperature (stirred). With the heat H that they take up to reach t, the power P that reaches
them and the loss Q(t),

    dt = dH / (P - Q)

Between two temperatures that are near each other the net power P - Q is taken as a straight line of the heat taken
up. Then the time is the heat over the logarithmic mean of the net powers at both ends, which is exact for a constant
heat capacity and a loss in proportion to the difference of temperatures, however far the two are apart [1]_.

References:
    .. [1] T. L. Bergman et al., Introduction to Heat Transfer, 6th ed., 5.3 (general lumped capacitance analysis):
       T(t) = T_s + (T_0 - T_s) exp(-t U A / C), with T_s the steady temperature.
"""

import math
from collections.abc import Callable, Sequence
from typing import Final, NamedTuple

from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import rising_root

_ALIKE: Final = 1e-4
"""Relative difference of two net powers below which the series of the logarithmic mean is taken: its first term left
out is of the fourth power of this [-] (numerical)."""


class Leg(NamedTuple):
    """From one temperature of the contents to the next."""

    temperature: float
    """At its end [°C]."""
    heat: float
    """Taken up on it [J]."""


class Warmed(NamedTuple):
    """A warming, or as much of it as the heater can do."""

    times: tuple[float, ...]
    """At the end of each leg [s], from the start; as many as are reached."""
    reached: bool
    """Whether the last leg's end is."""


def warm(start: float, legs: Sequence[Leg], power: float, loss: Callable[[float], float]) -> Warmed:
    """Times at which the contents reach each temperature.

    Args:
        start: temperature of the contents [°C].
        legs: the way; temperatures do not fall.
        power: that reaches the contents [W].
        loss: heat that the vessel loses with contents of a temperature [°C] to [W]; it does not fall.

    References:
        .. [1] as the module says.
    """
    elapsed = 0.0
    times: list[float] = []
    net = power - loss(start)
    before = start
    for t, heat in legs:
        after = net if t == before else power - loss(t)
        if net <= 0.0 or after <= 0.0:
            return Warmed(tuple(times), reached=False)
        elapsed += heat / logarithmic_mean(net, after)
        times.append(elapsed)
        net, before = after, t
    return Warmed(tuple(times), reached=True)


def logarithmic_mean(a: float, b: float) -> float:
    """Logarithmic mean of two positive numbers, (a - b) / ln(a / b) [their unit].

    Args:
        a: above 0 [any unit].
        b: above 0 [the same].

    Raises:
        OutOfRange: one of them is not above 0.

    References:
        .. [1] definition; near a = b the mean less its sixth of the variance, (a + b) / 2 (1 - x^2 / 3) with
           x = (a - b) / (a + b).
    """
    for one in (a, b):
        if not one > 0.0:
            raise OutOfRange("net power", one, 0.0, math.inf, "a logarithmic mean is of positive numbers")
    x = (a - b) / (a + b)
    if abs(x) < _ALIKE:
        return 0.5 * (a + b) * (1.0 - x * x / 3.0)
    return (a - b) / math.log(a / b)


def steady_temperature(power: float, loss: Callable[[float], float], low: float, high: float) -> float | None:
    """Temperature at which the loss takes all the power [°C]; None where that is above `high`.

    Args:
        power: that reaches the contents [W].
        loss: heat that the vessel loses with contents of a temperature [°C] to [W]; it rises.
        low: where the search begins, at or below the temperature of the room [°C].
        high: where it ends [°C].

    Raises:
        OutOfRange: the vessel loses more than the power at `low` already.

    References:
        .. [1] balance of powers.
    """
    if loss(high) < power:
        return None
    return rising_root(loss, power, low, high, quantity="power", reason="the room is colder than that")
