"""Which batches orders ask for, and by when: as few as the orders allow, those that are due first ahead."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple


class Demand(NamedTuple):
    """Bars that are wanted."""

    quantity: int
    due: date | None
    """None where they may come last."""


class Part(NamedTuple):
    """Bars of another article that each batch takes."""

    sku: str
    bars_per_batch: float


class Article(NamedTuple):
    """What is made, and how much of it a batch gives."""

    bars: int
    parts: tuple[Part, ...] = ()
    ready_after: int = 0
    """Days from pouring to when its bars are ready."""


class Needed(NamedTuple):
    """Batches of one article, in the order of when they are due."""

    dues: list[date | None]
    """When each batch is due: when the first bar is that it gives."""
    surplus: int
    """Bars over and above what is wanted."""
    from_shelf: int
    """Finished bars that serve orders."""
    for_others: list[Demand]
    """Bars that go into other soaps."""


class TooMany(ValueError):  # noqa: N818 - says what the batches are
    """More batches than a plan holds.

    Attributes:
        sku: the article that takes the most.
        count: batches in all.
    """

    def __init__(self, sku: str, count: int) -> None:
        super().__init__(f"{count} batches")
        self.sku = sku
        self.count = count


def cycle_of(articles: Mapping[str, Article]) -> list[str] | None:
    """Articles that are parts of each other, the first one once more at the end; None where there are none.

    Args:
        articles: by SKU; parts that are no articles are passed over.
    """
    done: set[str] = set()
    for start in articles:
        way: list[str] = []
        stack: list[tuple[str, int]] = [(start, 0)]
        while stack:
            sku, place = stack.pop()
            if place == 0:
                if sku in done:
                    continue
                way.append(sku)
            parts = [one.sku for one in articles[sku].parts if one.sku in articles]
            if place == len(parts):
                done.add(way.pop())
                continue
            stack.append((sku, place + 1))
            if parts[place] in way:
                return [*way[way.index(parts[place]) :], parts[place]]
            stack.append((parts[place], 0))
    return None


def levels(articles: Mapping[str, Article]) -> dict[str, int]:
    """How deep each article lies as a part of others; 0 for what is no part of any. There must be no cycle.

    Args:
        articles: by SKU.
    """
    found = dict.fromkeys(articles, 0)
    users: dict[str, set[str]] = {sku: set() for sku in articles}
    for sku, article in articles.items():
        for part in article.parts:
            users[part.sku].add(sku)
    left = {sku: len(of) for sku, of in users.items()}
    ready = [sku for sku, count in left.items() if not count]
    while ready:
        sku = ready.pop()
        for name in dict.fromkeys(part.sku for part in articles[sku].parts):
            found[name] = max(found[name], found[sku] + 1)
            left[name] -= 1
            if not left[name]:
                ready.append(name)
    return found


def needed(
    articles: Mapping[str, Article], demands: Mapping[str, Sequence[Demand]], on_hand: Mapping[str, int], most: int
) -> dict[str, Needed]:
    """The batches of each article: the fewest that give all bars wanted, since what is over serves the next order.

    Bars that are there serve what is due first. Parts are wanted when the batches are due that they go into.

    Args:
        articles: by SKU, without a cycle of parts.
        demands: what is wanted of each.
        on_hand: finished bars of each.
        most: batches that a plan may hold.

    Raises:
        TooMany: it would hold more.
    """
    wanted: dict[str, list[Demand]] = {sku: list(demands.get(sku, ())) for sku in articles}
    found: dict[str, Needed] = {}
    depth = levels(articles)
    for sku in sorted(articles, key=lambda name: depth[name]):
        article = articles[sku]
        short = max(0, sum(one.quantity for one in wanted[sku]) - on_hand.get(sku, 0))
        count = sum(len(one.dues) for one in found.values()) - (-short // article.bars)
        if count > most:
            raise TooMany(sku, count)
        found[sku] = _batches(article, wanted[sku], on_hand.get(sku, 0))._replace(
            for_others=wanted[sku][len(demands.get(sku, ())) :]
        )
        for part in article.parts:
            wanted[part.sku] += _parts(part, [poured_by(due, article.ready_after) for due in found[sku].dues])
    return {sku: found[sku] for sku in articles}


def poured_by(due: date | None, ready_after: int) -> date | None:
    """The last day on which what is due can be poured.

    Args:
        due: when its bars must be ready; None where they may come last.
        ready_after: days that takes.
    """
    if due is None or due.toordinal() <= ready_after:
        return due
    return due - timedelta(days=ready_after)


def _parts(part: Part, dues: Sequence[date | None]) -> list[Demand]:
    """Whole bars of a part for each batch, what is cut into already counted."""
    demands, before = [], 0
    for count, due in enumerate(dues, start=1):
        until = _up(part.bars_per_batch * count)
        demands.append(Demand(until - before, due))
        before = until
    return demands


def _up(number: float) -> int:
    """A number of bars rounded up, but for the noise of its reckoning."""
    whole = round(number)
    return whole if abs(number - whole) <= 1e-9 * max(1.0, number) else int(number) + 1


def _batches(article: Article, demands: Sequence[Demand], on_hand: int) -> Needed:
    ordered = sorted(demands, key=lambda one: (one.due is None, one.due or date.max))
    dues: list[date | None] = []
    wanted = made = 0
    for one in ordered:
        wanted += one.quantity
        while made + on_hand < wanted:
            made += article.bars
            dues.append(one.due)
    return Needed(dues, max(0, made + min(on_hand, wanted) - wanted), min(on_hand, wanted), [])
