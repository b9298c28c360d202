"""By which results a stock or a soap is not for use: at the figures told, and within the interval not."""

from typing import Any

import pytest

from tests.calculations.asking import ask, cautions
from tests.calculations.caution_cases_of_titrations import soap, stock

T, A = "stock-assay/titration", "soap-assay"


def said(name: str, request: dict[str, Any]) -> dict[str, str] | None:
    return cautions(ask(name, request)).get("not-for-use")


@pytest.mark.parametrize(
    ("taken", "severity"),
    # 1 mL is 0.04 % of NaOH; classes at 0.5 and 2 % (Regulation (EC) 1272/2008), 0.1 % by GB/T 2485 (from memory)
    [("2 mL", None), ("3.5 mL", "caution"), ("12 mL", "caution"), ("13 mL", "danger"), ("51 mL", "danger")],
)
def test_a_soap_above_every_limit_is_not_for_use(taken: str, severity: str | None) -> None:
    found = said(A, soap(taken))
    assert (found and found["severity"]) == severity


def test_carbonate_within_the_interval_of_the_limit_is_not_told_as_beyond() -> None:
    sharp, blunt = stock(second="26.8 mL"), stock(second="26.8 mL", burette_tolerance="0.5 mL")
    assert said(T, sharp) is not None
    assert said(T, blunt) is None
