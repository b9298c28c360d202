"""The steps of a mixing: what each part brings, the balances of end and peak, and the ends of its interval."""

from typing import Final, NamedTuple

from service.calculations.mixing.heat_steps import (
    AGREES,
    REST,
    brings,
    explain_ice_heat,
    explain_solution,
    explain_water,
    mean_capacity,
)
from service.calculations.mixing.mixing_runs import UNSTATED_LOSS, Case, Runs, of_half_width
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import NORMAL_95
from service.calculations.stock.solution_steps import (
    ZERO,
    explain_boiling_point,
    explain_heat_capacity,
    explain_heat_of_solution,
)
from service.chemistry import enthalpy, molar_masses, vapour_pressure
from service.chemistry.enthalpy import at_strength
from service.chemistry.equilibrium import INERT_HEAT_CAPACITY
from service.chemistry.mixing_bounds import Bounds
from service.chemistry.mixing_path import Vessel
from service.chemistry.mixing_records import Solid
from service.chemistry.uncertainty import coverage_factor
from service.reference import tables

_HEATS: Final = tables.read("alkali_enthalpy.csv")
_BUDGET: Final = (
    "95 %: heat of dilution (NaOH 0.2 kJ/mol in water, rising to 0.7 at 50 %; KOH 0.3, rising to 1.5), heat of "
    "solution (0.2 kJ/mol) and heat capacity (3 % from 25 % on, in proportion below); judged by how far sources differ"
)
_BALANCED: Final = "25 + (heat - hydroxide * heat_of_solution) / (solution * heat_capacity + inert)"
_CAPPED: Final = (
    "boiling caps it; the half-width is that of the boiling point, where two equations disagree, or as judged"
)


class Balance(NamedTuple):
    """What a heat balance is made of, per its place on the path [kg, J]."""

    hydroxide: float
    solution: float
    inert: float
    heat: float
    strength: float


def explain_mixing(runs: Runs, ambient: float, notes: Notes) -> None:
    """Write the steps down.

    Args:
        runs: the mixing and its bounds.
        ambient: temperature of the air [°C].
        notes: where they go.
    """
    _explain_contents(runs, notes)
    _explain_solid(runs.solid.solid, notes)
    vessel = Vessel(runs.solid.solid, runs.contents, 0.0)
    end = runs.plain.adiabatic_temperature
    if end is not None and abs(_balanced(vessel, 1.0, end) - end) < AGREES:
        _explain_balance(vessel, 1.0, end, "adiabatic temperature", notes)
    _explain_peak(runs, vessel, notes)
    _explain_heat(runs, notes)
    _explain_lost(runs, notes)
    _explain_high(runs, notes)
    _explain_low(runs, ambient, notes)


def _explain_contents(runs: Runs, notes: Notes) -> None:
    """What the vessel holds before the solid."""
    contents, alkali = runs.contents, runs.solid.alkali
    if contents.water is not None:
        explain_water(contents.water.mass, contents.water.temperature, "the water", notes)
    if contents.ice is not None:
        mass, t, melted = contents.ice
        if melted < 1:
            explain_ice_heat(mass * (1 - melted), t, "the ice", notes)
        if melted:
            explain_water(mass * melted, 0.0, "the melted ice", notes)
    if contents.stock is not None:
        explain_solution(alkali, contents.stock, "existing stock", notes)


def _explain_solid(solid: Solid, notes: Notes) -> None:
    """The solid with its bound water, and what is neither."""
    alkali, t = solid.alkali, solid.temperature
    inert = max(0.0, 1 - solid.purity - solid.moisture)
    if solid.moisture:
        notes.step(
            "enthalpy of the bound water",
            "(infinite_dilution - monohydrate) / molar_mass_water",
            {
                "infinite_dilution": (_HEATS.select(substance=alkali, part="infinite_dilution [kJ/mol]")[0], "kJ/mol"),
                "monohydrate": (
                    _HEATS.select(substance=alkali, part="monohydrate_infinite_dilution [kJ/mol]")[0],
                    "kJ/mol",
                ),
                "molar_mass_water": (molar_masses.WATER, "kg/mol"),
            },
            (enthalpy.hydrate_enthalpy(alkali) / 1000, "kJ/kg"),
            "Parker, NSRDS-NBS 2, 1965",
        )
    per_mass = (solid.purity + solid.moisture) * enthalpy.solid_enthalpy(alkali, t)
    per_mass += inert * INERT_HEAT_CAPACITY * (t - ZERO) + solid.moisture * enthalpy.hydrate_enthalpy(alkali)
    notes.step(
        "enthalpy of the solid",
        "((purity + moisture) * heat_capacity + inert * heat_capacity_inert) * (temperature - 25) + moisture * bound",
        {
            "purity": (solid.purity, "1"),
            "moisture": (solid.moisture, "1"),
            "inert": (inert, "1"),
            "heat_capacity": (enthalpy.solid_heat_capacity(alkali) / 1000, "kJ/(kg K)"),
            "heat_capacity_inert": (INERT_HEAT_CAPACITY / 1000, "kJ/(kg K)"),
            "temperature": (t, "°C"),
            "bound": (enthalpy.hydrate_enthalpy(alkali) / 1000, "kJ/kg"),
        },
        (per_mass / 1000, "kJ/kg"),
        f"CRC Handbook of Chemistry and Physics (heat capacity of the hydroxide, taken for its hydrate too); {REST}",
    )
    brings("the solid", solid.mass_as_supplied, per_mass, notes)


def _at(vessel: Vessel, share: float) -> Balance:
    hydroxide, all_water, inert = amounts = vessel.masses(share)
    return Balance(hydroxide, hydroxide + all_water, inert, vessel.heat(share), amounts.strength)


def _inputs(balance: Balance, heat: float, heat_of_solution: float, capacity: float) -> dict[str, tuple[float, str]]:
    return {
        "heat": (heat / 1000, "kJ"),
        "hydroxide": (balance.hydroxide, "kg"),
        "heat_of_solution": (heat_of_solution / 1000, "kJ/kg"),
        "solution": (balance.solution, "kg"),
        "heat_capacity": (capacity / 1000, "kJ/(kg K)"),
        "inert": (balance.inert * INERT_HEAT_CAPACITY / 1000, "kJ/K"),
    }


def _balanced(vessel: Vessel, share: float, t: float, more: float = 0.0) -> float:
    """What the balance of enthalpies gives for a temperature, if all is liquid and nothing has left [°C].

    Args:
        vessel: the mixing.
        share: share of the solid that is in [-].
        t: the temperature that it should give [°C].
        more: heat beside that of the parts [J].
    """
    found = _at(vessel, share)
    liquid = at_strength(vessel.alkali, found.strength)
    over = found.solution * mean_capacity(liquid, t) + found.inert * INERT_HEAT_CAPACITY
    return ZERO + (found.heat + more - found.solution * liquid.at_25) / over


def _explain_balance(vessel: Vessel, share: float, t: float, name: str, notes: Notes) -> None:
    """The temperature where all is liquid and nothing has left."""
    found = _at(vessel, share)
    short = name.split(maxsplit=1)[0]
    before = _at(vessel, 0.0).heat
    notes.step(
        f"heat at the {name}",
        "contents + share * solid",
        {"contents": (before / 1000, "kJ"), "share": (share, "1"), "solid": (vessel.heat_added / 1000, "kJ")},
        (found.heat / 1000, "kJ"),
        "sum of what the parts bring; the contents are all but the solid",
    )
    notes.step(
        f"strength at the {name}",
        "(before + share * added) / solution",
        {
            "before": (vessel.hydroxide_before, "kg"),
            "share": (share, "1"),
            "added": (vessel.hydroxide_added, "kg"),
            "solution": (found.solution, "kg"),
        },
        (found.strength, "1"),
        "hydroxide in hydroxide and water",
    )
    heat_of_solution = explain_heat_of_solution(vessel.alkali, found.strength, short, notes)
    capacity = explain_heat_capacity(vessel.alkali, found.strength, t, short, notes)
    notes.step(
        name,
        _BALANCED,
        _inputs(found, found.heat, heat_of_solution, capacity),
        (t, "°C"),
        "balance of enthalpies, nothing lost; the heat capacity is the mean from 25 °C to this temperature, found by "
        "trying",
    )


def _explain_peak(runs: Runs, vessel: Vessel, notes: Notes) -> None:
    """The peak: by the balance where all is liquid, by the boiling point where it boils."""
    found = _at(vessel, runs.peak_at)
    if abs(_balanced(vessel, runs.peak_at, runs.peak) - runs.peak) < AGREES:
        _explain_balance(vessel, runs.peak_at, runs.peak, "peak temperature", notes)
        return
    point = min(runs.plain.path, key=lambda one: abs(one.solid_added_share - runs.peak_at))
    strength = point.liquid_mass_fraction
    if runs.plain.boils and strength is not None:
        strongest = vapour_pressure.HIGHEST_MASS_FRACTION[vessel.alkali]
        boiling = explain_boiling_point(vessel.alkali, min(strength, strongest), notes)
        if abs(boiling - runs.peak) < AGREES:
            notes.step(
                "peak temperature",
                "boiling_point",
                {"boiling_point": (runs.peak, "°C")},
                (runs.peak, "°C"),
                "it boils, so that steam takes what would make it hotter, and the liquid gets stronger",
            )
            return
    notes.step(
        "peak temperature",
        "where the balance with ice or steam closes",
        {"share": (runs.peak_at, "1"), "strength": (found.strength if strength is None else strength, "1")},
        (runs.peak, "°C"),
        "with ice, the liquid lies on the ice line; boiling, on the boiling curve",
    )


def _explain_heat(runs: Runs, notes: Notes) -> None:
    """The heat released, and its half-width."""
    vessel = Vessel(runs.solid.solid, runs.contents, 0.0)
    found = _at(vessel, 1.0)
    liquid = at_strength(vessel.alkali, found.strength)
    notes.step(
        "heat released",
        "stock + bound - solution * enthalpy",
        {
            "stock": (vessel.released_before / 1000, "kJ"),
            "bound": (vessel.bound / 1000, "kJ"),
            "solution": (found.solution, "kg"),
            "enthalpy": (liquid.at_25 / 1000, "kJ/kg"),
        },
        (runs.plain.heat_released / 1000, "kJ"),
        "enthalpies at 25 °C, of an existing stock, of the bound water and of the finished stock (its strength times "
        "the heat of solution)",
    )
    (solid, stock), (dissolving, diluting) = runs.hydroxide_apart, runs.spreads_of_heat
    of_contents = runs.heat_from_contents * of_half_width(runs.solid.purity_spread).standard_uncertainty
    notes.step(
        "half-width of the heat released",
        "k * sqrt(((solid * half_width + in_stock * half_width_of_diluting) / normal_95)**2 + of_contents**2)",
        {
            "solid": (solid, "kg"),
            "half_width": (dissolving / 1000, "kJ/kg"),
            "in_stock": (stock, "kg"),
            "half_width_of_diluting": (diluting / 1000, "kJ/kg"),
            "normal_95": (NORMAL_95, "1"),
            "of_contents": (of_contents / 1000, "kJ"),
            "k": (coverage_factor(runs.heat_spread), "1"),
        },
        (runs.heat_half_width / 1000, "kJ"),
        f"{_BUDGET}; per kilogram of hydroxide, of the solid and of an existing stock, which is dissolved already; "
        "of_contents: the heat at the ends of purity, bound water and strength, less that released, as one standard "
        "uncertainty; k: 95 % coverage",
    )


def _explain_lost(runs: Runs, notes: Notes) -> None:
    """The most heat that is lost."""
    if runs.exchange is None:
        notes.step(
            "heat lost at most",
            "share * heat_released + vessel",
            {
                "share": (UNSTATED_LOSS, "1"),
                "heat_released": (max(runs.plain.heat_released, 0.0) / 1000, "kJ"),
                "vessel": (runs.taken_up / 1000, "kJ"),
            },
            (runs.loss / 1000, "kJ"),
            "common practice, where no duration tells more; vessel: its mass, where it is given, times its heat "
            "capacity, from the room to the peak",
        )
        return
    walls, vapour, vessel = runs.exchange
    notes.step(
        "heat lost at most",
        "walls + vapour + vessel",
        {"walls": (walls / 1000, "kJ"), "vapour": (vapour / 1000, "kJ"), "vessel": (vessel / 1000, "kJ")},
        (runs.loss / 1000, "kJ"),
        "walls: from the peak to the room, cooling by what is lost, one and a half times free convection by "
        "Churchill & Chu 1975, with radiation; vapour: twice that by Lewis 1922, into dry air, with Stefan's flow, "
        "times the heat of evaporation by the slope of the vapour pressure; vessel: its mass times its heat capacity, "
        "or a twentieth of the heat",
    )


def _explain_end(case: Case, run: Bounds, lost: float, name: str, notes: Notes) -> float | None:
    """The peak of a bounding run by its balance; None where it boils or holds ice."""
    t, share = run.peak_temperature, run.peak_share
    if t is None or share is None:
        return None
    vessel = Vessel(case.solid, case.charge, case.shift)
    found = _at(vessel, share)
    liquid = at_strength(vessel.alkali, found.strength)
    released = vessel.released(1.0, vessel.liquid(1.0))
    gone = lost * max(0.0, vessel.released(share, liquid)) / released if released > 0 else 0.0
    spread = case.shift * liquid.half_width(t)
    if abs(_balanced(vessel, share, t, found.solution * spread - gone) - t) > AGREES:
        return None
    heat_of_solution = enthalpy.heat_of_solution(vessel.alkali, found.strength)
    inputs = _inputs(found, found.heat, heat_of_solution, mean_capacity(liquid, t))
    notes.step(
        name,
        "25 + (heat - lost - hydroxide * heat_of_solution + solution * half_width) / "
        "(solution * heat_capacity + inert)",
        inputs | {"lost": (gone / 1000, "kJ"), "half_width": (spread / 1000, "kJ/kg")},
        (t, "°C"),
        "the peak once more, with purity, moisture and an existing stock at the ends of their intervals, and the "
        f"heats off by their half-width at that strength and temperature. {_BUDGET}",
    )
    return t


def _explain_high(runs: Runs, notes: Notes) -> None:
    hottest = _explain_end(runs.hot_case, runs.hot, 0.0, "hottest peak", notes)
    if runs.hot.boils and not runs.beyond_data and runs.hot.peak_temperature is not None:
        capped = runs.hot.peak_temperature
        notes.step(
            "upper end of the peak",
            "max(peak, boiling_point + half_width)",
            {
                "peak": (runs.peak, "°C"),
                "boiling_point": (capped, "°C"),
                "half_width": (runs.cap_spread(runs.hot), "K"),
            },
            (runs.peak_high, "°C"),
            _CAPPED,
        )
        return
    if hottest is None or runs.beyond_data:
        notes.step(
            "upper end of the peak",
            "where the balance with ice or steam closes",
            {"peak": (runs.peak, "°C")},
            (runs.peak_high, "°C"),
            "the run with purity, moisture, stock and heats at their ends",
        )
        return
    boiling = runs.hot.highest_boiling_point
    notes.step(
        "upper end of the peak",
        "max(peak, min(hottest + room, max(boiling_point + half_width, hottest)))",
        {
            "peak": (runs.peak, "°C"),
            "hottest": (hottest, "°C"),
            "room": (runs.gain, "K"),
            "boiling_point": (boiling, "°C"),
            "half_width": (runs.boiling_spread(runs.hot), "K"),
        },
        (runs.peak_high, "°C"),
        "room: the most that a warm room adds; boiling_point: the highest along the hottest path",
    )
    notes.step(
        "boiling margin",
        "least - room",
        {"least": (runs.boiling_margin + runs.gain, "K"), "room": (runs.gain, "K")},
        (runs.boiling_margin, "K"),
        "least of boiling point less its half-width less temperature, along the hottest path",
    )


def _explain_low(runs: Runs, ambient: float, notes: Notes) -> None:
    lost = min(runs.loss, max(runs.plain.heat_released, 0.0))
    coolest = _explain_end(runs.cool_case, runs.cool, lost, "coolest peak", notes)
    if runs.cool.boils and runs.cool.peak_temperature is not None and runs.exchange is None:
        notes.step(
            "lower end of the peak",
            "min(peak, boiling_point - half_width)",
            {
                "peak": (runs.peak, "°C"),
                "boiling_point": (runs.cool.peak_temperature, "°C"),
                "half_width": (runs.cap_spread(runs.cool), "K"),
            },
            (runs.peak_low, "°C"),
            _CAPPED,
        )
        return
    unlost = None if runs.unlost is None else _explain_end(*runs.unlost, 0.0, "coolest peak, no heat lost", notes)
    if coolest is None or runs.cool.boils or (runs.unlost is not None and unlost is None):
        notes.step(
            "lower end of the peak",
            "where the balance with ice or steam closes",
            {"peak": (runs.peak, "°C")},
            (runs.peak_low, "°C"),
            "the run with purity, moisture, stock and heats at their ends and the most heat lost",
        )
        return
    inputs = {"peak": (runs.peak, "°C"), "coolest": (coolest, "°C")}
    notes.step(
        "lower end of the peak",
        "min(peak, coolest)" if unlost is None else "max(min(peak, coolest), min(peak, ambient, unlost))",
        inputs if unlost is None else inputs | {"ambient": (ambient, "°C"), "unlost": (unlost, "°C")},
        (runs.peak_low, "°C"),
        "however long it takes, losing heat makes nothing colder than the room",
    )
