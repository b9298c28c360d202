"""What was really weighed of alkali and liquids, read from a request: its hydroxide, and how well that is known."""

from collections.abc import Hashable, Sequence
from typing import Annotated, Final, NamedTuple

from msgspec import Meta

from service.calculations.batch.alkalis import purity_of
from service.calculations.batch.fats import WeighedFat
from service.calculations.batch.liquids import find_liquid
from service.calculations.batch.split import Added
from service.calculations.shared.given import Mass, PlainMass
from service.calculations.shared.identifiers import SHELF
from service.calculations.shared.messages import Alkali, AlkaliName, Identifier, PurityGiven, Solution
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import Ruled
from service.calculations.stock.solutions import ROOM, mass_fraction
from service.calculations.stock.volumes import by_volume
from service.chemistry import density, molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.saponification_budget import FatLine, Reagent
from service.chemistry.uncertainty import EXACT, Combined, Part, normal

LEAST_STRENGTH: Final = 1e-3
"""Mass fraction below which a solution brings no alkali to speak of."""


class SolidWeighed(Ruled, kw_only=True):
    """Solid alkali that went into the batch, as it was weighed from the bag."""

    alkali: Alkali
    mass_as_supplied: Annotated[Mass, Meta(description="What the scale showed.", examples=["50 g"])]
    purity: PurityGiven | None = None


class LiquidWeighed(Ruled, kw_only=True):
    """A liquid that went into the batch beside the stock."""

    liquid: Annotated[Identifier, Meta(examples=["goat-milk"], extra={SHELF: "liquids"})]
    mass: Annotated[PlainMass, Meta(description="What the scale showed.", examples=["130 g"])]


class Drawn(NamedTuple):
    """Alkali as it was weighed: drawn from a stock, or solid."""

    alkali: AlkaliName
    reagent: Reagent
    from_stock: bool
    content: float
    """Mass fraction of pure hydroxide in what was weighed."""

    @property
    def alkali_mass(self) -> float:
        """Pure hydroxide [kg]."""
        return self.reagent.mass * self.content

    @property
    def amount(self) -> float:
        """Pure hydroxide [mol]."""
        return self.reagent.mass * self.reagent.content


class Batch(NamedTuple):
    """All that was weighed for a batch."""

    fats: Sequence[WeighedFat]
    drawn: Sequence[Drawn]
    liquids: Sequence[Added]
    own_acids: Sequence[Reagent]
    division: float
    """Step of the scale [kg]; 0 where it need not count."""

    @property
    def beside(self) -> list[FatLine]:
        """The fats that liquids bring."""
        return [line for one in self.liquids if (line := one.fat_line) is not None]

    @property
    def lines(self) -> list[FatLine]:
        """All that takes alkali as a fat."""
        return [*[one.line for one in self.fats], *self.beside]

    @property
    def reagents(self) -> tuple[list[Reagent], list[Reagent], float]:
        """The alkalis, the acids, those of liquids among them, and the step of the scale."""
        acids = [*self.own_acids, *[one.acid for one in self.liquids if one.liquid.acid_per_mass]]
        return [one.reagent for one in self.drawn], acids, self.division


def read_draws(given: Sequence[Solution], notes: Notes) -> list[Drawn]:
    """The stock that was drawn; faults and assumptions go into the notes."""
    return [one for index, draw in enumerate(given) if (one := _draw(draw, notes, f"/stock_draws/{index}")) is not None]


def _draw(given: Solution, notes: Notes, at: str) -> Drawn | None:
    if given.state == "ice":
        notes.fault(
            f"{at}/state",
            "contradiction",
            "ice brings no alkali",
            "put water and ice under liquids, as distilled-water",
        )
        return None
    found = mass_fraction(given.strength, given.alkali, notes, f"{at}/strength", lowest=LEAST_STRENGTH)
    if found is None:
        return None
    w, spread, by_density = found
    mass, mass_part = (0.0, EXACT) if given.mass is None else (given.mass.value, part_of(given.mass))
    if given.volume is not None:
        if given.temperature is None:
            notes.assume(f"{at}/temperature", "20 °C", "a workshop's room")
        t = ROOM if given.temperature is None else given.temperature.value
        try:
            mass = given.volume.value * density.density(given.alkali, w, t)
        except OutOfRange:
            notes.fault(
                f"{at}/temperature" if given.temperature is not None else f"{at}/volume",
                "beyond-data",
                f"the density of {percent(w)} {given.alkali} at {t:.4g} °C is not known, so its volume says no mass",
                "weigh the draw and give its mass",
            )
            return None
        # A stronger stock is heavier too, and what a density told errs with the volume's mass.
        goes = by_volume(given.alkali, found, t)
        own, (total, widest) = 1 + w * goes.by_strength, found.own
        spread = Combined(own * total, own * widest)
        mass_part = normal(mass * abs(goes.by_density + by_density / w))
    molar_mass = molar_masses.ALKALI[given.alkali]
    content_part = Part(spread.standard_uncertainty / molar_mass, spread.widest_rectangular / molar_mass)
    # Draws that are described alike come from one stock, whose strength errs once.
    stock = _origin("stock", given.alkali, w, found.spread)
    return Drawn(
        given.alkali,
        Reagent(stock, mass, w / molar_mass, content_part, mass_part),
        from_stock=True,
        content=w,
    )


def _origin(what: str, alkali: AlkaliName, content: float, spread: Part | Combined) -> Hashable:
    """The stock or the bag, rounded: 50 % and 0.5 are one, though they may differ in the last bit."""
    return what, alkali, f"{content:.9g}", f"{spread[0]:.6g}", f"{spread[1]:.6g}"


def read_solids(given: Sequence[SolidWeighed], notes: Notes) -> list[Drawn]:
    """The solid alkali that was weighed; faults and assumptions go into the notes."""
    found = []
    for index, one in enumerate(given):
        at = f"/solids/{index}/purity"
        purity, part = purity_of(one.alkali, one.purity, notes, at)
        if purity is None:
            notes.fault(
                at,
                "purity-needed",
                "solid KOH holds about a tenth of water, so its purity must be known",
                "give the purity of the certificate, as in '90 %'",
            )
            continue
        molar_mass = molar_masses.ALKALI[one.alkali]
        reagent = Reagent(
            _origin("solid", one.alkali, purity, part),
            one.mass_as_supplied.value,
            purity / molar_mass,
            Part(part.standard_uncertainty / molar_mass, part.rectangular_half_width / molar_mass),
            part_of(one.mass_as_supplied),
        )
        found.append(Drawn(one.alkali, reagent, from_stock=False, content=purity))
    return found


def read_liquids(given: Sequence[LiquidWeighed], notes: Notes) -> list[Added]:
    """The liquids that went in; faults go into the notes."""
    found = []
    for index, one in enumerate(given):
        liquid = find_liquid(one.liquid, notes, f"/liquids/{index}/liquid")
        if liquid is not None:
            found.append(Added(liquid, one.mass.value, "fats"))
    return found
