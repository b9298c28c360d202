"""Heats of fusion of the hydrates of NaOH against what the freezing line and the activity of water say of them.

No measured table of them was at hand. What is held: the slope of the published freezing line [1]_, with the activity
of water [2]_ by Gibbs and Duhem, gives the same heats, stretch by stretch; and for the monohydrate, whose heat was
measured [3]_, the same way gives the measured one.

References:
    .. [1] S. U. Pickering, J. Chem. Soc. 63 (1893) 890-909; Wang et al. 2008.
    .. [2] H. Olsson, A. Jernqvist, G. Aly, Int. J. Thermophys. 18 (1997) 779-793.
    .. [3] V. B. Parker, NSRDS-NBS 2 (1965).
    .. [4] R. A. Siemens, W. F. Giauque, J. Phys. Chem. 73 (1969) 149-157, heats of fusion of NaOH·2H2O and
       NaOH·3.5H2O (from memory: about 5.2 kcal/mol for the latter).
"""

import math

import pytest

from service.chemistry.enthalpy import at_strength, hydrate_enthalpy
from service.chemistry.freezing import first_solid
from service.chemistry.molar_masses import ALKALI, WATER
from service.chemistry.thawing import CRYSTALS
from service.chemistry.vapour_pressure import water_vapour_pressure
from service.chemistry.water import saturation_pressure

M = ALKALI["NaOH"]
GAS_CONSTANT = 8.314462618


def _water(w: float) -> float:
    """Molecules of water per hydroxide."""
    return (1.0 - w) / w * M / WATER


def _molar(n: float, t: float) -> float:
    """Enthalpy of one mole of hydroxide in n moles of water [J/mol]."""
    return at_strength("NaOH", M / (M + n * WATER)).enthalpy(t) * (M + n * WATER)


def _hydrate(n: float, weak: float, strong: float) -> tuple[float, float]:
    """Enthalpy of a hydrate [J/mol] from a stretch of the freezing line, and its middle temperature [°C]."""
    w = (weak + strong) / 2
    ends = [first_solid("NaOH", one).temperature for one in (weak, strong)]
    t = max(sum(ends) / 2, 0.0)

    def activity(one: float) -> float:
        return water_vapour_pressure("NaOH", one, t) / saturation_pressure(t)

    d = 1e-3
    slope = (math.log(activity(w + d)) - math.log(activity(w - d))) / (_water(w + d) - _water(w - d))
    line = (_water(strong) - _water(weak)) / (ends[1] - ends[0])
    dissolving = GAS_CONSTANT * (t + 273.15) ** 2 * (n - _water(w)) * slope * line
    e = 1e-3
    of_water = (_molar(_water(w) + e, t) - _molar(_water(w) - e, t)) / (2 * e)
    return _molar(_water(w), t) + (n - _water(w)) * of_water - dissolving, t


@pytest.mark.parametrize(
    ("weak", "strong", "deviation"), [(0.5225, 0.5387, 1.07e3), (0.5306, 0.5496, 1.90e3), (0.5144, 0.5306, -0.51e3)]
)
def test_the_freezing_line_gives_the_measured_heat_of_the_monohydrate_to_two_kilojoules(
    weak: float, strong: float, deviation: float
) -> None:
    found, t = _hydrate(1.0, weak, strong)
    measured = hydrate_enthalpy("NaOH") * WATER  # -23.10 kJ/mol at 25 °C
    assert abs(t - 25.0) < 10.0  # the crystal changes by less than 1 kJ/mol over these
    assert found - measured == pytest.approx(deviation, abs=50.0)


@pytest.mark.parametrize(
    ("solid", "weak", "strong"),
    [
        ("NaOH·4H2O", 0.2558, 0.2734),
        ("NaOH·4H2O", 0.2734, 0.2978),
        ("NaOH·4H2O", 0.2856, 0.3181),
        ("NaOH·3.5H2O", 0.3250, 0.3425),
        ("NaOH·3.5H2O", 0.3289, 0.3574),
        ("NaOH·3.5H2O", 0.3425, 0.3736),
        ("NaOH·3.5H2O", 0.4196, 0.4467),
        ("NaOH·3.5H2O", 0.4345, 0.4570),
        ("NaOH·2H2O", 0.4570, 0.4873),
        ("NaOH·2H2O", 0.4711, 0.5036),
        ("NaOH·2H2O", 0.4873, 0.5144),
    ],
)
def test_each_stretch_of_the_freezing_line_gives_a_heat_of_fusion_within_the_limits(
    solid: str, weak: float, strong: float
) -> None:
    crystal = next(c for c in CRYSTALS["NaOH"] if c.solid == solid)
    assert crystal.fusion is not None
    n = _water(crystal.mass_fraction)
    found, t = _hydrate(n, weak, strong)
    fusion = (_molar(n, t) - found) / (M + n * WATER)
    assert crystal.fusion[1] <= fusion <= crystal.fusion[2]


def test_a_recalled_measurement_lies_within_the_limits() -> None:
    crystal = next(c for c in CRYSTALS["NaOH"] if c.solid == "NaOH·3.5H2O")
    assert crystal.fusion is not None
    recalled = 5.2e3 * 4.184 / (M / crystal.mass_fraction)  # Siemens and Giauque 1969, from memory
    assert crystal.fusion[1] <= recalled <= crystal.fusion[2]
