"""What a plan costs in materials, by article."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from msgspec import UNSET

from service.calculations.orders.money import share_of, told, total_of
from service.calculations.orders.moved import take_over
from service.calculations.orders.plan_answer import PlanCost, SkuCost
from service.calculations.orders.plan_batches import PlanBatch
from service.calculations.orders.plan_demand import Article, levels
from service.calculations.orders.plan_request import PlanMaterial
from service.calculations.orders.recipe_reading import is_article
from service.calculations.orders.sheet_cost import (
    OF_SOLID,
    MaterialPrice,
    Prices,
    caution_unpriced,
    priced,
    read_prices,
)
from service.calculations.shared.notes import Notes
from service.calculations.shared.told import CountFigure


def read_shelf_prices(given: Sequence[PlanMaterial], notes: Notes) -> Prices | None:
    """The prices of a shelf's materials; None where there are none. Faults go into the notes.

    Args:
        given: materials as the request has them.
        notes: where faults and assumptions go.
    """
    priced = [(index, one.material, one.price) for index, one in enumerate(given) if one.price is not None]
    told_notes = Notes()
    found = read_prices([MaterialPrice(material=material, price=price) for _, material, price in priced], told_notes)
    places = [(f"/prices/{at}/price", f"/materials/{index}/price") for at, (index, _, _) in enumerate(priced)]
    places += [(f"/prices/{at}", f"/materials/{index}") for at, (index, _, _) in enumerate(priced)]
    take_over(told_notes, notes, places, assumed=["/prices"])
    return found


def plan_cost(
    prices: Prices, articles: Mapping[str, Article], made: Mapping[str, Sequence[PlanBatch]], notes: Notes
) -> PlanCost:
    """What the batches of each article cost: a line for each material of it, rounded once, and exact sums.

    Args:
        prices: of the materials.
        articles: by SKU, in the order of the recipes.
        made: the batches of each article.
        notes: where cautions and assumptions go.
    """
    without: dict[str, None] = {}
    by_solid: dict[str, None] = {}
    totals = {sku: _total(made[sku], prices, without, by_solid) for sku in articles if sku in made}
    for alkali in by_solid:
        notes.assume("/materials", f"{alkali} for its stock", OF_SOLID)
    caution_unpriced(list(without), notes)
    with_parts = _with_parts(articles, totals, made)
    costs = []
    for sku, total in totals.items():
        bars = len(made[sku]) * articles[sku].bars
        costs.append(
            SkuCost(
                sku=sku,
                bars=CountFigure(bars),
                cost=told(total, prices.currency),
                by_bar=told(share_of(total, bars, prices.currency), prices.currency),
                by_bar_with_parts=told(share_of(with_parts[sku], 1, prices.currency), prices.currency)
                if articles[sku].parts
                else UNSET,
            )
        )
    whole = total_of(totals.values(), prices.currency)
    return PlanCost(by_sku=costs, total=told(whole, prices.currency), without_price=list(without))


def _total(
    batches: Sequence[PlanBatch], prices: Prices, without: dict[str, None], by_solid: dict[str, None]
) -> Decimal:
    """What batches of an article cost; what has no price, and what is priced as solid, is noted."""
    masses: dict[str, float] = {}
    for batch in batches:
        for one in batch.weighings:
            if is_article(one.of):  # its batches are counted already
                continue
            material, mass = priced(one, prices)
            masses[material] = masses.get(material, 0.0) + mass
            if material not in prices.by_material:
                without[material] = None
            elif material != one.material:
                by_solid[material] = None
    lines = [prices.cost(material, mass) for material, mass in masses.items() if material in prices.by_material]
    return total_of(lines, prices.currency)


def _with_parts(
    articles: Mapping[str, Article], totals: Mapping[str, Decimal], made: Mapping[str, Sequence[PlanBatch]]
) -> dict[str, Decimal]:
    """What a bar of each article costs with the bars of other soaps in it; bars from the shelf cost nothing here."""
    depth = levels(articles)
    found: dict[str, Decimal] = {}
    for sku in sorted(totals, key=lambda name: -depth[name]):  # parts lie deeper than what they go into
        of = articles[sku]
        found[sku] = totals[sku] / (len(made[sku]) * of.bars)
        for part in of.parts:
            found[sku] += found.get(part.sku, Decimal(0)) * Decimal(repr(part.bars_per_batch)) / of.bars
    return found
