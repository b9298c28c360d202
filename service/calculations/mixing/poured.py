"""Solutions, water and ice of a request that are poured together, read and put together by what they are."""

from collections.abc import Sequence
from math import fsum
from typing import NamedTuple

from service.calculations.mixing.mixing_contents import ICE_DENSITY, check_ice, check_water, plain_degrees
from service.calculations.shared.messages import AlkaliName, Solution
from service.calculations.shared.notes import Notes, percent
from service.calculations.stock.solutions import ROOM, Found, mass_fraction
from service.calculations.stock.volumes import WEIGHED, Amount, ByVolume, by_volume
from service.chemistry import density, vapour_pressure
from service.chemistry.blending import Part, part_enthalpy
from service.chemistry.errors import OutOfRange
from service.chemistry.uncertainty import Combined


class Pour(NamedTuple):
    """Something that is poured, and how well it is known."""

    part: Part
    spread: Combined
    """Of its mass fraction."""
    volume: ByVolume = WEIGHED
    """How its mass goes with what is not known, where it was given by volume."""
    by_density: float = 0.0
    """How its mass fraction goes with the model of densities, as of `Found`; its spread holds it."""

    @property
    def amount(self) -> Amount:
        """Its mass and its strength, and how well they are known."""
        return Amount(self.part.mass, Found(self.part.mass_fraction, self.spread, self.by_density), self.volume)

    @property
    def own(self) -> Combined:
        """Spread of its mass fraction without that of the densities."""
        return self.amount.found.own

    @property
    def uncertain(self) -> bool:
        """Whether anything is uncertain in it."""
        return self.spread.standard_uncertainty > 0 or self.volume != WEIGHED

    @property
    def hydroxide(self) -> bool:
        """Whether there is any hydroxide in it."""
        return self.part.mass_fraction > 0


def alkali_of(given: Sequence[Solution], pours: Sequence[Pour | None], notes: Notes, at: str) -> AlkaliName:
    """The one alkali of some solutions; two of them are a fault, which goes into the notes.

    Where all of them are water, it is NaOH if one of them is called by it.

    Args:
        given: the solutions; at least one.
        pours: the same as they were read; None where that is a fault.
        notes: where faults go.
        at: pointer of their list.
    """
    found: AlkaliName | None = None
    for index, (one, pour) in enumerate(zip(given, pours, strict=True)):
        if pour is None or not pour.hydroxide:
            continue
        if found is not None and one.alkali != found:
            two_alkalis(notes, f"{at}/{index}/alkali")
        found = found or one.alkali
    # Water has none: which it is called by must not go by the order.
    return found or ("NaOH" if any(one.alkali == "NaOH" for one in given) else "KOH")


def two_alkalis(notes: Notes, at: str) -> None:
    """Say that solutions of both hydroxides are not reckoned together.

    Args:
        notes: where the fault goes.
        at: pointer of the alkali that differs.
    """
    notes.fault(
        at,
        "contradiction",
        "NaOH and KOH are poured together, and neither heat nor density of such mixtures is known here",
        "keep one stock for each alkali, and ask for each by itself",
    )


def read_pour(given: Solution, notes: Notes, at: str, ambient: float = ROOM) -> Pour | None:
    """A solution that is poured; None where that is a fault. Faults and assumptions go into the notes.

    Args:
        given: as the request has it.
        notes: where faults and assumptions go.
        at: its pointer.
        ambient: temperature of the air, taken where none is given [°C].
    """
    found = mass_fraction(given.strength, given.alkali, notes, f"{at}/strength")
    frozen = given.state == "ice"
    t = (0.0 if frozen else ambient) if given.temperature is None else given.temperature.value
    if given.temperature is None:
        why = "the cautious side: colder ice takes up more heat" if frozen else "the temperature of the room"
        notes.assume(f"{at}/temperature", plain_degrees(t), why)
    if found is None:
        return None
    w = found.mass_fraction
    if given.state is None and w == 0:
        notes.assume(f"{at}/state", "liquid", "only water may be ice, and is where it is said")
    if not _possible(given, w, t, notes, at):
        return None
    volume = WEIGHED
    try:
        part_enthalpy(given.alkali, Part(1.0, w, t, frozen))
        if given.mass is not None:
            mass = given.mass.value
        else:
            filled = 0.0 if given.volume is None else given.volume.value
            mass = filled * (ICE_DENSITY if frozen else density.density(given.alkali, w, t))
            volume = by_volume(given.alkali, found, t)
    except OutOfRange:
        notes.fault(
            f"{at}/temperature",
            "beyond-data",
            f"no data tell of a solution of {percent(w)} {given.alkali} at {t:.4g} °C",
            "check the temperature and its unit, and give the mass in place of the volume",
        )
        return None
    return Pour(Part(mass, w, t, frozen), found.spread, volume, found.by_density)


def _possible(given: Solution, w: float, t: float, notes: Notes, at: str) -> bool:
    before = len(notes.faults)
    if w > 0 and given.state == "ice":
        notes.fault(f"{at}/state", "contradiction", "only water is ice", "leave state out, or make the strength 0")
    elif w > 0:
        boiling = vapour_pressure.boiling_point(given.alkali, w)
        if t > boiling:
            notes.fault(
                f"{at}/temperature",
                "impossible-temperature",
                f"this solution boils at about {boiling:.0f} °C, and is said to have {t:.4g} °C",
                "check the number and its unit",
            )
    elif given.state == "ice":
        check_ice(t, notes, f"{at}/temperature", "give 0 °C or less, or leave state out")
    else:
        check_water(t, notes, f"{at}/temperature", "give state, as ice, or mend the number")
    return len(notes.faults) == before


def together(pours: Sequence[Pour]) -> list[Pour]:
    """What is alike put together, in one order whatever the order of the request.

    Lines of the same strength, spread and temperature come from one stock, whose strength errs once.

    Args:
        pours: what is poured.
    """
    found: dict[tuple[object, ...], list[Pour]] = {}
    for one in pours:
        found.setdefault(_likeness(one), []).append(one)
    joined = []
    for alike in found.values():
        first = min(alike, key=lambda one: one.part[1:])
        joined.append(first._replace(part=first.part._replace(mass=fsum(one.part.mass for one in alike))))
    return sorted(joined, key=lambda one: (one.part[1:], one[1:]))


def _likeness(one: Pour) -> tuple[object, ...]:
    """What lines of one stock share, rounded: 50 % and 0.5 are one, though they may differ in the last bit."""
    _, w, t, ice = one.part
    spread = tuple(f"{width:.6g}" for width in (*one.spread, *one.volume, one.by_density))
    return f"{w:.9g}", f"{t:.9g}", ice, spread
