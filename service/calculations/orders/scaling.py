"""How much fat a batch takes to come to what is wanted of it. Everything in it is in proportion to its fats."""

from collections.abc import Callable

from service.calculations.orders.batch_made import Made, make
from service.calculations.orders.recipe import ScaleTo
from service.calculations.orders.recipe_reading import ReadRecipe
from service.calculations.shared import units
from service.calculations.shared.notes import Notes, weight


def fat_mass(recipe: ReadRecipe, to: ScaleTo, notes: Notes, batter_density: Callable[[Made], float]) -> float:
    """Mass of all the fats [kg].

    Args:
        recipe: what a kilogram of fats goes with.
        to: what the batch is to come to.
        notes: where faults go.
        batter_density: of a batch as it is poured [kg/m3].

    Raises:
        Refusal: no batch comes to that.
    """
    if to.fat_mass is not None:
        return to.fat_mass.value
    one = make(recipe, 1.0, notes)
    if to.stock_draw is not None:
        found = to.stock_draw.value / _draw(one, to, notes)
    elif to.mould_volume is not None:
        found = to.mould_volume.value * batter_density(one) / one.mass
    elif to.bars is not None and to.bar_mass is not None:
        found = to.bars * to.bar_mass.value / one.mass
    elif to.batter_mass is not None:
        found = to.batter_mass.value / one.mass
    else:
        raise TypeError(to)  # the rules of ScaleTo leave nothing else
    if not units.MASS.low <= found <= units.MASS.high:
        raise notes.refuse(
            "/scale_to",
            "out-of-range",
            f"that takes {weight(found)} of fats",
            "check the numbers and their units",
        )
    return found


def _draw(made: Made, to: ScaleTo, notes: Notes) -> float:
    """What a kilogram of fats draws of the stock that is at hand [kg]."""
    drawn = {one.alkali: one.mass + one.own_water for one in made.split.sources if one.strength is not None}
    if not drawn:
        raise notes.refuse(
            "/scale_to/stock_draw",
            "contradiction",
            "a draw of stock is given, and no stock it could be of",
            "give the stock in stocks, or scale to fat_mass",
        )
    if to.alkali is None and len(drawn) > 1:
        raise notes.refuse(
            "/scale_to/alkali",
            "contradiction",
            "two stocks are drawn from, and nothing says of which this draw is",
            "give alkali, as NaOH or KOH",
        )
    alkali = to.alkali or next(iter(drawn))
    if alkali not in drawn:
        raise notes.refuse(
            "/scale_to/alkali",
            "contradiction",
            f"no {alkali} stock is drawn for this recipe",
            f"give {next(iter(drawn))}, or give a stock of {alkali}",
        )
    return drawn[alkali]
