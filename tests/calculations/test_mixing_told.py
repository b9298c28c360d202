"""What a mixing says of itself: its messages against its numbers, its interval against balances, and its steps."""

import re
from typing import Any, Final

import pytest

from tests.calculations.asking import Answer, ask, assumed, cautions, fault, message_of
from tests.calculations.quantities import half_width

M: Final = "stock-mixing"
SOLID: Final[dict[str, Any]] = {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": 1, "temperature": "20 °C"}


def mixed(solid: dict[str, Any] | None = None, /, *, explain: bool = False, **contents: object) -> Answer:
    return ask(M, {"solid": SOLID if solid is None else SOLID | solid, **contents}, explain=explain)


def water(mass: str = "1 kg", t: str = "20 °C") -> dict[str, str]:
    return {"mass": mass, "temperature": t}


def heel(strength: object, **more: object) -> dict[str, Any]:
    return {"alkali": "NaOH", "strength": {"mass_fraction": strength}, "temperature": "25 °C", **more}


def stepped(answer: Answer) -> dict[str, Any]:
    return {one["name"]: one for one in answer["steps"]}


def test_the_distance_of_the_whole_to_boiling_is_told_as_a_difference() -> None:
    answer = mixed(water=water("4 kg"))
    told = message_of(answer, "local-boiling")
    found = re.search(r"stays (\d+) K \((\d+) °F\) below", told)
    assert found is not None, told
    assert float(found[1]) == pytest.approx(answer["boiling_margin"]["value"], abs=0.51)
    assert float(found[2]) == pytest.approx(1.8 * answer["boiling_margin"]["value"], abs=0.51)


def test_no_message_of_a_mixing_tells_more_than_tenths_of_a_degree() -> None:
    answer = mixed({"mass_as_supplied": "10 g"}, existing_stock=heel("45 %", mass="2 kg", temperature="2.345 °C"))
    assert "crystals-in-solution" in cautions(answer)
    for one in answer["cautions"]:
        assert not re.search(r"\d\.\d\d+ (°C|°F|K)", one["message"]), one["message"]


@pytest.mark.parametrize("w", [0.4, 0.45, 0.5])
def test_a_stock_holds_crystals_below_where_it_sets_and_may_hold_some_within_its_interval(w: float) -> None:
    """stock-dilution tells from where a solution sets, and how surely."""
    sets = ask("stock-dilution", {"solutions": [heel(w, mass="1 kg")]})["first_solid_temperature"]

    def told(t: float) -> str:
        stock = heel(w, mass="2 kg", temperature=f"{t!r} °C")
        answer = mixed({"mass_as_supplied": "1 g"}, existing_stock=stock)
        return " ".join(one["message"] for one in answer["cautions"] if "existing stock" in one["message"])

    assert "existing stock holds crystals" in told(sets["low"] - 0.5)
    assert "existing stock may hold crystals" in told((sets["low"] + sets["high"]) / 2)
    assert not told(sets["high"] + 0.5)


def test_what_sets_only_in_frost_is_not_told_to_be_stored_warmer() -> None:
    """A frost-free store may fall to 5 °C; 30 % NaOH sets near 1 °C (Pickering 1893), and not as ice."""
    sets = ask("stock-dilution", {"solutions": [heel(0.3, mass="1 kg")]})
    assert sets["first_solid_temperature"]["high"] < 5
    assert sets["first_solid"] != "ice"
    answer = mixed(water=water("2.3333333333 kg"))
    assert "crystals-in-solution" not in cautions(answer)


@pytest.mark.parametrize(("alkali", "ice", "solid"), [("NaOH", "1 kg", "1 kg"), ("KOH", "1 kg", "1 kg")])
def test_the_shares_without_a_temperature_and_the_cold_ones_are_those_of_the_path(
    alkali: str, ice: str, solid: str
) -> None:
    answer = mixed({"alkali": alkali, "mass_as_supplied": solid, "purity": "90 %"}, ice={"mass": ice})
    told = [one["message"] for one in answer["cautions"] if one["code"] == "ice-path-beyond-data"]
    path = answer["path"]
    unknown = [p["solid_added_share"]["value"] for p in path if "temperature" not in p]
    cold = [
        p["solid_added_share"]["value"]
        for p in path
        if p.get("temperature", {}).get("value", 1) < 0 and p["solid_added_share"]["value"] > 0
    ]
    for shares, words in ((unknown, "no temperature is given: "), (cold, "is colder than 0 °C")):
        messages = [one for one in told if words in one]
        assert len(messages) == bool(shares)
        for one in messages:
            found = re.match(r"With (\d+) % to (\d+) % of the solid in, ", one)
            assert found is not None, one
            assert [float(found[1]), float(found[2])] == [
                pytest.approx(100 * end, abs=0.51) for end in (shares[0], shares[-1])
            ]
            assert "None" not in one
    assert any("freezing point" in one for one in told) == (alkali == "KOH")


def test_a_single_share_that_is_cold_is_not_told_as_a_range() -> None:
    """Of little ice the liquid is below 0 °C at few points of the path only."""
    for ice in range(20, 400, 10):
        answer = mixed(water=water("1 kg", "0 °C"), ice={"mass": f"{ice} g"})
        cold = [p for p in answer["path"] if p["temperature"]["value"] < 0 and p["solid_added_share"]["value"] > 0]
        if len(cold) == 1:
            break
    told = message_of(answer, "ice-path-beyond-data")
    share = 100 * cold[0]["solid_added_share"]["value"]
    found = re.match(r"With (\d+) % of the solid in, ", told)
    assert found is not None, told
    assert float(found[1]) == pytest.approx(share, abs=0.51)


def test_what_a_vessel_takes_up_is_told_only_of_one_whose_mass_is_known() -> None:
    known = mixed(water=water(), vessel={"material": "nickel", "mass": "1 kg"})
    assert "what the vessel takes up" in message_of(known, "heat-lost-unknown")
    for vessel in (None, {"material": "nickel"}):
        told = message_of(mixed(water=water(), vessel=vessel), "heat-lost-unknown")
        assert "takes up" not in told
        assert "give it" in told


@pytest.mark.parametrize("state", [None, "liquid"])
def test_that_water_is_liquid_is_told_where_nobody_said_so(state: str | None) -> None:
    stock = heel(0, mass="2 kg") | ({} if state is None else {"state": state})
    told = assumed(mixed(existing_stock=stock))
    assert told.get("/existing_stock/state") == ("liquid" if state is None else None)
    assert "/existing_stock/temperature" not in told
    bare = {name: one for name, one in stock.items() if name != "temperature"}
    assert assumed(mixed(existing_stock=bare))["/existing_stock/temperature"] == "20 °C"


def test_the_upper_end_of_an_uncertain_stock_is_that_of_its_hotter_end() -> None:
    """95 % of a rectangle of 4 points to each side lie within 3.8."""

    def high(strength: object) -> float:
        answer = mixed({"mass_as_supplied": "400 g"}, existing_stock=heel(strength, mass="2 kg"))
        return float(answer["peak_temperature"]["high"])

    ends = [high(w) for w in ("26.2 %", "33.8 %")]
    assert high({"low": 26, "high": 34, "unit": "%"}) == pytest.approx(max(ends), abs=1e-6)


def test_the_strength_is_as_open_as_the_ends_of_a_stock_by_volume_make_it() -> None:
    """A stronger one is heavier, too; how dense it is by the model adds a little by itself."""
    stock = {"volume": "1.5 L"}
    told = mixed(water=water(), existing_stock=heel({"low": 25, "high": 35, "unit": "%"}, **stock))["strength"]
    weak, strong = (
        mixed(water=water(), existing_stock=heel(w, **stock))["strength"]["mass_fraction"]["value"]
        for w in ("25.25 %", "34.75 %")
    )
    assert half_width(told["mass_fraction"]) == pytest.approx((strong - weak) / 2, rel=0.01)


def high_in(ambient: str, duration: str, t: str = "35 °C") -> float:
    answer = mixed(water=water("3 kg", t), duration=duration, ambient=ambient)
    return float(answer["peak_temperature"]["high"])


def test_a_room_warms_by_no_more_than_it_is_warmer_and_a_moment_by_nothing() -> None:
    bare, moment, long = high_in("20 °C", "1 s"), high_in("40 °C", "1 s"), high_in("40 °C", "10 h")
    assert moment == pytest.approx(bare, abs=0.01)
    assert bare + 1 < long <= bare + 5.001


def lost(answer: Answer) -> dict[str, float]:
    return {name: one["value"] for name, one in stepped(answer)["heat lost at most"]["inputs"].items()}


@pytest.mark.parametrize("more", [{}, {"duration": "5 min"}])
def test_a_vessel_takes_up_heat_by_how_far_it_is_warmed_from_the_room(more: dict[str, str]) -> None:
    """2 kg of stainless steel, about 0.5 kJ/(kg K) (common figure, from memory)."""
    for ambient in (10, 30):
        vessel = {"material": "stainless-steel", "mass": "2 kg", "volume": "5 L", "lid": True}
        answer = mixed(water=water(), vessel=vessel, ambient=f"{ambient} °C", explain=True, **more)
        per_kelvin = lost(answer)["vessel"] / (answer["peak_temperature"]["value"] - ambient)
        assert per_kelvin == pytest.approx(2 * 0.5, rel=0.1)


def test_a_vessel_of_a_volume_is_one_twice_as_wide_as_high() -> None:
    """It has a volume of pi d^3 / 8, and loses no other heat than one that is said to be so."""
    diameter = 0.2
    litres = 3.141592653589793 * diameter**3 / 8 * 1000
    shaped = {"diameter": "20 cm", "height": "10 cm"}
    one, other = (
        lost(mixed(water=water(), vessel={"material": "hdpe", "lid": False} | of, duration="20 min", explain=True))
        for of in ({"volume": f"{litres!r} L"}, shaped)
    )
    for name in ("walls", "vapour"):
        assert one[name] == pytest.approx(other[name], rel=1e-9)
        assert one[name] > 0


def test_what_a_mixing_just_fills_loses_more_than_the_same_in_a_lidded_vessel_of_a_tenth_more() -> None:
    """Where no volume is told it is that of the contents, at 1000 kg/m3: 2 L for 2 kg."""
    bare = lost(mixed(water=water(), duration="20 min", explain=True))
    told = lost(mixed(water=water(), vessel={"material": "hdpe", "volume": "2 L"}, duration="20 min", explain=True))
    assert bare["walls"] == pytest.approx(told["walls"], rel=1e-9)
    assert bare["vapour"] == pytest.approx(told["vapour"], rel=1e-9)


def test_the_parts_of_a_mixing_bring_the_heat_that_its_balance_begins_with() -> None:
    answer = mixed({"purity": "97 %"}, water=water(), existing_stock=heel("30 %", mass="2 kg"), explain=True)
    told = stepped(answer)
    for name in ("the water", "the existing stock", "the solid"):
        assert f"heat of {name}" in told
    brought = sum(one["result"]["value"] for name, one in told.items() if name.startswith("heat of the "))
    assert told["adiabatic temperature"]["inputs"]["heat"]["value"] == pytest.approx(brought)


def test_the_strength_of_a_peak_on_ice_is_that_of_the_liquid_there() -> None:
    answer = mixed({"mass_as_supplied": "50 g"}, ice={"mass": "1 kg"}, explain=True)
    told = stepped(answer)["peak temperature"]["inputs"]
    near = min(answer["path"], key=lambda one: abs(one["solid_added_share"]["value"] - told["share"]["value"]))
    assert told["strength"]["value"] == near["strength"]["mass_fraction"]["value"]


def test_a_mixing_that_a_warm_room_warms_is_no_colder_than_without_its_heat_lost() -> None:
    """Losing heat makes nothing colder than the room: the steps of the lower end are those of the run without loss."""
    answer = mixed({"mass_as_supplied": "50 g"}, water=water("3 kg", "15 °C"), ambient="35 °C", duration="1 h")
    told = answer["peak_temperature"]
    assert told["low"] <= told["value"] < 35
    quick = mixed({"mass_as_supplied": "50 g"}, water=water("3 kg", "15 °C"), ambient="35 °C", duration="1 s")
    assert told["low"] == pytest.approx(quick["peak_temperature"]["low"], abs=0.5)


@pytest.mark.parametrize(("t", "steams"), [("49 °C", False), ("53 °C", True)])
def test_caustic_is_taken_to_steam_from_50_degrees(t: str, steams: bool) -> None:
    """As the answers say of a stock that cools from there."""
    answer = mixed({"mass_as_supplied": "1 g"}, existing_stock=heel("30 %", mass="2 kg", temperature=t))
    high = answer["peak_temperature"]["high"]
    assert 50 < high < 55 if steams else high < 50
    assert ("caustic-mist" in cautions(answer)) is steams


@pytest.mark.parametrize(("w", "limit"), [(0.4049, 80), (0.4052, 70)])
def test_a_limit_for_40_per_cent_holds_for_what_rounds_to_it(w: float, limit: float) -> None:
    answer = mixed(water={"mass": f"{(1 - w) / w!r} kg"}, vessel={"material": "stainless-steel"})
    assert answer["vessel_limit"]["value"] == limit


def test_steam_that_leaves_takes_room_before_it_does() -> None:
    """1.7 kg of 41 % KOH, of at most 1.41 kg/L (Dow Chemical, at 20 °C): no less than 1.2 L, whatever boils off."""
    vessel = {"material": "nickel", "volume": "1.1 L"}
    answer = mixed({"alkali": "KOH", "mass_as_supplied": "0.7 kg"}, water=water(), vessel=vessel)
    steam = answer["water_boiled_off"]["value"]
    assert steam > 0
    found = re.search(r"takes ([\d.]+) L", message_of(answer, "vessel-too-small"))
    assert found is not None
    assert float(found[1]) > 1.7 / 1.41


def test_how_far_a_glass_is_heated_is_told_as_a_difference() -> None:
    answer = mixed(water=water(), vessel={"material": "glass-soda-lime"})
    found = re.search(r"heats it by up to (\d+) K \((\d+) °F\)", message_of(answer, "glass-may-crack"))
    assert found is not None
    coldest = min(one["temperature"]["value"] for one in answer["path"])
    assert float(found[1]) == pytest.approx(answer["peak_temperature"]["high"] - coldest, abs=0.51)


def test_a_solid_that_cannot_hold_so_much_water_is_refused_with_what_it_can_hold() -> None:
    found = fault(M, {"solid": SOLID | {"purity": "95 %", "moisture": "6 %"}, "water": water()}, 422)
    assert (found.pointer, found.code) == ("/solid/moisture", "contradiction")
    assert "95 %" in found.detail
    assert "at most 5 %" in found.detail
