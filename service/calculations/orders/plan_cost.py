"""What a plan costs in materials, by article."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from service.calculations.batch.split import Source
from service.calculations.orders.batch_made import stock_name
from service.calculations.orders.money import Price, cost_of, share_of, told, total_of
from service.calculations.orders.moved import take_over
from service.calculations.orders.plan_answer import PlanCost, SkuCost
from service.calculations.orders.plan_batches import PlanBatch
from service.calculations.orders.plan_request import PlanMaterial, ProductionPlanRequest
from service.calculations.orders.recipe_reading import is_article
from service.calculations.orders.sheet_cost import MaterialPrice, Prices, caution_unpriced, read_prices
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
    prices: Prices, request: ProductionPlanRequest, made: Mapping[str, Sequence[PlanBatch]], notes: Notes
) -> PlanCost:
    """What the batches of each article cost: a line for each material of it, rounded once, and exact sums.

    Args:
        prices: of the materials.
        request: the plan that is asked for.
        made: the batches of each article.
        notes: where cautions and assumptions go.
    """
    without: dict[str, None] = {}
    by_solid: dict[str, None] = {}
    costs: list[SkuCost] = []
    totals: list[Decimal] = []
    for sku in request.recipes:
        batches = made.get(sku, ())
        if not batches:
            continue
        masses: dict[str, float] = {}
        for batch in batches:
            for material, mass in _priced(batch, prices, by_solid):
                masses[material] = masses.get(material, 0.0) + mass
        lines = []
        for material, mass in masses.items():
            price = prices.by_material.get(material)
            if price is None:
                without[material] = None
            else:
                lines.append(cost_of(mass, price.amount, _per(price), prices.currency))
        total, bars = total_of(lines, prices.currency), len(batches) * request.recipes[sku].bars
        totals.append(total)
        costs.append(
            SkuCost(
                sku=sku,
                bars=CountFigure(bars),
                cost=told(total, prices.currency),
                by_bar=told(share_of(total, bars, prices.currency), prices.currency),
            )
        )
    for alkali in by_solid:
        notes.assume("/materials", f"{alkali} for its stock", "the stock is made of the solid and water")
    caution_unpriced(list(without), notes)
    return PlanCost(
        by_sku=costs, total=told(total_of(totals, prices.currency), prices.currency), without_price=list(without)
    )


def _per(price: Price) -> float:
    return 1.0 if price.per is None else price.per.value


def _priced(batch: PlanBatch, prices: Prices, by_solid: dict[str, None]) -> list[tuple[str, float]]:
    """What is priced of a batch: of stock without a price of its own, its hydroxide."""
    found = []
    for one in batch.weighings:
        material, mass = one.material, one.mass
        source = one.of
        if is_article(source):  # its batches are counted already
            continue
        if isinstance(source, Source) and material == stock_name(source.alkali) and material not in prices.by_material:
            material = source.alkali
            mass *= 1.0 if source.strength is None else source.strength.mass_fraction
            if material in prices.by_material:
                by_solid[material] = None
        found.append((material, mass))
    return found
