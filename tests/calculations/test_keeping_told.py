"""What the cautions and refusals of a cooling or a warming say in numbers is what the answer's own figures say."""

import re
from decimal import Decimal
from typing import Final

import pytest

from tests.calculations.asking import ask, assumed, cautions, fault, message_of
from tests.calculations.caution_cases_of_cooling import K, bath, cooling, readings
from tests.calculations.caution_cases_of_warming import W, held, warming
from tests.calculations.figures import NORMAL_95
from tests.calculations.quantities import celsius

SECONDS: Final = {"s": 1.0, "min": 60.0, "h": 3600.0}
WATTS: Final = {"W": 1.0, "kW": 1e3}
KILOGRAMS: Final = {"g": 1e-3, "kg": 1.0}


def _told(pattern: str, message: str) -> list[float]:
    """The numbers at the places of a pattern."""
    found = re.search(pattern, message)
    assert found is not None, message
    return [float(one) for one in found.groups()]


def _watts(message: str) -> list[float]:
    """All powers of a message [W]."""
    return [float(value) * WATTS[unit] for value, unit in re.findall(r"([\d.e+]+) (k?W)\b", message)]


# Cooling


@pytest.mark.parametrize(
    ("mass", "limit", "unit"),
    [("100 g", 0.1, "s"), ("2 kg", 0.3, "min"), ("100 kg", 1.0, "min"), ("5000 kg", 3.0, "h")],
)
def test_what_the_last_reading_leaves_uncertain_is_told_as_the_time_of_so_many_kelvins(
    mass: str, limit: float, unit: str
) -> None:
    """Along the curve of the answer: so many kelvins below the last reading are so much later."""
    apart = {"100 g": 10, "2 kg": 30, "100 kg": 200, "5000 kg": 3000}[mass]
    said = readings(celsius(80.0), celsius(70.0), celsius(62.0, uncertainty=limit), apart=apart)
    request = cooling(None, readings=said, vessel={"mass": "1 g", "diameter": None, "height": None})
    request["solution"]["mass"] = mass
    answer = ask(K, request)
    message = message_of(answer, "time-from-last-reading")
    found = re.search(r"last reading, 62 °C .*: ([\d.]+) K .* in that one alone are ([\d.e+]+) (s|min|h)\.", message)
    assert found is not None, message
    kelvins, told = float(found[1]), float(found[2]) * SECONDS[found[3]]
    assert found[3] == unit
    first, second = answer["path"][:2]
    slope = 3600 * second["time"]["value"] / (first["temperature"]["value"] - second["temperature"]["value"])
    assert kelvins == round(NORMAL_95 * limit, 1)
    assert told == pytest.approx(NORMAL_95 * limit * slope, rel=0.05)


def test_heat_and_water_of_a_bath_are_those_of_the_upper_end() -> None:
    request = cooling(around=bath(), vessel={"mass": None})
    answer = ask(K, request)
    heat, water = _told(r"up to ([\d.]+) kJ, which warms ([\d.]+) kg", message_of(answer, "bath-warms"))
    most = answer["heat_given_off"]["high"]
    assert heat == pytest.approx(most, rel=6e-3)
    assert most > 1.02 * answer["heat_given_off"]["value"]
    assert water == pytest.approx(most / 4.18 / 5.0, rel=6e-3)  # by 5 K of 4.18 kJ/(kg K)


def test_ice_to_have_in_a_bath_is_that_of_the_upper_end() -> None:
    answer = ask(K, cooling(around=bath("ice-bath"), vessel={"mass": None}))
    (ice,) = _told(r"Up to ([\d.]+) kg", message_of(answer, "ice-bath-melts"))
    assert answer["ice_melted"]["high"] > 1.02 * answer["ice_melted"]["value"]
    assert 1e3 * ice == pytest.approx(answer["ice_melted"]["high"], rel=6e-3)
    assert 1e3 * ice >= answer["ice_melted"]["high"]


def test_a_bath_that_warms_is_told_with_both_its_temperatures() -> None:
    answer = ask(K, cooling(around=bath(bath_mass="20 kg")))
    start, end = _told(r"warms from (\d+) °C .* to about (\d+) °C", message_of(answer, "bath-warms"))
    assert start == 15
    assert end == round(answer["path"][-1]["bath_temperature"]["value"])


@pytest.mark.parametrize("lid", [True, False])
def test_only_a_closed_vessel_that_gives_off_hydrogen_is_never_to_be_closed(lid: bool) -> None:
    message = message_of(ask(K, cooling(vessel={"material": "aluminium", "lid": lid})), "hydrogen")
    assert ("Never close it" in message) is lid


def test_where_crystals_form_is_told_as_it_is_answered() -> None:
    answer = ask(K, cooling(to="12 °C", around=bath("ice-bath")))
    first = answer["first_solid_temperature"]
    low, most = _told(r"\(from ([\d.]+) °C .*, at most ([\d.]+) °C", message_of(answer, "crystals-in-solution"))
    (store,) = _told(r"from ([\d.]+) °C", message_of(answer, "crystallises-in-store"))
    assert low == store == round(first["value"], 1)
    assert most == round(first["high"], 1)
    assert first["value"] != round(first["value"])


@pytest.mark.parametrize(("t", "told"), [("150 °C", False), ("144 °C", False), ("138 °C", True)])
def test_how_far_a_hot_stock_is_from_boiling_is_told_by_the_lower_end_of_its_boiling_point(t: str, told: bool) -> None:
    answer = ask(K, cooling(t))
    message = message_of(answer, "boiling-margin-small")
    assert message.startswith("It starts") is told
    if told:
        (margin,) = _told(r"It starts ([\d.]+) K", message)
        assert margin == pytest.approx(answer["boiling_point"]["low"] - 138, abs=0.051)


@pytest.mark.parametrize(
    ("start", "to", "given"), [(80.5, 61.5, False), (81.5, 62.0, True), (80.0, 60.5, True), (80.0, 62.0, False)]
)
def test_a_kelvin_beside_the_readings_is_not_yet_beyond_them(start: float, to: float, given: bool) -> None:
    said = readings("80 °C", "70 °C", "62 °C")
    answer = ask(K, cooling(celsius(start), celsius(to), readings=said))
    assert ("coefficient-extrapolated" in cautions(answer)) is given


def test_what_is_assumed_of_a_cooling_is_told() -> None:
    bare = {"solution": cooling()["solution"], "vessel": {"material": "hdpe"}, "target_temperature": "35 °C"}
    fan = ask(K, bare | {"surroundings": {"medium": "moving-air"}})
    assert {"/surroundings/temperature", "/surroundings/air_speed", "/vessel/lid", "/vessel/mass"} <= set(assumed(fan))
    same = {
        "medium": "moving-air",
        "temperature": "20 °C",
        "air_speed": {"value": 2, "low": 0.5, "high": 4, "unit": "m/s"},
    }
    told = ask(K, bare | {"surroundings": same})
    assert assumed(fan)["/surroundings/temperature"] == "20 °C"
    assert assumed(fan)["/surroundings/air_speed"] == "2 m/s, 0.5 to 4 m/s"
    assert told["time"]["value"] == fan["time"]["value"]
    tub = assumed(ask(K, bare | {"surroundings": {"medium": "water-bath"}}))
    assert tub["/surroundings/temperature"] == "15 °C"
    assert tub["/surroundings/bath_mass"] == "a bath that stays at its temperature"
    assert assumed(ask(K, bare | {"surroundings": {"medium": "ice-bath"}}))["/surroundings/temperature"] == "0 °C"


# Warming


def test_an_uncertain_target_is_told_with_the_upper_end_of_the_loss_and_the_power_that_there_is() -> None:
    answer = ask(W, warming(heater_power="60 W", efficiency="95 %"))
    lost, given = _watts(message_of(answer, "target-not-sure"))
    assert given == pytest.approx(0.95 * 60, rel=6e-3)
    assert lost == pytest.approx(0.95 * answer["power_to_hold"]["high"], rel=6e-3)
    assert answer["power_to_hold"]["high"] > 1.1 * answer["power_to_hold"]["value"]


def test_a_heater_left_on_is_told_with_the_upper_end_of_where_it_would_bring_the_stock() -> None:
    answer = ask(W, warming(heater_power="150 W"))
    brought, stands = _told(r"to (\d+) °C .*stands (\d+) °C", message_of(answer, "heater-runs-away"))
    assert brought == round(answer["steady_temperature"]["high"])
    assert brought > answer["steady_temperature"]["value"] + 5
    assert stands == answer["vessel_limit"]["value"] == 60


@pytest.mark.parametrize(("material", "known"), [("hdpe", True), ("nickel", False)])
def test_a_heater_that_brings_it_to_boil_is_told_beside_the_limit_where_there_is_one(
    material: str, known: bool
) -> None:
    answer = ask(W, held(material) | {"heater_power": "5 kW"})
    message = message_of(answer, "heater-runs-away")
    assert f"{round(answer['boiling_point']['value'])} °C" in message
    assert ("the vessel stands" in message) is ("vessel_limit" in answer) is known


@pytest.mark.parametrize("power", ["900 W", "999.4 W", "999.5 W", "999.6 W", "1 kW", "1.2 kW", "15 kW"])
def test_powers_are_told_in_plain_figures(power: str) -> None:
    """What is told of a large tank is the power, in watts or kilowatts, never as 1e+03."""
    tank = {"material": "nickel", "diameter": "8 m", "height": "2 m", "lid": False}
    request = warming("10 %", "25 °C", "90 °C", vessel=tank, heater_power=power)
    request["solution"]["mass"] = "40 t"
    request["vessel"].pop("volume")
    found = fault(W, request, 422)
    assert found.code == "heater-too-weak"
    value, unit = power.split()
    (given,) = _watts(found.detail)
    assert given == pytest.approx(float(value) * WATTS[unit], rel=6e-3)
    (needed,) = _watts(found.mend)
    assert needed > given
    assert "e+" not in found.detail + found.mend


@pytest.mark.parametrize(
    ("dead", "text"),
    [
        ("40 L", "do not even reach the outlet"),
        ("30 L", "little more than that: switch"),
        ("22.1 L", "little more than that: switch"),
        ("21.6 L", "Elsewhere switch"),
        ("1 L", "Elsewhere switch"),
        ("0.5 L", "Elsewhere switch"),
    ],
)
def test_stock_of_half_as_much_again_as_the_outlet_leaves_is_little(dead: str, text: str) -> None:
    """50 kg of 1.524 kg/L are 32.8 L: two thirds of them are 21.9 L."""
    assert text in message_of(ask(W, warming(vessel={"dead_volume": dead})), "heater-uncovered")


def test_how_much_liquid_covers_a_heater_is_told() -> None:
    assert re.search(r"at all times: 32\.77 L \(.*\) now", message_of(ask(W, warming()), "heater-uncovered"))


@pytest.mark.parametrize(("holds", "given"), [("33 L", True), ("33.9 L", True), ("34.2 L", False)])
def test_a_vessel_is_full_from_three_hundredths_below_its_brim(holds: str, given: bool) -> None:
    """50 kg of 1.516 kg/L at 30 °C (Åkerlöf & Kegeles 1939) are 33.0 L; 97 % of 34 L."""
    answer = ask(W, warming(vessel={"volume": holds}))
    assert ("vessel-too-small" in cautions(answer)) is given


def test_how_near_a_target_comes_to_the_limit_and_to_boiling_is_told() -> None:
    near = message_of(ask(W, warming(to="54 °C")), "vessel-limit-near")
    assert re.search(r"within 6 K .* 60 °C", near), near
    hot = ask(W, warming("5 %", to="95 °C", vessel={"material": "nickel"}, heater_power="5 kW"))
    (margin,) = _told(r"The target is ([\d.]+) K", message_of(hot, "boiling-margin-small"))
    assert Decimal(str(margin)).as_tuple().exponent == -1
    assert margin == pytest.approx(hot["boiling_point"]["low"] - 95, abs=0.051)


@pytest.mark.parametrize(("t", "verb"), [("16 °C", None), ("12 °C", "may hold"), ("4 °C", "holds")])
def test_crystals_are_sure_only_below_all_that_is_known_of_the_first_solid(t: str, verb: str | None) -> None:
    answer = ask(W, warming(t=t, ambient="16 °C"))
    if verb is None:
        assert "crystals-in-solution" not in cautions(answer)
    else:
        assert f"it {verb} crystals" in message_of(answer, "crystals-in-solution")
        sure = float(t.split(maxsplit=1)[0]) < answer["first_solid_temperature"]["low"]
        assert sure is (verb == "holds")


@pytest.mark.parametrize(
    ("to", "severity"), [("38 °C", None), ("39 °C", "caution"), ("85 °C", "caution"), ("91 °C", "danger")]
)
def test_a_stock_too_hot_to_meet_fats_is_a_danger_where_it_flashes(to: str, severity: str | None) -> None:
    found = cautions(ask(W, warming(to=to, vessel={"material": "nickel"}, heater_power="5 kW"))).get("stock-hot")
    assert (None if found is None else found["severity"]) == severity


def test_a_vessel_of_no_known_mass_takes_up_what_is_assumed_of_it() -> None:
    """2.5 % of the heat, 0 to 5 %: of that of the stock, which a vessel of next to no mass leaves alone."""
    unsaid = ask(W, warming(vessel={"mass": None}))
    assert "2.5 % of the heat, 0 to 5 %" in assumed(unsaid)["/vessel/mass"]
    alone = ask(W, warming(vessel={"mass": "1 mg"}))["heat_taken_up"]
    told = unsaid["heat_taken_up"]
    assert told["value"] / alone["value"] == pytest.approx(1.025, abs=1e-3)
    assert told["low"] / alone["low"] == pytest.approx(1.0, abs=1e-3)
    assert told["high"] / alone["high"] == pytest.approx(1.05, abs=2e-3)


@pytest.mark.parametrize("thick", ["10 cm", "100 mm", "0.1 m", "3.937007874015748 in"])
def test_the_thickest_wall_that_a_refusal_names_is_allowed_in_every_unit(thick: str) -> None:
    for name, request in (
        (K, cooling(vessel={"wall_thickness": "11 cm"})),
        (W, warming(vessel={"wall_thickness": "11 cm"})),
    ):
        refused = fault(name, request, 422)
        assert refused.pointer == "/vessel/wall_thickness"
        assert "110 mm" in refused.detail
        assert refused.mend.startswith("give 100 mm or less")
    assert ask(K, cooling(vessel={"wall_thickness": thick}))
    assert ask(W, warming(vessel={"wall_thickness": thick}))


@pytest.mark.parametrize("t", [-0.5, -0.01])
def test_water_just_below_its_freezing_point_is_ice(t: float) -> None:
    found = fault(W, warming("0 %", celsius(t)), 422)
    assert (found.pointer, found.code) == ("/solution/temperature", "impossible-temperature")
    assert ask(W, warming("0 %", "0 °C"))


def test_a_vessel_filled_to_the_brim_is_not_overfull() -> None:
    """What the stock takes of a vessel of just that volume fits, however the volume was come by."""
    full = warming(vessel={"volume": "20 L"})
    del full["solution"]["mass"]
    full["solution"]["volume"] = "20 L"
    assert ask(W, full)
    assert fault(W, full | {"vessel": full["vessel"] | {"volume": "19.99 L"}}, 422).code == "does-not-add-up"


def test_a_path_begins_at_once_with_the_stock_as_it_is() -> None:
    answer = ask(K, cooling("60 °C", "40 °C"))
    first, second, *_, last = answer["path"]
    assert (first["time"]["value"], first["temperature"]["value"]) == (0.0, pytest.approx(60.0))
    assert 0.0 < second["time"]["value"] < last["time"]["value"]


@pytest.mark.parametrize(("medium", "words"), [("moving-air", "blow at the wall"), ("still-air", "under an extractor")])
def test_steaming_caustic_is_told_where_to_blow_only_where_something_blows(medium: str, words: str) -> None:
    around = {"medium": medium, "temperature": "20 °C"}
    assert words in message_of(ask(K, cooling("95 °C", vessel={"lid": False}, around=around)), "caustic-mist")


def test_a_bath_that_stays_as_it_is_takes_so_much_water_that_it_warms_by_five_kelvins_at_most() -> None:
    answer = ask(K, cooling(around=bath()))
    message = message_of(answer, "bath-warms")
    told = re.search(r"up to ([\d.]+) kJ, which warms ([\d.]+) kg .* of water by (\d+) K \(9 °F\)", message)
    assert told is not None, message
    heat, water, kelvins = map(float, told.groups())
    assert heat == pytest.approx(answer["heat_given_off"]["high"], rel=5e-3)
    assert water >= heat / (4.19 * kelvins) * 0.995  # 4.19 kJ/(kg K), CRC Handbook
    assert water == pytest.approx(heat / (4.19 * kelvins), rel=0.05)


def test_glass_is_told_by_its_name_that_a_colder_bath_may_crack_it() -> None:
    glass = {"material": "glass-soda-lime", "lid": True}
    message = message_of(ask(K, cooling("95 °C", vessel=glass, around=bath())), "glass-may-crack")
    assert message.startswith("Soda-lime glass (jars, bottles) may crack")
