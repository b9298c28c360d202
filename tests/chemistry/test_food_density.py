"""Densities of liquids by their composition: what is printed of each component, and volumes that add up."""

import pytest
from chemicals import volume
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import food_density, water
from service.chemistry.food_density import density
from service.chemistry.food_heat import Dry
from tests.chemistry.refusing import refused

DEGREES = st.floats(0.0, 100.0)
MASSES = st.lists(st.floats(0.01, 0.15), min_size=5, max_size=5)


@given(DEGREES)
def test_without_anything_in_it_it_is_water(t: float) -> None:
    assert density(1.0, Dry(), t) == pytest.approx(water.density(t), rel=1e-14)


@pytest.mark.parametrize(
    ("name", "cold", "warm"),
    [
        ("protein", 1329.9, 1329.9 - 51.84),
        ("fat", 925.59, 925.59 - 41.757),
        ("carbohydrate", 1599.1, 1599.1 - 31.046),
        ("ash", 2423.8, 2423.8 - 28.063),
    ],
)
def test_a_component_alone_is_as_printed(name: str, cold: float, warm: float) -> None:
    """Choi and Okos 1986 in the ASHRAE Handbook 2006, ch. 9, table 1: at 0 °C, and less a hundred slopes."""
    assert density(0.0, Dry(**{name: 1.0}), 0.0) == pytest.approx(cold, rel=1e-12)
    assert density(0.0, Dry(**{name: 1.0}), 100.0) == pytest.approx(warm, rel=1e-12)


@pytest.mark.parametrize("t", [0.0, 20.0, 50.0])
def test_ethanol_is_that_of_perry_s_handbook(t: float) -> None:
    """Perry's Chemical Engineers' Handbook, 8th ed., table 2-32, as data of the package chemicals 1.5.2.

    The line claims 0.1 % of its own source; what Perry's equation claims is not known.
    """
    row = volume.rho_data_Perry_8E_105_l.loc["64-17-5"]
    moles = row["C1"] / row["C2"] ** (1.0 + (1.0 - (t + 273.15) / row["C3"]) ** row["C4"])
    theirs = 46.069e-3 * moles
    assert density(0.0, Dry(ethanol=1.0), t) == pytest.approx(theirs, rel=3e-3)


@given(MASSES, DEGREES)
def test_volumes_add_up(masses: list[float], t: float) -> None:
    """Two litres poured together are two litres, and weigh what both weighed."""
    one, other = Dry(*masses), Dry(*reversed(masses))
    in_one, in_other = 1.0 - sum(one), 0.5
    weights = (in_one + sum(one), in_other + sum(other))
    volumes = weights[0] / density(in_one, one, t) + weights[1] / density(in_other, other, t)
    share = 1.0 / sum(weights)
    both = Dry(*(share * (a + b) for a, b in zip(one, other, strict=True)))
    assert density(share * (in_one + in_other), both, t) == pytest.approx(1.0 / (share * volumes), rel=1e-12)


@given(MASSES, st.floats(0.2, 1.0), DEGREES)
def test_half_of_a_liquid_is_as_dense_as_all_of_it(masses: list[float], held: float, t: float) -> None:
    half = Dry(*(0.5 * mass for mass in masses))
    assert density(0.5 * held, half, t) == pytest.approx(density(held, Dry(*masses), t), rel=1e-12)


def test_a_component_without_a_density_is_not_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(food_density, "_COMPONENTS", food_density._COMPONENTS[:-1])
    with pytest.raises(ValueError, match="shorter"):
        density(0.9, Dry(protein=0.1), 20.0)


@pytest.mark.parametrize(("quantity", "place", "low", "high"), [("water", 0, 0.0, 1.0), ("temperature", 1, 0.0, 100.0)])
def test_what_is_documented_is_taken_and_nothing_beyond(quantity: str, place: int, low: float, high: float) -> None:
    def asked(value: float) -> float:
        return density(*((value, Dry(fat=0.1), 20.0) if place == 0 else (0.9, Dry(fat=0.1), value)))

    assert asked(low) > 0.0
    assert asked(high) > 0.0
    for beyond in (low - 0.01, high + 0.01, float("nan")):
        with refused(quantity, low, high):
            asked(beyond)
