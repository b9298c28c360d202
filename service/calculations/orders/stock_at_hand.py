"""What is left of the stocks at hand once a batch has been drawn from them."""

from collections.abc import Sequence
from typing import Annotated

from msgspec import Meta, Struct

from service.calculations.batch.split import Source
from service.calculations.orders.batch_made import Weighing
from service.calculations.shared.messages import Alkali, Solution
from service.calculations.shared.notes import Notes, weight
from service.calculations.shared.told import MassFigure
from service.chemistry import density
from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import ROUNDING


class StockLeft(Struct, frozen=True, kw_only=True):
    """What is left of a stock."""

    alkali: Alkali
    mass: Annotated[MassFigure, Meta(description="Of it, after the draw.")]


def check_states(stocks: Sequence[Solution], notes: Notes) -> None:
    """Ice is no stock: a fault in the notes.

    Args:
        stocks: as the request has them.
        notes: where faults go.
    """
    for index, one in enumerate(stocks):
        if one.state == "ice":
            notes.fault(
                f"/stocks/{index}/state",
                "contradiction",
                "ice is no stock of alkali",
                "put ice under liquids, as distilled-water with frozen",
            )


def at_hand(stock: Solution, source: Source, notes: Notes, at: str) -> float | None:
    """Mass of a stock that is there [kg]; None where its volume says none, which is a fault.

    Args:
        stock: as the request has it.
        source: the same as it was read.
        notes: where the fault goes.
        at: its pointer.
    """
    if stock.mass is not None:
        return stock.mass.value
    if stock.volume is None or source.strength is None:
        return None
    try:
        return stock.volume.value * density.density(stock.alkali, source.strength.mass_fraction, source.temperature)
    except OutOfRange:
        notes.fault(
            f"{at}/volume",
            "beyond-data",
            f"the density of this stock at {source.temperature:.4g} °C is not known, so its volume says no mass",
            "weigh the stock and give its mass",
        )
        return None


def left_of(
    stocks: Sequence[Solution], sources: Sequence[Source], weighings: Sequence[Weighing], notes: Notes
) -> list[StockLeft]:
    """What is left of each stock; a draw that is more than there is goes into the notes as a fault.

    Args:
        stocks: as the request has them.
        sources: the alkalis of the batch, that of every stock among them.
        weighings: all that is weighed, as the scale shows it.
        notes: where faults go.
    """
    found = []
    for index, stock in enumerate(stocks):
        source = next(one for one in sources if one.alkali == stock.alkali)
        mass = at_hand(stock, source, notes, f"/stocks/{index}")
        if mass is None:
            continue
        draw = sum([one.mass for one in weighings if one.step == "stock" and one.of is source])
        if draw > mass * (1 + ROUNDING):
            notes.fault(
                f"/stocks/{index}/{'mass' if stock.mass is not None else 'volume'}",
                "contradiction",
                f"the batch draws {weight(draw)} of this stock, and {weight(mass)} of it are there",
                "give stock_draw under scale_to for what is there, or mix more stock first",
            )
            continue
        left = max(0.0, mass - draw)
        found.append(StockLeft(alkali=stock.alkali, mass=MassFigure(left)))
    return found
