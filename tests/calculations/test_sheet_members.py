"""What a batch sheet answers only where it was asked for: each member is there with what brings it, and else is not."""

from typing import Any

import pytest

from service.calculations.orders.batch_sheet import CALCULATION
from tests.calculations.asking import ask
from tests.calculations.test_batch_sheet import SHEET, recipe

SCENT: dict[str, Any] = {"material": "scent", "kind": "other", "use_level": "3 %"}
OPTIONAL: dict[str, dict[str, Any]] = {
    "use_limits": recipe(additions=[SCENT | {"highest_share": "1 %"}]),
    "cost": {"prices": [{"material": "own oil", "price": {"amount": "4.00", "currency": "EUR"}}]},
    "cured_mass": {"moisture_when_sold": "10 %"},
    "bars": {"scale_to": {"bars": 10, "bar_mass": "100 g"}},
}


@pytest.mark.parametrize("member", OPTIONAL)
def test_a_member_is_there_with_what_brings_it_alone(member: str) -> None:
    assert member not in ask(CALCULATION.name, SHEET)
    assert ask(CALCULATION.name, SHEET | OPTIONAL[member])[member]


def test_an_addition_without_a_limit_is_held_against_none() -> None:
    assert "use_limits" not in ask(CALCULATION.name, SHEET | recipe(additions=[SCENT]))
