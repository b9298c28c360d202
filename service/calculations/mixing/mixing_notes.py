"""What a mixing says beside its numbers: cautions of heat, vessel, ice and crystals."""

import math
from typing import Final

from service.calculations.mixing.mixing_runs import Runs
from service.calculations.mixing.vessel_notes import PLASTIC_LIMIT, caution_vessel
from service.calculations.mixing.vessels import KnownVessel
from service.calculations.shared.cautions import degrees
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.standing_cautions import (
    CHILDREN,
    CORROSIVE,
    HAZARDOUS_WASTE,
    METALS,
    SOLID_INTO_WATER,
    STORE,
    WASTE,
    reaches,
)
from service.calculations.stock.solutions import ROOM
from service.calculations.stock.stock_heat import CLOSE_TO_BOILING, FLASHES
from service.chemistry import freezing
from service.chemistry.dilution import dilute
from service.chemistry.errors import OutOfRange
from service.chemistry.mixing_bounds import dilutes_below

STEAMS: Final = 50.0
"""Temperature [°C] above which caustic is taken to steam (common practice)."""
LOCAL_BOILING: Final = 25.0
"""Temperature [°C] of water from which NaOH, in the worst proportion, comes within about 10 K of boiling
(computed)."""
SHRINKS: Final = 40.0
"""Temperature [°C] above which a capped jug gets a caution: cooled to 20 °C, air of 40 °C shrinks by 6 %."""
CLEAR: Final = 85.0
"""Temperature [°C] below which nothing comes within 10 K of boiling, which begins at 99.6 °C at the earliest."""
ABSOLUTE: Final = 273.15
"""0 °C in kelvins."""
COLD: Final = 0.0
"""Temperature [°C] below which heat capacities are extrapolated."""
COLD_STORE: Final = 5.0
"""Temperature [°C] that a frost-free store may fall to."""


def caution_mixing(runs: Runs, vessel: KnownVessel | None, limit: float | None, notes: Notes) -> None:
    """Everything the person at the tank should know of this mixing."""
    _boiling(runs, notes)
    if vessel is not None:
        caution_vessel(runs, vessel, limit, notes)
    elif runs.peak_high > PLASTIC_LIMIT:
        notes.caution(
            "vessel-not-given",
            f"It can reach {degrees(runs.peak_high)}, more than many vessels stand (polyethylene about "
            f"{degrees(PLASTIC_LIMIT)}, from memory): give vessel to compare it with its limit.",
        )
    _hazards(runs, notes)
    _stock(runs, notes)
    _ice(runs, notes)
    _crystals(runs, notes)
    if runs.beyond_data:
        beyond = runs.beyond_data[0].upper() + runs.beyond_data[1:]
        notes.caution("beyond-source-range", f"{beyond}: peak and steam are lower bounds.", "danger")


def _boiling(runs: Runs, notes: Notes) -> None:
    margin = runs.boiling_margin
    if margin <= 0:
        steam = runs.plain.water_boiled_off
        notes.caution(
            "boils",
            "It can boil and throw caustic out"
            + (f"; {weight(steam)} of water leave as steam" if steam else "")
            + ". Use ice for a part of the water, colder water, or add the solid in stages with waiting.",
        )
    elif margin < CLOSE_TO_BOILING:
        notes.caution(
            "boiling-margin-small",
            f"It comes within {degrees(margin, 1, apart=True)} of boiling at sea level; at altitude it boils earlier, "
            "and where solid lies undissolved it boils locally before. Use ice for a part of the water, and add the "
            "solid slowly.",
        )


def _hazards(runs: Runs, notes: Notes) -> None:
    """What whoever mixes must know, however it goes with boiling and the vessel."""
    notes.tell(SOLID_INTO_WATER)
    hot = runs.peak_high
    caution_mist(runs.solid.alkali, hot, notes, boils=runs.boiling_margin <= 0)
    if hot > LOCAL_BOILING and runs.boiling_margin >= CLOSE_TO_BOILING:
        notes.caution(
            "local-boiling",
            f"The whole stays {degrees(runs.boiling_margin, apart=True)} below boiling, but solid that lies "
            f"undissolved in liquid above {degrees(LOCAL_BOILING)} can boil and spatter there: strew it thinly, and "
            "stir all the while.",
        )
    ice = runs.contents.ice
    if ice is not None and ice.melted_share < 1:
        notes.caution(
            "cake-under-ice",
            f"Solid can cake under the {weight(ice.mass * (1 - ice.melted_share))} of ice and erupt when the ice is "
            "gone: crush the ice, stir to the bottom, and add more only when no grain is felt there.",
        )
    caution_cap(hot, notes)
    notes.tell(METALS)
    if reaches(runs.plain.solution_strength, CORROSIVE):
        notes.tell(CHILDREN, STORE)
    if reaches(runs.plain.solution_strength, HAZARDOUS_WASTE):
        notes.tell(WASTE)


def caution_mist(alkali: AlkaliName, hot: float, notes: Notes, *, boils: bool) -> None:
    """That hot caustic is not to be breathed.

    Args:
        alkali: its hydroxide.
        hot: how hot it can get [°C].
        notes: where the caution goes.
        boils: whether it can boil.
    """
    if hot > STEAMS:
        notes.caution(
            "caustic-mist",
            f"At up to {degrees(hot)} its steam and mist carry caustic, of which 2 mg/m3 is the limit: mix under an "
            "extractor or in the open, and keep your face away.",
            "danger" if boils else None,
            None if alkali == "NaOH" else "NIOSH ceiling of KOH (2 mg/m3, from memory)",
        )


def caution_cap(hot: float, notes: Notes) -> None:
    """That a vessel is not closed over hot stock.

    Args:
        hot: how hot it can be [°C].
        notes: where the caution goes.
    """
    if hot > SHRINKS:
        notes.caution(
            "close-when-cool",
            f"Let it cool before it is capped. Capped at {degrees(hot)} it is under pressure first; as it cools, its "
            f"air shrinks by {percent(1 - (ROOM + ABSOLUTE) / (hot + ABSOLUTE), 0)}, and the vacuum folds a jug in.",
        )


def _stock(runs: Runs, notes: Notes) -> None:
    """What there is to know of an existing stock: crystals in it, and water that meets it hot."""
    stock, alkali = runs.contents.stock, runs.solid.alkali
    if stock is None:
        return
    _, w, t = stock
    first = freezing.first_solid(alkali, w)
    if t < first.high:
        notes.caution(
            "crystals-in-solution",
            f"At {degrees(t, 1)} the existing stock {'holds' if t < first.low else 'may hold'} crystals ({first.name}, "
            f"from {degrees(first.temperature, 1)}): its strength is then not the same everywhere, and the heat that "
            "melts them is not counted. Warm and stir it until it is clear.",
        )
    water, ice = runs.contents.water, runs.contents.ice
    if water is None and ice is None:
        return
    near = t >= FLASHES or _nearest(runs) < CLOSE_TO_BOILING
    if near:
        met = "Ice" if water is None else "Water"
        notes.caution(
            "water-warms-stock",
            f"{met} that meets stock of {degrees(t)} can boil at once and throw caustic out, whatever the whole comes "
            "to: let the stock cool first, and bring the two together slowly, stirring.",
            "danger",
        )


def _nearest(runs: Runs) -> float:
    """Least distance to boiling where existing stock and water meet in any proportion [K]."""
    stock, water = runs.contents.stock, runs.contents.water
    if stock is None or water is None:
        return math.inf
    try:
        if dilutes_below(runs.solid.alkali, stock, water, CLEAR):
            return math.inf  # far from boiling: how far does not matter
        return dilute(runs.solid.alkali, stock, water).boiling_margin
    except OutOfRange:
        return math.inf


def _ice(runs: Runs, notes: Notes) -> None:
    plain = runs.plain
    if runs.contents.ice is None or plain.beyond_data:
        return
    if plain.ice_left is None:
        notes.caution("ice-left", "Ice remains at the end; how much, the data do not tell.")
    elif plain.ice_left > 0:
        notes.caution("ice-left", f"{weight(plain.ice_left)} of ice remain at the end: stir until they melt.")
    unknown = [point.solid_added_share for point in plain.path if point.temperature is None]
    if unknown:
        reason = next(point.reason for point in plain.path if point.temperature is None)
        notes.caution(
            "ice-path-beyond-data",
            f"{_between(unknown[0], unknown[-1])}, no temperature is given: {reason}.",
        )
    cold = [
        point
        for point in plain.path
        if point.temperature is not None and point.temperature < COLD and point.mass_fraction > 0
    ]
    if cold:
        notes.caution(
            "ice-path-beyond-data",
            f"{_between(cold[0].solid_added_share, cold[-1].solid_added_share)}, the mixing is colder than "
            f"{degrees(COLD)}, where heat capacities are extrapolated: those temperatures are estimates.",
        )


def _between(first: float, last: float) -> str:
    if first == last:
        return f"With {percent(first, 0)} of the solid in"
    return f"With {percent(first, 0)} to {percent(last, 0)} of the solid in"


def _crystals(runs: Runs, notes: Notes) -> None:
    alkali = runs.solid.alkali
    w = runs.plain.solution_strength
    if w > freezing.HIGHEST_MASS_FRACTION[alkali]:
        return
    first = freezing.first_solid(alkali, w)
    if runs.plain.path[-1].supercooled:
        notes.caution(
            "crystals-in-solution",
            f"The finished stock is colder than where it begins to set ({first.name}, from "
            f"{degrees(first.temperature, 1)}): its temperature is that of the liquid without crystals. Warm and stir "
            "it before any is drawn.",
        )
    elif first.solid != "ice" and first.high > COLD_STORE:
        notes.caution(
            "crystals-in-solution",
            f"Below about {degrees(first.high)} this stock begins to set ({first.name}): store it warmer.",
            "note",
        )
