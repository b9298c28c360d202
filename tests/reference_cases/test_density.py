"""Densities of caustic solutions against handbooks, and against other programs with where they stop being right."""

from typing import cast

import pytest

from service.chemistry import density
from service.chemistry.density import density_half_width, in_source_range
from service.chemistry.molar_masses import Alkali
from tests.reference_cases import caustic_grids, outside
from tests.reference_cases.caustic_validation import densities


@pytest.mark.parametrize("source", ["ict", "web", "polish", "perry-koh"])
def test_every_handbook_density_lies_in_the_stated_interval(source: str) -> None:
    # Sources: see data/caustic_densities.csv
    found = list(densities(source))
    assert len(found) >= 4
    for alkali, w, t, printed in found:
        assert abs(density.density(alkali, w, t) - printed) <= density_half_width(alkali, w, t), (alkali, w, t)


def test_crc_densities_of_caustic_soda_lie_in_the_stated_interval() -> None:
    # CRC Handbook, 102nd ed. (2021), at 20 °C
    for row in outside.read_table("crc_caustic_20c.csv"):
        if row["solute"] == "NaOH":
            w = float(row["mass_percent"]) / 100
            deviation = density.density("NaOH", w, 20.0) - 1e3 * float(row["density"])
            assert abs(deviation) <= density_half_width("NaOH", w, 20.0), row


def test_crc_densities_of_caustic_potash_are_lower_the_stronger_it_is() -> None:
    # The CRC Handbook stands alone here: Perry and a Polish table agree with Laliberté within 0.13 %.
    deviations = {}
    for row in outside.read_table("crc_caustic_20c.csv"):
        if row["solute"] == "KOH":
            w = float(row["mass_percent"]) / 100
            deviations[w] = 1e3 * float(row["density"]) / density.density("KOH", w, 20.0) - 1
    assert deviations[0.10] == pytest.approx(-0.0028, abs=0.0002)
    assert deviations[0.40] == pytest.approx(-0.0065, abs=0.0002)
    assert deviations[0.50] == pytest.approx(-0.0065, abs=0.0002)


@pytest.mark.parametrize(("w", "t"), caustic_grids.OLSSON_DENSITIES)
def test_caustic_soda_is_olsson_s_formula_from_5_percent_up(w: float, t: float) -> None:
    assert density.density("NaOH", w, t) == pytest.approx(outside.olsson_density(w, t), rel=1e-9)


@pytest.mark.parametrize(("w", "t"), caustic_grids.LALIBERTE_DENSITIES)
def test_caustic_potash_is_laliberte_s_formula(w: float, t: float) -> None:
    assert density.density("KOH", w, t) == pytest.approx(outside.laliberte_density("KOH", w, t), rel=1e-9)


def test_laliberte_s_caustic_soda_misses_the_expansion_of_a_strong_solution() -> None:
    # Why it is not used for NaOH: against the International Critical Tables (memory) at 50 %.
    assert outside.laliberte_density("NaOH", 0.5, 0.0) / 1540.0 == pytest.approx(1 - 0.0174, abs=0.0002)
    assert outside.laliberte_density("NaOH", 0.5, 100.0) / 1469.0 == pytest.approx(1 + 0.0156, abs=0.0002)


@pytest.mark.parametrize(
    ("alkali", "w", "t", "inside"),
    [
        ("NaOH", 0.20, 9.9, True),
        ("NaOH", 0.21, 9.9, False),
        ("NaOH", 0.30, 19.9, True),
        ("NaOH", 0.50, 19.9, False),
        ("NaOH", 0.50, 20.0, True),
        ("NaOH", 0.55, 59.9, False),
        ("NaOH", 0.55, 60.0, True),
        ("NaOH", 0.10, 150.0, True),
        ("NaOH", 0.10, 200.0, False),
        ("NaOH", 0.10, -0.1, False),
        ("NaOH", -0.01, 20.0, False),
        ("KOH", 0.50, 4.0, True),
        ("KOH", 0.50, 3.9, False),
        ("KOH", 0.50, 95.1, False),
        ("KOH", 0.52, 20.0, False),
    ],
)
def test_source_range_is_that_of_the_authors(alkali: str, w: float, t: float, inside: bool) -> None:
    # Olsson et al. 1997 and Laliberté 2009, as coded in absorptionlib and chemicals
    assert in_source_range(cast("Alkali", alkali), w, t) is inside
