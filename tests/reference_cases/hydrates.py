"""Heats of the hydrates of NaOH as the slope of the freezing line and the activity of water have them.

By Gibbs and Duhem, from the published freezing line [1]_ and the activity of water [2]_; the monohydrate's was measured
too [3]_.

References:
    .. [1] S. U. Pickering, J. Chem. Soc. 63 (1893) 890-909; Wang et al. 2008.
    .. [2] H. Olsson, A. Jernqvist, G. Aly, Int. J. Thermophys. 18 (1997) 779-793.
    .. [3] V. B. Parker, NSRDS-NBS 2 (1965).
    .. [4] R. A. Siemens, W. F. Giauque, J. Phys. Chem. 73 (1969) 149-157, heats of fusion of NaOH·2H2O and
       NaOH·3.5H2O (from memory: about 5.2 kcal/mol for the latter).
"""

import math
from typing import Final

from service.chemistry.enthalpy import at_strength
from service.chemistry.freezing import first_solid
from service.chemistry.molar_masses import ALKALI, WATER
from service.chemistry.thawing import CRYSTALS, Crystal
from service.chemistry.vapour_pressure import water_vapour_pressure
from service.chemistry.water import saturation_pressure

MONOHYDRATE: Final = [(0.5225, 0.5387, 1.07e3), (0.5306, 0.5496, 1.90e3), (0.5144, 0.5306, -0.51e3)]
"""Stretches of its freezing line, and the enthalpy they give less the measured one [J/mol]."""
STRETCHES: Final = [
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
]
"""Mass fractions between which the line of a hydrate is taken for straight."""
RECALLED: Final = 5.2e3 * 4.184
"""Heat of fusion of NaOH·3.5H2O [J/mol], Siemens and Giauque 1969, from memory."""
M: Final = ALKALI["NaOH"]
GAS_CONSTANT: Final = 8.314462618


def water_per_hydroxide(w: float) -> float:
    """Molecules of water per hydroxide."""
    return (1.0 - w) / w * M / WATER


def molar_enthalpy(n: float, t: float) -> float:
    """Enthalpy of one mole of hydroxide in n moles of water [J/mol]."""
    return at_strength("NaOH", M / (M + n * WATER)).enthalpy(t) * (M + n * WATER)


def hydrate(n: float, weak: float, strong: float) -> tuple[float, float]:
    """Enthalpy of a hydrate [J/mol] from a stretch of the freezing line, and its middle temperature [°C]."""
    w = (weak + strong) / 2
    ends = [first_solid("NaOH", one).temperature for one in (weak, strong)]
    t = max(sum(ends) / 2, 0.0)

    def activity(one: float) -> float:
        return water_vapour_pressure("NaOH", one, t) / saturation_pressure(t)

    d = 1e-3
    apart = water_per_hydroxide(w + d) - water_per_hydroxide(w - d)
    slope = (math.log(activity(w + d)) - math.log(activity(w - d))) / apart
    line = (water_per_hydroxide(strong) - water_per_hydroxide(weak)) / (ends[1] - ends[0])
    dissolving = GAS_CONSTANT * (t + 273.15) ** 2 * (n - water_per_hydroxide(w)) * slope * line
    e = 1e-3
    of_water = (molar_enthalpy(water_per_hydroxide(w) + e, t) - molar_enthalpy(water_per_hydroxide(w) - e, t)) / (2 * e)
    return molar_enthalpy(water_per_hydroxide(w), t) + (n - water_per_hydroxide(w)) * of_water - dissolving, t


def crystal(solid: str) -> Crystal:
    """What the service has of a hydrate of NaOH."""
    return next(one for one in CRYSTALS["NaOH"] if one.solid == solid)


def fusion(solid: str, weak: float, strong: float) -> float:
    """Heat of fusion of a hydrate [J/kg] from a stretch of its freezing line."""
    n = water_per_hydroxide(crystal(solid).mass_fraction)
    found, t = hydrate(n, weak, strong)
    return (molar_enthalpy(n, t) - found) / (M + n * WATER)
