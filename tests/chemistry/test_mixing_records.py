"""What goes into a mixing where nothing more is said of it."""

import pytest

from service.chemistry.enthalpy import solid_enthalpy
from service.chemistry.mixing import mix
from service.chemistry.mixing_records import Charge, Solid, Water


def test_a_solid_of_which_nothing_is_said_brings_the_heat_of_25_degrees() -> None:
    """That of a room, at which heats of solution are told."""
    found = mix(Solid("NaOH", 2.0), Charge(water=Water(6.0, 25.0)), points=2)
    assert found.balance.solid == pytest.approx(2.0 * solid_enthalpy("NaOH", 25.0), rel=1e-9, abs=1e-6)
