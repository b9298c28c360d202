"""The messages of refused requests: word for word where they are listed, and what holds for all of them."""

import json
import re
from pathlib import Path
from typing import Any, Final, NamedTuple

import pytest

from service.calculations.registry import calculations
from service.calculations.shared.faults import FAULT_CODES, Fault, Refusal
from tests.calculations.asking import refusal
from tests.calculations.test_any_request import SLIPS, changed, places

LISTED: Final = Path(__file__).with_name("messages.txt")

IMPERATIVES: Final = set(
    re.findall(
        r"\w+",
        "add ask check compare exchange give keep leave let make mend narrow put reduce send take thaw use weigh write",
    )
)
"""A mending begins with what to do."""
OF_THE_HOUSE: Final = re.compile(
    r"Traceback|Error\b|Exception|NoneType|\b(?:str|dict|int|float|bool|tuple|None|True|False)\b|msgspec|\$\."
    r"|<class| = |\binf\b|\bnan\b|!",
)
"""What tells of the program and not of the request; and nobody is shouted at."""
QUOTED: Final = re.compile(r"'[^']*'|\"[^\"]*\"")
LONGEST: Final = 240


class Case(NamedTuple):
    """A request of the list, and what is told of it."""

    name: str
    calculation: str
    request: Any
    status: int
    faults: list[tuple[str, str, str, str]]


def listed() -> list[Case]:
    """The cases of the list."""
    cases = []
    for part in LISTED.read_text("utf-8").split("\n== ")[2:]:
        name, request, status, *lines = part.rstrip("\n").split("\n")
        calculation, _, body = request.partition(" ")
        faults = []
        for head, detail, mend in zip(lines[::3], lines[1::3], lines[2::3], strict=True):
            pointer, code = head.split(" ")
            faults.append(("" if pointer == "." else pointer, code, detail.strip(), mend.strip()))
        cases.append(Case(name, calculation, json.loads(body), int(status), faults))
    return cases


CASES: Final = listed()


@pytest.mark.parametrize("case", CASES, ids=[case.name.replace(" ", "-") for case in CASES])
def test_a_refused_request_is_told_what_the_list_says(case: Case) -> None:
    refused = refusal(case.calculation, case.request)
    assert refused.status == case.status
    assert [(one.pointer, one.code, one.detail, one.mend) for one in refused.faults] == case.faults


def test_the_list_holds_every_calculation_and_both_kinds_of_refusal() -> None:
    assert len(CASES) > 50
    assert {case.calculation for case in CASES} == set(calculations())
    assert {case.status for case in CASES} == {400, 422}


def graded(request: Any, refused: Refusal) -> None:
    """What holds for every message."""
    assert refused.faults
    for one in refused.faults:
        assert one.code in FAULT_CODES
        worded(one)
        resolves(request, str(one.pointer))
    codes = {one.code for one in refused.faults}
    if refused.status == 422:
        assert codes <= SENSE | {"out-of-range"}  # a strength of 0 can be read, and makes no sense
    else:
        assert codes - SENSE


SENSE: Final = frozenset(
    {
        "unknown-identifier",
        "does-not-add-up",
        "contradiction",
        "stock-too-weak",
        "too-little-water",
        "beyond-solubility",
        "beyond-data",
        "impossible-temperature",
        "purity-needed",
        "not-into-stock",
        "heater-too-weak",
        "temperature-needed",
        "readings-too-close",
        "too-hot-for-vessel",
        "inci-name-needed",
        "two-currencies",
        "stock-runs-out",
        "too-large-a-plan",
        "unit-does-not-fit",
        "cyclic-recipes",
    }
)
"""Codes of what only chemistry or the catalogue can say; one of them alone makes no request unreadable."""


def worded(one: Fault) -> None:
    """Short, of the request alone, and with what to do."""
    assert 0 < len(one.detail) <= LONGEST, one.detail
    assert 0 < len(one.mend) <= LONGEST, one.mend
    assert one.mend.split()[0].rstrip(":,") in IMPERATIVES, one.mend
    own_words = QUOTED.sub("", f"{one.detail} {one.mend}")  # what the caller wrote is repeated as it was
    assert not OF_THE_HOUSE.search(own_words), own_words
    assert "invalid" not in own_words
    assert not one.detail.endswith((".", ":", " "))


def resolves(request: Any, pointer: str) -> None:
    """A pointer leads into the request, or to a member that should be there."""
    steps = [step.replace("~1", "/").replace("~0", "~") for step in pointer.split("/")[1:]]
    within = request
    for place, step in enumerate(steps):
        if isinstance(within, list):
            within = within[int(step)]
        elif isinstance(within, dict) and step in within:
            within = within[step]
        else:
            assert place == len(steps) - 1, f"{pointer} leads nowhere"
            assert isinstance(within, dict) or within is None, f"{pointer} leads into no object"


@pytest.mark.parametrize("name", list(calculations()))
def test_messages_of_any_slip_are_short_point_into_the_request_and_say_what_to_do(name: str) -> None:
    """Every example with every slip at every place."""
    calculation = calculations()[name]
    refused_ones = 0
    for example in calculation.examples:
        for path in places(example.request):
            for slip in SLIPS:
                request = changed(example.request, path, slip)
                try:
                    calculation.run(json.dumps(request).encode())
                except Refusal as refused:
                    refused_ones += 1
                    graded(request, refused)
    assert refused_ones > 100


@pytest.mark.parametrize("case", CASES, ids=[case.name.replace(" ", "-") for case in CASES])
def test_the_messages_of_the_list_hold_to_the_rules_too(case: Case) -> None:
    graded(case.request, refusal(case.calculation, case.request))
