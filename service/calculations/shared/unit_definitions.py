"""What the units are that the service reads and tells, in pint's own words, and the registry that knows them.

pint's list of a thousand units would be read at every start, for the fifty that are used here; these are those, and
nothing else. All are exact by definition. A test holds them against pint's list.

Sources: metric units and prefixes, litre, tonne, minute, hour, day: SI Brochure, 9th edition (BIPM, 2019), tables 4, 7
and 8. Inch, foot, mile, pound, ounce: the international yard (0.9144 m) and pound (0.453 592 37 kg); US gallon
(231 cubic inches), quart and fluid ounce: NIST Special Publication 811 (2008), appendix B. Imperial gallon
(4.546 09 L) and fluid ounce: the same, B.8. All from memory, and as pint has them.
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import pint

DEFINITIONS: Final = """
milli- = 1e-3
centi- = 1e-2
deci- = 1e-1
kilo- = 1e3
meter = [length]
second = [time]
gram = [mass]
mole = [substance]
kelvin = [temperature]
percent = 0.01
minute = 60 * second
hour = 60 * minute
day = 24 * hour
metric_ton = 1e3 * kilogram
liter = decimeter ** 3
newton = kilogram * meter / second ** 2
joule = newton * meter
watt = joule / second
watt_hour = watt * hour
pascal = newton / meter ** 2
inch = 2.54 * centimeter
foot = 12 * inch
mile = 5280 * foot
pound = 0.45359237 * kilogram
avoirdupois_ounce = pound / 16
gallon = 231 * inch ** 3
quart = gallon / 4
fluid_ounce = gallon / 128
imperial_gallon = 4.54609 * liter
imperial_fluid_ounce = imperial_gallon / 160
"""
_UNUSED: Final = ("babel", "dask", "numpy", "scipy", "uncertainties")
"""What pint imports where it is installed; nothing of it is used for factors."""


def registry() -> "pint.UnitRegistry[Decimal]":
    """A registry of the units that are used, which reckons exactly."""
    with _unseen(*_UNUSED):
        import pint  # noqa: PLC0415 - only here it is imported without what it would bring along
    made: pint.UnitRegistry[Decimal] = pint.UnitRegistry(None, non_int_type=Decimal)
    made.load_definitions(DEFINITIONS.strip().splitlines())
    return made


@contextmanager
def _unseen(*packages: str) -> Iterator[None]:
    """Let packages seem not to be installed, as far as they are not imported yet.

    pint has no setting for it. Where pictures can be drawn numpy is there, and would cost every start a tenth of a
    second and every process some 15 MB. Whoever wants it later still gets it; pint is then used without arrays.

    Args:
        packages: names of packages.
    """
    hidden = [name for name in packages if name not in sys.modules]
    for name in hidden:
        sys.modules[name] = None  # type: ignore[assignment]
    try:
        yield
    finally:
        for name in hidden:
            del sys.modules[name]
