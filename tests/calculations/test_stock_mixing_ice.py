"""Ice for a wanted stock: agreement with stock-mixing, the amounts, portions, and what cannot be."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.calculations.asking import ask, cautions, fault

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


WARM_WATER = {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": 0}, "temperature": "60 °C"}


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
    assert "stock-mixing" in cautions(answer)["heat-lost-unknown"]["message"]


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
