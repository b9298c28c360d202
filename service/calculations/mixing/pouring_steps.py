"""The steps of pouring solutions together: what each brings, the balance, volumes, and the nearest to boiling."""

from math import hypot
from typing import Final

from service.calculations.mixing.heat_steps import (
    AGREES,
    explain_ice_heat,
    explain_solution,
    explain_water,
    mean_capacity,
)
from service.calculations.mixing.pouring import Pouring
from service.calculations.shared.notes import Notes
from service.calculations.stock.solution_steps import ZERO, explain_boiling_point, explain_heat_capacity
from service.calculations.stock.solution_steps import explain_heat_of_solution as explain_heat
from service.calculations.stock.volumes import WEIGHED
from service.chemistry import density, vapour_pressure
from service.chemistry.blending import Part, part_enthalpy
from service.chemistry.enthalpy import at_strength
from service.chemistry.mixing_records import Stock
from service.chemistry.uncertainty import coverage_half_width

_BALANCE: Final = "balance of enthalpies, nothing lost"
_KILO: Final = 1000.0


def explain_pouring(pouring: Pouring, notes: Notes) -> None:
    """Write the steps down.

    Args:
        pouring: what is poured.
        notes: where they go.
    """
    names = [_named(one.part, index) for index, one in enumerate(pouring.pours, start=1)]
    for name, one in zip(names, pouring.pours, strict=True):
        mass, w, t, ice = one.part
        if ice:
            explain_ice_heat(mass, t, name, notes)
        elif w:
            explain_solution(pouring.alkali, Stock(mass, w, t), name, notes)
        else:
            explain_water(mass, t, name, notes)
    _strength(pouring, notes)
    _temperature(pouring, notes)
    _released(pouring, notes)
    _half_width(pouring, notes)
    _volume(pouring, notes)
    _nearest(pouring, notes)


def _named(part: Part, number: int) -> str:
    return f"ice {number}" if part.ice else f"solution {number}" if part.mass_fraction else f"water {number}"


def _strength(pouring: Pouring, notes: Notes) -> None:
    inputs: dict[str, tuple[float, str]] = {}
    above, below = [], []
    for number, one in enumerate(pouring.pours, start=1):
        inputs[f"m{number}"] = (one.part.mass, "kg")
        below.append(f"m{number}")
        if one.hydroxide:
            inputs[f"w{number}"] = (one.part.mass_fraction, "1")
            above.append(f"m{number} * w{number}")
    notes.step(
        "strength of the whole",
        f"({' + '.join(above) or 0}) / ({' + '.join(below)})",
        inputs,
        (pouring.strength, "1"),
        "hydroxide and masses add up; solutions of one strength and temperature are put together",
    )


def _temperature(pouring: Pouring, notes: Notes) -> None:
    """The temperature of the whole: by the balance where all is liquid and nothing boils."""
    w, t, mass, heat = pouring.strength, pouring.temperature, pouring.mass, pouring.whole.heat
    liquid = at_strength(pouring.alkali, w)
    notes.step(
        "heat of the whole",
        " + ".join(f"h{number}" for number in range(1, len(pouring.pours) + 1)),
        {
            f"h{number}": (one.part.mass * part_enthalpy(pouring.alkali, one.part) / _KILO, "kJ")
            for number, one in enumerate(pouring.pours, start=1)
        },
        (heat / _KILO, "kJ"),
        "sum of what the parts bring",
    )
    balanced = ZERO + (heat / mass - liquid.at_25) / mean_capacity(liquid, t)
    if abs(balanced - t) < AGREES:
        inputs = {"heat": (heat / _KILO, "kJ"), "mass": (mass, "kg")}
        expression = "25 + heat / mass / heat_capacity"
        if w:
            inputs |= {"strength": (w, "1")}
            inputs["heat_of_solution"] = (explain_heat(pouring.alkali, w, "whole", notes) / _KILO, "kJ/kg")
            expression = "25 + (heat / mass - strength * heat_of_solution) / heat_capacity"
        capacity = explain_heat_capacity(pouring.alkali, w, t, "whole", notes)
        notes.step(
            "temperature of the whole",
            expression,
            inputs | {"heat_capacity": (capacity / _KILO, "kJ/(kg K)")},
            (t, "°C"),
            f"{_BALANCE}; the heat capacity is the mean from 25 °C to this temperature, found by trying",
        )
        return
    notes.step(
        "temperature of the whole",
        "where the balance with ice or steam closes",
        {"heat": (heat / _KILO, "kJ"), "mass": (mass, "kg"), "strength": (w, "1")},
        (t, "°C"),
        f"{_BALANCE}; with ice, the liquid lies on the ice line; boiling, on the boiling curve",
    )


def _released(pouring: Pouring, notes: Notes) -> None:
    inputs: dict[str, tuple[float, str]] = {}
    terms = []
    for number, one in enumerate(pouring.pours, start=1):
        if one.hydroxide:
            inputs[f"m{number}"] = (one.part.mass, "kg")
            own = at_strength(pouring.alkali, one.part.mass_fraction).at_25
            inputs[f"h{number}"] = (own / _KILO, "kJ/kg")
            terms.append(f"m{number} * h{number}")
    whole = at_strength(pouring.alkali, pouring.strength).at_25
    notes.step(
        "heat released",
        f"{' + '.join(terms) or 0} - mass * enthalpy",
        inputs | {"mass": (pouring.mass, "kg"), "enthalpy": (whole / _KILO, "kJ/kg")},
        (pouring.whole.heat_released / _KILO, "kJ"),
        "enthalpies at 25 °C: strength times heat of solution",
    )


def _half_width(pouring: Pouring, notes: Notes) -> None:
    """The half-width of the strength, where there is one."""
    inputs: dict[str, tuple[float, str]] = {}
    terms = []
    for number, one in enumerate(pouring.pours, start=1):
        if one.spread.standard_uncertainty:
            inputs[f"m{number}"] = (one.part.mass, "kg")
            inputs[f"u{number}"] = (one.spread.standard_uncertainty, "1")
            terms.append(f"(m{number} * u{number})**2")
    if terms and not any(one.volume != WEIGHED or one.by_density for one in pouring.pours):
        own = hypot(*(one.part.mass * one.spread.standard_uncertainty for one in pouring.pours))
        half_width = coverage_half_width(pouring.strength_spread)
        notes.step(
            "half-width of the strength",
            f"k * sqrt({' + '.join(terms)}) / mass",
            inputs | {"mass": (pouring.mass, "kg"), "k": (half_width * pouring.mass / own, "1")},
            (half_width, "1"),
            "JCGM 100:2008, 5.1.2; k: 95 % coverage, 1.645 where a pair of limits dominates, to 1.96",
        )


def _volume(pouring: Pouring, notes: Notes) -> None:
    """The volume of the whole, and by how much it is less or more than that of the parts."""
    change = pouring.volume_change()
    if change is None or len(pouring.pours) == 1:
        return
    inputs: dict[str, tuple[float, str]] = {}
    terms = []
    for number, one in enumerate(pouring.pours, start=1):
        mass, w, t, _ = one.part
        inputs[f"m{number}"] = (mass, "kg")
        inputs[f"d{number}"] = (density.density(pouring.alkali, w, t) / _KILO, "kg/L")
        terms.append(f"m{number} / d{number}")
    whole = density.density(pouring.alkali, pouring.strength, pouring.temperature) / _KILO
    notes.step(
        "change of volume",
        f"mass / density - ({' + '.join(terms)})",
        inputs | {"mass": (pouring.mass, "kg"), "density": (whole, "kg/L")},
        (change[0] * _KILO, "L"),
        "each density at its own strength and temperature, as concentration explains it",
    )


def _nearest(pouring: Pouring, notes: Notes) -> None:
    """The distance to boiling where it is least."""
    nearest, of_inputs = pouring.nearest
    boiling = explain_boiling_point(pouring.alkali, nearest.mass_fraction, notes)
    spread = vapour_pressure.boiling_point_half_width(pouring.alkali, nearest.mass_fraction)
    notes.step(
        "boiling margin",
        "boiling_point - half_width - temperature - half_width_of_temperature",
        {
            "boiling_point": (boiling, "°C"),
            "half_width": (spread, "K"),
            "temperature": (nearest.temperature, "°C"),
            "half_width_of_temperature": (of_inputs, "K"),
        },
        (pouring.boiling_margin, "K"),
        f"where they meet as {nearest.mass_fraction * 100:.4g} %, the nearest to boiling of all proportions",
    )
