"""What a warming starts from, from the request to the chemistry, and what of it is refused."""

from typing import Final, NamedTuple

from service.calculations.keeping.vessel_contents import Contents
from service.calculations.keeping.warming_losses import losses
from service.calculations.keeping.warming_runs import Heater, Held, Run
from service.calculations.mixing.mixing_contents import plain_degrees
from service.calculations.mixing.vessels import UNSTATED_SHARE, KnownVessel, find_vessel
from service.calculations.shared.cautions import degrees
from service.calculations.shared.given import Efficiency, Power, Temperature
from service.calculations.shared.messages import Solution, Vessel
from service.calculations.shared.notes import Notes, litres, percent
from service.calculations.stock.solutions import ROOM, Found, mass_fraction
from service.chemistry import density
from service.chemistry.enthalpy import at_strength
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import first_solid
from service.chemistry.ranges import ROUNDING
from service.chemistry.standing_loss import Range
from service.chemistry.thawing import COLDEST
from service.chemistry.uncertainty import coverage_half_width
from service.chemistry.vapour_pressure import boiling_point

HOTTEST_ROOM: Final = 60.0
COLDEST_ROOM: Final = -40.0
"""Temperatures [°C] of the air beyond which a slip is likelier than such a room."""
KILOWATT: Final = 999.5
"""Power [W] from which three figures read as kilowatts: rounded, it has four figures before the point."""
THICKEST_WALL: Final = 0.1
"""Thickness [m] of a wall beyond which a slip is likelier: 5 cm said as 50 cm, or millimetres as metres."""


class Asked(NamedTuple):
    """What a request holds."""

    solution: Solution
    vessel: Vessel
    heater_power: Power
    target: Temperature
    ambient: Temperature | None
    efficiency: Efficiency | None
    crystallised: bool | None


class Read(NamedTuple):
    """A warming that has been reckoned."""

    run: Run
    vessel: KnownVessel
    volume: float
    """Of the stock, as cold as it is [m3]."""


def read_warming(asked: Asked, notes: Notes) -> Read:
    """The warming that a request asks for.

    Raises:
        Refusal: it cannot be, or nothing is known of it.
    """
    ambient = _ambient(asked, notes)
    start = _start(asked, ambient, notes)
    vessel = find_vessel(asked.vessel, notes)
    found = mass_fraction(asked.solution.strength, asked.solution.alkali, notes, "/solution/strength")
    efficiency = _efficiency(asked, notes)
    check_wall(asked.vessel, notes)
    if found is not None:
        _check_start(asked, found, start, notes)
        if vessel is not None:
            _check_target(asked, vessel, found.mass_fraction, (start, ambient), notes)
    notes.stop_at_faults()
    if vessel is None or found is None:
        raise TypeError(found)  # what is missing is a fault, and faults have stopped us
    target = asked.target.value
    mass, volume = amount(asked.solution, found.mass_fraction, start, notes)
    notes.stop_at_faults()
    check_it_fits(vessel, volume, notes)
    contents = Contents(
        asked.solution.alkali,
        found.mass_fraction,
        coverage_half_width(found.spread),
        mass,
        start,
        asked.crystallised,
    )
    heater = Heater(asked.heater_power.value, efficiency)
    held = Held(vessel_heat(contents, vessel, notes), losses(contents, vessel, volume, ambient, notes), ambient)
    run = Run(contents, heater, target, held)
    _check_power(run, notes)
    if run.frozen.solids and asked.crystallised is None:
        notes.assume(
            "/crystallised",
            "at rest with its crystals",
            "it is colder than its first solid; the lower ends are those of a stock still liquid",
        )
    return Read(run, vessel, volume)


def _ambient(asked: Asked, notes: Notes) -> float:
    if asked.ambient is None:
        notes.assume("/ambient", "20 °C", "a workshop's room")
        return ROOM
    t = asked.ambient.value
    if not _is_room(t):
        notes.fault(
            "/ambient",
            "out-of-range",
            f"air of {t:.4g} °C is not the room of a workshop",
            f"give {COLDEST_ROOM:g} to {HOTTEST_ROOM:g} °C, and check the unit",
        )
    return t


def _is_room(t: float) -> bool:
    return COLDEST_ROOM <= t <= HOTTEST_ROOM


def _start(asked: Asked, ambient: float, notes: Notes) -> float:
    """How warm the stock is: as its room where nobody says so."""
    if asked.solution.temperature is not None:
        return asked.solution.temperature.value
    if asked.ambient is None:
        notes.assume("/solution/temperature", plain_degrees(ROOM), "a stock that has stood in a workshop's room")
        return ROOM
    notes.assume("/solution/temperature", plain_degrees(ambient), "the ambient temperature")
    return ambient if _is_room(ambient) else ROOM


def _efficiency(asked: Asked, notes: Notes) -> float:
    if asked.efficiency is None:
        notes.assume(
            "/efficiency", "100 %", "a heater that is all in the liquid; of one on the outside less reaches it"
        )
        return 1.0
    return asked.efficiency.value


def _check_start(asked: Asked, found: Found, start: float, notes: Notes) -> None:
    alkali, w = asked.solution.alkali, found.mass_fraction
    told = asked.solution.temperature is not None
    at, its = ("/solution/temperature", "") if told else ("/ambient", " as the temperature of the solution")
    if asked.solution.state == "ice":
        notes.fault(
            "/solution/state",
            "contradiction",
            "this is for stock; ice alone is not warmed by a heater in the liquid",
            "leave state out, or melt the ice first",
        )
    elif asked.solution.state is None and w == 0:
        notes.assume("/solution/state", "liquid", "only water may be ice, and ice is not warmed here")
    if start < COLDEST:
        notes.fault(
            at,
            "beyond-data",
            f"no heats are known of a stock of {start:.4g} °C",
            f"give {COLDEST:g} °C or more{its}, and check the unit",
        )
    elif w == 0 and start < 0:
        notes.fault(at, "impossible-temperature", f"water of {start:.4g} °C is ice", f"give 0 °C or more{its}")
    elif start > (boiling := boiling_point(alkali, w)):
        notes.fault(
            at,
            "impossible-temperature",
            f"this stock boils at about {boiling:.0f} °C, and is said to have {start:.4g} °C",
            "check the number and its unit",
        )
    elif asked.crystallised and start >= (first := first_solid(alkali, w)).high:
        notes.fault(
            "/crystallised",
            "contradiction",
            f"above {first.high:.1f} °C a stock of {percent(w)} {alkali} holds no crystals, and it has {start:.4g} °C",
            "check strength and temperature, or leave crystallised out",
        )


def _check_target(asked: Asked, vessel: KnownVessel, w: float, room: tuple[float, float], notes: Notes) -> None:
    """Refuse a temperature that needs no heater, or that stock or vessel do not stand."""
    target, at, (start, ambient) = asked.target.value, "/target_temperature", room
    boiling = boiling_point(asked.solution.alkali, w)
    limit = vessel.limit(w)
    if target >= boiling:
        notes.fault(
            at,
            "impossible-temperature",
            f"this stock boils at about {boiling:.0f} °C, and is to get {target:.4g} °C",
            "give less, with room below boiling",
        )
    elif limit is not None and target > limit + ROUNDING:
        notes.fault(
            at,
            "too-hot-for-vessel",
            f"the limit of {vessel.material.name} with {percent(w)} {asked.solution.alkali} is {degrees(limit)}, and "
            f"the target is {degrees(target)}",
            "give less, or take a vessel that stands it",
        )
    elif target <= start + ROUNDING:
        notes.fault(
            at,
            "contradiction",
            f"the stock has {start:.4g} °C already, and is to be warmed to {target:.4g} °C",
            "give a target above the temperature of the solution",
        )
    elif _is_room(ambient) and target <= ambient + ROUNDING:
        notes.fault(
            at,
            "contradiction",
            f"the room has {ambient:.4g} °C, and warms the stock to {target:.4g} °C without any heater",
            "give a target above ambient, or compare the two",
        )


def check_wall(vessel: Vessel, notes: Notes) -> None:
    """Note a wall thicker than those of vessels.

    Args:
        vessel: the vessel as it was given.
        notes: where the fault goes.
    """
    thick = vessel.wall_thickness
    if thick is not None and thick.value > THICKEST_WALL + ROUNDING:
        notes.fault(
            "/vessel/wall_thickness",
            "out-of-range",
            f"a wall of {thick.value * 1000:.4g} mm is thicker than that of any vessel for stock",
            f"give {THICKEST_WALL * 1000:g} mm or less, and check the unit",
        )


def check_it_fits(vessel: KnownVessel, volume: float, notes: Notes) -> None:
    """Refuse more stock than the vessel holds.

    Args:
        vessel: the vessel.
        volume: of the stock [m3].
        notes: where the fault goes.

    Raises:
        Refusal: it does not fit.
    """
    holds = vessel.volume
    if holds is not None and volume > holds * (1 + ROUNDING):
        notes.fault(
            "/vessel",
            "does-not-add-up",
            f"the stock takes {litres(volume, 'up')}, and the vessel holds {litres(holds, 'down')}",
            "compare the amount of the stock with the size of the vessel",
        )
        notes.stop_at_faults()


def amount(solution: Solution, w: float, start: float, notes: Notes) -> tuple[float, float]:
    """Mass [kg] and volume [m3] of a stock.

    Args:
        solution: the stock.
        w: its strength.
        start: its temperature [°C].
        notes: where a fault goes.
    """
    alkali = solution.alkali
    try:
        rho = density.density(alkali, w, start)
    except OutOfRange:
        if solution.mass is None:
            notes.fault(
                "/solution/volume",
                "beyond-data",
                f"the density of {percent(w)} {alkali} at {start:.4g} °C is not known",
                "give the mass instead",
            )
            return 0.0, 0.0
        rho = density.density(alkali, w, min(max(start, 0.0), density.HIGHEST_TEMPERATURE[alkali]))
    if solution.mass is not None:
        return solution.mass.value, solution.mass.value / rho
    volume = 0.0 if solution.volume is None else solution.volume.value
    return volume * rho, volume


def vessel_heat(contents: Contents, vessel: KnownVessel, notes: Notes) -> Range:
    """Heat capacity of the vessel [J/K].

    Args:
        contents: what it holds.
        vessel: the vessel.
        notes: where an assumption goes.
    """
    if vessel.given.mass is not None:
        capacity, mass = vessel.material.heat_capacity, vessel.given.mass.value
        return mass * capacity.middle, mass * capacity.low, mass * capacity.high
    notes.assume(
        "/vessel/mass", "a vessel that takes up 2.5 % of the heat, 0 to 5 %", "60 g of plastic per kg take 3.4 %"
    )
    most = UNSTATED_SHARE * contents.mass * at_strength(contents.alkali, contents.w).heat_capacity(ROOM)
    return most / 2, 0.0, most


def _check_power(run: Run, notes: Notes) -> None:
    """Refuse a heater that does not get there."""
    if run.value.reached:
        return
    needed = run.loss(run.target)[0] / run.heater.efficiency
    steady = run.steady()
    gets = run.ambient if steady is None else steady[0]
    raise notes.refuse(
        "/heater_power",
        "heater-too-weak",
        f"at {degrees(run.target)} the vessel loses more than the {watts(run.heater.given)} that reach the stock: it "
        f"would get no warmer than {degrees(gets)}",
        f"take a heater of much more than {watts(needed)}, insulate the vessel, or put a lid on it",
    )


def watts(power: float) -> str:
    """A power for a message, to three figures.

    Args:
        power: the power [W].
    """
    return f"{power / 1000:.3g} kW" if power >= KILOWATT else f"{power:.3g} W"
