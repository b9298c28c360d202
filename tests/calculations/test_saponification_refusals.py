"""Recipes that cannot be, and how their refusals help."""

import pytest

from service.calculations.batch.fats import weighed_fats
from service.calculations.batch.saponification import calculate
from tests.calculations.asking import ask, fault, refusal
from tests.calculations.splitting import OWN

TESTED = (calculate, weighed_fats)
"""What these tests are of: mutants of its modules meet them first."""


@pytest.mark.parametrize(
    ("shares", "text"),
    [
        ([("NaOH", "mole_share", "60 %"), ("KOH", "mole_share", "30 %")], "90 %: 10 % are missing"),
        ([("NaOH", "mass_share", "60 %"), ("KOH", "mass_share", "60 %")], "120 %: 20 % are too much"),
        ([("NaOH", "mole_share", "60 %"), ("KOH", "mass_share", "40 %")], "by moles"),
        ([("NaOH", "mole_share", "60 %")], "60 %: 40 % are missing"),
    ],
)
def test_shares_of_alkalis_that_do_not_add_up_are_refused(shares: list[tuple[str, str, str]], text: str) -> None:
    alkalis = [{"alkali": alkali, form: share, "purity": "90 %"} for alkali, form, share in shares]
    found = fault("saponification", {"fats": [OWN], "alkalis": alkalis}, 422)
    assert (found.pointer, found.code) == ("/alkalis", "does-not-add-up")
    assert text in found.detail


def test_an_alkali_listed_twice_is_refused() -> None:
    found = fault("saponification", {"fats": [OWN], "alkalis": [{"alkali": "NaOH"}, {"alkali": "NaOH"}]}, 422)
    assert found.code == "contradiction"


def test_unknown_fats_and_acids_are_refused_together_with_what_may_be_meant() -> None:
    request = {
        "fats": [{"fat": "oliv-oil", "mass": "1 kg"}, {"fat": "olive-oil", "mass": "1 kg"}],
        "acids": [{"acid": "latic-acid", "mass": "5 g"}],
    }
    refused = refusal("saponification", request)
    assert refused.status == 422
    assert [(one.pointer, one.code) for one in refused.faults] == [
        ("/fats/0/fat", "unknown-identifier"),
        ("/acids/0/acid", "unknown-identifier"),
    ]
    assert "did you mean 'olive-oil'" in refused.faults[0].detail
    assert "'lactic-acid'" in refused.faults[1].detail


def test_fatty_acids_that_do_not_make_a_whole_are_refused() -> None:
    fat = dict(OWN, fatty_acids={"C18:1": "40 %"})
    found = fault("saponification", {"fats": [fat]}, 422)
    assert (found.pointer, found.code) == ("/fats/0/fatty_acids", "does-not-add-up")


@pytest.mark.parametrize("value", ["19 mg/g", "290 mg/g", "400 mg/g"])
def test_a_certificate_that_no_fat_comes_near_gets_a_word(value: str) -> None:
    """Of the catalogue's fats coconut oil takes most, to 265 mg/g (Codex), beside pure lauric acid (280).

    A slip from 190 to 290 mg/g would leave half as much alkali again, free in the soap.
    """
    said = {one["code"] for one in ask("saponification", {"fats": [dict(OWN, saponification_value=value)]})["cautions"]}
    assert {code for code in said if code.startswith("saponification-value")}


def test_a_value_outside_its_own_interval_is_refused() -> None:
    value = {"value": 190, "low": 1, "high": 2, "unit": "mg/g"}
    found = fault("saponification", {"fats": [dict(OWN, saponification_value=value)]}, 400)
    assert found.pointer == "/fats/0/saponification_value/value"


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("canola-oil", "rapeseed-oil"),
        ("corn-oil", "maize-oil"),
        ("peanut-oil", "groundnut-oil"),
        ("shea", "shea-butter"),
    ],
)
def test_a_fat_by_its_other_name_is_offered_first(said: str, meant: str) -> None:
    """The catalogue knows these names: maize oil (corn oil), rapeseed oil (canola oil)."""
    request = {"fats": [{"fat": said, "mass": "1 kg"}]}
    assert f"did you mean '{meant}'" in fault("saponification", request, 422).detail


def test_citric_acid_is_offered_for_citric_acid() -> None:
    request = {"fats": [OWN], "acids": [{"acid": "citric-acid", "mass": "5 g"}]}
    assert "did you mean 'citric-acid-anhydrous'" in fault("saponification", request, 422).detail


def test_a_scale_too_coarse_is_named_as_the_cause() -> None:
    found = fault("saponification", {"fats": [OWN], "scale_division": "2 kg"}, 422)
    assert found.pointer == "/scale_division"
    assert "outside 0 to inf" not in found.detail


def test_a_superfat_given_with_limits_is_refused_and_not_taken_as_exact() -> None:
    request = {"fats": [OWN], "superfat": {"low": 0.03, "high": 0.07, "unit": "1"}}
    assert fault("saponification", request, 400).pointer == "/superfat"


@pytest.mark.parametrize(("value", "looks"), [("110 mg/g", True), ("164 mg/g", True), ("166 mg/g", False)])
def test_between_110_and_165_a_certificate_looks_like_mg_naoh(value: str, looks: bool) -> None:
    answer = ask("saponification", {"fats": [dict(OWN, saponification_value=value)]})
    said = [one["message"] for one in answer["cautions"] if one["code"] == "saponification-value-unusual"]
    assert any("NaOH" in message for message in said) is looks
