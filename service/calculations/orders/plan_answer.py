"""What a production plan answers."""

from typing import Annotated

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.orders.money import Amount
from service.calculations.shared.messages import Alkali, Answer
from service.calculations.shared.told import (
    CountFigure,
    DurationFigure,
    EnergyFigure,
    FractionFigure,
    LeastMassFigure,
    MassFigure,
    TemperatureFigure,
)

SkuTold = Annotated[str, Meta(description="The article.", examples=["OAT-100"])]
WorkDay = Annotated[CountFigure, Meta(description="Day of work, counted from 1.")]
Day = Annotated[str, Meta(description="The same by the calendar, ISO 8601; with first_day.", examples=["2031-03-14"])]


class PlannedDraw(Struct, frozen=True, kw_only=True):
    """What a batch draws of a stock, and what is left then."""

    stock: Annotated[CountFigure, Meta(description="Place of the stock in the request, counted from 0.")]
    alkali: Alkali
    mass: Annotated[MassFigure, Meta(description="Of the draw.")]
    stock_left: Annotated[MassFigure, Meta(description="In the tank, dead volume and reserve counted.")]


class PlannedBatch(Struct, frozen=True, kw_only=True):
    """A batch to make."""

    number: Annotated[CountFigure, Meta(description="Counted from 1, in the order of work.")]
    sku: SkuTold
    bars: Annotated[CountFigure, Meta(description="What it gives.")]
    work_day: WorkDay
    day: Day | UnsetType = UNSET
    due: Annotated[str, Meta(description="When the first of its bars is due.", examples=["2031-03-14"])] | UnsetType = (
        UNSET
    )
    late: (
        Annotated[bool, Meta(description="Whether its bars are ready after that; with due and first_day.")] | UnsetType
    ) = UNSET
    fat_mass: Annotated[MassFigure, Meta(description="Of all its fats.")]
    batter_mass: Annotated[MassFigure, Meta(description="Of all that is poured.")]
    stock_draws: Annotated[list[PlannedDraw], Meta(description="What it draws.")]


class PlannedMixing(Struct, frozen=True, kw_only=True):
    """A tank that is filled anew, its sheet as `stock-mixing/ice` answers it."""

    stock: Annotated[CountFigure, Meta(description="Place of the stock in the request, counted from 0.")]
    alkali: Alkali
    before_batch: Annotated[CountFigure, Meta(description="The batch that it must be cool for.")]
    needed_on: WorkDay
    mix_on: Annotated[
        CountFigure,
        Meta(description="Last day of work on which it can be mixed and is cool in time, counted like work_day."),
    ]
    mix_day: Day | UnsetType = UNSET
    stock_before: Annotated[MassFigure, Meta(description="What is in the tank.")]
    mass_as_supplied: Annotated[MassFigure, Meta(description="Solid to weigh.")]
    ice_mass: Annotated[LeastMassFigure, Meta(description="Ice to weigh.")]
    water_mass: Annotated[MassFigure, Meta(description="Water to weigh beside the ice.")]
    mass: Annotated[MassFigure, Meta(description="What the tank then holds.")]
    strength: Annotated[FractionFigure, Meta(description="Mass fraction of hydroxide then.")]
    peak_temperature: Annotated[
        TemperatureFigure,
        Meta(description="How hot it gets, and the bounds of that, wider than 95 %, as stock-mixing answers them."),
    ]
    reachable: Annotated[bool, Meta(description="Whether ice keeps the peak at or below its limit.")]
    cool_to: Annotated[TemperatureFigure, Meta(description="What it cools to before it is drawn from.")]
    cooling_time: Annotated[DurationFigure, Meta(description="How long that takes from the peak's upper end.")]


class MaterialLine(Struct, frozen=True, kw_only=True):
    """A material, over the whole plan."""

    material: Annotated[str, Meta(description="As in a weigh list; ice as ice.", examples=["olive-oil", "NaOH"])]
    sku: Annotated[str, Meta(description="As it was given; else the material.", examples=["RM-014"])]
    description: Annotated[str, Meta(description="As it was given; else the material.", examples=["olive oil"])]
    required: Annotated[MassFigure, Meta(description="What all batches and mixings take.")]
    on_hand: Annotated[MassFigure, Meta(description="What is there, as it was given.")]
    short: Annotated[MassFigure, Meta(description="What lacks.")]
    purchase: Annotated[MassFigure, Meta(description="What to buy: whole packages where told, else what lacks.")]
    packages: Annotated[CountFigure, Meta(description="The same in packages.")] | UnsetType = UNSET
    quantity: Annotated[
        str,
        Meta(description="required in the article's unit, a decimal text of six decimals.", examples=["12.500"]),
    ]
    short_quantity: Annotated[str, Meta(description="short likewise, rounded up.", examples=["0.000"])]
    purchase_quantity: Annotated[str, Meta(description="purchase likewise, rounded up.", examples=["15.000"])]
    unit_code: Annotated[
        str, Meta(description="The unit of these texts, UN/CEFACT Recommendation 20.", examples=["KGM", "LTR"])
    ]
    needed_for: Annotated[list[str], Meta(description="Articles it goes into; stock for what is mixed of it.")]


class SkuCost(Struct, frozen=True, kw_only=True):
    """What the batches of an article cost in materials; another soap that goes into it is told under its own SKU."""

    sku: SkuTold
    bars: Annotated[CountFigure, Meta(description="How many are made.")]
    cost: Annotated[Amount, Meta(description="Sum of its materials, each rounded to the minor unit, halves to even.")]
    by_bar: Annotated[Amount, Meta(description="The same for a bar, rounded likewise.")]
    by_bar_with_parts: (
        Annotated[
            Amount,
            Meta(description="The same with what the bars of other soaps cost that go into it; where some do."),
        ]
        | UnsetType
    ) = UNSET


class PlanCost(Struct, frozen=True, kw_only=True):
    """What the plan costs in materials."""

    by_sku: Annotated[list[SkuCost], Meta(description="Articles in the order of the recipes.")]
    total: Annotated[Amount, Meta(description="The exact sum of by_sku.")]
    without_price: Annotated[list[str], Meta(description="Materials that nothing is counted for.")]


class Surplus(Struct, frozen=True, kw_only=True):
    """Bars over and above what is ordered."""

    sku: SkuTold
    quantity: Annotated[CountFigure, Meta(description="How many.")]


class LateOrder(Struct, frozen=True, kw_only=True):
    """An order that is not ready when it is due."""

    order: Annotated[CountFigure, Meta(description="Place of the line in the request, counted from 0.")]
    sku: SkuTold
    due: Annotated[str, Meta(description="When it is due.", examples=["2031-03-14"])]
    ready: Annotated[str, Meta(description="When its last bar is ready.", examples=["2031-03-20"])]


class ProductionPlanAnswer(Answer, kw_only=True):
    """The batches, what they draw, take and cost, and what is mixed and bought for them."""

    batches: Annotated[list[PlannedBatch], Meta(description="In the order of work.")]
    mixings: Annotated[list[PlannedMixing], Meta(description="Tanks that are filled anew, in the order of need.")]
    materials: Annotated[list[MaterialLine], Meta(description="Every material, by name.")]
    shortages: Annotated[list[MaterialLine], Meta(description="Those of which there is too little.")]
    surplus: Annotated[list[Surplus], Meta(description="Articles of which more bars are made than ordered.")]
    late_orders: (
        Annotated[
            list[LateOrder],
            Meta(description="Order lines that are not ready in time; left out where the first day is not told."),
        ]
        | UnsetType
    ) = UNSET
    cost: Annotated[PlanCost, Meta(description="With prices.")] | UnsetType = UNSET
    heating_time: Annotated[DurationFigure, Meta(description="For all batches together; with heating.")] | UnsetType = (
        UNSET
    )
    heating_energy: Annotated[EnergyFigure, Meta(description="What that draws; with heating.")] | UnsetType = UNSET
    material_lines: Annotated[
        str,
        Meta(
            description="The materials as CSV (RFC 4180) with the columns sku, description, quantity, unit_code and "
            "needed_for, articles in it joined by semicolons: what is required, for a bill of materials. A text that "
            "begins with = + - @, their full-width forms, a tab or a line break has an apostrophe before it, so that "
            "no spreadsheet runs it as a formula: an SKU of -100 is '-100 here, and as it was sent in materials. Take "
            "one apostrophe off to have it back. Quantities and codes never have one.",
            examples=["sku,description,quantity,unit_code,needed_for\r\n"],
        ),
    ]
    purchase_lines: Annotated[
        str,
        Meta(
            description="What to buy in the same columns, written likewise.",
            examples=["sku,description,quantity,unit_code,needed_for\r\n"],
        ),
    ]
