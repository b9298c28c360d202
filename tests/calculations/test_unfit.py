"""By which results a stock or a soap is not for use: at the figures told, and within the interval not."""

from typing import Any

import pytest

from tests.calculations.asking import ask, cautions, fault
from tests.calculations.caution_cases_of_titrations import soap, stock

T, H, A = "stock-assay/titration", "stock-assay/hydrometer", "soap-assay"
HEAVIER: dict[str, Any] = {"sample_mass": {"value": 2.6, "uncertainty": 0.001, "unit": "g"}}
STRENGTH = ask(T, stock(**HEAVIER))["strength"]["mass_fraction"]["value"]


def said(name: str, request: dict[str, Any]) -> dict[str, str] | None:
    return cautions(ask(name, request)).get("not-for-use")


def label(share: float) -> dict[str, Any]:
    return {"mass_fraction": {"value": share, "unit": "1"}}


@pytest.mark.parametrize(("off", "expected"), [(0.98, None), (1.02, None), (1.08, "caution"), (0.92, "danger")])
def test_a_stock_off_its_label_is_told_and_a_stronger_one_is_a_danger(off: float, expected: str | None) -> None:
    found = said(T, stock(**HEAVIER, labelled_strength=label(STRENGTH * off)))
    assert (found and found["severity"]) == expected


def test_what_a_batch_by_the_label_would_get_is_told() -> None:
    # 1 - 0.95 / 0.9 is -5.6 %; 1 - 0.95 * 0.9 is 14.5 %
    strong = said(T, stock(**HEAVIER, labelled_strength=label(STRENGTH * 0.9)))
    weak = said(T, stock(**HEAVIER, labelled_strength=label(STRENGTH / 0.9)))
    assert strong is not None
    assert weak is not None
    assert "gets 5.6 % of free alkali" in strong["message"]
    assert "gets 14.5 % of superfat" in weak["message"]
    assert "Do not draw by the label" in weak["message"]


def test_far_from_the_label_it_is_another_stock() -> None:
    found = said(T, stock(labelled_strength=label(0.30)))
    assert found is not None
    assert "nobody knows what it is" in found["message"]


def test_a_label_within_the_interval_of_a_coarse_hydrometer_is_not_off() -> None:
    fine = {"alkali": "NaOH", "reading": {"degrees_baume": 48, "division": 0.1}, "temperature": "20 °C"}
    coarse = fine | {"reading": {"degrees_baume": 48, "division": 5}}
    told = {"labelled_strength": {"mass_fraction": "50 %"}}
    assert said(H, fine | told) is not None
    assert said(H, coarse | told) is None


def test_a_label_that_cannot_be_is_refused() -> None:
    found = fault(T, stock(labelled_strength={"mass_fraction": "70 %"}), 422)
    assert str(found.pointer).startswith("/labelled_strength")
    assert found.code == "beyond-solubility"


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
