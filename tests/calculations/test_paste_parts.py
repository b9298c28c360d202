"""What a paste holds of soap, glycerol, fat and alkali, with free acids, two alkalis and acids; and what is refused."""

import re
from typing import Any

import numpy as np
import pytest

from service.calculations.batch.paste_batch import PasteBatch
from service.calculations.batch.paste_dilution import PasteDilutionRequest
from service.calculations.batch.paste_notes import caution_paste
from service.calculations.batch.paste_spread import ALL_OF, Reacting
from tests.calculations.asking import Answer, ask, cautions, fault, refusal
from tests.calculations.figures import CITRIC_ACID, GLYCEROL, KOH, NAOH, NORMAL_95, WATER

NAME = "paste-dilution"
TESTED = (PasteBatch, PasteDilutionRequest, caution_paste)
"""What these tests are of: mutants of its modules meet them first."""
OIL: dict[str, Any] = {"name": "own oil", "mass": "1 kg", "saponification_value": "190 mg/g"}
STEARIC = 18 * 12.011 + 36 * 1.008 + 2 * 15.999
"""g/mol, 284.48; one mole takes one of hydroxide and sets one of water free"""


def thinned(*alkalis: tuple[str, Any], paste: Any = "1.7 kg", wanted: object = "20 %", **more: Any) -> Answer:
    lines = [{"alkali": alkali, "mass": mass} for alkali, mass in alkalis]
    batch = {"fats": [OIL], "alkalis": lines, "water_mass": "700 g"} | more
    return ask(NAME, {"paste_mass": paste, "batch": batch, "wanted_soap_share": wanted})


def spread(value: float, uncertainty: float) -> dict[str, Any]:
    return {"value": value, "uncertainty": uncertainty, "unit": "g"}


@pytest.mark.parametrize("alkali", [0.9, 1.15])
def test_free_acids_two_alkalis_and_acids_leave_what_random_weighings_of_them_leave(alkali: float) -> None:
    """JCGM 101:2008, Monte Carlo, in grams and moles: 95 % of each part, where fat and where alkali is left over."""
    fats = [OIL | {"mass": spread(700, 7)}, {"fat": "stearic-acid-pure", "mass": spread(300, 6)}]
    soda, potash = alkali * 0.3 * 3.6, alkali * 0.7 * 3.6
    acids = [{"acid": "citric-acid-anhydrous", "mass": spread(10, 0.4)}]
    lines = [("NaOH", spread(soda * NAOH, soda * NAOH / 100)), ("KOH", spread(potash * KOH, potash * KOH / 80))]
    told = thinned(*lines, fats=fats, acids=acids)
    rng = np.random.default_rng(20261127)
    runs = 40_000
    oil, stearic, citric = rng.normal(700, 7, runs), rng.normal(300, 6, runs), rng.normal(10, 0.4, runs)
    brought = [rng.normal(soda, soda / 100, runs), rng.normal(potash, potash / 80, runs)]
    left = 1 - citric * 3 / CITRIC_ACID / sum(brought)
    hydroxide = (brought[0] * NAOH + brought[1] * KOH) * left
    esters, free = oil * 0.19 / KOH, stearic / STEARIC
    there, need = sum(brought) * left, esters + free
    done, used = np.minimum(1, there / need), np.minimum(1, need / there)
    glycerol = esters * done / 3 * GLYCEROL
    fat_left, alkali_left = (oil + stearic) * (1 - done), hydroxide * (1 - used)
    soap = (oil + stearic) * done + hydroxide * used - glycerol - free * done * WATER
    mass = told["mass"]["value"]
    shares = {
        "paste_soap_share": soap / 1700,
        "glycerol_share": glycerol / mass,
        "fat_share": fat_left / mass,
        "free_alkali_share": alkali_left / mass,
        "mass": soap / 0.2,
        "water_to_add": soap / 0.2 - 1700,
    }
    for name, values in shares.items():
        low, middle, high = np.percentile(values, [2.5, 50, 97.5])
        slack = 0.03 * (high - low) + 1e-12
        assert told[name]["value"] == pytest.approx(middle, rel=5e-3, abs=slack), name
        assert told[name].get("low", 0.0) == pytest.approx(low, abs=slack), name
        assert told[name].get("high", 0.0) == pytest.approx(high, abs=slack), name


def test_without_any_spread_nothing_has_an_interval_but_a_value() -> None:
    answer = thinned(("KOH", "186 g"))
    for name in ("paste_soap_share", "mass", "glycerol_share", "fat_share", "free_alkali_share", "water_to_add"):
        assert "low" not in answer[name], name


def test_what_an_input_changes_is_nothing_but_itself() -> None:
    assert Reacting() == (0.0,) * 6
    assert Reacting(soda=2.0).moved(Reacting(soda=0.5, acids=1.0), 3.0) == Reacting(soda=3.5, acids=3.0)


def test_acids_take_soda_and_potash_alike() -> None:
    whole = Reacting(fat_mass=1.0, esters=3.0, free_acids=0.5, soda=1.0, potash=2.0, acids=1.2)
    less = whole._replace(soda=0.6, potash=1.2, acids=0.0)
    assert [whole.becomes(what) for what in ALL_OF] == [pytest.approx(less.becomes(what)) for what in ALL_OF]
    together = whole.becomes("both")
    assert [together.fat, together.alkali] == pytest.approx([0.0, 0.0])


@pytest.mark.parametrize(
    ("alkali", "acid"),
    [(spread(186, 50), 1.0), (spread(186, 186), 1.0), (spread(186, 300), 1.0), ("186 g", spread(208, 8))],
)
def test_alkali_of_which_the_fats_may_get_hardly_any_is_too_vague(alkali: Any, acid: Any) -> None:
    """Of 186 g of potash 208 g of citric acid take 98 %; known to 4 %, they may take all of it."""
    acids = [{"acid": "citric-acid-anhydrous", "mass": acid if isinstance(acid, dict) else f"{acid} g"}]
    batch = {"fats": [OIL], "alkalis": [{"alkali": "KOH", "mass": alkali}], "water_mass": "1 kg", "acids": acids}
    found = fault(NAME, {"paste_mass": "1.7 kg", "batch": batch, "wanted_soap_share": "0.1 %"}, 422)
    assert (found.pointer, found.code) == ("/batch/alkalis", "contradiction")


def test_alkali_that_is_known_to_a_little_less_than_half_is_answered_for() -> None:
    share = thinned(("KOH", spread(186, 186 * 0.49 / NORMAL_95)), wanted="5 %")["paste_soap_share"]
    assert 0.5 < share["low"] / share["value"] < 0.52


def test_the_water_that_went_is_known_as_well_as_the_scale_that_weighed_batch_and_paste() -> None:
    """Four weighings to 10 g each: twice that, 95 %."""
    each = {"unit": "g", "uncertainty": 10}
    acids = [{"acid": "citric-acid-anhydrous", "mass": {"value": 20} | each}]
    fats = [OIL | {"mass": {"value": 1000} | each}]
    answer = thinned(("KOH", {"value": 186} | each), paste={"value": 1700} | each, fats=fats, acids=acids)
    gone = answer["water_evaporated"]
    assert gone["value"] == pytest.approx(1000 + 186 + 20 + 700 - 1700)
    assert gone["high"] - gone["value"] == pytest.approx(NORMAL_95 * 20, rel=1e-4)


def test_the_water_for_a_told_share_errs_with_the_paste_by_what_is_added_to_each_kilogram_of_it() -> None:
    paste = {"value": 2, "uncertainty": 0.02, "unit": "kg"}
    answer = ask(NAME, {"paste_mass": paste, "soap_share": "40 %", "wanted_soap_share": "25 %"})
    water = answer["water_to_add"]
    assert water["value"] == pytest.approx(2000 * (0.4 / 0.25 - 1))
    assert water["high"] - water["value"] == pytest.approx(NORMAL_95 * 20 * (0.4 / 0.25 - 1), rel=1e-4)
    assert water["value"] - water["low"] == pytest.approx(NORMAL_95 * 20 * (0.4 / 0.25 - 1), rel=1e-4)


def test_a_paste_that_would_have_to_dry_is_told_by_how_much() -> None:
    request = {"paste_mass": "1 kg", "soap_share": "40 %", "wanted_soap_share": "50 %"}
    said = re.search(r"would have to lose (\S+) g", fault(NAME, request, 422).detail)
    assert said is not None
    assert float(said[1]) == pytest.approx(1000 * (1 - 0.4 / 0.5), rel=1e-9)


def test_fats_that_are_known_to_half_of_themselves_are_too_vague_and_better_ones_are_not() -> None:
    vague, better = (OIL | {"mass": spread(1000, half / NORMAL_95)} for half in (520, 480))
    lines = [{"alkali": "KOH", "mass": "186 g"}]
    batch = {"fats": [vague], "alkalis": lines, "water_mass": "700 g"}
    request = {"paste_mass": "1.7 kg", "batch": batch, "wanted_soap_share": "20 %"}
    assert fault(NAME, request, 422).pointer == "/batch/fats"
    assert ask(NAME, request | {"batch": batch | {"fats": [better]}})["paste_soap_share"]["high"] > 0


def test_faults_of_a_batch_are_told_at_once_and_before_any_balance() -> None:
    batch = {
        "fats": [{"fat": "olive", "mass": "1 kg"}],
        "alkalis": [{"alkali": "KOH", "mass": "90 g"}] * 2,
        "water_mass": "1 g",
        "acids": [{"acid": "sour", "mass": "1 kg"}],
    }
    found = refusal(NAME, {"paste_mass": "1.7 kg", "batch": batch, "wanted_soap_share": "20 %"}).faults
    assert [one.pointer for one in found] == ["/batch/fats/0/fat", "/batch/acids/0/acid", "/batch/alkalis"]
    assert found[2].detail.startswith("KOH is listed twice")


@pytest.mark.parametrize("times", [1.02, 1.5, 3.0])
def test_a_batch_whose_acids_take_all_of_its_alkali_makes_no_paste(times: float) -> None:
    citric = {"acid": "citric-acid-anhydrous", "mass": f"{times * 100 / KOH * CITRIC_ACID / 3} g"}
    batch = {"fats": [OIL], "alkalis": [{"alkali": "KOH", "mass": "100 g"}], "water_mass": "1 kg", "acids": [citric]}
    found = fault(NAME, {"paste_mass": "1 kg", "batch": batch, "wanted_soap_share": "20 %"}, 422)
    assert found.pointer == "/batch"
    assert "its acids take all the alkali" in found.detail


@pytest.mark.parametrize(("soda", "potash", "gels"), [(70, 66, True), (70, 70, True), (66, 70, False), (0, 150, False)])
def test_a_paste_gels_where_its_alkali_is_soda_for_the_larger_part(soda: int, potash: int, gels: bool) -> None:
    alkalis = [(name, f"{mass} g") for name, mass in (("NaOH", soda), ("KOH", potash)) if mass]
    assert ("sodium-soap-gels" in cautions(thinned(*alkalis))) == gels


@pytest.mark.parametrize("scale", [1e-3, 1.0, 1e3])
def test_a_trace_of_free_alkali_is_no_danger_and_more_is_whatever_the_size_of_the_batch(scale: float) -> None:
    for more, told in ((0.0001, False), (0.01, True)):
        fats = [OIL | {"mass": f"{scale!r} kg"}]
        potash = ("KOH", f"{190 * (1 + more) * scale!r} g")
        answer = thinned(potash, fats=fats, paste=f"{1.7 * scale!r} kg", water_mass=f"{0.7 * scale!r} kg")
        assert ("free-alkali-left" in cautions(answer)) == told


def test_every_dilution_tells_of_hot_water_germs_eyes_and_local_codes() -> None:
    codes = set(cautions(thinned(("KOH", "186 g"))))
    assert codes >= {"thin-with-hot-water", "thinned-soap-spoils", "soap-stings-eyes", "local-codes-first"}


def test_the_steps_of_a_paste_are_balances_of_what_is_answered() -> None:
    batch = {"fats": [OIL], "alkalis": [{"alkali": "KOH", "mass": "186 g"}], "water_mass": "700 g"}
    request = {"paste_mass": "1.7 kg", "batch": batch, "wanted_soap_share": "20 %"}
    answer = ask(NAME, request, explain=True)
    steps = {one["name"]: one for one in answer["steps"]}
    share, gone, water = (steps[name] for name in ("share of soap in the paste", "water evaporated", "water to add"))
    assert share["result"]["value"] == answer["paste_soap_share"]["value"]
    assert gone["result"]["value"] == pytest.approx(answer["water_evaporated"]["value"])
    assert water["result"]["value"] == pytest.approx(answer["water_to_add"]["value"])
    assert [one["inputs"]["paste"]["value"] for one in (share, gone, water)] == pytest.approx([1700] * 3)
    assert share["inputs"]["soap"]["value"] / 1700 == pytest.approx(share["result"]["value"])
    assert gone["inputs"]["all_in"]["value"] == pytest.approx(1000 + 186 + 700)
