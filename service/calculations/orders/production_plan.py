"""POST /v1/production-plan: from orders to batches, their stock, the mixings between them, materials and cost."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import ceil
from typing import Final, NamedTuple

from msgspec import UNSET, UnsetType

from service.calculations.batch.usual import division_or_none
from service.calculations.orders.plan_answer import (
    LateOrder,
    PlannedBatch,
    PlannedDraw,
    PlannedMixing,
    ProductionPlanAnswer,
    Surplus,
)
from service.calculations.orders.plan_batches import Batches, PlanBatch, Planned
from service.calculations.orders.plan_cost import plan_cost, read_shelf_prices
from service.calculations.orders.plan_days import Job, Moulds, days_of
from service.calculations.orders.plan_demand import Needed, TooMany, levels, needed, poured_by
from service.calculations.orders.plan_examples import EXAMPLES
from service.calculations.orders.plan_heating import heating
from service.calculations.orders.plan_materials import (
    ICE,
    STOCK,
    Required,
    as_csv,
    caution_unused,
    check_materials,
    material_lines,
)
from service.calculations.orders.plan_mixing import Mixed, Refill
from service.calculations.orders.plan_notes import caution_plan, explain_plan
from service.calculations.orders.plan_reading import Wanted, read_tanks, read_wanted
from service.calculations.orders.plan_request import ProductionPlanRequest
from service.calculations.orders.plan_stock import Filling, RunsOut, Tank, draw
from service.calculations.orders.recipe_reading import is_article
from service.calculations.registry import Calculation
from service.calculations.shared.faults import Refusal
from service.calculations.shared.notes import Notes, weight
from service.calculations.shared.repeats import pointer
from service.calculations.shared.told import CountFigure, DurationFigure, MassFigure, TemperatureFigure

MOST_BATCHES: Final = 20_000
"""Batches of one plan; more of them are a slip of a quantity."""
A_DAY: Final = 86_400.0
"""Seconds."""


def calculate(request: ProductionPlanRequest, notes: Notes) -> ProductionPlanAnswer:
    """The batches that orders ask for, and all that follows from them."""
    wanted = read_wanted(request, notes)
    shelf = check_materials(request.materials or (), notes)
    prices = read_shelf_prices(request.materials or (), notes)
    if wanted.lateness_unknown:
        notes.assume("/first_day", "not given", "days are counted, and which orders are late is not told")
    tanks, refills = read_tanks(request, notes)
    division = division_or_none(request.scale_division, notes)
    batches = Batches(request, division, notes)
    need = _needed(wanted, notes)
    order = _in_order(request, wanted, need, notes)
    planned, fillings = _drawn(order, batches, tanks, refills, notes)

    required = Required()
    for one in planned:
        for line in one.batch.weighings:
            if line.step != "stock" and not is_article(line.of):
                required.add(line.material, line.mass, one.sku)
    mixed = [(one, refills[one.tank].mixed(one.left, again=one.again)) for one in fillings]
    for filling, how in mixed:
        _require_mixing(required, tanks[filling.tank], how)
    lines = material_lines(required, shelf)
    caution_unused(shelf, lines, notes)
    shortages = [one for one in lines if one.short.value > 0]
    made: dict[str, list[PlanBatch]] = {}
    for one in planned:
        made.setdefault(one.sku, []).append(one.batch)
    hot = heating(request.heating, [one.batch for one in planned], notes)
    mixings = [_mixing(one, how, tanks, planned, wanted.first_day) for one, how in mixed]
    caution_plan(request, planned, mixed, notes)
    if notes.explain:
        explain_plan(request, need, planned, notes)
    return ProductionPlanAnswer(
        batches=[_batch(number, one, request, wanted) for number, one in enumerate(planned, start=1)],
        mixings=mixings,
        materials=lines,
        shortages=shortages,
        surplus=[Surplus(sku=sku, quantity=CountFigure(one.surplus)) for sku, one in need.items() if one.surplus],
        late_orders=_late(request, wanted, need, planned),
        cost=UNSET if prices is None else plan_cost(prices, wanted.articles, made, notes),
        heating_time=UNSET if hot is None else hot.time,
        heating_energy=UNSET if hot is None else hot.energy,
        material_lines=as_csv(lines, purchases=False),
        purchase_lines=as_csv(shortages, purchases=True),
    )


def _needed(wanted: Wanted, notes: Notes) -> dict[str, Needed]:
    try:
        return needed(wanted.articles, wanted.demands, wanted.on_hand, MOST_BATCHES)
    except TooMany as error:
        raise notes.refuse(
            pointer("/recipes", error.sku),
            "too-large-a-plan",
            f"the orders take more than {MOST_BATCHES} batches, most of them of this one",
            "check the quantities and the bars of a batch, or plan fewer orders at once",
        ) from None


class _Placed(NamedTuple):
    """A batch and its day, before it draws."""

    sku: str
    due: date | None
    day: int


def _in_order(request: ProductionPlanRequest, wanted: Wanted, need: dict[str, Needed], notes: Notes) -> list[_Placed]:
    """The batches by when they must be poured at last, of one date article by article, parts first; and their days."""
    depth = levels(wanted.articles)
    rank = {sku: place for place, sku in enumerate(wanted.articles)}
    jobs = sorted(
        (
            (poured_by(due, wanted.articles[sku].ready_after) or date.max, -depth[sku], rank[sku], sku, due)
            for sku, one in need.items()
            for due in one.dues
        ),
        key=lambda one: one[:3],
    )
    capacity = request.capacity
    if capacity is None:
        notes.assume("/capacity", "everything in one day", "what fits into a day is not told")
    sets = (capacity.mould_sets or []) if capacity is not None else []
    moulds = {one.name: Moulds(one.count, one.days_filled or 1) for one in sets}
    for index, one in enumerate(sets):
        if any(other.name == one.name for other in sets[:index]):
            notes.fault(
                f"/capacity/mould_sets/{index}/name",
                "contradiction",
                f"the moulds '{one.name[:60]}' are listed twice",
                "put them on one line",
            )
        if one.days_filled is None:
            notes.assume(f"/capacity/mould_sets/{index}/days_filled", "1", "unmoulded on the next day")
    for sku, recipe in request.recipes.items():
        if recipe.mould_set is not None and sets and recipe.mould_set not in moulds:
            notes.fault(
                f"{pointer('/recipes', sku)}/mould_set",
                "unknown-identifier",
                f"there are no moulds called '{recipe.mould_set[:60]}' under capacity",
                "write it as under capacity, or add them there",
            )
        if recipe.ready_after_days is None:
            notes.assume(f"{pointer('/recipes', sku)}/ready_after_days", "0", "how long it dries is not told")
    notes.stop_at_faults()
    scarce = {
        sku for sku, one in need.items() if sum(each.quantity for each in one.for_others) > wanted.on_hand.get(sku, 0)
    }  # what the shelf holds enough of is not waited for
    days = days_of(
        [
            Job(
                sku,
                request.recipes[sku].mould_set,
                tuple(part.sku for part in wanted.articles[sku].parts if part.sku in scarce),
                request.recipes[sku].ready_after_days or 0,
            )
            for *_, sku, _ in jobs
        ],
        None if capacity is None else capacity.batches_per_day,
        moulds,
    )
    placed = [_Placed(sku, due, day) for (*_, sku, due), day in zip(jobs, days, strict=True)]
    return sorted(placed, key=lambda one: one.day)


def _drawn(
    order: Sequence[_Placed], batches: Batches, tanks: list[Tank], refills: Mapping[int, Refill], notes: Notes
) -> tuple[list[Planned], list[Filling]]:
    """Every batch with what it draws, and the tanks that are filled anew for it.

    A tank is mixed after its last draw and not before the first day, and its stock cools before it is drawn from: a
    batch that would come earlier waits with all that follow it, so that no day holds more than fits.

    Raises:
        Refusal: a recipe makes no batch, a mixing cannot be made, or no tank gives what a batch draws.
    """
    planned: list[Planned] = []
    fillings: list[Filling] = []
    needs = {sku: batches.needs(sku) for sku in dict.fromkeys(one.sku for one in order)}
    last_draw: dict[int, int] = {}
    waits = 0
    for number, one in enumerate(order, start=1):
        try:
            draws, filled = draw(tanks, needs[one.sku], number)
        except RunsOut as error:
            raise batches.refusal(one.sku) or _runs_out(one.sku, number, error, notes) from None
        for filling in filled:
            cools = cooling_days(refills[filling.tank].mixed(filling.left, again=filling.again))
            waits += max(0, last_draw.get(filling.tank, 1) + cools - one.day - waits)
        fillings += filled
        last_draw.update({each.tank: one.day + waits for each in draws})
        sources = tuple((each.tank, tanks[each.tank].again) for each in draws)
        planned.append(Planned(one.sku, one.due, one.day + waits, batches.batch(one.sku, sources), draws))
    return planned, fillings


def _runs_out(sku: str, number: int, error: RunsOut, notes: Notes) -> Refusal:
    if error.gives is None:
        return notes.refuse(
            f"/stocks/{error.tank}",
            "stock-runs-out",
            f"batch {number}, of {sku[:60]}, draws {weight(error.mass)} of {error.alkali} stock, and no tank holds so "
            "much above its reserve",
            "give remixing and vessel, to have it filled anew, or more stock",
        )
    return notes.refuse(
        f"{pointer('/recipes', sku)}/batch/fat_mass",
        "stock-runs-out",
        f"a batch draws {weight(error.mass)} of {error.alkali} stock, and a filling of the tank gives "
        f"{weight(max(0.0, error.gives))} above its reserve",
        "make smaller batches, or use a larger tank",
    )


def _require_mixing(required: Required, tank: Tank, how: Mixed) -> None:
    sheet = how.sheet
    required.add(tank.alkali, sheet.mass_as_supplied.value, STOCK)
    required.add(ICE, sheet.ice_mass.value, STOCK)
    required.add("distilled-water", sheet.water_mass.value, STOCK)


def _calendar(first: date | None, day: int) -> str | UnsetType:
    """A day of work by the calendar."""
    if first is None:
        return UNSET
    try:
        return (first + timedelta(days=day - 1)).isoformat()
    except OverflowError:
        return UNSET


def _batch(number: int, one: Planned, request: ProductionPlanRequest, wanted: Wanted) -> PlannedBatch:
    ready = one.day + (request.recipes[one.sku].ready_after_days or 0)
    first = wanted.first_day
    late = UNSET if first is None or one.due is None else (one.due - first).days < ready - 1
    return PlannedBatch(
        number=CountFigure(number),
        sku=one.sku,
        bars=CountFigure(request.recipes[one.sku].bars),
        work_day=CountFigure(one.day),
        day=_calendar(first, one.day),
        due=UNSET if one.due is None else one.due.isoformat(),
        late=late,
        fat_mass=MassFigure(sum([each.mass for each in one.batch.weighed.fats])),
        batter_mass=MassFigure(one.batch.weighed.mass),
        stock_draws=[
            PlannedDraw(
                stock=CountFigure(each.tank),
                alkali=each.alkali,
                mass=MassFigure(each.mass),
                stock_left=MassFigure(each.left),
            )
            for each in one.draws
        ],
    )


def _mixing(
    filling: Filling, how: Mixed, tanks: Sequence[Tank], planned: Sequence[Planned], first: date | None
) -> PlannedMixing:
    day = planned[filling.before_batch - 1].day
    mix_on = day - cooling_days(how)
    sheet = how.sheet
    return PlannedMixing(
        stock=CountFigure(filling.tank),
        alkali=tanks[filling.tank].alkali,
        before_batch=CountFigure(filling.before_batch),
        needed_on=CountFigure(day),
        mix_on=CountFigure(mix_on),
        mix_day=_calendar(first, mix_on),
        stock_before=MassFigure(filling.left),
        mass_as_supplied=sheet.mass_as_supplied,
        ice_mass=sheet.ice_mass,
        water_mass=sheet.water_mass,
        mass=sheet.mass,
        strength=sheet.strength.mass_fraction,
        peak_temperature=sheet.peak_temperature,
        reachable=sheet.reachable,
        cool_to=TemperatureFigure(how.cool_to),
        cooling_time=DurationFigure(0.0) if how.cooling is None else how.cooling.time,
    )


def cooling_days(how: Mixed) -> int:
    """Whole days that a mixing takes to cool at the longest, the day it is mixed on not counted; one at least.

    Args:
        how: the mixing.
    """
    if how.cooling is None:
        return 1
    time = how.cooling.time
    return max(1, ceil((time.value if time.high is None else time.high) / A_DAY))


def _late(
    request: ProductionPlanRequest, wanted: Wanted, need: Mapping[str, Needed], planned: Sequence[Planned]
) -> list[LateOrder] | UnsetType:
    """Order lines whose last bar is ready after they are due; bars go to what is due first, other soaps among it."""
    first = wanted.first_day
    if first is None:
        return UNSET if wanted.lateness_unknown else []
    made: dict[str, list[int]] = {}
    for one in planned:
        made.setdefault(one.sku, []).append(one.day + (request.recipes[one.sku].ready_after_days or 0))
    lines = [
        (due, index, request.orders[index].sku, request.orders[index].quantity)
        for index, due in enumerate(wanted.dues)
        if due is not None
    ]
    lines += [(each.due, -1, sku, each.quantity) for sku, one in need.items() for each in one.for_others if each.due]
    given: dict[str, int] = {}
    found = []
    for due, index, sku, quantity in sorted(lines):
        given[sku] = given.get(sku, 0) + quantity
        short = given[sku] - wanted.on_hand.get(sku, 0)
        if short <= 0 or index < 0:
            continue
        batches = sorted(made[sku])
        ready = batches[min(ceil(short / request.recipes[sku].bars), len(batches)) - 1]
        if (due - first).days < ready - 1:
            told = _calendar(first, ready)
            found.append(
                LateOrder(
                    order=CountFigure(index),
                    sku=sku,
                    due=due.isoformat(),
                    ready=told if isinstance(told, str) else date.max.isoformat(),
                )
            )
    return sorted(found, key=lambda one: one.order.value)


CALCULATION: Final = Calculation(
    name="production-plan",
    summary="From orders to batches: their order, stock, mixings, materials and cost",
    description=(
        "For the week's work: orders by SKU, recipes, stocks in their tanks, moulds and materials on the shelf. "
        "Answers the batches in order, what each draws and what is left then; the tanks to fill anew between them, "
        "with the sheet of `stock-mixing/ice` and the time to cool by `stock-cooling`, so that the stock is cool when "
        "it is needed; bars over and above; materials required, on hand, short and to buy in whole packages, also as "
        "CSV with UN/CEFACT codes; cost by SKU; late orders; the time of heating. Each batch's own sheet is "
        "`batch-sheet`.\n\n"
        "Rules: an article gets the fewest batches that give all bars ordered of it; bars on the shelf serve what is "
        "due first. Batches stand by the last day on which they can be poured and be ready, those of one date article"
        " by article, soaps that go into others before them, on the first day with room. Stocks are drawn in the "
        "order of the request, each down to its dead volume and reserve; one that is too weak for a recipe is passed "
        "over. A tank is mixed after its last draw, to the full, and what it is for waits until it is cool. Money and"
        " quantities are rounded halves to even, what is to be bought up; sums of lines are exact.\n\n"
        "Range: 10 000 order lines, 1 000 recipes, 20 000 batches; a batch draws from one tank of each alkali. "
        "Every day of the calendar is one of work. It knows no working hours, no illness and no sieve that broke.\n\n"
        "Sources: as the calculations it joins; unit codes of UN/CEFACT Recommendation 20 (from memory)."
    ),
    request=ProductionPlanRequest,
    answer=ProductionPlanAnswer,
    calculate=calculate,
    examples=EXAMPLES,
    largest_body=32 << 20,
)
