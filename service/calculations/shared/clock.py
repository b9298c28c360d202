"""Times written as a clock shows them, where a length of time is due: what is meant, and how to write it."""

import re
from typing import Final, NamedTuple

from service.calculations.shared.faults import Faulty, quoted

_CLOCK: Final = re.compile(
    r"\s*(?:\d{4}-\d\d-\d\d[T ])?(\d{1,2})(?:([:.hH])(\d\d)(?::(\d\d)(?:\.\d+)?)?)?\s*"
    r"(?:([ap])\.?m\.?|(uhr|o'clock|z|[+-]\d\d:\d\d)|(h|hrs?|hours?|min|minutes?))?\s*",
    re.ASCII | re.IGNORECASE,
)
_LONGEST: Final = 60
"""Characters of a text that are looked at; what a clock shows is shorter."""
_NOON: Final = 12
_DAY: Final = 24
_SIXTY: Final = 60


class _Shown(NamedTuple):
    """What a clock shows."""

    first: int
    second: int
    third: int | None
    half: str
    """`a` or `p` of am and pm; else empty."""
    of_day: bool
    """Whether a word says that it is a time of day."""
    unit: str
    """`h` or `m`, where hours or minutes are told as the unit of the whole; else empty."""


def _shown(text: str) -> _Shown | None:
    match = _CLOCK.fullmatch(text) if len(text) <= _LONGEST else None
    if match is None:
        return None
    first, mark, second, third, half, word, unit = match.groups()
    spoken = half is not None or (word is not None and word[0] in "uUoO")
    if mark in {None, "."} and not spoken:
        return None  # a plain number
    shown = _Shown(
        int(first),
        int(second or 0),
        None if third is None else int(third),
        (half or "").lower(),
        half is not None or word is not None,
        "h" if mark and mark in "hH" else (unit or "")[:1].lower(),
    )
    if shown.second >= _SIXTY or (shown.third or 0) >= _SIXTY:
        return None
    if shown.half and not 1 <= shown.first <= _NOON:
        return None
    return None if shown.of_day and shown.first > _DAY else shown


def time_of_day(text: str) -> Faulty | None:
    """The fault of a time of day, such as 14:30, where a time counted from any start is due; None of other texts.

    Args:
        text: what was given.
    """
    shown = _shown(text)
    if shown is None:
        return None
    if shown.first >= _DAY and not shown.of_day:
        return hours_and_minutes(text)
    hours = shown.first
    if shown.half:
        hours = hours % _NOON + (_NOON if shown.half == "p" else 0)
    return Faulty(
        "unreadable-quantity",
        f"{quoted(text)} is a time of day, and a time counted from any start is due",
        f"write '{_minutes(hours, shown)} min', counted from midnight, and on past the next, or count from the first "
        "reading",
    )


def hours_and_minutes(text: str) -> Faulty | None:
    """The fault of a length of time written as 1:30, which may be hours or minutes; None of other texts.

    Args:
        text: what was given.
    """
    shown = _shown(text)
    if shown is None or not (shown.first or shown.second or shown.third or shown.of_day):
        return None
    if shown.of_day:
        return Faulty(
            "unreadable-quantity",
            f"{quoted(text)} is a time of day, and a length of time is due",
            "write how long it is, as in '90 min'",
        )
    by_hours, by_minutes = f"'{_minutes(shown.first, shown)} min'", f"'{shown.first * 60 + shown.second} s'"
    if shown.third is not None or shown.unit == "h":
        mend = f"write {by_hours}"
    elif shown.unit == "m":
        mend = f"write {by_minutes}"
    else:
        mend = f"write {by_hours} or {by_minutes}, as is meant"
    return Faulty("unreadable-quantity", f"{quoted(text)} is written as a clock shows it", mend)


def _minutes(hours: int, shown: _Shown) -> str:
    return f"{hours * 60 + shown.second + (shown.third or 0) / 60:.6g}"
