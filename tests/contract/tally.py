"""What a run of the fuzzing asked and got: counts by operation, phase and status, and all that was passed over."""

from collections import Counter
from collections.abc import Iterator
from typing import Final


class Tally:
    """Counts of a run.

    Attributes:
        answered: requests by operation, phase and status.
        fitting: of those made up at random to fit the contract, how many computed (True) or not, by operation.
        excused: why requests that fit the contract were refused all the same.
        held: answers for which a law was held, by law.
        passed_over: why a law says nothing of an answer, by law and reason.
        examples: named examples that gave the answer stored with them, as calculation and name.
        hops: links followed from a computed answer, by name of the link and status of what came next.
        chains: longest ways along links through computed answers, by the operations passed.
        skipped: what schemathesis left out, by phase and reason.
        asked_again: requests that the checks made themselves.
    """

    def __init__(self) -> None:
        self.answered: Counter[tuple[str, str, int]] = Counter()
        self.fitting: Counter[tuple[str, bool]] = Counter()
        self.excused: Counter[str] = Counter()
        self.held: Counter[str] = Counter()
        self.passed_over: Counter[tuple[str, str]] = Counter()
        self.examples: set[tuple[str, str]] = set()
        self.hops: Counter[tuple[str, int]] = Counter()
        self.chains: Counter[tuple[str, ...]] = Counter()
        self.skipped: Counter[str] = Counter()
        self.asked_again = 0

    @property
    def requests(self) -> int:
        """Requests made up and judged; those that checks made to compare are not among them."""
        return self.answered.total()

    def computed(self, label: str) -> int:
        """How often an operation succeeded."""
        return sum(times for (one, _, status), times in self.answered.items() if one == label and status == 200)

    def shares(self) -> dict[str, float]:
        """Of the requests made up to fit the contract, the share that computed, by operation."""
        labels = {label for label, _ in self.fitting}
        return {
            label: self.fitting[label, True] / (self.fitting[label, True] + self.fitting[label, False])
            for label in sorted(labels)
        }

    def lines(self) -> Iterator[str]:
        """The report: every operation, and all that was passed over."""
        yield f"{self.requests} requests made up and judged, {self.asked_again} more to compare with"
        yield from self._operations()
        yield from self.reasons()

    def _operations(self) -> Iterator[str]:
        for label in sorted({label for label, _, _ in self.answered}):
            yield f"  {label}"
            for phase in sorted({phase for one, phase, _ in self.answered if one == label}):
                counts = {status: n for (one, at, status), n in self.answered.items() if (one, at) == (label, phase)}
                yield f"    {phase}: " + ", ".join(f"{status} x {counts[status]}" for status in sorted(counts))

    def reasons(self) -> Iterator[str]:
        """The shares that computed, and how often something was held, excused, passed over or left out, and why."""
        for label, share in self.shares().items():
            yield f"computed of what was made up to fit: {share:.1%} - {label}"
        for law, times in sorted(self.held.items()):
            yield f"held {times} times: {law}"
        for (law, reason), times in sorted(self.passed_over.items()):
            yield f"said nothing {times} times: {law} - {reason}"
        for reason, times in sorted(self.excused.items()):
            yield f"excused {times} requests that fit the contract - {reason}"
        for (link, status), times in sorted(self.hops.items()):
            yield f"link followed {times} times, answered {status}: {link}"
        for chain, times in sorted(self.chains.items(), key=lambda item: (len(item[0]), item[0])):
            yield f"computed {times} times along links: {' -> '.join(chain)}"
        for reason, times in sorted(self.skipped.items()):
            yield f"left out by schemathesis {times} times: {reason}"


class _Current:
    """The tally that checks count into; schemathesis calls them without a place for one."""

    def __init__(self) -> None:
        self.tally = Tally()


CURRENT: Final = _Current()


def begin() -> Tally:
    """A new tally, which checks count into from now on."""
    CURRENT.tally = Tally()
    return CURRENT.tally
