"""What a plan is asked for, read: articles and their parts, what is wanted of them, and the tanks."""

from collections.abc import Callable
from datetime import date
from typing import Final, NamedTuple

from service.calculations.mixing.vessels import find_vessel
from service.calculations.orders.moved import within
from service.calculations.orders.plan_demand import Article, Demand, Part, cycle_of
from service.calculations.orders.plan_mixing import Refill
from service.calculations.orders.plan_request import PlanStock, ProductionPlanRequest
from service.calculations.orders.plan_stock import Tank
from service.calculations.shared.faults import near
from service.calculations.shared.given import PlainMass
from service.calculations.shared.notes import Notes, litres, weight
from service.calculations.shared.repeats import pointer
from service.calculations.stock.solutions import ROOM, mass_fraction
from service.chemistry import density
from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import ROUNDING

LEAST_STRENGTH: Final = 1e-3
"""Mass fraction below which a solution is no stock."""


class Wanted(NamedTuple):
    """What is wanted, by SKU."""

    articles: dict[str, Article]
    demands: dict[str, list[Demand]]
    on_hand: dict[str, int]
    dues: list[date | None]
    """Of each order line."""
    first_day: date | None

    @property
    def lateness_unknown(self) -> bool:
        """Whether something is due and nothing says which day the first one is."""
        return self.first_day is None and any(self.dues)


def read_wanted(request: ProductionPlanRequest, notes: Notes) -> Wanted:
    """What is wanted of which article; faults go into the notes.

    Args:
        request: the plan that is asked for.
        notes: where faults and assumptions go.

    Raises:
        Refusal: with all of them.
    """
    articles = {
        sku: Article(one.bars, tuple(_parts(sku, request, notes)), one.ready_after_days or 0)
        for sku, one in request.recipes.items()
    }
    demands: dict[str, list[Demand]] = {}
    dues = []
    for index, order in enumerate(request.orders):
        due = read_day(order.due, notes, f"/orders/{index}/due")
        dues.append(due)
        if order.sku not in articles:
            _no_recipe(order.sku, articles, notes, f"/orders/{index}/sku")
        demands.setdefault(order.sku, []).append(Demand(order.quantity, due))
    on_hand: dict[str, int] = {}
    for index, one in enumerate(request.on_hand or ()):
        if one.sku in on_hand:
            notes.fault(f"/on_hand/{index}/sku", "contradiction", f"{one.sku} is listed twice", "put it on one line")
        elif one.sku not in articles:
            _no_recipe(one.sku, articles, notes, f"/on_hand/{index}/sku")
        on_hand[one.sku] = one.quantity
    first_day = read_day(request.first_day, notes, "/first_day")
    notes.stop_at_faults()
    cycle = cycle_of(articles)
    if cycle is not None:
        raise notes.refuse(
            pointer("/recipes", cycle[0]),
            "cyclic-recipes",
            f"a soap cannot be a part of itself: {' goes into '.join(one[:40] for one in cycle[::-1][:6])}",
            "leave one of these additions out, or give it another sku",
        )
    return Wanted(articles, demands, on_hand, dues, first_day)


def _no_recipe(sku: str, known: dict[str, Article], notes: Notes, at: str) -> None:
    hint = near(sku, known, 0.8) if len(notes.faults) < 20 else ""
    notes.fault(
        at,
        "unknown-identifier",
        f"there is no recipe for '{sku[:60]}'{hint}",
        "add its recipe under recipes, or mend the sku",
    )


def read_day(said: str | None, notes: Notes, at: str) -> date | None:
    """A day of the calendar; one that there is not is a fault in the notes.

    Args:
        said: as the request has it.
        notes: where the fault goes.
        at: its pointer.
    """
    if said is None:
        return None
    try:
        return date.fromisoformat(said)
    except ValueError:
        notes.fault(at, "contradiction", f"there is no day {said}", "give a day of the calendar, as in '2031-03-14'")
        return None


def _parts(sku: str, request: ProductionPlanRequest, notes: Notes) -> list[Part]:
    """Soaps that go into a soap, in bars for each batch."""
    recipe, at = request.recipes[sku].recipe, pointer("/recipes", sku)
    fat_mass = request.recipes[sku].batch.fat_mass.value
    found = []
    written = sum(one.mass.value for one in recipe.fats if one.mass is not None)
    for index, one in enumerate(recipe.additions or ()):
        if one.sku is None:
            continue
        place = f"{at}/recipe/additions/{index}/sku"
        part = request.recipes.get(one.sku)
        if part is None:
            hint = near(one.sku, request.recipes, 0.8)
            notes.fault(
                place,
                "unknown-identifier",
                f"there is no recipe for '{one.sku[:60]}', which goes into this one{hint}",
                "add its recipe under recipes, or leave sku out",
            )
            continue
        if part.bar_mass is None:
            notes.fault(
                f"{pointer('/recipes', one.sku)}/bar_mass",
                "contradiction",
                "its bars go into another soap by mass, and nothing says what one weighs",
                "give bar_mass",
            )
            continue
        level = one.use_level.value if one.use_level is not None else 0.0
        if one.mass is not None and written:
            level = one.mass.value / written
        found.append(Part(one.sku, level * fat_mass / part.bar_mass.value))
    return found


def read_tanks(request: ProductionPlanRequest, notes: Notes) -> tuple[list[Tank], dict[int, Refill]]:
    """The tanks, and how those are filled anew that are.

    Args:
        request: the plan that is asked for.
        notes: where faults and assumptions go.

    Raises:
        Refusal: with every fault.
    """
    tanks: list[Tank] = []
    refills: dict[int, Refill] = {}
    for index, stock in enumerate(request.stocks or ()):
        at = f"/stocks/{index}"
        found = mass_fraction(stock.strength, stock.alkali, notes, f"{at}/strength", lowest=LEAST_STRENGTH)
        if stock.temperature is None:
            notes.assume(f"{at}/temperature", "20 °C", "a workshop's room")
        if stock.vessel is not None:
            with within(notes, [("/vessel", f"{at}/vessel")]):
                find_vessel(stock.vessel, notes)
        how, again = stock.remixing, found
        if how is not None and how.strength is not None:
            again = mass_fraction(how.strength, stock.alkali, notes, f"{at}/remixing/strength", lowest=LEAST_STRENGTH)
        if how is not None and stock.vessel is None:
            notes.fault(
                f"{at}/vessel", "contradiction", "how full it is to be mixed follows from its vessel", "give vessel"
            )
        if found is None or again is None:
            continue
        if stock.reserve is None and request.reserve is None and not tanks:
            notes.assume("/reserve", "none", "all that reaches the outlet may be drawn")
        _check_full(stock, found.mass_fraction, notes, at)
        kept = _kept(stock, found.mass_fraction, stock.reserve or request.reserve, notes, at)
        tank = Tank(stock.alkali, stock.mass.value, kept)
        if how is not None and stock.vessel is not None:
            refills[index] = Refill(stock, index, notes)
            tank.filled = _filler(refills[index])
        tanks.append(tank)
    notes.stop_at_faults()
    return tanks, refills


def _filler(refill: Refill) -> Callable[[float, bool], float]:
    def filled(left: float, again: bool) -> float:
        return refill.mixed(left, again=again).sheet.mass.value

    return filled


def _check_full(stock: PlanStock, w: float, notes: Notes, at: str) -> None:
    """Refuse a tank that is said to hold more than it can."""
    holds = None if stock.vessel is None or stock.vessel.volume is None else stock.vessel.volume.value
    t = ROOM if stock.temperature is None else stock.temperature.value
    if holds is None:
        return
    try:
        takes = stock.mass.value / density.density(stock.alkali, w, t)
    except OutOfRange:
        return
    if takes > holds * (1 + ROUNDING):
        notes.fault(
            f"{at}/mass",
            "contradiction",
            f"{weight(stock.mass.value)} of this stock take {litres(takes)}, and its vessel holds {litres(holds)}",
            "check the mass and the volume, and their units",
        )


def _kept(stock: PlanStock, w: float, reserve: PlainMass | None, notes: Notes, at: str) -> float:
    """What stays in a tank: below its outlet, and in reserve [kg]."""
    kept = 0.0 if reserve is None else reserve.value
    dead = None if stock.vessel is None else stock.vessel.dead_volume
    if dead is None:
        return kept
    t = ROOM if stock.temperature is None else stock.temperature.value
    try:
        return kept + dead.value * density.density(stock.alkali, w, t)
    except OutOfRange:
        notes.fault(
            f"{at}/temperature",
            "beyond-data",
            f"the density of this stock at {t:.4g} °C is not known, nor how heavy its dead volume is",
            "check the temperature and its unit",
        )
        return kept
