"""The scales of hydrometers for liquids heavier than water: Baumé and Twaddell, to and from specific gravity."""

from typing import Final

from service.chemistry.ranges import require

AMERICAN_MODULUS: Final = 145.0
"""Baumé modulus for liquids heavier than water in the USA, at 60/60 °F."""


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
    return 1.0 + degrees / 200.0


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
    return 200.0 * (gravity - 1.0)
