"""What mends a superfat, what a far one looks like, and how well what was weighed is known: by balances and by hand."""

import re
from math import hypot
from typing import Any

import pytest

from service.calculations.batch.superfat_check import CALCULATION
from service.calculations.batch.superfat_mending import Mending
from service.calculations.batch.superfat_notes import caution_check
from service.calculations.batch.superfat_slips import caution_slip
from service.calculations.batch.superfat_weighed import read_draws, read_solids
from tests.calculations.asking import Answer, ask, cautions, fault, message_of
from tests.calculations.figures import KOH, NAOH, NORMAL_95, OUNCE

NAME = "superfat-check"
TESTED = (CALCULATION, caution_check, caution_slip, read_draws, read_solids)
"""What these tests are of: mutants of its modules meet them first."""
OIL = {"name": "own oil", "mass": "1 kg", "saponification_value": "190 mg/g"}
LIMITS = OIL | {"saponification_value": {"low": 185, "high": 195, "unit": "mg/g"}}
MET = 0.95 * 190 / KOH * NAOH
"""NaOH that leaves this oil a superfat of 5 % [g]: 128.68."""


def drawn(pure: float, w: float = 0.5, alkali: str = "NaOH") -> dict[str, Any]:
    return {"alkali": alkali, "mass": f"{pure / w!r} g", "strength": {"mass_fraction": w}}


def check(pure: float, fat: dict[str, Any] | None = None, **more: Any) -> Answer:
    return ask(NAME, {"fats": [fat or OIL], "stock_draws": [drawn(pure)]} | more)


def slip(pure: float, **more: Any) -> str:
    """What a far superfat is said to look like; nothing where it is not said to be far."""
    return cautions(check(pure, **more)).get("slip-likely", {"message": ""})["message"]


def test_what_is_added_is_its_hydroxide_times_what_a_mole_of_that_weighs() -> None:
    one = Mending(amount=2.0, half_width=0.5, per_amount=0.3)
    assert one.mass == pytest.approx(0.6)
    assert list(one.ends) == pytest.approx([0.45, 0.75])
    assert list(Mending(amount=0.1, half_width=0.5, per_amount=0.3).ends) == pytest.approx([0.0, 0.18])


FATS: list[dict[str, Any]] = [
    {"fat": "olive-oil", "mass": "700 g"},
    {"fat": "coconut-oil", "mass": "200 g"},
    {"fat": "beeswax", "mass": "20 g"},
]


@pytest.mark.parametrize("mend_with", [None, "olive-oil", "coconut-oil"])
def test_the_fat_that_is_told_makes_the_wanted_superfat(mend_with: str | None) -> None:
    asked = {"fats": FATS, "stock_draws": [drawn(160.0)], "wanted_superfat": "6 %"}
    more = ask(NAME, asked | ({} if mend_with is None else {"mend_with": mend_with}))["fat_to_add"]["value"]
    shares = {"olive-oil": 7 / 9, "coconut-oil": 2 / 9} if mend_with is None else {mend_with: 1.0}
    added = [{"fat": fat, "mass": f"{more * share!r} g"} for fat, share in shares.items()]
    assert ask(NAME, asked | {"fats": FATS + added})["superfat"]["value"] == pytest.approx(0.06, abs=1e-9)


def test_the_alkali_that_is_told_makes_the_wanted_superfat() -> None:
    for draws in ([drawn(90.0)], [drawn(50.0), drawn(60.0, 0.45, "KOH")]):
        asked = {"fats": [OIL], "stock_draws": draws, "acids": [{"acid": "citric-acid-anhydrous", "mass": "10 g"}]}
        told = ask(NAME, asked)["stock_to_add"]
        more = [one | {"mass": f"{add['mass']['value']!r} g"} for one, add in zip(draws, told, strict=True)]
        for one, add in zip(more, told, strict=True):
            w = one["strength"]["mass_fraction"]
            assert add["alkali_mass"]["value"] == pytest.approx(add["mass"]["value"] * w, rel=1e-9)
        assert ask(NAME, asked | {"stock_draws": draws + more})["superfat"]["value"] == pytest.approx(0.05, abs=1e-9)


def test_what_is_added_is_known_as_well_as_the_fats_are() -> None:
    """Of 185 to 195 mg/g 95 % lie within 4.75 of 190: by so much of 1 kg and of what is added the need may differ."""
    little, much = check(80.0, LIMITS), check(1.1 / 0.95 * MET, LIMITS)
    (stock,) = little["stock_to_add"]
    half = MET * 4.75 / 190 / 0.5
    assert stock["mass"]["value"] == pytest.approx((MET - 80) / 0.5, rel=1e-4)
    assert stock["mass"]["high"] - stock["mass"]["value"] == pytest.approx(half, rel=1e-3)
    assert stock["mass"]["value"] - stock["mass"]["low"] == pytest.approx(half, rel=1e-3)
    fat = much["fat_to_add"]
    assert fat["value"] == pytest.approx(1000 * (1.1 / 0.95 - 1), rel=1e-4)
    assert fat["high"] - fat["value"] == pytest.approx(1.1 / 0.95 * 1000 * 4.75 / 190, rel=1e-3)
    assert fat["value"] - fat["low"] == pytest.approx(1.1 / 0.95 * 1000 * 4.75 / 190, rel=1e-3)


def test_fat_of_another_kind_is_known_as_well_as_itself_and_no_better() -> None:
    """Olive oil has 184 to 196 mg/g (CXS 33-1981): 95 % lie within 5.7 of 190; our own oil is exact."""
    fat = check(1.1 / 0.95 * MET, mend_with="olive-oil")["fat_to_add"]
    assert fat["value"] == pytest.approx(1000 * (1.1 / 0.95 - 1), rel=1e-4)
    assert fat["high"] - fat["value"] == pytest.approx(fat["value"] * 5.7 / 190, rel=1e-3)


def test_what_is_all_right_within_its_spread_is_told_by_the_ends_that_are_answered() -> None:
    answer = check(126.0, LIMITS, wanted_superfat="6 %")
    found = message_of(answer, "superfat-within-spread")
    ends = [f"{answer['superfat'][end] * 100:.1f}".removesuffix(".0") for end in ("low", "high")]
    assert f"lies between {ends[0]} % and {ends[1]} %" in found


def test_what_is_known_too_badly_to_be_mended_is_said_to_lie_within_its_spread() -> None:
    """Of NaOH weighed to half of it, that much and more leaves no superfat that could be told."""
    for share, mended in ((0.3, True), (0.5, False)):
        weighed = {"value": 126.5, "low": 126.5 * (1 - share), "high": 126.5 * (1 + share), "unit": "g"}
        answer = ask(NAME, {"fats": [OIL], "solids": [{"alkali": "NaOH", "purity": 1, "mass_as_supplied": weighed}]})
        assert answer["superfat"]["value"] > 0.05
        assert ("solid_to_add" in answer) == mended
        assert "superfat-within-spread" in cautions(answer)


def test_nothing_within_the_spread_is_told_where_nothing_is_to_be_added() -> None:
    assert "superfat-within-spread" not in cautions(check(MET, LIMITS))


def test_free_alkali_is_told_by_how_much_of_it_the_fats_leave_once_acids_have_theirs() -> None:
    for pure in (150.0, 200.0, 260.0):
        answer = check(pure, acids=[{"acid": "citric-acid-anhydrous", "mass": "10 g"}])
        over = -answer["superfat"]["value"]
        said = re.search(r"There is (\S+) % more alkali", message_of(answer, "free-alkali-left"))
        assert said is not None
        assert float(said[1]) == pytest.approx(over * 100, abs=0.05)
    for pure, times in ((12.0 / 0.95 * MET, "12 times"), (2345.0 / 0.95 * MET, "2345 times")):
        assert f"There is {times} the alkali" in message_of(check(pure), "free-alkali-left")


def test_alkali_that_only_wax_could_take_is_not_told_as_more_than_all_fats_can_take() -> None:
    fats = [OIL, {"fat": "beeswax", "mass": "200 g"}]
    answer = ask(NAME, {"fats": fats, "stock_draws": [drawn(1.05 / 0.95 * MET)]})
    assert answer["superfat"]["value"] > 0
    assert "It is likelier than not" in message_of(answer, "free-alkali-left")


def test_where_wax_leaves_alkali_free_no_slip_is_sought_for_a_high_superfat() -> None:
    fats = [{"fat": "beeswax", "mass": "900 g"}, {"fat": "olive-oil", "mass": "20 g"}]
    answer = ask(NAME, {"fats": fats, "stock_draws": [drawn(25.0)]})
    assert answer["superfat"]["value"] > 0.4
    assert answer["free_alkali_probability"]["value"] > 0.5
    assert "slip-likely" not in cautions(answer)
    assert "superfat-high" not in cautions(answer)


def test_what_liquids_bring_is_told_by_what_is_known_of_it() -> None:
    def told(liquid: str) -> dict[str, dict[str, str]]:
        return cautions(check(MET, liquids=[{"liquid": liquid, "mass": "100 g"}]))

    assert "alcohol-in-batch" in told("beer")
    assert "the superfat counts it" in told("goat-milk")["liquid-brings-fat"]["message"]
    assert "4.14 g" in told("goat-milk")["liquid-brings-fat"]["message"]  # 4.14 % of 100 g
    assert "which is left out" in told("carrot-puree")["liquid-brings-fat"]["message"]
    assert "0.24 g" in told("carrot-puree")["liquid-brings-fat"]["message"]  # 0.24 % of 100 g


@pytest.mark.parametrize(
    ("times", "looks"),
    [
        (10.0, "one place too far right in the alkali"),
        (0.1, "one place too far left in the alkali"),
        (100.0, "two places too far right in the alkali"),
        (1000.0, "kg for g in the alkali"),
        (OUNCE, "oz for g in the alkali"),
        (1 / OUNCE, "g for oz in the alkali"),
        (16.0, "lb for oz in the alkali"),
        (2.20462, "kg for lb in the alkali"),
        (453.592, "lb for g in the alkali"),
        (2.0, "all was listed twice"),
        (0.5, "the mass of the pure alkali was drawn as stock"),
        (1.5, "the whole liquid of 2:1 was drawn as stock"),
        (KOH / NAOH, "KOH was told as NaOH"),
    ],
)
def test_a_slip_is_named_with_the_superfat_that_the_batch_has_without_it(times: float, looks: str) -> None:
    assert f"{looks} (5 %)" in slip(times * MET)


def test_fluid_ounces_for_ounces_are_told_by_the_density_of_the_stock() -> None:
    """1.5253 kg/L (CRC Handbook, 102nd ed. (2021)); a US fluid ounce is 29.5735 mL (NIST SP 811, appendix B.8)."""
    said = re.search(r"fluid ounces were drawn for ounces \((\S+) %\)", slip(1.5253 * 29.5735 / OUNCE * MET))
    assert said is not None
    assert float(said[1]) == pytest.approx(5.0, abs=0.3)


def test_slips_of_what_was_left_out_or_told_twice_are_named() -> None:
    other = [drawn(0.5 * MET), drawn(0.52 * MET, 0.45)]
    alone = ask(NAME, {"fats": [OIL], "stock_draws": [drawn(0.24 * MET), drawn(0.26 * MET, 0.45)]})
    assert "half of it was left out (5 %)" in message_of(alone, "slip-likely")
    assert "pure alkali was drawn" not in message_of(alone, "slip-likely")  # of which of the two
    thrice = ask(NAME, {"fats": [OIL], "stock_draws": [*other, drawn(1.02 * MET, 0.4)]})
    assert "line 3 of the alkali is one too many (3.1 %)" in message_of(thrice, "slip-likely")


def test_potash_told_as_soda_and_the_other_way_round_are_told_apart() -> None:
    draw = drawn(MET, 0.45, "KOH")
    answer = ask(NAME, {"fats": [OIL], "stock_draws": [draw]})
    assert "NaOH was told as KOH (5 %)" in message_of(answer, "slip-likely")


def test_a_superfat_that_is_far_out_is_told_and_one_that_was_meant_is_not() -> None:
    assert slip(1.21 / 0.95 * MET)
    assert not slip(1.19 / 0.95 * MET)
    assert not slip(0.71 / 0.95 * MET)
    assert slip(0.69 / 0.95 * MET)
    assert not slip(0.65 / 0.95 * MET, wanted_superfat="25.5 %")
    assert slip(0.65 / 0.95 * MET, wanted_superfat="24.5 %")


def test_what_is_lacking_or_too_much_is_what_makes_the_wanted_superfat() -> None:
    for times, word in ((0.5, "lacking"), (1.5, "too much")):
        said = re.search(r"twice: (\S+) g .* of stock are (lacking|too much)", slip(times * MET))
        assert said is not None
        assert said[2] == word
        # What is lacking is rounded down to whole grams, what is too much to the nearest.
        assert float(said[1]) == (MET // 1 if word == "lacking" else round(MET))


def half_width(answer: Answer) -> float:
    found: float = (answer["superfat"]["high"] - answer["superfat"]["low"]) / 2
    return found


def by_volume(strength: Any, **more: Any) -> Answer:
    draw = {"alkali": "NaOH", "volume": "169 mL", "strength": strength, "temperature": "20 °C"} | more
    return ask(NAME, {"fats": [OIL], "stock_draws": [draw]})


def test_a_volume_of_uncertain_strength_errs_by_its_hydroxide_and_its_density() -> None:
    """To first order (JCGM 100:2008, 5.1.2): what the superfat changes from 49.5 to 50.5 %, and what 50 % leaves."""
    exact = by_volume({"mass_fraction": 0.5})
    uncertain = by_volume({"mass_fraction": {"value": 0.5, "uncertainty": 0.005, "unit": "1"}})
    weak, strong = (by_volume({"mass_fraction": w})["superfat"]["value"] for w in (0.495, 0.505))
    due = hypot(NORMAL_95 * (weak - strong) / 2, half_width(exact))
    assert half_width(uncertain) == pytest.approx(due, rel=0.02)


def test_a_volume_whose_density_is_told_is_as_sure_as_its_mass() -> None:
    strength = {"density": "1.5 kg/L", "temperature": "20 °C"}
    for told in (strength, {"density": {"value": 1.5, "uncertainty": 0.002, "unit": "kg/L"}, "temperature": "20 °C"}):
        poured = by_volume(told)
        draw = {"alkali": "NaOH", "mass": f"{169 * 1.5} g", "strength": told}
        weighed = ask(NAME, {"fats": [OIL], "stock_draws": [draw]})
        assert poured["superfat"]["value"] == pytest.approx(weighed["superfat"]["value"], abs=1e-6)
        if told is strength:
            assert half_width(poured) == pytest.approx(half_width(weighed), rel=0.02)
        else:
            assert half_width(poured) > half_width(weighed)


def test_a_volume_of_no_temperature_is_taken_at_that_of_the_room() -> None:
    draw = {"alkali": "NaOH", "volume": "169 mL", "strength": {"mass_fraction": 0.5}}
    answer = ask(NAME, {"fats": [OIL], "stock_draws": [draw]})
    assert {one["pointer"] for one in answer["assumed"]} >= {"/stock_draws/0/temperature"}
    assert answer["superfat"] == by_volume({"mass_fraction": 0.5})["superfat"]
    assert "/stock_draws/0/temperature" not in {one["pointer"] for one in by_volume({"mass_fraction": 0.5})["assumed"]}


def test_draws_of_one_stock_err_together_and_draws_of_two_stocks_do_not() -> None:
    """Each known to a hundredth, normal: together that of the whole, apart the root of the sum of squares."""

    def draws(*uncertainties: float) -> float:
        lines = [
            drawn(MET / 2) | {"strength": {"mass_fraction": {"value": 0.5, "uncertainty": u, "unit": "1"}}}
            for u in uncertainties
        ]
        return half_width(ask(NAME, {"fats": [OIL], "stock_draws": lines}))

    assert draws(0.005, 0.005) == pytest.approx(NORMAL_95 * 0.95 * 0.01, rel=1e-3)
    apart = hypot(0.005, 0.00501) / 0.5 / 2
    assert draws(0.005, 0.00501) == pytest.approx(NORMAL_95 * 0.95 * apart, rel=1e-3)


def test_solid_potash_needs_its_purity_at_its_own_place() -> None:
    solids = [{"alkali": "NaOH", "mass_as_supplied": "10 g"}, {"alkali": "KOH", "mass_as_supplied": "10 g"}]
    found = fault(NAME, {"fats": [OIL], "solids": solids}, 422)
    assert (found.pointer, found.code) == ("/solids/1/purity", "purity-needed")


@pytest.mark.parametrize("beside", [[], [OIL | {"mass": {"value": 1, "uncertainty": 0.6, "unit": "g"}}]])
def test_a_batch_of_wax_that_may_take_nothing_is_told_to_leave_all_alkali_free(beside: list[Answer]) -> None:
    """Alkali in water hardly saponifies wax (British Pharmaceutical Codex 1911, Adeps Lanae, for wool fat)."""
    wax = {"fat": "jojoba-oil", "mass": "1 kg"}
    answer = ask(NAME, {"fats": [wax, *beside], "stock_draws": [drawn(50.0)]})
    assert answer["superfat"]["low"] < 0.0 < answer["superfat"]["value"]
    assert answer["superfat"]["low"] == pytest.approx(answer["superfat"]["value"] - 1.0)
    assert answer["free_alkali"]["high"] == pytest.approx(50.0)
    assert answer["free_alkali_probability"]["value"] == 1.0
    assert "stock_to_add" not in answer


def test_alkali_too_little_to_be_told_is_not_warned_of_and_too_little_to_be_weighed_is_told_so() -> None:
    """A superfat of 5 % is wanted, and 0.04 and 0.06 percentage points of it are lacking."""
    late = "alkali-added-late"
    little, more = (check((1 - share / 0.95) * MET) for share in (0.0004, 0.0006))
    assert "stock_to_add" in little
    assert late not in cautions(little)
    assert late in cautions(more)
    lacking = 0.01 / 0.95 * MET * 2  # of a 50 % stock
    steps = [f"{lacking * times!r} g" for times in (0.99, 1.01)]
    told = [message_of(check((1 - 0.01 / 0.95) * MET, scale_division=step), late) for step in steps]
    assert ["less than a step" in one for one in told] == [False, True]


def test_what_is_lacking_is_the_same_amount_in_every_caution() -> None:
    for pure in (30.0, 44.4, 66.6, 77.7):
        answer = check(pure)
        lacking = re.search(r"listed twice: (.*) of stock are lacking", message_of(answer, "slip-likely"))
        assert lacking is not None
        assert f"takes {lacking[1]} more of the stock" in message_of(answer, "alkali-added-late")
