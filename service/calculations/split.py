"""The parts of a liquid split and their sums; masses in kg, amounts in mol."""

from collections.abc import Sequence
from typing import Literal, NamedTuple

from service.calculations.liquids import KnownLiquid
from service.calculations.messages import AlkaliName
from service.calculations.solutions import Found
from service.chemistry import molar_masses
from service.chemistry.liquid_split import LEAST_WATER_RATIO, draw_mass
from service.chemistry.saponification_budget import FatLine, Reagent, reagent_amount
from service.chemistry.uncertainty import EXACT, Part

AddTo = Literal["fats", "stock"]


class Source(NamedTuple):
    """An alkali of the batch and where it comes from."""

    alkali: AlkaliName
    mass: float
    """Pure hydroxide."""
    mass_part: Part
    strength: Found | None
    """Of its stock; None where it is weighed dry."""
    temperature: float
    purity: float | None
    """Of the solid, where it is weighed dry and its purity is known."""
    purity_part: Part = EXACT

    @property
    def amount(self) -> float:
        """Hydroxide."""
        return self.mass / molar_masses.ALKALI[self.alkali]

    @property
    def own_water(self) -> float:
        """All else that comes with the hydroxide, or the water it is dissolved in."""
        if self.strength is None:
            return self.mass * LEAST_WATER_RATIO
        return draw_mass(self.mass, self.strength.mass_fraction) - self.mass

    @property
    def reagent(self) -> Reagent:
        """The alkali as it is weighed, with the spread of its strength."""
        molar_mass = molar_masses.ALKALI[self.alkali]
        if self.strength is None:
            if self.purity is None:
                return Reagent(self.alkali, self.mass, 1 / molar_mass)
            part = Part(*(width / molar_mass for width in self.purity_part))
            return Reagent(self.alkali, self.mass / self.purity, self.purity / molar_mass, part)
        w, spread = self.strength
        part = Part(spread.standard_uncertainty / molar_mass, spread.widest_rectangular / molar_mass)
        return Reagent(self.alkali, draw_mass(self.mass, w), w / molar_mass, part)


class Line(NamedTuple):
    """A liquid asked for: a mass, or a share, or else the rest."""

    liquid: KnownLiquid
    mass: float | None
    share: float | None
    add_to: AddTo


class Total(NamedTuple):
    """The liquid wanted in all: its mass, or its ratio to the alkali, or neither."""

    mass: float | None
    ratio: float | None


class Added(NamedTuple):
    """A liquid to add, and how much."""

    liquid: KnownLiquid
    mass: float
    add_to: AddTo

    @property
    def fat_line(self) -> FatLine | None:
        """The fat it brings, as a fat of the batch."""
        fat = self.liquid.fat_like
        if fat is None or not self.liquid.fat:
            return None
        mass = self.mass * self.liquid.fat
        return FatLine(f"fat of {self.liquid.id}", mass, fat.saponification_value, fat.saponification_part)

    @property
    def acid(self) -> Reagent:
        """The acid it brings."""
        return Reagent(f"acid of {self.liquid.id}", self.mass, self.liquid.acid_per_mass, self.liquid.acid_part)


class Split:
    """What is drawn and added, and its sums.

    Attributes:
        needed_amount: hydroxide asked for.
        sources: the alkalis as they are drawn, compensation included.
        added: the liquids.
        counts_whole: whether a gram of any liquid counts as a gram.
        alkali_mass: pure hydroxide in all.
        amount: the same as amount.
        mean_molar_mass: of the hydroxides together.
        own_water: what stock and dissolved alkali bring.
        added_mass: all added liquid.
        counted: the same, as it is counted.
        actual_water_ratio: water that is really there, per pure hydroxide.
        acid_amount: hydroxide that the liquids' acids take.
        acid_combined: its uncertainty.
    """

    def __init__(
        self, needed: Sequence[Source], sources: Sequence[Source], added: Sequence[Added], *, counts_whole: bool
    ) -> None:
        self.needed_amount = sum(one.amount for one in needed)
        self.sources = sources
        self.added = added
        self.counts_whole = counts_whole
        self.alkali_mass = sum(one.mass for one in sources)
        self.amount = sum(one.amount for one in sources)
        self.mean_molar_mass = self.alkali_mass / self.amount
        self.own_water = sum(one.own_water for one in sources)
        self.added_mass = sum(one.mass for one in added)
        self.counted = sum(one.mass * one.liquid.counted(whole=counts_whole) for one in added)
        water = sum(one.mass * one.liquid.water for one in added)
        self.actual_water_ratio = (self.own_water + water) / self.alkali_mass
        self.acid_amount, self.acid_combined = reagent_amount([one.acid for one in added])

    @property
    def counted_ratio(self) -> float:
        """Liquid per pure hydroxide, as it is counted."""
        return (self.own_water + self.counted) / self.alkali_mass
