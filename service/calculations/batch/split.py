"""The parts of a liquid split and their sums; masses in kg, amounts in mol."""

from collections.abc import Sequence
from typing import Final, Literal, NamedTuple

from service.calculations.batch.liquids import KnownLiquid
from service.calculations.shared.messages import AlkaliName
from service.calculations.stock.solutions import Found
from service.calculations.stock.stocks import known_stock
from service.chemistry import molar_masses
from service.chemistry.liquid_split import LEAST_WATER_RATIO, draw_mass
from service.chemistry.saponification_budget import FatLine, Reagent, reagent_amount
from service.chemistry.uncertainty import EXACT, Combined, Part

AddTo = Literal["fats", "stock"]

NO_ACID: Final = (0.0, Combined(0.0, 0.0))


class Source:
    """An alkali of the batch and where it comes from.

    Attributes:
        alkali: the hydroxide.
        mass: how much of it, pure.
        mass_part: spread of that mass.
        strength: of its stock; None where it is weighed dry.
        temperature: of its stock [°C].
        purity: of the solid, where it is weighed dry and its purity is known.
        purity_part: spread of the purity.
        amount: the mass as amount of hydroxide.
        own_water: all else that comes with the hydroxide, or the water it is dissolved in.
        stock: what is known of its stock; None where it is weighed dry.
    """

    __slots__ = (
        "alkali",
        "amount",
        "mass",
        "mass_part",
        "own_water",
        "purity",
        "purity_part",
        "stock",
        "strength",
        "temperature",
    )

    def __init__(
        self,
        alkali: AlkaliName,
        mass: float,
        mass_part: Part,
        strength: Found | None,
        *,
        temperature: float,
        purity: float | None = None,
        purity_part: Part = EXACT,
    ) -> None:
        self.alkali = alkali
        self.mass = mass
        self.mass_part = mass_part
        self.strength = strength
        self.temperature = temperature
        self.purity = purity
        self.purity_part = purity_part
        self.amount = mass / molar_masses.ALKALI[alkali]
        if strength is None:
            self.stock = None
            self.own_water = mass * LEAST_WATER_RATIO
        else:
            self.stock = known_stock(alkali, strength.mass_fraction, temperature)
            self.own_water = draw_mass(mass, strength.mass_fraction) - mass

    def grown(self, factor: float) -> "Source":
        """The same with more alkali."""
        return Source(
            self.alkali,
            self.mass * factor,
            self.mass_part,
            self.strength,
            temperature=self.temperature,
            purity=self.purity,
            purity_part=self.purity_part,
        )

    @property
    def reagent(self) -> Reagent:
        """The alkali as it is weighed, with the spread of its strength."""
        molar_mass = molar_masses.ALKALI[self.alkali]
        if self.strength is None:
            if self.purity is None:
                return Reagent(self.alkali, self.mass, 1 / molar_mass)
            part = Part(*(width / molar_mass for width in self.purity_part))
            return Reagent(self.alkali, self.mass / self.purity, self.purity / molar_mass, part)
        w, spread, _ = self.strength
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
        acids: the acids that the liquids bring.
        acid_amount: hydroxide that the liquids' acids take.
        acid_combined: its uncertainty.
    """

    def __init__(
        self, needed: Sequence[Source], sources: Sequence[Source], added: Sequence[Added], *, counts_whole: bool
    ) -> None:
        self.needed_amount = sum([one.amount for one in needed])
        self.sources = sources
        self.added = added
        self.counts_whole = counts_whole
        self.alkali_mass = sum([one.mass for one in sources])
        self.amount = sum([one.amount for one in sources])
        self.mean_molar_mass = self.alkali_mass / self.amount
        self.own_water = sum([one.own_water for one in sources])
        self.added_mass = self.counted = water = 0.0
        self.acids: list[Reagent] = []
        for one in added:
            liquid, mass = one.liquid, one.mass
            self.added_mass += mass
            self.counted += mass * liquid.counted(whole=counts_whole)
            water += mass * liquid.water
            if liquid.acid_per_mass:
                self.acids.append(one.acid)
        self.actual_water_ratio = (self.own_water + water) / self.alkali_mass
        self.acid_amount, self.acid_combined = reagent_amount(self.acids) if self.acids else NO_ACID

    @property
    def reagents(self) -> list[Reagent]:
        """The alkalis as they are weighed."""
        return [one.reagent for one in self.sources]

    @property
    def fat_lines(self) -> list[FatLine]:
        """The fats that the liquids bring, as far as their saponification value is known."""
        return [line for one in self.added if (line := one.fat_line) is not None]

    @property
    def only_solids(self) -> bool:
        """Whether no alkali comes from a stock, so that plain water is what it is dissolved in."""
        return all(one.strength is None for one in self.sources)

    @property
    def plain_water(self) -> list[Added]:
        """Plain water that goes to the caustic."""
        return [one for one in self.added if one.add_to == "stock"]

    @property
    def more_dissolving_water(self) -> list[Added]:
        """Of that, what dry alkali is dissolved in beside its own mass of water: all of it where there is no stock."""
        return self.plain_water if self.only_solids else []

    @property
    def dissolving_water_ratio(self) -> float:
        """Water that dry alkali is dissolved in, per mass of it: as much again, and the plain water that goes there."""
        return LEAST_WATER_RATIO + sum([one.mass for one in self.more_dissolving_water]) / self.alkali_mass

    @property
    def counted_ratio(self) -> float:
        """Liquid per pure hydroxide, as it is counted."""
        return (self.own_water + self.counted) / self.alkali_mass
