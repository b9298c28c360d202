"""Whether additions stay below the most that a finished bar may hold of them, by the limits the caller gives."""

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, Context
from typing import Annotated, NamedTuple

from msgspec import Meta, Struct

from service.calculations.orders.recipe_reading import Addition
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.told import FractionFigure
from service.chemistry.ranges import ROUNDING


class UseLimit(Struct, frozen=True, kw_only=True):
    """How much of an addition the finished bar holds, and how much it may."""

    material: Annotated[str, Meta(description="As in the recipe.", examples=["lavender oil"])]
    share: Annotated[
        FractionFigure,
        Meta(
            description="Of the bar as it is sold, by mass; of the bar without any water where moisture_when_sold is "
            "not given, which is the most that it can come to."
        ),
    ]
    highest_share: Annotated[FractionFigure, Meta(description="The most it may hold, as it was given.")]
    within_limit: Annotated[bool, Meta(description="Whether it stays at or below that.")]


class Finished(NamedTuple):
    """The bar that the limits are for."""

    mass: float
    """Of all bars of the batch together [kg]."""
    moisture: float | None
    """Water in them; None where it is not given, and reckoned as none."""


def use_limits(additions: Sequence[Addition], finished: Finished, notes: Notes) -> list[UseLimit]:
    """The additions that have a limit, by material; what exceeds it is a danger.

    The same material on two lines is one: its lines add up, and the least of its limits holds.

    Args:
        additions: as they are weighed.
        finished: the bars that they are in.
        notes: where the cautions go.
    """
    masses: dict[str, float] = {}
    limits: dict[str, float] = {}
    for one in additions:
        name, limit = one.given.material, one.given.highest_share
        masses[name] = masses.get(name, 0.0) + one.mass
        if limit is not None:
            limits[name] = min(limits.get(name, 1.0), limit.value)
    if limits and finished.moisture is None:
        notes.assume(
            "/moisture_when_sold", "none, for the limits of additions", "the cautious side: the dry bar holds most"
        )
    found = []
    for name, most in limits.items():
        share = masses[name] / finished.mass
        keeps = share <= most * (1 + ROUNDING)
        if not keeps:
            of = "the dry bar" if finished.moisture is None else f"a bar with {percent(finished.moisture)} of water"
            notes.caution(
                "use-limit-exceeded",
                f"Of {of} {name[:60]} makes {_told(share, ROUND_CEILING)}, and {_told(most, ROUND_FLOOR)} is the most "
                "that was given: it may irritate or sensitise skin. Use at most "
                f"{_told(most / share, ROUND_FLOOR)} of that.",
            )
        found.append(
            UseLimit(
                material=name,
                share=FractionFigure(share),
                highest_share=FractionFigure(most),
                within_limit=keeps,
            )
        )
    return found


def _told(share: float, rounding: str) -> str:
    """A share to three digits, since limits may be a thousandth of a per cent: what there is up, what may be down."""
    # Twelve digits first: the last bits of a float are no reason to round 2.5 up to 2.51.
    number = Context(prec=3, rounding=rounding).create_decimal(f"{share * 100:.12g}")
    return f"{number.normalize():f} %"
