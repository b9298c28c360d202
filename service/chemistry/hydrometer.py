"""The scales of hydrometers for liquids heavier than water: Baumé and Twaddell, to and from specific gravity."""

from typing import Final

from service.chemistry import water
from service.chemistry.ranges import require

AMERICAN_MODULUS: Final = 145.0
"""Baumé modulus for liquids heavier than water in the USA, at 60/60 °F [-] (J. G. Speight, Encyclopedia of Renewable
Energy, table B-2: seen-secondary)."""
_TWADDELL: Final = 200.0
"""Degrees Twaddell for each unit of specific gravity [-] (exact, the definition of the scale)."""


def specific_gravity_from_degrees_baume(degrees: float, modulus: float = AMERICAN_MODULUS) -> float:
    """Specific gravity [-] of a liquid heavier than water, SG = modulus/(modulus − degrees).

    Args:
        degrees: degrees Baumé [-], 0 to below the modulus.
        modulus: modulus of the scale [-], 140 to 150; 145 in the USA, 144.3 the rational scale of Europe.

    Raises:
        OutOfRange: degrees or modulus outside that range.

    References:
        .. [1] J. G. Speight, Encyclopedia of Renewable Energy, table B-2 (modulus 145).
    """
    require("baume_modulus", modulus, 140.0, 150.0, "the scales in use have moduli from 144 to 146.78")
    require("degrees_baume", degrees, 0.0, modulus - 1.0, "the scale for liquids heavier than water")
    return modulus / (modulus - degrees)


def degrees_baume_from_specific_gravity(gravity: float, modulus: float = AMERICAN_MODULUS) -> float:
    """Degrees Baumé of a liquid heavier than water, modulus (1 − 1/SG).

    Args:
        gravity: specific gravity [-], 1 or more.
        modulus: modulus of the scale [-], 140 to 150.

    Raises:
        OutOfRange: gravity or modulus outside that range.

    References:
        .. [1] as `specific_gravity_from_degrees_baume`.
    """
    require("baume_modulus", modulus, 140.0, 150.0, "the scales in use have moduli from 144 to 146.78")
    require("specific_gravity", gravity, 1.0, modulus, "the scale for liquids heavier than water")
    return modulus - modulus / gravity


def specific_gravity_from_degrees_twaddell(degrees: float) -> float:
    """Specific gravity [-] from degrees Twaddell, SG = 1 + Tw/200.

    Args:
        degrees: degrees Twaddell [-], 0 to 200.

    Raises:
        OutOfRange: degrees outside that range.

    References:
        .. [1] definition of the scale, as in W. H. Simmons, H. A. Appleton, The Handbook of Soap Manufacture
           (London 1908), Appendix A.
    """
    require("degrees_twaddell", degrees, 0.0, 200.0, "the scale runs from water to twice its density")
    return 1.0 + degrees / _TWADDELL


def degrees_twaddell_from_specific_gravity(gravity: float) -> float:
    """Degrees Twaddell, 200 (SG − 1).

    Args:
        gravity: specific gravity [-], 1 to 2.

    Raises:
        OutOfRange: gravity outside that range.

    References:
        .. [1] as `specific_gravity_from_degrees_twaddell`.
    """
    require("specific_gravity", gravity, 1.0, 2.0, "the scale runs from water to twice its density")
    return _TWADDELL * (gravity - 1.0)


GLASS_EXPANSION: Final = 25e-6
"""Cubic expansion of the glass of hydrometers [1/K] (ISO 649-1, from memory)."""


def density_read(gravity: float, t: float, reference: float, water_reference: float | None = None) -> float:
    """Density of a liquid [kg/m3] in which a hydrometer shows a specific gravity.

    The float's glass grows with warmth, so that a warm float displaces more than its scale was made for:
    rho = gravity * rho_water(water_reference) / (1 + expansion (t - reference)).

    Args:
        gravity: what it shows, as specific gravity against water [-], 0.5 to 3.
        t: temperature of the liquid, and of the float [°C], 0 to 100.
        reference: temperature that the scale holds for [°C], 0 to 100.
        water_reference: temperature of the water that the scale compares with [°C], 0 to 100: 4 of a scale of
            20/4 °C; the same as `reference` where it is left out.

    Raises:
        OutOfRange: an argument outside its range.

    References:
        .. [1] ISO 649-1:1981, Laboratory glassware: density hydrometers (expansion of glass; from memory).

    Examples:
        >>> round(density_read(1.5, 60.0, 15.5), 1)
        1496.9
        >>> round(density_read(1.5, 20.0, 20.0, 4.0), 1)
        1500.0
    """
    against = reference if water_reference is None else water_reference
    require("specific_gravity", gravity, 0.5, 3.0, "no liquid that a hydrometer floats in lies beyond")
    require("temperature", t, 0.0, 100.0, "hydrometers are read between freezing and boiling of water")
    require("reference", reference, 0.0, 100.0, "scales hold for a temperature of a room")
    require("water_reference", against, 0.0, 100.0, "the water of a scale is liquid")
    return gravity * water.density(against) / (1.0 + GLASS_EXPANSION * (t - reference))
