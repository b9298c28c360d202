"""Where reading turns from one answer to another: what is offered there can be read, and means what was written."""

import re

import pytest

from service.calculations.shared.faults import Faulty
from service.calculations.shared.given import Fraction, Mass, Purity, Ratio, Share, Superfat, Volume
from service.calculations.shared.reading import Given


def refused(kind: type[Given], said: object) -> Faulty:
    with pytest.raises(Faulty) as fault:
        kind.read(said)
    return fault.value


def offered(fault: Faulty) -> str:
    found = re.search(r"'([^']*)'", fault.mend)
    assert found is not None, fault.mend
    return found[1]


@pytest.mark.parametrize("said", ["0", "0.05", "0.5", "1"])
def test_a_share_in_quotes_of_at_most_the_whole_is_the_number_without_them(said: str) -> None:
    fault = refused(Fraction, said)
    assert Fraction.read(offered(fault)).value == pytest.approx(Fraction.read(float(said)).value)
    assert f"the number {said} without quotes" in fault.mend


@pytest.mark.parametrize("said", ["1.5", "5", "99", "100"])
def test_more_than_the_whole_in_quotes_is_per_cent(said: str) -> None:
    fault = refused(Fraction, said)
    assert Fraction.read(offered(fault)).value == pytest.approx(float(said) / 100)
    assert "without quotes" not in fault.mend


@pytest.mark.parametrize(("kind", "high"), [(Fraction, 100), (Superfat, 50)])
def test_what_no_share_can_be_is_told_with_the_range(kind: type[Given], high: int) -> None:
    for said in ("-0.5", "-5", str(high + 1)):
        assert f"give 0 to {high} %" in refused(kind, said).mend
    assert kind.read(f"{high} %").value == high / 100
    assert f"give 0 to {high} %" not in refused(kind, str(high)).mend


@pytest.mark.parametrize("length", [3, 39, 40])
def test_a_number_for_a_ratio_is_offered_with_all_of_its_digits(length: int) -> None:
    said = f"2.{'3' * (length - 2)}"
    assert offered(refused(Ratio, said)) == f"{said}:1"


@pytest.mark.parametrize("length", [5, 39, 40])
def test_a_comma_in_a_ratio_that_is_shown_whole_is_mended(length: int) -> None:
    fault = refused(Ratio, f"2,5{'0' * (length - 5)}:1")
    assert fault.code == "decimal-comma"
    assert Ratio.read(offered(fault)).value == 2.5


@pytest.mark.parametrize("said", ["2;1", "2-1", "two:one"])
def test_a_ratio_without_a_comma_has_no_decimal_comma(said: str) -> None:
    assert refused(Ratio, said).code == "unreadable-quantity"


@pytest.mark.parametrize("said", ["2:0", "2:0.0", "0:0"])
def test_a_ratio_to_no_alkali_is_refused(said: str) -> None:
    assert refused(Ratio, said).code == "out-of-range"


@pytest.mark.parametrize(
    ("said", "nothing"), [("0 g", True), ("-1 g", True), ("0.0001 mg", False), ("1000000 t", False)]
)
def test_only_a_mass_of_nothing_or_less_is_told_to_be_left_out(said: str, nothing: bool) -> None:
    assert ("leave the line out" in refused(Mass, said).mend) == nothing


@pytest.mark.parametrize(
    ("members", "told"),
    [
        (("low",), "low alone"),
        (("low", "unit"), "low and unit alone"),
        (("value", "low", "unit"), "low and unit and value together"),
    ],
)
def test_members_that_do_not_go_together_are_named(members: tuple[str, ...], told: str) -> None:
    fault = refused(Mass, {name: "g" if name == "unit" else 1 for name in members})
    assert fault.detail.endswith(f"is not told by {told}")


@pytest.mark.parametrize(
    ("said", "form"), [("1/2 lb", "0.5 lb"), ("3/4 kg", "0.75 kg"), ("2 1/4 kg", "2.25 kg"), ("0 1/2 lb", "0.5 lb")]
)
def test_a_broken_number_is_offered_as_a_decimal_one(said: str, form: str) -> None:
    assert offered(refused(Mass, said)) == form


@pytest.mark.parametrize(("kind", "said"), [(Fraction, 1), (Share, 1.0), (Purity, 0.5), (Purity, 1), (Superfat, 0.5)])
def test_the_ends_of_a_range_are_taken(kind: type[Given], said: float) -> None:
    assert kind.read(said).value == said


def test_ends_that_no_quantity_has_are_refused_where_they_do_not_count_too() -> None:
    """The ends that an answer gives a volume are taken back with it, and 1e300 L is none that an answer gives."""
    said = {"value": 0.5, "low": 0.4, "high": 0.6, "unit": "L"}
    assert not Volume.spread_counts
    assert Volume.read(said).value == pytest.approx(0.5e-3)
    assert refused(Volume, said | {"low": -1e300}).within == "/high"
    assert refused(Volume, said | {"high": 1e300}).within == "/high"
