"""A single value: the parameters it takes, the calculation it asks with them, and the figure it picks of the answer.

A value reckons nothing itself. It writes the request that a caller of the calculation would write, so that both have
the same rules, the same faults and the same numbers.
"""

import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import inf, isfinite
from typing import Any, Final, Literal, NamedTuple

import msgspec

from service.calculations.registry import calculations
from service.calculations.shared.cautions import Caution
from service.calculations.shared.faults import Fault, Faulty, Refusal, near, quoted
from service.calculations.shared.given import (
    Density,
    Fraction,
    MassConcentration,
    Molality,
    Molarity,
    Ratio,
)
from service.calculations.shared.reading import Given
from service.calculations.shared.told import Told
from service.calculations.shared.units import NUMBER, Kind

MOST_FATS_TOLD: Final = 60
"""Fats of a list; the address of a cell has room for about as many."""
_PLAIN: Final = re.compile(NUMBER)


class FatList:
    """Marks a parameter that takes fats with their masses."""


class StrengthForm:
    """Marks a parameter that takes a strength in one of its forms."""


Takes = type[Given] | type[FatList] | type[StrengthForm] | tuple[str, ...]
"""What a parameter takes: a quantity, a list of fats, a strength, or one of some words."""


class Input(NamedTuple):
    """A parameter of a value."""

    name: str
    description: str
    example: str
    takes: Takes
    required: bool = False


Parameters = Mapping[str, str]
"""Parameters as they are written in the address, by name."""


class Found(NamedTuple):
    """A value, and what its calculation says of it."""

    told: Told
    cautions: Sequence[Caution]
    data_version: str


@dataclass(frozen=True, eq=False, kw_only=True)
class Value:
    """A single value; each is one of its own.

    Attributes:
        name: its path below /v1/values/.
        summary: what it gives, in a line.
        description: what it means, for the contract.
        inputs: the parameters it takes.
        calculation: name of the calculation that it asks.
        request: the request of that, from the parameters.
        pick: the figure of the answer; raises Faulty where the answer has none.
        beside: parameters that stand in place of others, and so are not in the example of the contract.
        kinds: of the figure; several where the parameters decide.
        places: pointers of the request, and the parameters that they come from; the first that fits is taken.
    """

    name: str
    summary: str
    description: str
    inputs: tuple[Input, ...]
    calculation: str
    request: Callable[[Parameters], dict[str, Any]]
    pick: Callable[[Any, Parameters], Told]
    kinds: tuple[Kind, ...]
    places: tuple[tuple[str, str], ...]
    beside: tuple[str, ...] = ()

    def find(self, given: Parameters) -> Found:
        """The value for some parameters.

        Args:
            given: as they are written; every name is one of the inputs.

        Raises:
            Refusal: 400 or 422, with every fault at its parameter.
        """
        missing = [one for one in self.inputs if one.required and not given.get(one.name, "").strip()]
        if missing:
            raise Refusal(400, [_missing(one) for one in missing])
        calculation = calculations()[self.calculation]
        try:
            answer = calculation.run(json.dumps(self.request(given)).encode())
        except Refusal as refusal:
            told = [self._at_parameter(one) for one in refusal.faults]
            raise Refusal(refusal.status, told, refusal.count - len(told)) from None
        except Faulty as faulty:
            # What holds between parameters no schema of one of them can say.
            status: Literal[400, 422] = 422 if faulty.code == "choose-one" else 400
            raise Refusal(status, [self._at_parameter(faulty.at(""))]) from None
        try:
            figure = self.pick(answer, given)
        except Faulty as faulty:
            raise Refusal(422, [self._at_parameter(faulty.at(""))]) from None
        return Found(figure, answer.cautions, answer.data_version)

    def _at_parameter(self, fault: Fault) -> Fault:
        """A fault of the request as one of the parameter that it comes from."""
        at = fault.pointer if isinstance(fault.pointer, str) else ""
        name = next((name for start, name in self.places if at == start or at.startswith(f"{start}/")), None)
        name = name or self.inputs[0].name
        return msgspec.structs.replace(fault, pointer=msgspec.UNSET, parameter=name)


def _missing(one: Input) -> Fault:
    return Fault("missing-member", f"{one.name} is missing", f"write {one.name}={one.example}", parameter=one.name)


def quantity(said: str, kind: type[Given]) -> str | float:
    """A quantity as a request has it: a plain number of a share or a ratio is a number there, all else is text.

    Args:
        said: as it is written in the address.
        kind: of the quantity.
    """
    text = said.strip()
    return _number(text) if kind.plain_number else text


def fats(said: str, at: str) -> list[dict[str, str]]:
    """Fats with their masses, as a request has them.

    Args:
        said: `olive-oil:500 g;coconut-oil:250 g`.
        at: pointer of the list in the request.

    Raises:
        Faulty: it cannot be read so.
    """
    found = []
    parts = [one for one in said.split(";") if one.strip()]
    if len(parts) > MOST_FATS_TOLD:
        raise Faulty("too-many", f"{len(parts)} fats are told", f"give {MOST_FATS_TOLD} at most", at)
    for part in parts:
        name, colon, mass = part.partition(":")
        if not colon or not name.strip() or not mass.strip():
            raise Faulty(
                "wrong-type",
                f"{quoted(part.strip())} is no fat with its mass",
                "write each as olive-oil:500 g, with semicolons between them",
                at,
            )
        found.append({"fat": name.strip(), "mass": mass.strip()})
    return found


FORMS: Final[dict[str, type[Given] | None]] = {
    "mass_fraction": Fraction,
    "water_ratio": Ratio,
    "mole_fraction": Fraction,
    "molality": Molality,
    "molarity": Molarity,
    "mass_concentration": MassConcentration,
    "density": Density,
    "degrees_baume": None,
    "degrees_twaddell": None,
    "oxide_fraction": Fraction,
}
"""Forms of a strength that an address takes, and the quantity of each; degrees are plain numbers."""


def strength(said: str, at: str) -> dict[str, Any]:
    """A strength as a request has it.

    Args:
        said: `50 %`, or a form and its quantity: `molality:25 mol/kg`, `degrees_baume:50`.
        at: pointer of the strength in the request.

    Raises:
        Faulty: there is no such form.
    """
    form, colon, rest = said.partition(":")
    form = form.strip()
    if not colon or _PLAIN.fullmatch(form):  # 1:1 is a ratio of masses, as stocks are mixed
        text = said.strip()
        return {"water_ratio" if colon else "mass_fraction": text if colon else _number(text)}
    if form not in FORMS:
        raise Faulty(
            "not-one-of",
            f"{quoted(form)} is no form of a strength{near(form, FORMS)}",
            f"write one of {', '.join(FORMS)} before the colon, or a mass fraction alone, as in 50 %",
            at,
        )
    kind, text = FORMS[form], rest.strip()
    return {form: _number(text) if kind is None or kind.plain_number else text}


def _number(text: str) -> str | float:
    """A plain number as a number; what is too large for one stays as it is, and is refused."""
    if text.isascii() and text.isdigit():
        return int(text)
    number = float(text) if _PLAIN.fullmatch(text) else inf
    return number if isfinite(number) else text
