"""The list of what is weighed, in the order of work, with the masses that a scale can show."""

from collections.abc import Hashable, Sequence
from typing import Annotated, Final

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.batch.fats import WeighedFat
from service.calculations.batch.split import Added, Source
from service.calculations.orders.batch_made import GoesInto, Step, Weighing
from service.calculations.orders.weighing import weigh
from service.calculations.shared.notes import Notes, weight
from service.calculations.shared.told import MassFigure, ScaleMassFigure, VolumeFigure

MOST_NAMED: Final = 4
"""Materials that a message names."""


class WeighLine(Struct, frozen=True, kw_only=True):
    """Something to weigh."""

    step: Annotated[
        Step,
        Meta(
            description="When it is weighed, in the order of work; solid alkali goes into its water, never the other "
            "way round."
        ),
    ]
    material: Annotated[
        str,
        Meta(
            description="What it is: an identifier of the catalogue, or the name it has in the recipe; alkali by its "
            "formula as a solid, with -stock where it is drawn.",
            examples=["olive-oil", "NaOH-stock", "NaOH"],
        ),
    ]
    mass: Annotated[
        MassFigure, Meta(description="What the scale is to show; with scale_division, digits leaves it as it is.")
    ]
    exact_mass: (
        Annotated[MassFigure, Meta(description="The same before it was rounded to the scale; with scale_division.")]
        | UnsetType
    ) = UNSET
    volume: (
        Annotated[VolumeFigure, Meta(description="Of a draw at its temperature, for choosing a jug; weigh it.")]
        | UnsetType
    ) = UNSET
    goes_into: Annotated[
        GoesInto,
        Meta(description="The pot with the fats, the jug with the stock, or the batter that both have become."),
    ]


def on_the_scale(
    weighings: Sequence[Weighing], division: float, notes: Notes, *, at_hand: bool = False
) -> list[Weighing]:
    """Everything with the mass that the scale can show, so that the totals of fats and of liquids hold.

    What weighs less than half a step stays as it is, and the notes say so.

    Args:
        weighings: everything to weigh.
        division: step of the scale [kg]; 0 for a scale without steps.
        notes: where the caution goes.
        at_hand: whether the stock is drawn already, so that its mass stays as it is.
    """
    if not division:
        return list(weighings)
    rounded = weigh(
        [one.mass for one in weighings],
        division,
        [_total(one, at) for at, one in enumerate(weighings)],
        [_name(one) for one in weighings],
    )
    too_fine = [one for one, mass in zip(weighings, rounded, strict=True) if not mass]
    if too_fine:
        named = [f"{one.material}, {weight(one.mass)}" for one in too_fine[:MOST_NAMED]]
        more = f" and {len(too_fine) - MOST_NAMED} more" if len(too_fine) > MOST_NAMED else ""
        notes.caution(
            "finer-scale-needed",
            f"Less than a scale with steps of {weight(division)} shows: {'; '.join(named)}{more}. Weigh "
            f"{'it' if len(too_fine) == 1 else 'them'} on a finer scale; the sheet keeps the exact mass.",
        )
    return [
        one if at_hand and one.step == "stock" else one._replace(mass=mass or one.mass)
        for one, mass in zip(weighings, rounded, strict=True)
    ]


def _total(one: Weighing, at: int) -> Hashable:
    """What a mass is a part of: all the fats, or all the liquids of a step; else itself."""
    return one.step if isinstance(one.of, WeighedFat | Added) else at


def _name(one: Weighing) -> str:
    """What a mass is of: fats of one name may be two, by their certificates."""
    return f"{one.material} {one.of.fat.key}" if isinstance(one.of, WeighedFat) else one.material


def weigh_lines(weighings: Sequence[Weighing], exact: Sequence[Weighing], *, rounded: bool) -> list[WeighLine]:
    """The list as it is answered.

    Args:
        weighings: everything, with the masses that the scale shows.
        exact: the same before it was rounded.
        rounded: whether the scale has steps.
    """
    return [
        WeighLine(
            step=one.step,
            material=one.material,
            mass=ScaleMassFigure(one.mass) if rounded else MassFigure(one.mass),
            exact_mass=MassFigure(before.mass) if rounded else UNSET,
            volume=_volume(one),
            goes_into=one.goes_into,
        )
        for one, before in zip(weighings, exact, strict=True)
    ]


def _volume(one: Weighing) -> VolumeFigure | UnsetType:
    """Volume of a draw of stock at its temperature, where its density is known."""
    source = one.of
    if not isinstance(source, Source) or source.stock is None or source.stock.density is None:
        return UNSET
    return VolumeFigure(one.mass / source.stock.density)
