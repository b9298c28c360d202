"""How warm a batch gets: what each spread brings, both ways round, and limits where what is said turns."""

import re
from math import sqrt
from typing import Any

import pytest

from service.calculations.batch.batch_temperature import CALCULATION
from service.calculations.batch.blend_notes import caution_blend
from service.calculations.batch.blend_runs import Runs
from service.calculations.shared.faults import Refusal
from tests.calculations.asking import Answer, ask, cautions, fault, message_of
from tests.calculations.figures import NORMAL_95
from tests.calculations.quantities import normal

NAME = "batch-temperature"
TESTED = (caution_blend, Runs)
"""What these tests are of: mutants of its modules meet them first."""
OLIVE, COCONUT = {"fat": "olive-oil", "mass": "700 g"}, {"fat": "coconut-oil", "mass": "300 g"}
STOCK: dict[str, Any] = {
    "alkali": "NaOH",
    "mass": "270 g",
    "strength": {"mass_fraction": 0.5},
    "temperature": "22 °C",
}
MILK: dict[str, Any] = {"liquid": "goat-milk", "mass": "130 g", "temperature": "5 °C"}
FROZEN: dict[str, Any] = MILK | {"temperature": "-18 °C", "frozen": True}
WATER = MILK | {"liquid": "distilled-water"}
ICE = WATER | {"temperature": "0 °C", "frozen": True}
BATCH: dict[str, Any] = {"fats": [OLIVE, COCONUT], "fats_temperature": "40 °C", "stock": STOCK}


def told(**more: Any) -> Answer:
    return ask(NAME, BATCH | more)


def wanted(t: str, **more: Any) -> Answer:
    return ask(NAME, {name: one for name, one in (BATCH | more).items() if name != "fats_temperature"} | {WANTED: t})


WANTED = "wanted_temperature"


def with_stock(**more: Any) -> dict[str, Any]:
    return {"stock": STOCK | more, "liquids": [MILK]}


def of_milk(**more: Any) -> dict[str, Any]:
    return {"liquids": [MILK | more]}


def by_volume(w: object) -> dict[str, Any]:
    poured = {name: one for name, one in STOCK.items() if name != "mass"} | {"volume": "180 mL"}
    return {"stock": poured | {"strength": {"mass_fraction": w}}, "liquids": [MILK]}


@pytest.mark.parametrize(
    ("vague", "less", "more"),
    [
        (
            {"fats": [OLIVE | {"mass": normal(700, 70, "g")}, COCONUT], "liquids": [MILK]},
            {"fats": [OLIVE | {"mass": "690 g"}, COCONUT], "liquids": [MILK]},
            {"fats": [OLIVE | {"mass": "710 g"}, COCONUT], "liquids": [MILK]},
        ),
        (
            {"fats_temperature": normal(40, 0.7, "°C"), "liquids": [MILK]},
            {"fats_temperature": "39.9 °C", "liquids": [MILK]},
            {"fats_temperature": "40.1 °C", "liquids": [MILK]},
        ),
        (of_milk(mass=normal(130, 13, "g")), of_milk(mass="128.143 g"), of_milk(mass="131.857 g")),
        (
            {"liquids": [ICE | {"mass": normal(60, 7, "g")}]},
            {"liquids": [ICE | {"mass": "59 g"}]},
            {"liquids": [ICE | {"mass": "61 g"}]},
        ),
        (of_milk(temperature=normal(5, 3.5, "°C")), of_milk(temperature="4.5 °C"), of_milk(temperature="5.5 °C")),
        (
            with_stock(strength={"mass_fraction": normal(0.5, 0.014, "1")}),
            with_stock(strength={"mass_fraction": 0.498}),
            with_stock(strength={"mass_fraction": 0.502}),
        ),
        (by_volume(normal(0.5, 0.014, "1")), by_volume(0.498), by_volume(0.502)),
    ],
    ids=[
        "mass-of-fat",
        "thermometer",
        "mass-of-milk",
        "mass-of-ice",
        "milk's-thermometer",
        "strength",
        "strength-by-volume",
    ],
)
def test_a_spread_widens_the_temperature_by_what_it_changes_of_it(
    vague: dict[str, Any], less: dict[str, Any], more: dict[str, Any]
) -> None:
    """JCGM 100:2008, 5.1.2: seven times what the two others differ from the middle, normal: 95 % are within 1.96 of it.

    What models leave is added in squares. The upper end has all of the heat of dilution.
    """
    times = 7.0
    middle = told(**{name: (BATCH | less)[name] for name in less} | _middle(vague))
    exact, wide = middle["temperature"], told(**vague)["temperature"]
    change = (told(**more)["temperature"]["value"] - told(**less)["temperature"]["value"]) / 2
    assert wide["value"] == pytest.approx(exact["value"], abs=1e-9)
    brought = sqrt((wide["high"] - wide["value"]) ** 2 - (exact["high"] - exact["value"]) ** 2)
    assert brought == pytest.approx(NORMAL_95 * times * abs(change), rel=0.03)


def _middle(said: Any) -> Any:
    """The same without spreads."""
    if isinstance(said, dict):
        if "uncertainty" in said:
            return said["value"] if said["unit"] == "1" else f"{said['value']} {said['unit']}"
        return {name: _middle(one) for name, one in said.items()}
    return [_middle(one) for one in said] if isinstance(said, list) else said


@pytest.mark.parametrize("liquids", [[], [MILK], [FROZEN], [MILK, FROZEN]], ids=len)
def test_fats_at_the_ends_of_what_is_needed_bring_the_wanted_to_the_ends_of_what_comes(liquids: Any) -> None:
    needed = wanted("33 °C", liquids=liquids)["fats_temperature_needed"]
    warmest = told(liquids=liquids, fats_temperature=f"{needed['low']!r} °C")["temperature"]
    coldest = told(liquids=liquids, fats_temperature=f"{needed['high']!r} °C")["temperature"]
    assert warmest["high"] == pytest.approx(33.0, abs=0.03)
    assert coldest["low"] == pytest.approx(33.0, abs=0.03)


@pytest.mark.parametrize("t", [0.3, 0.9, 99.3])
def test_fats_from_0_to_100_degrees_may_be_what_is_needed(t: float) -> None:
    comes = told(fats_temperature=f"{t} °C")["temperature"]["value"]
    assert wanted(f"{comes!r} °C")["fats_temperature_needed"]["value"] == pytest.approx(t, abs=1e-3)


def test_fats_below_0_or_above_100_degrees_are_not_what_is_needed() -> None:
    for t in (-0.3, 100.5):
        comes = told(fats_temperature=f"{t} °C")["temperature"]["value"]
        with pytest.raises(Refusal) as refused:
            wanted(f"{comes!r} °C")
        assert refused.value.faults[0].pointer == "/wanted_temperature"


def test_ice_that_the_answer_leaves_to_the_heat_of_dilution_is_told_and_none_else() -> None:
    assert "ice_left" not in told()
    assert "ice_left" not in told(liquids=[FROZEN])
    assert "ice_left" not in wanted("33 °C", liquids=[FROZEN | {"mass": "270 g"}])


def test_the_most_ice_that_is_answered_just_melts() -> None:
    """Up to where all of the heat there is melts it: the batch then has just 0 °C, and with more it is refused."""
    few, many = 0.2, 1.0
    while many - few > 1e-6:
        mass = (few + many) / 2
        try:
            t = told(liquids=[FROZEN | {"mass": f"{mass!r} kg"}])["temperature"]["value"]
        except Refusal:
            many = mass
        else:
            few = mass
    assert t == pytest.approx(0.0, abs=0.01)
    assert told(liquids=[FROZEN | {"mass": f"{0.999 * few!r} kg"}])["temperature"]["value"] > 0.01


def test_what_is_so_cold_that_it_freezes_is_laid_to_the_colder_of_fats_and_stock() -> None:
    cold = told_fault(fats_temperature="-30 °C", stock=STOCK | {"temperature": "5 °C"}, liquids=[WATER])
    assert (cold.pointer, cold.mend) == ("/fats_temperature", "use warmer fats, or warmer stock")
    each = [line | {"temperature": "-30 °C"} for line in (OLIVE, COCONUT)]
    request = {"fats": each, "stock": STOCK | {"temperature": "5 °C"}, "liquids": [WATER]}
    assert fault(NAME, request, 422).pointer == "/fats"


def told_fault(**more: Any) -> Any:
    return fault(NAME, BATCH | more, 422)


def test_a_batch_of_milk_is_to_stay_at_the_limit_that_the_description_names() -> None:
    limit = re.search(r"at or below (\d+) °C with milk", CALCULATION.description)
    assert limit is not None
    above, below = (wanted(f"{int(limit[1]) + apart} °C", liquids=[MILK]) for apart in (1, -2))
    assert f"below {limit[1]} °C" in message_of(above, "milk-too-warm")
    assert f"comes to {int(limit[1]) + 1} °C" in message_of(above, "milk-too-warm")
    assert "milk-too-warm" not in cautions(below)


def test_milk_that_can_come_to_more_is_told_by_what_it_can_come_to() -> None:
    answer = told(fats_temperature="32 °C", liquids=[MILK])
    assert f"can come to {answer['temperature']['high']:.0f} °C" in message_of(answer, "milk-too-warm")


@pytest.mark.parametrize("request_", [BATCH, BATCH | {"fats_temperature": "70 °C"}], ids=["mild", "boils-over"])
def test_rises_are_told_in_kelvins_and_in_as_many_fahrenheit_as_they_are(request_: dict[str, Any]) -> None:
    found = cautions(ask(NAME, request_))
    codes = [code for code in ("reaction-heat-rough", "batch-may-boil-over") if code in found]
    rises = [pair for code in codes for pair in re.findall(r"(\d+) K \((\d+) °F\)", found[code]["message"])]
    assert len(rises) == 2 * (codes[0] == "reaction-heat-rough") + (len(codes) == 2)
    for kelvins, fahrenheit in rises:
        assert float(fahrenheit) == pytest.approx(1.8 * float(kelvins), abs=1.4)


@pytest.mark.parametrize("t", ["90 °C", "194 °F", "363.15 K"])
def test_fats_of_what_makes_water_flash_are_a_danger_in_every_unit(t: str) -> None:
    assert "fats-hot" in cautions(told(fats_temperature=t))


def test_fats_of_less_do_not_make_water_flash() -> None:
    assert "fats-hot" not in cautions(told(fats_temperature="89 °C"))


def test_a_batch_that_is_capped_where_it_boils_is_said_to_boil() -> None:
    hot = {"stock": STOCK | {"temperature": "110 °C"}, "liquids": [WATER | {"mass": "500 g", "temperature": "99 °C"}]}
    first, second = (told(fats_temperature=t, **hot) for t in ("140 °C", "145 °C"))
    assert first["temperature"]["value"] == second["temperature"]["value"] < 120
    assert "boils" in cautions(first)
    assert "boils" not in cautions(wanted("40 °C"))


def test_no_end_lies_above_where_the_stock_boils() -> None:
    """50 % boils at about 145 °C (Dow Chemical, product page)."""
    hot = told(fats_temperature="150 °C", stock=STOCK | {"temperature": "140 °C"}, liquids=[WATER | {"mass": "1 g"}])
    assert hot["temperature"]["high"] == pytest.approx(145, abs=3)


def test_wholly_frozen_ranges_are_told_by_the_end_that_is_known() -> None:
    fats = [{"fat": fat, "mass": "300 g"} for fat in ("shea-butter", "palm-stearin", "palm-superolein")]
    found = cautions(told(fats=fats, fats_temperature="15 °C", stock=STOCK | {"temperature": "15 °C"}))
    message = found["fats-not-liquid"]["message"]
    assert "shea-butter (melts to 40 °C (104 °F))" in message
    assert "palm-stearin (from 44 °C (111 °F))" in message
    assert "palm-superolein (to 20 °C (67 °F))" in message


def test_the_heat_that_set_fats_may_take_is_told_as_it_is_counted() -> None:
    answer = told(fats=[COCONUT], fats_temperature="15 °C")
    said = re.search(r"up to (\d+) kJ/kg", message_of(answer, "fats-set"))
    assert said is not None
    assert int(said[1]) == 150  # the heat of fusion of fats that are hard, at most (from memory)
