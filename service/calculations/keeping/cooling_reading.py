"""What a cooling starts from, from the request to the chemistry, and what of it is refused."""

import math
from typing import Annotated, ClassVar, Final, Literal, NamedTuple

from msgspec import Meta

from service.calculations.keeping.cooling_losses import FAN, Lost, loss_of
from service.calculations.keeping.cooling_readings import (
    NEAREST,
    CoolingReading,
    Told,
    check_readings,
    fit_readings,
)
from service.calculations.keeping.cooling_runs import Around, Run, resting_temperature
from service.calculations.keeping.vessel_contents import Contents
from service.calculations.keeping.warming_reading import (
    COLDEST_ROOM,
    HOTTEST_ROOM,
    amount,
    check_it_fits,
    check_wall,
    vessel_heat,
)
from service.calculations.mixing.vessels import KnownVessel, find_vessel
from service.calculations.shared.given import PlainMass, Speed, Temperature
from service.calculations.shared.messages import Solution, Vessel
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import NeverWith, Rule, Ruled
from service.calculations.stock.solutions import ROOM, Found, mass_fraction
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import first_solid
from service.chemistry.ranges import ROUNDING
from service.chemistry.standing_loss import Range
from service.chemistry.uncertainty import Combined, coverage_half_width
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width
from service.chemistry.water import heat_capacity

TAP: Final = 15.0
"""Temperature of a bath of tap water that nobody measured [°C] (common practice)."""
HOTTEST_BATH: Final = 60.0
HOTTEST_ICE: Final = 3.0
"""Temperatures [°C] of a bath beyond which a slip is likelier, and of one that still holds ice."""
MEDIA: Final = {"still-air": "still air", "moving-air": "moving air", "water-bath": "a bath", "ice-bath": "a bath"}


class Surroundings(Ruled, kw_only=True):
    """What the vessel stands in."""

    medium: Annotated[
        Literal["still-air", "moving-air", "water-bath", "ice-bath"],
        Meta(
            description="Air of a room, air that blows on the vessel, or water, with or without ice, up to the level "
            "of the stock."
        ),
    ]
    temperature: (
        Annotated[
            Temperature,
            Meta(
                description="Of the air, or of the bath at the start. Default: air 20 °C, tap water 15 °C, ice 0 °C.",
                examples=["20 °C"],
            ),
        ]
        | None
    ) = None
    air_speed: (
        Annotated[
            Speed, Meta(description="Of moving air, at the vessel; default 2 m/s, 0.5 to 4 m/s.", examples=["2 m/s"])
        ]
        | None
    ) = None
    bath_mass: (
        Annotated[
            PlainMass,
            Meta(
                description="Water in a bath that is not changed, so that it warms; without it the bath stays at its "
                "temperature."
            ),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (
        NeverWith(
            "bath_mass",
            ("air_speed",),
            "a speed is that of air, and a mass that of a bath",
            "keep the one that belongs to the medium",
        ),
    )


class Asked(NamedTuple):
    """What a request holds."""

    solution: Solution
    vessel: Vessel
    surroundings: Surroundings
    target: Temperature
    readings: list[CoolingReading] | None


class Read(NamedTuple):
    """A cooling that has been reckoned."""

    run: Run
    vessel: KnownVessel
    volume: float
    """Of the stock at the start [m3]."""
    lost: Lost | None
    """By correlations; None by readings."""
    told: Told | None
    """By readings."""


def read_cooling(asked: Asked, notes: Notes) -> Read:
    """The cooling that a request asks for.

    Raises:
        Refusal: it cannot be, or nothing is known of it.
    """
    around = _around(asked, notes)
    start = _start(asked, notes)
    vessel = find_vessel(asked.vessel, notes)
    found = mass_fraction(asked.solution.strength, asked.solution.alkali, notes, "/solution/strength")
    if found is not None:
        _check_start(asked, found, start, notes)
        _check_target(asked, found, start, around, notes)
    check_wall(asked.vessel, notes)
    notes.stop_at_faults()
    if vessel is None or found is None or start is None:
        raise TypeError(found)  # what is missing is a fault, and faults have stopped us
    mass, volume = amount(asked.solution, found.mass_fraction, start, notes)
    notes.stop_at_faults()
    check_it_fits(vessel, volume, notes)
    contents = Contents(
        asked.solution.alkali, found.mass_fraction, coverage_half_width(found.spread), mass, start, crystallised=False
    )
    if asked.readings is not None:
        check_readings(asked.readings, contents, around, notes)
        notes.stop_at_faults()
    heat = vessel_heat(contents, vessel, notes)
    _check_bath(asked, contents, heat[0], around, notes)
    try:
        return _reckoned(asked, contents, (vessel, heat), volume, around, notes=notes)
    except OutOfRange:
        raise notes.refuse(
            "/vessel",
            "beyond-data",
            f"no published correlation reaches a vessel of such a size in {MEDIA[around.medium]}",
            "check the sizes and their units, or give readings of your own",
        ) from None


def _reckoned(
    asked: Asked, contents: Contents, held: tuple[KnownVessel, Range], volume: float, around: Around, *, notes: Notes
) -> Read:
    vessel, heat = held
    target = asked.target.value
    if asked.readings is not None:
        told = fit_readings(asked.readings, contents, around, heat, notes)
        if asked.vessel.lid is None:
            notes.assume("/vessel/lid", "no lid", "an open vessel loses more")
        loss = told.loss(contents, around, is_open=not asked.vessel.lid)
        left = told.leave(contents, heat[0], asked.readings[-1], from_last=asked.solution.temperature is None)
        return Read(Run(contents, target, around, heat, loss, by_readings=left), vessel, volume, None, told)
    lost = loss_of(contents, vessel, volume, around, speed=_speed(asked, notes), notes=notes)
    return Read(Run(contents, target, around, heat, lost.loss), vessel, volume, lost, None)


def _around(asked: Asked, notes: Notes) -> Around:
    given = asked.surroundings
    medium, at = given.medium, "/surroundings/temperature"
    air = medium in {"still-air", "moving-air"}
    t = given.temperature.value if given.temperature is not None else _assumed_temperature(medium, notes)
    if air and not COLDEST_ROOM <= t <= HOTTEST_ROOM:
        notes.fault(
            at,
            "out-of-range",
            f"air of {t:.4g} °C is not where a stock is cooled",
            f"give {COLDEST_ROOM:g} to {HOTTEST_ROOM:g} °C, and check the unit",
        )
    elif medium == "water-bath" and not 0.0 <= t <= HOTTEST_BATH:
        notes.fault(
            at,
            "out-of-range",
            f"water of {t:.4g} °C is no bath to cool in",
            f"give 0 to {HOTTEST_BATH:g} °C, and check the unit",
        )
    elif medium == "ice-bath" and not 0.0 <= t <= HOTTEST_ICE:
        notes.fault(
            at,
            "impossible-temperature",
            f"a bath of {t:.4g} °C is not one of ice and water, which has about 0 °C",
            "leave it out, or say that it is a water-bath; ice with salt is not reckoned with",
        )
    return Around(medium, t, _bath_capacity(asked, notes, t))


def _assumed_temperature(medium: str, notes: Notes) -> float:
    t, why = {
        "water-bath": (TAP, "cold tap water; measure it, since it has 5 to 25 °C"),
        "ice-bath": (0.0, "ice and water side by side"),
    }.get(medium, (ROOM, "a workshop's room"))
    notes.assume("/surroundings/temperature", f"{t:g} °C", why)
    return t


def _bath_capacity(asked: Asked, notes: Notes, t: float) -> float:
    """Heat that the bath takes up per kelvin [J/K]; infinite where it stays as it is."""
    given, at = asked.surroundings, "/surroundings/bath_mass"
    if given.air_speed is not None and given.medium != "moving-air":
        notes.fault(
            "/surroundings/air_speed",
            "contradiction",
            f"a speed of the air says nothing of {given.medium}",
            "leave it out, or say that the medium is moving-air",
        )
    elif given.air_speed is not None and asked.readings is not None:
        notes.fault(
            "/surroundings/air_speed",
            "contradiction",
            "with readings the loss is what they tell, whatever the speed of the air",
            "leave air_speed out, or leave readings out",
        )
    if given.bath_mass is None:
        if given.medium == "water-bath":
            notes.assume(at, "a bath that stays at its temperature", "running water, or much of it")
        return float("inf")
    if given.medium != "water-bath":
        notes.fault(
            at,
            "contradiction",
            f"only a water-bath is reckoned to warm, and this is {given.medium}",
            "leave it out; how much ice melts is answered",
        )
    elif asked.readings is not None:
        notes.fault(
            at,
            "contradiction",
            "with readings the bath is taken to stay at its temperature",
            "leave bath_mass out, or leave readings out",
        )
    return given.bath_mass.value * heat_capacity(min(max(t, 0.0), HOTTEST_BATH))


def _start(asked: Asked, notes: Notes) -> float | None:
    """How hot the stock is; a fault where nothing tells, since the time from an assumed heat would be any time."""
    at = "/solution/temperature"
    if asked.solution.temperature is not None:
        return asked.solution.temperature.value
    if asked.readings:
        t = asked.readings[-1].temperature.value
        notes.assume(at, "that of the last reading", "time counts from then on")
        return t
    notes.fault(
        at,
        "temperature-needed",
        "neither how hot the stock is now is given, nor readings of it, and the time counts from there",
        "give the temperature that the stock has now",
    )
    return None


def _check_start(asked: Asked, found: Found, start: float | None, notes: Notes) -> None:
    alkali, w, at = asked.solution.alkali, found.mass_fraction, "/solution/temperature"
    boiling, half_width = boiling_point(alkali, w), boiling_point_half_width(alkali, w)
    if asked.solution.state == "ice":
        notes.fault(
            "/solution/state",
            "contradiction",
            "ice is not cooled like a stock",
            "leave state out, or melt the ice first",
        )
    elif asked.solution.state is None and w == 0:
        notes.assume("/solution/state", "liquid", "only water may be ice, and ice is not cooled here")
    if start is not None and start > boiling + half_width:
        notes.fault(
            at,
            "impossible-temperature",
            f"this stock boils at about {boiling:.0f} °C, and is said to have {start:.4g} °C",
            "check the number and its unit",
        )


def _check_target(asked: Asked, found: Found, start: float | None, around: Around, notes: Notes) -> None:
    """Refuse what needs no cooling, what cooling does not reach, and what is no liquid."""
    target, at = asked.target.value, "/target_temperature"
    first = first_solid(asked.solution.alkali, found.mass_fraction)
    if start is not None and target > start - NEAREST:
        notes.fault(
            at,
            "contradiction",
            f"the stock has {start:.4g} °C, and is to cool to {target:.4g} °C",
            "give a target below the temperature of the solution",
        )
    elif target < around.temperature + NEAREST:
        notes.fault(
            at,
            "contradiction",
            f"nothing gets colder than what it stands in, and that has {around.temperature:.4g} °C; the target is "
            f"{target:.4g} °C",
            "give a target above it, or take colder surroundings",
        )
    elif target < first.temperature:
        notes.fault(
            at,
            "beyond-data",
            f"from {first.temperature:.1f} °C a stock of {percent(found.mass_fraction)} {asked.solution.alkali} forms "
            f"crystals ({first.name}), and this is reckoned for liquid alone",
            f"give {math.ceil(first.high * 10.0 - ROUNDING) / 10.0:.1f} °C or more, where it is sure to stay liquid",
        )


def _check_bath(asked: Asked, contents: Contents, vessel: float, around: Around, notes: Notes) -> None:
    """Refuse a bath that gets warmer than the target."""
    if asked.surroundings.bath_mass is None:
        return
    rest = resting_temperature(contents, vessel, around)
    if asked.target.value < rest + NEAREST:
        raise notes.refuse(
            "/target_temperature",
            "contradiction",
            f"stock and bath come to rest at {rest:.3g} °C, and the target is {asked.target.value:.4g} °C",
            "take more or colder water, change it on the way, or put ice in it",
        )


def _speed(asked: Asked, notes: Notes) -> Range | None:
    given = asked.surroundings
    if given.medium != "moving-air":
        return None
    if given.air_speed is None:
        notes.assume("/surroundings/air_speed", "2 m/s, 0.5 to 4 m/s", "a table fan some way off")
        return FAN
    value, half_width = given.air_speed.value, coverage_half_width(Combined(*part_of(given.air_speed)))
    return value, max(value - half_width, value / 10.0), value + half_width
