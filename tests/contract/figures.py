"""Answers compared figure by figure: which must be alike, which twice as much, and how near."""

import math
from collections.abc import Iterator
from typing import Any, Final, NamedTuple

NOISE: Final = 1e-9
"""What rounding may add up to: of the largest figure of an answer's masses, volumes and heats, since those are
differences of each other; of 1, or of the figure itself, for all else."""
NOISE_OF_ENDS: Final = 1e-6
"""The same for the ends of intervals: they come from differences over steps of a millionth, which blow rounding up. So
does a probability: it goes with a difference over its spread, which may be as small as a billionth of either."""
ENDS: Final = {"low", "high"}
PROBABILITY: Final = "free_alkali_probability"
EXTENSIVE: Final = ("g", "mL", "kJ")
"""Units of what there is twice as much of in twice the batch."""
PER_EXTENSIVE: Final = ("1/g", "1/mL")
"""Units of what there is half as much of in twice the batch: what a result changes by for each gram or millilitre."""
WORDS: Final = ("assumed", "cautions", "steps", "reference", "data_version")
"""Members that speak of the request; cautions are compared by their codes."""

Path = tuple[str | int, ...]


class Figure(NamedTuple):
    """A number of an answer with its unit; "" where it has none."""

    value: float
    unit: str


def figures(answer: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Every figure and every word of an answer with its place."""
    if isinstance(answer, list):
        for index, one in enumerate(answer):
            yield from figures(one, (*path, index))
    elif isinstance(answer, dict):
        unit = answer.get("unit") if "value" in answer else None
        for name, one in answer.items():
            if unit is not None and name != "unit":
                yield (*path, name), Figure(one, unit)
            elif path or name not in WORDS:
                yield from figures(one, (*path, name))
    elif isinstance(answer, (int, float)) and not isinstance(answer, bool):
        yield path, Figure(answer, "")
    else:
        yield path, answer


def codes(answer: Any) -> list[tuple[str, str]]:
    """Codes of an answer's cautions, with how grave they are."""
    return sorted({(one["code"], one["severity"]) for one in answer["cautions"]})


def differences(first: Any, second: Any, *, factor: float = 1.0, left_out: tuple[Path, ...] = ()) -> list[str]:
    """Where a second answer is not what the first makes expect.

    Args:
        first: an answer.
        second: an answer to a request that means the same, or some times as much.
        factor: how many times as much.
        left_out: places that are not compared.
    """
    here, there = dict(figures(first)), dict(figures(second))
    for path in left_out:
        here.pop(path, None)
        there.pop(path, None)
    found = [f"{_at(path)} is in one answer only" for path in here.keys() ^ there.keys()]
    largest = dict.fromkeys(EXTENSIVE, 0.0)
    for one in here.values():
        if isinstance(one, Figure) and one.unit in largest:
            largest[one.unit] = max(largest[one.unit], abs(one.value) * factor)
    for path in here.keys() & there.keys():
        one, other = here[path], there[path]
        if isinstance(one, Figure) and isinstance(other, Figure) and one.unit == other.unit:
            due = one.value * factor if one.unit in EXTENSIVE else one.value
            due = due / factor if one.unit in PER_EXTENSIVE else due
            noise = NOISE_OF_ENDS if path[-1] in ENDS or PROBABILITY in path else NOISE
            room = noise * largest.get(one.unit, max(1.0, abs(due)))
            if not math.isclose(other.value, due, rel_tol=0, abs_tol=room):
                found.append(f"{_at(path)}: {other.value!r} {other.unit}, and {due!r} is due")
        elif one != other:
            found.append(f"{_at(path)}: {other!r}, and {one!r} is due")
    if codes(first) != codes(second):
        found.append(f"other cautions: {set(codes(first)) ^ set(codes(second))}")
    return sorted(found)


def _at(path: Path) -> str:
    return "/" + "/".join(map(str, path))
