"""Titrations against published equivalents and a published titration.

JECFA, specification of sodium hydroxide (INS 524), and USP, Sodium Hydroxide (both read in reprints): each millilitre
of normal acid takes 40.00 mg of NaOH; each one between the end points tells 106.0 mg of Na2CO3.

EURACHEM/CITAC Guide CG 4 (QUAM), 3rd ed. 2012, examples A2 and A3 (source in quam.py): 15 mL of 0.10139(18) mol/L
hydrochloric acid take 14.89 mL of 0.10214(10) mol/L sodium hydroxide.
"""

import pytest

from service.chemistry.molar_masses import ALKALI, CARBONATE, Alkali
from service.chemistry.titration import Titration, assay, shares, weighed
from service.chemistry.uncertainty import normal
from tests.calculations.asking import ask
from tests.reference_cases import quam
from tests.reference_cases.titration_published import CARBONATE_AS_HYDROXIDE, EQUIVALENTS, quam_request


def test_equivalents_of_normal_acid_are_those_of_jecfa() -> None:
    found = assay("NaOH", Titration(1000.0, 9e-6, 10e-6), weighed(1e-3))
    hydroxide, carbonate = EQUIVALENTS
    assert found.total_alkali * 1000 / 10 == pytest.approx(hydroxide, abs=0.005)
    assert found.carbonate * 1000 == pytest.approx(carbonate, abs=0.05)


@pytest.mark.parametrize(("alkali", "factor"), CARBONATE_AS_HYDROXIDE.items())
def test_hydroxide_is_the_total_alkali_less_the_carbonate_as_hydroxide(alkali: Alkali, factor: float) -> None:
    """How a certificate's figures are taken apart: NaOH = A - 0.7547 Na2CO3, KOH = A - 0.8119 K2CO3 (computed)."""
    found = assay(alkali, Titration(1000.0, 23e-6, 25e-6), weighed(2.5e-3))
    assert found.total_alkali - found.hydroxide == pytest.approx(factor * found.carbonate, rel=1e-4)
    assert factor == pytest.approx(2 * ALKALI[alkali] / CARBONATE[alkali], abs=5e-5)


def test_the_titration_of_quam_is_found_the_other_way_round() -> None:
    """Their acid, their volumes: our molarity is that of A2, and our interval holds it."""
    answer = ask("stock-assay/titration", quam_request())
    assert answer["molarity"]["value"] == pytest.approx(0.10214, abs=5e-6)
    assert answer["molarity"]["low"] < quam.a2()[0] < answer["molarity"]["high"]


def test_shares_of_the_budget_are_those_of_example_a2() -> None:
    """The printed contributions squared."""
    printed = {name: value for name, value, _ in quam.A2_CONTRIBUTIONS}
    _, combined, contributions = quam.a2()
    from_ours, found = shares([(1.0, normal(contributions[name])) for name in printed])
    assert from_ours.standard_uncertainty == pytest.approx(combined.standard_uncertainty)
    due = [one**2 / 0.000100500722124**2 for one in printed.values()]
    assert found == pytest.approx(due, rel=1e-4)
