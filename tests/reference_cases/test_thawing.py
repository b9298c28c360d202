"""Heats of fusion of the hydrates of NaOH against what the freezing line and the activity of water say of them.

No measured table of them was at hand. What is held: the slope of the published freezing line, with the activity of
water by Gibbs and Duhem, gives the same heats, stretch by stretch; and for the monohydrate, whose heat was measured,
the same way gives the measured one. Sources: see hydrates.py.
"""

import pytest

from service.chemistry.enthalpy import hydrate_enthalpy
from service.chemistry.molar_masses import WATER
from tests.reference_cases.hydrates import MONOHYDRATE, RECALLED, STRETCHES, M, crystal, fusion, hydrate


@pytest.mark.parametrize(("weak", "strong", "deviation"), MONOHYDRATE)
def test_the_freezing_line_gives_the_measured_heat_of_the_monohydrate_to_two_kilojoules(
    weak: float, strong: float, deviation: float
) -> None:
    found, t = hydrate(1.0, weak, strong)
    measured = hydrate_enthalpy("NaOH") * WATER  # -23.10 kJ/mol at 25 °C
    assert abs(t - 25.0) < 10.0  # the crystal changes by less than 1 kJ/mol over these
    assert found - measured == pytest.approx(deviation, abs=50.0)


@pytest.mark.parametrize(("solid", "weak", "strong"), STRETCHES)
def test_each_stretch_of_the_freezing_line_gives_a_heat_of_fusion_within_the_limits(
    solid: str, weak: float, strong: float
) -> None:
    limits = crystal(solid).fusion
    assert limits is not None
    assert limits[1] <= fusion(solid, weak, strong) <= limits[2]


def test_a_recalled_measurement_lies_within_the_limits() -> None:
    held = crystal("NaOH·3.5H2O")
    assert held.fusion is not None
    assert held.fusion[1] <= RECALLED / (M / held.mass_fraction) <= held.fusion[2]


@pytest.mark.parametrize("solid", ["NaOH·4H2O", "NaOH·3.5H2O", "NaOH·2H2O"])
def test_a_heat_of_fusion_is_the_mean_of_its_stretches_and_its_limits_are_no_wider_than_they_scatter(
    solid: str,
) -> None:
    """To a thousand joules, and at most ten thousand beyond the outermost stretches."""
    held = crystal(solid).fusion
    assert held is not None
    found = [fusion(*one) for one in STRETCHES if one[0] == solid]
    assert held[0] == pytest.approx(sum(found) / len(found), abs=1e3)
    assert min(found) - 10e3 < held[1]
    assert held[2] < max(found) + 10e3
