"""How long the fats of a plan take to warm, on one heater, one batch after the other."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from service.calculations.batch.melting import solid_fats
from service.calculations.orders.plan_batches import PlanBatch
from service.calculations.orders.plan_request import Heating
from service.calculations.shared.notes import Notes
from service.calculations.shared.told import DurationFigure, EnergyFigure
from service.calculations.stock.solutions import ROOM
from service.chemistry import food_heat
from service.chemistry.batch_blend import HEAT_OF_FUSION

USUAL_EFFICIENCY: Final = 0.8


class Heated(NamedTuple):
    """What warming takes."""

    time: DurationFigure
    energy: EnergyFigure


def heating(given: Heating | None, batches: Sequence[PlanBatch], notes: Notes) -> Heated | None:
    """What warming the fats of all batches takes; None where no heater is told.

    The value counts half of the heat that may melt what is set in the cold; the interval runs from none to all of it.

    Args:
        given: the heater.
        batches: of the plan.
        notes: where assumptions and faults go.
    """
    if given is None:
        return None
    ambient = ROOM if given.ambient is None else given.ambient.value
    if given.ambient is None:
        notes.assume("/heating/ambient", "20 °C", "a workshop's room")
    if given.efficiency is None:
        notes.assume("/heating/efficiency", "80 %", "what reaches the fats from a plate or a band (common practice)")
    for t, at in ((ambient, "ambient"), (given.fats_temperature.value, "fats_temperature")):
        if not food_heat.COLDEST <= t <= food_heat.HOTTEST:
            notes.fault(
                f"/heating/{at}",
                "beyond-data",
                f"{t:.4g} °C is outside {food_heat.COLDEST:g} to {food_heat.HOTTEST:g} °C, where heats of fats are "
                "known",
                "check the number and its unit",
            )
    if given.fats_temperature.value < ambient:
        notes.fault(
            "/heating/fats_temperature",
            "contradiction",
            f"fats that stand at {ambient:.4g} °C are not warmed to {given.fats_temperature.value:.4g} °C",
            "give a temperature above the ambient one, or leave heating out",
        )
    notes.stop_at_faults()
    per_mass = food_heat.FAT.enthalpy(given.fats_temperature.value) - food_heat.FAT.enthalpy(ambient)
    warm = melt = 0.0
    of: dict[int, tuple[float, float]] = {}
    for one in batches:
        if id(one) not in of:
            fats = one.weighed.fats
            set_fats = sum([line.mass.value for line in solid_fats(fats, ambient)])
            of[id(one)] = sum([line.mass for line in fats]) * per_mass, set_fats * HEAT_OF_FUSION
        warm, melt = warm + of[id(one)][0], melt + of[id(one)][1]
    efficiency = USUAL_EFFICIENCY if given.efficiency is None else given.efficiency.value
    ends = [(warm + share * melt) / efficiency for share in (0.5, 0.0, 1.0)]
    return Heated(DurationFigure(*(one / given.power.value for one in ends)), EnergyFigure(*ends))
