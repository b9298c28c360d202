"""What is noted while a request is calculated: everything once, and shares as a person writes them."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.shared.cautions import GROUNDS, caution, degrees
from service.calculations.shared.faults import MOST_FAULTS, Refusal
from service.calculations.shared.notes import Notes, missed, percent, points, weight
from service.calculations.shared.standing_cautions import BURNS, LOCAL_CODES

POUND = 0.45359237
"""Kilograms (international yard and pound agreement, 1959)."""


def test_a_caution_is_said_once_however_it_is_told() -> None:
    notes = Notes()
    for _ in range(2):
        notes.caution("water-ratio", "One.")
        notes.caution("water-ratio", "Two.")
        notes.tell(BURNS, LOCAL_CODES, BURNS)
        notes.caution(BURNS.code, BURNS.message)
        notes.tell(caution("water-ratio", "Two."), caution("water-ratio", "Three."))
        notes.caution("water-ratio", "Three.")
    assert [one.message for one in notes.cautions] == ["One.", "Two.", BURNS.message, LOCAL_CODES.message, "Three."]


@pytest.mark.parametrize("code", GROUNDS)
def test_a_caution_has_the_severity_and_the_basis_of_its_code_unless_others_are_named(code: str) -> None:
    ground = GROUNDS[code]  # type: ignore[index]
    usual = caution(code, "So.")  # type: ignore[arg-type]
    assert (usual.severity, usual.basis, usual.message) == (ground.severity, ground.basis, "So.")
    other = caution(code, "So.", "note" if ground.severity != "note" else "danger", "another basis")  # type: ignore[arg-type]
    assert other.severity != ground.severity
    assert other.basis == "another basis"


def test_unknown_identifiers_beyond_those_that_are_told_are_counted() -> None:
    notes = Notes()
    notes.stop_at_faults()  # nothing to stop at
    for number in range(MOST_FAULTS + 7):
        notes.unknown("liquids", f"qqqq{number}", f"/liquids/{number}/liquid")
    assert notes.untold == 7
    with pytest.raises(Refusal) as refused:
        notes.stop_at_faults()
    assert (refused.value.status, refused.value.count) == (422, MOST_FAULTS + 7)
    assert [one.pointer for one in refused.value.faults] == [
        f"/liquids/{number}/liquid" for number in range(MOST_FAULTS)
    ]
    assert notes.refuse("/a", "contradiction", "no", "yes").count == MOST_FAULTS + 8


def test_a_refusal_holds_what_was_noted_before() -> None:
    notes = Notes()
    notes.fault("/a", "contradiction", "one", "mend")
    assert [one.pointer for one in notes.refuse("/b", "does-not-add-up", "two", "mend").faults] == ["/a", "/b"]


def number(text: str) -> float:
    found = re.match(r"-?\d+(?:\.\d+)?", text)
    assert found is not None, text
    assert found[0] == "0" or not ("." in found[0] and found[0].endswith("0"))
    return float(found[0])


@given(st.floats(0, 1), st.integers(0, 4))
def test_a_share_is_told_to_the_decimals_that_are_asked_for(share: float, decimals: int) -> None:
    told = percent(share, decimals)
    assert told.endswith(" %")
    assert number(told) == pytest.approx(share * 100, abs=0.5001 * 10.0**-decimals)
    assert len(told.partition(" ")[0].partition(".")[2]) <= decimals


def test_a_share_is_told_to_a_tenth_of_a_per_cent_where_nothing_is_said() -> None:
    for share in (0.123, 0.4925, 0.5, 1.0, 0.05):
        assert number(percent(share)) == pytest.approx(share * 100, abs=0.05001)
    assert (percent(0.5), percent(1.0), percent(0.0), percent(0.125, 2)) == ("50 %", "100 %", "0 %", "12.5 %")


@given(st.floats(1e-9, 1), st.integers(0, 4))
def test_a_difference_of_shares_is_never_told_as_nothing(apart: float, decimals: int) -> None:
    told = points(apart, decimals)
    last = 10.0**-decimals
    if told.startswith("less than "):
        assert number(told.removeprefix("less than ")) == pytest.approx(last)
        assert apart * 100 < last
    else:
        assert number(told) == pytest.approx(apart * 100, abs=0.5001 * last)
        assert number(told) > 0
    assert told.endswith("percentage point" if told.startswith("1 ") else "percentage points")


def test_no_difference_is_told_as_none() -> None:
    assert points(0.0) == "0 percentage points"
    assert points(0.01) == "1 percentage point"
    assert points(0.02) == "2 percentage points"


@pytest.mark.parametrize(
    ("shares", "told"),
    [
        (0.9, ": 10 % are missing"),
        (1.2, ": 20 % are too much"),
        (0.0, ": 100 % are missing"),
        (3.0, ": 200 % are too much"),
    ],
)
def test_by_how_much_shares_miss_the_whole_is_told_with_its_side(shares: float, told: str) -> None:
    assert missed(shares) == told


@pytest.mark.parametrize(
    ("mass", "metric", "us"),
    [
        (0.9994, "g", "lb"),
        (1.0, "kg", "lb"),
        (1.5, "kg", "lb"),
        (POUND, "g", "lb"),
        (0.99 * POUND, "g", "oz"),
        (0.01, "g", "oz"),
    ],
)
def test_each_unit_takes_over_from_one_of_its_own_on(mass: float, metric: str, us: str) -> None:
    match = re.fullmatch(r"([\d.]+) (k?g) \(([\d.]+) (oz|lb)\)", weight(mass))
    assert match is not None
    assert (match[2], match[4]) == (metric, us)
    assert float(match[1]) * (1 if metric == "kg" else 1e-3) == pytest.approx(mass, rel=5e-3)
    assert float(match[3]) * (POUND if us == "lb" else POUND / 16) == pytest.approx(mass, rel=5e-3)


@pytest.mark.parametrize("mass", [1.23456, 12.3456, 0.123456, 0.0123456])
def test_a_heavy_mass_is_told_to_one_more_digit(mass: float) -> None:
    digits = [len(re.sub(r"\D", "", text).lstrip("0")) for text in re.findall(r"[\d.]+", weight(mass))]
    assert digits == ([4, 4] if mass >= 1 else [3, 3])


@given(st.floats(-273, 1000), st.integers(0, 3))
def test_a_temperature_is_the_same_on_both_scales(value: float, decimals: int) -> None:
    """°F = 1.8 °C + 32, and 1 K of difference is 1.8 °F (NIST SP 811, 2008, B.8)."""
    for told, zero in ((degrees(value, decimals), 32.0), (degrees(value, decimals, apart=True), 0.0)):
        match = re.fullmatch(r"(\S+) (?:°C|K) \((\S+) °F\)", told)
        assert match is not None
        assert float(match[1]) == pytest.approx(value, abs=0.51 * 10.0**-decimals, rel=1e-5)
        assert float(match[2]) == pytest.approx(value * 1.8 + zero, abs=0.51 * 10.0**-decimals, rel=1e-5)
        assert ("K" in told) == (zero == 0.0)


def test_a_temperature_is_told_in_whole_degrees_where_nothing_is_said_and_never_as_less_than_nothing_by_nothing() -> (
    None
):
    assert degrees(93.3) == "93 °C (200 °F)"
    assert degrees(6.2, apart=True) == "6 K (11 °F)"
    assert degrees(-0.04, 1) == "0 °C (31.9 °F)"
    assert degrees(-17.79, 1) == "-17.8 °C (0 °F)"
    assert degrees(-0.04, 1, apart=True) == "0 K (-0.1 °F)"
    assert degrees(-0.004, 1, apart=True) == "0 K (0 °F)"
