"""Limits of what a batch is stirred together from: at what they name, and beyond it by what rounding leaves."""

import pytest

from service.calculations.batch.blend_reading import content_of, read_liquids
from service.chemistry.ranges import ROUNDING
from tests.calculations.test_blend_parts import ICE, WATER, told, told_fault

TESTED = (read_liquids,)
"""What these tests are of: mutants of its module meet them first."""


@pytest.mark.parametrize(("liquid", "limit", "beyond"), [(WATER, 100.0, 1.0), (ICE, -28.0, -1.0)], ids=["hot", "cold"])
def test_what_rounding_leaves_beyond_a_limit_is_taken_as_the_limit(
    liquid: dict[str, object], limit: float, beyond: float
) -> None:
    """The description names -28 to 100 °C; a temperature that was reckoned in another unit may miss them by bits."""
    some = liquid | {"mass": "20 g"}
    at, bits, more = (limit + times * beyond * ROUNDING for times in (0, 1, 5))
    answer = told(liquids=[some | {"temperature": f"{at!r} °C"}])
    assert told(liquids=[some | {"temperature": f"{bits!r} °C"}])["temperature"] == answer["temperature"]
    assert told_fault(liquids=[some | {"temperature": f"{more!r} °C"}]).pointer == "/liquids/0/temperature"


def test_a_syrup_may_be_frozen_from_where_it_begins_to_freeze() -> None:
    begins = content_of("maple-syrup").freezing
    assert -28 < begins < -10
    syrup = {"liquid": "maple-syrup", "mass": "10 g", "frozen": True}
    assert told(liquids=[syrup | {"temperature": f"{begins!r} °C"}])["temperature"]["value"] > 0
    found = told_fault(liquids=[syrup | {"temperature": f"{begins + 0.01!r} °C"}])
    assert (found.pointer, found.code) == ("/liquids/0/frozen", "contradiction")
