"""Thinning a soap paste: by hand, from a batch and from a certificate, and what cannot be."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.batch.paste_batch import held
from service.calculations.batch.paste_dilution import calculate
from service.calculations.batch.paste_notes import caution_paste
from service.chemistry import molar_masses
from tests.calculations.asking import ask, cautions, fault

TESTED = (held, calculate, caution_paste)
"""What these tests are of: mutants of its modules meet them first."""
NAME = "paste-dilution"
OIL = {"name": "own oil", "mass": "1 kg", "saponification_value": "190 mg/g"}
POTASH = 190.0 * 0.98
BATCH: dict[str, Any] = {
    "fats": [OIL],
    "alkalis": [{"alkali": "KOH", "mass": f"{POTASH} g"}],
    "water_mass": "600 g",
}


def thinned(paste: str = "1.7 kg", wanted: Any = "20 %", **more: Any) -> dict[str, Any]:
    return ask(NAME, {"paste_mass": paste, "batch": BATCH, "wanted_soap_share": wanted} | more)


def test_soap_is_fat_and_alkali_less_glycerol() -> None:
    answer = thinned()
    glycerol = POTASH / (molar_masses.KOH * 1000) / 3 * molar_masses.GLYCEROL * 1000
    soap = 980 + POTASH - glycerol
    assert answer["paste_soap_share"]["value"] == pytest.approx(soap / 1700, rel=1e-9)
    assert answer["mass"]["value"] == pytest.approx(soap / 0.2, rel=1e-9)
    assert answer["water_to_add"]["value"] == pytest.approx(soap / 0.2 - 1700, rel=1e-9)
    assert answer["water_evaporated"]["value"] == pytest.approx(1600 + POTASH - 1700, rel=1e-9)
    assert answer["glycerol_share"]["value"] == pytest.approx(glycerol / (soap / 0.2), rel=1e-9)
    assert answer["fat_share"]["value"] == pytest.approx(20 / (soap / 0.2), rel=1e-9)
    assert answer["free_alkali_share"]["value"] == 0


def test_alkali_that_finds_no_fat_is_no_soap_and_a_danger() -> None:
    batch = BATCH | {"alkalis": [{"alkali": "KOH", "mass": "200 g"}]}
    answer = thinned(batch=batch)
    assert answer["free_alkali_share"]["value"] * answer["mass"]["value"] == pytest.approx(10.0, rel=1e-6)
    assert cautions(answer)["free-alkali-left"]["severity"] == "danger"


def test_a_share_that_is_told_is_thinned_by_its_own_balance() -> None:
    told = {"low": 0.38, "high": 0.42, "unit": "1"}
    request = {"paste_mass": "10 kg", "soap_share": told, "wanted_soap_share": "25 %"}
    answer = ask(NAME, request)
    assert answer["water_to_add"]["value"] == pytest.approx(6000)
    assert answer["water_to_add"]["low"] == pytest.approx(6000 - 0.95 * 800, rel=1e-3)  # 95 % of a rectangle
    assert "glycerol_share" not in answer


@given(st.floats(0.05, 0.5), st.floats(1.2, 1.78))
def test_the_soap_is_the_same_before_and_after(wanted: float, paste: float) -> None:
    answer = thinned(f"{paste!r} kg", wanted)
    before = answer["paste_soap_share"]["value"] * paste * 1000
    assert answer["soap_share"]["value"] * answer["mass"]["value"] == pytest.approx(before, rel=1e-9)
    assert answer["mass"]["value"] == pytest.approx(paste * 1000 + answer["water_to_add"]["value"], rel=1e-9)


def test_the_interval_covers_what_random_lots_hold() -> None:
    """95 % of lots within the limits (JCGM 101:2008, Monte Carlo)."""
    import numpy as np  # noqa: PLC0415 - this test alone needs it

    fat = OIL | {"saponification_value": {"low": 195, "high": 205, "unit": "mg/g"}}
    told = thinned(batch=BATCH | {"fats": [fat]})["water_to_add"]
    values = np.random.default_rng(20261125).uniform(195, 205, 100_000)
    done = POTASH / values
    glycerol = POTASH / (molar_masses.KOH * 1000) / 3 * molar_masses.GLYCEROL * 1000
    water = (1000 * done + POTASH - glycerol) / 0.2 - 1700
    covered = float(np.mean((water >= told["low"]) & (water <= told["high"])))
    assert 0.93 <= covered <= 0.98


@pytest.mark.parametrize(
    ("more", "pointer", "code"),
    [
        ({"wanted_soap_share": "80 %"}, "/wanted_soap_share", "contradiction"),
        ({"wanted_soap_share": 0}, "/wanted_soap_share", "out-of-range"),
        ({"paste_mass": "2 kg"}, "/paste_mass", "contradiction"),
        ({"paste_mass": "1 kg"}, "/paste_mass", "contradiction"),
        ({"batch": BATCH | {"alkalis": [{"alkali": "KOH", "mass": "90 g"}] * 2}}, "/batch/alkalis", "contradiction"),
        (
            {"batch": BATCH | {"acids": [{"acid": "citric-acid-anhydrous", "mass": "1 kg"}]}},
            "/batch",
            "contradiction",
        ),
        (
            {"paste_mass": "2 kg", "batch": BATCH | {"fats": [OIL | {"mass": {"low": 0.1, "high": 3, "unit": "kg"}}]}},
            "/batch/fats",
            "contradiction",
        ),
        ({"batch": BATCH | {"fats": [{"fat": "beeswax", "mass": "1 kg"}]}}, "/batch", "contradiction"),
    ],
)
def test_what_cannot_be_is_refused(more: dict[str, Any], pointer: str, code: str) -> None:
    request = {"paste_mass": "1.7 kg", "batch": BATCH, "wanted_soap_share": "20 %"} | more
    found = fault(NAME, request, 422)
    assert (found.pointer, found.code) == (pointer, code)


def test_the_interval_covers_what_the_weighing_of_the_alkali_leaves() -> None:
    """95 % of the soap by alkali known to 2 % (JCGM 101:2008, Monte Carlo); there is fat enough for all of it."""
    import numpy as np  # noqa: PLC0415 - as above

    weighed = {"value": 170.0, "uncertainty": 3.4, "unit": "g"}
    told = thinned(batch=BATCH | {"alkalis": [{"alkali": "KOH", "mass": weighed}]}, paste="1.6 kg")
    potash = np.random.default_rng(20261126).normal(170.0, 3.4, 100_000)
    glycerol = potash / (molar_masses.KOH * 1000) / 3 * molar_masses.GLYCEROL * 1000
    soap = 1000 * potash / 190 + potash - glycerol
    for name, values in (("water_to_add", soap / 0.2 - 1600), ("paste_soap_share", soap / 1600)):
        low, high = np.percentile(values, [2.5, 97.5])
        assert (told[name]["low"], told[name]["high"]) == pytest.approx((low, high), rel=0.01)
    assert told["fat_share"]["low"] < told["fat_share"]["value"] < told["fat_share"]["high"]


def test_where_fat_is_short_the_interval_of_the_soap_ends_at_what_the_alkali_makes() -> None:
    """Fats of 190 to 200 mg/g and alkali for 196: more fat than that makes no more soap."""
    fat = OIL | {"saponification_value": {"low": 190, "high": 200, "unit": "mg/g"}}
    told = thinned(batch=BATCH | {"fats": [fat], "alkalis": [{"alkali": "KOH", "mass": "196 g"}]})
    glycerol = 196 / (molar_masses.KOH * 1000) / 3 * molar_masses.GLYCEROL * 1000
    at_most = 1000 + 196 - glycerol
    assert told["paste_soap_share"]["high"] * 1700 == pytest.approx(at_most, rel=1e-3)
    assert told["free_alkali_share"]["low"] == 0
    # 190.25 mg/g, the end of 95 %, leave 5.75 g of 196 g free
    assert told["free_alkali_share"]["high"] * told["mass"]["value"] == pytest.approx(5.75, rel=0.01)
