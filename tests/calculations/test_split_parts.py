"""A liquid split: its balances, what is told of liquids, dry alkali and acids, and how a refusal leads on."""

import re
from typing import Any

import pytest

from service.calculations.batch.liquid_split import LiquidSplitRequest, calculate
from service.calculations.batch.split import Split
from service.calculations.batch.split_apportioning import split_liquid
from service.calculations.batch.split_notes import caution_split
from service.calculations.batch.split_reading import read_lines
from service.calculations.shared.given import Mass
from service.calculations.shared.notes import Notes
from tests.calculations.asking import Answer, ask, assumed, cautions, fault, message_of
from tests.calculations.figures import ACETIC_ACID, KOH, NAOH

NAME = "liquid-split"
TESTED = (LiquidSplitRequest, Split, split_liquid, caution_split, read_lines)
"""What these tests are of: mutants of its modules meet them first."""
SODA = {"alkali": "NaOH", "mass": "100 g"}
HALF = {"alkali": "NaOH", "strength": {"mass_fraction": 0.5}}
OWN = {"name": "own oil", "mass": "1 kg", "saponification_value": "190 mg/g"}
LIMITS = OWN | {"saponification_value": {"low": 185, "high": 195, "unit": "mg/g"}}
BATCH: dict[str, Any] = {"alkalis": [SODA], "stocks": [HALF], "total_liquid": {"water_ratio": 2.0}}
DRY: dict[str, Any] = BATCH | {"stocks": []}


def split(*, explain: bool = False, **more: Any) -> Answer:
    return ask(NAME, BATCH | more, explain=explain)


def liquid(name: str, amount: Any = True, **more: Any) -> dict[str, Any]:
    """A liquid by its mass, its share, or as the rest."""
    form = "rest" if amount is True else "mass" if isinstance(amount, str) else "share"
    return {"liquid": name, form: amount, **more}


@pytest.mark.parametrize("compensate", [False, True])
def test_alkali_and_liquid_are_what_is_drawn_dissolved_and_added(compensate: bool) -> None:
    """By hand: of a 40 % stock and dry potash in its own mass of water, with half of the rest vinegar of 5.09 %."""
    answer = ask(
        NAME,
        {
            "alkalis": [SODA, {"alkali": "KOH", "mass": "60 g", "purity": "90 %"}],
            "stocks": [HALF | {"strength": {"mass_fraction": 0.4}}],
            "total_liquid": {"water_ratio": 2.5},
            "liquids": [liquid("cider-vinegar", 0.5), liquid("goat-milk")],
            "compensate": compensate,
        },
    )
    (draw,), (dry,), (vinegar, milk) = answer["stock_draws"], answer["weigh_dry"], answer["additions"]
    soda, potash = draw["alkali_mass"]["value"], dry["mass"]["value"]
    assert draw["mass"]["value"] == pytest.approx(soda / 0.4)
    assert draw["water_mass"]["value"] == pytest.approx(soda * 0.6 / 0.4)
    assert dry["water_mass"]["value"] == pytest.approx(potash)
    assert dry["mass_as_supplied"]["value"] == pytest.approx(potash / 0.9)
    added = vinegar["mass"]["value"] + milk["mass"]["value"]
    own = draw["water_mass"]["value"] + dry["water_mass"]["value"]
    assert own + added == pytest.approx(2.5 * (soda + potash))
    assert answer["added_liquid_mass"]["value"] == pytest.approx(added)
    water = vinegar["water_mass"]["value"] + milk["water_mass"]["value"]
    assert vinegar["water_mass"]["value"] < vinegar["mass"]["value"]
    assert answer["actual_water_ratio"]["value"] == pytest.approx((own + water) / (soda + potash))
    mean = (soda + potash) / (soda / NAOH + potash / KOH)
    taken = vinegar["mass"]["value"] * 0.0509 / ACETIC_ACID
    assert vinegar["acid_demand"]["value"] == pytest.approx(taken * mean, rel=1e-4)
    assert answer["acid_demand"]["value"] == pytest.approx(
        vinegar["acid_demand"]["value"] + milk["acid_demand"]["value"], rel=1e-9
    )
    more = (soda - 100) / NAOH + (potash - 60) / KOH
    all_acid = answer["acid_demand"]["value"] / mean
    assert more == pytest.approx(all_acid if compensate else 0.0, rel=1e-6, abs=1e-9)


def test_a_mass_alone_is_added_to_what_the_stock_brings() -> None:
    answer = ask(NAME, {"alkalis": [SODA], "stocks": [HALF], "liquids": [liquid("goat-milk", "60 g")]})
    assert answer["added_liquid_mass"]["value"] == pytest.approx(60)
    assert answer["water_ratio"]["value"] == pytest.approx(1.6)
    nothing = ask(NAME, {"alkalis": [SODA], "stocks": [HALF]})
    assert nothing["additions"] == []
    assert nothing["acid_demand"]["value"] == 0
    assert nothing["water_ratio"]["value"] == nothing["actual_water_ratio"]["value"] == pytest.approx(1.0)


@pytest.mark.parametrize(
    "total",
    [
        {"mass": "200 g"},
        {"water_ratio": 2.0},
        {"final_strength": {"mass_fraction": 1 / 3}},
        {"liquid_to_fat_ratio": 0.4, "fat_mass": "500 g"},
    ],
)
def test_a_total_is_the_same_however_it_is_said(total: dict[str, Any]) -> None:
    """100 g of alkali and 200 g of liquid: 2:1, 33.3 %, and two fifths of 500 g of fats."""
    answer = split(total_liquid=total)
    assert answer["added_liquid_mass"]["value"] == pytest.approx(100)
    assert assumed(answer)["/liquids"].startswith("distilled-water")


def test_a_liquid_that_is_no_water_is_said_to_count_whole_beside_water_too() -> None:
    both = [liquid("goat-milk", 0.5), liquid("distilled-water", add_to="fats")]
    assert assumed(split(liquids=both))["/count_liquids_as"] == "whole"
    assert "/count_liquids_as" not in assumed(split())


def test_what_is_dissolved_in_its_own_mass_of_water_is_told_to_take_more_and_what_has_more_is_not() -> None:
    least = message_of(ask(NAME, DRY), "dissolving-heats")
    assert "in its own mass of water" in least
    to_alkali = [liquid("distilled-water", add_to="stock")]
    more = cautions(ask(NAME, DRY | {"liquids": to_alkali, "total_liquid": {"water_ratio": 3.0}}))
    assert "in 3 times its mass of water" in more["dissolving-heats"]["message"]
    assert "use ice for a part" in more["dissolving-heats"]["message"]
    some = {"alkalis": [SODA | {"alkali": "KOH", "purity": "90 %"}], "total_liquid": {"water_ratio": 2.0}}
    potash = message_of(ask(NAME, some), "dissolving-heats")
    assert "more of the water for it, ice" in potash or "close to boiling" in potash


def test_dry_alkali_is_cautioned_and_a_stock_is_not() -> None:
    assert "solid-into-water" in cautions(ask(NAME, DRY))
    assert "solid-into-water" not in cautions(split())


def test_less_than_its_own_mass_of_real_water_is_a_danger() -> None:
    syrup = cautions(ask(NAME, DRY | {"total_liquid": {"water_ratio": 2.0}, "liquids": [liquid("honey")]}))
    assert syrup["liquid-counted-whole"]["severity"] == "note"
    weak = {"alkalis": [SODA], "stocks": [HALF | {"strength": {"mass_fraction": 0.52}}]}
    dense = ask(NAME, weak | {"total_liquid": {"water_ratio": 1.1}, "liquids": [liquid("honey")]})
    assert dense["actual_water_ratio"]["value"] < 1
    assert cautions(dense)["liquid-counted-whole"]["severity"] == "danger"


def test_the_acid_of_liquids_is_told_as_its_share_of_the_alkali() -> None:
    for mass in ("100 g", "2 kg"):
        answer = split(
            alkalis=[SODA | {"mass": mass}], liquids=[liquid("cider-vinegar")], total_liquid={"water_ratio": 2.0}
        )
        share = answer["acid_demand"]["value"] / answer["stock_draws"][0]["alkali_mass"]["value"]
        assert f"takes {share * 100:.1f} % of the alkali" in message_of(answer, "acid-takes-alkali")
        assert "compensate" in message_of(answer, "acid-takes-alkali")
    compensated = split(liquids=[liquid("cider-vinegar")], compensate=True)
    assert "as much was added" in message_of(compensated, "acid-takes-alkali")


def test_the_fat_of_liquids_is_counted_where_a_superfat_is_told() -> None:
    milk = [liquid("goat-milk")]
    assert "the superfat counts it" in message_of(split(liquids=milk, superfat="5 %"), "liquid-brings-fat")
    assert "give fats or superfat" in message_of(split(liquids=milk), "liquid-brings-fat")


@pytest.mark.parametrize(("change", "word"), [(0.9, "less"), (1.1, "more")])
def test_alkali_that_fats_acids_and_superfat_do_not_take_is_told_by_how_much(change: float, word: str) -> None:
    due = 0.95 * 190 / KOH * NAOH + 10 * 3 / 192.124 * NAOH
    acids = [{"acid": "citric-acid-anhydrous", "mass": "10 g"}]
    told: dict[str, Any] = {"fats": [OWN], "superfat": "5 %", "acids": acids}
    answer = split(alkalis=[SODA | {"mass": f"{due * change!r} g"}], **told)
    found = cautions(answer)["superfat-contradicts"]
    assert f"10 % {word} than" in found["message"]
    assert (found["severity"] == "danger") == (change > 1)
    agreeing = split(alkalis=[SODA | {"mass": f"{due * 1.004!r} g"}], **told)
    assert "superfat-contradicts" not in cautions(agreeing)


def test_a_need_that_saponification_answers_with_an_interval_carries_it_into_the_superfat() -> None:
    shares = [{"alkali": name, "mole_share": "50 %", "purity": "90 %"} for name in ("NaOH", "KOH")]
    recipe = ask("saponification", {"fats": [LIMITS], "superfat": "5 %", "alkalis": shares})
    alkalis = [{"alkali": one["alkali"], "mass": one["mass"]} for one in recipe["alkalis"]]
    stocks = [HALF, {"alkali": "KOH", "strength": {"mass_fraction": 0.45}}]
    answer = ask(NAME, {"alkalis": alkalis, "stocks": stocks, "superfat": "5 %"})
    for end in ("low", "value", "high"):
        assert answer["superfat"][end] == pytest.approx(recipe["superfat"][end], abs=2e-5)


def test_steps_of_a_spread_are_told_where_there_is_one_and_where_steps_are_asked_for() -> None:
    def named(answer: Answer) -> set[str]:
        return {one["name"] for one in answer["steps"]}

    spread = "standard uncertainty of the alkali for the fats"
    assert spread in named(split(explain=True, fats=[LIMITS]))
    assert spread not in named(split(explain=True, superfat="5 %"))
    notes = Notes()
    alkalis = LiquidSplitRequest.__annotations__["alkalis"].__args__[0].__args__[0]
    request = LiquidSplitRequest(alkalis=[alkalis(alkali="NaOH", mass=Mass(0.1))], superfat=None)
    calculate(request, notes)
    assert notes.steps == []


def test_an_exact_draw_has_no_width_and_one_of_a_vague_strength_has_that_of_its_strength() -> None:
    exact = split()["stock_draws"][0]["mass"]
    assert exact.get("high", exact["value"]) == exact["value"] == pytest.approx(200)
    vague = HALF | {"strength": {"mass_fraction": {"value": 0.5, "uncertainty": 0.005, "unit": "1"}}}
    draw = split(stocks=[vague])["stock_draws"][0]["mass"]
    assert draw["high"] - draw["value"] == pytest.approx(1.96 * 200 * 0.01, rel=1e-3)


@pytest.mark.parametrize(("shares", "told"), [((0.5, 0.4), "90 %: 10 % are missing"), ((0.6, 0.6), "120 %: 20 % are")])
def test_shares_are_told_by_their_sum(shares: tuple[float, float], told: str) -> None:
    lines = [liquid(name, share) for name, share in zip(("goat-milk", "carrot-juice"), shares, strict=True)]
    assert f"the shares add up to {told}" in fault(NAME, BATCH | {"liquids": lines}, 422).detail


def test_shares_beyond_the_whole_are_told_beside_a_rest_too() -> None:
    lines = [liquid("goat-milk", 0.6), liquid("carrot-juice", 0.6), liquid("distilled-water")]
    assert "the shares add up to 120 %" in fault(NAME, BATCH | {"liquids": lines}, 422).detail


def test_masses_that_do_not_make_the_total_are_told_with_what_is_missing_or_too_much() -> None:
    missing = fault(NAME, BATCH | {"liquids": [liquid("goat-milk", "60 g")]}, 422)
    assert "40 g (1.41096 oz) are missing" in missing.detail
    assert "rest" in missing.mend
    much = fault(NAME, BATCH | {"liquids": [liquid("goat-milk", "130 g"), liquid("distilled-water")]}, 422)
    assert "30 g (1.05822 oz) are too much" in much.detail
    assert "smaller" in much.mend
    none_left = BATCH | {"total_liquid": {"water_ratio": 1.0}, "liquids": [liquid("goat-milk", "10 g")]}
    assert "10 g (0.35274 oz) are too much" in fault(NAME, none_left, 422).detail


def test_the_ratio_that_a_refusal_names_can_be_asked_for_and_a_thousandth_less_cannot() -> None:
    for stocks, what in (([HALF | {"strength": {"mass_fraction": 0.35}}], "stronger stock"), ([], "")):
        total = {"water_ratio": 1.2} if stocks else {"water_ratio": 0.99}
        found = fault(NAME, BATCH | {"stocks": stocks, "total_liquid": total}, 422)
        ratio = re.search(r"ask for (?:a total liquid of )?(\S+):1 or more", found.mend)
        assert ratio is not None
        named = float(ratio[1])
        assert split(stocks=stocks, total_liquid={"water_ratio": named})["water_ratio"]["value"] == named
        assert fault(NAME, BATCH | {"stocks": stocks, "total_liquid": {"water_ratio": named - 0.001}}, 422)
        assert what in found.mend
    assert "stronger stock" not in found.mend


def test_a_purity_below_one_half_or_above_the_whole_is_no_purity() -> None:
    for supplied in ("201 g", "99 g"):
        alkali = SODA | {"mass_as_supplied": supplied}
        assert fault(NAME, {"alkalis": [alkali]}, 422).pointer == "/alkalis/0/mass_as_supplied"
    for supplied in ("200 g", "100 g"):
        assert ask(NAME, {"alkalis": [SODA | {"mass_as_supplied": supplied}]})["weigh_dry"]


def test_a_stock_that_is_frozen_is_refused_and_one_of_no_temperature_is_that_of_the_room() -> None:
    found = fault(NAME, BATCH | {"stocks": [HALF | {"temperature": "-31 °C"}]}, 422)
    assert (found.pointer, found.code) == ("/stocks/0/temperature", "impossible-temperature")
    assert assumed(split())["/stocks/0/temperature"] == "20 °C"
    assert "/stocks/0/temperature" not in assumed(split(stocks=[HALF | {"temperature": "25 °C"}]))
