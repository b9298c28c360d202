"""The steps of a warming, so that a person can redo them by hand."""

from bisect import bisect_right

from service.calculations.keeping.warming_reading import Read
from service.calculations.keeping.warming_runs import Run
from service.calculations.shared.notes import Notes
from service.calculations.stock.solution_steps import explain_boiling_point
from service.chemistry.freezing import KNOTS, first_solid


def explain_warming(read: Read, notes: Notes) -> None:
    """Write the steps down.

    Args:
        read: the warming.
        notes: where they go.
    """
    run = read.run
    contents, first = run.contents, run.first
    _heats(run, notes)
    notes.step(
        "power that reaches the stock",
        "heater_power * efficiency",
        {"heater_power": (run.heater.power, "W"), "efficiency": (run.heater.efficiency, "1")},
        (run.heater.given, "W"),
        "definition",
    )
    _way(run, notes)
    value = run.times[0]
    notes.step(
        "energy drawn",
        "heater_power * time / 1000",
        {"heater_power": (run.heater.power, "W"), "time": (value, "s")},
        (run.heater.power * value / 1000, "kJ"),
        "1 kWh = 3600 kJ",
    )
    notes.step(
        "heat lost on the way",
        "power * time / 1000 - heat",
        {"power": (run.heater.given, "W"), "time": (value, "s"), "heat": (run.heat[0] / 1000, "kJ")},
        (run.heat_lost[0] / 1000, "kJ"),
        "balance of energy",
    )
    notes.step(
        "power to hold",
        "loss / efficiency",
        {"loss": (run.loss(run.target)[0], "W"), "efficiency": (run.heater.efficiency, "1")},
        (max(0.0, run.loss(run.target)[0]) / run.heater.efficiency, "W"),
        "balance of powers at the target",
    )
    knots = KNOTS[contents.alkali]
    i = bisect_right(knots, contents.w)  # the last lies beyond what dissolves
    weaker, stronger = (first_solid(contents.alkali, w).temperature for w in knots[i - 1 : i + 1])
    notes.step(
        "first solid",
        "t0 + (w - w0) / (w1 - w0) * (t1 - t0)",
        {
            "w": (contents.w, "1"),
            "w0": (knots[i - 1], "1"),
            "w1": (knots[i], "1"),
            "t0": (weaker, "°C"),
            "t1": (stronger, "°C"),
        },
        (first.temperature, "°C"),
        "the points beside it: Pickering 1893; Wang et al. 2008; CRC Handbook, 102nd ed.; ASTM E291-09",
    )
    explain_boiling_point(contents.alkali, contents.w, notes)


def _heats(run: Run, notes: Notes) -> None:
    """What contents and vessel take up."""
    c, t = run.contents, run.target
    start, end = run.liquid.enthalpy(c.temperature), run.liquid.enthalpy(t)
    notes.step(
        "mean heat capacity of the stock",
        "(h_target - h_start) / (target - start)",
        {
            "h_target": (end / 1000, "kJ/kg"),
            "h_start": (start / 1000, "kJ/kg"),
            "target": (t, "°C"),
            "start": (c.temperature, "°C"),
        },
        ((end - start) / (t - c.temperature) / 1000, "kJ/(kg K)"),
        "enthalpy of the liquid: integral of the heat capacity, Laliberté 2009; Olsson, Jernqvist & Aly 1997",
    )
    notes.step(
        "heat taken up",
        "mass * heat_capacity * (target - start) + vessel * (target - start) + thawing",
        {
            "mass": (c.mass, "kg"),
            "heat_capacity": ((end - start) / (t - c.temperature) / 1000, "kJ/(kg K)"),
            "target": (t, "°C"),
            "start": (c.temperature, "°C"),
            "vessel": (run.vessel_heat[0] / 1000, "kJ/K"),
            "thawing": (run.thawed / 1000, "kJ"),
        },
        (run.heat[0] / 1000, "kJ"),
        "balance of energy; thawing by the lever rule and the heats of fusion",
    )


def _way(run: Run, notes: Notes) -> None:
    """The time of each leg, and their sum."""
    before, elapsed = run.contents.temperature, 0.0
    for i, leg in enumerate(run.path.value):
        left, right = (run.heater.given - run.loss(t)[0] for t in (before, leg.temperature))
        took = run.value.times[i] - elapsed
        even = abs(left - right) < 1e-5 * abs(left + right)
        notes.step(
            f"from {before:.4g} to {leg.temperature:.4g} °C",
            "heat / ((net_start + net_end) / 2)" if even else "heat * ln(net_start / net_end) / (net_start - net_end)",
            {"heat": (leg.heat, "J"), "net_start": (left, "W"), "net_end": (right, "W")},
            (took, "s"),
            "heat over the logarithmic mean of the power left at both ends; Bergman et al., 6th ed., 5.3",
        )
        before, elapsed = leg.temperature, run.value.times[i]
