"""Asks what another calculation knows, and tells its faults and assumptions where this request has their members."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Final

import msgspec
from msgspec import UNSET

from service.calculations.shared.cautions import CautionCode
from service.calculations.shared.faults import Fault, Refusal
from service.calculations.shared.notes import Notes

Places = Sequence[tuple[str, str]]
"""Pointers of the calculation that is asked, and those of the request; the first that fits is taken."""

RECIPE: Final[Places] = (("/stocks", "/stocks"), ("", "/recipe"))
"""What belongs to the recipe, all but the stocks."""


def moved(pointer: str, places: Places) -> str:
    """A pointer as the request has it.

    Args:
        pointer: as the calculation that is asked has it.
        places: where what lies in the request.
    """
    for old, new in places:
        if pointer == old or pointer.startswith(f"{old}/"):
            return new + pointer[len(old) :]
    return pointer


@contextmanager
def within(notes: Notes, places: Places) -> Iterator[None]:
    """Move what is noted inside to where the request has it, refusals included.

    Args:
        notes: of the request.
        places: where what lies in the request.

    Raises:
        Refusal: what is asked inside refuses.
    """
    faults, assumed = len(notes.faults), len(notes.assumed)
    try:
        yield
    except Refusal:
        _move(notes, faults, assumed, places)
        raise Refusal(422, notes.faults, notes.untold) from None
    _move(notes, faults, assumed, places)


def _move(notes: Notes, faults: int, assumed: int, places: Places) -> None:
    notes.faults[faults:] = [_fault(one, places) for one in notes.faults[faults:]]
    notes.assumed[assumed:] = [
        msgspec.structs.replace(one, pointer=moved(one.pointer, places)) for one in notes.assumed[assumed:]
    ]


def _fault(one: Fault, places: Places) -> Fault:
    return one if one.pointer is UNSET else msgspec.structs.replace(one, pointer=moved(one.pointer, places))


def take_over(
    told: Notes,
    notes: Notes,
    places: Places,
    *,
    cautions: frozenset[CautionCode] | None = None,
    assumed: Sequence[str] = (),
) -> None:
    """Take over what another calculation noted; its faults too.

    Args:
        told: its notes.
        notes: of the request.
        places: where what lies in the request.
        cautions: codes that are told on; None for all.
        assumed: pointers, as the other calculation has them, whose assumptions are told on, with all below them.
    """
    notes.faults += [_fault(one, places) for one in told.faults]
    notes.untold += told.untold
    notes.tell(*(one for one in told.cautions if cautions is None or one.code in cautions))
    for one in told.assumed:
        if any(one.pointer == at or one.pointer.startswith(f"{at}/") for at in assumed):
            notes.assume(moved(one.pointer, places), one.value, one.why)
    if notes.explain:
        notes.steps += told.steps
