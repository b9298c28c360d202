"""Viscosities of caustic solutions against the CRC Handbook and another program."""

from typing import cast

import pytest

from service.chemistry.molar_masses import Alkali
from service.chemistry.viscosity import RANGE, viscosity, viscosity_half_width
from tests.reference_cases import caustic_grids, outside


def test_crc_viscosities_lie_in_the_stated_interval() -> None:
    # CRC Handbook, 102nd ed. (2021), at 20 °C
    rows = list(outside.read_table("crc_caustic_20c.csv"))
    assert len(rows) >= 15
    for row in rows:
        alkali, w = cast("Alkali", row["solute"]), float(row["mass_percent"]) / 100
        deviation = viscosity(alkali, w, 20.0) - 1e-3 * float(row["viscosity"])
        assert abs(deviation) <= viscosity_half_width(alkali, w, 20.0), row


@pytest.mark.parametrize(("alkali", "w", "t"), caustic_grids.VISCOSITIES)
def test_viscosity_is_laliberte_s(alkali: Alkali, w: float, t: float) -> None:
    assert viscosity(alkali, w, t) == pytest.approx(outside.laliberte_viscosity(alkali, w, t), rel=1e-6)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_viscosities_are_told_between_the_temperatures_of_laliberte_s_data(alkali: Alkali) -> None:
    assert RANGE[alkali] == outside.laliberte_viscosity_range(alkali)
