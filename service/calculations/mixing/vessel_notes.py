"""What a mixing says of its vessel: what caustic and heat do to it, and whether it holds enough."""

from typing import Final, NamedTuple

from service.calculations.mixing.mixing_runs import Runs
from service.calculations.mixing.vessels import KnownVessel
from service.calculations.shared.cautions import degrees
from service.calculations.shared.notes import Notes, litres, percent
from service.calculations.shared.thresholds import below, beyond
from service.calculations.stock.solutions import ROOM
from service.chemistry import density

ROOM_FOR_FOAM: Final = 0.9
"""Share of a vessel that hot stock may fill."""
PLASTIC_LIMIT: Final = 60.0
"""Temperature [°C] that polyethylene is usually rated to with strong caustic (general resistance charts,
from memory)."""
CLOSE_TO_LIMIT: Final = 10.0
"""Margin [K] below which a vessel counts as near its limit (common practice): the reckoning knows the mean of the
liquid, and at the wall, where solid lies undissolved, it gets hotter."""
NO_MARGIN: Final = 0.05
"""Margin [K] up to which a message, which tells tenths, would tell none."""
PLASTICS: Final = frozenset({"hdpe", "polypropylene", "pvc", "pet", "polycarbonate"})
SUDDEN: Final = 40.0
"""Rise [K] from which glass gets a caution; soda-lime ware is usually rated to about that (from memory)."""


class Held(NamedTuple):
    """What a vessel holds, as far as it bears on the vessel."""

    strength: float
    """Mass fraction of hydroxide."""
    coldest: float
    """Lowest temperature on the way [°C]."""
    hottest: float
    """Upper end of the highest temperature [°C]."""
    volume: float
    """At the peak [m3]."""
    solid_goes_in: bool
    """Whether a solid is dissolved in it; else liquids, or ice, are poured together."""


def caution_vessel(runs: Runs, vessel: KnownVessel, limit: float | None, notes: Notes) -> None:
    """Everything the person at the tank should know of the vessel that a mixing is done in.

    Args:
        runs: the mixing.
        vessel: its vessel.
        limit: highest temperature of the vessel with this stock [°C]; None where none is known.
        notes: where the cautions go.
    """
    told = [point.temperature for point in runs.plain.path if point.temperature is not None]
    held = Held(
        runs.plain.solution_strength,
        min(told, default=ROOM),
        runs.peak_high,
        volume_at(runs, runs.peak),
        solid_goes_in=True,
    )
    caution_held(held, vessel, limit, notes)


def caution_held(held: Held, vessel: KnownVessel, limit: float | None, notes: Notes) -> None:
    """Everything there is to know of a vessel, whatever it is that gets hot in it.

    Args:
        held: what it holds.
        vessel: the vessel.
        limit: its highest temperature with this stock [°C]; None where none is known.
        notes: where the cautions go.
    """
    _material(held, vessel, notes)
    _limit(held, vessel, limit, notes)
    if vessel.given.lid and held.hottest > PLASTIC_LIMIT:
        notes.caution(
            "vessel-closed",
            f"A closed vessel builds up pressure while caustic of {degrees(held.hottest)} steams, and may burst: mix "
            "with the lid off, and close it when the stock is cool.",
        )
    elif vessel.given.lid and "hydrogen" in vessel.material.hazards:
        notes.caution(
            "vessel-closed",
            f"Closed, {vessel.material.name} holds the hydrogen that it gives off in caustic, which bursts or ignites: "
            "never close caustic in it.",
        )
    holds = vessel.volume
    needs = held.volume
    if holds is not None and needs > ROOM_FOR_FOAM * holds:
        notes.caution(
            "vessel-too-small",
            f"The hot stock takes {litres(needs, 'up')} and the vessel holds {litres(holds, 'down')}: mix less, or "
            "take a larger one, so that a tenth of it is left for foam.",
        )


def _material(held: Held, vessel: KnownVessel, notes: Notes) -> None:
    """What caustic does to the material, whatever the temperature, and what sudden heat does to glass."""
    material = vessel.material
    name = caution_suitability(vessel, notes)
    if "hydrogen" in material.hazards:
        notes.caution(
            "hydrogen",
            f"In caustic {material.name} gives off hydrogen, which a spark or flame ignites (from about 4 % in air, "
            "from memory), and it heats as it dissolves. If it happens: no flame, no switch, air, and keep away.",
        )
    if "thermal-shock" in material.hazards:
        rise = held.hottest - held.coldest
        if rise > SUDDEN:
            notes.caution(
                "glass-may-crack",
                f"{name} may crack and let go of the caustic: the mixing heats it by up to "
                f"{degrees(rise, apart=True)}, more than the {degrees(SUDDEN, apart=True)} that common glass is rated "
                "to (from memory).",
                "caution" if material.suitable == "limited" else None,
            )


def _limit(held: Held, vessel: KnownVessel, limit: float | None, notes: Notes) -> None:
    """How near the mixing comes to what the vessel stands, and how well that is known."""
    material, strength = vessel.material, held.strength
    if limit is None:
        caution_unknown_limit(vessel, strength, notes)
        return
    near = below(limit - held.hottest, CLOSE_TO_LIMIT)
    if beyond(held.hottest, limit):
        mend = (
            "Use ice, mix in stages, or mix in another vessel and let it cool first."
            if held.solid_goes_in
            else "Let what is hot cool first, take colder water or ice, or pour into another vessel."
        )
        notes.caution(
            "vessel-limit-exceeded",
            f"The mixing can reach {degrees(held.hottest)}, and the limit of {material.name} with such a "
            f"stock is {degrees(limit)}: {harm(material.id)}. {mend}",
        )
    elif near:
        mend = (
            "At the wall, where solid lies undissolved, it gets hotter: use more ice or colder water, or mix in stages."
            if held.solid_goes_in
            else "Let what is hot cool first, or take colder water, and pour slowly, stirring."
        )
        notes.caution(
            "vessel-limit-near",
            f"At its hottest the mixing can be {near_limit(vessel, limit, held.hottest)}. {mend}",
        )
    caution_recalled_limit(vessel, (strength, limit), notes, near=near)


def near_limit(vessel: KnownVessel, limit: float, t: float) -> str:
    """How near a temperature is to the limit of a vessel, for a message: "within 5 K of", or "at", "the limit of ...".

    Args:
        vessel: the vessel.
        limit: its limit [°C].
        t: the temperature, not beyond it [°C].
    """
    margin = limit - t
    near = f"within {degrees(margin, 1, apart=True)} of" if margin > NO_MARGIN else "at"
    return f"{near} the limit of {vessel.material.name}, {degrees(limit)}"


def caution_suitability(vessel: KnownVessel, notes: Notes) -> str:
    """Say so where a material is no vessel for caustic, or with limits; gives its name as a sentence begins with it.

    Args:
        vessel: the vessel.
        notes: where the caution goes.
    """
    material = vessel.material
    name = material.name[0].upper() + material.name[1:]
    if material.suitable == "no":
        notes.caution("vessel-unsuitable", f"{name} is no vessel for caustic. {material.reason}")
    elif material.suitable == "limited":
        notes.caution("vessel-unsuitable", f"{name}, with limits: {material.reason}", "caution")
    return name


def caution_unknown_limit(vessel: KnownVessel, strength: float, notes: Notes) -> None:
    """Say that nobody knows how hot a vessel may get; one that is none for caustic anyway is left at that.

    Args:
        vessel: the vessel.
        strength: mass fraction of hydroxide of what it holds.
        notes: where the caution goes.
    """
    material = vessel.material
    if material.suitable != "no":
        notes.caution(
            "vessel-limit-unknown",
            f"No temperature limit of {material.name} is known with a solution of {percent(strength)}: ask its maker, "
            "and give maximum_temperature.",
        )


def caution_recalled_limit(vessel: KnownVessel, held: tuple[float, float], notes: Notes, *, near: bool) -> None:
    """Say so where the limit of a vessel was not read in a source.

    Args:
        vessel: the vessel.
        held: mass fraction of hydroxide of what it holds, and the limit [°C] with that.
        notes: where the caution goes.
        near: whether it gets near to that limit.
    """
    strength, limit = held
    if vessel.limit_is_recalled(strength):
        notes.caution(
            "vessel-limit-from-memory",
            f"The limit of {vessel.material.name}, {degrees(limit)}, is from memory, not read in a source: ask its "
            "maker, and give maximum_temperature.",
            "caution" if near else None,
        )


def harm(material: str) -> str:
    """What heat beyond its limit does to a vessel, as a clause; of plastics it is that they give way.

    Args:
        material: identifier of the catalogue.
    """
    if "steel" in material:
        return "hot caustic attacks it, and can crack steel under stress"
    if "glass" in material:
        return "hot caustic etches it, and it may crack"
    return "it may soften or warp" if material in PLASTICS else "hot caustic attacks it"


def volume_at(runs: Runs, t: float) -> float:
    """What the finished stock takes at a temperature, or as near to it as the densities reach [m3].

    Args:
        runs: the mixing.
        t: temperature [°C].
    """
    alkali, mass = runs.solid.alkali, runs.plain.mass + runs.plain.water_boiled_off
    within = min(max(t, 0.0), density.HIGHEST_TEMPERATURE[alkali])
    return mass / density.density(alkali, runs.strength_unboiled, within)
