"""POST /v1/liquid-split: how much stock to draw, how much of which liquid to add, and where."""

from collections.abc import Sequence
from typing import Annotated, Final, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.batch.acids import AcidLine, caution_acids, weighed_acids
from service.calculations.batch.fat_notes import caution_fats, caution_free_alkali, caution_idle_alkali
from service.calculations.batch.fat_yields import Risk, risk
from service.calculations.batch.fats import WeighedFat, weighed_fats
from service.calculations.batch.liquid_split_examples import EXAMPLES
from service.calculations.batch.saponification_steps import explain_idle_wax, explain_spread
from service.calculations.batch.split import Added, Source, Split
from service.calculations.batch.split_apportioning import split_liquid
from service.calculations.batch.split_notes import caution_split, explain_split
from service.calculations.batch.split_reading import (
    AlkaliMass,
    Compensate,
    CountLiquidsAs,
    LiquidLine,
    TotalLiquid,
    read_lines,
    read_sources,
    read_total,
)
from service.calculations.registry import Calculation, Link
from service.calculations.shared.given import Superfat
from service.calculations.shared.messages import (
    MOST_LIQUIDS,
    Alkali,
    Answer,
    FatLines,
    Request,
    Stock,
)
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.standing_cautions import HANDLING
from service.calculations.shared.told import FractionFigure, MassFigure, RatioFigure, VolumeFigure
from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.liquid_split import draw_mass
from service.chemistry.saponification_budget import FatLine, Reagent, SaponificationBudget, saponification_budget
from service.chemistry.uncertainty import Combined, Part, combine, coverage_half_width

CONTRADICTS_FROM: Final = 0.005
"""Share of the alkali by which fats and superfat may miss it without a word."""
REFERENCE_VALUE: Final = 0.190
"""Saponification value [kg/kg] of fats that are known by their need alone; any value gives the same superfat."""


class LiquidSplitRequest(Request, kw_only=True):
    """The alkali of a batch, the stocks it is drawn from, and the liquid wanted in all."""

    alkalis: Annotated[list[AlkaliMass], Meta(min_length=1, max_length=2, description="The alkali the batch needs.")]
    stocks: (
        Annotated[
            list[Stock],
            Meta(max_length=2, description="The stocks; an alkali without one is weighed dry and dissolved."),
        ]
        | None
    ) = None
    total_liquid: Annotated[TotalLiquid, Meta(description="Default: nothing is added beside the stock.")] | None = None
    liquids: (
        Annotated[
            list[LiquidLine],
            Meta(
                min_length=1,
                max_length=MOST_LIQUIDS,
                description="Liquids that go in beside the stock; distilled water where none are named.",
            ),
        ]
        | None
    ) = None
    count_liquids_as: CountLiquidsAs | None = None
    fats: FatLines | None = None
    superfat: (
        Annotated[Superfat, Meta(description="The superfat the alkali was reckoned for.", examples=["5 %"])] | None
    ) = None
    acids: (
        Annotated[
            list[AcidLine],
            Meta(max_length=MOST_LIQUIDS, description="Acids of the recipe that the alkali was reckoned for."),
        ]
        | None
    ) = None
    compensate: Compensate | None = None


class StockDraw(Struct, frozen=True, kw_only=True):
    """What is drawn from one stock."""

    alkali: Alkali
    mass: Annotated[
        MassFigure,
        Meta(description="Stock to weigh out. The interval: what would really hold the alkali that is needed."),
    ]
    volume: (
        Annotated[VolumeFigure, Meta(description="Its volume at its temperature, for choosing a jug; weigh it.")]
        | UnsetType
    ) = UNSET
    alkali_mass: Annotated[MassFigure, Meta(description="Pure hydroxide in it.")]
    water_mass: Annotated[MassFigure, Meta(description="All else in it.")]


class WeighDry(Struct, frozen=True, kw_only=True):
    """An alkali for which there is no stock."""

    alkali: Alkali
    mass: Annotated[MassFigure, Meta(description="Pure hydroxide.")]
    mass_as_supplied: (
        Annotated[MassFigure, Meta(description="What is weighed; left out where the purity is missing.")] | UnsetType
    ) = UNSET
    water_mass: Annotated[
        MassFigure, Meta(description="Plain water to dissolve it in: its own mass, the least that does.")
    ]


class Addition(Struct, frozen=True, kw_only=True):
    """A liquid added beside the stock."""

    liquid: Annotated[str, Meta(description="Its identifier.", examples=["goat-milk"])]
    mass: Annotated[MassFigure, Meta(description="How much of it.")]
    volume: Annotated[VolumeFigure, Meta(description="Its volume at room temperature.")] | UnsetType = UNSET
    add_to: Annotated[Literal["fats", "stock"], Meta(description="Where it goes.")]
    reason: Annotated[str, Meta(description="Why it goes there.", examples=["its sugars brown in strong caustic"])]
    water_mass: Annotated[MassFigure, Meta(description="The water in it.")]
    fat_mass: Annotated[MassFigure, Meta(description="The fat in it.")]
    acid_demand: Annotated[MassFigure, Meta(description="Pure alkali that its acid takes.")]


class LiquidSplitAnswer(Answer):
    """What to draw, what to add, and what that makes of the batch."""

    stock_draws: Annotated[list[StockDraw], Meta(description="What to draw from each stock.")]
    weigh_dry: Annotated[list[WeighDry], Meta(description="Alkali without a stock, and the water to dissolve it in.")]
    additions: Annotated[list[Addition], Meta(description="What to add beside the stock.")]
    added_liquid_mass: Annotated[MassFigure, Meta(description="All that is added beside stock and dissolved alkali.")]
    water_ratio: Annotated[RatioFigure, Meta(description="Liquid per pure hydroxide, as it was counted.")]
    actual_water_ratio: Annotated[RatioFigure, Meta(description="Water per pure hydroxide that is really there.")]
    acid_demand: Annotated[MassFigure, Meta(description="Pure alkali that the liquids' acids take.")]
    superfat: (
        Annotated[
            FractionFigure,
            Meta(
                description="Superfat with what the liquids bring; where it can be told. Its interval needs the spread "
                "of the fats: from `fats`, or from the interval of the alkali, as saponification answers it."
            ),
        ]
        | UnsetType
    ) = UNSET


def calculate(request: LiquidSplitRequest, notes: Notes) -> LiquidSplitAnswer:
    """How much stock to draw, how much of which liquid to add, and where."""
    needed = read_sources(request.alkalis, request.stocks or (), notes)
    lines = read_lines(request.liquids, request.total_liquid, notes)
    fats = weighed_fats(request.fats, notes) if request.fats is not None else None
    acids = weighed_acids(request.acids or (), notes)
    total = read_total(request.total_liquid, request.liquids, needed, notes)
    notes.stop_at_faults()

    whole = request.count_liquids_as != "water_content"
    split = split_liquid(needed, lines, total, notes, whole=whole, compensate=request.compensate is True)
    budget = _budget(split, fats, acids, request.superfat, notes)
    _assume(request, split, notes)
    notes.tell(*HANDLING)
    caution_split(split, budget, notes)
    caution_acids(acids, notes)
    worst = None
    if fats is not None and budget is not None:
        worst = risk(fats, (split.reagents, acids + split.acids, 0.0), budget, split.fat_lines)
        caution_fats(fats, notes)
        caution_idle_alkali(fats, budget, notes, worst.free_alkali_probability)
    if budget is not None:
        caution_free_alkali(budget, notes, 0.0 if worst is None else worst.free_alkali_probability)
    if notes.explain:
        explain_split(split, budget, notes)
    return LiquidSplitAnswer(
        stock_draws=[_draw(one) for one in split.sources if one.strength is not None],
        weigh_dry=[_dry(one) for one in split.sources if one.strength is None],
        additions=[_addition(one, split.mean_molar_mass) for one in split.added],
        added_liquid_mass=MassFigure(split.added_mass),
        water_ratio=RatioFigure((split.own_water + split.counted) / split.alkali_mass),
        actual_water_ratio=RatioFigure(split.actual_water_ratio),
        acid_demand=MassFigure.around(
            split.acid_amount * split.mean_molar_mass,
            coverage_half_width(split.acid_combined) * split.mean_molar_mass,
        ),
        superfat=_superfat_figure(budget, worst, spread_known=_spread_known(needed, fats)),
    )


def _assume(request: LiquidSplitRequest, split: Split, notes: Notes) -> None:
    """Say which defaults bore on the split."""
    if request.count_liquids_as is None and any(not one.liquid.is_water for one in split.added):
        notes.assume("/count_liquids_as", "whole", "usual in the trade: milk counts as if it were water")
    if request.compensate is None and split.acid_amount:
        notes.assume("/compensate", "false", "what the liquids' acid takes is told, not added")


def _budget(
    split: Split, fats: list[WeighedFat] | None, acids: list[Reagent], wanted: Superfat | None, notes: Notes
) -> SaponificationBudget | None:
    """What the liquids leave of the superfat, where fats or the wanted superfat tell the need."""
    for_fats = split.needed_amount - sum(one.mass * one.content for one in acids)
    if fats is not None:
        lines = [one.line for one in fats]
        if wanted is not None:
            need = sum([one.need for one in fats])
            _compare(split.needed_amount, (1 - wanted.value) * need + split.needed_amount - for_fats, notes)
    elif wanted is not None:
        if for_fats <= 0:
            raise notes.refuse(
                "/acids",
                "contradiction",
                "the acids of the recipe take more alkali than there is",
                "compare the masses of acids and alkali",
            )
        need = for_fats / (1 - wanted.value)
        part = _part_of_need(split, wanted.value, need)
        lines = [FatLine("the fats", need * molar_masses.KOH / REFERENCE_VALUE, REFERENCE_VALUE, part)]
    else:
        return None
    lines += split.fat_lines
    reagents, all_acids = split.reagents, acids + split.acids
    try:
        budget = saponification_budget(lines, reagents, all_acids)
    except OutOfRange:
        raise notes.refuse(
            "/liquids",
            "contradiction",
            "fats, alkali and liquids fit so badly that no superfat can be told",
            "compare their masses and their limits",
        ) from None
    if notes.explain and _spread_known(split.sources, fats):
        weighed, left = (reagents, all_acids, 0.0), budget.alkali - budget.acid
        explain_spread(lines, weighed, (budget.need, left), "", notes)
        if fats is not None:
            explain_idle_wax(fats, split.fat_lines, weighed, left, notes)
    return budget


def _spread_known(sources: Sequence[Source], fats: list[WeighedFat] | None) -> bool:
    """Whether the spread of the fats is known, from themselves or from the alkali they need."""
    return fats is not None or any(one.mass_part[0] for one in sources)


def _part_of_need(split: Split, superfat: float, need: float) -> Part:
    """Spread of fats that only the alkali tells of [kg/kg]: that of the alkali they need, as saponification answers it.

    Both alkalis err together, with the fats. What acids of the recipe err by is in that spread already, and is counted
    once more with them: the wide side.
    """
    to_value = REFERENCE_VALUE / need / (1 - superfat)
    uncertainty = half_width = 0.0
    for one in split.sources:
        per_mass = to_value / molar_masses.ALKALI[one.alkali]
        uncertainty += per_mass * one.mass_part[0]
        half_width += per_mass * one.mass_part[1]
    return Part(uncertainty, half_width)


def _compare(given: float, due: float, notes: Notes) -> None:
    """Fats, superfat and alkali say the same thing twice, and should agree."""
    share = given / due - 1
    if abs(share) > CONTRADICTS_FROM:
        notes.caution(
            "superfat-contradicts",
            f"The alkali is {percent(abs(share))} {'more' if share > 0 else 'less'} than these fats and acids take at "
            "that superfat. The superfat answered is reckoned from the fats and the alkali.",
            "danger" if share > 0 else None,
        )


def _superfat_figure(
    budget: SaponificationBudget | None, worst: Risk | None, *, spread_known: bool
) -> FractionFigure | UnsetType:
    if budget is None:
        return UNSET
    if not spread_known:
        return FractionFigure(budget.superfat)
    low, high = budget.superfat_interval
    return FractionFigure(budget.superfat, low if worst is None else worst.lowest_superfat, high)


def _draw(source: Source) -> StockDraw:
    if source.strength is None or source.stock is None:
        raise TypeError(source)
    w, spread, _ = source.strength
    mass = draw_mass(source.mass, w)
    exact = not (source.mass_part.standard_uncertainty or spread.standard_uncertainty)
    half_width = 0.0 if exact else coverage_half_width(combine(((1 / w, source.mass_part), (mass / w, spread))))
    return StockDraw(
        alkali=source.alkali,
        mass=MassFigure.around(mass, half_width),
        volume=UNSET if source.stock.density is None else VolumeFigure(mass / source.stock.density),
        alkali_mass=MassFigure(source.mass),
        water_mass=MassFigure(source.own_water),
    )


def _dry(source: Source) -> WeighDry:
    return WeighDry(
        alkali=source.alkali,
        mass=MassFigure(source.mass),
        mass_as_supplied=UNSET if source.purity is None else _as_supplied(source, source.purity),
        water_mass=MassFigure(source.own_water),
    )


def _as_supplied(source: Source, purity: float) -> MassFigure:
    mass = source.mass / purity
    spread = combine(((1 / purity, source.mass_part), (mass / purity, source.purity_part)))
    return MassFigure.around(mass, coverage_half_width(spread))


def _addition(added: Added, mean_molar_mass: float) -> Addition:
    liquid, mass = added.liquid, added.mass
    if liquid.acid_per_mass:
        to_alkali = mass * mean_molar_mass
        half_width = coverage_half_width(Combined(*liquid.acid_part)) * to_alkali
        acid_demand = MassFigure.around(liquid.acid_per_mass * to_alkali, half_width)
    else:
        acid_demand = MassFigure(0.0)
    return Addition(
        liquid=liquid.id,
        mass=MassFigure(mass),
        volume=UNSET if liquid.density is None else VolumeFigure(mass / liquid.density),
        add_to=added.add_to,
        reason=liquid.reason if added.add_to == "fats" else "plain water, as asked; it warms the stock",
        water_mass=MassFigure(mass * liquid.water),
        fat_mass=MassFigure(mass * liquid.fat),
        acid_demand=acid_demand,
    )


CALCULATION: Final = Calculation(
    name="liquid-split",
    summary="Stock to draw and liquid to add",
    description=(
        "For the scale, at every batch: how much of a concentrated stock holds the alkali, how much other liquid goes "
        "beside it for a wanted ratio of water to alkali, where each liquid goes and why; the water, fat and acid the "
        "liquids bring, and what that does to the true ratio, the superfat and the alkali. All liquid counts: that of "
        "the stock, and that added beside it.\n\n"
        "Range: stocks of NaOH to 52 %, of KOH to 50 %; at least as much water as alkali in all. Does not reckon the "
        "alkali (`saponification` does), nor how warm the batch gets; a volume is told for choosing a jug, stock is "
        "weighed.\n\n"
        "Sources: mass balances; densities as in `concentration`; water, fat and acid of each liquid by the sources "
        "that its entry of the catalogue names; where liquids go is common practice."
    ),
    request=LiquidSplitRequest,
    answer=LiquidSplitAnswer,
    calculate=calculate,
    examples=EXAMPLES,
    links=(
        Link(
            "how-warm-it-gets",
            "batch-temperature",
            "How warm the drawn stock gets with fats of 35 °C, here a kilogram of olive oil; what is under `additions` "
            "goes into `liquids`, with its temperature.",
            {
                "fats": [{"fat": "olive-oil", "mass": "1 kg"}],
                "fats_temperature": "35 °C",
                "stock": {
                    "alkali": "$response.body#/stock_draws/0/alkali",
                    "mass": "$response.body#/stock_draws/0/mass",
                    "strength": {
                        "as_mixed": {
                            "mass_as_supplied": "$response.body#/stock_draws/0/alkali_mass",
                            "water_mass": "$response.body#/stock_draws/0/water_mass",
                            "purity": "100 %",
                        }
                    },
                },
            },
        ),
        Link(
            "mix-new-stock",
            "stock-mixing",
            "Mix as much stock as is drawn, of the same strength, from pure solid and water.",
            {
                "solid": {
                    "alkali": "$response.body#/stock_draws/0/alkali",
                    "mass_as_supplied": "$response.body#/stock_draws/0/alkali_mass",
                    "purity": "100 %",
                },
                "water": {"mass": "$response.body#/stock_draws/0/water_mass"},
            },
        ),
        Link(
            "check-what-was-drawn",
            "superfat-check",
            "The superfat of what was really drawn: put in the masses of the scale, and your own fats for the oil.",
            {
                "fats": [{"fat": "olive-oil", "mass": "1 kg"}],
                "stock_draws": [
                    {
                        "alkali": "$response.body#/stock_draws/0/alkali",
                        "mass": "$response.body#/stock_draws/0/mass",
                        "strength": {
                            "as_mixed": {
                                "mass_as_supplied": "$response.body#/stock_draws/0/alkali_mass",
                                "water_mass": "$response.body#/stock_draws/0/water_mass",
                                "purity": "100 %",
                            }
                        },
                    }
                ],
            },
        ),
        Link(
            "properties-of-the-stock",
            "concentration",
            "The properties of the stock that is drawn from, and whether it is liquid.",
            {
                "alkali": "$response.body#/stock_draws/0/alkali",
                "strength": {
                    "as_mixed": {
                        "mass_as_supplied": "$response.body#/stock_draws/0/alkali_mass",
                        "water_mass": "$response.body#/stock_draws/0/water_mass",
                        "purity": "100 %",
                    }
                },
            },
        ),
    ),
)
