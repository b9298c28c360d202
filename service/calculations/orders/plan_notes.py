"""What a plan says beside its numbers: cautions of its recipes and mixings, and its steps."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Final, Protocol

from service.calculations.batch.fat_notes import CAUTION_FROM, DANGER_FROM
from service.calculations.orders.plan_batches import PlanBatch
from service.calculations.orders.plan_demand import Needed
from service.calculations.orders.plan_mixing import Mixed
from service.calculations.orders.plan_request import ProductionPlanRequest
from service.calculations.orders.plan_stock import Draw, Filling
from service.calculations.orders.sheet_superfat import superfat_weighed
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.standing_cautions import HANDLING

NAMED: Final = 4
"""Articles that a message names."""


class PlannedBatch(Protocol):
    """A batch in its place."""

    @property
    def sku(self) -> str:
        """The article."""

    @property
    def due(self) -> date | None:
        """When it is due."""

    @property
    def batch(self) -> PlanBatch:
        """What is weighed."""

    @property
    def draws(self) -> list[Draw]:
        """What is drawn."""


def caution_plan(
    request: ProductionPlanRequest,
    planned: Sequence[PlannedBatch],
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
    request: ProductionPlanRequest, need: Mapping[str, Needed], planned: Sequence[PlannedBatch], notes: Notes
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
            source = next(
                one for one in each.batch.made.split.sources if one.alkali == draw.alkali and one.strength is not None
            )
            strength = 0.0 if source.strength is None else source.strength.mass_fraction
            notes.step(
                f"draw of batch {number} before it is rounded to the scale",
                "alkali / strength",
                {"alkali": (source.mass * 1000, "g"), "strength": (strength, "1")},
                ((source.mass + source.own_water) * 1000, "g"),
                "as batch-sheet has it; the scale's step comes after",
            )
