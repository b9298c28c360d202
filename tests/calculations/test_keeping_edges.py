"""The edges of what is warmed and cooled: what a refusal names as allowed is allowed, in rooms, walls and vessels."""

from typing import Final

import pytest

from service.calculations.keeping.cooling_reading import HOTTEST_BATH
from service.calculations.keeping.warming_reading import HOTTEST_ROOM, THICKEST_WALL
from service.reference import reference_data
from tests.calculations.asking import ask, assumed, fault
from tests.calculations.caution_cases_of_cooling import K, bath, cooling
from tests.calculations.caution_cases_of_warming import W, warming
from tests.calculations.quantities import celsius

STEEL: Final = {"material": "stainless-steel", "maximum_temperature": "95 °C"}


@pytest.mark.parametrize("t", [60.0, -40.0])
def test_the_hottest_and_the_coldest_room_are_rooms(t: float) -> None:
    refused = fault(W, warming(ambient=celsius(t + (0.1 if t > 0 else -0.1))), 422)
    assert refused.mend.startswith("give -40 to 60 °C")
    assert ask(W, warming(ambient=celsius(t), to="70 °C", vessel=STEEL, heater_power="2 kW"))
    assert ask(K, cooling(to="70 °C", around={"medium": "still-air", "temperature": celsius(t)}))


def test_a_room_as_warm_as_the_target_needs_no_heater() -> None:
    room = warming(ambient=celsius(HOTTEST_ROOM), vessel=STEEL)
    found = fault(W, room | {"target_temperature": celsius(HOTTEST_ROOM)}, 422)
    assert "without any heater" in found.detail


@pytest.mark.parametrize("t", [0.0, HOTTEST_BATH])
def test_the_warmest_and_the_coldest_bath_are_baths(t: float) -> None:
    refused = fault(K, cooling("95 °C", "94 °C", around=bath(temperature=celsius(t + (1 if t else -1)))), 422)
    assert f"give 0 to {HOTTEST_BATH:g} °C" in refused.mend
    assert ask(K, cooling("95 °C", "94 °C", around=bath(temperature=celsius(t))))


@pytest.mark.parametrize("thick", ["10 cm", "100 mm", "0.1 m", "3.937007874015748 in"])
def test_the_thickest_wall_is_one_in_every_unit(thick: str) -> None:
    for name, request in (
        (K, cooling(vessel={"wall_thickness": "11 cm"})),
        (W, warming(vessel={"wall_thickness": "11 cm"})),
    ):
        assert fault(name, request, 422).mend.startswith(f"give {1e3 * THICKEST_WALL:g} mm or less")
    assert ask(K, cooling(vessel={"wall_thickness": thick}))
    assert ask(W, warming(vessel={"wall_thickness": thick}))


def test_a_vessel_of_no_told_mass_takes_up_half_of_the_most_that_is_assumed() -> None:
    """2.5 % of the heat, 0 to 5 %."""
    unsaid, light = (ask(W, warming(vessel={"mass": mass})) for mass in (None, "1 mg"))
    assert "2.5 % of the heat, 0 to 5 %" in assumed(unsaid)["/vessel/mass"]
    told, alone = unsaid["heat_taken_up"], light["heat_taken_up"]
    for end, share in (("low", 0.0), ("value", 0.025), ("high", 0.05)):
        assert told[end] - alone[end] == pytest.approx(share * alone["value"], abs=2e-3 * alone["value"])


@pytest.mark.parametrize("material", ["hdpe", "stainless-steel"])
def test_a_vessel_takes_up_heat_as_its_material_does_at_each_end(material: str) -> None:
    capacity = reference_data().vessel_materials[material].heat_capacity
    heavy, light = (
        ask(W, warming(vessel={"material": material, "mass": mass}))["heat_taken_up"] for mass in ("5 kg", "1 kg")
    )
    taken = {end: heavy[end] - light[end] for end in ("low", "value", "high")}
    assert taken["low"] / taken["value"] == pytest.approx(capacity.low / capacity.middle)
    assert taken["high"] / taken["value"] == pytest.approx(capacity.high / capacity.middle)
