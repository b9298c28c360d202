"""Viscosity of caustic solutions: range and direction."""

import pytest

from service.chemistry import water
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from service.chemistry.viscosity import viscosity, viscosity_half_width


@pytest.mark.parametrize(
    ("alkali", "w", "t"),
    [
        ("NaOH", 0.561, 20.0),
        ("NaOH", 0.3, 12.4),
        ("NaOH", 0.3, 70.1),
        ("KOH", 0.52, 20.0),
        ("KOH", 0.3, -14.2),
        ("KOH", 0.3, 40.1),
        ("KOH", -0.1, 20.0),
    ],
)
def test_outside_the_range_it_raises(alkali: Alkali, w: float, t: float) -> None:
    with pytest.raises(OutOfRange):
        viscosity(alkali, w, t)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_without_caustic_it_is_water(alkali: Alkali) -> None:
    assert viscosity(alkali, 0.0, 20.0) == pytest.approx(water.viscosity(20.0), rel=1e-12)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_stronger_and_colder_is_thicker(alkali: Alkali) -> None:
    assert viscosity(alkali, 0.3, 20.0) < viscosity(alkali, 0.4, 20.0) < viscosity(alkali, 0.5, 20.0)
    assert viscosity(alkali, 0.5, 40.0) < viscosity(alkali, 0.5, 20.0)


def test_half_width_is_twelve_percent() -> None:
    assert viscosity_half_width("NaOH", 0.5, 20.0) == pytest.approx(0.12 * viscosity("NaOH", 0.5, 20.0))
