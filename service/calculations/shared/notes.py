"""What a calculation writes down beside its numbers: cautions, what it assumed, faults, and its steps."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Context, Decimal
from typing import Annotated, Final, Literal

from msgspec import Meta, Struct

from service.calculations.shared import units
from service.calculations.shared.cautions import Caution, CautionCode, Severity, caution
from service.calculations.shared.faults import MOST_FAULTS, Fault, FaultCode, Refusal
from service.calculations.shared.identifiers import ShelfName, unknown
from service.calculations.shared.units import Unit


class Worked:
    """A number in a step, in the unit its expression is written in."""

    __slots__ = ("unit", "value")

    def __init__(self, value: float, unit: str) -> None:
        self.value = value
        self.unit = unit


class Step(Struct, frozen=True):
    """One step of a calculation, with all that is needed to work it out anew."""

    name: Annotated[str, Meta(description="What the step finds.", examples=["alkali for the fats"])]
    expression: Annotated[
        str, Meta(description="The equation, in the names of the inputs.", examples=["mass * fraction"])
    ]
    inputs: Annotated[dict[str, Worked], Meta(description="The numbers that go in, by name.")]
    result: Annotated[Worked, Meta(description="The number that comes out.")]
    source: Annotated[str, Meta(description="Where the equation or its figures come from.")]


class Assumption(Struct, frozen=True):
    """A default that was used."""

    pointer: Annotated[str, Meta(description="The member that was not given (RFC 6901).", examples=["/superfat"])]
    value: Annotated[str, Meta(description="What was taken instead.", examples=["5 %"])]
    why: Annotated[str, Meta(description="Why that was taken.", examples=["usual in cold process"])]


class Notes:
    """Collected while one request is calculated."""

    __slots__ = ("_said", "assumed", "cautions", "explain", "faults", "steps", "untold")

    def __init__(self, *, explain: bool = False) -> None:
        self.explain: Final = explain
        self.cautions: list[Caution] = []
        self.assumed: list[Assumption] = []
        self.faults: list[Fault] = []
        self.steps: list[Step] = []
        self._said: set[str] = set()
        self.untold = 0

    def caution(
        self, code: CautionCode, message: str, severity: Severity | None = None, basis: str | None = None
    ) -> None:
        """Add a caution; the same one twice is said once."""
        if message not in self._said:
            self._said.add(message)
            self.cautions.append(caution(code, message, severity, basis))

    def tell(self, *cautions: Caution) -> None:
        """Add cautions that were made before; the same one twice is said once."""
        for one in cautions:
            if one.message not in self._said:
                self._said.add(one.message)
                self.cautions.append(one)

    def assume(self, pointer: str, value: str, why: str) -> None:
        """Say that a default was used."""
        self.assumed.append(Assumption(pointer, value, why))

    def fault(self, pointer: str, code: FaultCode, detail: str, mend: str) -> None:
        """Note a fault that only chemistry, physics or the catalogue can see."""
        self.faults.append(Fault(code, detail, mend, pointer))

    def unknown(self, shelf: ShelfName, word: str, pointer: str) -> None:
        """Note an identifier that the catalogue does not know; looking for near ones takes time, so not for ever."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(unknown(shelf, word).at(pointer))
        else:
            self.untold += 1

    def stop_at_faults(self) -> None:
        """Refuse the request with all faults noted so far.

        Raises:
            Refusal: 422, where there is any.
        """
        if self.faults:
            raise Refusal(422, self.faults, self.untold)

    def refuse(self, pointer: str, code: FaultCode, detail: str, mend: str) -> Refusal:
        """The refusal to raise for a fault that leaves nothing to calculate."""
        self.fault(pointer, code, detail, mend)
        return Refusal(422, self.faults, self.untold)

    def step(
        self,
        name: str,
        expression: str,
        inputs: dict[str, tuple[float, str]],
        result: tuple[float, str],
        source: str,
    ) -> None:
        """Write down a step; call it only where `explain` is set, since building its text costs time."""
        worked = {key: Worked(*value) for key, value in inputs.items()}
        self.steps.append(Step(name, expression, worked, Worked(*result), source))


_G, _KG, _OZ, _LB = (units.MASS.units[symbol] for symbol in ("g", "kg", "oz", "lb"))
_ML, _L, _FL_OZ, _GAL = (units.VOLUME.units[symbol] for symbol in ("mL", "L", "fl_oz", "gal"))

Rounded = Literal["near", "up", "down"]
"""To the nearest, or to a side that keeps a promise: what is needed is rounded up, what there is down."""


def percent(share: float, decimals: int = 1) -> str:
    """A share for a message, as a person writes it: 5 %, 49.25 %."""
    text = f"{share * 100:.{decimals}f}"
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} %"


def points(apart: float, decimals: int = 2) -> str:
    """By how much two shares differ, for a message: 0.35 percentage points, as against 0.35 % of one of them.

    Args:
        apart: the difference [1].
        decimals: at most so many; a difference that would come out as nothing is told as less than the last of them.
    """
    number = percent(apart, decimals).removesuffix(" %")
    if float(number) == 0 and apart > 0:
        return f"less than {10.0**-decimals:g} percentage points"
    return f"{number} percentage {'point' if number == '1' else 'points'}"


def missed(shares: float) -> str:
    """By how much shares miss the whole, as the end of a sentence."""
    gap = 1 - shares
    return f": {abs(gap) * 100:.6g} % {'are missing' if gap > 0 else 'are too much'}"


def weight(mass: float, rounded: Rounded = "near", digits: int | None = None) -> str:
    """A mass for a message, in both systems: 117 g (4.13 oz), 2.5 kg (5.512 lb).

    Args:
        mass: the mass [kg].
        rounded: how each of the two is rounded.
        digits: significant digits of each; three below a kilogram and four from there on where it is not given.
    """
    heavy = mass >= 1
    return _both(
        mass,
        _KG if heavy else _G,
        (_LB, "lb") if mass >= _LB.to_si(1.0) else (_OZ, "oz"),
        digits or (4 if heavy else 3),
        rounded,
    )


def at_least(mass: float) -> str:
    """A mass for a message that tells how much more is needed: three digits, rounded up in both systems.

    Args:
        mass: the mass [kg].
    """
    return weight(mass, "up", 3)


def at_most(mass: float) -> str:
    """A mass for a message that tells how much there is, and no more: rounded down in both systems.

    Args:
        mass: the mass [kg].
    """
    return weight(mass, "down")


def grams(mass: float) -> str:
    """A mass for a message in grams and ounces, with the digits that a balance of masses needs.

    Args:
        mass: the mass [kg].
    """
    return _both(mass, _G, (_OZ, "oz"), 6, "near")


def kilograms(mass: float) -> str:
    """A mass as a request could give it: what was assumed is told so that it can be sent.

    Args:
        mass: the mass [kg].
    """
    return f"{_figure(mass, 4, 'near')} {_KG.symbol}"


def litres(volume: float, rounded: Rounded = "near") -> str:
    """A volume for a message, in both systems, to four digits: 20 L (5.283 US gal), 250 mL (8.454 US fl oz).

    Args:
        volume: the volume [m3].
        rounded: how each of the two is rounded.
    """
    us = (_GAL, "US gal") if volume >= _GAL.to_si(1.0) else (_FL_OZ, "US fl oz")
    return _both(volume, _L if volume >= _L.to_si(1.0) else _ML, us, 4, rounded)


def _both(value: float, metric: Unit, us: tuple[Unit, str], digits: int, rounded: Rounded) -> str:
    """A quantity [SI] in a metric unit, and in a US one with the name it has in messages."""
    unit, name = us
    first, second = (_figure(one.from_si(value), digits, rounded) for one in (metric, unit))
    return f"{first} {metric.symbol} ({second} {name})"


def _figure(number: float, digits: int, rounded: Rounded) -> str:
    """A number to so many significant digits, without an exponent."""
    if rounded == "near":
        told = f"{number:.{digits}g}"
        return f"{Decimal(told):f}" if "e" in told else told
    # Twelve digits first: the last bits of a float are no reason to round 0.1 up to 0.101.
    context = Context(prec=digits, rounding=ROUND_CEILING if rounded == "up" else ROUND_FLOOR)
    return f"{context.create_decimal(f'{number:.12g}').normalize():f}"
