"""Titrations at the ends of their ranges, and how molar masses bear on them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import density, water
from service.chemistry.molar_masses import ALKALI, CARBONATE, Alkali
from service.chemistry.titration import Titration, assay, expansion, measured_at, normality, sensitivities, weighed
from tests.chemistry.refusing import refused

ALKALIS: list[Alkali] = ["NaOH", "KOH"]


def titration_of(alkali: Alkali, w: float, carbonate: float, mass: float) -> Titration:
    """The end points of a known sample, in acid of 1 mol/L."""
    hydroxide, carbonates = w * mass / ALKALI[alkali], carbonate * mass / CARBONATE[alkali]
    return Titration(1000.0, (hydroxide + carbonates) / 1000.0, (hydroxide + 2.0 * carbonates) / 1000.0)


@given(alkali=st.sampled_from(ALKALIS), w=st.floats(0.05, 0.5), carbonate=st.floats(0.0, 0.05))
def test_what_is_found_is_proportional_to_the_molar_mass_that_it_is_counted_with(
    alkali: Alkali, w: float, carbonate: float
) -> None:
    """Of degree one: the derivative is the mass fraction over the molar mass, and nought for the other's."""
    titration = titration_of(alkali, w, carbonate, 2e-3)
    found = assay(alkali, titration, weighed(2e-3))
    hydroxides, carbonates, total = sensitivities(alkali, titration, weighed(2e-3))
    assert hydroxides.hydroxide_molar_mass == pytest.approx(found.hydroxide / ALKALI[alkali], rel=1e-12)
    assert carbonates.carbonate_molar_mass == pytest.approx(found.carbonate / CARBONATE[alkali], rel=1e-12)
    assert total.hydroxide_molar_mass == pytest.approx(found.total_alkali / ALKALI[alkali], rel=1e-12)
    assert (hydroxides.carbonate_molar_mass, carbonates.hydroxide_molar_mass, total.carbonate_molar_mass) == (0, 0, 0)


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize("share", [1e-5, 0.5, 1.0 - 1e-5])
def test_from_nearly_water_to_the_strongest_the_sample_grows_with_its_strength(alkali: Alkali, share: float) -> None:
    """The pull is the slope of the density over the density less that slope's own part, by a difference taken inward.

    With s rho(s) = solute / volume, d rho / d solute = (rho' / (rho + s rho')) / volume.
    """
    w = share * density.HIGHEST_MASS_FRACTION[alkali]
    rho = density.density(alkali, w, 20.0)
    sample = measured_at(alkali, titration_of(alkali, w, 0.0, 1e-6 * rho), 1e-6, 20.0)
    step = 1e-6 if share < 0.5 else -1e-6
    slope = (density.density(alkali, w + step, 20.0) - rho) / step
    assert sample.density == pytest.approx(rho, rel=1e-9)
    assert sample.pull == pytest.approx(slope / (rho + w * slope), rel=2e-3)
    assert sample.damping == pytest.approx(rho / (rho + w * slope), rel=2e-3)


@pytest.mark.parametrize(("t", "limit"), [(5.0, 4.99), (40.0, 40.01)])
def test_acid_is_delivered_at_5_to_40_degrees(t: float, limit: float) -> None:
    assert normality(1000.0, 1, t) == pytest.approx(1000.0, rel=0.01)
    with refused("temperature", 5.0, 40.0):
        normality(1000.0, 1, limit)


@pytest.mark.parametrize("t", [8.0, 20.0, 35.0])
def test_expansion_is_the_slope_of_the_density_of_water(t: float) -> None:
    slope = (water.density(t + 1e-3) - water.density(t - 1e-3)) / 2e-3
    assert expansion(t) == pytest.approx(-slope / water.density(t), rel=1e-3)
