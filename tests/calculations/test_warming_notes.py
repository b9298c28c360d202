"""What a warming says beside its numbers."""

import pytest

from tests.calculations.asking import ask, cautions
from tests.calculations.caution_cases_of_warming import W, warming


@pytest.mark.parametrize(("target", "severity"), [("38 °C", None), ("39 °C", "caution"), ("91 °C", "danger")])
def test_stock_that_is_warmed_beyond_what_fats_and_milk_bear_is_told_so(target: str, severity: str | None) -> None:
    answer = ask(W, warming(to=target, vessel={"maximum_temperature": "120 °C"}, heater_power="3 kW"))
    told = cautions(answer).get("stock-hot")
    assert (told and told["severity"]) == severity
