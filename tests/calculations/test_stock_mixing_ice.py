"""Ice for a wanted stock: agreement with stock-mixing, the amounts, portions, and what cannot be."""

from statistics import NormalDist
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.shared.rendering import UnitSystem
from service.chemistry.ice_needed import heat_taken_off, ice_needed
from service.chemistry.mixing_records import Charge, Ice, Solid, Water
from tests.calculations.asking import ask, assumed, cautions, fault, message_of

NAME = "stock-mixing/ice"
HALF = {"mass_fraction": "50 %"}


def wanted(w: str = "50 %", limit: str = "70 °C", **more: Any) -> dict[str, Any]:
    solid = {"alkali": "NaOH", "purity": "100 %"} | more.pop("solid", {})
    return {"solid": solid, "strength": {"mass_fraction": w}, "peak_limit": limit} | more


def mixed(asked: dict[str, Any], answer: dict[str, Any]) -> dict[str, Any]:
    """What stock-mixing says of the mixing that was answered."""
    solid = {name: value for name, value in asked["solid"].items() if name != "bags"}
    request: dict[str, Any] = {"solid": solid | {"mass_as_supplied": plain(answer["mass_as_supplied"])}}
    t = asked.get("water_temperature")
    if answer["water_mass"]["value"]:
        request["water"] = {"mass": plain(answer["water_mass"])} | ({"temperature": t} if t else {})
    if answer["ice_mass"]["value"]:
        kind = {name: value for name, value in asked.get("ice", {}).items() if name != "bag_mass"}
        request["ice"] = {"mass": plain(answer["ice_mass"])} | kind
    request |= {name: asked[name] for name in ("existing_stock", "vessel", "ambient") if name in asked}
    return ask("stock-mixing", request)


def plain(figure: dict[str, Any]) -> dict[str, Any]:
    return {"value": figure["value"], "unit": figure["unit"]}


@given(
    st.sampled_from(["NaOH", "KOH"]),
    st.floats(0.15, 0.48),
    st.floats(25.0, 95.0),
    st.floats(0.0, 0.5),
    st.floats(-20.0, 0.0),
)
def test_ice_and_mixing_agree_and_the_upper_end_is_the_limit(
    alkali: str, w: float, limit: float, melted: float, cold: float
) -> None:
    asked = wanted(limit=f"{limit!r} °C", solution_mass="10 kg")
    asked["strength"] = {"mass_fraction": w}
    asked["solid"] = {"alkali": alkali, "purity": "98 %", "moisture": "1 %"}
    asked["ice"] = {"melted_share": melted, "temperature": f"{cold!r} °C"}
    answer = ask(NAME, asked)
    told = mixed(asked, answer)
    assert told["peak_temperature"]["value"] == pytest.approx(answer["peak_temperature"]["value"], abs=0.02)
    assert told["peak_temperature"]["high"] == pytest.approx(answer["peak_temperature"]["high"], abs=0.02)
    assert told["strength"]["mass_fraction"]["value"] == pytest.approx(w, abs=1e-9)
    assert told["mass"]["value"] == pytest.approx(10_000, rel=1e-9)
    high = answer["peak_temperature"]["high"]
    if answer["ice_mass"]["value"] > 0 and answer["reachable"]:
        assert high == pytest.approx(limit, abs=0.05)
    assert answer["reachable"] == (high <= limit + 0.05)


def test_solid_and_water_follow_from_the_mass_that_is_wanted() -> None:
    answer = ask(NAME, wanted(solution_mass="10 kg", solid={"purity": "98 %"}))
    assert answer["mass_as_supplied"]["value"] == pytest.approx(5000 / 0.98, rel=1e-12)
    water = 10_000 - 5000 / 0.98
    assert answer["ice_mass"]["value"] + answer["water_mass"]["value"] == pytest.approx(water, rel=1e-12)


def test_whole_bags_of_solid_say_how_much_is_made() -> None:
    answer = ask(NAME, wanted("40 %", solid={"bags": {"count": 2, "mass": "25 kg"}}))
    assert answer["mass_as_supplied"]["value"] == pytest.approx(50_000)
    assert answer["mass"]["value"] == pytest.approx(125_000)


def test_a_vessel_is_filled_with_room_for_foam() -> None:
    answer = ask(NAME, wanted(vessel={"material": "hdpe", "volume": "20 L"}))
    assert answer["fill_volume"]["value"] <= 18_000
    assert answer["fill_volume"]["value"] == pytest.approx(18_000, rel=5e-3)
    assert answer["headspace"]["value"] == pytest.approx(20_000 - answer["fill_volume"]["value"])
    assert answer["cold_volume"]["value"] < answer["fill_volume"]["value"]
    assert "vessel-too-small" not in cautions(answer)


def test_what_is_left_in_the_tank_counts() -> None:
    left = {"alkali": "NaOH", "mass": "4 kg", "strength": {"mass_fraction": "30 %"}}
    asked = wanted("45 %", solution_mass="20 kg", existing_stock=left)
    answer = ask(NAME, asked)
    assert answer["mass_as_supplied"]["value"] == pytest.approx(20_000 * 0.45 - 1200, rel=1e-12)
    assert mixed(asked, answer)["strength"]["mass_fraction"]["value"] == pytest.approx(0.45, abs=1e-9)


def test_half_melted_ice_has_to_be_more() -> None:
    dry = ask(NAME, wanted("35 %", "70 °C", solution_mass="10 kg"))
    wet = ask(NAME, wanted("35 %", "70 °C", solution_mass="10 kg", ice={"melted_share": "50 %"}))
    assert wet["ice_mass"]["value"] > 1.5 * dry["ice_mass"]["value"]


def test_ice_comes_in_whole_bags_where_the_water_allows_it() -> None:
    loose = ask(NAME, wanted("35 %", "60 °C", solution_mass="10 kg"))["ice_mass"]["value"]
    bagged = ask(NAME, wanted("35 %", "60 °C", solution_mass="10 kg", ice={"bag_mass": "500 g"}))
    assert bagged["ice_bags"]["value"] * 500 == bagged["ice_mass"]["value"]
    assert 0 <= bagged["ice_mass"]["value"] - loose < 500
    large = ask(NAME, wanted("35 %", "60 °C", solution_mass="10 kg", ice={"bag_mass": "10 kg"}))
    assert (large["ice_bags"]["value"], large["ice_mass"]["value"]) == (1, pytest.approx(loose))


def test_no_ice_is_told_where_none_is_needed() -> None:
    answer = ask(NAME, wanted("5 %", "60 °C", solution_mass="10 kg"))
    assert answer["ice_mass"]["value"] == 0
    assert answer["reachable"]


def test_where_all_ice_is_too_little_it_says_what_does() -> None:
    asked = wanted(limit="40 °C", solution_mass="10 kg", ice={"melted_share": "50 %"})
    answer = ask(NAME, asked)
    assert not answer["reachable"]
    assert answer["water_mass"]["value"] == 0
    assert answer["lowest_peak"] == answer["peak_temperature"]
    assert answer["heat_to_remove"]["value"] > 0
    assert cautions(answer)["ice-too-little"]["severity"] == "danger"
    stages = answer["stages"]
    assert len(stages) > 1
    assert sum(one["mass_as_supplied"]["value"] for one in stages) == pytest.approx(5000, rel=1e-3)
    assert "wait_until_temperature" not in stages[0]
    first = ask("stock-mixing", {
        "solid": asked["solid"] | {"mass_as_supplied": plain(stages[0]["mass_as_supplied"])},
        "ice": {"mass": plain(answer["ice_mass"]), "melted_share": "50 %"},
    })  # fmt: skip
    assert first["peak_temperature"]["high"] == pytest.approx(40.0, abs=0.05)
    held = stages[0]["mass_as_supplied"]["value"]
    second = ask("stock-mixing", {
        "solid": asked["solid"] | {"mass_as_supplied": plain(stages[1]["mass_as_supplied"])},
        "existing_stock": {
            "alkali": "NaOH",
            "mass": {"value": held + 5000, "unit": "g"},
            "strength": {"mass_fraction": held / (held + 5000)},
            "temperature": plain(stages[1]["wait_until_temperature"]),
        },
    })  # fmt: skip
    assert second["peak_temperature"]["high"] == pytest.approx(40.0, abs=0.1)


def test_cold_enough_solid_does_it_too() -> None:
    asked = wanted(limit="50 °C", solution_mass="10 kg", solid={"temperature": "30 °C"})
    answer = ask(NAME, asked)
    assert not answer["reachable"]
    cold = answer["solid_temperature_needed"]
    again = ask(NAME, asked | {"solid": asked["solid"] | {"temperature": plain(cold)}})
    assert again["peak_temperature"]["high"] == pytest.approx(50.0, abs=0.05)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("digits", [1, 2, 3])
def test_what_digits_leave_still_keeps_the_limit(digits: int, units: UnitSystem) -> None:
    """Rounded to the nearest, a solid would be let in too warm, and ice be short."""
    asked = wanted(limit="50 °C", solution_mass="10 kg", solid={"temperature": "30 °C"})
    full, answer = ask(NAME, asked, units=units), ask(NAME, asked, units=units, digits=digits)
    assert answer["solid_temperature_needed"]["value"] <= full["solid_temperature_needed"]["value"]
    assert answer["heat_to_remove"]["value"] >= full["heat_to_remove"]["value"]
    for told, exact in zip(answer["stages"][1:], full["stages"][1:], strict=True):
        assert told["wait_until_temperature"]["value"] <= exact["wait_until_temperature"]["value"]
    again = asked | {"solid": asked["solid"] | {"temperature": plain(answer["solid_temperature_needed"])}}
    assert ask(NAME, again)["reachable"]
    mild = wanted(limit="60 °C", solution_mass="10 kg")
    need, told = ask(NAME, mild, units=units)["ice_mass"], ask(NAME, mild, units=units, digits=digits)["ice_mass"]
    assert told["value"] >= need["value"]


def test_bags_to_fetch_are_not_rounded() -> None:
    asked = wanted(limit="60 °C", solution_mass="100 kg", ice={"bag_mass": "1 kg"})
    bags = ask(NAME, asked)["ice_bags"]
    assert bags["value"] % 10 != 0
    assert ask(NAME, asked, digits=1)["ice_bags"] == bags


def test_a_limit_above_boiling_is_told_and_kept_clear_of() -> None:
    hot: dict[str, Any] = {"water_temperature": "90 °C", "solid": {"temperature": "60 °C"}}
    answer = ask(NAME, wanted(limit="149 °C", solution_mass="10 kg", **hot))
    assert "limit-above-boiling" in cautions(answer)
    assert answer["boiling_margin"]["value"] == pytest.approx(1.0, abs=0.3)
    assert answer["reachable"]
    assert "boils" not in cautions(answer)


def test_ice_that_has_melted_at_the_temperature_of_the_water_is_no_help() -> None:
    melted = wanted("50 %", "60 °C", solution_mass="10 kg", water_temperature="0 °C", ice={"melted_share": 1})
    answer = ask(NAME, melted, explain=True)
    assert not answer["reachable"]
    assert answer["heat_to_remove"]["value"] > 0
    weak = ask(NAME, melted | {"strength": {"mass_fraction": "5 %"}}, explain=True)
    assert weak["reachable"]
    assert weak["ice_mass"]["value"] == 0


def test_a_little_ice_from_a_large_bag_is_not_rounded_away() -> None:
    answer = ask(NAME, wanted(limit="60 °C", solution_mass="1 mg", ice={"bag_mass": "2 kg"}))
    assert answer["ice_bags"]["value"] == 1
    assert answer["ice_mass"]["value"] > 0
    assert answer["peak_temperature"]["high"] <= 60


@given(st.floats(35.0, 50.0), st.floats(5.0, 30.0), st.floats(96.0, 100.0))
def test_a_limit_is_not_passed_by_rounding(w: float, room: float, purity: float) -> None:
    """A vessel whose own limit is asked for would be said to be past it."""
    vessel = {"material": "stainless-steel", "volume": "50 L", "maximum_temperature": "70 °C"}
    asked = wanted(f"{w!r} %", "70 °C", vessel=vessel, ambient=f"{room!r} °C")
    asked["solid"] = {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": f"{purity!r} %"}
    answer = ask(NAME, asked)
    assert answer["reachable"]
    assert answer["peak_temperature"]["high"] <= 70
    assert "vessel-limit-exceeded" not in cautions(answer)


WARM_WATER = {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": 0}, "temperature": "22 °C"}


@pytest.mark.parametrize("more", [{}, {"existing_stock": WARM_WATER}, {"water_temperature": "40 °C"}])
@pytest.mark.parametrize("limit", ["30 °C", "22 °C", "60 °C"])
def test_a_vessel_that_is_filled_is_not_called_too_small(limit: str, more: dict[str, Any]) -> None:
    """Where all ice is too little, the stock gets hotter than the limit, and takes more room."""
    answer = ask(NAME, wanted(limit=limit, vessel={"material": "hdpe", "volume": "4 L"}, **more))
    assert "vessel-too-small" not in cautions(answer)
    assert answer["headspace"]["value"] == pytest.approx(400, rel=0.05)


@pytest.mark.parametrize("limit", ["45 °C", "40 °C", "32 °C"])
def test_portions_add_up_to_the_solid(limit: str) -> None:
    answer = ask(NAME, wanted(limit=limit, solution_mass="10 kg"))
    portions = [one["mass_as_supplied"]["value"] for one in answer["stages"]]
    assert sum(portions) == pytest.approx(5000, rel=1e-12)


def test_a_duration_is_not_asked_for_where_none_is_taken() -> None:
    answer = ask(NAME, wanted(solution_mass="10 kg"))
    assert "/duration" not in {one["pointer"] for one in answer["assumed"]}
    assert "stock-mixing" in message_of(answer, "heat-lost-unknown")


def stock(t: str | None, w: str = "40 %") -> dict[str, Any]:
    left = {"alkali": "NaOH", "mass": "2 kg", "strength": {"mass_fraction": w}}
    return left if t is None else left | {"temperature": t}


@pytest.mark.parametrize("w", ["40 %", "0 %"])
def test_contents_above_the_limit_are_refused_and_such_at_the_limit_are_not(w: str) -> None:
    """A tank that must not pass a temperature has passed it, however cold all of it gets in the end."""
    asked = wanted("45 %", "70 °C", solid={"mass_as_supplied": "2 kg"})
    for hot in ("80 °C", "70.01 °C"):
        found = fault(NAME, asked | {"existing_stock": stock(hot, w)}, 422)
        assert (found.pointer, found.code) == ("/existing_stock/temperature", "contradiction")
        assert "70 °C" in found.detail
    answer = ask(NAME, asked | {"existing_stock": stock("158 °F", w)})
    assert answer["reachable"] == (w == "40 %")  # what solid does to plain water of 70 °C no ice undoes
    found = fault(NAME, asked | {"ambient": "30 °C", "peak_limit": "29 °C", "existing_stock": stock(None, w)}, 422)
    assert found.pointer == "/ambient"


LOOSE = {"low": 96.0, "high": 100.0, "unit": "%"}


def spreads(asked: dict[str, Any], *, drawn: int = 120) -> dict[str, tuple[float, float]]:
    """Ends that hold 95 % of the answers, had the purity been told: Monte Carlo over its limits, evenly spaced."""
    answers = []
    for place in range(drawn):
        pure = 96.0 + (place + 0.5) / drawn * 4.0
        answer = ask(NAME, asked | {"solid": asked["solid"] | {"purity": f"{pure!r} %"}})
        told = {name: answer[name]["value"] for name in ("mass_as_supplied", "mass", "ice_mass", "water_mass")}
        answers.append(told | {"water": told["ice_mass"] + told["water_mass"]})
    found = {name: sorted(one[name] for one in answers) for name in answers[0]}
    return {name: (values[round(0.025 * drawn)], values[round(0.975 * drawn) - 1]) for name, values in found.items()}


@pytest.mark.parametrize("more", [{"solution_mass": "20 kg"}, {"solid": {"mass_as_supplied": "8 kg"}}])
@pytest.mark.parametrize("left", [{}, {"existing_stock": stock("20 °C")}])
def test_amounts_are_as_wide_as_the_limits_of_the_purity_make_them(left: dict[str, Any], more: dict[str, Any]) -> None:
    """Against Monte Carlo: propagation of the first order misses by the square of the half-width, 0.04 %."""
    asked = wanted("45 %", **more, **left)
    answer = ask(NAME, asked | {"solid": asked["solid"] | {"purity": LOOSE}})
    found = spreads(asked)
    open_, exact = (
        ("mass", "mass_as_supplied") if "mass_as_supplied" in asked["solid"] else ("mass_as_supplied", "mass")
    )
    low, high = found[open_]
    assert answer[open_]["low"] == pytest.approx(low, rel=2e-3)
    assert answer[open_]["high"] == pytest.approx(high, rel=2e-3)
    assert answer[open_]["high"] - answer[open_]["low"] == pytest.approx(high - low, rel=0.03)
    assert "low" not in answer[exact]
    low, high = found["water"]
    half = (answer["water_mass"]["high"] - answer["water_mass"]["low"]) / 2
    assert 2 * half == pytest.approx(high - low, rel=0.03)
    poured = answer["water_mass"]["value"] + answer["ice_mass"]["value"]
    assert poured - half == pytest.approx(low, rel=2e-3)


def test_a_purity_without_limits_leaves_the_amounts_exact() -> None:
    answer = ask(NAME, wanted("45 %", solution_mass="20 kg", solid={"purity": "98 %"}))
    for name in ("mass_as_supplied", "water_mass", "mass"):
        assert "low" not in answer[name]


def test_an_uncertain_stock_in_the_tank_widens_the_solid_that_goes_in() -> None:
    left = {"alkali": "NaOH", "mass": "4 kg", "strength": {"mass_fraction": {"low": 28, "high": 32, "unit": "%"}}}
    answer = ask(NAME, wanted("45 %", solution_mass="20 kg", existing_stock=left))
    half = 0.95 * 0.02 * 4000  # a rectangle covers 95 % within 95 % of its half-width
    assert answer["mass_as_supplied"]["high"] - answer["mass_as_supplied"]["value"] == pytest.approx(half, rel=1e-6)


@pytest.mark.parametrize("purity", ["98 %", LOOSE])
def test_the_ice_is_enough_at_the_upper_end_and_its_low_holds_what_is_needed(purity: Any) -> None:
    """Against Monte Carlo over purity (rectangular) and heats (normal), of the very amounts that are answered."""
    low, high = (98.0, 98.0) if purity == "98 %" else (96.0, 100.0)
    answer = ask(NAME, wanted("45 %", solution_mass="20 kg", solid={"purity": purity, "temperature": "20 °C"}))
    mass, ice = answer["mass_as_supplied"]["value"] / 1000, answer["ice_mass"]
    water = Water(20 - mass, 20.0)
    needed = sorted(
        1000 * ice_needed(
            Solid("NaOH", mass, 20.0, pure / 100), Charge(water), 70.0, heat_taken_off(Ice(1.0), 20.0),
            enthalpy_shift=NormalDist(0, 1 / 1.96).inv_cdf((i + 0.5) / 40),
        ).mass
        for i in range(40) for pure in (low + (j + 0.5) / 40 * (high - low) for j in range(40))
    )  # fmt: skip
    assert ice["high"] == ice["value"]
    assert sum(ice["low"] <= one <= ice["high"] for one in needed) / len(needed) >= 0.95
    assert ice["low"] == pytest.approx(needed[round(0.025 * len(needed))], rel=0.01)
    assert ice["value"] >= needed[round(0.975 * len(needed)) - 1] * (1 - 1e-3)


def test_where_all_ice_is_too_little_it_is_as_uncertain_as_the_water() -> None:
    answer = ask(NAME, wanted(limit="40 °C", solution_mass="10 kg", solid={"purity": LOOSE}, ice={"melted_share": 0.5}))
    solid, ice = answer["mass_as_supplied"], answer["ice_mass"]
    assert not answer["reachable"]
    assert ice["high"] - ice["low"] == pytest.approx(solid["high"] - solid["low"], rel=1e-9)
    assert "low" not in answer["water_mass"]


@pytest.mark.parametrize(("alkali", "purity", "w"), [("NaOH", "98 %", 0.392), ("KOH", "90 %", 0.36)])
def test_a_strength_as_mixed_is_of_the_solid_that_goes_in(alkali: str, purity: str, w: float) -> None:
    """2 kg of the solid and 3 kg of water make a stock of 0.4 times the purity of that solid."""
    asked = wanted("0 %", solution_mass="5 kg", solid={"alkali": alkali, "purity": purity})
    mixed_of = {"mass_as_supplied": "2 kg", "water_mass": "3 kg"}
    answer = ask(NAME, asked | {"strength": {"as_mixed": mixed_of}})
    assert answer["strength"]["mass_fraction"]["value"] == pytest.approx(w, rel=1e-12)
    assert answer["mass_as_supplied"]["value"] == pytest.approx(2000, rel=1e-12)
    assert assumed(answer)["/strength/as_mixed/purity"] == purity
    own = ask(NAME, asked | {"strength": {"as_mixed": mixed_of | {"purity": "85 %"}}})
    assert own["strength"]["mass_fraction"]["value"] == pytest.approx(0.34, rel=1e-12)


def test_mixed_once_more_the_same_solid_is_weighed_whatever_its_purity() -> None:
    asked = wanted("0 %", solution_mass="5 kg", solid={"purity": LOOSE})
    answer = ask(NAME, asked | {"strength": {"as_mixed": {"mass_as_supplied": "2 kg", "water_mass": "3 kg"}}})
    assert answer["mass_as_supplied"]["value"] == pytest.approx(2000, rel=1e-12)
    assert "low" not in answer["mass_as_supplied"]
    assert "low" not in answer["water_mass"]


@pytest.mark.parametrize(
    ("request_", "pointer", "code"),
    [
        (wanted(), "", "contradiction"),
        (wanted(solution_mass="1 kg", solid={"mass_as_supplied": "1 kg"}), "/solution_mass", "contradiction"),
        (wanted(solution_mass="1 kg", limit="-5 °C"), "/peak_limit", "beyond-data"),
        (wanted(solution_mass="1 kg", limit="200 °C"), "/peak_limit", "beyond-data"),
        (wanted("52 %", solution_mass="1 kg", solid={"purity": "51 %"}), "/strength", "contradiction"),
        (wanted("10 %", solution_mass="1 kg", existing_stock={"alkali": "NaOH", "mass": "4 kg", "strength": HALF}),
         "/existing_stock", "contradiction"),
        (wanted(solid={"mass_as_supplied": "20 kg"}, vessel={"material": "hdpe", "volume": "20 L"}),
         "/vessel", "contradiction"),
        (wanted("10 %", solid={"bags": {"count": 6, "mass": "90000 t"}}), "/solid", "out-of-range"),
        (wanted(vessel={"material": "hdpe"}), "", "contradiction"),
        (wanted(solid={"mass_as_supplied": "1 kg", "purity": "50 %"}), "/strength", "beyond-solubility"),
        (wanted("51 %", solution_mass="1 kg", solid={"purity": "90 %"}), "/strength", "beyond-solubility"),
        (wanted(solution_mass="1 kg", water_temperature="-3 °C"), "/water_temperature", "impossible-temperature"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(request_: dict[str, Any], pointer: str, code: str) -> None:
    found = fault(NAME, request_, 422)
    assert (found.pointer, found.code) == (pointer, code)
