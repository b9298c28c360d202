"""A batch made from a recipe: everything that is weighed for it, by the step it goes in at."""

from typing import Final, Literal, NamedTuple

from service.calculations.batch.fats import WeighedFat
from service.calculations.batch.split import Added, Source, Split
from service.calculations.batch.split_apportioning import split_liquid
from service.calculations.batch.split_reading import WATER
from service.calculations.batch.superfat_weighed import Drawn
from service.calculations.orders.moved import RECIPE, within
from service.calculations.orders.recipe_reading import Addition, ReadRecipe
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes
from service.chemistry.saponification_budget import Reagent
from service.chemistry.uncertainty import EXACT

Step = Literal["fats", "stock", "solid-alkali", "liquids-into-fats", "liquids-into-stock", "trace"]
"""When something is weighed."""
GoesInto = Literal["fats", "stock", "batter"]
"""The pot with the fats, the jug with the stock, or the batter that both have become."""

DISSOLVING_WATER: Final = WATER
"""What solid alkali is dissolved in, in its own mass at least."""


class Weighing(NamedTuple):
    """Something to weigh; masses in kg."""

    step: Step
    material: str
    mass: float
    goes_into: GoesInto
    of: WeighedFat | Source | Added | Reagent | Addition
    """What it is of."""


class Made(NamedTuple):
    """A batch; masses in kg."""

    recipe: ReadRecipe
    fat_mass: float
    split: Split
    weighings: list[Weighing]
    """In the order of work."""

    @property
    def mass(self) -> float:
        """Of all that is poured."""
        return sum([one.mass for one in self.weighings])


def make(recipe: ReadRecipe, fat_mass: float, notes: Notes) -> Made:
    """The batch that a mass of fats makes.

    Args:
        recipe: what a kilogram of fats goes with.
        fat_mass: mass of all the fats [kg], above 0.
        notes: where faults go.

    Raises:
        Refusal: the liquids cannot be had as they are asked for.
    """
    needed = [one.grown(fat_mass) for one in recipe.sources]
    lines = [one._replace(mass=None if one.mass is None else one.mass * fat_mass) for one in recipe.lines]
    total = recipe.total
    if total.mass is not None:
        total = total._replace(mass=total.mass * fat_mass)
    with within(notes, RECIPE):
        split = split_liquid(needed, lines, total, notes, whole=recipe.counts_whole, compensate=recipe.compensates)
    return Made(recipe, fat_mass, split, _weighings(recipe, fat_mass, split))


def _weighings(recipe: ReadRecipe, fat_mass: float, split: Split) -> list[Weighing]:
    """Everything to weigh: fats, stock, what is dissolved, liquids and acids into fats, liquids into stock, trace."""
    found = [Weighing("fats", one.fat.label, one.mass * fat_mass, "fats", one) for one in recipe.fats]
    found += [
        Weighing("fats", one.given.material, one.mass * fat_mass, "fats", one)
        for one in recipe.additions
        if one.goes_into == "fats"
    ]
    for source in split.sources:
        if source.strength is not None:
            found.append(Weighing("stock", stock_name(source.alkali), source.mass + source.own_water, "stock", source))
    found += _dissolving(split)
    into_fats = [one for one in split.added if one.add_to == "fats"]
    found += [Weighing("liquids-into-fats", one.liquid.id, one.mass, "fats", one) for one in into_fats]
    found += [Weighing("liquids-into-fats", str(one.reagent), one.mass * fat_mass, "fats", one) for one in recipe.acids]
    into_stock = [] if split.only_solids else split.plain_water
    found += [Weighing("liquids-into-stock", one.liquid.id, one.mass, "stock", one) for one in into_stock]
    found += [
        Weighing("trace", one.given.material, one.mass * fat_mass, "batter", one)
        for one in recipe.additions
        if one.goes_into == "trace"
    ]
    return found


def _dissolving(split: Split) -> list[Weighing]:
    """Solid alkali, and before it the water that it goes into."""
    solids = [one for one in split.sources if one.strength is None and one.purity is not None]
    if not solids:
        return []
    more = split.more_dissolving_water
    water = sum([one.own_water for one in solids]) + sum(
        [one.mass for one in more if one.liquid.id == DISSOLVING_WATER]
    )
    return [
        Weighing("solid-alkali", DISSOLVING_WATER, water, "stock", solids[0]),
        *[
            Weighing("solid-alkali", one.liquid.id, one.mass, "stock", one)
            for one in more
            if one.liquid.id != DISSOLVING_WATER
        ],
        *[Weighing("solid-alkali", one.alkali, one.mass / one.purity, "stock", one) for one in solids if one.purity],
    ]


def stock_name(alkali: AlkaliName) -> str:
    """What the stock of an alkali is called among materials."""
    return f"{alkali}-stock"


class Weighed(NamedTuple):
    """A batch as its scale shows it; masses in kg."""

    fats: list[WeighedFat]
    drawn: list[Drawn]
    liquids: list[Added]
    acids: list[Reagent]
    additions: list[Addition]
    dissolving_water: float

    @property
    def mass(self) -> float:
        """Of all that is poured."""
        parts = (self.fats, self.liquids, self.acids, self.additions)
        return (
            sum([one.mass for part in parts for one in part])
            + sum([one.reagent.mass for one in self.drawn])
            + self.dissolving_water
        )


def as_weighed(weighings: list[Weighing]) -> Weighed:
    """The batch that really comes of what is weighed.

    Args:
        weighings: everything, with the masses that the scale shows.
    """
    found = Weighed([], [], [], [], [], 0.0)
    water = 0.0
    for one in weighings:
        of = one.of
        if isinstance(of, WeighedFat):
            found.fats.append(WeighedFat(of.fat, one.mass, EXACT))
        elif isinstance(of, Added):
            found.liquids.append(of._replace(mass=one.mass))
        elif isinstance(of, Reagent):
            found.acids.append(of._replace(mass=one.mass))
        elif isinstance(of, Addition):
            found.additions.append(of._replace(mass=one.mass))
        elif one.material == DISSOLVING_WATER:
            water += one.mass
        else:
            found.drawn.append(_drawn(of, one.mass))
    return found._replace(dissolving_water=water)


def _drawn(source: Source, mass: float) -> Drawn:
    """Alkali of a source in the mass that is weighed of it."""
    reagent = source.reagent._replace(mass=mass)
    content = source.purity if source.strength is None else source.strength.mass_fraction
    return Drawn(source.alkali, reagent, source.strength is not None, content or 0.0)
