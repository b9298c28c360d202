"""Examples of problems, for their pages and for the contract: where faults belong to one, really answered ones."""

from typing import Any, Final

import msgspec

from service.calculations.registry import calculations
from service.calculations.shared.faults import Refusal
from service.http.addresses import BASE
from service.http.calculation_query import read_wishes
from service.http.problems import INVALID_REQUEST, KINDS, NOT_SENSIBLE, ProblemKind, Trouble, refused

_ASKED: Final = "saponification"
_FAULTY: Final[dict[ProblemKind, tuple[bytes, bytes]]] = {
    INVALID_REQUEST: (b"unit=us", b'{"fats": [{"fat": "olive-oil", "mass": 170.1}]}'),
    NOT_SENSIBLE: (b"", b'{"fats": [{"fat": "olive", "mass": "1 kg"}]}'),
}
"""Query and body of a request that is refused so."""


def example_problems() -> dict[ProblemKind, Any]:
    """A document of every kind of problem."""
    return {kind: msgspec.json.decode(_trouble(kind).document(BASE + _ASKED)) for kind in KINDS.values()}


def _trouble(kind: ProblemKind) -> Trouble:
    if kind not in _FAULTY:
        return Trouble(kind, kind.example)
    query, body = _FAULTY[kind]
    _, faults = read_wishes(query)
    try:
        calculations()[_ASKED].run(body)
    except Refusal as refusal:
        return refused(Refusal(400 if faults else refusal.status, (*faults, *refusal.faults)))
    raise RuntimeError(f"{body!r} is to be refused")  # its example would be none
