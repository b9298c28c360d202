"""Lists of ingredients in the order of two laws, worked by hand from their texts, and the net mass.

Regulation (EC) No 1223/2009, Article 19(1)(g) (from memory): descending order of weight at the time they are added;
ingredients of less than 1 % in any order after those of more than 1 %; colorants in any order after the others.
21 CFR 701.3(f) (from memory): above 1 % in descending order of predominance; then what is not more than 1 %, without
regard to order; then colour additives, without regard to order.
"""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.orders.label_laws import LAWS, LawName
from service.calculations.orders.label_list import Kind, Material, listed
from service.calculations.orders.net_mass import net_mass
from service.reference import reference_data
from service.reference.label_names import LABEL_NAMES
from tests.calculations.asking import ask, fault, message_of, refusal
from tests.calculations.test_batch_sheet import ALKALI, KOH, NAME, SHEET, recipe

Line = tuple[str, float] | tuple[str, float, Kind]


def materials(*lines: Line) -> list[Material]:
    return [Material(one[0], one[1], one[2] if len(one) == 3 else "ingredient", "as-given") for one in lines]


def order(law: LawName, *lines: Line, whole: float = 100.0) -> list[tuple[str, bool]]:
    return [(one.inci_name, one.in_any_order) for one in listed(materials(*lines), whole, LAWS[law])]


FIRST: tuple[Line, ...] = (("Parfum", 3), ("Aqua", 20), ("Oil A", 60), ("Oil B", 17))
"""All above 1 %: by weight alone."""
COLOURED: tuple[Line, ...] = (("CI 77492", 2, "colour"), ("Salt", 0.4), ("Clay", 0.9), ("Oil", 70), ("Water", 26.7))
"""A colour of 2 % and two of less than 1 %."""
TIED: tuple[Line, ...] = (("Clay", 1), ("Salt", 0.6), ("Oil", 78), ("Water", 18), ("Scent", 1.4), ("Zinc Oxide", 1))
"""Two of exactly 1 %: under "less than 1 %" they keep their order, under "not more than 1 %" they need not."""


@pytest.mark.parametrize("law", ["eu-as-added", "eu-as-present", "us-as-added", "us-as-present"])
def test_above_one_per_cent_the_heaviest_come_first(law: LawName) -> None:
    """Article 19(1)(g), first sentence; 21 CFR 701.3(a)."""
    assert order(law, *FIRST) == [("Oil A", False), ("Aqua", False), ("Oil B", False), ("Parfum", False)]


@pytest.mark.parametrize("law", ["eu-as-added", "us-as-present"])
def test_colours_stand_last_however_much_there_is_of_them(law: LawName) -> None:
    """Article 19(1)(g), on colorants; 21 CFR 701.3(f)(3)."""
    due = [("Oil", False), ("Water", False), ("Clay", True), ("Salt", True), ("CI 77492", True)]
    assert order(law, *COLOURED) == due


def test_exactly_one_per_cent_keeps_its_order_in_the_european_union() -> None:
    """Article 19(1)(g): only "less than 1 %" may stand in any order."""
    due = [("Oil", False), ("Water", False), ("Scent", False), ("Clay", False), ("Zinc Oxide", False), ("Salt", True)]
    assert order("eu-as-added", *TIED) == due


def test_exactly_one_per_cent_may_stand_in_any_order_in_the_united_states() -> None:
    """21 CFR 701.3(f)(2): "not more than 1 percent"."""
    due = [("Oil", False), ("Water", False), ("Scent", False), ("Clay", True), ("Zinc Oxide", True), ("Salt", True)]
    assert order("us-as-added", *TIED) == due


@pytest.mark.parametrize("noise", [0.99999999999, 1.0, 1.00000000001])
def test_no_last_bit_decides_what_one_per_cent_is(noise: float) -> None:
    assert dict(order("eu-as-added", ("Clay", noise), ("Oil", 99)))["Clay"] is False
    assert dict(order("us-as-added", ("Clay", noise), ("Oil", 99)))["Clay"] is True


def test_allergens_are_named_above_a_hundredth_of_a_per_cent_in_the_european_union_alone() -> None:
    """Annex III of the Regulation: above 0.01 % in what is rinsed off (from memory)."""
    lines: tuple[Line, ...] = (
        ("Oil", 97),
        ("Parfum", 3),
        ("Linalool", 0.02, "allergen"),
        ("Limonene", 0.01, "allergen"),
    )
    assert order("eu-as-added", *lines) == [("Oil", False), ("Parfum", False), ("Linalool", True)]
    assert order("us-as-added", *lines) == [("Oil", False), ("Parfum", False)]


@given(
    lines=st.lists(
        st.tuples(st.sampled_from("abcdefgh"), st.floats(0.001, 50.0), st.sampled_from(["ingredient", "colour"])),
        min_size=1,
        max_size=12,
    ),
    law=st.sampled_from(sorted(LAWS)),
    seed=st.randoms(),
)
def test_the_order_of_the_recipe_decides_nothing_and_weights_fall(lines: list[Any], law: LawName, seed: Any) -> None:
    whole = sum(one[1] for one in lines)
    shuffled = list(lines)
    seed.shuffle(shuffled)
    first = listed(materials(*lines), whole, LAWS[law])
    second = listed(materials(*shuffled), whole, LAWS[law])
    assert [one.inci_name for one in first] == [one.inci_name for one in second]
    ordered = [one.share for one in first if not one.in_any_order]
    assert all(a >= b * (1 - 1e-9) for a, b in pairwise(ordered))
    assert sum(one.share for one in first) == pytest.approx(1.0)


OLIVE = {"fats": [{"fat": "olive-oil", "share": "70 %"}, {"fat": "coconut-oil", "share": "30 %"}]}


def labelled(law: LawName, **more: Any) -> dict[str, Any]:
    return ask(NAME, SHEET | recipe(**OLIVE) | {"label_law": law, "moisture_when_sold": "10 %"} | more)


def test_a_batch_is_listed_as_it_was_put_in() -> None:
    """Water: half of the stock and all of the water beside it."""
    answer = labelled("eu-as-added")
    due = ["Olea Europaea Fruit Oil", "Cocos Nucifera Oil", "Aqua", "Sodium Hydroxide"]
    assert [one["inci_name"] for one in answer["label"]] == due
    assert answer["label_text"] == ", ".join(due)
    assert "1223/2009" in answer["label_basis"]
    assert sum(one["share"]["value"] for one in answer["label"]) == pytest.approx(1.0)
    assert "assessor" in message_of(answer, "label-needs-assessor")
    assert labelled("us-as-added")["label"][2]["inci_name"] == "Water"


def test_a_batch_is_listed_as_it_is_in_the_bar() -> None:
    """By hand for one oil of 190 mg/g: of 1128.7 g dry, glycerol 98.8 g, fat 50 g, the rest soap; 125.4 g of water."""
    own = {"name": "own oil", "saponification_value": "190 mg/g", "share": 1}
    named = own | {"inci_name": "Own Oil", "soap_inci_name": "Sodium Ownate"}
    answer = labelled("eu-as-present", **recipe(fats=[named]))
    whole = (1000 + ALKALI) / 0.9
    glycerol = 190 / KOH * 0.95 / 3 * 92.094
    shares = {one["inci_name"]: one["share"]["value"] * whole for one in answer["label"]}
    assert shares == pytest.approx(
        {
            "Sodium Ownate": 950 + ALKALI - glycerol,
            "Aqua": whole / 10,
            "Glycerin": glycerol,
            "Own Oil": 50,
        },
        rel=1e-4,
    )


def test_an_american_list_has_the_names_that_are_used_there() -> None:
    """Latin with English, as is usual there (the nomenclature, from memory); vinegar in English alone."""
    sour = recipe(**OLIVE, acids=[{"acid": "vinegar-5-percent", "use_level": "1 %"}])
    assert labelled("us-as-added", **sour)["label_text"].startswith("Olea Europaea (Olive) Fruit Oil, Cocos Nucifera (")
    assert "Vinegar" in labelled("us-as-added", **sour)["label_text"]
    assert "Acetum" in labelled("eu-as-added", **sour)["label_text"]


@pytest.mark.parametrize(("moisture", "named"), [("19 %", False), ("10 %", True), (None, True)])
def test_an_allergen_counts_by_the_bar_that_is_sold(moisture: str | None, *, named: bool) -> None:
    """Article 19, Annex III: above 0.01 % of the finished product; 0.135 g are 0.0098 % of 1.38 kg, 0.011 % of 1.24."""
    scent = {"material": "scent", "kind": "fragrance", "use_level": "1.35 %"}
    smelling = recipe(**OLIVE, additions=[scent | {"allergens": [{"inci_name": "Linalool", "share": "1 %"}]}])
    answer = labelled("eu-as-added", **smelling, moisture_when_sold=moisture)
    assert ("Linalool" in answer["label_text"]) == named


def test_the_minerals_of_tap_water_belong_to_the_water() -> None:
    answer = labelled("eu-as-present", **recipe(**OLIVE, liquids=[{"liquid": "tap-water", "rest": True}]))
    assert sum(one["share"]["value"] for one in answer["label"]) == pytest.approx(1.0, rel=1e-9)


def test_two_alkalis_make_two_salts_in_their_shares() -> None:
    """By hand: of each mole of hydroxide half is NaOH; the salts differ by the masses of sodium and potassium."""
    alkalis = [{"alkali": "NaOH", "mole_share": 0.5}, {"alkali": "KOH", "mole_share": 0.5, "purity": "90 %"}]
    answer = labelled("us-as-present", **recipe(fats=[{"fat": "olive-oil", "share": 1}], alkalis=alkalis))
    whole = answer["cured_mass"]["value"]
    shares = {one["inci_name"]: one["share"]["value"] * whole for one in answer["label"]}
    taken = shares["Glycerin"] / 92.094 * 3 / 2
    assert shares["Potassium Olivate"] - shares["Sodium Olivate"] == pytest.approx(
        taken * (39.0983 - 22.98977), rel=1e-6
    )


def test_everything_in_the_bar_is_named_and_makes_the_whole() -> None:
    more = recipe(
        fats=[{"fat": "olive-oil", "share": 0.9}, {"fat": "stearic-acid", "share": 0.1}],
        liquids=[{"liquid": "goat-milk", "use_level": "10 %"}, {"liquid": "lemon-juice", "rest": True}],
        acids=[{"acid": "citric-acid-anhydrous", "use_level": "1 %"}],
        additions=[
            {"material": "scent", "kind": "fragrance", "use_level": "2 %"},
            {
                "material": "ochre",
                "kind": "colour",
                "use_level": "0.2 %",
                "inci_name": "CI 77492",
                "water_share": "5 %",
            },
        ],
    )
    for law in ("eu-as-present", "us-as-added"):
        answer = labelled(law, **more)
        assert sum(one["share"]["value"] for one in answer["label"]) == pytest.approx(1.0, rel=1e-9)
        assert answer["label"][-1]["inci_name"] == "CI 77492"
    assert "Fragrance" in answer["label_text"]


def test_what_has_no_name_is_asked_for_where_it_stands() -> None:
    own = {"name": "own oil", "saponification_value": "190 mg/g", "share": 1}
    clay = {"material": "clay", "kind": "other", "use_level": "1 %"}
    named = SHEET | recipe(fats=[own], additions=[clay]) | {"label_law": "eu-as-added"}
    assert [(one.pointer, one.code) for one in refusal(NAME, named).faults] == [
        ("/recipe/fats/0/inci_name", "inci-name-needed"),
        ("/recipe/additions/0/inci_name", "inci-name-needed"),
    ]
    found = fault(NAME, SHEET | recipe(**OLIVE) | {"label_law": "eu-as-present"}, 422)
    assert found.pointer == "/moisture_when_sold"


@pytest.mark.parametrize(
    ("grams", "metric", "customary"),
    [
        (113.398, "113 g", "3.99 oz"),  # 4 oz are 113.398 g and a little
        (113.3980925, "113 g", "4 oz"),
        (99.999, "99 g", "3.52 oz"),
        (500.0, "500 g", "1 lb 1.63 oz (17.63 oz)"),  # 17.6370 oz
        (1250.0, "1.25 kg", "2 lb 12.09 oz (44.09 oz)"),  # 44.0925 oz
        (0.75, "0.75 g", "0.02 oz"),
    ],
)
def test_net_masses_are_rounded_down_in_both_systems(grams: float, metric: str, customary: str) -> None:
    """The ounce is 28.349523125 g, exactly (NIST Handbook 44, appendix C)."""
    found = net_mass(grams / 1000)
    assert (found.metric, found.customary) == (metric, customary)


def test_the_net_mass_of_a_bar_is_that_when_it_is_sold() -> None:
    answer = labelled("us-as-added", scale_to={"bars": 10, "bar_mass": "138.604 g"})
    assert answer["net_mass"]["basis"].startswith("16 CFR 500")
    assert answer["net_mass"]["metric"] == f"{int(answer['bars']['cured_mass']['value'])} g"


def test_every_name_belongs_to_the_catalogue() -> None:
    data = reference_data()
    known = {*data.fats, *data.liquids, *data.acids, "NaOH", "KOH", "glycerol"}
    assert LABEL_NAMES.keys() <= known
    assert data.acids.keys() <= LABEL_NAMES.keys()
    for name in LABEL_NAMES.values():
        assert name.inci_name
        assert (name.sodium_salt != "") <= name.sodium_salt.startswith(("Sodium ", "Disodium "))
        assert (name.potassium_salt != "") <= name.potassium_salt.startswith(("Potassium ", "Dipotassium "))
