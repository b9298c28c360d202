"""What an address says of a share is a number there: 0.05 is what 5 % is, as in the body of a request."""

import pytest

from service.calculations.shared.faults import Refusal
from service.calculations.values.value_registry import values

OLIVE = {"fats": "olive-oil:500 g"}
SPLIT = {"alkali_mass": "100 g", "strength": "50 %"}


@pytest.mark.parametrize(
    ("name", "given", "parameter", "number", "text"),
    [
        ("alkali-mass", OLIVE, "superfat", "0.05", "5 %"),
        ("alkali-mass", OLIVE, "superfat", " 0 ", "0 %"),
        ("added-liquid", SPLIT, "water_ratio", "2", "2:1"),
        ("added-liquid", SPLIT, "water_ratio", "2.5 ", "2.5:1"),
    ],
)
def test_a_plain_number_is_the_share_or_the_ratio_that_it_is(
    name: str, given: dict[str, str], parameter: str, number: str, text: str
) -> None:
    plain, written = (values()[name].find(given | {parameter: said}).told for said in (number, text))
    assert (plain.value, plain.low, plain.high) == (written.value, written.low, written.high)


def test_a_plain_number_is_no_mass() -> None:
    with pytest.raises(Refusal) as found:
        values()["added-liquid"].find(SPLIT | {"total_liquid": "400"})
    assert [(one.code, one.parameter) for one in found.value.faults] == [("bare-number", "total_liquid")]
