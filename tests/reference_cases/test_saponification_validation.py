"""The rows of the table of deviations lie within what their sources print."""

import pytest

from tests.reference_cases.rows import ValidationRow
from tests.reference_cases.saponification_validation import cases, validation_rows


@pytest.mark.parametrize(("row", "tolerance"), cases(), ids=lambda given: getattr(given, "quantity", ""))
def test_figure_agrees_with_its_source(row: ValidationRow, tolerance: float) -> None:
    assert abs(row.deviation) <= tolerance, row


def test_every_row_names_its_source_and_its_own_deviation() -> None:
    rows = validation_rows()
    assert len(rows) >= 20
    for row in rows:
        assert row.source
        assert row.unit
        assert row.deviation == row.ours - row.reference
