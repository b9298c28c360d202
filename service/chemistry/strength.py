"""The ways in which the strength of a caustic solution is stated, each to and from the mass fraction.

The mass fraction w is that of pure hydroxide in the whole solution. Forms that measure a volume need the density
and so hold in the range of `service.chemistry.density`.
"""

from typing import Final

from service.chemistry import density as densities
from service.chemistry.hydrometer import (
    AMERICAN_MODULUS,
    degrees_baume_from_specific_gravity,
    degrees_twaddell_from_specific_gravity,
    specific_gravity_from_degrees_baume,
    specific_gravity_from_degrees_twaddell,
)
from service.chemistry.molar_masses import ALKALI, OXIDE, WATER, Alkali
from service.chemistry.ranges import require, rising_root
from service.chemistry.water import density as water_density

SIXTY_FAHRENHEIT: Final = (60.0 - 32.0) / 1.8
"""Solution and water both at 60 °F, the reference of most hydrometers of the trade [°C] (exact, by the definition of
the degree Fahrenheit)."""
_ROUNDING: Final = 1e-12
"""Relative error that floating-point arithmetic may leave [-] (numerical)."""


def _require_share(name: str, value: float, high: float = 1.0) -> None:
    require(name, value, 0.0, high, "a share of the whole lies between nothing and all")


def mass_fraction_from_water_ratio(water_ratio: float) -> float:
    """Mass fraction [-] from everything else per mass of hydroxide, w = 1/(1 + r).

    Args:
        water_ratio: mass of everything else per mass of pure hydroxide [-], 0 or more.

    Raises:
        OutOfRange: a negative ratio.

    References:
        .. [1] definition.

    Examples:
        >>> mass_fraction_from_water_ratio(1.0)
        0.5
    """
    require("water_ratio", water_ratio, 0.0, 1e12, "a ratio of masses is not negative")
    return 1.0 / (1.0 + water_ratio)


def water_ratio_from_mass_fraction(w: float) -> float:
    """Everything else per mass of hydroxide [-], r = (1 − w)/w.

    Args:
        w: mass fraction of hydroxide [-], above 0 and up to 1.

    Raises:
        OutOfRange: w outside that range; water alone has no such ratio.

    References:
        .. [1] definition.
    """
    require("mass_fraction", w, 1e-12, 1.0, "water without hydroxide has no ratio")
    return (1.0 - w) / w


def mass_fraction_from_mole_fraction(alkali: Alkali, x: float) -> float:
    """Mass fraction [-] from the mole fraction of hydroxide in hydroxide and water.

    Args:
        alkali: NaOH or KOH.
        x: mole fraction of hydroxide [-], 0 to 1.

    Raises:
        OutOfRange: x outside that range.

    References:
        .. [1] definition, with the molar masses of `service.chemistry.molar_masses`.
    """
    _require_share("mole_fraction", x)
    hydroxide = x * ALKALI[alkali]
    return hydroxide / (hydroxide + (1.0 - x) * WATER)


def mole_fraction_from_mass_fraction(alkali: Alkali, w: float) -> float:
    """Mole fraction of hydroxide in hydroxide and water [-].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], 0 to 1.

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] definition, with the molar masses of `service.chemistry.molar_masses`.
    """
    _require_share("mass_fraction", w)
    hydroxide = w / ALKALI[alkali]
    return hydroxide / (hydroxide + (1.0 - w) / WATER)


def mass_fraction_from_molality(alkali: Alkali, m: float) -> float:
    """Mass fraction [-] from the amount of hydroxide per mass of water.

    Args:
        alkali: NaOH or KOH.
        m: molality [mol/kg], 0 or more.

    Raises:
        OutOfRange: m negative.

    References:
        .. [1] definition.
    """
    require("molality", m, 0.0, 1e6, "an amount per mass of water is not negative")
    hydroxide = m * ALKALI[alkali]
    return hydroxide / (1.0 + hydroxide)


def molality_from_mass_fraction(alkali: Alkali, w: float) -> float:
    """Amount of hydroxide per mass of water [mol/kg].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], 0 up to (not including) 1.

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] definition.
    """
    require("mass_fraction", w, 0.0, 1.0 - 1e-9, "without water there is no molality")
    return w / (ALKALI[alkali] * (1.0 - w))


def mass_fraction_from_mass_concentration(alkali: Alkali, concentration: float, t: float) -> float:
    """Mass fraction [-] from the mass of hydroxide per volume of solution.

    Args:
        alkali: NaOH or KOH.
        concentration: mass per volume [kg/m3].
        t: temperature of the solution [°C], as for `density`.

    Raises:
        OutOfRange: t, or the strength that results, outside the range of `density`.

    References:
        .. [1] definition, with the densities of `service.chemistry.density`.
    """
    return rising_root(
        lambda w: w * densities.density(alkali, w, t),
        concentration,
        0.0,
        densities.HIGHEST_MASS_FRACTION[alkali],
        quantity="mass_concentration",
        reason="from water to the strongest solution whose density is known",
    )


def mass_concentration_from_mass_fraction(alkali: Alkali, w: float, t: float) -> float:
    """Mass of hydroxide per volume of solution [kg/m3].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `density`.
        t: temperature of the solution [°C], as for `density`.

    Raises:
        OutOfRange: w or t outside the range of `density`.

    References:
        .. [1] definition, with the densities of `service.chemistry.density`.
    """
    return w * densities.density(alkali, w, t)


def mass_fraction_from_molarity(alkali: Alkali, c: float, t: float) -> float:
    """Mass fraction [-] from the amount of hydroxide per volume of solution.

    Args:
        alkali: NaOH or KOH.
        c: molarity [mol/m3]; 1 mol/L is 1000.
        t: temperature of the solution [°C], as for `density`.

    Raises:
        OutOfRange: t, or the strength that results, outside the range of `density`.

    References:
        .. [1] definition, with the densities of `service.chemistry.density`.
    """
    return mass_fraction_from_mass_concentration(alkali, c * ALKALI[alkali], t)


def molarity_from_mass_fraction(alkali: Alkali, w: float, t: float) -> float:
    """Amount of hydroxide per volume of solution [mol/m3].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `density`.
        t: temperature of the solution [°C], as for `density`.

    Raises:
        OutOfRange: w or t outside the range of `density`.

    References:
        .. [1] definition, with the densities of `service.chemistry.density`.
    """
    return mass_concentration_from_mass_fraction(alkali, w, t) / ALKALI[alkali]


def mass_fraction_from_density(alkali: Alkali, rho: float, t: float) -> float:
    """Mass fraction [-] from the density; see `service.chemistry.density`.

    Args:
        alkali: NaOH or KOH.
        rho: density [kg/m3].
        t: temperature of the solution [°C], as for `density`.

    Raises:
        OutOfRange: t or rho outside the range of `density`.

    References:
        .. [1] as `service.chemistry.density.density`.
    """
    return densities.mass_fraction_from_density(alkali, rho, t)


def density_from_mass_fraction(alkali: Alkali, w: float, t: float) -> float:
    """Density [kg/m3]; see `service.chemistry.density`.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `density`.
        t: temperature of the solution [°C], as for `density`.

    Raises:
        OutOfRange: w or t outside the range of `density`.

    References:
        .. [1] as `service.chemistry.density.density`.
    """
    return densities.density(alkali, w, t)


def mass_fraction_from_specific_gravity(
    alkali: Alkali, gravity: float, reference_temperature: float = SIXTY_FAHRENHEIT
) -> float:
    """Mass fraction [-] from the density relative to water, both at the reference temperature.

    Args:
        alkali: NaOH or KOH.
        gravity: specific gravity [-].
        reference_temperature: temperature of solution and water [°C], as for `density`.

    Raises:
        OutOfRange: the temperature, or the strength that results, outside the range of `density`.

    References:
        .. [1] definition, with the densities of `service.chemistry.density` and Kell's water.
    """
    rho = gravity * water_density(reference_temperature)
    return densities.mass_fraction_from_density(alkali, rho, reference_temperature)


def specific_gravity_from_mass_fraction(
    alkali: Alkali, w: float, reference_temperature: float = SIXTY_FAHRENHEIT
) -> float:
    """Density relative to water [-], both at the reference temperature.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `density`.
        reference_temperature: temperature of solution and water [°C], as for `density`.

    Raises:
        OutOfRange: w or the temperature outside the range of `density`.

    References:
        .. [1] definition, with the densities of `service.chemistry.density` and Kell's water.
    """
    gravity = densities.density(alkali, w, reference_temperature) / water_density(reference_temperature)
    # Next to no alkali, rounding can leave it a hair below that of water.
    return 1.0 if 1.0 - _ROUNDING < gravity < 1.0 else gravity


def mass_fraction_from_degrees_baume(
    alkali: Alkali,
    degrees: float,
    modulus: float = AMERICAN_MODULUS,
    reference_temperature: float = SIXTY_FAHRENHEIT,
) -> float:
    """Mass fraction [-] from degrees Baumé.

    Args:
        alkali: NaOH or KOH.
        degrees: degrees Baumé, heavy scale [-].
        modulus: modulus of the scale [-], 140 to 150.
        reference_temperature: temperature of solution and water [°C], as for `density`.

    Raises:
        OutOfRange: an argument, or the strength that results, out of range.

    References:
        .. [1] as `hydrometer.specific_gravity_from_degrees_baume` and `mass_fraction_from_specific_gravity`.
    """
    gravity = specific_gravity_from_degrees_baume(degrees, modulus)
    return mass_fraction_from_specific_gravity(alkali, gravity, reference_temperature)


def degrees_baume_from_mass_fraction(
    alkali: Alkali,
    w: float,
    modulus: float = AMERICAN_MODULUS,
    reference_temperature: float = SIXTY_FAHRENHEIT,
) -> float:
    """Degrees Baumé, heavy scale.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `density`.
        modulus: modulus of the scale [-], 140 to 150.
        reference_temperature: temperature of solution and water [°C], as for `density`.

    Raises:
        OutOfRange: an argument out of range.

    References:
        .. [1] as `hydrometer.specific_gravity_from_degrees_baume` and `specific_gravity_from_mass_fraction`.
    """
    gravity = specific_gravity_from_mass_fraction(alkali, w, reference_temperature)
    return degrees_baume_from_specific_gravity(gravity, modulus)


def mass_fraction_from_degrees_twaddell(
    alkali: Alkali, degrees: float, reference_temperature: float = SIXTY_FAHRENHEIT
) -> float:
    """Mass fraction [-] from degrees Twaddell.

    Args:
        alkali: NaOH or KOH.
        degrees: degrees Twaddell [-].
        reference_temperature: temperature of solution and water [°C], as for `density`.

    Raises:
        OutOfRange: an argument, or the strength that results, out of range.

    References:
        .. [1] as `hydrometer.specific_gravity_from_degrees_twaddell` and `mass_fraction_from_specific_gravity`.
    """
    gravity = specific_gravity_from_degrees_twaddell(degrees)
    return mass_fraction_from_specific_gravity(alkali, gravity, reference_temperature)


def degrees_twaddell_from_mass_fraction(
    alkali: Alkali, w: float, reference_temperature: float = SIXTY_FAHRENHEIT
) -> float:
    """Degrees Twaddell.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], as for `density`.
        reference_temperature: temperature of solution and water [°C], as for `density`.

    Raises:
        OutOfRange: an argument out of range.

    References:
        .. [1] as `hydrometer.specific_gravity_from_degrees_twaddell` and `specific_gravity_from_mass_fraction`.
    """
    gravity = specific_gravity_from_mass_fraction(alkali, w, reference_temperature)
    return degrees_twaddell_from_specific_gravity(gravity)


def _oxide_per_hydroxide(alkali: Alkali) -> float:
    return OXIDE[alkali] / (2.0 * ALKALI[alkali])


def mass_fraction_from_oxide_fraction(alkali: Alkali, oxide: float) -> float:
    """Mass fraction of hydroxide [-] from the mass fraction stated as oxide.

    Args:
        alkali: NaOH (as Na2O) or KOH (as K2O).
        oxide: mass fraction of oxide [-], 0 to 0.7748 (Na2O) or 0.8395 (K2O).

    Raises:
        OutOfRange: more oxide than pure hydroxide stands for.

    References:
        .. [1] 2 MOH = M2O + H2O, with the molar masses of `service.chemistry.molar_masses`.
    """
    factor = _oxide_per_hydroxide(alkali)
    require("oxide_fraction", oxide, 0.0, factor, "pure hydroxide stands for no more oxide")
    return oxide / factor


def oxide_fraction_from_mass_fraction(alkali: Alkali, w: float) -> float:
    """Mass fraction [-] stated as oxide, Na2O or K2O.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], 0 to 1.

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] as `mass_fraction_from_oxide_fraction`.
    """
    _require_share("mass_fraction", w)
    return w * _oxide_per_hydroxide(alkali)


def mass_fraction_from_as_mixed(
    mass_as_supplied: float, water_mass: float, purity: float = 1.0, moisture: float = 0.0
) -> float:
    """Mass fraction [-] of a solution from what went into it.

    Args:
        mass_as_supplied: mass of the solid as weighed [kg], above 0.
        water_mass: mass of water [kg], 0 or more.
        purity: mass fraction of hydroxide in the solid [-], above 0 and up to 1.
        moisture: mass fraction of water in the solid [-]; it is already part of the mass and changes
            nothing here, but with the purity it cannot exceed 1.

    Raises:
        OutOfRange: an argument out of range.

    References:
        .. [1] balance of masses.

    Examples:
        >>> mass_fraction_from_as_mixed(1.0, 1.0, purity=0.98)
        0.49
    """
    require("mass_as_supplied", mass_as_supplied, 1e-12, 1e12, "some solid must be weighed")
    require("water_mass", water_mass, 0.0, 1e12, "a mass is not negative")
    require("purity", purity, 1e-6, 1.0, "a solid without hydroxide makes no caustic solution")
    _require_share("moisture", moisture, 1.0 - purity + 1e-12)
    return mass_as_supplied * purity / (mass_as_supplied + water_mass)


def as_mixed_from_mass_fraction(w: float, purity: float = 1.0, solution_mass: float = 1.0) -> tuple[float, float]:
    """Masses of solid as supplied and of water [kg] that make a solution of strength w.

    Args:
        w: mass fraction of hydroxide [-], 0 up to the purity.
        purity: mass fraction of hydroxide in the solid [-], above 0 and up to 1.
        solution_mass: mass of the solution [kg].

    Raises:
        OutOfRange: w above the purity, or purity out of range.

    References:
        .. [1] balance of masses.
    """
    require("purity", purity, 1e-6, 1.0, "a solid without hydroxide makes no caustic solution")
    require("mass_fraction", w, 0.0, purity, "a solution is no stronger than the solid it is made from")
    solid = w * solution_mass / purity
    return solid, solution_mass - solid
