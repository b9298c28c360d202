"""The steps of what goes into a balance of enthalpies: the heat that a solution, water or ice brings."""

from typing import Final

from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes
from service.calculations.stock.solution_steps import ZERO, explain_heat_capacity, explain_heat_of_solution
from service.chemistry import water
from service.chemistry.enthalpy import Strength, at_strength
from service.chemistry.mixing_records import Stock
from service.reference import tables

_HEATS: Final = tables.read("alkali_enthalpy.csv")
REST: Final = "zero: solid hydroxide and liquid water at 25 °C"
AGREES: Final = 1e-6
"""Kelvins to which a balance written out must meet the temperature it is to explain."""


def explain_solution(alkali: AlkaliName, stock: Stock, name: str, notes: Notes) -> None:
    """What a solution brings.

    Args:
        alkali: its hydroxide.
        stock: the solution.
        name: what it is called in the steps, without an article.
        notes: where they go.
    """
    mass, w, t = stock
    heat = explain_heat_of_solution(alkali, w, name, notes)
    capacity = explain_heat_capacity(alkali, w, t, name, notes)
    per_mass = w * heat + capacity * (t - ZERO)
    notes.step(
        f"enthalpy of the {name}",
        "strength * heat_of_solution + heat_capacity * (temperature - 25)",
        {
            "strength": (w, "1"),
            "heat_of_solution": (heat / 1000, "kJ/kg"),
            "heat_capacity": (capacity / 1000, "kJ/(kg K)"),
            "temperature": (t, "°C"),
        },
        (per_mass / 1000, "kJ/kg"),
        REST,
    )
    brings(f"the {name}", mass, per_mass, notes)


def explain_ice_heat(mass: float, t: float, name: str, notes: Notes) -> None:
    """What ice brings.

    Args:
        mass: its mass [kg].
        t: its temperature [°C].
        name: what it is called in the steps.
        notes: where they go.
    """
    figures = _HEATS.select(substance="ice", part="enthalpy [kJ/kg]")
    notes.step(
        f"enthalpy of {name}",
        "e0 + e1 * t + e2 * t**2",
        {"t": (t, "°C"), **{f"e{power}": (one, "kJ/kg") for power, one in enumerate(figures)}},
        (water.ice_enthalpy(t) / 1000, "kJ/kg"),
        f"parabola fitted to IAPWS R10-06(2009); {REST}",
    )
    brings(name, mass, water.ice_enthalpy(t), notes)


def explain_water(mass: float, t: float, name: str, notes: Notes) -> None:
    """What liquid water brings.

    Args:
        mass: its mass [kg].
        t: its temperature [°C].
        name: what it is called in the steps.
        notes: where they go.
    """
    capacity = explain_heat_capacity("NaOH", 0.0, t, name, notes)
    per_mass = at_strength("NaOH", 0.0).enthalpy(t)  # that of water, and runs on to where a syrup is liquid yet
    notes.step(
        f"enthalpy of {name}",
        "heat_capacity * (temperature - 25)",
        {"heat_capacity": (capacity / 1000, "kJ/(kg K)"), "temperature": (t, "°C")},
        (per_mass / 1000, "kJ/kg"),
        REST,
    )
    brings(name, mass, per_mass, notes)


def brings(name: str, mass: float, per_mass: float, notes: Notes) -> None:
    """The heat that a mass brings.

    Args:
        name: what it is called in the steps.
        mass: its mass [kg].
        per_mass: its enthalpy [J/kg].
        notes: where the step goes.
    """
    notes.step(
        f"heat of {name}",
        "mass * enthalpy",
        {"mass": (mass, "kg"), "enthalpy": (per_mass / 1000, "kJ/kg")},
        (mass * per_mass / 1000, "kJ"),
        REST,
    )


def mean_capacity(liquid: Strength, t: float) -> float:
    """Heat capacity in the mean from 25 °C to a temperature [J/(kg K)].

    Args:
        liquid: the solution.
        t: the temperature [°C].
    """
    return liquid.heat_capacity(t) if abs(t - ZERO) < AGREES else (liquid.enthalpy(t) - liquid.at_25) / (t - ZERO)
