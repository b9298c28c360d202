"""First solids of caustic solutions against figures that are not points of the interpolation, and those that are.

Sources: see data/first_solids.csv.
"""

import pytest

from service.chemistry.freezing import first_solid, ice_line
from tests.reference_cases.caustic_published import FirstSolidPoint, first_solids


@pytest.mark.parametrize("point", [one for one in first_solids() if not one.is_knot])
def test_caustic_soda_has_the_published_point_within_its_limits(point: FirstSolidPoint) -> None:
    found = first_solid(point.alkali, point.w)
    assert found.low <= point.t <= found.high, point.source


@pytest.mark.parametrize("point", [one for one in first_solids() if one.solid])
def test_solids_change_at_pickering_s_invariants(point: FirstSolidPoint) -> None:
    assert point.source == "pickering"
    at = first_solid(point.alkali, point.w)
    assert at.temperature == point.t
    assert at.solid == point.solid
    assert first_solid(point.alkali, point.w - 1e-6).solid != point.solid


def test_the_hydrate_with_three_and_a_half_waters_melts_at_15_degrees() -> None:
    # Pickering 1893: 38.8 %, 15.38 °C, a maximum
    middle = first_solid("NaOH", 0.388).temperature
    assert middle == 15.38
    assert first_solid("NaOH", 0.380).temperature < middle > first_solid("NaOH", 0.396).temperature


def test_stock_of_45_percent_caustic_potash_stays_liquid_in_deep_frost() -> None:
    # ASTM E291-09, section on sampling: liquid to -29 °C
    found = first_solid("KOH", 0.45)
    assert found.temperature == pytest.approx(-29.0)
    assert found.evidence == "mixed"


@pytest.mark.parametrize("point", [one for one in first_solids() if one.source == "crc"])
def test_ice_line_goes_through_the_crc_depressions(point: FirstSolidPoint) -> None:
    assert ice_line(point.alkali, point.w) == pytest.approx(point.t)


@pytest.mark.parametrize(("w", "depression"), [(0.005, 0.43), (0.02, 1.74)])
def test_dilute_depressions_agree_with_the_cryoscopic_constant(w: float, depression: float) -> None:
    # 1.860 K kg/mol for water (CRC Handbook), two ions, osmotic coefficient 0.92 to 0.94 (Pitzer parameters for NaOH
    # at 25 °C: 0.0864, 0.253, 0.0044; Pitzer & Mayorga 1973)
    m = w / (39.9968e-3 * (1 - w))
    ideal = 2 * 1.860 * m
    assert 0.90 <= depression / ideal <= 0.95
    assert ice_line("NaOH", w) == -depression
