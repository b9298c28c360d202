"""The steps of a cooling, so that a person can redo them by hand."""

import math

from service.calculations.keeping.cooling_loss_steps import explain_loss
from service.calculations.keeping.cooling_reading import Read
from service.calculations.keeping.cooling_readings import Told
from service.calculations.keeping.cooling_runs import Run
from service.calculations.shared.notes import Notes
from service.calculations.stock.solution_steps import explain_boiling_point
from service.chemistry.cooling import MELTING_HEAT


def explain_cooling(read: Read, notes: Notes) -> None:
    """Write the steps down.

    Args:
        read: the cooling.
        notes: where they go.
    """
    run = read.run
    _heats(run, notes)
    if read.told is not None:
        _fit(read.told, run, notes)
    if read.lost is not None:
        explain_loss(read.lost, run, notes)
    _way(run, notes)
    if read.told is None:
        _coefficient(run, notes)
    if run.around.medium == "ice-bath":
        notes.step(
            "ice that melts",
            "heat / melting_heat * 1000",
            {"heat": (run.heat[0] / 1000, "kJ"), "melting_heat": (MELTING_HEAT / 1000, "kJ/kg")},
            (run.ice_melted[0] * 1000, "g"),
            "heat of fusion of ice at 0 °C: IAPWS R10-06(2009) and R6-95(2018)",
        )
    explain_boiling_point(run.contents.alkali, run.contents.w, notes)


def _heats(run: Run, notes: Notes) -> None:
    """What contents and vessel give off."""
    c, t = run.contents, run.target
    start, end = run.liquid.enthalpy(c.temperature), run.liquid.enthalpy(t)
    mean = (start - end) / (c.temperature - t)
    notes.step(
        "mean heat capacity of the stock",
        "(h_start - h_target) / (start - target)",
        {
            "h_start": (start / 1000, "kJ/kg"),
            "h_target": (end / 1000, "kJ/kg"),
            "start": (c.temperature, "°C"),
            "target": (t, "°C"),
        },
        (mean / 1000, "kJ/(kg K)"),
        "enthalpy of the liquid: integral of the heat capacity, Laliberté 2009; Olsson, Jernqvist & Aly 1997",
    )
    notes.step(
        "heat given off",
        "(mass * heat_capacity + vessel) * (start - target)",
        {
            "mass": (c.mass, "kg"),
            "heat_capacity": (mean / 1000, "kJ/(kg K)"),
            "vessel": (run.vessel_heat[0] / 1000, "kJ/K"),
            "start": (c.temperature, "°C"),
            "target": (t, "°C"),
        },
        (run.heat[0] / 1000, "kJ"),
        "balance of energy",
    )


def _fit(told: Told, run: Run, notes: Notes) -> None:
    """The slope of the ways against the times."""
    cold = run.around.temperature
    for i in range(1, len(told.times)):
        left, right = told.temperatures[i - 1] - cold, told.temperatures[i] - cold
        even = abs(left - right) < 1e-5 * (left + right)
        notes.step(
            f"way to reading {i + 1}",
            "before + heat / ((above + below) / 2)" if even else "before + heat * ln(above / below) / (above - below)",
            {
                "before": (told.ways[i - 1], "J/K"),
                "heat": (told.heats[i - 1], "J"),
                "above": (left, "K"),
                "below": (right, "K"),
            },
            (told.ways[i], "J/K"),
            "integral of the heat capacity over the difference to the surroundings; Bergman et al., 6th ed., 5.1",
        )
    mean = told.fitted.mean_time
    numbers = range(len(told.times))
    above = " + ".join(f"a{i} * (t{i} - mean) * y{i}" for i in numbers)
    below = " + ".join(f"a{i} * (t{i} - mean)**2" for i in numbers)
    inputs: dict[str, tuple[float, str]] = {"mean": (mean, "s")}
    for i in numbers:
        inputs |= {
            f"a{i}": (told.weights[i], "K2/J2"),
            f"t{i}": (told.times[i], "s"),
            f"y{i}": (told.ways[i], "J/K"),
        }
    notes.step(
        "heat-loss coefficient",
        f"({above}) / ({below})",
        inputs,
        (told.fitted.coefficient, "W/K"),
        "slope of the ways y against the times t, weighed by the inverse variance a of each",
    )


def _way(run: Run, notes: Notes) -> None:
    """The time of each leg."""
    before, elapsed = run.temperatures[0], 0.0
    way = run.value
    for i, heat in enumerate(way.heats):
        t, left, right = run.temperatures[i + 1], way.losses[i], way.losses[i + 1]
        took = way.times[i] - elapsed
        even = abs(left - right) < 1e-5 * (left + right)
        notes.step(
            f"from {before:.4g} to {t:.4g} °C",
            "heat / ((loss_start + loss_end) / 2)"
            if even
            else "heat * ln(loss_start / loss_end) / (loss_start - loss_end)",
            {"heat": (heat, "J"), "loss_start": (left, "W"), "loss_end": (right, "W")},
            (took, "s"),
            "heat over the logarithmic mean of the losses at both ends; Bergman et al., 6th ed., 5.1",
        )
        before, elapsed = t, way.times[i]
    notes.step(
        "time",
        "last + until_then",
        {"last": (took, "s"), "until_then": (way.times[-1] - took, "s")},
        (way.times[-1], "s"),
        "sum of the legs",
    )


def _coefficient(run: Run, notes: Notes) -> None:
    way, start, end = run.value, run.contents.temperature, run.target
    capacity = math.fsum(way.heats) / (start - end)
    inputs = {
        "above": (start - way.baths[0], "K"),
        "below": (end - way.baths[-1], "K"),
        "time": (way.times[-1], "s"),
        "capacity": (capacity, "J/K"),
    }
    warms = math.isfinite(run.around.capacity)
    if warms:
        inputs["bath"] = (run.around.capacity, "J/K")
        notes.step(
            "temperature of the bath at the end",
            "start + heat / bath",
            {
                "start": (way.baths[0], "°C"),
                "heat": (math.fsum(way.heats), "J"),
                "bath": (run.around.capacity, "J/K"),
            },
            (way.baths[-1], "°C"),
            "balance of energy",
        )
    notes.step(
        "heat-loss coefficient",
        f"ln(above / below) / time / (1 / capacity{' + 1 / bath' if warms else ''})",
        inputs,
        (run.coefficient()[0], "W/K"),
        "Newton's law, for the same time; Bergman et al., 6th ed., 5.1",
    )
