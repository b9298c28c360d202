"""All opinions, in a fixed order."""

from functools import cache

from tests.proof.opinions import (
    convection,
    densities,
    enthalpies,
    fats,
    freezing,
    heat_capacities,
    intervals,
    pressures,
    titrations,
    viscosities,
    waters,
)
from tests.proof.opinions.records import Opinion

MODULES = (
    waters,
    densities,
    heat_capacities,
    enthalpies,
    pressures,
    freezing,
    viscosities,
    convection,
    fats,
    titrations,
    intervals,
)


@cache
def opinions() -> tuple[Opinion, ...]:
    """Water first, caustic solutions, then vessels, fats, titrations and intervals."""
    return tuple(opinion for module in MODULES for opinion in module.opinions())
