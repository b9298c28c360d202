"""Alkali for fats: stoichiometry by hand, beside what the service answers."""

from typing import Any

import pytest

from service.calculations.batch.fat_notes import caution_fats
from service.calculations.batch.fat_yields import glycerol
from service.calculations.batch.fats import weighed_fats
from service.calculations.batch.saponification import calculate
from service.calculations.batch.saponification_notes import caution_saponification
from service.calculations.batch.saponification_steps import explain_saponification
from service.reference import reference_data
from tests.calculations.asking import Answer, ask, assumed, cautions
from tests.calculations.figures import CITRIC_ACID, GLYCEROL, KOH, KOH_PER_NAOH, NAOH, NORMAL_95

TESTED = (calculate, caution_saponification, explain_saponification, caution_fats, glycerol, weighed_fats)
"""What these tests are of: mutants of its modules meet them first."""
OWN = {"name": "own oil", "mass": "1000 g", "saponification_value": "190 mg/g"}
HYDROXIDE = 190 / KOH
"""mol that 1000 g of a fat of 190 mg/g take, 3.3865"""


def saponify(*fats: dict[str, Any], **more: Any) -> Answer:
    return ask("saponification", {"fats": list(fats or (OWN,)), **more})


def masses(answer: Answer) -> dict[str, float]:
    return {one["alkali"]: one["mass"]["value"] for one in answer["alkalis"]}


def own(low: float, high: float, mass: str = "1000 g") -> dict[str, Any]:
    return {"name": "own oil", "mass": mass, "saponification_value": {"low": low, "high": high, "unit": "mg/g"}}


def test_a_kilogram_of_190_at_five_per_cent_superfat_takes_128_68_g_of_naoh() -> None:
    """190 g KOH / 1.40275 = 135.448 g NaOH; of that 95 %."""
    by_hand = 1000 * 0.190 / KOH_PER_NAOH * 0.95
    assert by_hand == pytest.approx(128.676, abs=1e-3)
    answer = saponify(superfat="5 %")
    assert masses(answer) == {"NaOH": pytest.approx(128.676, abs=1e-3)}
    assert answer["superfat"]["value"] == pytest.approx(0.05, abs=1e-12)


def test_koh_without_superfat_is_what_the_saponification_value_says() -> None:
    """ISO 3657: mg of KOH for 1 g of fat."""
    assert masses(saponify(superfat=0, alkalis=[{"alkali": "KOH"}]))["KOH"] == pytest.approx(190, rel=1e-12)


def test_both_alkalis_by_moles_share_the_hydroxide() -> None:
    """60 % of 0.95 x 190 g KOH as NaOH, 40 % as KOH: 77.21 g and 72.2 g."""
    shares = [{"alkali": "NaOH", "mole_share": "60 %"}, {"alkali": "KOH", "mole_share": "40 %"}]
    found = masses(saponify(superfat="5 %", alkalis=shares))
    assert found["NaOH"] == pytest.approx(0.6 * 0.95 * 190 / KOH_PER_NAOH, rel=1e-6)
    assert found["KOH"] == pytest.approx(0.4 * 0.95 * 190, rel=1e-12)


def test_both_alkalis_by_mass_share_the_weight_not_the_hydroxide() -> None:
    """Equal masses m: m (1/39.997 + 1/56.105) = 0.95 x 3.3865 mol, m = 75.12 g."""
    each = 0.95 * HYDROXIDE / (1 / NAOH + 1 / KOH)
    assert each == pytest.approx(75.12, abs=0.01)
    shares = [{"alkali": "NaOH", "mass_share": "50 %"}, {"alkali": "KOH", "mass_share": "50 %"}]
    found = masses(saponify(superfat="5 %", alkalis=shares))
    assert found["NaOH"] == pytest.approx(each, rel=1e-6)
    assert found["KOH"] == pytest.approx(each, rel=1e-6)


def test_purity_raises_what_is_weighed_and_not_the_pure_mass() -> None:
    """128.676 g / 0.98 = 131.302 g."""
    one = saponify(superfat="5 %", alkalis=[{"alkali": "NaOH", "purity": "98 %"}])["alkalis"][0]
    assert one["mass"]["value"] == pytest.approx(128.676, abs=1e-3)
    assert one["mass_as_supplied"]["value"] == pytest.approx(131.302, abs=1e-3)


def test_naoh_of_unsaid_purity_is_taken_as_pure_and_that_is_told() -> None:
    answer = saponify(superfat="5 %")
    assert assumed(answer)["/alkalis/0/purity"] == "100 %"
    assert answer["alkalis"][0]["mass_as_supplied"]["value"] == answer["alkalis"][0]["mass"]["value"]


def test_koh_of_unsaid_purity_is_not_told_as_a_weight_of_flakes() -> None:
    answer = saponify(alkalis=[{"alkali": "KOH"}])
    assert "mass_as_supplied" not in answer["alkalis"][0]
    assert cautions(answer)["purity-missing"]["severity"] == "caution"
    assert not any(pointer.endswith("/purity") for pointer in assumed(answer))


def test_citric_acid_takes_alkali_that_superfat_does_not_reduce() -> None:
    """3 x 39.997 / 192.12 = 0.6245 g NaOH per g: 10 g take 6.245 g beyond the fats' 128.676 g."""
    per_gram = 3 * NAOH / CITRIC_ACID
    assert per_gram == pytest.approx(0.6245, abs=1e-4)
    answer = saponify(superfat="5 %", acids=[{"acid": "citric-acid-anhydrous", "mass": "10 g"}])
    assert answer["acid_demand"]["value"] == pytest.approx(10 * per_gram, rel=1e-5)
    assert masses(answer)["NaOH"] == pytest.approx(128.676 + 10 * per_gram, abs=2e-3)
    assert answer["superfat"]["value"] == pytest.approx(0.05, abs=1e-12)


@pytest.mark.parametrize(
    ("acid", "naoh_per_gram"),
    [
        ("citric-acid-monohydrate", 3 * NAOH / (CITRIC_ACID + 18.015)),
        ("lactic-acid-88", 0.88 * NAOH / 90.078),
        ("vinegar-5-percent", 0.05 * NAOH / 60.052),
        ("tartaric-acid", 2 * NAOH / 150.086),
    ],
)
def test_every_acid_takes_its_protons_worth(acid: str, naoh_per_gram: float) -> None:
    answer = saponify(acids=[{"acid": acid, "mass": "100 g"}])
    assert answer["acid_demand"]["value"] == pytest.approx(100 * naoh_per_gram, rel=1e-4)


def test_a_triglyceride_sets_a_third_of_its_hydroxide_free_as_glycerol() -> None:
    """0.95 x 3.3865 mol / 3 x 92.09 g/mol = 98.76 g."""
    assert saponify(superfat="5 %")["glycerol_mass"]["value"] == pytest.approx(
        0.95 * HYDROXIDE / 3 * GLYCEROL, rel=1e-5
    )


@pytest.mark.parametrize("fat", ["stearic-acid", "oleic-acid", "jojoba-oil", "beeswax", "wool-fat", "rosin"])
def test_what_is_no_glyceride_gives_no_glycerol(fat: str) -> None:
    assert saponify({"fat": fat, "mass": "100 g"})["glycerol_mass"]["value"] == 0


def test_free_acids_take_their_alkali_before_the_glycerides_do() -> None:
    """500 g of pure stearic acid (197.22 mg/g) are met in full, so the glyceride keeps all of the superfat."""
    answer = saponify(
        {"fat": "stearic-acid-pure", "mass": "500 g"},
        {"name": "own oil", "mass": "500 g", "saponification_value": "190 mg/g"},
        superfat="10 %",
    )
    acid, ester = 0.5 * 197.22, 0.5 * 190.0
    met = (0.9 * (acid + ester) - acid) / KOH
    assert answer["glycerol_mass"]["value"] == pytest.approx(met / 3 * GLYCEROL, rel=1e-5)


def test_contributions_and_acids_add_up_to_the_alkali() -> None:
    answer = saponify(
        {"fat": "olive-oil", "mass": "700 g"},
        {"fat": "coconut-oil", "mass": "300 g"},
        superfat="7 %",
        acids=[{"acid": "lactic-acid", "mass": "5 g"}],
    )
    parts = sum(one["alkali_mass"]["value"] for one in answer["contributions"])
    assert parts + answer["acid_demand"]["value"] == pytest.approx(masses(answer)["NaOH"], rel=1e-12)


def test_contributions_name_fat_mass_value_and_source() -> None:
    """Olive oil 184 to 196 mg/g: Codex Stan 33."""
    (one,) = saponify({"fat": "olive-oil", "mass": "700 g"})["contributions"]
    assert one["fat"] == "olive-oil"
    assert one["mass"] == {"value": 700, "unit": "g"}
    assert one["saponification_value"]["value"] == pytest.approx(190)
    assert one["saponification_value"]["low"] == pytest.approx(190 - 0.95 * 6)
    assert one["saponification_value"]["high"] == pytest.approx(190 + 0.95 * 6)
    assert one["source"] in reference_data().sources


def test_the_values_of_a_blend_are_means_by_mass() -> None:
    """0.7 x 190 + 0.3 x 256.5 = 209.95 mg/g (Codex Stan 33 and 210: 184 to 196 and 248 to 265)."""
    answer = saponify({"fat": "olive-oil", "mass": "700 g"}, {"fat": "coconut-oil", "mass": "300 g"})
    assert answer["saponification_value"]["value"] == pytest.approx(209.95)
    two = [
        {"name": "a", "mass": "1 kg", "saponification_value": "190 mg/g", "iodine_value": "80 g/100g"},
        {"name": "b", "mass": "3 kg", "saponification_value": "190 mg/g", "iodine_value": "10 g/100g"},
    ]
    assert saponify(*two)["iodine_value"]["value"] == pytest.approx(27.5)


def test_limits_come_in_rectangular_and_go_out_covering_95_per_cent() -> None:
    """185 to 195 mg/g: 95 % of a rectangle lie in 185.25 to 194.75."""
    answer = saponify(own(185, 195), superfat="5 %")
    value = answer["saponification_value"]
    assert (value["low"], value["high"]) == (pytest.approx(185.25), pytest.approx(194.75))
    mass = answer["alkalis"][0]["mass"]
    assert mass["low"] == pytest.approx(0.95 * 185.25 / KOH_PER_NAOH, rel=1e-6)
    assert mass["high"] == pytest.approx(0.95 * 194.75 / KOH_PER_NAOH, rel=1e-6)
    superfat = answer["superfat"]
    assert superfat["low"] == pytest.approx(1 - 0.95 * 190 / 185.25, rel=1e-6)
    assert superfat["high"] == pytest.approx(1 - 0.95 * 190 / 194.75, rel=1e-6)


@pytest.mark.parametrize(
    ("superfat", "probability"),
    [
        ("5 %", 0.0),  # 180.5 mg/g are met: below the lower limit
        ("1 %", (0.99 * 190 - 185) / 10),  # 188.1 of 185 to 195: 31 %
        (0, 0.5),
    ],
)
def test_probability_of_free_alkali_is_the_part_of_the_limits_below_what_is_met(
    superfat: object, probability: float
) -> None:
    found = saponify(own(185, 195), superfat=superfat)["free_alkali_probability"]
    assert found["value"] == pytest.approx(probability, abs=1e-9)


def test_a_measured_value_errs_as_the_normal_distribution() -> None:
    """190 +- 2 mg/g, 2 % superfat: 186.2 are met, 1.9 standard deviations below: 2.872 % (any normal table)."""
    fat = {
        "name": "own",
        "mass": "1 kg",
        "saponification_value": {"value": 190, "uncertainty": 2, "unit": "mg/g"},
    }
    answer = saponify(fat, superfat="2 %")
    assert answer["free_alkali_probability"]["value"] == pytest.approx(0.02872, abs=1e-5)
    assert answer["saponification_value"]["low"] == pytest.approx(190 - 2 * NORMAL_95, rel=1e-6)


def test_limits_of_the_purity_widen_the_superfat_alone_too() -> None:
    """97 to 99 %: the alkali met is 0.95 (1 +- 0.95 x 0.01/0.98), so the superfat is 4.08 to 5.92 %."""
    purity = {"low": 0.97, "high": 0.99, "unit": "1"}
    answer = saponify(superfat="5 %", alkalis=[{"alkali": "NaOH", "purity": purity}])
    half_width = 0.95 * 0.95 * 0.01 / 0.98
    assert answer["superfat"]["low"] == pytest.approx(0.05 - half_width, abs=1e-6)
    assert answer["superfat"]["high"] == pytest.approx(0.05 + half_width, abs=1e-6)


def test_the_step_of_the_scale_widens_the_superfat() -> None:
    """Net weighing to 1 g: 1/sqrt(6) = 0.408 g standard uncertainty, on 128.68 g alkali and 1000 g fat.

    Relative 0.3173 % and 0.0408 %, together 0.3199 %, times 0.95; a coverage factor lies between 1.64 and 1.96.
    """
    superfat = saponify(superfat="5 %", scale_division="1 g")["superfat"]
    standard = 0.95 * 0.003199
    assert 1.64 * standard < superfat["high"] - superfat["value"] < 1.97 * standard
    assert 1.64 * standard < superfat["value"] - superfat["low"] < 1.97 * standard


def test_own_fatty_acids_are_told_in_shorthand_by_mass() -> None:
    fat = dict(OWN, fatty_acids={"C18:1": "70 %", "C16:0": "30 %"})
    found = saponify(fat)["fatty_acids"]
    assert {code: share["value"] for code, share in found.items()} == {
        "C16:0": pytest.approx(0.3),
        "C18:1": pytest.approx(0.7),
    }


def test_pure_fatty_acids_blend_by_mass() -> None:
    found = saponify({"fat": "stearic-acid-pure", "mass": "300 g"}, {"fat": "oleic-acid", "mass": "100 g"})
    assert {code: share["value"] for code, share in found["fatty_acids"].items()} == {
        "C18:0": pytest.approx(0.75),
        "C18:1": pytest.approx(0.25),
    }


@pytest.mark.parametrize("fat", ["olive-oil", "coconut-oil", "lard", "shea-butter", "castor-oil"])
def test_shares_of_all_fatty_acids_add_up_to_the_whole(fat: str) -> None:
    shares = saponify({"fat": fat, "mass": "1 kg"})["fatty_acids"]
    assert sum(share["value"] for share in shares.values()) == pytest.approx(1, abs=1e-9)


def test_the_catalogue_holds_sixty_fats_and_all_are_answered() -> None:
    fats = reference_data().fats
    assert len(fats) >= 60
    answer = saponify(*({"fat": fat, "mass": "100 g"} for fat in fats))
    assert [one["fat"] for one in answer["contributions"]] == list(fats)
    for one in answer["contributions"]:
        value = one["saponification_value"]["value"]
        assert one["alkali_mass"]["value"] == pytest.approx(100 * 0.95 * value / 1000 / KOH_PER_NAOH, rel=1e-6)


@pytest.mark.parametrize("fat", reference_data().fats.values(), ids=lambda fat: fat.id)
def test_a_fat_known_from_memory_alone_says_so(fat: Any) -> None:
    answer = saponify({"fat": fat.id, "mass": "100 g"})
    said = [one["message"] for one in answer["cautions"] if one["code"] == "figure-from-memory"]
    assert bool(said) == (fat.saponification_value.evidence == "memory")
    assert answer["contributions"][0]["evidence"] == fat.saponification_value.evidence
    for message in said:
        assert fat.name in message
        assert "certificate" in message


@pytest.mark.parametrize("fat", ["jojoba-oil", "beeswax", "wool-fat", "wool-fat-hydrous"])
def test_a_wax_that_aqueous_alkali_hardly_saponifies_carries_its_caution(fat: str) -> None:
    answer = saponify({"fat": fat, "mass": "20 g"}, {"fat": "olive-oil", "mass": "980 g"})
    name = reference_data().fats[fat].name
    said = [one["message"] for one in answer["cautions"] if one["code"] == "aqueous-alkali-hardly-saponifies"]
    assert any(name in message and "free alkali" in message for message in said)


def test_alkali_that_a_wax_leaves_is_told_as_free_alkali() -> None:
    """900 g olive oil (190) and 100 g beeswax (95.5; Ph. Eur. 87 to 104): 0.95 x 180.55 g KOH against 171 g.

    If the wax takes none, the superfat of the oil is 1 - 171.52/171 = -0.3 %.
    """
    by_hand = 1 - 0.95 * (171 + 9.55) / 171
    assert by_hand == pytest.approx(-0.003, abs=1e-4)
    answer = saponify({"fat": "olive-oil", "mass": "900 g"}, {"fat": "beeswax", "mass": "100 g"}, superfat="5 %")
    said = cautions(answer)["aqueous-alkali-hardly-saponifies"]
    assert said["severity"] == "danger"
    assert "-0.3%" in said["message"].replace(" %", "%")


def test_defaults_that_were_used_are_told_and_those_that_were_not_are_not() -> None:
    told = assumed(saponify())
    assert told["/superfat"] == "5 %"
    assert told["/alkalis"] == "NaOH alone"
    given = assumed(saponify(superfat="6 %", alkalis=[{"alkali": "NaOH", "purity": "98 %"}]))
    assert not {"/superfat", "/alkalis", "/alkalis/0/purity"} & set(given)


def test_superfat_is_five_per_cent_where_none_is_given() -> None:
    assert masses(saponify()) == masses(saponify(superfat="5 %"))


def test_the_reference_comes_back_untouched() -> None:
    assert saponify(reference="  SKU-7 / Ölseife ")["reference"] == "  SKU-7 / Ölseife "
    assert "reference" not in saponify()


def test_own_fats_of_one_name_keep_their_own_fatty_acids() -> None:
    one = {"name": "x", "mass": "100 g", "saponification_value": "190 mg/g"}
    answer = saponify(dict(one, fatty_acids={"C18:1": 1}), dict(one, fatty_acids={"C16:0": 1}))
    shares = {code: share["value"] for code, share in answer["fatty_acids"].items()}
    assert shares == {"C16:0": pytest.approx(0.5, abs=0.01), "C18:1": pytest.approx(0.5, abs=0.01)}


def test_the_order_of_the_members_of_fatty_acids_changes_nothing() -> None:
    """An object of JSON has no order, and a fat told in two orders on two lines is one lot, whose errors add up."""
    value = {"low": 185, "high": 195, "unit": "mg/g"}
    acids = {"C18:1": 0.7, "C16:0": 0.2, "C18:2": 0.1}
    one = {"name": "x", "mass": "100 g", "saponification_value": value, "fatty_acids": acids}
    turned = dict(one, fatty_acids=dict(reversed(acids.items())))
    assert saponify(one) == saponify(turned)
    assert saponify(one, one) == saponify(one, turned)


def test_own_fats_of_one_name_keep_the_spread_of_their_own_iodine_value() -> None:
    """Half of each: half of the 5 g/100g of the one, and nothing of the other, whichever comes first."""
    own = {"name": "x", "mass": "100 g", "saponification_value": "190 mg/g"}
    exact = dict(own, iodine_value="82 g/100g")
    spread = dict(own, iodine_value={"value": 82, "uncertainty": 5, "unit": "g/100g"})
    for fats in ((exact, spread), (spread, exact)):
        assert saponify(*fats)["iodine_value"]["high"] == pytest.approx(82 + NORMAL_95 * 2.5)


@pytest.mark.parametrize("superfat", ["5 %", "3 %", 0])
def test_an_interval_holds_its_value_even_where_all_is_exact(superfat: object) -> None:
    figure = saponify(superfat=superfat)["superfat"]
    assert figure.get("low", figure["value"]) <= figure["value"] <= figure.get("high", figure["value"])


def test_without_any_spread_no_superfat_is_an_even_chance_whatever_the_mass() -> None:
    found = {
        saponify({"name": "own", "mass": f"{mass} g", "saponification_value": f"{value} mg/g"}, superfat=0)[
            "free_alkali_probability"
        ]["value"]
        for mass, value in [(100, 191), (200, 192), (700, 197), (1234.5, 188.3)]
    }
    assert found == {0.5}


def test_an_alkali_with_no_share_is_left_out() -> None:
    shares = [{"alkali": "NaOH", "mole_share": 1}, {"alkali": "KOH", "mole_share": 0}]
    answer = saponify(alkalis=shares)
    assert list(masses(answer)) == ["NaOH"]
    assert "purity-missing" not in cautions(answer)


def test_a_batch_of_wax_alone_is_told_to_leave_its_alkali_free() -> None:
    answer = saponify({"fat": "beeswax", "mass": "100 g"})
    assert cautions(answer)["aqueous-alkali-hardly-saponifies"]["severity"] == "danger"


def test_fats_of_unknown_fatty_acids_alone_have_no_rest_to_speak_of() -> None:
    messages = [one["message"] for one in saponify()["cautions"]]
    assert not any("of the rest" in message for message in messages)


def test_wax_that_may_take_no_alkali_counts_in_the_probability_of_free_alkali() -> None:
    """80 % olive, 20 % jojoba: without the jojoba there is 7 % more alkali than the olive oil takes."""
    olive, jojoba = {"fat": "olive-oil", "mass": "800 g"}, {"fat": "jojoba-oil", "mass": "200 g"}
    assert saponify(olive, jojoba)["free_alkali_probability"]["value"] > 0.9
    assert saponify(olive)["free_alkali_probability"]["value"] < 0.01


@pytest.mark.parametrize(("jojoba", "severity"), [("20 g", None), ("100 g", "danger")])
def test_wax_that_may_leave_free_alkali_is_told_with_how_likely_that_is(jojoba: str, severity: str | None) -> None:
    """100 g in 1100 g: 0.95 x (6.43 + 135.4) g NaOH are 99.5 % of what 1000 g olive oil take, known to 3 %."""
    answer = saponify({"fat": "olive-oil", "mass": "1000 g"}, {"fat": "jojoba-oil", "mass": jojoba})
    probability = answer["free_alkali_probability"]["value"]
    said = [one for one in answer["cautions"] if "with a probability of" in one["message"]]
    assert [one["severity"] for one in said] == ([severity] if severity else [])
    if severity is None:
        assert probability < 0.01
    else:
        assert f"with a probability of {probability * 100:.0f} %" in said[0]["message"]


def test_lines_of_one_lot_err_together_however_their_figures_are_said() -> None:
    """23.823805811199815 % is 0.23823805811199815 but for the last bit, and such lines are one lot."""

    def lot(mass: str, share: object) -> dict[str, Any]:
        return {
            "name": "own lot",
            "mass": mass,
            "saponification_value": "190 mg/g",
            "iodine_value": {"value": 84, "uncertainty": 0.5, "unit": "g/100g"},
            "fatty_acids": {"C18:1": share, "C16:0": "70 %"},
        }

    whole = ask("saponification", {"fats": [lot("2 kg", 0.23823805811199815)]})
    for share in ("23.823805811199815 %", 0.23823805811199813, 0.23823805811199818):
        halves = ask("saponification", {"fats": [lot("1 kg", 0.23823805811199815), lot("1 kg", share)]})
        assert halves["iodine_value"]["low"] == pytest.approx(whole["iodine_value"]["low"], rel=1e-9)
