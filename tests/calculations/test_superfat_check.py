"""The superfat a batch really has: by hand, against what saponification and a split say, and what mends it."""

from decimal import ROUND_FLOOR, Context
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.batch.superfat_check import calculate
from service.calculations.batch.superfat_mending import Mending
from service.calculations.batch.superfat_notes import caution_check
from service.calculations.batch.superfat_slips import caution_slip
from service.calculations.batch.superfat_weighed import read_draws
from service.chemistry import molar_masses
from tests.calculations.asking import ask, cautions, fault, message_of

TESTED = (calculate, Mending, caution_check, caution_slip, read_draws)
"""What these tests are of: mutants of its modules meet them first."""
NAME = "superfat-check"
OIL = {"name": "own oil", "mass": "1 kg", "saponification_value": "190 mg/g"}
SOUR = [{"acid": "citric-acid-anhydrous", "mass": "1 kg"}]
FROZEN = {"alkali": "NaOH", "volume": "1 L", "strength": {"mass_fraction": "50 %"}, "temperature": "-60 °C"}
NEED = 1000 * 0.190 / (molar_masses.KOH * 1000) * molar_masses.ALKALI["NaOH"] * 1000
"""NaOH that this oil takes [g]."""


def drawn(alkali_mass: float, w: str = "50 %", alkali: str = "NaOH", **more: Any) -> dict[str, Any]:
    """A draw that holds so much hydroxide [g]."""
    mass = alkali_mass / (float(w.split(maxsplit=1)[0]) / 100)
    return {"alkali": alkali, "mass": f"{mass!r} g", "strength": {"mass_fraction": w}} | more


def check(alkali_mass: float, **more: Any) -> dict[str, Any]:
    return ask(NAME, {"fats": [OIL], "stock_draws": [drawn(alkali_mass)]} | more)


def test_superfat_is_the_share_of_the_need_that_is_unmet() -> None:
    answer = check(0.95 * NEED)
    assert answer["superfat"]["value"] == pytest.approx(0.05, abs=1e-12)
    assert answer["free_alkali"] == {"value": 0.0, "unit": "g"} | dict.fromkeys(("low", "high"), 0.0)
    assert "fat_to_add" not in answer
    assert "stock_to_add" not in answer


def test_too_much_alkali_is_told_with_the_fat_that_takes_it() -> None:
    answer = check(1.1 * NEED)
    assert answer["superfat"]["value"] == pytest.approx(-0.1, abs=1e-12)
    assert answer["free_alkali"]["value"] == pytest.approx(0.1 * NEED, rel=1e-9)
    assert answer["free_alkali_probability"]["value"] == 1.0
    # need' = 1.1 need / 0.95, of which 1 kg has need
    assert answer["fat_to_add"]["value"] == pytest.approx(1000 * (1.1 / 0.95 - 1), rel=1e-9)
    assert cautions(answer)["free-alkali-left"]["severity"] == "danger"


def test_too_little_alkali_is_told_with_the_stock_that_is_lacking() -> None:
    answer = check(0.80 * NEED, wanted_superfat="4 %")
    assert answer["superfat"]["value"] == pytest.approx(0.20, abs=1e-12)
    (more,) = answer["stock_to_add"]
    assert more["alkali_mass"]["value"] == pytest.approx(0.16 * NEED, rel=1e-9)
    assert more["mass"]["value"] == pytest.approx(0.32 * NEED, rel=1e-9)


def test_solid_alone_is_mended_with_solid() -> None:
    solid = {"alkali": "KOH", "mass_as_supplied": "100 g", "purity": "90 %"}
    answer = ask(NAME, {"fats": [OIL], "solids": [solid]})
    need = 1000 * 0.190
    assert answer["superfat"]["value"] == pytest.approx(1 - 90 / need, abs=1e-9)
    (more,) = answer["solid_to_add"]
    assert more["alkali_mass"]["value"] == pytest.approx(0.95 * need - 90, rel=1e-9)
    assert more["mass_as_supplied"]["value"] == pytest.approx((0.95 * need - 90) / 0.9, rel=1e-9)
    assert "stock_to_add" not in answer


def both_ways(mass: float) -> str:
    """A mass [g] as messages have it, rounded down to three digits; the ounce is 28.349523125 g."""
    down = Context(prec=3, rounding=ROUND_FLOOR).create_decimal
    return f"{down(mass):f} g ({down(mass / 28.349523125):f} oz)"


def test_what_is_to_be_added_is_called_what_it_is() -> None:
    """80 % of the need for a superfat of 5 %: 0.15 of it are lacking, and of a 50 % stock twice that."""
    late = "alkali-added-late"
    beads = {"alkali": "NaOH", "mass_as_supplied": f"{0.4 * NEED!r} g"}
    half = drawn(0.4 * NEED)
    one, two = check(0.80 * NEED), ask(NAME, {"fats": [OIL], "stock_draws": [half, half]})
    solid, solids = (ask(NAME, {"fats": [OIL], "solids": [beads] * count}) for count in (1, 2))
    both = ask(NAME, {"fats": [OIL], "stock_draws": [half], "solids": [beads]})
    assert f"takes {both_ways(0.3 * NEED)} more of the stock. " in message_of(one, late)
    assert f"{both_ways(0.3 * NEED)} more stock in all, in the shares" in message_of(two, late)
    assert f"takes {both_ways(0.55 * NEED)} more of the solid. " in message_of(solid, late)
    assert f"{both_ways(0.15 * NEED)} more solid in all, in the shares" in message_of(solids, late)
    assert "more of the stock. " in message_of(both, late)
    for answer in (one, two, solid, solids, both):
        assert "alkali as it was" not in message_of(answer, late)
        assert len(message_of(answer, late)) <= 320


def test_two_alkalis_count_by_moles() -> None:
    half = NEED / 2
    potash = half * molar_masses.ALKALI["KOH"] / molar_masses.ALKALI["NaOH"]
    draws = [drawn(half), drawn(potash, "45 %", "KOH")]
    answer = ask(NAME, {"fats": [OIL], "stock_draws": draws})
    assert answer["superfat"]["value"] == pytest.approx(0.0, abs=1e-12)
    assert [one["alkali"] for one in answer["alkali_weighed"]] == ["NaOH", "KOH"]
    assert answer["alkali_weighed"][1]["mass"]["value"] == pytest.approx(potash, rel=1e-12)


def test_a_volume_is_weighed_by_the_density_of_the_stock() -> None:
    draw = {"alkali": "NaOH", "volume": "100 mL", "strength": {"mass_fraction": "50 %"}, "temperature": "20 °C"}
    answer = ask(NAME, {"fats": [OIL], "stock_draws": [draw]})
    # 1.525 kg/L at 20 °C and 50 % (CRC Handbook of Chemistry and Physics, 102nd ed. (2021), as in the density tests)
    assert answer["alkali_weighed"][0]["mass"]["value"] == pytest.approx(76.25, rel=3e-3)


def test_acid_and_fat_of_liquids_count_as_in_a_split() -> None:
    fats = [{"fat": "olive-oil", "mass": "700 g"}, {"fat": "coconut-oil", "mass": "300 g"}]
    recipe = ask("saponification", {"fats": fats, "superfat": "5 %"})
    stocks = [{"alkali": "NaOH", "strength": {"mass_fraction": "48 %"}}]
    asked = {
        "alkalis": recipe["alkalis"],
        "stocks": stocks,
        "total_liquid": {"water_ratio": "2:1"},
        "liquids": [{"liquid": "goat-milk", "share": "60 %"}, {"liquid": "cider-vinegar", "rest": True}],
        "fats": fats,
    }
    split = ask("liquid-split", asked)
    draws = [
        {"alkali": "NaOH", "mass": one["mass"], "strength": {"mass_fraction": "48 %"}} for one in split["stock_draws"]
    ]
    liquids = [{"liquid": one["liquid"], "mass": one["mass"]} for one in split["additions"]]
    answer = ask(NAME, {"fats": fats, "stock_draws": draws, "liquids": liquids})
    assert answer["superfat"]["value"] == pytest.approx(split["superfat"]["value"], abs=1e-12)
    assert answer["superfat"]["value"] > 0.05


@given(st.floats(0.6, 1.6), st.floats(0.0, 0.2))
def test_what_is_told_to_be_added_makes_the_wanted_superfat(share: float, wanted: float) -> None:
    first = check(share * NEED, wanted_superfat=wanted)
    if "fat_to_add" in first:
        fats = [OIL, OIL | {"mass": {name: first["fat_to_add"][name] for name in ("value", "unit")}}]
        second = ask(NAME, {"fats": fats, "stock_draws": [drawn(share * NEED)]})
    elif "stock_to_add" in first:
        more = first["stock_to_add"][0]["mass"]
        draws = [drawn(share * NEED), drawn(1.0) | {"mass": {name: more[name] for name in ("value", "unit")}}]
        second = ask(NAME, {"fats": [OIL], "stock_draws": draws})
    else:
        assert first["superfat"]["value"] == pytest.approx(wanted, abs=1e-8)
        return
    assert second["superfat"]["value"] == pytest.approx(wanted, abs=1e-9)


def test_another_fat_mends_by_its_own_saponification_value() -> None:
    answer = check(1.1 * NEED, mend_with="olive-oil", wanted_superfat="0 %")
    told = ask("saponification", {"fats": [{"fat": "olive-oil", "mass": "1 kg"}], "superfat": "0 %"})
    takes = told["alkalis"][0]["mass"]["value"] / 1000
    assert answer["fat_to_add"]["value"] == pytest.approx(0.1 * NEED / takes, rel=1e-9)
    assert answer["fat_to_add"]["low"] < answer["fat_to_add"]["value"] < answer["fat_to_add"]["high"]


def test_fat_to_add_has_an_interval_that_covers_what_random_lots_need() -> None:
    """95 % of lots drawn within the limits need an amount within the interval (JCGM 101:2008, Monte Carlo)."""
    import numpy as np  # noqa: PLC0415 - this test alone needs it

    limits = {"low": 184, "high": 196, "unit": "mg/g"}
    others = {"low": 248, "high": 265, "unit": "mg/g"}
    fats = [
        {"name": "a", "mass": "600 g", "saponification_value": limits},
        {"name": "b", "mass": "400 g", "saponification_value": others},
    ]
    draw = drawn(180.0, strength={"mass_fraction": "50 %", "uncertainty": "0.3 %"})
    answer = ask(NAME, {"fats": fats, "stock_draws": [draw], "wanted_superfat": "5 %"})
    told = answer["fat_to_add"]
    random = np.random.default_rng(20261125)
    a, b = random.uniform(184, 196, 200_000), random.uniform(248, 265, 200_000)
    w = random.normal(0.5, 0.003, 200_000)
    alkali = 360.0 * w / (molar_masses.ALKALI["NaOH"] * 1000)
    per_blend = (0.6 * a + 0.4 * b) / 1e3 / (molar_masses.KOH * 1000)  # mol/g of the blend
    need = alkali / 0.95 / per_blend - 1000
    covered = float(np.mean((need >= told["low"]) & (need <= told["high"])))
    assert 0.93 <= covered <= 0.97


def test_draws_described_alike_err_together_and_others_do_not() -> None:
    strength = {"mass_fraction": "50 %", "uncertainty": "1 %"}
    other = {"mass_fraction": "50.0000001 %", "uncertainty": "1 %"}

    def width(*strengths: dict[str, str]) -> float:
        draws = [{"alkali": "NaOH", "mass": "130 g", "strength": one} for one in strengths]
        told = ask(NAME, {"fats": [OIL], "stock_draws": draws})["superfat"]
        return float(told["high"] - told["low"])

    assert width(strength, strength) == pytest.approx(width(strength, other) * 2**0.5, rel=1e-3)


def test_a_superfat_within_the_spread_is_said_to_be_so() -> None:
    lots = OIL | {"saponification_value": {"low": 184, "high": 196, "unit": "mg/g"}}
    near = ask(NAME, {"fats": [lots], "stock_draws": [drawn(0.96 * NEED)]})
    assert "superfat-within-spread" in cautions(near)
    far = ask(NAME, {"fats": [lots], "stock_draws": [drawn(0.80 * NEED)]})
    assert "superfat-within-spread" not in cautions(far)


def test_wax_that_takes_nothing_widens_what_may_be_free() -> None:
    wax = {"fat": "beeswax", "mass": "50 g"}
    answer = ask(NAME, {"fats": [OIL, wax], "stock_draws": [drawn(NEED)]})
    assert answer["free_alkali"]["value"] == 0
    assert answer["free_alkali"]["high"] >= 0
    all_wax = ask(NAME, {"fats": [wax], "stock_draws": [drawn(3.0)]})
    assert all_wax["free_alkali"]["high"] == pytest.approx(3.0, rel=1e-9)
    assert all_wax["free_alkali_probability"]["value"] == 1.0


@pytest.mark.parametrize(
    ("oil", "wax", "alkali"),
    [
        ("0.001 g", "1 kg", 0.4 * NEED),  # wool fat all but alone, with less alkali than it could take
        ("500 g", "500 g", 0.6 * NEED),  # more than the oil takes by itself
    ],
)
def test_no_more_alkali_is_advised_where_wax_may_leave_what_there_is_free(oil: str, wax: str, alkali: float) -> None:
    """That alkali in water hardly saponifies wax esters is common practice, no source."""
    fats = [OIL | {"mass": oil}, {"fat": "wool-fat", "mass": wax}]
    answer = ask(NAME, {"fats": fats, "stock_draws": [drawn(alkali)], "wanted_superfat": "0.25 %"})
    assert answer["superfat"]["value"] > 0.05  # were the wax to take its share
    assert answer["free_alkali_probability"]["value"] >= 0.5
    assert "stock_to_add" not in answer
    said = cautions(answer)
    assert "free-alkali-left" in said
    assert not {"alkali-added-late", "superfat-high", "slip-likely"} & set(said)


@pytest.mark.parametrize(
    ("request_", "pointer", "code"),
    [
        ({"stock_draws": [drawn(10.0, state="ice")]}, "/stock_draws/0/state", "contradiction"),
        ({"stock_draws": [drawn(10.0, strength={"mass_fraction": 0})]}, "/stock_draws/0/strength", "out-of-range"),
        ({"solids": [{"alkali": "KOH", "mass_as_supplied": "10 g"}]}, "/solids/0/purity", "purity-needed"),
        ({"stock_draws": [drawn(10.0)], "mend_with": "beeswax"}, "/mend_with", "contradiction"),
        ({"stock_draws": [drawn(10.0)], "acids": SOUR}, "/acids", "contradiction"),
        ({"stock_draws": [FROZEN]}, "/stock_draws/0/temperature", "beyond-data"),
    ],
)
def test_what_cannot_be_is_refused(request_: dict[str, Any], pointer: str, code: str) -> None:
    found = fault(NAME, {"fats": [OIL]} | request_, 422)
    assert (found.pointer, found.code) == (pointer, code)


def test_alkali_from_nowhere_is_refused() -> None:
    assert fault(NAME, {"fats": [OIL]}, 400).code == "choose-one"


SLIP = "slip-likely"


@pytest.mark.parametrize(
    ("alkali", "named"),
    [
        (9.5, "decimal point one place too far right"),
        (0.095, "decimal point one place too far left"),
        (0.95 / 28.349523125, "g for oz"),
        (0.95 * 453.59237, "lb for g"),
        (0.95 * 16, "lb for oz"),
        (0.95 * 0.5, "the mass of the pure alkali was drawn as stock"),
        (0.95 * 1.5, "the whole liquid of 2:1 was drawn as stock"),
        # 1.5229 g/mL (Olsson 1997), 29.5735 mL and 28.3495 g
        (0.95 * 1.5229 * 29.5735 / 28.3495, "fluid ounces were drawn for ounces"),
        (0.95 * 2, "all was listed twice"),
    ],
)
def test_a_superfat_far_out_names_the_slip_that_explains_it(alkali: float, named: str) -> None:
    told = cautions(check(alkali * NEED))[SLIP]["message"]
    assert named in told
    assert "(5 %)" in told
    off = abs(0.95 - alkali) * NEED * 2
    if alkali < 0.95:  # what is lacking is rounded down
        assert f"{both_ways(off)} of stock are lacking" in told
        return
    assert (f"{off:.3g} g" in told) or (f"{off / 1000:.4g} kg" in told)


def test_one_hydroxide_told_as_the_other_is_named() -> None:
    potash = {"alkali": "KOH", "mass": "271 g", "strength": {"mass_fraction": "50 %"}}  # as much NaOH would leave 5 %
    answer = ask(NAME, {"fats": [OIL], "stock_draws": [potash | {"mass": f"{0.95 * NEED / 0.5:.6g} g"}]})
    # 1 - 0.95 * 40.00 / 56.11 is 32.3 %
    assert answer["superfat"]["value"] == pytest.approx(0.3228, abs=1e-3)
    assert "NaOH was told as KOH" in cautions(answer)[SLIP]["message"]


@pytest.mark.parametrize(("alkali", "more"), [(0.71, {}), (1.19, {}), (0.55, {"wanted_superfat": "45 %"})])
def test_what_may_be_meant_is_called_no_slip(alkali: float, more: dict[str, Any]) -> None:
    assert SLIP not in cautions(check(alkali * NEED, **more))


def test_acids_that_take_all_alkali_are_told_with_both_amounts() -> None:
    found = fault(NAME, {"fats": [OIL], "stock_draws": [drawn(40.0)], "acids": SOUR}, 422)
    # 1 kg of citric acid, 192.12 g/mol, takes 15.6 mol; 40 g of NaOH are 1 mol
    assert "15.6" in found.detail
    assert "1 mol were weighed" in found.detail


def test_a_draw_that_is_one_too_many_is_named_by_its_line() -> None:
    draws = [drawn(0.95 * NEED), drawn(0.6 * NEED, "45 %")]
    told = cautions(ask(NAME, {"fats": [OIL], "stock_draws": draws}))[SLIP]["message"]
    assert "line 2 of the alkali is one too many (5 %)" in told
