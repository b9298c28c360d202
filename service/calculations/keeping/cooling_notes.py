"""What a cooling says beside its numbers: cautions of heat, bath, lid, vessel and crystals."""

from typing import Final

from service.calculations.keeping.cooling_losses import evaporated
from service.calculations.keeping.cooling_reading import Read
from service.calculations.keeping.cooling_runs import Run
from service.calculations.keeping.warming_notes import STEAMS
from service.calculations.mixing.vessel_notes import (
    CLOSE_TO_LIMIT,
    NO_MARGIN,
    SUDDEN,
    caution_recalled_limit,
    caution_suitability,
    caution_unknown_limit,
    harm,
    near_limit,
)
from service.calculations.mixing.vessels import KnownVessel
from service.calculations.shared.cautions import caution, degrees
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.standing_cautions import METALS
from service.calculations.shared.thresholds import above, below, beyond, short_of
from service.calculations.stock.stock_heat import CLOSE_TO_BOILING, FLASHES, HOT
from service.chemistry import viscosity

BURNS_AT_A_TOUCH: Final = 48.0
"""Temperature [°C] from which a vessel burns the hand that holds it for ten minutes (ISO 13732-1, from memory)."""
BATH_MAY_WARM: Final = 5.0
"""By how much a bath is let get warmer in the rule that is told [K] (common practice)."""
TELLING: Final = 1e-3
"""Share of a stock that has to dry off before it is told: less does not bear on its strength (a choice)."""
WATER: Final = 4180.0
"""Heat capacity of water near room temperature [J/(kg K)] (seen-secondary: IAPWS R7-97(2012))."""

LAYERS: Final = caution(
    "cooling-unstirred",
    "This is reckoned for a stock of one temperature. Unstirred it lies in layers, the top cooler than the core: stir "
    "gently with a caustic-proof rod before each reading, and not at all while it steams.",
)
BATH: Final = caution(
    "bath-into-stock",
    "Never let water or ice of the bath get into hot caustic: it boils up and spatters. Keep the rim well above the "
    "water and the vessel weighted or held, since a light one floats and tips, and dry it before it is poured from.",
)


def caution_cooling(read: Read, notes: Notes) -> None:
    """Everything the person at the vessel should know.

    Args:
        read: the cooling.
        notes: where the cautions go.
    """
    run, vessel = read.run, read.vessel
    notes.tell(METALS, LAYERS)
    _heat(run, vessel, notes)
    _lid(read, notes)
    if run.around.medium in {"water-bath", "ice-bath"}:
        _bath(read, notes)
    _material(run, vessel, notes)
    _limit(run, vessel, notes)
    _crystals(run, notes)
    _readings(read, notes)
    if not run.surely_reached:
        notes.caution(
            "target-not-sure",
            "With the most heat that may be in it, this bath gets as warm as the target, so the time has no ends: take "
            "more or colder water.",
        )


def _heat(run: Run, vessel: KnownVessel, notes: Notes) -> None:
    """What hot caustic does, at the start and at the end."""
    start = run.contents.temperature
    margin = run.boiling - run.boiling_half_width - start
    if below(margin, CLOSE_TO_BOILING):
        notes.caution(
            "boiling-margin-small",
            (
                f"It starts {degrees(margin, 1, apart=True)} from boiling, which altitude or a weather low use up: "
                if margin > NO_MARGIN
                else f"At {degrees(start)}, where it starts, it may boil: "
            )
            + "leave it where it is, uncovered, until it has stopped steaming, and do not stir or move it.",
        )
    if above(start, BURNS_AT_A_TOUCH):
        notes.caution(
            "hot-vessel",
            f"The vessel is about as hot as its stock, {degrees(start)}: it burns the hand that steadies it, and a "
            "start spills caustic. Do not carry it: cool it where it stands, and touch it only with heat-proof gloves.",
        )
    if above(start, STEAMS) and not vessel.given.lid:
        fan = run.around.medium == "moving-air"
        notes.caution(
            "caustic-mist",
            f"At {degrees(start)} caustic steams, and its mist carries caustic (limit 2 mg/m3): "
            + (
                "blow at the wall of the vessel, not over its surface, and away from people."
                if fan
                else "cool it under an extractor or in the open, and keep your face away."
            ),
        )
    if beyond(run.target, HOT):
        notes.caution(
            "stock-hot",
            f"Stock of {degrees(run.target)} is still too hot to meet fats, milk or other liquids: let it cool to "
            f"{degrees(HOT)} or less.",
            "danger" if above(run.target, FLASHES) else None,
        )


def _lid(read: Read, notes: Notes) -> None:
    run, vessel = read.run, read.vessel
    start = run.contents.temperature
    if not vessel.given.lid:
        notes.caution(
            "uncovered-while-cooling",
            f"Open, a hot stock loses water{_water(read)}, which makes it stronger, and takes up carbon dioxide, "
            "which makes it weaker: cover it loosely, out of the reach of children and animals, and assay it when it "
            "is cool.",
            None if above(start, STEAMS) else "note",
        )
    elif above(start, HOT):
        shrinks = 1.0 - (run.target + 273.15) / (start + 273.15)
        notes.caution(
            "close-when-cool",
            f"Do not seal it at {degrees(start)}: it is under pressure first; cooled, its air has shrunk by "
            f"{percent(shrinks, 0)} and its vapour is gone, and the vacuum folds a jug in. Lay the lid on loosely.",
        )


def _water(read: Read) -> str:
    """How much water it loses, where that is known and bears on the strength."""
    mass = 0.0 if read.lost is None else evaporated(read.lost, read.run)
    if mass < TELLING * read.run.contents.mass:
        return ""
    return f" (about {weight(mass)} until it is cool, at most twice that)"


def _bath(read: Read, notes: Notes) -> None:
    run, vessel = read.run, read.vessel
    notes.tell(BATH)
    apart = run.contents.temperature - run.around.temperature
    if "thermal-shock" in vessel.material.hazards and above(apart, SUDDEN):
        name = vessel.material.name[0].upper() + vessel.material.name[1:]
        notes.caution(
            "glass-may-crack",
            f"{name} may crack in a bath that is colder by {degrees(apart, apart=True)}, more than the "
            f"{degrees(SUDDEN, apart=True)} that common glass is rated to (from memory), and let go of the caustic: "
            "let it cool in air first.",
            None if vessel.material.suitable == "no" else "caution",
        )
    heat = run.heat[2]
    if run.around.medium == "ice-bath":
        notes.caution(
            "ice-bath-melts",
            f"Up to {weight(run.ice_melted[2], 'up')} of ice melt until it is cool, and more for what the room brings "
            "in: have that much in the bath, with water between the pieces, and stir the bath now and then.",
        )
    elif run.around.capacity == float("inf"):
        notes.caution(
            "bath-warms",
            f"The bath is taken to stay at {degrees(run.around.temperature)}. The stock gives off up to "
            f"{heat / 1000:.3g} kJ, which warms {weight(heat / WATER / BATH_MAY_WARM, 'up')} of water by "
            f"{degrees(BATH_MAY_WARM, apart=True)}: take so much, let it run, or give bath_mass.",
        )
    else:
        notes.caution(
            "bath-warms",
            f"The bath itself warms from {degrees(run.around.temperature)} to about {degrees(run.value.baths[-1])}. "
            "Changed on the way, it cools sooner than this.",
            "note",
        )
    lowest, highest = viscosity.RANGE[run.contents.alkali]
    if read.lost is not None and (above(run.contents.temperature, highest) or below(run.around.temperature, lowest)):
        notes.caution(
            "beyond-source-range",
            f"The viscosity of the stock, which slows its flow along the wall, is known from {degrees(lowest)} to "
            f"{degrees(highest)}; beyond, that at the nearer end is taken. The interval allows for it.",
            "note",
        )


def _material(run: Run, vessel: KnownVessel, notes: Notes) -> None:
    material = vessel.material
    caution_suitability(vessel, notes)
    if "hydrogen" in material.hazards:
        closed = " Never close it." if vessel.given.lid else ""
        notes.caution(
            "hydrogen",
            f"In caustic {material.name} gives off hydrogen, which a spark or flame ignites (from about 4 % in air, "
            f"from memory), and it heats as it dissolves, so that it does not cool like this.{closed} No flame, no "
            "switch, air, and keep away.",
        )


def _limit(run: Run, vessel: KnownVessel, notes: Notes) -> None:
    """What the vessel stands, at the start."""
    material, w, start = vessel.material, run.contents.w, run.contents.temperature
    limit = vessel.limit(w)
    if limit is None:
        caution_unknown_limit(vessel, w, notes)
        return
    margin = limit - start
    if beyond(start, limit):
        notes.caution(
            "vessel-limit-exceeded",
            f"It starts at {degrees(start)}, and the limit of {material.name} with such a stock is {degrees(limit)}: "
            f"{harm(material.id)}. Do not lift or move it, put up around it what holds all of it if it gives way, keep "
            "people off, and cool it at once where it stands.",
        )
    elif below(margin, CLOSE_TO_LIMIT):
        notes.caution(
            "vessel-limit-near",
            f"It starts {near_limit(vessel, limit, start)}: do not lift or move it until it has cooled.",
        )
    caution_recalled_limit(vessel, (w, limit), notes, near=below(margin, CLOSE_TO_LIMIT))


def _crystals(run: Run, notes: Notes) -> None:
    """What cold surroundings do to the stock."""
    first, around = run.first, run.around
    if not short_of(min(run.target, around.temperature), first.high):
        return
    if first.evidence in {"memory", "mixed"}:
        notes.caution(
            "figure-from-memory", "The temperature of the first solid rests on figures from memory here.", "note"
        )
    if short_of(run.target, first.high):
        notes.caution(
            "crystals-in-solution",
            f"At {degrees(run.target, 1)} this stock may hold crystals (from {degrees(first.temperature, 1)}, at most "
            f"{degrees(first.high, 1)}): they hold the cooling up, and what is drawn has another strength. Stop at "
            "more than that.",
        )
    if short_of(around.temperature, first.high):
        verb = "sets" if below(around.temperature, first.low) else "may set"
        notes.caution(
            "crystallises-in-store",
            f"Left in surroundings of {degrees(around.temperature)} this stock {verb} ({first.name}, from "
            f"{degrees(first.temperature, 1)}), first at the wall, while its middle is still warm: stir, and take "
            "it out in time.",
        )


def _lasting(seconds: float) -> str:
    """A time for a message, to two figures."""
    for unit, size in (("s", 1.0), ("min", 60.0)):
        if seconds < 100.0 * size:
            return f"{seconds / size:.2g} {unit}"
    return f"{seconds / 3600.0:.3g} h"


def _readings(read: Read, notes: Notes) -> None:
    run, told = read.run, read.told
    if told is None:
        return
    start = 0.0 if run.by_readings is None else run.by_readings.start
    if start:
        per_kelvin = run.value.times[0] / (run.temperatures[0] - run.temperatures[1])
        notes.caution(
            "time-from-last-reading",
            f"The time counts from the last reading, {degrees(run.temperatures[0], 1)}: "
            f"{degrees(start, 1, apart=True)} in that one alone are {_lasting(start * per_kelvin)}. Stir before it, "
            "take it twice, and give how good the thermometer is, as in "
            '{"value": 46, "uncertainty": 0.3, "unit": "°C"}.',
        )
    warmest, coldest = max(told.temperatures), min(told.temperatures)
    if below(run.target, coldest - 1.0) or above(run.contents.temperature, warmest + 1.0):
        notes.caution(
            "coefficient-extrapolated",
            f"The heat-loss coefficient was read between {degrees(warmest)} and {degrees(coldest)}. Colder, a vessel "
            "loses less for each kelvin, hotter more: the interval allows for that; another reading on the way tells "
            "it better.",
        )
