"""POST /v1/batch-sheet: from a recipe to the bench: what is weighed, how warm, what comes of it, its cost and label."""

from math import floor
from typing import Annotated, ClassVar, Final

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.batch.usual import division_or_none
from service.calculations.orders.batch_content import Content, batter
from service.calculations.orders.batch_made import as_weighed, make
from service.calculations.orders.batch_record import BatchRecord, batch_record
from service.calculations.orders.label_laws import LawName
from service.calculations.orders.net_mass import NetMass
from service.calculations.orders.recipe import Recipe, ScaleTo
from service.calculations.orders.recipe_reading import read_recipe
from service.calculations.orders.scaling import fat_mass
from service.calculations.orders.sheet_cost import Cost, MaterialPrice, check_prices, cost, read_prices
from service.calculations.orders.sheet_examples import EXAMPLES
from service.calculations.orders.sheet_label import Label, LabelLine, label
from service.calculations.orders.sheet_notes import caution_sheet
from service.calculations.orders.sheet_steps import Reckoned, explain_sheet
from service.calculations.orders.sheet_superfat import superfat_weighed
from service.calculations.orders.sheet_temperatures import USUAL, Temperatures, temperatures
from service.calculations.orders.stock_at_hand import StockLeft, check_states, left_of
from service.calculations.orders.use_limits import Finished, UseLimit, use_limits
from service.calculations.orders.weigh_list import WeighLine, on_the_scale, weigh_lines
from service.calculations.registry import Calculation
from service.calculations.shared.given import MeasuredTemperature, PlainMass, Share, Temperature
from service.calculations.shared.messages import Answer, Request, Solution
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.rules import AtMostOne, Rule
from service.calculations.shared.told import CountFigure, DensityFigure, FractionFigure, MassFigure, VolumeFigure
from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import ROUNDING

MOST_PRICES: Final = 400


class BatchSheetRequest(Request, kw_only=True):
    """A recipe, the stock it is made with, and what it is scaled to."""

    recipe: Annotated[Recipe, Meta(description="What the soap is made of.")]
    stocks: (
        Annotated[
            list[Solution],
            Meta(
                max_length=2,
                description="The stocks at hand, one for each alkali; an alkali without one is weighed as a solid.",
            ),
        ]
        | None
    ) = None
    scale_to: Annotated[ScaleTo, Meta(description="What the batch is to come to.")]
    scale_division: (
        Annotated[
            PlainMass,
            Meta(
                description="Step of the scale: every mass is rounded to it so that the totals hold, and it widens the "
                "interval of the superfat. Default: none.",
                examples=["1 g"],
            ),
        ]
        | None
    ) = None
    fats_temperature: (
        Annotated[MeasuredTemperature, Meta(description="Of all the fats.", examples=["40 °C"])] | None
    ) = None
    wanted_temperature: (
        Annotated[
            Temperature,
            Meta(
                description="What the batch is to have before it reacts; default 32 °C where fats_temperature is not "
                "given either.",
                examples=["33 °C"],
            ),
        ]
        | None
    ) = None
    moisture_when_sold: (
        Annotated[
            Share,
            Meta(
                description="Water in a bar when it is sold, by mass, as it was weighed or measured; no curve of "
                "drying is reckoned.",
                examples=["10 %"],
            ),
        ]
        | None
    ) = None

    prices: (
        Annotated[
            list[MaterialPrice],
            Meta(
                min_length=1,
                max_length=MOST_PRICES,
                description="What the materials cost, all in one currency. Default: no cost.",
            ),
        ]
        | None
    ) = None
    label_law: (
        Annotated[
            LawName,
            Meta(
                description="By which law a list of ingredients is ordered: Regulation (EC) No 1223/2009 or 21 CFR "
                "701, with what was put in, or with what is present in the finished bar. Default: no label."
            ),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (AtMostOne(("fats_temperature", "wanted_temperature")),)


class Bars(Struct, frozen=True, kw_only=True):
    """The bars of a batch."""

    count: Annotated[CountFigure, Meta(description="Whole bars of bar_mass that the batter gives.")]
    mass: Annotated[MassFigure, Meta(description="Of one bar as it is poured or cut.")]
    cured_mass: (
        Annotated[
            MassFigure, Meta(description="Of one bar at moisture_when_sold; no more than it holds water to lose.")
        ]
        | UnsetType
    ) = UNSET
    left_over: Annotated[MassFigure, Meta(description="Batter that is left over beyond whole bars.")]


class BatchSheetAnswer(Answer, kw_only=True):
    """What is weighed, how warm it is to be, and what comes of it."""

    fat_mass: Annotated[MassFigure, Meta(description="Of all the fats, as the scale shows them.")]
    weigh_list: Annotated[list[WeighLine], Meta(description="Everything to weigh, in the order of work.")]
    temperatures: (
        Annotated[
            Temperatures, Meta(description="How warm fats and stock must be; left out, with a caution, where untold.")
        ]
        | UnsetType
    ) = UNSET
    superfat: Annotated[
        FractionFigure,
        Meta(
            description="What the masses on the scale leave: below 0 alkali is free. The interval: what the spread of "
            "fats, strength and scale leaves open."
        ),
    ]
    free_alkali_probability: Annotated[
        FractionFigure, Meta(description="Probability that alkali is free; with wax taking none where that is worse.")
    ]
    stocks_left: Annotated[list[StockLeft], Meta(description="What is left of the stocks that are drawn from.")]
    batter_mass: Annotated[MassFigure, Meta(description="Of all that is poured, uncut.")]
    batter_density: Annotated[
        DensityFigure, Meta(description="As it is poured: what its parts take up together, with 0 to 6 % of air.")
    ]
    batter_volume: Annotated[VolumeFigure, Meta(description="What moulds must hold.")]
    water_share: Annotated[FractionFigure, Meta(description="Water in the batter once it has reacted, by mass.")]
    glycerol_mass: Annotated[MassFigure, Meta(description="Glycerol that is set free and stays in the soap.")]
    cured_mass: Annotated[MassFigure, Meta(description="Of the whole batch at moisture_when_sold.")] | UnsetType = UNSET
    bars: Annotated[Bars, Meta(description="With a bar_mass.")] | UnsetType = UNSET
    use_limits: (
        Annotated[list[UseLimit], Meta(description="Additions that have a highest_share, against it.")] | UnsetType
    ) = UNSET
    cost: Annotated[Cost, Meta(description="What the materials cost; with prices.")] | UnsetType = UNSET
    label: Annotated[list[LabelLine], Meta(description="Ingredients in the order of label_law.")] | UnsetType = UNSET
    label_text: (
        Annotated[str, Meta(description="The same as a text.", examples=["Sodium Olivate, Aqua, Glycerin"])] | UnsetType
    ) = UNSET
    label_basis: Annotated[str, Meta(description="What the order rests on.", examples=["21 CFR 701.3"])] | UnsetType = (
        UNSET
    )
    net_mass: (
        Annotated[NetMass, Meta(description="Of one bar when it is sold; with a label, bars and moisture_when_sold.")]
        | UnsetType
    ) = UNSET
    record: Annotated[BatchRecord, Meta(description="To print and fill in, by the items of ISO 22716 (from memory).")]


def calculate(request: BatchSheetRequest, notes: Notes) -> BatchSheetAnswer:
    """What is weighed, how warm it is to be, and what comes of it."""
    stocks, to = request.stocks or (), request.scale_to
    check_states(stocks, notes)
    recipe = read_recipe(request.recipe, stocks, notes)
    division = division_or_none(request.scale_division, notes)
    t = USUAL if request.wanted_temperature is None else request.wanted_temperature.value
    made = make(recipe, fat_mass(recipe, to, notes, lambda one: batter(as_weighed(one.weighings), t).density), notes)
    shown = on_the_scale(made.weighings, division, notes, at_hand=to.stock_draw is not None)
    weighed = as_weighed(shown)
    prices = read_prices(request.prices or (), notes)
    if prices is not None:
        check_prices(prices, request.prices or (), shown, notes)
    left = left_of(stocks, made.split.sources, shown, notes)
    notes.stop_at_faults()

    budget, worst = superfat_weighed(weighed, division, notes)
    found = temperatures(made, request.recipe, stocks, (request.fats_temperature, request.wanted_temperature), notes)
    content, poured = Content(weighed), batter(weighed, t)
    moisture = None if request.moisture_when_sold is None else request.moisture_when_sold.value
    cured = None if moisture is None else _cured(content, moisture, notes)
    bars = _bars(to, content.mass, cured)
    finished = Finished(content.dry_mass if cured is None else cured, moisture)
    caution_sheet(made, weighed, (budget, worst), notes)
    told = _label(request, content, cured, bars, notes)
    limits = use_limits(weighed.additions, finished, notes)
    if notes.explain:
        explain_sheet(to, made, weighed, Reckoned(budget, content, poured.density, moisture, division), notes)
    lines = weigh_lines(shown, made.weighings, rounded=bool(division))
    return BatchSheetAnswer(
        fat_mass=MassFigure(sum(one.mass for one in weighed.fats)),
        weigh_list=lines,
        temperatures=UNSET if found is None else found,
        superfat=FractionFigure(budget.superfat, worst.lowest_superfat, budget.superfat_interval[1]),
        free_alkali_probability=FractionFigure(worst.free_alkali_probability),
        stocks_left=left,
        batter_mass=MassFigure(content.mass),
        batter_density=DensityFigure(*poured),
        batter_volume=VolumeFigure(*(content.mass / one for one in (poured.density, poured.high, poured.low))),
        water_share=FractionFigure(content.water / content.mass),
        glycerol_mass=MassFigure(content.glycerol),
        cured_mass=UNSET if cured is None else MassFigure(cured),
        bars=UNSET if bars is None else bars,
        use_limits=limits or UNSET,
        cost=UNSET if prices is None else cost(prices, shown, None if bars is None else int(bars.count.value), notes),
        label=UNSET if told is None else told.lines,
        label_text=UNSET if told is None else told.text,
        label_basis=UNSET if told is None else told.basis,
        net_mass=UNSET if told is None or told.net_mass is None else told.net_mass,
        record=batch_record(
            (request.recipe.name or "", request.reference or ""),
            lines,
            found,
            (MassFigure(content.mass), None if bars is None else bars.count),
        ),
    )


def _label(
    request: BatchSheetRequest, content: Content, cured: float | None, bars: Bars | None, notes: Notes
) -> Label | None:
    """The label, where a law is named."""
    if request.label_law is None:
        return None
    bar = None if bars is None or not isinstance(bars.cured_mass, MassFigure) else bars.cured_mass.value
    found = label(request.label_law, request.recipe, content, (cured, bar), notes)
    notes.stop_at_faults()
    return found


def _cured(content: Content, moisture: float, notes: Notes) -> float:
    """Mass of the whole batch when it is sold [kg]."""
    try:
        return content.mass_at(moisture)
    except OutOfRange as error:
        raise notes.refuse(
            "/moisture_when_sold",
            "contradiction",
            f"a bar with {percent(moisture)} of water is wetter than this batter, which holds {percent(error.high)}",
            "give what the bars hold when they are sold, by weighing them: less than the batter did",
        ) from None


def _bars(to: ScaleTo, batter_mass: float, cured: float | None) -> Bars | None:
    """The bars that the batter gives."""
    if to.bar_mass is None:
        return None
    if to.bars is not None:
        count, each = to.bars, batter_mass / to.bars
    else:
        each = to.bar_mass.value
        count = floor(batter_mass / each * (1 + ROUNDING))
    return Bars(
        count=CountFigure(count),
        mass=MassFigure(each),
        cured_mass=UNSET if cured is None else MassFigure(each * cured / batter_mass),
        left_over=MassFigure(max(0.0, batter_mass - count * each)),
    )


CALCULATION: Final = Calculation(
    name="batch-sheet",
    summary="A recipe scaled to a batch: what to weigh, how warm, and what comes of it",
    description=(
        "For the bench: a recipe by shares or masses, scaled to a mass of fats or of batter, to moulds, to bars, or to "
        "a draw of stock that is at hand already. Answers the weigh-list in the order of work, every mass as the scale "
        "can show it and the totals with it, the superfat that these masses really give, how warm fats and stock must "
        "be, what is left of the stock, the uncut mass, and the mass at a stated moisture, without any curve of time; "
        "bars, glycerol, additions against their limits, and a batch record to fill in.\n\n"
        "Alkali, liquids, superfat and temperatures are those of `saponification`, `liquid-split`, `superfat-check` "
        "and `batch-temperature`. Masses are rounded to the nearest step of the scale; those of the fats, and of the "
        "liquids, by the largest remainder, so that their totals are too, and each lies within one step of its exact "
        "mass. The batter's density is that "
        "of its parts side by side, caustic and all the water as one solution, at the wanted temperature, or at 32 °C, "
        "with 3 % of air (0 to 6 %).\n\n"
        "Not a formula that anybody has assessed: limits of additions are the caller's. Range: one stock for each "
        "alkali, NaOH to 52 %, KOH to 50 %; additions are taken to react with nothing.\n\n"
        "Sources: as those calculations; densities of fats by Codex Alimentarius CXS 210-1999, of milks and juices by "
        "Y. Choi and M. R. Okos 1986; the items of the record by ISO 22716:2007 (from memory)."
    ),
    request=BatchSheetRequest,
    answer=BatchSheetAnswer,
    calculate=calculate,
    examples=EXAMPLES,
)
