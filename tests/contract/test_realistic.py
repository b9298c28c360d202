"""Realistic requests straight to the calculations: nothing but answers and refusals, bounds, balances, laws."""

import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.calculations.registry import calculations
from service.calculations.shared.faults import Refusal
from service.calculations.shared.rendering import renderer
from tests.contract.balances import BALANCES, within_bounds
from tests.contract.laws import LAWS, Told
from tests.contract.realistic import REALISTIC

NAMES = sorted(calculations())
thorough = settings(
    max_examples=max(150, settings().max_examples),
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)


def straight(name: str, request: dict[str, Any]) -> Told:
    """Asks a calculation without HTTP; whatever is raised beside a refusal goes on."""
    try:
        answer = calculations()[name].run(json.dumps(request).encode())
    except Refusal as refused:
        return Told(refused.status, {"errors": [{"code": one.code, "detail": one.detail} for one in refused.faults]})
    return Told(200, json.loads(renderer("metric", None)(answer)))


def test_every_calculation_has_realistic_requests_and_balances() -> None:
    assert REALISTIC.keys() == BALANCES.keys() == calculations().keys()


@pytest.mark.parametrize("name", NAMES)
def test_realistic_requests_compute_and_hold_every_law(name: str) -> None:
    asked = computed = 0

    @thorough
    @given(st.data())
    def hold(data: st.DataObject) -> None:
        nonlocal asked, computed
        request = data.draw(REALISTIC[name])
        told = straight(name, request)
        asked += 1
        if told.status != 200:
            assert told.document["errors"]
            return
        computed += 1
        within_bounds(told.document)
        BALANCES[name](request, told.document)
        for law in LAWS.values():
            law(straight, name, request)

    hold()
    assert computed > 0.9 * asked
