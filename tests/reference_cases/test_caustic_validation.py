"""The rows of the table of deviations of caustic solutions lie within their tolerances, or are named as outside."""

import pytest

from tests.reference_cases.caustic_validation import cases, known_disagreements, validation_rows
from tests.reference_cases.rows import ValidationRow


@pytest.mark.parametrize(("row", "tolerance"), cases(), ids=lambda given: getattr(given, "quantity", ""))
def test_figure_agrees_with_its_source(row: ValidationRow, tolerance: float) -> None:
    assert abs(row.deviation) <= tolerance, row


@pytest.mark.parametrize(("row", "half_width"), known_disagreements(), ids=lambda given: getattr(given, "quantity", ""))
def test_a_named_disagreement_is_one(row: ValidationRow, half_width: float) -> None:
    assert abs(row.deviation) > half_width, row


def test_every_row_names_its_source_and_its_own_deviation() -> None:
    rows = validation_rows()
    assert len(rows) >= 20
    assert len({row.quantity for row in rows}) == len(rows)
    for row in rows:
        assert row.source
        assert row.unit
        assert row.deviation == pytest.approx(row.ours - row.reference, abs=1e-9)
