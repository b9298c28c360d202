"""What a calculation writes down beside its numbers: cautions, what it assumed, faults, and its steps."""

from decimal import ROUND_CEILING, Context, Decimal
from typing import Annotated, Final

from msgspec import Meta, Struct

from service.calculations.shared.cautions import Caution, CautionCode, Severity, caution
from service.calculations.shared.faults import MOST_FAULTS, Fault, FaultCode, Refusal
from service.calculations.shared.identifiers import ShelfName, unknown


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


def weight(mass: float) -> str:
    """A mass for a message: grams, or kilograms from one upwards.

    Args:
        mass: the mass [kg].
    """
    number, unit = (f"{mass:.4g}", "kg") if mass >= 1 else (f"{mass * 1000:.3g}", "g")
    return f"{Decimal(number):f} {unit}"


def at_least(mass: float) -> str:
    """A mass for a message that tells how much more is needed: three digits, rounded up.

    Args:
        mass: the mass [kg].
    """
    return weight(float(Context(prec=3, rounding=ROUND_CEILING).create_decimal(mass)))


def grams(mass: float) -> str:
    """A mass for a message in grams, with the digits that a balance of masses needs.

    Args:
        mass: the mass [kg].
    """
    return f"{Decimal(f'{mass * 1000:.6g}'):f} g"
