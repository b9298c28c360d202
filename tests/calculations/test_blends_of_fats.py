"""Iodine values of blends, and what every saponification says of caustic and of what it takes for granted."""

import pytest

from service.calculations.batch.saponification import calculate
from service.calculations.batch.saponification_notes import caution_saponification
from service.chemistry.fatty_acids import iodine_value_cd_1c_85
from service.reference import reference_data
from tests.calculations.asking import assumed, cautions
from tests.calculations.test_fat_parts import OWN, saponify

TESTED = (calculate, caution_saponification)
"""What these tests are of: mutants of its modules meet them first."""
EXACT = OWN | {"iodine_value": "80 g/100g"}


def test_a_fat_without_double_bonds_lowers_the_iodine_value_by_its_share() -> None:
    """Stearic acid, 18:0, takes up no iodine: of a quarter and of none but it."""
    stearic = {"fat": "stearic-acid-pure", "mass": "1 kg"}
    assert saponify(stearic)["iodine_value"]["value"] == 0
    assert saponify(EXACT | {"mass": "3 kg"}, stearic)["iodine_value"]["value"] == pytest.approx(60)


def test_an_iodine_value_has_an_interval_where_one_of_the_fats_has() -> None:
    """80 in 1 kg, and 80 to 90 in another: half of that spread is left in the blend, 95 % of a rectangle."""
    vague = OWN | {"name": "other oil", "iodine_value": {"low": 80, "high": 90, "unit": "g/100g"}}
    assert set(saponify(EXACT)["iodine_value"]) & {"low", "high"} == set()
    blend = saponify(EXACT, vague)["iodine_value"]
    assert blend["value"] == pytest.approx(82.5)
    assert blend["high"] - blend["value"] == pytest.approx(0.95 * 2.5)
    assert blend["value"] - blend["low"] == pytest.approx(0.95 * 2.5)


def test_every_saponification_tells_how_caustic_is_handled_and_what_is_taken_for_granted() -> None:
    answer = saponify()
    found = cautions(answer)
    assert {"alkali-burns", "rinse-with-water", "local-codes-first", "solid-into-water"} <= found.keys()
    assert "no free fatty acids" in assumed(answer)["/fats"]


def test_a_fat_whose_acids_give_another_iodine_value_than_is_printed_says_so() -> None:
    """By the factors of AOCS Cd 1c-85, which know all acids of the triglycerides that are printed so."""
    apart = {}
    for name, fat in reference_data().fats.items():
        answer = saponify({"fat": name, "mass": "1 kg"})
        said = [one["message"] for one in answer["cautions"] if "an iodine value of" in one["message"]]
        if said:
            shares = {code: share["value"] for code, share in answer["fatty_acids"].items()}
            printed = fat.iodine_value
            assert printed is not None
            by_factors = iodine_value_cd_1c_85(shares, reference_data().fatty_acids).iodine_value
            assert not printed.low <= by_factors <= printed.high
            assert f"of {by_factors * 100:.0f}." in said[0]
            apart[name] = said
    assert apart.keys() == {"almond-oil", "avocado-oil", "mutton-tallow"}
    (almond,) = apart["almond-oil"]
    assert "give an iodine value of 100.3 g/100 g, and 95 to 100 are printed" in almond
    blend = saponify({"fat": "almond-oil", "mass": "1 kg"}, {"fat": "avocado-oil", "mass": "1 kg"})
    told = {one["message"] for one in blend["cautions"]}
    assert {*apart["almond-oil"], *apart["avocado-oil"]} <= told
