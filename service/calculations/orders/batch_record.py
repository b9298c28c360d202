"""The record of a batch, with what is planned filled in and the rest left empty for the bench.

What belongs into one is that of ISO 22716:2007 (Good Manufacturing Practices for cosmetics), production, from memory:
product and batch number, formula and quantities with the lots of the raw materials, equipment, operations with their
conditions and times, controls, yield, deviations, and who did it. Its wording is our own.
"""

from collections.abc import Sequence
from typing import Annotated, Final

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.orders.sheet_temperatures import Temperatures
from service.calculations.orders.weigh_list import WeighLine
from service.calculations.shared.told import CountFigure, MassFigure, TemperatureFigure

ToFillIn = Annotated[str, Meta(description="Empty, to be filled in.", examples=[""])]


class RecordMaterial(Struct, frozen=True, kw_only=True):
    """A raw material, as it is planned and as it was weighed."""

    material: Annotated[str, Meta(description="As in the weigh list.", examples=["olive-oil"])]
    planned_mass: Annotated[MassFigure, Meta(description="What the scale is to show.")]
    weighed_mass: ToFillIn = ""
    lot: ToFillIn = ""
    weighed_by: ToFillIn = ""


class RecordOperation(Struct, frozen=True, kw_only=True):
    """Something that is done, with its conditions and its times."""

    operation: Annotated[str, Meta(description="What is done.", examples=["pour the stock into the fats"])]
    planned_temperature: (
        Annotated[TemperatureFigure, Meta(description="What it is to be done at, where that is known.")] | UnsetType
    ) = UNSET
    measured_temperature: ToFillIn = ""
    begun_at: ToFillIn = ""
    ended_at: ToFillIn = ""
    done_by: ToFillIn = ""


class RecordControl(Struct, frozen=True, kw_only=True):
    """Something that is looked at or measured before the batch goes on."""

    control: Annotated[str, Meta(description="What is looked at.", examples=["the batter holds together at trace"])]
    result: ToFillIn = ""
    checked_by: ToFillIn = ""


class BatchRecord(Struct, frozen=True, kw_only=True):
    """The record of a batch."""

    product: Annotated[str, Meta(description="Name of the recipe; empty where it has none.")]
    batch_number: Annotated[str, Meta(description="The reference of the request; empty where there is none.")]
    made_on: ToFillIn = ""
    equipment: ToFillIn = ""
    materials: Annotated[list[RecordMaterial], Meta(description="One for each line of the weigh list.")]
    operations: Annotated[list[RecordOperation], Meta(description="In the order of work.")]
    controls: Annotated[list[RecordControl], Meta(description="In the order of work.")]
    planned_batter_mass: Annotated[MassFigure, Meta(description="What is to be poured.")]
    planned_bars: Annotated[CountFigure, Meta(description="How many bars it is to give.")] | UnsetType = UNSET
    bars_made: ToFillIn = ""
    bars_rejected: ToFillIn = ""
    deviations: ToFillIn = ""
    released_on: ToFillIn = ""
    released_by: ToFillIn = ""


_OPERATIONS: Final = {
    "fats": "melt and weigh the fats",
    "stock": "stir the stock, and weigh the draw",
    "solid-alkali": "strew the solid alkali into its water, and let it cool",
    "liquids-into-fats": "stir the liquids into the fats",
    "liquids-into-stock": "stir the water into the stock, and let it cool",
}
_CONTROLS: Final = (
    "every mass agrees with the sheet, and a second person has read the draw",
    "the batter holds together at trace, and no oil floats on it",
    "free alkali of the finished soap, by titration",
    "mass of the bars when sold, against the net mass on the label",
)


def batch_record(
    names: tuple[str, str],
    lines: Sequence[WeighLine],
    found: Temperatures | None,
    planned: tuple[MassFigure, CountFigure | None],
) -> BatchRecord:
    """The record of a batch, with what is planned.

    Args:
        names: of the recipe, and the reference of the request; each may be empty.
        lines: the weigh list.
        found: how warm what is to be; None where that is not told.
        planned: mass of the batter, and number of bars where it is known.
    """
    steps = dict.fromkeys(line.step for line in lines)
    operations = [
        RecordOperation(operation=_OPERATIONS[step], planned_temperature=_planned(step, found))
        for step in steps
        if step in _OPERATIONS
    ]
    operations.append(
        RecordOperation(
            operation="pour the caustic into the fats, and stir to trace",
            planned_temperature=UNSET if found is None else found.batch,
        )
    )
    if "trace" in steps:
        operations.append(RecordOperation(operation="stir in what goes in at trace"))
    operations += [RecordOperation(operation=what) for what in ("pour into the moulds", "unmould and cut")]
    batter_mass, bars = planned
    return BatchRecord(
        product=names[0],
        batch_number=names[1],
        materials=[RecordMaterial(material=line.material, planned_mass=line.mass) for line in lines],
        operations=operations,
        controls=[RecordControl(control=what) for what in _CONTROLS],
        planned_batter_mass=batter_mass,
        planned_bars=UNSET if bars is None else bars,
    )


def _planned(step: str, found: Temperatures | None) -> TemperatureFigure | UnsetType:
    if found is None:
        return UNSET
    return {"fats": found.fats, "stock": found.stock}.get(step, UNSET)
