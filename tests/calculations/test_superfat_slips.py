"""Slips that would explain a superfat far from any that is meant, reckoned by hand.

1 kg of oil of 190 mg/g (56.11 g/mol of KOH) takes 135.4 g of NaOH (40.00 g/mol), and 10 g of citric acid (192.12 g/mol,
three protons) 6.25 g.
"""

from typing import Any

import pytest

from tests.calculations.asking import ask, message_of
from tests.calculations.caution_cases_of_superfat import K, checked

NEEDED = 190 / 56.106 * 39.997
SOURED: dict[str, Any] = {"acids": [{"acid": "citric-acid-anhydrous", "mass": "10 g"}]}
BY_ACID = 10 / 192.12 * 3 * 39.997


def looks(draw: float, **more: Any) -> str:
    """What is said of so many grams drawn from a 50 % stock."""
    return message_of(ask(K, checked(f"{draw:.1f} g", **more)), "slip-likely")


def test_a_slip_is_named_with_the_superfat_that_the_batch_has_without_it() -> None:
    without = 1 - (1347.5 / 10 - BY_ACID) / NEEDED
    assert f"decimal point one place too far right in the alkali ({100 * without:.1f} %)" in looks(2695.0, **SOURED)


def test_what_is_too_much_leaves_the_acids_their_alkali() -> None:
    due = (NEEDED * 0.95 + BY_ACID) * 2
    assert f"{(2695 - due) / 1000:.3f} kg" in looks(2695.0, **SOURED)


@pytest.mark.parametrize(("superfat", "is_named"), [(0.095, True), (0.105, False)])
def test_no_slip_is_named_that_leaves_a_superfat_which_is_seldom_meant(superfat: float, is_named: bool) -> None:
    said = looks(20 * NEEDED * (1 - superfat))
    assert ("decimal point one place too far right" in said) is is_named


def test_alkali_of_stock_and_solid_is_told_as_it_was_weighed() -> None:
    said = looks(2000.0, solids=[{"alkali": "NaOH", "mass_as_supplied": "100 g"}])
    assert "of alkali as weighed are too much" in said
    assert "of stock are too much" in looks(2000.0)
