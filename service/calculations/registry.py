"""The calculations there are: each module registers itself once, and all ways to call it come from here.

From one registration come the POST route, the offline command, the contract and the fuzz target.
"""

import pkgutil
from collections.abc import Callable
from functools import cache
from importlib import import_module
from typing import Any, Final, Generic, NamedTuple, TypeVar

from service.calculations.shared.cautions import Caution
from service.calculations.shared.decoding import decoder
from service.calculations.shared.messages import Answer, Request
from service.calculations.shared.notes import Notes
from service.calculations.shared.standing_cautions import STANDING
from service.reference import reference_data

Asked = TypeVar("Asked", bound=Request)
Told = TypeVar("Told", bound=Answer)


LARGEST_BODY: Final = 1 << 20
"""Bytes that a request may have where its calculation says nothing else: 1 MiB."""


class Example(NamedTuple):
    """A named request of the contract; its answer is computed and stored with it."""

    name: str
    summary: str
    request: dict[str, Any]
    source: str = ""
    """Where its figures are published, and which of the answer's are compared; empty for what is invented."""


class Link(NamedTuple):
    """How an answer leads to the next request."""

    name: str
    to: str
    """Name of the next calculation."""
    description: str
    request: dict[str, Any]
    """The next request; values may be runtime expressions of OpenAPI."""


class Calculation(Generic[Asked, Told]):
    """A calculation a caller may ask for.

    Attributes:
        name: its path below /v1/.
        summary: what it gives, in a line.
        description: what it does and means, for the contract.
        request: struct of the request.
        answer: struct of the answer.
        calculate: the calculation itself.
        examples: named requests of the contract, invented or published.
        links: what an answer leads to.
        largest_body: bytes that a request may have.
    """

    def __init__(
        self,
        *,
        name: str,
        summary: str,
        description: str,
        request: type[Asked],
        answer: type[Told],
        calculate: Callable[[Asked, Notes], Told],
        examples: tuple[Example, ...],
        links: tuple[Link, ...] = (),
        largest_body: int = LARGEST_BODY,
    ) -> None:
        self.name = name
        self.summary = summary
        self.description = description
        self.request = request
        self.answer = answer
        self.calculate = calculate
        self.examples = examples
        self.links = links
        self.largest_body = largest_body
        self._decode = decoder(request)
        self._data_version = reference_data().version

    def run(self, body: bytes, *, explain: bool = False) -> Told:
        """Calculate the answer to a request's bytes.

        Raises:
            Refusal: 400 or 422, with every fault found.
        """
        request = self._decode(body)
        notes = Notes(explain=explain)
        answer = self.calculate(request, notes)
        if request.reference is not None:
            answer.reference = request.reference
        notes.cautions.sort(key=gravity)
        answer.cautions = notes.cautions
        answer.assumed = notes.assumed
        answer.data_version = self._data_version
        if explain:
            answer.steps = notes.steps
        return answer


_GRAVITY: Final = {"danger": 0, "caution": 2, "note": 4}


def gravity(one: Caution) -> int:
    """Order of the cautions: the gravest first; then what this request calls for.

    Who reads the same sentences first each day stops before the one that is new.
    """
    return _GRAVITY[one.severity] + (one.code in STANDING)


@cache
def calculations() -> dict[str, Calculation[Any, Any]]:
    """Every calculation by its name: the CALCULATION of each module of this package's packages."""
    package = import_module("service.calculations")
    found = {}
    modules = (info.name for info in pkgutil.walk_packages(package.__path__, f"{package.__name__}."))
    for module in sorted(modules, key=lambda name: name.rpartition(".")[2]):
        calculation = getattr(import_module(module), "CALCULATION", None)
        if calculation is not None:
            found[calculation.name] = calculation
    return found
