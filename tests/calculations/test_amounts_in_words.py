"""Amounts in words and in marks of inches: what they say, by the foot of twelve inches, and what says nothing."""

import pytest

from service.calculations.shared import units
from service.calculations.shared.given import Length
from service.calculations.shared.loose_units import in_words


@pytest.mark.parametrize("text", ["", " ", "   "])
@pytest.mark.parametrize("kind", [units.LENGTH, units.MASS, units.TIME], ids=lambda kind: kind.name)
def test_blanks_are_no_amount(kind: units.Kind, text: str) -> None:
    assert in_words(kind, text) is None


@pytest.mark.parametrize(
    ("text", "metres"),
    # International yard and pound agreement 1959: 1 in = 25.4 mm, and a foot has twelve.
    [("5'", 5 * 0.3048), ('3"', 3 * 0.0254), ("5'3\"", 63 * 0.0254), (" 1.5' ", 0.4572), ("0'6''", 6 * 0.0254)],
)
def test_marks_of_feet_and_inches_are_offered_as_one_unit(text: str, metres: float) -> None:
    form = in_words(units.LENGTH, text)
    assert form is not None
    assert Length.read(form).value == pytest.approx(metres, rel=1e-9)
    assert in_words(units.MASS, text) is None
