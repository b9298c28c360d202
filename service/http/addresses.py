"""Addresses: below which path the calculations are, and which is meant where there is nothing."""

import difflib
import posixpath
import re
from collections.abc import Sequence
from typing import Final

from service.http.problems import NOT_FOUND, Trouble

BASE: Final = "/v1/"
"""Path below which calculations and catalogue are; a breaking change would get another."""
BULK: Final = "bulk/"
"""Path below which calculations take many items at once, itself below BASE."""
VALUES: Final = "values/"
"""Path below which single values are, itself below BASE."""

_LONGEST: Final = 120
"""Characters of a path that are compared; what is longer is like none there is."""


def nothing_at(path: str, known: Sequence[str]) -> Trouble:
    """The trouble of a request for a path where there is nothing.

    Args:
        path: the path, decoded.
        known: the paths there are.
    """
    said = "There is nothing at this path"
    tidy = re.sub("/{2,}", "/", posixpath.normpath(path[:_LONGEST]))
    if tidy in known and len(path) <= _LONGEST:
        slash = "//" in path or path.endswith("/")
        what = "it has a slash too many" if slash else "write it without dots"
        return Trouble(NOT_FOUND, f"{said}; {what}. Use {tidy}.")
    close = _close(tidy, known)
    if close:
        return Trouble(NOT_FOUND, f"{said}. Did you mean {' or '.join(close)}?")
    return Trouble(NOT_FOUND, f"{said}. The start page, /, lists what there is; /docs shows how to ask.")


def _close(path: str, known: Sequence[str]) -> list[str]:
    """Paths that differ in capitals or in what stands before the last part, else those spelt alike.

    Each calculation has two; the one for many items is meant only where a path says so.
    """
    lower = path.lower()
    many = BULK.strip("/") in lower
    known = [one for one in known if one.startswith(BASE + BULK) == many]
    same = [one for one in known if one == lower]
    last = lower.rpartition("/")[2]
    same = same or [one for one in known if last and one.rpartition("/")[2] == last]
    return same[:2] or difflib.get_close_matches(lower, known, n=2, cutoff=0.75)
