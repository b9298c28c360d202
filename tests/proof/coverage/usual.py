"""What intervals would be by the usual rule, on every input alone: to tell whether another width comes of a bound.

The draws of a study are repeated with every draw at its middle, and then with one after the other at the ends of its
95 %. What a member changes by is what that draw leaves open of it, to each side its own; put together by the law of
propagation (JCGM 100:2008, 5.1.2), they are the interval that a calculation would tell that bounds nothing.
"""

from collections import defaultdict
from typing import Any, Final, Literal

from service.calculations.shared.faults import Refusal
from service.calculations.shared.reading import NORMAL_95
from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import (
    COVERAGE,
    Combined,
    Part,
    combine,
    coverage_half_width,
    normal,
    rectangular,
    triangular,
)
from tests.calculations.asking import Answer
from tests.proof.coverage.drawing import draw
from tests.proof.coverage.engine import NO_END, Draw, Ends, Members, Study, figures, members, most_lost
from tests.proof.coverage.world import World, drawn

Kind = Literal["normal", "uniform", "triangular"]
WITHIN: Final[dict[Kind, float]] = {
    "normal": NORMAL_95,
    "uniform": COVERAGE,
    "triangular": 1.0 - (1.0 - COVERAGE) ** 0.5,
}
"""What 95 % lie within: standard deviations of a normal, half-widths of a rectangle and of a triangle."""


class Middle:
    """Draws that are all at their middle, but for one."""

    def __init__(self, moved: int = -1, side: float = 0.0) -> None:
        """Draws with one of them at an end of its 95 %.

        Args:
            moved: its index; -1 for none.
            side: 1 for its upper end, -1 for the lower one.
        """
        self.kinds: list[Kind] = []
        self._moved, self._side = moved, side

    def _at(self, kind: Kind, middle: float, scale: float) -> float:
        off = self._side * WITHIN[kind] * scale if len(self.kinds) == self._moved else 0.0
        self.kinds.append(kind)
        return middle + off

    def normal(self, loc: float = 0.0, scale: float = 1.0) -> float:
        """Of a normal."""
        return self._at("normal", loc, scale)

    def uniform(self, low: float = 0.0, high: float = 1.0) -> float:
        """Of a rectangle."""
        return self._at("uniform", (low + high) / 2, (high - low) / 2)

    def triangular(self, left: float, mode: float, right: float) -> float:
        """Of a triangle."""
        return self._at("triangular", mode, (right - left) / 2)


def _part(kind: Kind, change: float) -> Part:
    """What a draw leaves open of a member that changes by so much at the end of its 95 %."""
    scale = change / WITHIN[kind]
    return normal(scale) if kind == "normal" else rectangular(scale) if kind == "uniform" else triangular(scale)


def usual(study: Study, request: Answer, answer: Any) -> dict[str, Ends]:
    """The intervals by the usual rule, by pointer; without members that the middle of all draws does not tell.

    Args:
        study: how it is drawn.
        request: the request as it was said.
        answer: what was answered to it.
    """
    nominal = dict(members(answer))

    def at(random: Middle) -> Members:
        with drawn(World(random, acids=study.acids)):
            try:
                return figures(study, Draw(draw(request, random), request, nominal, answer, random))
            except (Refusal, OutOfRange):
                return {}

    all_middle = Middle()
    middle = at(all_middle)
    parts: dict[tuple[str, float], list[tuple[float, Part | Combined]]] = defaultdict(list)
    for index, kind in enumerate(all_middle.kinds):
        ends = [at(Middle(index, side)) for side in (1.0, -1.0)]
        for name, one in middle.items():
            changes = [end[name].value - one.value for end in ends if name in end]
            if len(changes) == 1:  # where the other end cannot be told, it is taken to do the opposite
                changes.append(-changes[0])
            for side in (1.0, -1.0):
                change = max((side * change for change in changes), default=0.0)
                if change > 0.0:
                    parts[name, side].append((1.0, _part(kind, change)))
    found: dict[str, Ends] = {}
    for name, one in middle.items():
        bounded = name.endswith(study.bounded or NO_END)
        lost = most_lost(one) if bounded else 0.0
        reach = {
            1.0: one.value if one.high is None else one.high,
            -1.0: one.value if one.low is None else one.low + lost,
        }
        off = {}
        for side, end in reach.items():
            own = _part("normal", abs(end - one.value)), rectangular(lost / 2)
            off[side] = coverage_half_width(combine([*parts[name, side], (1.0, own[0]), (1.0, own[1])]))
        found[name] = (one.value - lost / 2 - off[-1.0], one.value - lost / 2 + off[1.0])
    return found
