"""Density of caustic with carbonate: against others' program, its limits, and back again."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from thermo import electrochem

from service.calculations.assays.stock_assay_hydrometer import CARBONATE_KNOWN_TO
from service.chemistry import density, water
from service.chemistry.carbonate_density import (
    carbonate_volume,
    density_with_carbonate,
    hydroxide_beside_carbonate,
    over_reading,
    source_range_ends,
)
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from tests.chemistry.refusing import refused
from tests.reference_cases import caustic_grids, outside
from tests.reference_cases.caustic_published import carbonate_densities


@pytest.mark.parametrize(("w", "carbonate", "t"), caustic_grids.CARBONATED)
def test_potash_and_its_carbonate_are_as_thermo_mixes_them(w: float, carbonate: float, t: float) -> None:
    theirs = outside.laliberte_density("KOH", w, t, carbonate)
    assert density_with_carbonate("KOH", w, carbonate, t) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(("w", "t"), caustic_grids.OVER_READINGS)
def test_a_point_of_carbonate_reads_as_much_by_laliberte_s_own_soda(w: float, t: float) -> None:
    """The same source, which has other densities of NaOH than ours; within the half-width that is told with it."""
    ours = over_reading("NaOH", density_with_carbonate("NaOH", w, 0.01, t), 0.01, t)
    assert ours == pytest.approx(outside.laliberte_over_reading(w, 0.01, t), rel=CARBONATE_KNOWN_TO)


@pytest.mark.parametrize(("alkali", "w", "published"), carbonate_densities())
def test_carbonate_alone_has_the_handbook_s_density(alkali: Alkali, w: float, published: float) -> None:
    assert density_with_carbonate(alkali, 0.0, w, 20.0) == pytest.approx(published, rel=0.002)


@given(st.sampled_from(["NaOH", "KOH"]), st.floats(0.01, 0.4), st.floats(1e-6, 0.08), st.floats(5.0, 95.0))
def test_the_hydroxide_beside_carbonate_comes_back(alkali: Alkali, w: float, carbonate: float, t: float) -> None:
    rho = density_with_carbonate(alkali, w, carbonate, t)
    assert hydroxide_beside_carbonate(alkali, rho, carbonate, t) == pytest.approx(w, abs=1e-9)


@pytest.mark.parametrize(("alkali", "w", "low", "high"), [("NaOH", 0.2, 0.9, 1.1), ("NaOH", 0.48, 1.1, 1.4)])
def test_a_point_of_carbonate_reads_as_about_one_of_hydroxide(
    alkali: Alkali, w: float, low: float, high: float
) -> None:
    rho = density_with_carbonate(alkali, w, 0.01, 20.0)
    assert low < over_reading(alkali, rho, 0.01, 20.0) / 0.01 < high


def test_without_carbonate_nothing_changes() -> None:
    assert density_with_carbonate("NaOH", 0.3, 0.0, 20.0) == density.density("NaOH", 0.3, 20.0)
    assert over_reading("NaOH", 1300.0, 0.0, 20.0) == 0.0
    assert source_range_ends("NaOH") < source_range_ends("KOH")


@pytest.mark.parametrize(
    ("rho", "carbonate", "t"), [(1010.0, 0.2, 20.0), (1900.0, 0.01, 20.0), (1300.0, -0.1, 20.0), (1300.0, 0.01, 120.0)]
)
def test_what_cannot_be_is_out_of_range(rho: float, carbonate: float, t: float) -> None:
    with pytest.raises(OutOfRange):
        hydroxide_beside_carbonate("NaOH", rho, carbonate, t)


ENDS: list[tuple[str, Callable[[float], float], float, float]] = [
    ("hydroxide", lambda x: density_with_carbonate("NaOH", x, 0.0, 20.0), 0.0, 1.0),
    ("carbonate", lambda x: density_with_carbonate("NaOH", 0.0, x, 20.0), 0.0, 1.0),
    ("temperature", lambda x: density_with_carbonate("NaOH", 0.2, 0.01, x), 0.0, 100.0),
    ("temperature", lambda x: density_with_carbonate("KOH", 0.2, 0.0, x), 0.0, 100.0),
    ("carbonate", lambda x: hydroxide_beside_carbonate("NaOH", 1300.0, x, 20.0), 0.0, 0.55),
    ("carbonate", lambda x: hydroxide_beside_carbonate("KOH", 1300.0, x, 20.0), 0.0, 0.5),
    ("temperature", lambda x: hydroxide_beside_carbonate("NaOH", 1200.0, 0.01, x), 0.0, 100.0),
    ("temperature", lambda x: hydroxide_beside_carbonate("KOH", 1200.0, 0.0, x), 0.0, 100.0),
]


@pytest.mark.parametrize(("quantity", "asked", "low", "high"), ENDS)
def test_what_is_documented_is_not_exceeded(
    quantity: str, asked: Callable[[float], float], low: float, high: float
) -> None:
    for beyond in (low - 1e-6, high + 1e-6):
        with refused(quantity, low, high):
            asked(beyond)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("t", [0.0, 0.5, 100.0])
@pytest.mark.parametrize("carbonate", [0.0, 1e-9, 0.02])
def test_at_the_ends_of_the_temperatures_the_hydroxide_comes_back(alkali: Alkali, t: float, carbonate: float) -> None:
    rho = density_with_carbonate(alkali, 0.2, carbonate, t)
    assert hydroxide_beside_carbonate(alkali, rho, carbonate, t) == pytest.approx(0.2, abs=1e-9)


@pytest.mark.parametrize(("alkali", "strongest"), [("NaOH", 0.55), ("KOH", 0.50)])
def test_all_that_is_dissolved_may_be_carbonate_or_hydroxide(alkali: Alkali, strongest: float) -> None:
    for hydroxide, carbonate in ((0.0, 0.1), (strongest - 0.1, 0.1), (strongest, 0.0)):
        rho = density_with_carbonate(alkali, hydroxide, carbonate, 20.0)
        assert hydroxide_beside_carbonate(alkali, rho, carbonate, 20.0) == pytest.approx(hydroxide, abs=1e-9)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_a_trace_of_carbonate_takes_the_volume_that_is_told(alkali: Alkali) -> None:
    """The slope of the volume of a mixture: what comes in place of hydroxide is carbonate, by the rule of mixing."""
    c, t, trace = 0.3, 20.0, 1e-5
    alone, beside = density.density(alkali, c, t), density_with_carbonate(alkali, c - trace, trace, t)
    of_hydroxide = (1.0 / alone - (1.0 - c) / water.density(t)) / c
    slope = (1.0 / beside - 1.0 / alone) / trace
    assert of_hydroxide + slope == pytest.approx(carbonate_volume(alkali, c, t), rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_carbonate_was_measured_as_far_as_laliberte_says(alkali: Alkali) -> None:
    theirs = electrochem.Laliberte_data.loc[outside.CARBONATE_CAS[alkali], "Max w"]  # thermo 0.6.1; ours to six digits
    assert source_range_ends(alkali) == pytest.approx(theirs, abs=5e-7)
