"""Masses rounded to the steps of a scale so that totals hold: the largest-remainder method, in whole steps."""

from collections.abc import Hashable, Sequence
from math import floor
from typing import Final

NOISE: Final = 1e-12
"""Share of a number of steps that is noise of its reckoning: it decides neither what is whole nor where halves go."""


def weigh(masses: Sequence[float], division: float, groups: Sequence[Hashable], names: Sequence[str]) -> list[float]:
    """Masses that a scale can show [kg].

    The total of each group is rounded to the nearest step, halves up, and each of its masses to the step below or
    above, those with the largest remainders up; among equals the heavier, then by name, so that the order of the list
    decides nothing. What is whole already stays.

    Args:
        masses: exact masses, at least 0 [kg].
        division: step of the scale, above 0 [kg].
        groups: what each mass belongs to; as many as masses.
        names: what each mass is of; as many as masses.
    """
    steps = [mass / division for mass in masses]
    whole = [_floor(one) for one in steps]
    for group in dict.fromkeys(groups):
        places = [place for place, one in enumerate(groups) if one == group]
        left = _floor(sum([steps[place] for place in places]) + 0.5) - sum([whole[place] for place in places])
        remainders = sorted(places, key=lambda at: (round(whole[at] - steps[at], 9), -whole[at], names[at]))
        for place in remainders[:left]:
            whole[place] += 1
    return [one * division for one in whole]


def _floor(steps: float) -> int:
    return floor(steps + NOISE * max(1.0, steps))
