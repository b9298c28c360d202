"""What a mixing with ice says beside its numbers: whether ice does it, what else does, and the steps."""

from collections.abc import Sequence

from service.calculations.mixing.ice_amounts import Amounts
from service.calculations.mixing.ice_plan import Planned, Stage
from service.calculations.mixing.mixing_runs import Runs
from service.calculations.shared.cautions import degrees
from service.calculations.shared.notes import Notes
from service.chemistry import water as waters


def caution_ice(
    plan: Planned, runs: Runs, needed: tuple[float, bool], stages: Sequence[Stage] | None, notes: Notes
) -> None:
    """Say where ice is not enough, and where it is boiling that it is reckoned for.

    Args:
        plan: the mixing.
        runs: the same with the ice that is answered.
        needed: ice that the limit calls for [kg], and whether boiling is what limits it.
        stages: portions with waiting, where ice alone is too little; None where it is not.
        notes: where the cautions go.
    """
    if stages is not None:
        last = stages[-1].wait_until if stages else None
        what = (
            f"mix in {len(stages)} portions, with waiting to {degrees(last)} at the last"
            if last is not None
            else "waiting between portions does not do either"
        )
        notes.caution(
            "ice-too-little",
            f"Even with all of the water as ice it can reach {degrees(runs.peak_high)}, and {degrees(plan.limit)} is "
            f"the limit: {what}. Colder solid, a bath round the vessel, or a weaker stock may help.",
        )
    elif needed[1] and needed[0] > 0:
        notes.caution(
            "limit-above-boiling",
            f"A limit of {degrees(plan.limit)} lies above where this stock may boil on its way, so that the ice is "
            "reckoned to stay just below boiling at sea level: ask for a lower limit to keep clear of it.",
        )


def explain_ice(plan: Planned, wanted: tuple[Amounts, float], needed: float, notes: Notes) -> None:
    """The steps, so that a person can redo them by hand.

    Args:
        plan: the mixing.
        wanted: its amounts, and the strength.
        needed: ice that the limit calls for [kg].
        notes: where the steps go.
    """
    amounts, w = wanted
    left = [part.mass for part in plan.existing.charge if part is not None]
    stock = plan.existing.charge.stock
    hydroxide = 0.0 if stock is None else stock.mass * stock.mass_fraction
    notes.step(
        "stock in all",
        "(solid * purity + hydroxide_before) / strength",
        {
            "solid": (amounts.solid * 1000, "g"),
            "purity": (plan.solid.solid.purity, "1"),
            "hydroxide_before": (hydroxide * 1000, "g"),
            "strength": (w, "1"),
        },
        (amounts.total * 1000, "g"),
        "mass balance of the hydroxide",
    )
    notes.step(
        "water to add, as liquid or ice",
        "total - solid - before",
        {
            "total": (amounts.total * 1000, "g"),
            "solid": (amounts.solid * 1000, "g"),
            "before": (sum(left) * 1000, "g"),
        },
        (amounts.water * 1000, "g"),
        "mass balance",
    )
    ice = plan.ice
    notes.step(
        "heat that ice takes off in the place of water",
        "water - (1 - melted) * ice - melted * melt_water",
        {
            "water": (waters.enthalpy(plan.water_temperature) / 1000, "J/g"),
            "melted": (ice.melted_share, "1"),
            "ice": (waters.ice_enthalpy(ice.temperature) / 1000, "J/g"),
            "melt_water": (waters.enthalpy(0.0) / 1000, "J/g"),
        },
        (plan.taken_off / 1000, "J/g"),
        "enthalpies against liquid water of 0 °C: IAPWS R7-97 and R10-06",
    )
    if not plan.taken_off:
        return
    notes.step(
        "ice that the limit calls for",
        "excess / taken_off",
        {"excess": (needed * plan.taken_off, "J"), "taken_off": (plan.taken_off / 1000, "J/g")},
        (needed * 1000, "g"),
        "the greatest heat along the way that is too much for the limit, all water being liquid: the balance below, "
        "at its upper end",
    )
