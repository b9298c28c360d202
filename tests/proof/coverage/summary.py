"""What many requests come to: for each member of an answer the mean coverage, and the least of a single request."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec
import numpy as np

from service.calculations.shared.faults import Refusal
from tests.calculations.asking import Answer
from tests.proof.coverage.causes import LOW, OVER, Cause, cause
from tests.proof.coverage.drawing import Maker
from tests.proof.coverage.engine import Study, Tried, asked, campaign, tried
from tests.proof.coverage.usual import usual

LEAST: Final = 0.94
MOST: Final = 0.97
"""Between these the mean coverage of a nominal 95 % is to lie."""
SIGMAS: Final = 4.0
"""How many standard deviations of its draws a single request may lie below 95 % before it is asked again."""
TIMES: Final = 10
"""How many times as many draws it then gets."""
FEW: Final = 10
"""Members that fewer requests had than this, and that lie outside, are tried with more requests."""
FRESH: Final = 40
FATTY_ACID: Final = re.compile(r"C\d+:\d")


def scatter(share: float, draws: float) -> float:
    """Standard deviation of a share that was counted in some draws [-]."""
    return float((share * (1.0 - share) / draws) ** 0.5)


def too_low(share: float, draws: int) -> bool:
    """Whether a single request lies farther below 95 % than chance brings it."""
    return share < 0.95 - SIGMAS * scatter(0.95, draws)


class Kept(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """How often the interval of a member holds what is true."""

    member: str
    """Its pointer; `*` for each of some."""
    requests: int
    """How many times it was tried; each of some counts."""
    mean: float
    least: float
    """Of a single request."""
    spread: float
    """Standard deviation of single requests."""
    checked: float | None = None
    """The mean without the cause of a mean that lies outside."""
    fresh: float | None = None
    """The mean of `FRESH` other requests that have it, where few had it and their mean lies outside."""
    again: float | None = None
    """The least single request, asked again with `TIMES` as many draws, where it was too low."""
    again_checked: float | None = None
    """That without its cause."""

    @property
    def outside(self) -> bool:
        """Whether the mean lies outside the limits."""
        return not within(self.mean)

    def over(self, calculation: str) -> Cause | None:
        """Why the mean lies outside."""
        return _why(calculation, self.member, self.mean)

    def truly_low(self, draws: int) -> bool:
        """Whether a single request is far below, and not by chance."""
        return self.again is not None and too_low(self.again, TIMES * draws)

    def low(self, calculation: str, draws: int) -> Cause | None:
        """Why a single request is far below; None where it was so by chance."""
        return cause(calculation, self.member, LOW) if self.truly_low(draws) else None


class Result(msgspec.Struct, frozen=True, kw_only=True):
    """What a calculation came to."""

    seed: int
    requests: int
    draws: int
    lost: float
    """Share of the draws that were beyond what can be answered."""
    members: list[Kept]


def within(mean: float) -> bool:
    """Whether a mean lies within the limits."""
    return LEAST <= mean <= MOST


def _why(calculation: str, member: str, mean: float) -> Cause | None:
    """Why a mean lies outside; what holds single requests too rarely may do so to the mean."""
    if within(mean):
        return None
    return cause(calculation, member, LOW if mean < LEAST else OVER)


def pooled(at: str) -> str:
    """The pointer of each of some: members of a list, and fatty acids by their code."""
    return "/".join("*" if part.isdigit() or FATTY_ACID.match(part) else part for part in at.split("/"))


Shares = dict[str, list[tuple[float, int, str]]]


def shares(found: Sequence[Tried]) -> Shares:
    """Coverage, index of the request and pointer, by member."""
    held: Shares = {}
    for index, one in enumerate(found):
        for at, share in one.coverage.items():
            held.setdefault(pooled(at), []).append((share, index, at))
    return held


def _mean(values: Sequence[float]) -> float | None:
    return float(np.mean(values)) if values else None


def _without(one: Tried, at: str, why: Cause) -> float | None:
    """The coverage of a request without a cause; None where it does not show there."""
    if why.check == "unchecked" or not why.counts(one.told[at]):
        return None
    if why.check == "usual":
        return one.other.get(at)
    return one.near[at] if why.check == "near" else one.coverage[at]


def _having(study: Study, member: str) -> Study:
    """A study of requests that have a member."""

    def make(maker: Maker) -> Answer:
        while True:
            request = study.make(maker)
            try:
                if member in map(pooled, asked(study.calculation, request)):
                    return request
            except Refusal:
                continue

    return study._replace(make=make)


def _of_member(found: Sequence[Tried], member: str) -> float | None:
    return _mean([share for share, _, _ in shares(found).get(member, [])])


def kept(study: Study, found: Sequence[Tried], seed: int, draws: int) -> list[Kept]:
    """What the requests of a calculation come to, by member, and why.

    Args:
        study: how they were made.
        found: what came of them, with the other intervals by the usual rule.
        seed: that they were made with.
        draws: how many each got.
    """
    name = study.calculation
    told: list[Kept] = []
    for member, held in shares(found).items():
        each_share = [share for share, _, _ in held]
        mean, spread = float(np.mean(each_share)), float(np.std(each_share))
        (least, index, at), why = min(held), _why(name, member, mean)
        checked = fresh = again = again_checked = None
        if why is not None:
            each = [_without(found[place], pointer, why) for _, place, pointer in held]
            checked = _mean([one for one in each if one is not None])
        elif not within(mean) and len(held) < FEW:
            fresh = _of_member(campaign(_having(study, member), seed + 1, FRESH, draws), member)
        if too_low(least, draws):
            random = np.random.default_rng([seed, index])
            once_more = tried(study, found[index].request, random, TIMES * draws, usual)
            again, why = once_more.coverage[at], cause(name, member, LOW)
            if too_low(again, TIMES * draws) and why is not None:
                again_checked = _without(once_more, at, why)
        told.append(
            Kept(
                member=member,
                requests=len(held),
                mean=mean,
                least=least,
                spread=spread,
                checked=checked,
                fresh=fresh,
                again=again,
                again_checked=again_checked,
            )
        )
    return told


def result(study: Study, seed: int, requests: int, draws: int) -> Result:
    """Try a calculation.

    Args:
        study: how.
        seed: for the requests and draws.
        requests: how many.
        draws: how many each gets.
    """
    found = campaign(study, seed, requests, draws, usual)
    lost = sum(one.lost for one in found) / max(1, len(found) * draws)
    return Result(seed=seed, requests=requests, draws=draws, lost=lost, members=kept(study, found, seed, draws))
