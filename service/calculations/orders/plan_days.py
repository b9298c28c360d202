"""On which day each batch is made: in their order, as early as batches and moulds of a day allow."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple


class Job(NamedTuple):
    """A batch that wants a day."""

    sku: str
    mould_set: str | None
    after: tuple[str, ...]
    """Articles that must be ready before."""
    ready_after: int
    """Days from its day to when its bars are ready."""


class Moulds(NamedTuple):
    """Sets of moulds of one kind."""

    sets: int
    days_filled: int


def days_of(jobs: Sequence[Job], per_day: int | None, moulds: Mapping[str, Moulds]) -> list[int]:
    """The day of each batch, counted from 1.

    Each takes the first day on which there is room for it, so that one that waits for its moulds does not hold up
    those after it.

    Args:
        jobs: in the order in which they may choose.
        per_day: batches that fit into a day; None for as many as there are.
        moulds: the sets of moulds that are scarce, by name.
    """
    filled: dict[int, int] = {}
    first_with_room = 1
    free: dict[str, list[int]] = {name: [1] * one.sets for name, one in moulds.items()}
    ready: dict[str, int] = {}
    found = []
    for job in jobs:
        day = max((ready.get(sku, 1) for sku in job.after), default=1)
        sets = None if job.mould_set is None else free.get(job.mould_set)
        if sets is not None:
            day = max(day, min(sets))
        if per_day is not None:
            first_with_room = _room(first_with_room, len(jobs), filled, per_day)
            day = _room(max(day, first_with_room), len(jobs), filled, per_day)
        filled[day] = filled.get(day, 0) + 1
        if sets is not None and job.mould_set is not None:
            sets[sets.index(min(sets))] = day + moulds[job.mould_set].days_filled
        ready[job.sku] = max(ready.get(job.sku, day), day + job.ready_after)
        found.append(day)
    return found


def _room(first: int, batches: int, filled: Mapping[int, int], per_day: int) -> int:
    """The first day from one on that takes one more of all the batches: before it is placed they fill fewer days."""
    return next(day for day in range(first, first + batches) if filled.get(day, 0) < per_day)
