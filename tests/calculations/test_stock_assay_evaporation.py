"""A stock that has stood: by hand, order of draws, the air's humidity, and what cannot be."""

from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import vapour_pressure, water
from tests.calculations.asking import ask, cautions, fault, message_of

NAME = "stock-assay/evaporation"
FILLED: dict[str, Any] = {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": "45 %"}}


def stood(**more: Any) -> dict[str, Any]:
    return ask(NAME, {"solution": FILLED} | more)


def w(answer: dict[str, Any]) -> float:
    return float(answer["strength"]["mass_fraction"]["value"])


def test_water_that_is_gone_leaves_the_hydroxide() -> None:
    answer = stood(mass_now="9.5 kg")
    assert w(answer) == pytest.approx(4.5 / 9.5, rel=1e-12)
    assert answer["water_change"]["value"] == pytest.approx(-500)
    assert answer["water_to_add"]["value"] == pytest.approx(500)
    assert answer["draw_factor"]["value"] == pytest.approx(9.5 / 4.5, rel=1e-12)


def test_draws_leave_the_rest_and_their_time_is_not_known() -> None:
    answer = stood(drawn_masses=["3 kg", "2 kg"], mass_now="4.8 kg")
    told = answer["strength"]["mass_fraction"]
    assert told["value"] == pytest.approx(0.45 * 5 / 4.8, rel=1e-12)  # drawn before the water went
    assert told["low"] == pytest.approx(0.45 * 10 / 9.8, rel=1e-12)  # drawn after
    assert told["high"] == told["value"]
    assert answer["water_to_add"]["low"] == pytest.approx(4.8 * (10 / 9.8 - 1) * 1000, rel=1e-9)


def test_a_change_and_what_is_left_say_the_same() -> None:
    one = stood(drawn_masses=["3 kg"], mass_now="6.9 kg")
    other = stood(drawn_masses=["3 kg"], mass_change="-100 g")
    assert w(one) == pytest.approx(w(other), rel=1e-12)


@given(st.floats(-0.1, 0.5), st.floats(0.0, 0.9))
def test_the_water_put_back_makes_the_strength_as_filled(change: float, drawn: float) -> None:
    request: dict[str, Any] = {"mass_change": f"{change * 10 * (1 - drawn)!r} kg"}
    if drawn * 10 > 1e-6:
        request["drawn_masses"] = [f"{drawn * 10!r} kg"]
    answer = stood(**request)
    if change < 0:
        mass = answer["mass"]["value"] + answer["water_to_add"]["value"]
        assert w(answer) * answer["mass"]["value"] / mass == pytest.approx(0.45, rel=1e-9)
    else:
        assert answer["water_to_add"]["value"] == 0


def test_the_spread_of_the_strength_stays() -> None:
    spread = FILLED | {"strength": {"mass_fraction": "45 %", "uncertainty": "0.5 %"}}
    told = stood(solution=spread, mass_now="9 kg")["strength"]["mass_fraction"]
    assert told["high"] - told["value"] == pytest.approx(1.96 * 0.005 / 0.9, rel=1e-3)


@pytest.mark.parametrize("humidity", [0.3, 0.5, 0.8])
def test_it_dries_from_where_its_vapour_has_the_pressure_of_the_air_s(humidity: float) -> None:
    told = stood(mass_change="0 g", relative_humidity=humidity, ambient="20 °C")["loses_water_from"]
    ours = vapour_pressure.water_vapour_pressure("NaOH", 0.45, told["value"])
    assert ours == pytest.approx(humidity * water.saturation_pressure(20.0), rel=1e-6)
    assert 20 < told["low"] < told["value"] < told["high"]


def test_an_open_mixing_loses_something_between_nothing_and_the_bound() -> None:
    hot = {"diameter": "30 cm", "duration": "30 min", "temperature": "80 °C"}
    told = stood(mass_change="0 g", open_mixing=hot)["mixing_loss"]
    assert told["low"] == 0
    assert told["value"] == pytest.approx(told["high"] / 2)
    twice = stood(mass_change="0 g", open_mixing=hot | {"duration": "1 h"})["mixing_loss"]
    assert twice["high"] == pytest.approx(2 * told["high"], rel=1e-12)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize(("w", "t"), [(0.05, 60), (0.3, 40), (0.3, 90), (0.4, 100), (0.5, 110), (0.5, 140)])
@pytest.mark.parametrize(("across", "mass"), [(8, "0.5 kg"), (20, "3 kg"), (60, "1 kg")])
def test_the_most_that_dries_off_is_more_than_a_cooling_reckons_with(
    alkali: str, w: float, t: float, across: float, mass: str
) -> None:
    """What an open vessel loses beyond a closed one is the heat of its vapour, 2.4 MJ/kg; its upper limit is twice."""
    solution = {"alkali": alkali, "mass": mass, "strength": {"mass_fraction": w}}
    hot = {"diameter": f"{across} cm", "duration": "1 s", "temperature": f"{t} °C"}
    most = ask(NAME, {"solution": solution, "mass_change": "0 g", "open_mixing": hot})["mixing_loss"]
    vessel = {"material": "hdpe", "mass": "1 g", "diameter": f"{across} cm", "height": "1 m"}
    cooling = {
        "solution": solution | {"temperature": f"{t} °C"},
        "surroundings": {"medium": "still-air", "temperature": "20 °C"},
        "target_temperature": f"{t - 1} °C",
    }
    opened, closed = (
        ask("stock-cooling", cooling | {"vessel": vessel | {"lid": lid}})["heat_loss_at_start"] for lid in (False, True)
    )
    assert opened["unit"] == closed["unit"] == "W"
    assert most["unit"] == "g"
    for end in ("value", "high"):
        assert most["high"] / 1e3 > (opened[end] - closed[end]) / 2.4e6


def test_what_dried_is_a_danger_from_two_and_a_half_per_cent_on() -> None:
    assert cautions(stood(mass_now="9.5 kg"))["stock-got-stronger"]["severity"] == "danger"
    assert cautions(stood(mass_now="9.9 kg"))["stock-got-stronger"]["severity"] == "caution"
    assert "stock-got-stronger" not in cautions(stood(mass_now="9.99 kg"))


@pytest.mark.parametrize(
    ("more", "pointer", "code"),
    [
        ({"drawn_masses": ["6 kg", "4 kg"], "mass_now": "1 kg"}, "/drawn_masses", "contradiction"),
        ({"mass_now": "8 kg"}, "/mass_now", "beyond-solubility"),
        ({"mass_change": "-10 kg"}, "/mass_change", "beyond-solubility"),
        ({"mass_now": "21 kg"}, "/mass_now", "contradiction"),
        ({"mass_now": "10 kg", "relative_humidity": 0.5, "ambient": "-20 °C"}, "/ambient", "beyond-data"),
        (
            {
                "mass_now": "10 kg",
                "open_mixing": {"diameter": "30 cm", "duration": "30 min", "temperature": "180 °C"},
            },
            "/open_mixing/temperature",
            "impossible-temperature",
        ),
    ],
)
def test_what_cannot_be_is_refused(more: dict[str, Any], pointer: str, code: str) -> None:
    found = fault(NAME, {"solution": FILLED} | more, 422)
    assert (found.pointer, found.code) == (pointer, code)


def test_the_spreads_of_the_weighings_are_those_of_independent_draws() -> None:
    """By Monte Carlo (JCGM 101), against the first-order interval of the answer."""
    random = Random(20261126)  # noqa: S311 - draws of a test, not secrets
    draws, now, filled = (3.0, 2.0), 4.8, 10.0
    request = {
        "drawn_masses": [{"low": 2.99, "high": 3.01, "unit": "kg"}, {"low": 1.99, "high": 2.01, "unit": "kg"}],
        "mass_now": {"low": 4.78, "high": 4.82, "unit": "kg"},
    }
    told = stood(**request)["strength"]["mass_fraction"]
    found = sorted(
        0.45 * (filled - sum(one + random.uniform(-0.01, 0.01) for one in draws)) / (now + random.uniform(-0.02, 0.02))
        for _ in range(20_000)
    )
    assert told["high"] == pytest.approx(found[19_500], abs=4e-5)
    changed = stood(**request)["water_change"]
    assert changed["high"] - changed["value"] == pytest.approx(24, abs=3)  # g, of limits of 20, 10 and 10


def test_a_change_that_was_weighed_for_itself_carries_its_own_spread() -> None:
    answer = stood(drawn_masses=["3 kg"], mass_change={"low": -120, "high": -80, "unit": "g"})
    change = answer["water_change"]
    assert change["value"] == pytest.approx(-100)
    assert change["high"] - change["value"] == pytest.approx(19, abs=0.5)
    told = answer["strength"]["mass_fraction"]
    assert told["high"] - told["value"] == pytest.approx(told["value"] * 0.019 / 6.9, rel=0.02)


def test_a_stock_that_dried_to_where_it_sets_says_so() -> None:
    assert "crystals-in-solution" in cautions(stood(mass_now="8.7 kg", ambient="12 °C"))
    assert "crystals-in-solution" not in cautions(stood(mass_now="9.9 kg", ambient="20 °C"))


def test_an_open_mixing_loses_no_more_than_the_water_there_is() -> None:
    hot = {"diameter": "3 m", "duration": "10 d", "temperature": "100 °C"}
    assert stood(mass_change="0 g", open_mixing=hot)["mixing_loss"]["high"] == pytest.approx(5500)


def test_the_strongest_end_is_never_past_solubility() -> None:
    told = stood(drawn_masses=["3 kg"], mass_change={"low": -1020, "high": -840, "unit": "g"})["strength"][
        "mass_fraction"
    ]
    assert told["high"] == 0.52


def test_a_draw_at_a_time_not_known_is_told_as_assumed() -> None:
    answer = stood(drawn_masses=["3 kg"], mass_change="-100 g")
    assert [one["pointer"] for one in answer["assumed"]] == ["/drawn_masses"]
    assert stood(drawn_masses=["3 kg"], mass_change="0 g")["assumed"] == []


def said(**more: Any) -> str | None:
    found = cautions(stood(**more)).get("change-contradicts-air")
    return None if found is None else found["message"]


def test_a_cool_strong_stock_that_got_lighter_is_told_not_to_have_dried() -> None:
    """Over 45 % NaOH at 20 °C there are about 330 Pa of 2339 (Olsson 1997): no room is so dry."""
    spilled = stood(mass_now="9.5 kg", relative_humidity="40 %", ambient="20 °C")
    message = message_of(spilled, "change-contradicts-air")
    assert "500 g" in message
    assert "before any water is put back" in message
    told = int(message.partition("more than ")[2].partition(" %")[0]) / 100
    over = vapour_pressure.water_vapour_pressure("NaOH", 0.45, 20.0) / water.saturation_pressure(20.0)
    assert told == pytest.approx(over, abs=0.005)
    assert message_of(spilled, "stock-got-stronger").startswith("If 500 g (1.1 lb) of water are gone")
    assert said(mass_now="9.5 kg") == message  # rooms are seldom drier than 20 %


@pytest.mark.parametrize(
    "more",
    [
        {"relative_humidity": "5 %"},
        {"ambient": "60 °C", "relative_humidity": "15 %"},
        {"solution": FILLED | {"temperature": "80 °C"}},
        {"open_mixing": {"diameter": "50 cm", "duration": "10 h", "temperature": "90 °C"}},
        {"mass_now": {"value": 9.5, "uncertainty": 0.4, "unit": "kg"}},
        {"solution": FILLED | {"strength": {"mass_fraction": "20 %"}}},
    ],
)
def test_what_can_have_dried_a_stock_takes_the_word_of_it_back(more: dict[str, Any]) -> None:
    assert said(**{"mass_now": "9.5 kg"} | more) is None


def test_a_weak_stock_that_got_heavier_in_dry_air_is_told_not_to_have_taken_water_up() -> None:
    weak = FILLED | {"strength": {"mass_fraction": "10 %"}}
    message = said(solution=weak, mass_now="10.3 kg", relative_humidity="40 %", ambient="20 °C")
    assert message is not None
    assert "slip of weighing" in message
    told = message_of(stood(solution=weak, mass_now="10.3 kg", relative_humidity="40 %"), "stock-got-weaker")
    assert "the air that brought water" not in told
    assert said(mass_now="10.3 kg", relative_humidity="40 %", ambient="20 °C") is None
    assert said(solution=weak, mass_now="10.3 kg") is None


def test_an_end_of_where_it_dries_may_lie_at_the_edge_of_what_is_looked_for() -> None:
    over = vapour_pressure.water_vapour_pressure("KOH", 0.45, 0.5) / water.saturation_pressure(20.0)
    stock = FILLED | {"alkali": "KOH"}
    told = stood(solution=stock, mass_change="0 g", relative_humidity=over, ambient="20 °C")["loses_water_from"]
    assert told["value"] == pytest.approx(0.5, abs=1e-6)
    assert told["low"] == 0.01
    assert told["high"] > told["value"]


@pytest.mark.parametrize("spread", [{}, {"uncertainty": "0.01 %"}, {"uncertainty": "5 %"}])
def test_the_ends_of_a_draw_factor_hold_its_value_however_thin_the_stock_got(spread: dict[str, Any]) -> None:
    thin = FILLED | {"strength": {"mass_fraction": "1 %"} | spread}
    factor = stood(solution=thin, drawn_masses=["1 kg"], mass_now="17 kg")["draw_factor"]
    assert factor["low"] < factor["value"] <= factor["high"] <= 1000  # nothing weaker is called a stock
