"""What a warming says beside its numbers: cautions of heater, vessel, heat and crystals."""

from typing import Final

from service.calculations.keeping.warming_reading import Read, watts
from service.calculations.keeping.warming_runs import Run
from service.calculations.mixing.vessel_notes import (
    CLOSE_TO_LIMIT,
    NO_MARGIN,
    SUDDEN,
    caution_recalled_limit,
    caution_suitability,
    caution_unknown_limit,
    near_limit,
)
from service.calculations.mixing.vessels import KnownVessel
from service.calculations.shared.cautions import caution, degrees
from service.calculations.shared.notes import Notes, litres, percent
from service.calculations.shared.standing_cautions import METALS
from service.calculations.shared.thresholds import above, below, beyond, short_of
from service.calculations.stock.stock_heat import CLOSE_TO_BOILING, FLASHES, HOT
from service.chemistry import density
from service.chemistry.heat_loss import disc_area
from service.chemistry.standing_loss import Range

STEAMS: Final = 50.0
"""Temperature [°C] above which caustic is taken to steam (common practice)."""
FULL: Final = 0.97
"""Share of a vessel beyond which warm stock is taken to run over when it is stirred [-] (common practice)."""
MANY_TIMES: Final = 3.0
"""Upper end of a heat over its value, from which the value says little and no share of it is told [-]."""
SHALLOW: Final = 1.5
"""Stock over the dead volume, below which a heater is taken to be near the surface [-] (common practice)."""

CONTROL: Final = caution(
    "heater-control",
    "Use a thermostat with its sensor in the liquid, and beside it a cut-out of its own that has to be reset by hand, "
    "on a circuit with earth-leakage protection. No naked flame. Over night, or where nobody is near, never without "
    "all of these and a level switch.",
)
SHEATH: Final = caution(
    "heater-sheath",
    "The heater's sheath must be nickel, nickel alloy or PTFE, or stainless steel while it stays below its limit: "
    "never aluminium, zinc, galvanised or tinned metal, copper or brass. Glass sheaths are etched and break.",
)
SURFACE: Final = caution(
    "heater-surface-hot",
    "At the heater's surface the liquid is much hotter than its mean, above all where it stands still or among "
    "crystals: it can boil there, spatter, and soften plastic. Take a heater of low surface load, keep it off the "
    "walls, and stir.",
)


def caution_warming(read: Read, steady: Range | None, notes: Notes) -> None:
    """Everything the person at the tank should know.

    Args:
        read: the warming.
        steady: where a heater without thermostat would end [°C]; None where the stock boils first.
        notes: where the cautions go.
    """
    run, vessel = read.run, read.vessel
    notes.tell(CONTROL, SHEATH, SURFACE, METALS)
    _level(read, notes)
    _room(read, notes)
    _left_on(run, vessel, steady, notes)
    _reach(run, notes)
    _vessel(run, vessel, notes)
    _heat(run, notes)
    _crystals(run, notes)


def _level(read: Read, notes: Notes) -> None:
    """How much liquid there is over the heater."""
    dead, volume = read.vessel.given.dead_volume, read.volume
    if dead is None:
        notes.caution(
            "heater-uncovered",
            f"Keep the heater, up to its cold end, under liquid at all times: {_amount(read)} now. Out of it, it "
            "burns through, and plastic catches fire. Switch it off before any stock is drawn, or use a level switch.",
        )
    elif volume <= dead.value:
        notes.caution(
            "heater-uncovered",
            f"The {litres(volume)} of stock do not even reach the outlet, which leaves {litres(dead.value)}: "
            "a heater that is not all under liquid burns through. Do not switch it on before that is sure.",
        )
    else:
        above = " It is little more than that:" if volume < SHALLOW * dead.value else ""
        notes.caution(
            "heater-uncovered",
            f"Only below the outlet, in the last {litres(dead.value, 'down')}, is a heater sure to stay under liquid."
            f"{above or ' Elsewhere'} switch it off before stock is drawn, or use a level switch: out of the liquid it "
            "burns through.",
            None if above else "caution",
        )


def _amount(read: Read) -> str:
    """How much liquid there is, and how high it stands where that is known."""
    diameter = read.vessel.given.diameter
    level = "" if diameter is None else f", {read.volume / disc_area(diameter.value) * 100:.3g} cm high,"
    return f"{litres(read.volume)}{level}"


def _room(read: Read, notes: Notes) -> None:
    """Whether it has room to expand, and whether air and vapour can get out."""
    run, vessel = read.run, read.vessel
    holds = vessel.volume
    warm = min(max(run.target, 0.0), density.HIGHEST_TEMPERATURE[run.contents.alkali])
    needs = run.contents.mass / density.density(run.contents.alkali, run.contents.w, warm)
    if holds is not None and needs > FULL * holds:
        notes.caution(
            "vessel-too-small",
            f"Warm, the stock takes {litres(needs, 'up')}, and the vessel holds {litres(holds, 'down')} to the brim: "
            "it runs over. Draw some off first.",
        )
    if vessel.given.lid:
        notes.caution(
            "vessel-closed",
            "A closed vessel builds up pressure while it is warmed, and may burst: open its vent before the heater is "
            "switched on. A lid that lies loosely keeps the heat as well.",
            None if above(run.target, STEAMS) else "caution",
        )


def _left_on(run: Run, vessel: KnownVessel, steady: Range | None, notes: Notes) -> None:
    """Where the heater would bring the stock if its thermostat failed."""
    limit = vessel.limit(run.contents.w)
    if steady is None or above(steady[2], run.boiling - CLOSE_TO_BOILING):
        notes.caution(
            "heater-runs-away",
            f"Left on, this heater can bring the stock to boil, at about {degrees(run.boiling)}"
            + ("" if limit is None else f", and the vessel stands {degrees(limit)}")
            + ": never without a cut-out that works when the thermostat fails.",
        )
    elif limit is not None and above(steady[2], limit):
        notes.caution(
            "heater-runs-away",
            f"Left on, this heater can bring the stock to {degrees(steady[2])}, and the vessel stands "
            f"{degrees(limit)}: never without a cut-out that works when the thermostat fails.",
        )


def _reach(run: Run, notes: Notes) -> None:
    if not run.surely_reached:
        notes.caution(
            "target-not-sure",
            f"At the upper end of the loss ({watts(run.loss(run.target)[2])} at {degrees(run.target)}) the "
            f"{watts(run.heater.given)} that reach the stock do not get it there, so time and energy have no ends: "
            "insulate the vessel, close it, or take a stronger heater.",
        )


def _vessel(run: Run, vessel: KnownVessel, notes: Notes) -> None:
    """What the material says to caustic, to heat, and to a heater."""
    material, w = vessel.material, run.contents.w
    name = caution_suitability(vessel, notes)
    if "hydrogen" in material.hazards:
        notes.caution(
            "hydrogen",
            f"In caustic {material.name} gives off hydrogen, which a spark or flame ignites (from about 4 % in air, "
            "from memory), and a heater makes it faster. Do not heat caustic in it.",
        )
    if "thermal-shock" in material.hazards:
        rise = run.target - run.contents.temperature
        notes.caution(
            "glass-may-crack",
            f"{name} may crack where the heater touches it or the heat is uneven, and let go of the caustic: this is "
            f"{degrees(rise, apart=True)}. Do not heat caustic in glass; stand it in warm water.",
            None if above(rise, SUDDEN) or material.suitable == "no" else "caution",
        )
    limit = vessel.limit(w)
    if limit is None:
        caution_unknown_limit(vessel, w, notes)
        return
    margin = limit - run.target
    if below(margin, CLOSE_TO_LIMIT):
        notes.caution(
            "vessel-limit-near",
            f"The target is {near_limit(vessel, limit, run.target)}: near the heater the wall gets hotter than the "
            "liquid's mean.",
        )
    caution_recalled_limit(vessel, (w, limit), notes, near=below(margin, CLOSE_TO_LIMIT))


def _heat(run: Run, notes: Notes) -> None:
    """What hot caustic does."""
    margin = run.boiling - run.boiling_half_width - run.target
    if below(margin, CLOSE_TO_BOILING):
        notes.caution(
            "boiling-margin-small",
            f"The target is {degrees(margin, 1, apart=True)} from boiling: altitude, a weather low or the heater's "
            "surface use that up. Warm it less."
            if margin > NO_MARGIN
            else f"At {degrees(run.target)}, the target, it may boil, at altitude even below it. Warm it less.",
        )
    if above(run.target, STEAMS):
        notes.caution(
            "caustic-mist",
            f"At {degrees(run.target)} caustic steams, and its mist carries caustic (limit 2 mg/m3): warm it under an "
            "extractor, vented but covered, and keep your face away.",
        )
    if beyond(run.target, HOT):
        notes.caution(
            "stock-hot",
            f"Stock of {degrees(run.target)} is too hot to meet fats, milk or other liquids: let it cool to "
            f"{degrees(HOT)} or less first.",
            "danger" if above(run.target, FLASHES) else None,
        )


def _crystals(run: Run, notes: Notes) -> None:
    """What cold does to the stock, now and in the store."""
    first, contents = run.first, run.contents
    if first.evidence in {"memory", "mixed"} and short_of(min(contents.temperature, run.ambient), first.high):
        notes.caution(
            "figure-from-memory", "The temperature of the first solid rests on figures from memory here.", "note"
        )
    if short_of(run.ambient, first.high):
        notes.caution(
            "crystallises-in-store",
            f"In a room of {degrees(run.ambient)} this stock {'sets' if below(run.ambient, first.low) else 'may set'} ("
            f"{first.name}, from {degrees(first.temperature, 1)}): never store it below {degrees(first.high, 1)}, keep "
            "the heater on, or use a strength that stays liquid. Lines and valves set first.",
        )
    if contents.crystallised is not False and short_of(contents.temperature, first.high):
        verb = "holds" if run.surely_solid else "may hold"
        notes.caution(
            "crystals-in-solution",
            f"At {degrees(contents.temperature, 1)} it {verb} crystals: they keep the heat at the heater, and what is "
            "drawn has another strength. Thaw from the top, stir, vent it, and never heat a closed pipe or a heater "
            f"buried in crystals.{_not_clear(run)}",
        )
    if run.thawing_left_out:
        notes.caution(
            "thawing-heat-left-out",
            f"The heat that melts these crystals ({' and '.join(run.frozen.solids)}) is not known, and is left out: "
            "the warming takes longer and more energy than is told, perhaps several times as much.",
        )
    elif run.thawing_counted and run.frozen.solids != ("ice",):
        notes.caution(
            "thawing-heat-rough",
            f"The heat that melts the crystals was computed from the freezing line, {_open(run.thawing_heat)}: the "
            "ends of time and energy count it.",
        )


def _open(heat: Range) -> str:
    """How well a heat is known, in words."""
    value, low, high = heat
    if not high:
        return "and none melts up to the target"
    if not value:
        return "and is nothing by the middles, but the line may lie higher"
    if high > MANY_TIMES * value:
        return "and may be many times what is told: a little colder, or of another strength, far more of it sets"
    return f"and may be {percent(low / value)} to {percent(high / value)} of what is told"


def _not_clear(run: Run) -> str:
    """What the target leaves of crystals."""
    if not short_of(run.target, run.first.high):
        return ""
    leaves = "leaves some" if run.target < run.first.low else "may leave some"
    return f" The target {leaves}: it takes {degrees(run.first.high, 1)} to be sure of none."
