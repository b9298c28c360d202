"""How long the contents of a vessel take to cool, and the heat-loss coefficient that says the same in one number.

The contents are of one temperature (stirred). With the heat H that they give off down to t, and the loss Q(t),

    dt = -dH / Q

Between two temperatures the loss is taken as a straight line of the heat given off. The time is then the heat over the
logarithmic mean of the losses at both ends, which is exact for Newton's law, a loss in proportion to the difference
of temperatures, and a constant heat capacity, however far the two are apart [1]_.

References:
    .. [1] T. L. Bergman et al., Introduction to Heat Transfer, 6th ed., 5.1 (lumped capacitance):
       T(t) = T_s + (T_0 - T_s) exp(-t U A / C).
"""

import math
from collections.abc import Sequence
from typing import Final

from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import require
from service.chemistry.warming import logarithmic_mean
from service.chemistry.water import enthalpy, ice_enthalpy

MELTING_HEAT: Final = enthalpy(0.0) - ice_enthalpy(0.0)
"""Heat [J/kg] that melts ice where it melts at one atmosphere, 0 [°C]: 333.4 kJ/kg (computed: IAPWS R10-06(2009) and
R6-95(2018))."""


def cooling_times(heats: Sequence[float], losses: Sequence[float]) -> tuple[float, ...]:
    """Times at which the contents reach each temperature of their way down, from the start [s].

    Args:
        heats: given off on each leg, at least 0 [J].
        losses: at each temperature, the start among them, so one more than legs; above 0 [W].

    Raises:
        OutOfRange: a loss is not above 0, or heats and losses are not as many as that.

    References:
        .. [1] the module's.

    Examples:
        >>> [round(t, 1) for t in cooling_times([4e3], [100.0, 50.0])]
        [55.5]
    """
    require("number of losses", len(losses), len(heats) + 1, len(heats) + 1, "there is one at each end of each leg")
    elapsed = 0.0
    times: list[float] = []
    for i, heat in enumerate(heats):
        elapsed += heat / logarithmic_mean(losses[i], losses[i + 1])
        times.append(elapsed)
    return tuple(times)


def geometric_way(start: float, end: float, rest: float, legs: int) -> list[float]:
    """Temperatures from a start down to an end, the distance to a temperature of rest falling by equal factors [°C].

    Args:
        start: the first [°C].
        end: the last, below it [°C].
        rest: what they come near to, below the end [°C].
        legs: number of legs, at least 1 [1].

    Raises:
        OutOfRange: the end is not between start and rest.

    References:
        .. [1] equal times on all legs, where Newton's law holds.
    """
    if not rest < end < start:
        raise OutOfRange("end", end, rest, start, "what cools comes to rest below the end of the way")
    whole, left = start - rest, end - rest
    ratio = left / whole
    return [start, *(rest + whole * ratio ** (i / legs) for i in range(1, legs)), end]


def newton_coefficient(
    time: float, capacity: float, apart: tuple[float, float], bath_capacity: float = math.inf
) -> float:
    """Heat-loss coefficient by which Newton's law takes a time [W/K].

    Args:
        time: that it took, above 0 [s].
        capacity: heat that contents and vessel give off per kelvin, above 0 [J/K].
        apart: difference of temperatures to the surroundings at start and end, both above 0 [K].
        bath_capacity: heat that the surroundings take up per kelvin of their own warming, above 0 [J/K].

    Raises:
        OutOfRange: an argument is not above 0.

    References:
        .. [1] T. L. Bergman et al., 6th ed., 5.1; with surroundings that warm, the difference of both temperatures
           falls in proportion to U A (1/C + 1/C_bath).

    Examples:
        >>> round(newton_coefficient(3600.0, 9e3, (60.0, 30.0)), 3)
        1.733
    """
    for name, one in (("time", time), ("capacity", capacity), ("bath_capacity", bath_capacity), ("apart", min(apart))):
        if not one > 0.0:
            raise OutOfRange(name, one, 0.0, math.inf, "it is above 0")
    return math.log(apart[0] / apart[1]) / time / (1.0 / capacity + 1.0 / bath_capacity)


def melted_ice(heat: float) -> float:
    """Ice of 0 °C that a heat melts [kg].

    Args:
        heat: at least 0 [J].

    Raises:
        OutOfRange: it is negative.

    References:
        .. [1] `MELTING_HEAT`.

    Examples:
        >>> round(melted_ice(1e6), 2)
        3.0
    """
    require("heat", heat, 0.0, math.inf, "ice melts by heat that is given off")
    return heat / MELTING_HEAT
