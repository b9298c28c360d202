"""What a cooling says of hot stock, of its vessel and of crystals is what it answers."""

import re

import pytest

from service.calculations.keeping.cooling_notes import BURNS_AT_A_TOUCH
from tests.calculations.asking import ask, cautions, message_of
from tests.calculations.caution_cases_of_cooling import K, bath, cooling


@pytest.mark.parametrize(
    ("to", "severity"), [("38 °C", None), ("39 °C", "caution"), ("89 °C", "caution"), ("90 °C", "danger")]
)
def test_what_is_cooled_too_little_is_a_danger_where_it_flashes(to: str, severity: str | None) -> None:
    """Stock of 29 to 38 °C is usual where it meets fats (common practice, no source)."""
    found = cautions(ask(K, cooling("95 °C", to))).get("stock-hot")
    assert (None if found is None else found["severity"]) == severity


def test_a_vessel_burns_at_a_touch_from_where_it_is_told() -> None:
    """ISO 13732-1 has 48 °C for a contact of ten minutes (from memory)."""
    assert BURNS_AT_A_TOUCH == 48
    assert "hot-vessel" in cautions(ask(K, cooling("48 °C")))
    assert "hot-vessel" not in cautions(ask(K, cooling("47.9 °C")))


def test_a_vessel_of_no_known_limit_is_told_as_that() -> None:
    for vessel, given in (
        ({"material": "nickel"}, True),
        ({"material": "nickel", "maximum_temperature": "120 °C"}, False),
        ({"material": "hdpe"}, False),
        ({"material": "aluminium"}, False),  # which is none for caustic anyway
    ):
        answer = ask(K, cooling("55 °C", vessel=vessel))
        assert ("vessel-limit-unknown" in cautions(answer)) is given
        assert ("vessel_limit" not in answer) is (given or vessel["material"] == "aluminium")


@pytest.mark.parametrize("w", ["50 %", "47 %", "45 %"])
def test_where_crystals_form_is_told_to_a_tenth_of_a_kelvin(w: str) -> None:
    answer = ask(K, cooling(to="12 °C", w=w, around=bath("ice-bath")))
    first = answer["first_solid_temperature"]
    (store,) = re.findall(
        r"from ([\d.]+) °C \(([\d.]+) °F\)\), first at the wall", message_of(answer, "crystallises-in-store")
    )
    assert float(store[0]) == round(first["value"], 1)
    assert float(store[1]) == round(1.8 * first["value"] + 32, 1)
    held = re.findall(
        r"\(from ([\d.]+) °C .*, at most ([\d.]+) °C",
        cautions(answer).get("crystals-in-solution", {}).get("message", ""),
    )
    assert bool(held) is (first["high"] > 12)
    for low, most in held:
        assert (float(low), float(most)) == (round(first["value"], 1), round(first["high"], 1))
