"""The batch of each article, by the tanks that it is drawn from."""

from datetime import date
from math import inf
from typing import NamedTuple

from service.calculations.orders.batch_made import Made, Weighed, Weighing, as_weighed, make, stock_name
from service.calculations.orders.moved import within
from service.calculations.orders.plan_request import PlanStock, ProductionPlanRequest
from service.calculations.orders.plan_stock import Draw, Need
from service.calculations.orders.recipe_reading import read_recipe
from service.calculations.orders.weigh_list import on_the_scale
from service.calculations.shared.faults import Refusal
from service.calculations.shared.given import PlainMass
from service.calculations.shared.messages import AlkaliName, Solution
from service.calculations.shared.notes import Notes
from service.calculations.shared.repeats import pointer

Sources = tuple[tuple[int, bool], ...]
"""The tanks that a batch is drawn from: their places, and whether each was filled anew by this plan."""


class PlanBatch(NamedTuple):
    """A batch of an article."""

    made: Made
    weighings: list[Weighing]
    """As the scale shows them."""
    weighed: Weighed


class Planned(NamedTuple):
    """A batch in its place."""

    sku: str
    due: date | None
    day: int
    batch: PlanBatch
    draws: list[Draw]


class Batches:
    """The batches of a plan, each reckoned once for the same tanks."""

    def __init__(self, request: ProductionPlanRequest, division: float, notes: Notes) -> None:
        self._request = request
        self._division = division
        self._notes = notes
        self._stocks = request.stocks or []
        self._kept: dict[tuple[str, Sources], PlanBatch] = {}
        self._told: set[str] = set()
        self._refused: dict[tuple[str, Sources], Refusal] = {}

    def alkalis(self, sku: str) -> list[AlkaliName]:
        """The alkalis of an article of which there is a stock."""
        given = self._request.recipes[sku].recipe.alkalis
        names: list[AlkaliName] = ["NaOH"] if given is None else [one.alkali for one in given if _counts(one)]
        at_hand = {one.alkali for one in self._stocks}
        return [name for name in dict.fromkeys(names) if name in at_hand]

    def first(self, alkali: AlkaliName) -> int:
        """The first tank of an alkali."""
        return next(place for place, one in enumerate(self._stocks) if one.alkali == alkali)

    def batch(self, sku: str, sources: Sources) -> PlanBatch:
        """The batch of an article.

        Args:
            sku: the article.
            sources: the tanks that it is drawn from.

        Raises:
            Refusal: of its recipe no batch can be made.
        """
        key = (sku, sources)
        if key not in self._kept:
            self._kept[key] = self._make(sku, sources)
        return self._kept[key]

    def _make(self, sku: str, sources: Sources) -> PlanBatch:
        given = self._request.recipes[sku]
        places = [(f"/stocks/{at}", f"/stocks/{place}") for at, (place, _) in enumerate(sources)]
        places.append(("/recipe", f"{pointer('/recipes', sku)}/recipe"))
        notes = self._notes if sku not in self._told else Notes()  # what is assumed is told once
        before = len(notes.assumed)
        with within(notes, places):
            recipe = read_recipe(
                given.recipe, [_solution(self._stocks[place], again) for place, again in sources], notes
            )
            made = make(recipe, given.batch.fat_mass.value, notes)
        self._told.add(sku)
        notes.assumed[before:] = [one for one in notes.assumed[before:] if not one.pointer.startswith("/stocks/")]
        weighings = on_the_scale(made.weighings, self._division, Notes())
        return PlanBatch(made, weighings, as_weighed(weighings))

    def needs(self, sku: str) -> dict[AlkaliName, Need]:
        """What a batch draws of each alkali, by the tank.

        Args:
            sku: the article.
        """
        alkalis = self.alkalis(sku)
        return {alkali: self._need(sku, alkali, alkalis) for alkali in alkalis}

    def _need(self, sku: str, alkali: AlkaliName, alkalis: list[AlkaliName]) -> Need:
        def need(place: int, again: bool) -> float:
            sources = tuple((place, again) if one == alkali else (self.first(one), False) for one in alkalis)
            if (sku, sources) in self._refused:
                return inf
            faults, assumed = len(self._notes.faults), len(self._notes.assumed)
            try:
                return drawn(self.batch(sku, sources), alkali)
            except Refusal as refused:
                del self._notes.faults[faults:], self._notes.assumed[assumed:]
                self._refused[sku, sources] = refused
                return inf

        return need

    def refusal(self, sku: str) -> Refusal | None:
        """Why none of the tanks that were asked for an article makes a batch of it; None where one does.

        Args:
            sku: the article.
        """
        if any(name == sku for name, _ in self._kept):
            return None
        return next((refused for (name, _), refused in self._refused.items() if name == sku), None)


def drawn(batch: PlanBatch, alkali: AlkaliName) -> float:
    """Mass of the stock of an alkali that a batch draws [kg].

    Args:
        batch: the batch.
        alkali: the hydroxide.
    """
    name = stock_name(alkali)
    return sum([one.mass for one in batch.weighings if one.step == "stock" and one.material == name])


def _counts(one: object) -> bool:
    """Whether an alkali has a share that is not nothing."""
    shares = [getattr(one, name) for name in ("mole_share", "mass_share")]
    given = [share for share in shares if share is not None]
    return not given or given[0].value > 0


def _solution(stock: PlanStock, again: bool) -> Solution:
    """A stock as a recipe reads it, of no matter how much."""
    strength = stock.strength
    if again and stock.remixing is not None and stock.remixing.strength is not None:
        strength = stock.remixing.strength
    return Solution(alkali=stock.alkali, mass=PlainMass(1.0), strength=strength, temperature=stock.temperature)
