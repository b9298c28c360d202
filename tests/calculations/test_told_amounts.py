"""Masses and volumes in messages: in both systems, rounded to the side that keeps what is said of them."""

import re
from decimal import Decimal
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.calculations.registry import calculations
from service.calculations.shared.given import Mass
from service.calculations.shared.notes import at_least, at_most, grams, kilograms, litres, weight
from tests.calculations.asking import ask
from tests.calculations.test_cautions import CASES
from tests.calculations.test_messages import CASES as REFUSED

# International yard and pound agreement 1959: lb = 0.45359237 kg, in = 25.4 mm; US gallon = 231 in3. NIST SP 811
# (2008), appendix B.8, lists the same.
POUND: Final = Decimal("0.45359237")
GALLON: Final = 231 * Decimal("0.0254") ** 3
IN_SI: Final = {
    "g": Decimal("0.001"),
    "kg": Decimal(1),
    "oz": POUND / 16,
    "lb": POUND,
    "mL": Decimal("0.000001"),
    "L": Decimal("0.001"),
    "US fl oz": GALLON / 128,
    "US gal": GALLON,
}


def both(told: str) -> tuple[Decimal, Decimal]:
    """The two amounts of a text, in SI."""
    match = re.fullmatch(r"(\d+(?:\.\d+)?) (g|kg|mL|L) \((\d+(?:\.\d+)?) (oz|lb|US fl oz|US gal)\)", told)
    assert match is not None, told
    return Decimal(match[1]) * IN_SI[match[2]], Decimal(match[3]) * IN_SI[match[4]]


@pytest.mark.parametrize(
    ("told", "text"),
    [
        (weight(0.117), "117 g (4.13 oz)"),
        (weight(0.0005), "0.5 g (0.0176 oz)"),
        (weight(0.5), "500 g (1.1 lb)"),
        (weight(0.45359237), "454 g (1 lb)"),
        (weight(2.5), "2.5 kg (5.512 lb)"),
        (weight(1110.0), "1110 kg (2447 lb)"),
        (weight(0.0), "0 g (0 oz)"),
        (at_least(0.4239), "424 g (15 oz)"),
        (at_least(0.1), "100 g (3.53 oz)"),
        (at_most(4.0), "4 kg (8.818 lb)"),
        (grams(0.0600001), "60.0001 g (2.11644 oz)"),
        (litres(0.02), "20 L (5.283 US gal)"),
        (litres(0.00025), "250 mL (8.454 US fl oz)"),
        (litres(0.0033741, "up"), "3.375 L (114.1 US fl oz)"),
        (litres(0.0025449, "down"), "2.544 L (86.05 US fl oz)"),
        (kilograms(31.234), "31.23 kg"),
    ],
)
def test_amounts_are_told_in_both_systems(told: str, text: str) -> None:
    assert told == text


@settings(max_examples=300, deadline=None)
@given(st.floats(1e-6, 1e6))
def test_what_is_needed_is_rounded_up_and_what_there_is_down_in_both_systems(amount: float) -> None:
    exact, noise = Decimal(amount), Decimal(amount) * Decimal("1e-11")
    for up, down in ((at_least, at_most), (_takes, _holds)):
        assert all(exact - noise <= one <= exact * Decimal("1.011") for one in both(up(amount)))
        assert all(exact * Decimal("0.989") <= one <= exact + noise for one in both(down(amount)))


def _takes(volume: float) -> str:
    return litres(volume, "up")


def _holds(volume: float) -> str:
    return litres(volume, "down")


@settings(max_examples=300, deadline=None)
@given(st.floats(1e-9, 1e8))
def test_an_amount_to_the_nearest_is_the_same_in_both_systems(amount: float) -> None:
    for told in (weight(amount), grams(amount), litres(amount)):
        assert all(abs(one / Decimal(amount) - 1) <= Decimal("0.0051") for one in both(told))


@given(st.floats(1e-3, 1e6))
def test_an_assumed_mass_can_be_sent(mass: float) -> None:
    assert Mass.read(kilograms(mass)).value == pytest.approx(mass, rel=5.1e-4)


ALONE: Final = re.compile(r"\d (?:g|kg|mL|L)\b(?! \()(?!/)")
"""A metric amount without its other half."""
METRIC_ONLY: Final = (
    "1.8 g of NaOH or 2.5 g of KOH",  # for each gram of carbon dioxide
    "1.36 L for each gram",
    "g/100 g",  # of an iodine value
    "20 to 40 mL of acid",  # of a burette, which is read in millilitres everywhere
)


def alone(message: str) -> bool:
    """Whether a message tells an amount in one system only."""
    for one in METRIC_ONLY:
        message = message.replace(one, "")
    return ALONE.search(message) is not None


def test_no_caution_tells_a_mass_or_a_volume_in_one_system_alone() -> None:
    requests: list[tuple[str, Any]] = [(case.name, case.request) for _, case in CASES]
    requests += [(name, one.request) for name, asked in calculations().items() for one in asked.examples]
    told = {one["message"] for name, request in requests for one in ask(name, request)["cautions"]}
    assert any("lb)" in one for one in told)
    assert any("US gal)" in one for one in told)
    assert [one for one in told if alone(one)] == []


def test_no_refusal_tells_a_computed_mass_or_volume_in_one_system_alone() -> None:
    """What is to be written is told as it is read; burettes and pipettes are read in millilitres everywhere."""
    cases = [case for case in REFUSED if case.status == 422 and case.calculation != "stock-assay/titration"]
    told = [text for case in cases for fault in case.faults for text in fault[2:]]
    assert any("US gal)" in one for one in told)
    assert [one for one in told if ALONE.search(re.sub(r"'[^']*'", "", one))] == []


@pytest.mark.parametrize("factor", [1.0, 12.345, 1234.5, 99999.9])
def test_the_longest_slip_keeps_to_the_length_of_a_caution(factor: float) -> None:
    """Two solids of twice the alkali: two slips with long names, and amounts of many digits."""
    fats = [{"name": "own oil", "mass": f"{factor} kg", "saponification_value": "190 mg/g"}]
    solid = {"alkali": "NaOH", "mass_as_supplied": f"{0.129 * factor:.6g} kg", "purity": 0.987}
    answer = ask("superfat-check", {"fats": fats, "solids": [solid, solid]})
    (slip,) = (one["message"] for one in answer["cautions"] if one["code"] == "slip-likely")
    assert "weighed as solid" in slip
    assert "one too many" in slip
    assert len(slip) <= 320
