"""What bounds the peak of a mixing: heat to the vessel, to the air, with vapour; what a room gives back; boiling.

Expected figures are worked out here from the figures named; the service's own properties of a solution are taken
through `concentration`, which shares no code with these bounds.
"""

import math
from typing import Any

import pytest

from service.chemistry.standing_loss import convection_coefficient
from service.reference import reference_data
from tests.calculations.asking import Answer, ask, cautions, message_of

QUARTER: dict[str, Any] = {
    "solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": 1},
    "water": {"mass": "3 kg"},
}
"""25 % NaOH, 4 kg of it, from a room of 20 °C."""
POT: dict[str, Any] = {
    "material": "hdpe",
    "mass": "1 mg",
    "diameter": "20 cm",
    "height": "15 cm",
    "lid": True,
}
ICED: dict[str, Any] = {
    "solid": {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": 1, "temperature": "5 °C"},
    "ice": {"mass": "1 kg"},
    "water": {"mass": "2 kg", "temperature": "5 °C"},
}


def mixed(duration: str | None = "10 min", /, **vessel: object) -> Answer:
    timed = {} if duration is None else {"duration": duration}
    return ask("stock-mixing", QUARTER | {"vessel": POT | vessel} | timed)


def low(answer: Answer) -> float:
    return float(answer["peak_temperature"]["low"])


def peak(answer: Answer) -> float:
    return float(answer["peak_temperature"]["value"])


def quarter_at(t: float) -> Answer:
    strength = {"mass_fraction": 0.25}
    return ask("concentration", {"alkali": "NaOH", "strength": strength, "temperature": {"value": t, "unit": "°C"}})


CAPACITY = 4.0 * 3.67
"""kJ/K of the finished stock, at 3.67 kJ/(kg K) for 25 % NaOH (Laliberté 2009)."""


def capacity_at_the_low_end(t: float) -> float:
    """kJ/K: the heats' budget (95 %) of 25 % NaOH is 3.08 kJ/kg and 3 % of the heat that warms it, in quadrature, and
    the cool end takes all of it, so that each kelvin more costs so much more heat."""
    warming = 0.03 * 3.67 * (t - 25)
    return CAPACITY * (1 + 0.03 * warming / math.hypot(3.08, warming))


def test_an_open_vessel_also_loses_the_heat_of_its_vapour() -> None:
    """Twice h/(1.1 * 1007) m/s of the vapour's density, with h of free convection along 8 cm (Churchill & Chu 1975,
    Lewis 1922), Stefan's flow, and 2.41 MJ/kg, the slope of its pressure (Clausius and Clapeyron)."""
    open_, closed = mixed("10 s", lid=False), mixed("10 s", lid=True)
    here, there = (quarter_at(peak(closed) + more)["water_vapour_pressure"]["value"] for more in (0.0, 1.0))
    kelvin = peak(closed) + 273.15
    latent = 8.314 / 18.015e-3 * math.log(there / here) * kelvin * (kelvin + 1.0)
    density = here * 18.015e-3 / (8.314 * kelvin)
    stefan = -math.log(1.0 - here / 101325.0) / (here / 101325.0)
    level = 4.0 / 1600.0 / (math.pi * 0.1**2)
    carried = 2.0 * convection_coefficient(level, peak(closed), 20.0) / (1.1 * 1007) * density * stefan
    heat = math.pi * 0.1**2 * carried * latent * 10 / 1000
    assert low(closed) - low(open_) == pytest.approx(heat / capacity_at_the_low_end(low(open_)), rel=0.02)
    assert peak(open_) == peak(closed)


def most_through_walls(t: float, room: float) -> float:
    """W: free convection of the 4 kg, as low as 1600 kg/m3 lets them stand, and radiation over the whole cylinder."""
    area, level = math.pi * 0.2 * (0.1 + 0.15), 4.0 / 1600.0 / (math.pi * 0.1**2)
    convection = 1.5 * convection_coefficient(level, t, room)
    radiation = 0.95 * 5.670374e-8 * ((t + 273.15) ** 4 - (room + 273.15) ** 4)
    return area * (convection * (t - room) + radiation)


def test_walls_bottom_and_top_lose_heat_to_the_air() -> None:
    """Over the whole surface of the cylinder, from the peak to the room: one and a half times free convection
    (Churchill & Chu 1975), and radiation at an emissivity of 0.95."""
    quick, slow = mixed("1 s"), mixed("10 min")
    t = peak(quick)
    for _ in range(599):  # second by second, cooling by what is lost
        t -= most_through_walls(t, 20.0) / 1000 / CAPACITY
    heat = (peak(quick) - t) * CAPACITY
    assert low(quick) - low(slow) == pytest.approx(heat / capacity_at_the_low_end(low(slow)), rel=0.02)


def test_the_vessel_takes_up_heat_by_the_upper_end_of_its_capacity() -> None:
    capacity = reference_data().vessel_materials["hdpe"].heat_capacity
    assert capacity.high > 1.2 * capacity.low  # so that the two ends can be told apart
    drop = low(mixed("1 s")) - low(mixed("1 s", mass="1 kg"))
    heat = capacity.high / 1000 * (peak(mixed()) - 20)
    assert drop == pytest.approx(heat / capacity_at_the_low_end(low(mixed("1 s"))), rel=0.02)


def test_without_a_duration_a_tenth_of_the_heat_is_lost_at_most() -> None:
    untimed, timed = mixed(None), mixed("1 s")
    tenth = 0.1 * untimed["heat_released"]["value"]
    assert low(timed) - low(untimed) == pytest.approx(tenth / CAPACITY, rel=0.03)


def test_a_vessel_of_unknown_shape_is_twice_as_wide_as_high() -> None:
    """A cylinder of diameter d and height d/2 holds pi d^3 / 8, and is as large outside as pi d^2."""
    shape = {name: value for name, value in POT.items() if name not in {"diameter", "height"}}
    unknown = ask("stock-mixing", QUARTER | {"vessel": shape | {"volume": "8 L", "lid": False}, "duration": "10 min"})
    d = 10 * (8 * 0.008 / math.pi) ** (1 / 3)
    known = mixed(diameter=f"{10 * d} cm", height=f"{5 * d} cm", lid=False)
    assert low(unknown) == pytest.approx(low(known), abs=1e-6)


def test_a_vessel_of_unknown_size_is_as_large_as_so_much_water() -> None:
    """Stock is denser than water, so 4 L are more than 4 kg of it take."""
    shape = {name: value for name, value in POT.items() if name not in {"diameter", "height"}}
    unknown = ask("stock-mixing", QUARTER | {"vessel": shape, "duration": "10 min"})
    known = ask("stock-mixing", QUARTER | {"vessel": shape | {"volume": "4 L"}, "duration": "10 min"})
    assert low(unknown) == pytest.approx(low(known), abs=1e-9)


def test_however_long_it_takes_it_does_not_get_colder_than_the_room() -> None:
    assert low(mixed("10 h", lid=False)) == pytest.approx(20, abs=1e-9)


def test_a_room_warms_a_cold_mixing_by_what_passes_its_walls() -> None:
    """Reckoned from the coldest point of the path, over the whole surface, for the whole time."""
    cold = ask("stock-mixing", ICED | {"vessel": POT, "duration": "1 s", "ambient": "30 °C"})
    slow = ask("stock-mixing", ICED | {"vessel": POT, "duration": "10 min", "ambient": "30 °C"})
    coldest = min(point["temperature"]["value"] for point in cold["path"])
    heat = -most_through_walls(coldest, 30.0) * 599 / 1000
    gain = slow["peak_temperature"]["high"] - cold["peak_temperature"]["high"]
    assert gain == pytest.approx(heat / CAPACITY, rel=0.02)
    margins = cold["boiling_margin"]["value"] - slow["boiling_margin"]["value"]
    assert margins == pytest.approx(gain, rel=1e-6)


def test_a_room_warms_no_farther_than_to_itself_and_melts_no_more_than_the_ice() -> None:
    """333.4 kJ/kg of melting (IAPWS R10-06 and IAPWS-95), and the way from the coldest point to the room."""
    slow = ask("stock-mixing", ICED | {"vessel": POT, "duration": "10 h", "ambient": "30 °C"})
    quick = ask("stock-mixing", ICED | {"vessel": POT, "duration": "1 s", "ambient": "30 °C"})
    coldest = min(point["temperature"]["value"] for point in slow["path"])
    gain = quick["boiling_margin"]["value"] - slow["boiling_margin"]["value"]
    assert gain == pytest.approx(30 - coldest + 333.4 / CAPACITY, rel=0.01)
    # The peak is not said to get hotter than the stock may boil: the upper end of its boiling point.
    w = slow["strength"]["mass_fraction"]["value"]
    boiling = ask("concentration", {"alkali": "NaOH", "strength": {"mass_fraction": w}})["boiling_point"]
    assert slow["peak_temperature"]["high"] == pytest.approx(boiling["high"], abs=1e-6)


def test_the_margin_to_boiling_counts_from_high_to_the_low_end_of_the_boiling_point() -> None:
    """40 % KOH: its boiling point is known to 2 K (judged), so the margin is less than between the two values."""
    request = {
        "solid": {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "90 %", "moisture": "10 %"},
        "water": {"mass": "1.25 kg"},
    }
    answer = ask("stock-mixing", request)
    last = answer["path"][-1]
    high = answer["peak_temperature"]["high"] - peak(answer)
    told = last["boiling_point"]["value"] - last["temperature"]["value"] - high
    assert last["strength"]["mass_fraction"]["value"] == pytest.approx(0.4)
    assert answer["boiling_margin"]["value"] == pytest.approx(told - 2.0, abs=0.3)


def test_a_peak_capped_by_boiling_is_as_uncertain_as_the_boiling_point() -> None:
    """Pure KOH boils down beyond 40 %; there its boiling point is known to between 2 and 5 K (judged)."""
    request = {"solid": {"alkali": "KOH", "mass_as_supplied": "0.7 kg", "purity": 1}, "water": {"mass": "1 kg"}}
    answer = ask("stock-mixing", request)
    assert answer["water_boiled_off"]["value"] > 0
    high, low_ = answer["peak_temperature"]["high"], low(answer)
    w = answer["path"][-1]["strength"]["mass_fraction"]["value"]
    assert 0.40 < w < 0.45
    spread = 2.0 + (w - 0.40) / 0.05  # 2 K at 40 %, 3 K at 45 %
    # The hottest run boils down a little farther, the coolest not so far.
    assert spread <= high - peak(answer) <= spread + 1
    assert spread - 1 <= peak(answer) - low_


def test_a_mixing_that_may_boil_at_the_low_end_of_its_boiling_point_is_said_to() -> None:
    def margin(water: float) -> Answer:
        solid = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "95 %", "moisture": "4 %"}
        return ask("stock-mixing", {"solid": solid, "water": {"mass": f"{water} kg", "temperature": "20 °C"}})

    answers = [margin(1 + step / 100) for step in range(0, 180, 12)]
    for answer in answers:
        assert answer["boils"] is (answer["boiling_margin"]["value"] <= 0)
        assert ("boils" in cautions(answer)) is answer["boils"]
        assert ("boiling-margin-small" in cautions(answer)) is (0 < answer["boiling_margin"]["value"] < 10)
    assert {answer["boils"] for answer in answers} == {True, False}


def test_diluting_a_strong_stock_may_err_the_other_way_round() -> None:
    """The heats' budget (95 %): 9.1 kJ/kg at 50 %, 3.08 at 25 %, and there 3 % of the heat that warms it. More
    heat in both makes a mixing cooler that only dilutes: what 5 kg bring less is more than what 10 kg take less."""
    strong = {"alkali": "NaOH", "mass": "5 kg", "strength": {"mass_fraction": 0.5}, "temperature": "25 °C"}
    solid = {"alkali": "NaOH", "mass_as_supplied": "1 g", "purity": 1}
    water = {"mass": "5 kg", "temperature": "5 °C"}
    told = ask("stock-mixing", {"solid": solid, "water": water, "existing_stock": strong, "duration": "1 s"})
    warming = 0.03 * 3.67 * (peak(told) - 25)
    open_ = (5 * 9.1 - 10 * math.hypot(3.08, warming)) / (10 * 3.67)
    assert told["peak_temperature"]["high"] - peak(told) == pytest.approx(open_, rel=0.1)


def test_a_cold_mixing_in_a_warm_room_ends_no_colder_than_the_room() -> None:
    """It starts at 0 °C and may lose all heat that it releases, but the room of 30 °C takes it no lower than itself."""
    told = ask("stock-mixing", ICED | {"vessel": POT | {"lid": False}, "duration": "10 h", "ambient": "30 °C"})
    assert peak(told) > 30
    assert low(told) == 30


def test_a_room_hotter_than_the_peak_takes_no_heat_and_leaves_the_lower_end_to_the_data() -> None:
    hot = ICED | {"vessel": POT | {"mass": "2 kg"}, "ambient": "80 °C"}
    ends = set()
    for duration in ("1 s", "10 min"):
        told = ask("stock-mixing", hot | {"duration": duration}, explain=True)
        assert peak(told) < 80
        ends.add(low(told))
        step = next(one for one in told["steps"] if one["name"] == "coolest peak, no heat lost")
        assert step["inputs"]["lost"]["value"] == 0
        assert low(told) == step["result"]["value"]
    (end,) = ends
    warming = 0.03 * 3.67 * (peak(told) - 25)  # the error budget of the heats, as it is stated
    assert peak(told) - end == pytest.approx(math.hypot(3.08, warming) / 3.67, rel=0.05)


def test_a_vessel_takes_up_heat_by_its_mass_without_a_duration_too() -> None:
    """2 kg of plastic, heated from the room to the peak, beside the tenth of the heat that is lost elsewhere."""
    bare = mixed(None, mass="1 mg")
    heavy = mixed(None, mass="2 kg")
    capacity = reference_data().vessel_materials["hdpe"].heat_capacity.high
    assert peak(bare) == peak(heavy)
    cooler = 2 * capacity * (peak(heavy) - 20) / (4 * 3670)
    assert low(bare) - low(heavy) == pytest.approx(cooler, rel=0.05)


def test_a_room_colder_than_the_mixing_adds_no_margin() -> None:
    request = {
        "solid": QUARTER["solid"] | {"temperature": "25 °C"},
        "water": {"mass": "3 kg", "temperature": "25 °C"},
        "vessel": POT,
        "duration": "10 min",
    }
    cool, cold = (ask("stock-mixing", request | {"ambient": t}) for t in ("20 °C", "0 °C"))
    assert cool["boiling_margin"] == cold["boiling_margin"]
    assert cool["peak_temperature"]["high"] == cold["peak_temperature"]["high"]


def test_the_spread_of_a_purity_counts_by_the_mass_of_the_solid() -> None:
    """95 % of a rectangle of one point, on 2 of 5 kg."""
    solid = {"alkali": "NaOH", "mass_as_supplied": "2 kg", "purity": {"low": 0.97, "high": 0.99, "unit": "1"}}
    strength = ask("stock-mixing", {"solid": solid, "water": {"mass": "3 kg"}})["strength"]["mass_fraction"]
    assert strength["high"] - strength["value"] == pytest.approx(0.95 * 0.01 * 2 / 5)


def test_a_vessel_by_diameter_and_height_holds_its_cylinder() -> None:
    """pi / 4 * 10 cm * 10 cm * 15 cm are 1.18 L."""
    answer = mixed(diameter="10 cm", height="15 cm")
    assert "holds 1.178 L (39.83 US fl oz)" in message_of(answer, "vessel-too-small")
    assert "vessel-too-small" not in cautions(mixed())


def test_a_loss_cools_what_loses_it_so_that_a_long_mixing_ends_at_the_room() -> None:
    """Straight on, an open pot would lose more in five hours than the whole heat; at most it comes near to the room."""
    lost = [mixed(f"{hours} h", lid=False)["peak_temperature"]["low"] for hours in (0.5, 5, 50)]
    assert lost[0] > lost[1] >= lost[2] >= 20.0
