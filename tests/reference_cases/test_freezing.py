"""First solids of caustic solutions against figures that are not points of the interpolation."""

import pytest

from service.chemistry.freezing import first_solid, ice_line


@pytest.mark.parametrize(
    ("w", "t", "source"),
    [
        (0.50, 14.0, "Dow Chemical, caustic soda product page, about"),
        (0.522, 20.0, "Great Soviet Encyclopedia, solubility"),
        (0.510, 12.7, "Pickering 1893, dihydrate to monohydrate, from memory"),
        (0.4034, 15.5, "Wang et al. 2008, a plotted point left out of the interpolation"),
        (0.1868, -28.0, "Wang et al. 2008, a plotted point left out of the interpolation"),
        (0.296, 0.0, "an encyclopedia, 418 g per L of water at 0 °C"),
    ],
)
def test_caustic_soda_has_the_published_point_within_its_limits(w: float, t: float, source: str) -> None:
    found = first_solid("NaOH", w)
    assert found.low <= t <= found.high, source


@pytest.mark.parametrize(
    ("w", "t", "above"),
    [
        (0.188, -28.0, "NaOH·7H2O"),
        (0.222, -24.0, "NaOH·5H2O"),
        (0.248, -17.7, "NaOH·4H2O"),
        (0.325, 5.4, "NaOH·3.5H2O"),
        (0.457, 5.0, "NaOH·2H2O"),
    ],
)
def test_solids_change_at_pickering_s_invariants(w: float, t: float, above: str) -> None:
    # S. U. Pickering 1893, as summarised in an encyclopedia
    at = first_solid("NaOH", w)
    assert at.temperature == t
    assert at.solid == above
    assert first_solid("NaOH", w - 1e-6).solid != above


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


@pytest.mark.parametrize(
    ("alkali", "w", "depression"),
    [("NaOH", 0.10, 10.47), ("NaOH", 0.14, 16.76), ("KOH", 0.05, 3.36), ("KOH", 0.07, 4.92)],
)
def test_ice_line_goes_through_the_crc_depressions(alkali: str, w: float, depression: float) -> None:
    # CRC Handbook, 102nd ed. (2021)
    assert ice_line(alkali, w) == pytest.approx(-depression)  # type: ignore[arg-type]


@pytest.mark.parametrize(("w", "depression"), [(0.005, 0.43), (0.02, 1.74)])
def test_dilute_depressions_agree_with_the_cryoscopic_constant(w: float, depression: float) -> None:
    # 1.860 K kg/mol for water (CRC Handbook), two ions, osmotic coefficient 0.92 to 0.94 (Pitzer parameters for NaOH
    # at 25 °C: 0.0864, 0.253, 0.0044; Pitzer & Mayorga 1973)
    m = w / (39.9968e-3 * (1 - w))
    ideal = 2 * 1.860 * m
    assert 0.90 <= depression / ideal <= 0.95
    assert ice_line("NaOH", w) == -depression
