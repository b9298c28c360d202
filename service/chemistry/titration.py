"""Titration of caustic and of soap with acid: amounts, mass fractions, and how each reading bears on them.

A caustic that has taken up carbon dioxide holds hydroxide and carbonate. Acid turns the hydroxide into water and
half of the carbonate's alkalinity into bicarbonate up to the first end point (phenolphthalein, about pH 8.3), and the
bicarbonate into carbonic acid up to the second (methyl orange or bromocresol green, about pH 4.3). With both volumes
counted from the start, hydroxide takes 2 V1 - V2 and carbonate, in all, 2 (V2 - V1).

Volumetric solutions are labelled at 20 °C; what a warmer burette delivers holds less by the expansion of water.

References:
    .. [1] ASTM E291, Standard Test Methods for Chemical Analysis of Caustic Soda and Caustic Potash (total
       alkalinity by titration; read: its scope, in a reprint).
    .. [2] Joint FAO/WHO Expert Committee on Food Additives, specification of sodium hydroxide (INS 524): 40.00 mg of
       NaOH and 106.0 mg of Na2CO3 for each millilitre of normal acid (read in a reprint).
    .. [3] ISO 456:1973 (free caustic alkali of soap) and ISO 684 (total free alkali of soap); read: their abstracts.
    .. [4] JCGM 100:2008 (GUM), 5.1.2 (law of propagation of uncertainty) and 5.1.3 (sensitivity coefficients).
    .. [5] EURACHEM/CITAC Guide CG 4, Quantifying Uncertainty in Analytical Measurement, 3rd ed. 2012, examples A2
       and A3: what a titration's budget holds, the expansion of 2.1e-4 per kelvin, room of 4 K about 20 °C.
    .. [6] T. Prohaska et al., Standard atomic weights of the elements 2021, Pure Appl. Chem. 94 (2022) 573-600:
       limits of the abridged weights (read in the package periodictable 2.1.0).
"""

from collections.abc import Iterable
from typing import Final, NamedTuple

from service.chemistry import density as densities
from service.chemistry import water
from service.chemistry.molar_masses import ALKALI, CARBONATE, OXIDE, Alkali
from service.chemistry.ranges import require
from service.chemistry.strength import mass_fraction_from_mass_concentration
from service.chemistry.uncertainty import Combined, Part, combine, rectangular

LABELLED_AT: Final = 20.0
"""Temperature that the molarity of a volumetric solution holds for [°C] (common practice of volumetric glassware)."""
COLDEST_ACID: Final = 5.0
HOTTEST_ACID: Final = 40.0
"""Temperatures between which titrations are reckoned [°C] (assumed)."""
_LIMITS: Final = {"H": 0.0002e-3, "C": 0.002e-3, "O": 0.001e-3, "NaOH": 2e-11, "KOH": 0.0001e-3}
"""Half-widths of the abridged atomic weights [kg/mol] [6]_ (seen-secondary); the metals stand under their
hydroxides."""
_STEP: Final = 1e-4
"""Difference of strengths that a slope is taken over [-] (numerical)."""

CARBONATE_ON_DENSITY: Final = 0.2
"""Relative error of the density that each mass fraction of carbonate brings where it is counted as hydroxide, at most
[-].

10 % of Na2CO3 weigh 1.1036 g/mL at 20 °C and 10 % of NaOH 1.1085, which is 0.045; K2CO3 1.0883 and KOH 1.0904, 0.02
(computed with the package thermo 0.6.1: M. Laliberté, J. Chem. Eng. Data 54, 2009, 1725-1760). Beside much NaOH it is
more: 0.04 at 30 %, 0.10 at 40, 0.18 at 48 % (`carbonate_density`, drawn out beyond its data)."""


class Titration(NamedTuple):
    """Two end points of a caustic titrated with acid.

    Attributes:
        normality: protons of the acid for each volume delivered [mol/m3].
        first: acid to the first end point [m3].
        second: acid to the second end point, from the start [m3].
    """

    normality: float
    first: float
    second: float


class Sample(NamedTuple):
    """What was titrated.

    Attributes:
        mass: its mass [kg].
        pull: mass by which the sample counts heavier for each mass of solute found in it: 0 where it was weighed or
            its density is known, more where the density follows from the strength [kg/kg].
        damping: relative change of its mass for that of its volume or of the density model; 1 where weighed [-].
        volume: its volume, where that was measured [m3].
        density: its density, where the volume was measured [kg/m3].
        density_half_width: 95 % half-width of a density that was found [kg/m3].
    """

    mass: float
    pull: float = 0.0
    damping: float = 1.0
    volume: float = 0.0
    density: float = 0.0
    density_half_width: float = 0.0


class Assay(NamedTuple):
    """What a titration found, as mass fractions of the sample.

    Attributes:
        hydroxide: pure hydroxide [-].
        carbonate: carbonate of the same metal [-].
        total_alkali: both, counted as hydroxide [-].
        oxide: both, counted as Na2O or K2O [-].
    """

    hydroxide: float
    carbonate: float
    total_alkali: float
    oxide: float


class Sensitivity(NamedTuple):
    """How one mass fraction changes with each input, all else held.

    Attributes:
        normality: [m3/mol].
        first: first end point [1/m3].
        second: second end point [1/m3].
        mass: mass of the sample [1/kg]; where it was measured by volume, of what that volume weighs.
        hydroxide_molar_mass: [mol/kg].
        carbonate_molar_mass: [mol/kg].
    """

    normality: float
    first: float
    second: float
    mass: float
    hydroxide_molar_mass: float
    carbonate_molar_mass: float


def normality(molarity: float, protons: int, temperature: float = LABELLED_AT) -> float:
    """Protons of an acid for each volume that a burette delivers [mol/m3].

    Args:
        molarity: amount of acid per volume at 20 °C [mol/m3].
        protons: protons that each molecule gives, 1 to 3.
        temperature: of the acid when it was delivered, 5 to 40 [°C].

    Raises:
        OutOfRange: the temperature is none of a titration.
    """
    require("temperature", temperature, COLDEST_ACID, HOTTEST_ACID, "titrations are done near room temperature")
    return molarity * protons * (water.density(temperature) / water.density(LABELLED_AT))


def expansion(temperature: float) -> float:
    """Relative growth of dilute acid with temperature, as that of water: 2.1e-4 at 20 °C [1/K].

    Args:
        temperature: of the acid, 5 to 40 [°C].
    """
    return (water.density(temperature - 0.5) - water.density(temperature + 0.5)) / water.density(temperature)


def hydroxide_amount(titration: Titration) -> float:
    """Hydroxide beside the carbonate [mol]; below 0 where there is bicarbonate instead.

    Args:
        titration: its two end points.
    """
    return titration.normality * (2.0 * titration.first - titration.second)


def carbonate_amount(titration: Titration) -> float:
    """Carbonate, which takes one proton before the first end point and one after it [mol].

    Args:
        titration: its two end points.
    """
    return titration.normality * (titration.second - titration.first)


def free_alkali_amount(acid: float, base: float) -> float:
    """Alkali of a soap: protons put in less what was titrated back [mol].

    Args:
        acid: protons of the acid put in [mol].
        base: hydroxide that the excess took [mol]; 0 where the acid was titrated in up to the end point.
    """
    return acid - base


def weighed(mass: float) -> Sample:
    """A sample that was weighed.

    Args:
        mass: its mass, above 0 [kg].
    """
    return Sample(mass)


def measured(volume: float, density: float) -> Sample:
    """A sample by its volume and its known density.

    Args:
        volume: its volume, above 0 [m3].
        density: its density, above 0 [kg/m3].
    """
    return Sample(volume * density, volume=volume, density=density)


def measured_at(alkali: Alkali, titration: Titration, volume: float, temperature: float) -> Sample:
    """A sample by its volume, the density following from what the titration finds in it.

    Carbonate is counted as so much hydroxide, which is a little too heavy: the half-width of the density has room for
    that.

    Args:
        alkali: NaOH or KOH.
        titration: its two end points.
        volume: volume of the sample at its temperature, above 0 [m3].
        temperature: of the sample, NaOH 0 to 150, KOH 0 to 120 [°C].

    Raises:
        OutOfRange: no solution holds so much in that volume.
    """
    carbonate = carbonate_amount(titration) * CARBONATE[alkali]
    solute = hydroxide_amount(titration) * ALKALI[alkali] + carbonate
    s = mass_fraction_from_mass_concentration(alkali, solute / volume, temperature)
    density = densities.density(alkali, s, temperature)
    step = _STEP if s + _STEP <= densities.HIGHEST_MASS_FRACTION[alkali] else -_STEP
    slope = (densities.density(alkali, s + step, temperature) - density) / step
    whole = density + s * slope
    half_width = densities.density_half_width(alkali, s, temperature)
    half_width += CARBONATE_ON_DENSITY * carbonate / volume
    return Sample(volume * density, slope / whole, density / whole, volume, density, half_width)


def assay(alkali: Alkali, titration: Titration, sample: Sample) -> Assay:
    """Mass fractions that two end points tell.

    Args:
        alkali: NaOH or KOH.
        titration: its two end points.
        sample: what was titrated.

    Examples:
        >>> found = assay("NaOH", Titration(1000.0, 24.75e-6, 25.0e-6), weighed(2e-3))
        >>> round(found.hydroxide, 4), round(found.carbonate, 5)
        (0.49, 0.01325)
    """
    in_all = titration.normality * titration.second
    return Assay(
        hydroxide_amount(titration) * ALKALI[alkali] / sample.mass,
        carbonate_amount(titration) * CARBONATE[alkali] / sample.mass,
        in_all * ALKALI[alkali] / sample.mass,
        in_all * OXIDE[alkali] / 2.0 / sample.mass,
    )


def sensitivities(alkali: Alkali, titration: Titration, sample: Sample) -> tuple[Sensitivity, ...]:
    """How the mass fractions of hydroxide and of carbonate, and the total alkali, change with each input.

    The oxide fraction is the total alkali by other molar masses.

    Args:
        alkali: NaOH or KOH.
        titration: its two end points.
        sample: what was titrated.

    References:
        .. [1] derivatives of the definitions; where the density follows from the strength, s rho(s) = solute / volume
           is differentiated too.
    """
    n, v1, v2 = titration
    m, pull = sample.mass, sample.pull
    hydroxide, carbonate = ALKALI[alkali], CARBONATE[alkali]
    oh, co3 = 2.0 * v1 - v2, v2 - v1
    # What one more of each input adds to the mass of solute, and by the density that follows from it to the sample.
    heavier = Sensitivity(
        normality=pull * (oh * hydroxide + co3 * carbonate),
        first=pull * n * (2.0 * hydroxide - carbonate),
        second=pull * n * (carbonate - hydroxide),
        mass=1.0,
        hydroxide_molar_mass=pull * n * oh,
        carbonate_molar_mass=pull * n * co3,
    )
    found = []
    for volume, molar_mass, first, second, counted in (
        (oh, hydroxide, 2.0, -1.0, (1.0, 0.0)),
        (co3, carbonate, -1.0, 1.0, (0.0, 1.0)),
        (v2, hydroxide, 0.0, 1.0, (1.0, 0.0)),
    ):
        alone = volume * n / m
        direct = Sensitivity(
            normality=volume * molar_mass / m,
            first=first * n * molar_mass / m,
            second=second * n * molar_mass / m,
            mass=0.0,
            hydroxide_molar_mass=alone * counted[0],
            carbonate_molar_mass=alone * counted[1],
        )
        lighter = alone * molar_mass / m
        found.append(Sensitivity._make([d - lighter * h for d, h in zip(direct, heavier, strict=True)]))
    return tuple(found)


def molar_mass_part(alkali: Alkali, *, carbonate: bool = False) -> Part:
    """Uncertainty of a molar mass, from the limits of the atomic weights [kg/mol] [6]_.

    Args:
        alkali: NaOH or KOH.
        carbonate: of its carbonate instead.
    """
    metal = _LIMITS[alkali]
    if carbonate:
        return rectangular(2.0 * metal + _LIMITS["C"] + 3.0 * _LIMITS["O"])
    return rectangular(metal + _LIMITS["O"] + _LIMITS["H"])


def shares(contributions: Iterable[tuple[float, Part | Combined]]) -> tuple[Combined, list[float]]:
    """Combined uncertainty of a result, and the share of its variance that each input brings [-] [4]_.

    Args:
        contributions: (sensitivity [unit of result per unit of input], uncertainty of the input).
    """
    lines = list(contributions)
    combined = combine(lines)
    variance = combined.standard_uncertainty**2
    if variance <= 0.0:
        return combined, [0.0] * len(lines)
    return combined, [(sensitivity * part[0]) ** 2 / variance for sensitivity, part in lines]
