"""What is added that is hardly stronger than wanted: how much of it may be needed, by its own balance."""

import re
from typing import Any

import pytest

from service.calculations.mixing.adjusting import SAME
from service.calculations.mixing.adjusting_notes import HARDLY_APART
from tests.calculations.asking import Answer, ask, cautions
from tests.calculations.caution_cases_of_dilution import A, adjusted

NORMAL_95 = 1.96


def _adding(strength: Any) -> Answer:
    """10 kg of 40 % stock, brought to 45 %."""
    other = {"alkali": "NaOH", "strength": {"mass_fraction": strength}, "temperature": "20 °C"}
    return ask(A, adjusted("40 %", "45 %") | {"with": other})


def _message(share: float) -> str | None:
    """Of 47 % solution, 2 percentage points from what is wanted, known to so much of them."""
    known = {"value": 47, "uncertainty": share * 2 / NORMAL_95, "unit": "%"}
    found = cautions(_adding(known)).get("adjustment-within-spread")
    return None if found is None else found["message"]


@pytest.mark.parametrize("share", [0.21, 0.3, 0.5, 0.9])
def test_what_it_may_take_is_what_the_weakest_that_it_may_be_takes(share: float) -> None:
    message = _message(share)
    assert message is not None
    found = re.search(r"it may take ([\d.]+) kg", message)
    assert found is not None, message
    weakest = _adding(f"{47 - share * 2!r} %")["add"]["mass"]["value"]
    assert 1e3 * float(found[1]) == pytest.approx(weakest, rel=6e-3)
    assert 1e3 * float(found[1]) >= weakest * (1 - 1e-4)


def test_what_may_be_as_weak_as_wanted_may_not_do() -> None:
    assert "it may not do" in str(_message(1.01))


def test_it_is_told_only_where_the_interval_is_too_narrow_by_a_twentieth() -> None:
    """Of first order it ends at 1 + s, and in truth at 1 / (1 - s): a twentieth apart from s = 0.2 on."""
    for share in (0.05, 0.1, 0.19, 0.21, 0.4):
        answer = _adding({"value": 47, "uncertainty": share * 2 / NORMAL_95, "unit": "%"})["add"]["mass"]
        assert answer["high"] / answer["value"] == pytest.approx(1 + share, rel=1e-3)
        assert (_message(share) is not None) is (1 / (1 - share) - (1 + share) >= 0.05)
    in_truth, of_first_order = 1 / (1 - HARDLY_APART), 1 + HARDLY_APART
    assert in_truth - of_first_order == pytest.approx(0.05)


def test_strengths_that_differ_by_rounding_alone_are_the_same() -> None:
    assert 0 < SAME < 1e-6
    assert ask(A, adjusted("45 %", "45.00000005 %"))["add"]["what"] == "nothing"
    assert ask(A, adjusted("45 %", "45.001 %"))["add"]["what"] == "solid"
