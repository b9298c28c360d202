"""Calculations as they are registered: found once each by their names, and run alike."""

import json
from itertools import product
from pathlib import Path
from typing import Any, get_args

import pytest

from service.calculations.registry import LARGEST_BODY, Calculation, calculations, gravity
from service.calculations.shared.cautions import GROUNDS, Severity, caution
from service.calculations.shared.faults import Refusal
from service.calculations.shared.messages import Answer, Request
from service.calculations.shared.notes import Notes
from service.calculations.shared.standing_cautions import STANDING
from service.reference import reference_data
from tests.calculations.asking import calculation

CONTRACT = json.loads((Path(__file__).parents[2] / "openapi" / "openapi.json").read_text("utf-8"))
SEVERITIES: tuple[Severity, ...] = get_args(Severity)
CALLED_FOR = sorted(set(GROUNDS) - STANDING)


def test_the_calculations_are_those_of_the_published_contract() -> None:
    found = calculations()
    for name, one in found.items():
        assert one.name == name
        assert isinstance(one, Calculation)
        assert "post" in CONTRACT["paths"][f"/v1/{name}"]
        assert calculation(name) is one
    posted = {path.removeprefix("/v1/") for path, item in CONTRACT["paths"].items() if "post" in item}
    assert {one for one in posted if not one.endswith("/bulk")} >= set(found)
    modules = {path.stem for path in (Path(__file__).parents[2] / "service" / "calculations").glob("*/*.py")}
    assert {name.replace("-", "_").replace("/", "_") for name in found} <= modules


def test_they_come_in_the_order_of_their_modules() -> None:
    names = [name.replace("-", "_").replace("/", "_") for name in calculations.__wrapped__()]  # found anew
    assert names == sorted(names)


def test_a_body_may_be_as_large_as_the_readme_says() -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
    assert f"`LYESTOCK_LARGEST_BODY` | `{LARGEST_BODY}`" in readme


def test_the_gravest_caution_comes_first_and_then_what_the_request_calls_for() -> None:
    """Severities rise from note to danger, as the contract lists them."""
    assert SEVERITIES == ("note", "caution", "danger")
    grades = list(product(SEVERITIES[::-1], ((CALLED_FOR[0], 0), (sorted(STANDING)[0], 1))))
    made = [caution(code, f"{severity} {code}", severity) for severity, (code, _) in grades]
    order = [gravity(one) for one in made]
    assert order == sorted(order)
    assert len(set(order)) == len(order)


class Asked(Request, kw_only=True):
    """A request."""

    number: float = 0.0


class Said(Answer, kw_only=True):
    """An answer."""

    number: float


def calculate(request: Asked, notes: Notes) -> Said:
    notes.caution(CALLED_FOR[0], "last", "note")
    notes.caution(sorted(STANDING)[0], "second", "danger")
    notes.caution(CALLED_FOR[0], "first", "danger")
    notes.assume("/number", "0", "nothing else is told")
    if notes.explain:
        notes.step("double", "2 * number", {"number": (request.number, "1")}, (2 * request.number, "1"), "arithmetic")
    return Said(number=2 * request.number)


DOUBLE: Calculation[Asked, Said] = Calculation(
    name="double",
    summary="Twice a number.",
    description="For tests alone.",
    request=Asked,
    answer=Said,
    calculate=calculate,
    examples=(),
)


def test_an_answer_carries_what_was_noted() -> None:
    told = DOUBLE.run(b'{"number": 2.5}')
    assert told.number == 5.0
    assert [one.message for one in told.cautions] == ["first", "second", "last"]
    assert [one.pointer for one in told.assumed] == ["/number"]
    assert told.data_version == reference_data().version
    assert DOUBLE.largest_body == LARGEST_BODY


@pytest.mark.parametrize("explain", [{}, {"explain": False}, {"explain": True}])
def test_steps_are_told_where_they_are_asked_for(explain: dict[str, Any]) -> None:
    told = DOUBLE.run(b'{"number": 2.5}', **explain)
    if explain.get("explain"):
        assert isinstance(told.steps, list)
        assert [one.result.value for one in told.steps] == [5.0]
    else:
        assert not told.steps


@pytest.mark.parametrize(("body", "reference"), [(b'{"reference": "lot 7"}', "lot 7"), (b"{}", None)])
def test_the_callers_mark_comes_back_where_one_was_sent(body: bytes, reference: str | None) -> None:
    assert (DOUBLE.run(body).reference or None) == reference


def test_what_cannot_be_read_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        DOUBLE.run(b'{"number": "2"}')
    assert refused.value.status == 400
