"""Fats of a batch: what is read of them, what they leave of alkali, where they melt, and what is told of all that."""

import re
from math import inf
from typing import Any

import pytest

from service.calculations.batch.fat_notes import caution_free_alkali
from service.calculations.batch.fat_yields import risk
from service.calculations.batch.fats import WeighedFat, catalogue_fat
from service.calculations.batch.liquids import catalogue_liquid
from service.calculations.batch.melting import melting_figure, set_fats, solid_fats, unknown_melting
from service.calculations.batch.saponification import CALCULATION
from service.calculations.batch.saponification_notes import caution_saponification
from service.calculations.batch.saponification_steps import explain_saponification
from service.chemistry.uncertainty import EXACT
from service.reference import reference_data
from tests.calculations.asking import Answer, ask, cautions, fault, message_of, refusal
from tests.calculations.figures import GLYCEROL, KOH, NAOH, NORMAL_95
from tests.calculations.test_steps import redone

TESTED = (caution_free_alkali, risk, CALCULATION, caution_saponification, explain_saponification)
"""What these tests are of: mutants of its modules meet them first."""
OWN: dict[str, Any] = {"name": "own oil", "mass": "1 kg", "saponification_value": "190 mg/g"}
LIMITS = OWN | {"saponification_value": {"low": 185, "high": 195, "unit": "mg/g"}}
WAX, OLIVE = {"fat": "beeswax", "mass": "100 g"}, {"fat": "olive-oil", "mass": "900 g"}


def saponify(*fats: dict[str, Any], explain: bool = False, **more: Any) -> Answer:
    return ask("saponification", {"fats": list(fats or (OWN,)), **more}, explain=explain)


def weighed(*identifiers: str) -> list[WeighedFat]:
    return [WeighedFat(catalogue_fat(one), 0.1, EXACT) for one in identifiers]


def test_free_alkali_is_told_by_its_own_probability_whatever_that_is() -> None:
    """185 to 195 mg/g: 190 (1 - s) are met."""
    for superfat, probability in ((0.0, 50), (0.02, 12), (0.025, 2.5), (0.0242, 4)):
        answer = saponify(LIMITS, superfat=superfat)
        due = (190 * (1 - superfat) - 185) / 10
        assert answer["free_alkali_probability"]["value"] == pytest.approx(due, abs=1e-9)
        found = cautions(answer)["free-alkali-possible"]
        assert found["severity"] == ("danger" if due >= 0.1 else "caution")
        assert f"probability of {due * 100:.0f} %" in found["message"], probability
    assert "free-alkali-possible" not in cautions(saponify(LIMITS, superfat=0.0262))


def test_no_superfat_is_cautioned_where_all_is_exact_too() -> None:
    assert "probability of 50 %" in message_of(saponify(superfat=0), "free-alkali-possible")


@pytest.mark.parametrize(("pure", "likelier"), [(1.002, True), (1.005, True), (0.998, False)])
def test_alkali_that_is_likelier_free_than_not_is_told_as_what_the_batch_has(pure: float, likelier: bool) -> None:
    """1.002 of the need of 185 to 195 mg/g: 190.38 are met, and 53.8 % of lots take less."""
    mass = pure * 190 / KOH * NAOH
    draw = {"alkali": "NaOH", "mass": f"{mass / 0.5!r} g", "strength": {"mass_fraction": 0.5}}
    answer = ask("superfat-check", {"fats": [LIMITS], "stock_draws": [draw]})
    assert (answer["free_alkali_probability"]["value"] > 0.5) == likelier
    assert ("free-alkali-left" in cautions(answer)) == likelier
    assert ("free-alkali-possible" in cautions(answer)) != likelier


def test_wax_that_takes_nothing_leaves_its_share_in_the_lowest_superfat() -> None:
    """0.95 of 900 x 190 + 100 x 95.5 mg of KOH are met; the olive oil alone takes 171 g, at worst 900 x 184.3."""
    answer = saponify(OLIVE, WAX)
    met = 0.95 * (171 + 9.55)
    assert answer["superfat"]["low"] == pytest.approx(1 - met / (0.9 * 184.3), abs=5e-4)
    assert answer["superfat"]["value"] == pytest.approx(0.05)
    draw = {"alkali": "NaOH", "mass": f"{met / KOH * NAOH / 0.5} g", "strength": {"mass_fraction": 0.5}}
    checked = ask("superfat-check", {"fats": [OLIVE, WAX], "stock_draws": [draw]})
    assert checked["superfat"]["low"] == pytest.approx(answer["superfat"]["low"], abs=1e-4)
    free = checked["free_alkali"]
    assert (free["value"], free["low"]) == (0.0, 0.0)
    assert free["high"] == pytest.approx((met - 0.9 * 184.3) / KOH * NAOH, rel=0.02)


def test_of_wax_alone_all_alkali_that_acids_leave_may_be_free() -> None:
    draw = {"alkali": "NaOH", "mass": "10 g", "strength": {"mass_fraction": 0.5}}
    sour = [{"acid": "lactic-acid", "mass": "1 g"}]
    answer = ask("superfat-check", {"fats": [WAX], "stock_draws": [draw], "acids": sour})
    assert answer["free_alkali_probability"]["value"] == 1.0
    left = 5 - answer["acid_demand"]["value"]
    assert answer["free_alkali"]["high"] == pytest.approx(left, rel=1e-9)


@pytest.mark.parametrize("wax", ["5 g", "60 g", "300 g"])
def test_what_wax_may_leave_free_is_a_danger_as_its_probability_or_its_sign_says(wax: str) -> None:
    answer = saponify(OLIVE, WAX | {"mass": wax})
    found = [one for one in answer["cautions"] if one["message"].startswith("If the wax")]
    probability = answer["free_alkali_probability"]["value"]
    assert len(found) == 1
    negative = re.search(r"is (-?\S+) %", found[0]["message"])
    assert negative is not None
    free = float(negative[1]) < 0
    assert (found[0]["severity"] == "danger") == (free or probability >= 0.1)
    assert ("that is free alkali" in found[0]["message"]) == free
    if not free and probability >= 0.01:
        assert f"probability of {probability * 100:.0f} %" in found[0]["message"]


def test_glycerol_comes_of_triglycerides_by_their_share_of_all_esters() -> None:
    """Beeswax (95.5 mg/g) takes alkali as an ester and gives none: 0.95 of what the olive oil takes gives all."""
    answer = saponify(OLIVE, WAX)
    assert answer["glycerol_mass"]["value"] == pytest.approx(0.95 * 171 / KOH / 3 * GLYCEROL, rel=1e-4)
    assert saponify({"fat": "stearic-acid", "mass": "1 kg"})["glycerol_mass"]["value"] == 0


def test_free_acids_and_triglycerides_blend_by_the_mass_of_their_acids() -> None:
    """Triolein, 885.45 g/mol, gives three of oleic acid, 282.47: 0.957 of its mass."""
    oleic = 18 * 12.011 + 34 * 1.008 + 2 * 15.999
    triolein = 3 * oleic + GLYCEROL - 3 * (2 * 1.008 + 15.999)
    answer = saponify(OWN | {"fatty_acids": {"C18:1": 1}}, {"fat": "stearic-acid-pure", "mass": "1 kg"})
    assert answer["fatty_acids"]["C18:1"]["value"] == pytest.approx(1 / (1 + triolein / 3 / oleic), rel=1e-4)


def test_shares_of_acids_that_are_exact_have_no_interval() -> None:
    shares = saponify(OWN | {"fatty_acids": {"C18:1": "70 %", "C16:0": "30 %"}})["fatty_acids"]
    assert all("low" not in share for share in shares.values())
    assert "low" in saponify(OLIVE)["fatty_acids"]["C18:1"]


def test_the_part_of_the_fats_whose_acids_are_unknown_is_told_by_mass() -> None:
    """3 of 4 kg."""
    answer = saponify(OWN | {"mass": "3 kg"}, {"fat": "olive-oil", "mass": "1 kg"})
    said = [one["message"] for one in answer["cautions"] if one["code"] == "composition-incomplete"]
    assert any("of 75 % of the fats" in one for one in said)


@pytest.mark.parametrize(("share", "taken"), [(0.8, True), (1.0, True), (0.79, False)])
def test_acids_that_make_up_as_much_as_the_mending_says_are_taken(share: float, taken: bool) -> None:
    fat = OWN | {"fatty_acids": {"C18:1": share / 2, "C16:0": share / 2}}
    if taken:
        shares = saponify(fat)["fatty_acids"]
        assert [one["value"] for one in shares.values()] == pytest.approx([0.5, 0.5])
    else:
        found = fault("saponification", {"fats": [fat]}, 422)
        assert "80 % to 102 % is taken" in found.mend


@pytest.mark.parametrize(("more", "taken"), [(0.02, True), (0.03, False)])
def test_acids_that_exceed_the_whole_by_rounding_are_taken(more: float, taken: bool) -> None:
    fat = OWN | {"fatty_acids": {"C18:1": 0.5, "C16:0": 0.5, "C18:0": more}}
    if taken:
        shares = saponify(fat)["fatty_acids"]
        assert sum(one["value"] for one in shares.values()) == pytest.approx(1)
    else:
        assert fault("saponification", {"fats": [fat]}, 422).code == "does-not-add-up"


@pytest.mark.parametrize("value", [12, 109, 111, 150, 164, 290])
def test_a_value_that_no_common_fat_has_is_told_as_it_was_given(value: int) -> None:
    answer = saponify(OWN | {"saponification_value": f"{value} mg/g"})
    message = message_of(answer, "saponification-value-unusual")
    assert message.startswith(f"own oil: {value} mg/g is ")
    assert ("looks like mg NaOH" in message) == (110 < value < 165)
    assert ("below every fat." in message) == (value < 110)
    assert ("above every common fat" in message) == (value > 265)


@pytest.mark.parametrize("value", [166, 190, 265])
def test_a_value_that_a_fat_of_the_catalogue_has_is_not_unusual(value: int) -> None:
    assert "saponification-value-unusual" not in cautions(saponify(OWN | {"saponification_value": f"{value} mg/g"}))


def test_a_value_with_a_spread_is_not_told_to_have_none() -> None:
    assert "saponification-value-taken-as-exact" not in cautions(saponify(LIMITS))
    assert "saponification-value-taken-as-exact" in cautions(saponify())


def test_unknown_fats_are_told_each_at_its_place() -> None:
    fats = [OWN, {"fat": "hair-oil", "mass": "1 g"}, OLIVE, {"fat": "sun-oil", "mass": "1 g"}]
    assert [one.pointer for one in refusal("saponification", {"fats": fats}).faults] == ["/fats/1/fat", "/fats/3/fat"]


@pytest.mark.parametrize("fat", [one for one in reference_data().fats if melting_figure(one) is not None])
def test_a_fat_is_solid_below_what_it_melts_from_and_liquid_at_what_it_melts_to(fat: str) -> None:
    figure = melting_figure(fat)
    assert figure is not None
    ends = [one for one in (figure.low, figure.high) if abs(one) < inf]
    states = {"solid", "partly-solid", "may-be-solid"}
    (below,) = solid_fats(weighed(fat), min(ends) - 1)
    assert below.state in states
    assert below.mass.value == 0.1
    if figure.low > -inf:
        assert below.state == "solid"
    if figure.high < inf:
        assert solid_fats(weighed(fat), figure.high) == []
        assert set_fats(weighed(fat), [figure.high]) == []
    else:
        assert [one.state for one in solid_fats(weighed(fat), figure.low + 1)] == ["may-be-solid"]
        assert set_fats(weighed(fat), [figure.low + 1]) == []
    if -inf < figure.low < figure.high < inf:
        between = (figure.low + figure.high) / 2
        assert [one.state for one in solid_fats(weighed(fat), between)] == ["partly-solid"]
    ((name, melting),) = set_fats(weighed(fat), [min(ends) - 1])
    assert name == fat
    assert min(ends) - 1 <= melting.low <= melting.high <= max(ends)


def test_fats_that_are_liquid_or_unknown_do_not_hide_those_that_come_after_them() -> None:
    fats = weighed("castor-oil", "sunflower-oil", "shea-butter", "palm-stearin", "coconut-oil")
    assert [one.fat for one in solid_fats(fats, 22.0)] == ["palm-stearin", "shea-butter", "coconut-oil"]
    assert [name for name, _ in set_fats(fats, [22.0] * 5)] == ["shea-butter", "palm-stearin", "coconut-oil"]
    assert unknown_melting(fats) == ["sunflower-oil"]


@pytest.mark.parametrize("liquid", reference_data().liquids)
def test_why_a_liquid_goes_to_the_fats_is_what_it_holds(liquid: str) -> None:
    """By the composition of the catalogue: half a per cent is a reason, of protein a tenth of one."""
    known, record = catalogue_liquid(liquid), reference_data().liquids[liquid]
    held = {"fat saponifies": record.fat.middle}
    held["alcohol boils"] = 0.0 if record.alcohol is None else record.alcohol.middle
    held["acid heats"] = 0.0 if record.acidity is None else record.acidity.mass_fraction.middle
    for words, share in held.items():
        if abs(share - 0.005) > 1e-6:
            assert (words in known.reason) == (share > 0.005)
    assert ("brown" in known.reason) == (
        known.holds_sugar or (not known.is_water and known.reason.startswith("what is"))
    )
    assert known.is_water == (record.group == "water")
    assert known.counted(whole=True) == 1.0
    assert known.counted(whole=False) == record.water.middle
    assert (known.density is None) == (record.density is None)
    assert (known.acid_evidence is None) == (record.acidity is None)
    assert any(one.code == "alcohol-in-batch" for one in known.cautions) == (record.alcohol is not None)
    assert any(one.code == "acid-unknown" for one in known.cautions) == record.acid_unknown


VAGUE_ACID = {"acid": "citric-acid-anhydrous", "mass": {"value": 20, "uncertainty": 1, "unit": "g"}}
MEASURED = OWN | {"saponification_value": {"value": 190, "uncertainty": 1, "unit": "mg/g"}}


@pytest.mark.parametrize(
    "request_",
    [
        {"fats": [OWN]},
        {"fats": [LIMITS], "superfat": 0},
        {"fats": [LIMITS], "superfat": "1 %"},
        {"fats": [MEASURED], "superfat": "1 %"},
        {"fats": [LIMITS, MEASURED], "superfat": "1 %", "acids": [VAGUE_ACID], "scale_division": "1 g"},
        {"fats": [OLIVE, {"fat": "coconut-oil", "mass": "300 g"}], "alkalis": [{"alkali": "KOH", "purity": "90 %"}]},
    ],
    ids=["exact", "limits-of-none", "limits", "measured", "all", "catalogue"],
)
def test_the_steps_of_a_saponification_can_be_redone_and_lead_to_what_is_answered(request_: dict[str, Any]) -> None:
    answer = ask("saponification", request_, explain=True)
    for step in answer["steps"]:
        again = redone(step)
        assert again is not None
        assert again == pytest.approx(step["result"]["value"], rel=1e-7, abs=1e-9), step["name"]
    found = {one["name"]: one["result"]["value"] for one in answer["steps"]}
    for side, end in (("lower", "low"), ("upper", "high")):
        assert found[f"{side} end of the superfat"] == pytest.approx(answer["superfat"][end], abs=1e-9)
    told = found.get("probability of free alkali", 0.0)
    assert told == pytest.approx(answer["free_alkali_probability"]["value"], abs=1e-9)
    assert found["hydroxide in all"] * answer["alkalis"][0]["mass"]["value"] > 0
    assert found["saponification value of the blend"] == pytest.approx(answer["saponification_value"]["value"])
    if "glycerol" in found:
        assert found["glycerol"] == pytest.approx(answer["glycerol_mass"]["value"])
    if "iodine_value" in answer:
        assert found["iodine value of the blend"] == pytest.approx(answer["iodine_value"]["value"])


@pytest.mark.parametrize("superfat", [0.25, 1 / 3, 0.5])
def test_a_superfat_that_is_seldom_meant_is_told_with_the_hundredth_of_it(superfat: float) -> None:
    message = message_of(saponify(superfat=superfat), "superfat-high")
    told = re.search(r"A superfat of (\S+) % .* If (\S+) % was meant, write '(\S+) %'", message)
    assert told is not None
    assert float(told[2]) == float(told[3]) == pytest.approx(float(told[1]) / 100, rel=1e-9)
    assert "superfat-high" not in cautions(saponify(superfat=superfat - 0.26 if superfat > 0.3 else 0.24))


def test_a_purity_is_told_as_it_was_given() -> None:
    exact = saponify(alkalis=[{"alkali": "NaOH", "purity": "98.55 %"}])
    assert "of NaOH, 98.55 %," in message_of(exact, "purity-taken-as-exact")
    limits = {"low": 0.97, "high": 0.99, "unit": "1"}
    assert "purity-taken-as-exact" not in cautions(saponify(alkalis=[{"alkali": "NaOH", "purity": limits}]))
    assert "purity-missing" in cautions(saponify(alkalis=[{"alkali": "KOH"}]))


def test_what_is_weighed_of_a_solid_is_as_vague_as_the_need_and_its_purity() -> None:
    """185 to 195 mg/g: 95 % lie within 2.5 % of the need, and so of the beads; weighing to 10 g adds 2 % of the fat."""
    beads = [{"alkali": "NaOH", "purity": "98 %"}]
    (one,) = saponify(LIMITS, alkalis=beads)["alkalis"]
    for end in ("low", "value", "high"):
        assert one["mass_as_supplied"][end] == pytest.approx(one["mass"][end] / 0.98, rel=1e-6)
    weighed_fat = OWN | {"mass": {"value": 2, "uncertainty": 0.02, "unit": "kg"}}
    (part,) = saponify(weighed_fat)["contributions"]
    mass = part["alkali_mass"]
    assert mass["value"] == pytest.approx(0.95 * 380 / KOH * NAOH, rel=1e-5)
    assert mass["high"] / mass["value"] - 1 == pytest.approx(NORMAL_95 * 0.01, rel=1e-4)


def test_where_no_iodine_value_is_printed_the_acids_of_a_fat_give_it() -> None:
    data = reference_data()
    unprinted = [name for name, fat in data.fats.items() if fat.iodine_value is None]
    given = {name for name in unprinted if catalogue_fat(name).iodine_value is not None}
    assert given == {name for name in unprinted if data.fats[name].fatty_acids and data.fats[name].kind != "wax"}
    assert given
