"""When a stock is not as strong as its label, and what becomes of a batch that is drawn by that.

What a batch gets is reckoned here by hand: a batch for 5 % superfat is to have 0.95 of what its fats take, and drawn by
the label it has 0.95 times strength over label.
"""

from typing import Any

import pytest

from tests.calculations.asking import ask, cautions, fault
from tests.calculations.caution_cases_of_titrations import stock

T, H = "stock-assay/titration", "stock-assay/hydrometer"
TOLD = {"not-for-use", "label-contradicts", "free-alkali-possible"}
HEAVIER: dict[str, Any] = {"sample_mass": {"value": 2.6, "uncertainty": 0.001, "unit": "g"}}
STRENGTH = ask(T, stock(**HEAVIER))["strength"]["mass_fraction"]
# 24.92 mmol of NaOH (39.997 g/mol) in 2.0341 g: 49.0 %
OF_49 = stock(sample_mass={"value": 2.0341, "uncertainty": 0.001, "unit": "g"}, burette_tolerance="0.05 mL")


def label(share: float) -> dict[str, Any]:
    return {"mass_fraction": {"value": share, "unit": "1"}}


def read(division: float, share: float) -> dict[str, Any]:
    """48 degrees Baumé, which are 46.7 % NaOH: to 0.45 points by tenths, to 9.7 points by a scale of 5 degrees."""
    reading = {"degrees_baume": 48, "division": division}
    return {"alkali": "NaOH", "reading": reading, "temperature": "20 °C", "labelled_strength": label(share)}


def said(name: str, request: dict[str, Any]) -> tuple[str, str, str] | None:
    """Code, severity and message of what is told of the label; never two of them."""
    found = [one for one in ask(name, request)["cautions"] if one["code"] in TOLD]
    assert len(found) <= 1
    return (found[0]["code"], found[0]["severity"], found[0]["message"]) if found else None


def by_label(share: float) -> tuple[str, str] | None:
    found = said(T, stock(**HEAVIER, labelled_strength=label(share)))
    return found and found[:2]


def test_a_stock_that_leaves_alkali_free_is_a_danger_though_its_interval_comes_near_the_label() -> None:
    """Found 49.0 % for a label of 46.5 %: 5.4 % more alkali in each batch, where 5.26 % eat a superfat of 5 % up."""
    strength = ask(T, OF_49)["strength"]["mass_fraction"]
    assert strength["value"] == pytest.approx(0.490, abs=1e-4)
    assert strength["low"] < 1.05 * 0.465
    found = said(T, OF_49 | {"labelled_strength": {"mass_fraction": "46.5 %"}})
    assert found is not None
    assert found[:2] == ("not-for-use", "danger")
    # 0.95 * 49.0 / 46.5 is 1.0011, and with the upper end, 49.37 %, 1.0087
    assert "5.4 % stronger than its label (49 % for 46.5 %)" in found[2]
    assert "gets 0.1 % more alkali than its fats take, up to 0.9 %" in found[2]


def test_a_label_is_contradicted_as_soon_as_it_lies_outside_the_interval() -> None:
    low, high = STRENGTH["low"], STRENGTH["high"]
    assert by_label(low * 1.0001) is None
    assert by_label(high * 0.9999) is None
    assert by_label(low * 0.9999) == ("label-contradicts", "caution")
    assert by_label(high * 1.0001) == ("label-contradicts", "caution")


def test_a_stronger_stock_is_a_danger_from_where_the_end_of_its_interval_leaves_alkali_free() -> None:
    highest = STRENGTH["high"]
    assert by_label(0.95 * highest * 1.0001) == ("label-contradicts", "caution")
    assert by_label(0.95 * highest * 0.9999) == ("not-for-use", "danger")
    found = said(T, stock(**HEAVIER, labelled_strength=label(0.95 * highest * 0.999)))
    assert found is not None
    assert "of superfat, and 0.1 % more alkali than its fats take by the upper end" in found[2]


def test_a_weaker_stock_is_never_a_danger_of_alkali() -> None:
    for off in (1.02, 1.08, 1.3):
        found = said(T, stock(**HEAVIER, labelled_strength=label(STRENGTH["value"] * off)))
        assert found is not None
        assert found[1] == "caution"
        assert "weaker" in found[2]
        assert "of superfat." in found[2]


def test_what_a_batch_by_the_label_would_get_is_told() -> None:
    # 1 - 0.95 / 0.9 is -5.6 %; 1 - 0.95 * 0.9 is 14.5 %
    strong = said(T, stock(**HEAVIER, labelled_strength=label(STRENGTH["value"] * 0.9)))
    weak = said(T, stock(**HEAVIER, labelled_strength=label(STRENGTH["value"] / 0.9)))
    assert strong is not None
    assert weak is not None
    assert strong[:2] == ("not-for-use", "danger")
    assert weak[:2] == ("not-for-use", "caution")
    assert "gets 5.6 % more alkali than its fats take, up to" in strong[2]
    assert "gets 14.5 % of superfat" in weak[2]
    assert "Do not draw by the label" in weak[2]


def test_far_from_the_label_it_is_another_stock() -> None:
    found = said(T, stock(labelled_strength=label(0.30)))
    assert found is not None
    assert "nobody knows what it is" in found[2]


@pytest.mark.parametrize(
    ("share", "severity", "words"),
    [
        # By a scale of 2 degrees 42.8 to 50.6 %: of the label, 0.95 * 50.6 / 50 is 0.96, / 46 is 1.046, / 44 is 1.093
        (0.50, None, ""),
        (0.46, "caution", "3.5 % of superfat, and 4.6 % more alkali"),
        (0.44, "danger", "0.9 % more alkali than its fats take, up to 9.3 %"),
    ],
)
def test_an_assay_too_coarse_to_trust_the_label_by_is_told(share: float, severity: str | None, words: str) -> None:
    found = said(H, read(2, share))
    assert (found and found[:2]) == (severity and ("free-alkali-possible", severity))
    assert words in (found[2] if found else "")


def test_a_label_within_the_interval_of_a_coarse_hydrometer_is_not_off() -> None:
    assert cautions(ask(H, read(0.1, 0.50)))["not-for-use"]
    assert "not-for-use" not in cautions(ask(H, read(5, 0.50)))
    assert "label-contradicts" not in cautions(ask(H, read(5, 0.50)))


def test_a_label_that_is_met_is_not_spoken_of() -> None:
    assert by_label(STRENGTH["value"]) is None


@pytest.mark.parametrize("share", [0.001, 0.05, 0.3, 0.365, 0.383, 0.3835, 0.4, 0.52])
@pytest.mark.parametrize("tolerance", ["0.001 mL", "0.1 mL", "2 mL"])
def test_what_is_told_of_a_label_is_short_and_has_no_empty_figure(share: float, tolerance: str) -> None:
    found = said(T, stock(**HEAVIER, burette_tolerance=tolerance, labelled_strength=label(share)))
    if found:
        assert len(found[2]) <= 320
        assert " 0 %" not in found[2]


def test_a_label_that_cannot_be_is_refused() -> None:
    found = fault(T, stock(labelled_strength={"mass_fraction": "70 %"}), 422)
    assert str(found.pointer).startswith("/labelled_strength")
    assert found.code == "beyond-solubility"
