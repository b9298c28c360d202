"""Convection from a vessel: older correlations of other forms."""

from collections.abc import Iterator

from ht.conv_external import Nu_cylinder_Zukauskas
from ht.conv_free_immersed import Nu_vertical_cylinder_McAdams_Weiss_Saunders

from service.chemistry import air
from service.chemistry.bath import FILM
from service.chemistry.moving_air import MOVING, crossflow_nusselt
from service.chemistry.standing_loss import STILL, vertical_nusselt
from tests.proof.opinions.records import Axis, Check, Ground, Opinion, Point, steps

RAYLEIGH = Axis("common logarithm of the Rayleigh number", "-")
REYNOLDS = Axis("common logarithm of the Reynolds number", "-")
PRANDTL = Axis("Prandtl number", "-")


def mcadams(rayleigh: float) -> float:
    """Nusselt number on a vertical plate or cylinder [-]: 0.59 Ra^(1/4) to 1e9, 0.13 Ra^(1/3) to 1e12."""
    return float(0.59 * rayleigh**0.25 if rayleigh < 1e9 else 0.13 * rayleigh ** (1.0 / 3.0))


def _point(exponent: float, prandtl: float, ours: float, limits: tuple[float, float, float], theirs: float) -> Point:
    """With that limit of ours which lies on their side, since the two are not alike."""
    reach = limits[2] - 1.0 if theirs > ours else 1.0 - limits[1]
    return Point(exponent, prandtl, ours, reach * ours, theirs)


def _free() -> tuple[Point, ...]:
    found = []
    for prandtl, limits in ((air.PRANDTL, STILL), (7.0, FILM)):
        for exponent in steps(4.0, 12.0, 25):
            ours = vertical_nusselt(10.0**exponent, prandtl)
            found.append(_point(exponent, prandtl, ours, limits, mcadams(10.0**exponent)))
    return tuple(found)


def _forced() -> tuple[Point, ...]:
    found = []
    for exponent in steps(1.7, 6.0, 25):
        ours = crossflow_nusselt(10.0**exponent, air.PRANDTL)
        theirs = float(Nu_cylinder_Zukauskas(Re=10.0**exponent, Pr=air.PRANDTL))
        found.append(_point(exponent, air.PRANDTL, ours, MOVING, theirs))
    return tuple(found)


def opinions() -> Iterator[Opinion]:
    """Of still and of moving air."""
    table = "0.59 Ra^(1/4) and 0.13 Ra^(1/3): W. H. McAdams, Heat Transmission, from memory; 1e4 to 1e12"
    yield Opinion(
        name="convection-free",
        quantity="Nusselt number of free convection on a vertical wall",
        unit="-",
        our_source="S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323-1329",
        their_source=table,
        shared="measurements of the twenties to fifties",
        points=_free(),
        explanation="Of air within a quarter, the scatter of measurements; in water McAdams, who has no Prandtl "
        "number beside that in the Rayleigh number, is up to 28 % lower below 1e9, and jumps there, where the flow "
        "turns.",
        along=RAYLEIGH,
        curves=PRANDTL,
        checks=(
            Check(
                "Nusselt number at a Rayleigh number of 1e7",
                mcadams(1e7),
                float(Nu_vertical_cylinder_McAdams_Weiss_Saunders(Pr=1.0, Gr=1e7)),
                Ground.PROGRAM,
                "package ht 1.2.0",
            ),
            Check(
                "Nusselt number at a Rayleigh number of 1e11",
                mcadams(1e11),
                float(Nu_vertical_cylinder_McAdams_Weiss_Saunders(Pr=1.0, Gr=1e11)),
                Ground.PROGRAM,
                "package ht 1.2.0",
            ),
        ),
        coded_here=True,
    )
    yield Opinion(
        name="convection-forced",
        quantity="Nusselt number of air across a cylinder",
        unit="-",
        our_source="S. W. Churchill, M. Bernstein, J. Heat Transfer 99 (1977) 300-306",
        their_source="A. Zukauskas, Adv. Heat Transfer 8 (1972) 93-160, as programmed in the package ht 1.2.0; 40 to "
        "1e6",
        shared="measurements",
        points=_forced(),
        explanation="Within a quarter.",
        along=REYNOLDS,
        curves=PRANDTL,
    )
