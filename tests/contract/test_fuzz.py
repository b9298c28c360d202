"""Every operation of the contract, as it stands, is called with what it allows and with what it forbids.

All phases of schemathesis run (examples, boundaries, random, stateful) with all its checks and our own, once
(campaign.py); the tests here look at what came of it. `python -m tests.contract.long_run` does the same at length.
"""

from service.calculations.registry import calculations
from tests.contract.campaign import PHASES, Outcome
from tests.contract.laws import LAWS


def test_no_check_fails(outcome: Outcome) -> None:
    assert outcome.failures == []


def test_every_phase_ran(outcome: Outcome) -> None:
    assert set(PHASES) <= outcome.phases
    asked = {phase for _, phase, _ in outcome.tally.answered}
    assert asked == set(PHASES)


def test_every_operation_succeeded_at_least_once(outcome: Outcome) -> None:
    assert outcome.labels
    assert outcome.never_computed == []


def test_most_requests_made_up_to_fit_compute(outcome: Outcome) -> None:
    shares = {label: share for label, share in outcome.tally.shares().items() if label.startswith("POST")}
    assert shares.keys() >= {f"POST /v1/{name}" for name in calculations()}
    assert min(shares.values()) > 0.5, shares


def test_every_named_example_gave_its_answer(outcome: Outcome) -> None:
    named = {(name, example.name) for name, one in calculations().items() for example in one.examples}
    assert outcome.tally.examples == named


def test_every_law_was_held(outcome: Outcome) -> None:
    assert all(outcome.tally.held[law] > 20 for law in LAWS), outcome.tally.held


def test_links_lead_from_one_computed_answer_to_the_next(outcome: Outcome) -> None:
    """Which of them a short run takes is left to chance; `test_contract.py` follows each, and so does the long run."""
    between = [link for link in outcome.links if link.startswith("POST")]
    assert len(between) == sum(len(one.links) for one in calculations().values())
    followed = set(outcome.links) - set(outcome.links_not_followed)
    assert len(followed & set(between)) >= 3
    assert followed - set(between)


def test_links_lead_on_through_several_computed_answers(outcome: Outcome) -> None:
    assert max(len(chain) for chain in outcome.tally.chains) >= 3
