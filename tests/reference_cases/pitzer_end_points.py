"""Acid past the two end points of caustic with carbonate, where an indicator turns at a pH, by Pitzer's equations.

Worked out with the package phreeqpython 1.6.2 and its pitzer.dat (PHREEQC, U.S. Geological Survey), at 25 °C: sodium
hydroxide and carbonate in 100 g of water and in that of the acid, and as much chloride as brings them to the pH.
"""

from typing import Final, NamedTuple


class Past(NamedTuple):
    """A mixture, and the acid past its end points; below 0 where the colour turns early."""

    hydroxide: float
    """[mmol]"""
    carbonate: float
    """[mmol]"""
    acid: float
    """[mol/L]"""
    first: tuple[float, ...]
    """At each of `FIRST_PH` [mmol]."""
    second: tuple[float, ...]
    """At each of `SECOND_PH` [mmol]."""


FIRST_PH: Final = (8.0, 8.1, 8.2, 8.3, 8.4, 8.5, 8.6)
SECOND_PH: Final = (4.0, 4.1, 4.2, 4.3, 4.4, 4.5, 4.6)
PITZER: Final = (
    Past(
        *(24.5, 0.1, 1.0),
        (0.0, -0.0008, -0.0017, -0.0026, -0.0036, -0.0048, -0.0063),
        (0.0151, 0.0117, 0.0090, 0.0067, 0.0048, 0.0032, 0.0017),
    ),
    Past(
        *(22.0, 1.5, 1.0),
        (0.0014, -0.0100, -0.0218, -0.0347, -0.0493, -0.0661, -0.0858),
        (0.0072, 0.0018, -0.0035, -0.0090, -0.0149, -0.0216, -0.0293),
    ),
    Past(
        *(12.5, 4.7, 1.0),
        (0.0057, -0.0301, -0.0672, -0.1075, -0.1528, -0.2050, -0.2662),
        (-0.0108, -0.0206, -0.0316, -0.0441, -0.0589, -0.0767, -0.0984),
    ),
    Past(
        *(5.0, 7.0, 1.0),
        (0.0109, -0.0424, -0.0977, -0.1575, -0.2245, -0.3015, -0.3916),
        (-0.0232, -0.0360, -0.0507, -0.0681, -0.0889, -0.1143, -0.1454),
    ),
    Past(
        *(30.0, 10.0, 1.0),
        (-0.0530, -0.1349, -0.2230, -0.3214, -0.4343, -0.5661, -0.7217),
        (-0.0443, -0.0643, -0.0877, -0.1156, -0.1494, -0.1908, -0.2417),
    ),
    Past(
        *(10.0, 19.0, 1.0),
        (-0.1267, -0.2858, -0.4578, -0.6502, -0.8711, -1.1288, -1.4321),
        (-0.1001, -0.1343, -0.1756, -0.2259, -0.2878, -0.3644, -0.4592),
    ),
    Past(
        *(2.25, 0.14, 0.1),
        (0.0016, 0.0007, -0.0002, -0.0010, -0.0020, -0.0030, -0.0042),
        (0.0136, 0.0105, 0.0080, 0.0058, 0.0040, 0.0024, 0.0010),
    ),
    Past(
        *(1.25, 0.47, 0.1),
        (0.0059, 0.0029, 0.0001, -0.0027, -0.0056, -0.0088, -0.0124),
        (0.0116, 0.0082, 0.0052, 0.0025, 0.0, -0.0026, -0.0052),
    ),
)
