"""What is taken for a batch where its request leaves it out."""

from typing import Final

from service.calculations.shared.given import PlainMass, Superfat
from service.calculations.shared.notes import Notes

USUAL_SUPERFAT: Final = 0.05


def superfat_or_usual(given: Superfat | None, at: str, notes: Notes) -> float:
    """A superfat as it was given, or the usual one.

    Args:
        given: of the request.
        at: its pointer.
        notes: where the assumption goes.
    """
    if given is not None:
        return given.value
    notes.assume(at, "5 %", "usual in cold process, 3 to 8 % (common practice)")
    return USUAL_SUPERFAT


def division_or_none(given: PlainMass | None, notes: Notes) -> float:
    """Step of a scale [kg] as it was given, or 0 for a scale without steps.

    Args:
        given: of the request, at `/scale_division`.
        notes: where the assumption goes.
    """
    if given is not None:
        return given.value
    notes.assume("/scale_division", "a scale without steps", "masses are taken as they are given")
    return 0.0
