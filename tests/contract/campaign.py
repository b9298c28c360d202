"""A run of schemathesis: all phases, all its checks and our own, and what came of it."""

import time
import traceback
from collections.abc import Callable
from copy import deepcopy
from typing import Any, Final, NamedTuple

from schemathesis.engine import Status, events, from_schema
from schemathesis.engine.run import PhaseName

from service.http.app import create_app
from service.http.wire import App
from tests.contract.fuzzing import contract_of, load
from tests.contract.tally import Tally, begin

PHASES: Final = ("examples", "coverage", "fuzzing", "stateful")
PAGE_EXAMPLES: Final = 10
"""Requests made up for an operation that only reads: there is little to vary."""
BULK_EXAMPLES: Final = 20
"""Requests made up for an operation that takes many items: each item is one to a calculation that gets its own."""

CHAINS: Final = 6
"""Chains of links that are followed for each request made up for a calculation: many end after a step."""
STEPS: Final = 6
"""Requests in a chain, at most."""
ENOUGH: Final = 20
"""Failures after which a service is broken, and more of them would tell nothing."""
FURTHER: Final = 3
"""Rounds of links alone, at most, that are added for links which chance left out."""


class Outcome(NamedTuple):
    """What came of a run."""

    tally: Tally
    labels: list[str]
    """Every operation of the contract."""
    links: list[str]
    """Every link of the contract, as `METHOD /path -> [200] name -> METHOD /path`."""
    phases: set[str]
    """Phases that ran to their end without a failure."""
    failures: list[str]
    seconds: float

    @property
    def never_computed(self) -> list[str]:
        """Operations that never succeeded, so that the fuzzing proves nothing of them."""
        return [label for label in self.labels if not self.tally.computed(label)]

    @property
    def links_not_followed(self) -> list[str]:
        """Links that never led from one computed answer to the next."""
        return _not_followed(self.tally, self.links)

    @property
    def is_good(self) -> bool:
        """Whether nothing failed and everything was reached."""
        return not (self.failures or self.never_computed or self.links_not_followed or set(PHASES) - self.phases)


def campaign(
    *, seed: int, each: int, requests: int = 0, app: App | None = None, say: Callable[[str], object] = len
) -> Outcome:
    """Fuzz an application; the same arguments give the same requests.

    Args:
        seed: where the chance begins.
        each: requests that are made up for each calculation in a round; CHAINS times as many chains are tried.
        requests: least number of requests; rounds of fuzzing and links go on until there are so many, or failures are
            ENOUGH. Rounds of links alone follow while a link has not been followed.
        app: the application, the service as it stands where it is left out.
        say: hears how far the run is, after each round.
    """
    begun = time.monotonic()
    app = app or create_app()
    document = contract_of(app)
    labels, links = _labels(document), _links(document)
    tally = begin()
    failures: list[str] = []
    phases: set[str] = set()
    turn = 0

    def go(*left_out: str) -> None:
        nonlocal turn
        skip = {name: {"enabled": False} for name in left_out}
        schema = load(app, deepcopy(document), _config(seed + turn, each, skip))
        _run(schema, tally, failures, phases)
        turn += 1
        seconds = time.monotonic() - begun
        say(f"round {turn}: {tally.requests} requests after {seconds:.0f} s, {len(failures)} failures")

    go()
    while tally.requests < requests and len(failures) < ENOUGH:
        go("examples", "coverage")
    for _ in range(FURTHER):
        if failures or not _not_followed(tally, links):
            break
        go("examples", "coverage", "fuzzing")
    return Outcome(tally, labels, links, phases, failures, time.monotonic() - begun)


def _not_followed(tally: Tally, links: list[str]) -> list[str]:
    """Links that never led from one computed answer to the next."""
    return [link for link in links if not tally.hops[link, 200]]


def _labels(document: Any) -> list[str]:
    return sorted(f"{method.upper()} {path}" for path, item in document["paths"].items() for method in item)


def _links(document: Any) -> list[str]:
    labels = {
        operation["operationId"]: f"{method.upper()} {path}"
        for path, item in document["paths"].items()
        for method, operation in item.items()
    }
    return sorted(
        f"{labels[operation['operationId']]} -> [200] {name} -> {labels[link['operationId']]}"
        for item in document["paths"].values()
        for operation in item.values()
        for name, link in operation["responses"].get("200", {}).get("links", {}).items()
    )


def _config(seed: int, each: int, skip: dict[str, Any]) -> dict[str, Any]:
    return {
        "seed": seed,
        "continue-on-failure": True,
        "generation": {"max-examples": each, "database": "none"},
        # What does not fit the contract is tried in the other phases; a chain of links would end at it.
        "phases": {
            **skip,
            "stateful": {"max-steps": STEPS, "generation": {"mode": "positive", "max-examples": CHAINS * each}},
        },
        "operations": [
            {"include-method": "GET", "generation": {"max-examples": PAGE_EXAMPLES}},
            {"include-tag": "bulk", "generation": {"max-examples": min(each, BULK_EXAMPLES)}},
        ],
    }


def _run(schema: Any, tally: Tally, failures: list[str], phases: set[str]) -> None:
    """Run the engine of schemathesis and read what it tells."""
    for event in from_schema(schema).execute():
        if isinstance(event, events.ScenarioFinished):
            _read(event, tally, failures)
        elif isinstance(event, events.PhaseFinished):
            if event.status is Status.SUCCESS:
                phases.add(event.phase.name.value)
        elif isinstance(event, events.NonFatalError):
            seen = "".join(traceback.format_exception(event.value))
            failures.append(f"{event.label}: {event.info.title}: {event.info.message}\n{seen}")
        elif isinstance(event, events.FatalError):
            failures.append(f"the fuzzer failed: {event.exception!r}")
        elif isinstance(event, events.EngineFinished):
            failures.extend(map(str, event.failures))


def _read(event: events.ScenarioFinished, tally: Tally, failures: list[str]) -> None:
    """Failures, links and what was left out of one operation, or of one chain of links."""
    recorder = event.recorder
    if event.status is Status.SKIP and event.skip_reason:
        tally.skipped[f"{event.phase.value} of {event.label}: {event.skip_reason}"] += 1
    for case_id, results in recorder.checks.items():
        for check in results:
            if check.status is Status.FAILURE and check.failure_info is not None:
                case = recorder.cases[case_id].value
                failures.append(
                    f"{check.name}, {case.operation.label}: {check.failure_info.failure}\n"
                    f"{check.failure_info.code_sample}"
                )
    if event.phase is PhaseName.STATEFUL_TESTING:
        _follow(recorder, tally)


def _follow(recorder: Any, tally: Tally) -> None:
    """Count the links that were followed, and the chains of computed answers they make."""
    chains: dict[str, tuple[str, ...]] = {}
    for case_id, node in recorder.cases.items():
        interaction = recorder.interactions.get(case_id)
        if interaction is None or interaction.response is None:
            continue
        status, transition, label = interaction.response.status_code, node.transition, node.value.operation.label
        before = chains.get(transition.parent_id, ()) if transition is not None else ()
        if transition is not None and node.is_transition_applied and not transition.is_inferred:
            tally.hops[transition.id, status] += 1
            if status == 200 and before:
                chains[case_id] = (*before, label)
                tally.chains[chains[case_id]] += 1
                continue
        if status == 200:
            chains[case_id] = (label,)
