"""All models of the report, in the order in which they stand in it."""

from functools import cache

from tests.proof.report.models import (
    assays,
    batter,
    convection,
    density,
    fats,
    freezing,
    heat,
    mixing,
    strength,
    vapour,
    viscosity,
    water,
)
from tests.proof.report.records import Model


@cache
def models() -> tuple[Model, ...]:
    """Made once, since other people's programs take their time."""
    return (
        density.caustic_soda(),
        density.caustic_potash(),
        density.with_carbonate(),
        strength.model(),
        viscosity.model(),
        heat.heat_capacity(),
        heat.heat_of_solution(),
        heat.enthalpy_of_soda(),
        mixing.mixing(),
        vapour.boiling(),
        vapour.pressure(),
        freezing.first_solids_of_both(),
        freezing.thawing(),
        water.model(),
        convection.model(),
        mixing.batch_heat(),
        batter.model(),
        fats.saponification(),
        fats.iodine(),
        fats.molar_masses(),
        assays.titration(),
        assays.uncertainty(),
    )
