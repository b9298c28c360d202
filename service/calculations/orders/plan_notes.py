"""What a plan says beside its numbers: cautions of its recipes and mixings, and its steps."""

from collections.abc import Mapping, Sequence
from typing import Final

from service.calculations.batch.fat_notes import CAUTION_FROM, DANGER_FROM
from service.calculations.batch.split import Source
from service.calculations.batch.split_notes import caution_drawn
from service.calculations.orders.batch_content import Content
from service.calculations.orders.plan_batches import Planned
from service.calculations.orders.plan_demand import Needed
from service.calculations.orders.plan_mixing import Mixed
from service.calculations.orders.plan_request import ProductionPlanRequest
from service.calculations.orders.plan_stock import Filling
from service.calculations.orders.sheet_superfat import superfat_weighed
from service.calculations.orders.use_limits import Finished, use_limits
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.standing_cautions import DISSOLVING, HANDLING, METALS

NAMED: Final = 4
"""Articles that a message names."""


def caution_plan(
    request: ProductionPlanRequest,
    planned: Sequence[Planned],
    mixed: Sequence[tuple[Filling, Mixed]],
    notes: Notes,
) -> None:
    """What whoever works by the plan should know.

    Args:
        request: the plan that is asked for.
        planned: its batches.
        mixed: the tanks that are filled anew.
        notes: where the cautions go.
    """
    notes.tell(*HANDLING)
    _caution_caustic(planned, notes)
    _caution_limits(planned, notes)
    division = 0.0 if request.scale_division is None else request.scale_division.value
    risky: dict[str, float] = {}
    for one in planned:
        if one.sku not in risky:
            _, worst = superfat_weighed(one.batch.weighed, division, notes)
            risky[one.sku] = worst.free_alkali_probability
    _caution_risky({sku: share for sku, share in risky.items() if share >= CAUTION_FROM}, notes)
    notes.caution(
        "sheet-for-each-batch",
        "A plan holds no sheet for the bench. Ask `batch-sheet` for each batch: it tells the weigh-list in the order "
        "of work, the temperatures, and what to take care of.",
    )
    hot = [filling for filling, how in mixed if not how.sheet.reachable]
    if hot:
        notes.caution(
            "ice-too-little",
            f"In {len(hot)} of {len(mixed)} mixings no ice keeps the peak below its limit: ask `stock-mixing/ice` for "
            "the portions in which they are mixed, and wait between them.",
        )


def _caution_caustic(planned: Sequence[Planned], notes: Notes) -> None:
    """What the stocks need that are drawn from, each once, and what solid needs that is dissolved."""
    sources: dict[tuple[str, int, float], Source] = {}
    for one in planned:
        places = {draw.alkali: draw.tank for draw in one.draws}
        for source in one.batch.made.split.sources:
            strength = 0.0 if source.strength is None else source.strength.mass_fraction
            sources.setdefault((source.alkali, places.get(source.alkali, -1), strength), source)
    if sources:
        notes.tell(METALS)
    caution_drawn(list(sources.values()), notes)
    if any(one.strength is None for one in sources.values()):
        notes.tell(*DISSOLVING)


def _caution_limits(planned: Sequence[Planned], notes: Notes) -> None:
    """Additions of which a bar without any water holds more than its recipe's limit, by article."""
    beyond: dict[str, str] = {}
    for one in planned:
        weighed = one.batch.weighed
        if one.sku in beyond or not any(each.given.highest_share for each in weighed.additions):
            continue
        found = use_limits(weighed.additions, Finished(Content(weighed).dry_mass, None), Notes())
        beyond[one.sku] = ", ".join(limit.material[:40] for limit in found if not limit.within_limit)
    named = [f"{materials} in {sku[:40]}" for sku, materials in beyond.items() if materials]
    if named:
        more = f" and in {len(named) - 1} more articles" if len(named) > 1 else ""
        notes.caution(
            "use-limit-exceeded",
            f"A bar without any water holds more than the limit given of {named[0][:90]}{more}: it may irritate or "
            "sensitise skin. `batch-sheet` tells how much it may be, at the moisture that bars are sold at.",
        )


def _caution_risky(risky: Mapping[str, float], notes: Notes) -> None:
    if not risky:
        return
    worst = max(risky.values())
    named = ", ".join(sku[:40] for sku in list(risky)[:NAMED])
    more = f" and {len(risky) - NAMED} more" if len(risky) > NAMED else ""
    notes.caution(
        "free-alkali-possible",
        f"With a probability of up to {percent(worst, 0)} there is more alkali than the fats can take in: {named}"
        f"{more}. Such soap burns: raise the superfat, or narrow the spread with certificates of analysis.",
        "danger" if worst >= DANGER_FROM else None,
    )


def explain_plan(
    request: ProductionPlanRequest, need: Mapping[str, Needed], planned: Sequence[Planned], notes: Notes
) -> None:
    """The steps: what is ordered and made of each article, and what each batch draws.

    Args:
        request: the plan that is asked for.
        need: batches of each article.
        planned: the batches.
        notes: where the steps go.
    """
    for sku, one in need.items():
        if not one.dues:
            continue
        made = float(len(one.dues) * request.recipes[sku].bars)
        taken = made - one.surplus
        notes.step(
            f"bars made of {sku}",
            "batches * bars",
            {"batches": (float(len(one.dues)), "1"), "bars": (float(request.recipes[sku].bars), "1")},
            (made, "1"),
            "the fewest whole batches that give what is ordered",
        )
        notes.step(
            f"bars of {sku} over and above",
            "made - (wanted - from_shelf)",
            {
                "made": (made, "1"),
                "wanted": (taken + one.from_shelf, "1"),
                "from_shelf": (float(one.from_shelf), "1"),
            },
            (float(one.surplus), "1"),
            "orders, and what goes into other soaps",
        )
    for number, each in enumerate(planned, start=1):
        for draw in each.draws:
            source, strength = next(
                (one, one.strength.mass_fraction)
                for one in each.batch.made.split.sources
                if one.alkali == draw.alkali and one.strength is not None
            )
            notes.step(
                f"draw of batch {number} before it is rounded to the scale",
                "alkali / strength",
                {"alkali": (source.mass * 1000, "g"), "strength": (strength, "1")},
                ((source.mass + source.own_water) * 1000, "g"),
                "as batch-sheet has it; the scale's step comes after",
            )
