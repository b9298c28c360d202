"""Quantities as they are answered: SI numbers that become {"value", "unit", "low", "high"}.

One class per kind; the class on an answer's member decides the unit and how the contract describes it.
"""

from decimal import ROUND_CEILING, ROUND_FLOOR, Context
from math import inf, isfinite
from typing import ClassVar, Literal, Self

from msgspec import UNSET, Struct, UnsetType

from service.calculations.shared import units
from service.calculations.shared.units import Kind, Unit

_ROUNDING = 1e-13
"""Half-width over value below which sums and units alone have left it."""

Rounding = Literal["nearest", "down", "up", "never"]


class Told:
    """A quantity of an answer, in SI, with the ends of its 95 % interval where it is uncertain."""

    __slots__ = ("high", "low", "value")
    kind: ClassVar[Kind]
    least: ClassVar[float] = 0.0
    """Where its interval ends at the latest [SI]: of a mass, a density or a share there is nothing less."""
    most: ClassVar[float] = inf
    rounds: ClassVar[Rounding] = "nearest"
    """Where `digits` rounds it to: what must not look safer than it is goes to its safe side."""

    def __init__(self, value: float, low: float | None = None, high: float | None = None) -> None:
        self.value = value
        self.low = low
        self.high = high

    def __repr__(self) -> str:
        interval = "" if self.low is None else f", {self.low!r}, {self.high!r}"
        return f"{type(self).__name__}({self.value!r}{interval})"

    @classmethod
    def around(cls, value: float, half_width: float) -> Self:
        """A value with a symmetric interval, cut to what there can be; none where it is nothing but rounding."""
        if not half_width > _ROUNDING * abs(value):
            return cls(value)
        low, high = value - half_width, value + half_width
        if low < cls.least:
            low = min(value, cls.least)
        if high > cls.most:
            high = max(value, cls.most)
        return cls(value, low, high)

    @classmethod
    def spanning(cls, told: tuple[float, float, float]) -> Self:
        """A value with the ends of its interval; none where it is nothing but rounding."""
        value, low, high = told
        return cls(value, low, high) if high - low > _ROUNDING * abs(value) else cls(value)


FIRST_SOLID_GUARD = (
    "Its interval is a guard, wider than 95 %: the limits of the freezing point and of the strength both count in full."
)
"""Said of the interval of every temperature at which a first solid forms."""


class MassFigure(Told):
    """A mass."""

    __slots__ = ()
    kind = units.MASS


class ScaleMassFigure(MassFigure):
    """A mass on the steps of a scale; `digits` leaves it as it is, since another would not be what is weighed."""

    __slots__ = ()
    rounds = "never"


class LeastMassFigure(Told):
    """A mass of which less would not do; `digits` rounds it up, so that it stays enough."""

    __slots__ = ()
    kind = units.MASS
    rounds = "up"


class MassChangeFigure(Told):
    """A change of mass; negative where there is less."""

    __slots__ = ()
    kind = units.MASS_CHANGE
    least = -inf


class VolumeFigure(Told):
    """A volume."""

    __slots__ = ()
    kind = units.VOLUME


class VolumeChangeFigure(Told):
    """By how much a volume changes; negative where it gets less."""

    __slots__ = ()
    kind = units.VOLUME
    least = -inf


class TemperatureFigure(Told):
    """A temperature."""

    __slots__ = ()
    kind = units.TEMPERATURE
    least = -273.15


class HighestTemperatureFigure(Told):
    """A temperature that something may have at most; `digits` rounds it down, so that it stays cold enough."""

    __slots__ = ()
    kind = units.TEMPERATURE
    least = -273.15
    rounds = "down"


class MarginFigure(Told):
    """How far a temperature stays below its limit; `digits` rounds it down, so that it never looks wider."""

    __slots__ = ()
    kind = units.TEMPERATURE_DIFFERENCE
    least = -inf
    rounds = "down"


class TemperatureRiseFigure(Told):
    """By how much something gets warmer; negative where it gets colder."""

    __slots__ = ()
    kind = units.TEMPERATURE_DIFFERENCE
    least = -inf


class EnergyFigure(Told):
    """An amount of heat."""

    __slots__ = ()
    kind = units.ENERGY
    least = -inf


class LeastEnergyFigure(Told):
    """An amount of heat of which less would not do; `digits` rounds it up, so that it stays enough."""

    __slots__ = ()
    kind = units.ENERGY
    least = -inf
    rounds = "up"


class DurationFigure(Told):
    """A length of time."""

    __slots__ = ()
    kind = units.TIME


class PowerFigure(Told):
    """A power."""

    __slots__ = ()
    kind = units.POWER
    least = -inf


class HeatLossFigure(Told):
    """Heat lost in a time for each kelvin above the surroundings."""

    __slots__ = ()
    kind = units.HEAT_LOSS


class DensityFigure(Told):
    """A density."""

    __slots__ = ()
    kind = units.DENSITY


class MolarityFigure(Told):
    """Amount of hydroxide per volume of solution."""

    __slots__ = ()
    kind = units.MOLARITY


class MolalityFigure(Told):
    """Amount of hydroxide per mass of water."""

    __slots__ = ()
    kind = units.MOLALITY


class MassConcentrationFigure(Told):
    """Mass of hydroxide per volume of solution."""

    __slots__ = ()
    kind = units.MASS_CONCENTRATION


class SaponificationValueFigure(Told):
    """Mass of KOH that a mass of fat takes."""

    __slots__ = ()
    kind = units.SAPONIFICATION_VALUE


class IodineValueFigure(Told):
    """Mass of iodine that a mass of fat takes up."""

    __slots__ = ()
    kind = units.IODINE_VALUE


class FractionFigure(Told):
    """A part of a whole."""

    __slots__ = ()
    kind = units.FRACTION
    most = 1.0


class RatioFigure(Told):
    """A ratio of masses."""

    __slots__ = ()
    kind = units.RATIO


class CountFigure(Told):
    """How many of something; `digits` leaves it as it is."""

    __slots__ = ()
    kind = units.COUNT
    rounds = "never"


class DegreesFigure(Told):
    """Degrees of a hydrometer's scale."""

    __slots__ = ()
    kind = units.DEGREES


class HeatCapacityFigure(Told):
    """Heat taken up by a mass for each kelvin."""

    __slots__ = ()
    kind = units.HEAT_CAPACITY


class ViscosityFigure(Told):
    """Dynamic viscosity."""

    __slots__ = ()
    kind = units.VISCOSITY


class PressureFigure(Told):
    """A pressure."""

    __slots__ = ()
    kind = units.PRESSURE


class Shown(Struct, omit_defaults=True, gc=False):
    """A number with its unit, as it is answered; it holds nothing that could hold it."""

    value: float
    unit: str
    low: float | UnsetType = UNSET
    high: float | UnsetType = UNSET


class NotFinite(ArithmeticError):  # noqa: N818 - says what the number is
    """A number about to leave the service is not finite."""


def figure(told: Told, unit: Unit, digits: int | None = None) -> Shown:
    """A quantity of an answer in one unit.

    Raises:
        NotFinite: a number is NaN or infinite; it must not leave the service as null.
    """
    # Runs for every number of an answer: Unit.from_si three times over would be half of its time.
    symbol, scale, per_si, divides, zero = unit
    value, low, high = told.value, told.low, told.high
    value = (value * per_si if divides else value / scale) + zero
    if low is None or high is None:
        if not isfinite(value):
            raise NotFinite(repr(told))
        if digits is not None:
            value = _rounded(value, digits, told.rounds)
        return Shown(value, symbol)
    low = (low * per_si if divides else low / scale) + zero
    high = (high * per_si if divides else high / scale) + zero
    if not (isfinite(value) and isfinite(low) and isfinite(high)):
        raise NotFinite(repr(told))
    if digits is not None:
        value = _rounded(value, digits, told.rounds)
        # An interval is rounded outwards, so that it never shrinks.
        low, high = _directed(low, digits, ROUND_FLOOR), _directed(high, digits, ROUND_CEILING)
    return Shown(value, symbol, low, high)


def significant(number: float, digits: int) -> float:
    """A number rounded to significant digits."""
    return float(f"{number:.{digits}g}")


def _rounded(number: float, digits: int, rounds: Rounding) -> float:
    """A number rounded to significant digits, to where its kind of figure is rounded."""
    if rounds == "nearest":
        return significant(number, digits)
    if rounds == "never":
        return number
    return _directed(number, digits, ROUND_FLOOR if rounds == "down" else ROUND_CEILING)


def _directed(number: float, digits: int, rounding: str) -> float:
    """A number rounded to significant digits in one direction."""
    return float(Context(prec=digits, rounding=rounding).create_decimal(repr(number)))
