"""What pouring solutions together says beside its numbers: cautions of boiling, heat, ice, crystals and storage."""

from typing import Final

from service.calculations.mixing.mixing_notes import COLD_STORE, caution_cap, caution_mist
from service.calculations.mixing.poured import Pour
from service.calculations.mixing.pouring import Pouring
from service.calculations.mixing.vessel_notes import PLASTIC_LIMIT, Held, caution_held
from service.calculations.mixing.vessels import KnownVessel
from service.calculations.shared.cautions import degrees
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.standing_cautions import (
    CHILDREN,
    CORROSIVE,
    HANDLING,
    HAZARDOUS_WASTE,
    IRRITANT,
    METALS,
    STORE,
    WASTE,
    reaches,
)
from service.calculations.stock.stock_heat import CLOSE_TO_BOILING, FLASHES
from service.chemistry import density, freezing
from service.chemistry.freezing import FirstSolid

WARMS: Final = 2.0
"""Rise [K] below which a stock is not said to get warm."""
WARMS_MUCH: Final = 10.0
"""Rise [K] from which it is told though only a part of the whole gets so warm, on the way (judged)."""
COLD_WATER: Final = 25.0
"""Temperature [°C] up to which water is cold."""


def caution_pouring(pouring: Pouring, first: FirstSolid, vessel: KnownVessel | None, notes: Notes) -> None:
    """Everything the person who pours should know.

    Args:
        pouring: what is poured.
        first: first solid of what it comes to.
        vessel: what it is poured in, where that is given.
        notes: where the cautions go.
    """
    strongest = pouring.pours[-1].part.mass_fraction
    if reaches(strongest, IRRITANT):
        notes.tell(*HANDLING, METALS)
    _boiling(pouring, notes)
    _order(pouring, notes)
    _water(pouring, notes)
    _, _, hot = pouring.peak
    if strongest > 0:
        caution_mist(pouring.alkali, hot, notes, boils=pouring.boiling_margin <= 0)
        caution_cap(pouring.temperature + pouring.temperature_rooms[1], notes)
        _vessel(pouring, hot, vessel, notes)
    _ice(pouring, notes)
    for one in pouring.pours:
        _crystals_in(pouring, one, notes)
    _crystals(pouring, first, notes)
    if len(pouring.pours) > 1 and reaches(strongest, CORROSIVE):
        notes.caution(
            "assay-after-mixing",
            "Stir until no streaks are seen, let it cool, measure its strength again, and label it with the new "
            "strength and the date: the reckoning is no better than the strengths it was given.",
        )
    if reaches(pouring.whole.mass_fraction, CORROSIVE):
        notes.tell(CHILDREN, STORE)
    if reaches(pouring.whole.mass_fraction, HAZARDOUS_WASTE):
        notes.tell(WASTE)


def _boiling(pouring: Pouring, notes: Notes) -> None:
    margin, nearest = pouring.boiling_margin, pouring.nearest[0]
    if margin <= 0:
        steam = pouring.whole.steam
        notes.caution(
            "boils",
            f"Where they meet as {percent(nearest.mass_fraction, 0)} it can boil and throw caustic out"
            + (f"; of the whole, {weight(steam)} of water leave as steam" if steam else "")
            + ". Let what is hot cool first, use colder water or ice, and pour slowly, stirring.",
        )
    elif margin < CLOSE_TO_BOILING:
        notes.caution(
            "boiling-margin-small",
            f"Where they meet as {percent(nearest.mass_fraction, 0)} it comes within "
            f"{degrees(margin, 1, apart=True)} of boiling at sea level; at altitude it boils earlier. Let what is hot "
            "cool first, and pour slowly, stirring.",
        )
    if pouring.whole.beyond_data:
        notes.caution(
            "beyond-source-range",
            "So much water boils off that the solution gets stronger than the data reach: its temperature is the "
            "boiling point that it begins with, and how much leaves as steam is not told.",
            "danger",
        )


def _order(pouring: Pouring, notes: Notes) -> None:
    """Which of them is poured into the other, where it gives off heat that matters."""
    weakest, strongest = pouring.pours[0].part, pouring.pours[-1].part
    # The difference too: from 2 % on, so much stronger than what it meets, it gives off heat that matters.
    if not reaches(strongest.mass_fraction - weakest.mass_fraction, CORROSIVE):
        return
    near = pouring.boiling_margin < CLOSE_TO_BOILING
    warmest = max(one.part.temperature for one in pouring.pours)
    if not near and pouring.peak[0] - warmest < WARMS:
        return
    water = [one.part for one in pouring.pours if not one.hydroxide and not one.part.ice]
    if water:
        into = "the water" if max(one.temperature for one in water) > COLD_WATER else "cold water"
    elif weakest.ice:
        into = "the ice"
    else:
        into = f"the weaker solution ({percent(weakest.mass_fraction)})"
    met = (
        "when the layers meet at once it boils and spatters"
        if near
        else "when the layers meet, their heat comes at once"
    )
    little = pouring.mass - strongest.mass < strongest.mass
    notes.caution(
        "strong-into-weak",
        f"Pour the strong solution ({percent(strongest.mass_fraction)}) slowly into {into}, stirring, not the other "
        f"way round: the lighter one lies on top, and {met}. What is told here holds for either order."
        + (" A tank that gets only a little takes it slowly too, stirred hard." if little else ""),
    )


def _water(pouring: Pouring, notes: Notes) -> None:
    """Water or ice that meets stock."""
    water = [one.part for one in pouring.pours if not one.hydroxide]
    stocks = [one.part for one in pouring.pours if one.hydroxide]
    if not water or not stocks:
        return
    warmest = max(one.temperature for one in stocks)
    met = "Water" if any(not one.ice for one in water) else "Ice"
    if warmest >= FLASHES or pouring.boiling_margin < CLOSE_TO_BOILING:
        notes.caution(
            "water-warms-stock",
            f"{met} that meets stock of {degrees(warmest)} can boil at once and throw caustic out, whatever the whole "
            "comes to: let the stock cool first, and bring the two together slowly, stirring.",
            "danger",
        )
        return
    peak, _, _ = pouring.peak
    if peak - warmest < WARMS:
        return
    whole = pouring.temperature
    if whole - warmest < WARMS:
        if peak - warmest >= WARMS_MUCH:
            notes.caution(
                "water-warms-stock",
                f"Diluting gives off heat: where {met.lower()} and stock of {degrees(warmest)} meet it gets up to "
                f"{degrees(peak)}, though the whole comes to {degrees(whole)}. Pour slowly, and stir all the while.",
            )
        return
    on_the_way = f", with up to {degrees(peak)} on the way" if peak > whole + 1 else ""
    notes.caution(
        "water-warms-stock",
        f"Diluting gives off heat: stock of {degrees(warmest)} comes to {degrees(whole)}{on_the_way}. Let it cool "
        "before it is measured, capped or used.",
    )


def _vessel(pouring: Pouring, hot: float, vessel: KnownVessel | None, notes: Notes) -> None:
    strength = pouring.strength
    if vessel is None:
        if hot > PLASTIC_LIMIT:
            notes.caution(
                "vessel-not-given",
                f"It can reach {degrees(hot)}, more than many vessels stand (polyethylene about "
                f"{degrees(PLASTIC_LIMIT)}, from memory): give vessel to compare it with its limit.",
            )
        return
    t = min(max(pouring.temperature, 0.0), density.HIGHEST_TEMPERATURE[pouring.alkali])
    volume = pouring.mass / density.density(pouring.alkali, strength, t)
    coldest = min(one.part.temperature for one in pouring.pours)
    caution_held(Held(strength, coldest, hot, volume, solid_goes_in=False), vessel, vessel.limit(strength), notes)


def _ice(pouring: Pouring, notes: Notes) -> None:
    left = pouring.whole.state.ice_mass
    if left:
        notes.caution("ice-left", f"{weight(left)} of ice remain: stir until they melt before any is drawn.")
    if pouring.temperature < 0 and pouring.strength > 0:
        notes.caution(
            "ice-path-beyond-data",
            f"It comes to {degrees(pouring.temperature, 1)}, where heat capacities are extrapolated: that temperature "
            "is an estimate.",
        )


def _crystals_in(pouring: Pouring, one: Pour, notes: Notes) -> None:
    """Crystals in a solution before it is poured."""
    _, w, t, _ = one.part
    if not one.hydroxide:
        return
    first = freezing.first_solid(pouring.alkali, w)
    if t < first.high:
        notes.caution(
            "crystals-in-solution",
            f"At {degrees(t, 1)} the {percent(w)} solution {'holds' if t < first.low else 'may hold'} crystals "
            f"({first.name}, from {degrees(first.temperature, 1)}): what is poured then has another strength, and the "
            "heat that melts them is not counted. Warm and stir it until it is clear.",
        )


def _crystals(pouring: Pouring, first: FirstSolid, notes: Notes) -> None:
    """Crystals in what it comes to."""
    if first.solid == "ice" or pouring.strength == 0:
        return
    if pouring.temperature - pouring.temperature_rooms[0] < first.high:
        notes.caution(
            "crystals-in-solution",
            f"At {degrees(pouring.temperature, 1)} what it comes to can set ({first.name}, from "
            f"{degrees(first.temperature, 1)}): warm and stir it before any is drawn.",
        )
    elif first.high > COLD_STORE:
        notes.caution(
            "crystals-in-solution",
            f"Below about {degrees(first.high)} this stock begins to set ({first.name}): store it warmer.",
            "note",
        )
