"""How much solid and water a wanted stock takes, from whichever of its amounts is told."""

from typing import Annotated, ClassVar, Final, NamedTuple

from msgspec import Meta

from service.calculations.mixing.mixing_contents import GivenSolid
from service.calculations.mixing.vessel_notes import ROOM_FOR_FOAM
from service.calculations.mixing.vessels import KnownVessel
from service.calculations.shared.given import PlainMass, Temperature
from service.calculations.shared.messages import Alkali, AlkaliName, MoistureGiven, PurityGiven
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.rules import AtMostOne, Rule, Ruled
from service.calculations.shared.units import MASS
from service.calculations.stock.solutions import SOLUBILITY, SOLUBILITY_REASON
from service.chemistry import density
from service.chemistry.mixing_records import Charge
from service.chemistry.ranges import ROUNDING

MOST_BAGS: Final = 10_000


class Bags(Ruled, kw_only=True):
    """Whole bags, as they are bought."""

    count: Annotated[int, Meta(ge=1, le=MOST_BAGS, description="How many.", examples=[2])]
    mass: Annotated[PlainMass, Meta(description="What one holds.", examples=["25 kg"])]


class SolidToMix(Ruled, kw_only=True):
    """The solid alkali, and how much of it where that is what is told."""

    alkali: Alkali
    mass_as_supplied: Annotated[PlainMass, Meta(description="What is weighed from the bag.")] | None = None
    bags: Annotated[Bags, Meta(description="Whole bags of it.")] | None = None
    temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None
    purity: PurityGiven | None = None
    moisture: MoistureGiven | None = None

    rules: ClassVar[tuple[Rule, ...]] = (AtMostOne(("mass_as_supplied", "bags")),)

    @property
    def mass(self) -> float | None:
        """What is to be mixed [kg]; None where the stock's own amount is told."""
        if self.bags is not None:
            return self.bags.count * self.bags.mass.value
        return None if self.mass_as_supplied is None else self.mass_as_supplied.value


class Amounts(NamedTuple):
    """What a wanted stock takes [kg]."""

    solid: float
    water: float
    """Water to add, as liquid or as ice."""
    total: float
    """The finished stock, what was in the vessel counted."""


def fill_mass(vessel: KnownVessel, alkali: AlkaliName, w: float, hot: float) -> float | None:
    """Stock that fills a vessel with room for foam while it is hot [kg]; None where its volume is not known.

    Args:
        vessel: the vessel.
        alkali: the hydroxide.
        w: mass fraction of the stock.
        hot: how hot it may get [°C].
    """
    if vessel.volume is None:
        return None
    t = min(max(hot, 0.0), density.HIGHEST_TEMPERATURE[alkali])
    return ROOM_FOR_FOAM * vessel.volume * density.density(alkali, w, t)


def amounts(
    w: float, solid: GivenSolid, told: tuple[float | None, float | None], existing: Charge, notes: Notes
) -> Amounts | None:
    """Solid and water for a stock of a strength; None where there is no such mixing, which goes into the notes.

    Args:
        w: mass fraction wanted in all that is then in the vessel.
        solid: the solid.
        told: its mass, or the mass of all that is wanted [kg]; one of them is None.
        existing: what is in the vessel already.
        notes: where faults go.
    """
    hydroxide, left = _existing(existing)
    purity = solid.solid.purity
    mass, total = told
    if mass is not None:
        total = (mass * purity + hydroxide) / w
    elif total is not None:
        mass = (total * w - hydroxide) / purity
    else:
        return None
    if total > MASS.high:
        notes.fault(
            "/solid",
            "out-of-range",
            f"the stock would weigh {weight(total)}, more than anything that is mixed",
            "check the count and the mass of the bags, and their unit",
        )
        return None
    if mass <= 0:
        notes.fault(
            "/existing_stock",
            "contradiction",
            f"what is in the vessel holds {weight(hydroxide)} of hydroxide already, and {weight(total)} at "
            f"{percent(w)} hold {weight(total * w)}: there is nothing to mix in",
            "ask for more, or for a stronger stock",
        )
        return None
    water = total - mass - left
    if water < -ROUNDING * total:
        strongest = (mass * purity + hydroxide) / (mass + left)
        notes.fault(
            "/strength",
            "contradiction",
            f"even without any water this solid makes a {percent(strongest, 2)} stock, and {percent(w, 2)} is wanted",
            "ask for a weaker stock, or give a purer solid",
        )
        return None
    # What is neither hydroxide nor water makes the solution itself stronger than the strength that is wanted.
    inert = mass * max(1 - purity - solid.solid.moisture, 0.0)
    in_solution, top = w * total / (total - inert), SOLUBILITY[solid.alkali]
    if in_solution > top + ROUNDING:
        notes.fault(
            "/strength",
            "beyond-solubility",
            f"beside what is neither hydroxide nor water it is a {percent(in_solution, 2)} solution: "
            f"{SOLUBILITY_REASON[solid.alkali]}",
            "ask for a weaker stock, or give a purer solid",
        )
        return None
    return Amounts(mass, max(water, 0.0), total)


def _existing(charge: Charge) -> tuple[float, float]:
    """Hydroxide and all there is in the vessel already [kg]."""
    left = sum(part.mass for part in charge if part is not None)
    return (0.0 if charge.stock is None else charge.stock.mass * charge.stock.mass_fraction), left
