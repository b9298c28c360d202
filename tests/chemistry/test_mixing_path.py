"""Points of a mixing that are cold, or near boiling, where little is asked for."""

import pytest

from service.chemistry.freezing import first_solid
from service.chemistry.mixing import mix
from service.chemistry.mixing_path import Vessel
from service.chemistry.mixing_records import Charge, Ice, Solid, Stock, Water
from tests.chemistry.refusing import refused


@pytest.mark.parametrize("mass", [0.01, 0.03, 0.06])
def test_weak_lye_boils_though_no_boiling_points_are_asked_for(mass: float) -> None:
    """Just above 100 °C: as much steam leaves as where they are told."""
    solid, contents = Solid("NaOH", mass, 20.0), Charge(Water(1.0, 99.5))
    told, untold = (mix(solid, contents, points=6, boiling_told=one) for one in (True, False))
    assert told.boils
    assert untold.boils
    assert untold.water_boiled_off == pytest.approx(told.water_boiled_off, rel=1e-12)
    assert untold.peak_temperature == pytest.approx(told.peak_temperature, abs=1e-9)


def test_a_liquid_below_0_degrees_has_a_boiling_point() -> None:
    found = mix(Solid("NaOH", 0.0), Charge(stock=Stock(1.0, 0.2, -10.0)), points=3, boiling_shift=None)
    for point in found.path:
        assert point.ice_mass == 0.0
        assert point.boiling_point is not None
        assert point.boiling_point > 100.0


@pytest.mark.parametrize("w", [0.30, 0.34, 0.42, 0.50])
def test_what_is_warmer_than_its_first_hydrate_is_not_supercooled_and_what_is_colder_is(w: float) -> None:
    freezes = first_solid("NaOH", w).temperature
    for apart in (-0.5, 0.5, 2.0):
        found = mix(Solid("NaOH", 0.0), Charge(stock=Stock(1.0, w, freezes + apart)), points=2)
        assert [point.supercooled for point in found.path] == [apart < 0.0] * 2


@pytest.mark.parametrize(
    ("quantity", "contents"),
    [
        ("water", Charge(Water(-0.5, 20.0), None, Stock(1.0, 0.2, 20.0))),
        ("ice", Charge(Water(1.0, 20.0), Ice(-0.5))),
        ("stock", Charge(Water(1.0, 20.0), None, Stock(-0.5, 0.2, 20.0))),
    ],
)
def test_less_than_nothing_is_refused_by_its_name_though_there_is_more_of_something_else(
    quantity: str, contents: Charge
) -> None:
    with refused(quantity, 0.0, 1e9):
        Vessel(Solid("NaOH", 0.1), contents, 0.0)
