"""POST /v1/liquid-split: how much stock to draw, how much of which liquid to add, and where."""

from typing import Annotated, ClassVar, Final, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.acids import AcidLine, weighed_acids
from service.calculations.alkalis import caution_burns, purity_of
from service.calculations.fats import WeighedFat, caution_fats, caution_idle_alkali, weighed_fats
from service.calculations.faults import Refusal
from service.calculations.given import Mass, PlainMass, Proportion, Ratio, Share, Superfat, part_of
from service.calculations.liquids import catalogue_liquid, find_liquid
from service.calculations.messages import (
    MOST_LIQUIDS,
    Alkali,
    AlkaliName,
    Answer,
    FatLines,
    Identifier,
    PurityGiven,
    Request,
    Stock,
    Strength,
)
from service.calculations.notes import Notes, percent
from service.calculations.registry import Calculation, Example, Link
from service.calculations.rules import AtMostOne, ExactlyOne, Rule, Ruled, Together
from service.calculations.solutions import ROOM, mass_fraction
from service.calculations.split import Added, Line, Source, Split, Total
from service.calculations.split_notes import caution_split, explain_split
from service.calculations.told import FractionFigure, MassFigure, RatioFigure, VolumeFigure
from service.chemistry import density, molar_masses, vapour_pressure
from service.chemistry.errors import OutOfRange
from service.chemistry.liquid_split import LEAST_WATER_RATIO, Portion, Shortfall, apportion, draw_mass
from service.chemistry.saponification import hydroxide_amount
from service.chemistry.saponification_budget import FatLine, Reagent, SaponificationBudget, saponification_budget
from service.chemistry.uncertainty import EXACT, Combined, Part, combine, coverage_half_width

WATER: Final = "distilled-water"
SHARES_ROUNDING: Final = 1e-6
"""How far shares may miss the whole; what rounding leaves is scaled away."""
ROUNDING: Final = 1e-9
"""Relative miss of a mass balance that counts as rounding."""
LEAST_STRENGTH: Final = 1e-3
"""Mass fraction below which a solution is no stock."""
LEAST_PURITY: Final = 0.5
"""As for every purity, so that a slip is caught."""
COLDEST_STOCK: Final = -30.0
"""Temperature [°C] below which no caustic stock is liquid."""
MOST_ROUNDS: Final = 200
CONTRADICTS_FROM: Final = 0.005
"""Share of the alkali by which fats and superfat may miss it without a word."""
REFERENCE_VALUE: Final = 0.190
"""Saponification value [kg/kg] of fats that are known by their need alone; any value gives the same superfat."""


class AlkaliMass(Ruled, kw_only=True):
    """An alkali the batch needs, as saponification answers it."""

    alkali: Alkali
    mass: Annotated[Mass, Meta(description="Pure hydroxide.", examples=["128.7 g"])]
    mass_as_supplied: (
        Annotated[PlainMass, Meta(description="What is weighed of the solid; only for alkali without a stock.")] | None
    ) = None
    purity: PurityGiven | None = None

    rules: ClassVar[tuple[Rule, ...]] = (AtMostOne(("mass_as_supplied", "purity")),)


class TotalLiquid(Ruled, kw_only=True):
    """All the liquid of the batch, the stock's own included, said in exactly one way."""

    water_ratio: Annotated[Ratio, Meta(description="Liquid per mass of pure hydroxide.", examples=["2:1"])] | None = (
        None
    )
    mass: Annotated[PlainMass, Meta(description="Its mass.", examples=["257 g"])] | None = None
    liquid_to_fat_ratio: (
        Annotated[Proportion, Meta(description="Liquid per mass of fat, with `fat_mass`.", examples=["30 %"])] | None
    ) = None
    fat_mass: Annotated[PlainMass, Meta(description="The mass of the fats, for `liquid_to_fat_ratio`.")] | None = None
    final_strength: Annotated[Strength, Meta(description="Hydroxide in hydroxide and liquid together.")] | None = None

    rules: ClassVar[tuple[Rule, ...]] = (
        ExactlyOne(("water_ratio", "mass", "liquid_to_fat_ratio", "final_strength")),
        Together(("liquid_to_fat_ratio", "fat_mass")),
    )


class LiquidLine(Ruled, kw_only=True):
    """A liquid added beside the stock, and how much of it."""

    liquid: Annotated[Identifier, Meta(examples=["goat-milk"])]
    share: Annotated[Share, Meta(description="Its share of all that is added, by mass.", examples=["50 %"])] | None = (
        None
    )
    mass: Annotated[PlainMass, Meta(description="Its mass.", examples=["60 g"])] | None = None
    rest: Annotated[Literal[True], Meta(description="It is what the others leave.")] | None = None
    add_to: (
        Annotated[
            Literal["fats", "stock"],
            Meta(description="Where plain water goes; all else goes into the fats. Default the fats."),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("share", "mass", "rest")),)


class LiquidSplitRequest(Request, kw_only=True):
    """The alkali of a batch, the stocks it is drawn from, and the liquid wanted in all."""

    alkalis: Annotated[list[AlkaliMass], Meta(min_length=1, max_length=2, description="The alkali the batch needs.")]
    stocks: Annotated[
        list[Stock],
        Meta(max_length=2, description="The stocks; an alkali without one is weighed dry and dissolved."),
    ]
    total_liquid: Annotated[TotalLiquid, Meta(description="Default: nothing is added beside the stock.")] | None = None
    liquids: (
        Annotated[
            list[LiquidLine],
            Meta(
                min_length=1,
                max_length=MOST_LIQUIDS,
                description="What is added beside the stock; default distilled water.",
            ),
        ]
        | None
    ) = None
    count_liquids_as: (
        Annotated[
            Literal["whole", "water_content"],
            Meta(
                description="Whether a gram of milk counts as a gram of liquid (default, the trade's habit), or only "
                "the water in it counts."
            ),
        ]
        | None
    ) = None
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
    compensate: (
        Annotated[
            bool,
            Meta(description="Whether the alkali that a liquid's acid takes is added; default it is only told."),
        ]
        | None
    ) = None


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
        Annotated[FractionFigure, Meta(description="Superfat with what the liquids bring; where it can be told.")]
        | UnsetType
    ) = UNSET


def calculate(request: LiquidSplitRequest, notes: Notes) -> LiquidSplitAnswer:
    """How much stock to draw, how much of which liquid to add, and where."""
    needed = _sources(request, notes)
    lines = _lines(request, notes)
    fats = weighed_fats(request.fats, notes) if request.fats is not None else None
    acids = weighed_acids(request.acids or (), notes)
    total = _total(request, needed, notes)
    notes.stop_at_faults()

    split = _split(request, needed, lines, total, notes)
    budget = _budget(split, fats, acids, request.superfat, notes)
    _assume(request, split, notes)
    caution_burns(notes)
    caution_split(split, budget, notes)
    if fats is not None and budget is not None:
        caution_fats(fats, notes)
        caution_idle_alkali(fats, budget, notes)
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
        superfat=_superfat_figure(budget, fats_known=fats is not None),
    )


def _assume(request: LiquidSplitRequest, split: Split, notes: Notes) -> None:
    """Say which defaults bore on the split."""
    if request.count_liquids_as is None and any(not one.liquid.is_water for one in split.added):
        notes.assume("/count_liquids_as", "whole", "the trade's habit: a gram of milk counts as a gram of water")
    if request.compensate is None and split.acid_amount:
        notes.assume("/compensate", "false", "what the liquids' acid takes is told, not added")


def _sources(request: LiquidSplitRequest, notes: Notes) -> list[Source]:
    """Each alkali with the stock of its kind, or without one."""
    stocks: dict[AlkaliName, tuple[int, Stock]] = {}
    for index, stock in enumerate(request.stocks):
        if stock.alkali in stocks:
            notes.fault(
                f"/stocks/{index}",
                "contradiction",
                f"there are two stocks of {stock.alkali}, and no way to tell how much to draw from each",
                "give the stock to draw from, one for each alkali",
            )
        stocks.setdefault(stock.alkali, (index, stock))
    sources: list[Source] = []
    for index, line in enumerate(request.alkalis):
        if any(one.alkali == line.alkali for one in sources):
            notes.fault(f"/alkalis/{index}", "contradiction", f"{line.alkali} is listed twice", "put it on one line")
            continue
        if line.alkali in stocks:
            place, stock = stocks[line.alkali]
            if line.purity is not None:
                notes.fault(
                    f"/alkalis/{index}/purity",
                    "contradiction",
                    f"{line.alkali} is drawn from stock, whose strength says all; a purity would count twice",
                    "leave purity out, or leave the stock out to weigh the solid",
                )
            found = mass_fraction(
                stock.strength, line.alkali, notes, f"/stocks/{place}/strength", lowest=LEAST_STRENGTH
            )
            t = ROOM if stock.temperature is None else stock.temperature.value
            if stock.temperature is None:
                notes.assume(f"/stocks/{place}/temperature", "20 °C", "a workshop's room")
            if found is not None:
                _check_temperature(line.alkali, found.mass_fraction, t, place, notes)
                sources.append(Source(line.alkali, line.mass.value, part_of(line.mass), found, t, None))
            continue
        purity, part = _dry_purity(line, notes, f"/alkalis/{index}")
        sources.append(Source(line.alkali, line.mass.value, part_of(line.mass), None, ROOM, purity, part))
    for alkali, (place, stock) in stocks.items():
        if all(line.alkali != alkali for line in request.alkalis):
            mass_fraction(stock.strength, alkali, notes, f"/stocks/{place}/strength", lowest=LEAST_STRENGTH)
    return sources


def _check_temperature(alkali: AlkaliName, w: float, t: float, place: int, notes: Notes) -> None:
    at = f"/stocks/{place}/temperature"
    boiling = vapour_pressure.boiling_point(alkali, w)
    if t > boiling:
        notes.fault(
            at,
            "impossible-temperature",
            f"a {percent(w)} {alkali} stock boils at about {boiling:.0f} °C, and this one is said to have {t:.4g} °C",
            "check the number and its unit",
        )
    elif t < COLDEST_STOCK:
        notes.fault(
            at,
            "impossible-temperature",
            f"a stock of {t:.4g} °C is frozen, and what is drawn from it has no known strength",
            "thaw and stir it, and give the temperature it then has",
        )


def _dry_purity(line: AlkaliMass, notes: Notes, at: str) -> tuple[float | None, Part]:
    if line.mass_as_supplied is None:
        return purity_of(line.alkali, line.purity, notes, f"{at}/purity")
    purity = line.mass.value / line.mass_as_supplied.value
    if not LEAST_PURITY <= purity <= 1 + ROUNDING:
        notes.fault(
            f"{at}/mass_as_supplied",
            "contradiction",
            f"the purity would be {percent(purity)}, mass over mass_as_supplied",
            "mass is of pure hydroxide, mass_as_supplied is what the scale shows: the larger of the two",
        )
    return min(purity, 1.0), EXACT


def _lines(request: LiquidSplitRequest, notes: Notes) -> list[Line]:
    """The liquids asked for, distilled water where none are."""
    given = request.liquids
    if given is None:
        if request.total_liquid is not None:
            notes.assume("/liquids", f"{WATER} for all of it", "water needs no choice")
        return [Line(catalogue_liquid(WATER), None, None, "fats")]
    if sum(1 for one in given if one.rest) > 1:
        notes.fault("/liquids", "does-not-add-up", "more than one liquid takes the rest", "give rest to one of them")
    shares = sum(one.share.value for one in given if one.share is not None)
    only_shares = all(one.share is not None for one in given)
    if (only_shares and abs(shares - 1) > SHARES_ROUNDING) or shares > 1 + SHARES_ROUNDING:
        notes.fault(
            "/liquids",
            "does-not-add-up",
            f"the shares add up to {shares * 100:.6g} %",
            "mend them to add up to 100 %, or let one liquid take the rest (rest: true)",
        )
    lines = []
    for index, one in enumerate(given):
        liquid = find_liquid(one.liquid, notes, f"/liquids/{index}/liquid")
        if liquid is None:
            continue
        if one.add_to == "stock" and not liquid.is_water:
            notes.fault(
                f"/liquids/{index}/add_to",
                "not-into-stock",
                f"{liquid.name} does not go into the stock: {liquid.reason}",
                "add it to the fats",
            )
        lines.append(
            Line(
                liquid,
                None if one.mass is None else one.mass.value,
                None if one.share is None else one.share.value / (shares if only_shares else 1.0),
                one.add_to or "fats",
            )
        )
    return lines


def _total(request: LiquidSplitRequest, sources: list[Source], notes: Notes) -> Total:
    """The liquid wanted, as mass or as ratio to the alkali; neither where none is wanted."""
    wanted = request.total_liquid
    if wanted is None:
        if request.liquids is not None and any(one.mass is None for one in request.liquids):
            notes.fault(
                "/liquids",
                "does-not-add-up",
                "there is no total liquid that a share or the rest could be taken of",
                'give total_liquid, such as {"water_ratio": "2:1"}, or give every liquid a mass',
            )
        return Total(None, None)
    if wanted.water_ratio is not None:
        return Total(None, wanted.water_ratio.value)
    if wanted.mass is not None:
        return Total(wanted.mass.value, None)
    if wanted.liquid_to_fat_ratio is not None and wanted.fat_mass is not None:
        return Total(wanted.liquid_to_fat_ratio.value * wanted.fat_mass.value, None)
    if wanted.final_strength is None:
        return Total(None, None)
    return Total(None, _ratio_of(wanted.final_strength, sources, notes))


def _ratio_of(strength: Strength, sources: list[Source], notes: Notes) -> float | None:
    """Water ratio of a strength; of two alkalis each takes the water of its own solution of that strength."""
    liquid = 0.0
    for one in sources:
        found = mass_fraction(strength, one.alkali, notes, "/total_liquid/final_strength", lowest=LEAST_STRENGTH)
        if found is None:
            return None
        liquid += one.mass * (1 - found.mass_fraction) / found.mass_fraction
    return liquid / sum(one.mass for one in sources) if sources else None


def _split(request: LiquidSplitRequest, needed: list[Source], lines: list[Line], total: Total, notes: Notes) -> Split:
    whole = request.count_liquids_as != "water_content"
    split = Split(needed, needed, _added(needed, lines, total, notes, whole=whole), counts_whole=whole)
    if not request.compensate:
        return split
    # More alkali asks for more liquid, which may bring more acid: a few rounds settle it.
    for _ in range(MOST_ROUNDS):
        grown = [one._replace(mass=one.mass * (1 + split.acid_amount / split.needed_amount)) for one in needed]
        following = Split(needed, grown, _added(grown, lines, total, notes, whole=whole), counts_whole=whole)
        settled = abs(following.amount - split.amount) <= 1e-14 * split.amount
        split = following
        if settled:
            return split
    raise notes.refuse(
        "/compensate",
        "contradiction",
        "the acid of the liquids asks for more alkali than the liquids can follow",
        "take less of the sour liquid",
    )


def _added(sources: list[Source], lines: list[Line], total: Total, notes: Notes, *, whole: bool) -> list[Added]:
    """The liquids to add, by what the stock leaves of the total."""
    alkali = sum(one.mass for one in sources)
    own = sum(one.own_water for one in sources)
    portions = [
        Portion(line.liquid.counted(whole=whole), line.mass, line.share, line.mass is None and line.share is None)
        for line in lines
    ]
    if total.mass is None and total.ratio is None:
        wanted = own + sum((portion.mass or 0.0) * portion.counted for portion in portions)
    else:
        wanted = total.mass if total.mass is not None else (total.ratio or 0.0) * alkali
    _check_wanted(sources, wanted / alkali, own / alkali, notes)
    left = wanted - own
    if left <= ROUNDING * wanted:
        fixed = [line for line in lines if line.mass is not None]
        if not fixed:
            return []
        left = max(0.0, left)
    masses = apportion(left, portions)
    if isinstance(masses, Shortfall):
        raise _does_not_add_up(masses, notes)
    return [Added(line.liquid, mass, line.add_to) for line, mass in zip(lines, masses, strict=True) if mass > 0]


def _check_wanted(sources: list[Source], ratio: float, lowest: float, notes: Notes) -> None:
    stock = next((index for index, one in enumerate(sources) if one.strength is not None), None)
    if ratio < LEAST_WATER_RATIO * (1 - ROUNDING):
        raise notes.refuse(
            "/total_liquid",
            "too-little-water",
            f"{ratio:.4g} parts of liquid to one of alkali are too little: alkali needs its own mass of water",
            "ask for a total liquid of 1:1 or more",
        )
    if ratio < lowest * (1 - ROUNDING):
        what = "the stock alone brings" if stock is not None else "dissolving the alkali alone takes"
        raise notes.refuse(
            "/total_liquid",
            "stock-too-weak",
            f"{what} {lowest:.4g} parts of water to one of alkali, and {ratio:.4g} are wanted",
            f"ask for {lowest:.4g}:1 or more{', or use a stronger stock' if stock is not None else ''}",
        )


def _does_not_add_up(short: Shortfall, notes: Notes) -> Refusal:
    wanted, found = short.wanted * 1000, short.found * 1000
    return notes.refuse(
        "/liquids",
        "does-not-add-up",
        f"the liquids make {found:.6g} g as they are counted, and {wanted:.6g} g are to be added",
        "let one liquid take the rest (rest: true), or make the shares add up to 1"
        if short.lacks_rest and found < wanted
        else "make the fixed masses or the shares smaller",
    )


def _budget(
    split: Split, fats: list[WeighedFat] | None, acids: list[Reagent], wanted: Superfat | None, notes: Notes
) -> SaponificationBudget | None:
    """What the liquids leave of the superfat, where fats or the wanted superfat tell the need."""
    for_fats = split.needed_amount - sum(one.mass * one.content for one in acids)
    if fats is not None:
        lines = [one.line for one in fats]
        if wanted is not None:
            need = sum(hydroxide_amount(one.mass, one.saponification_value) for one in lines)
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
        lines = [FatLine("the fats", need * molar_masses.KOH / REFERENCE_VALUE, REFERENCE_VALUE)]
    else:
        return None
    lines.extend(one.fat_line for one in split.added if one.fat_line is not None)
    all_acids = acids + [one.acid for one in split.added if one.liquid.acid_per_mass]
    try:
        return saponification_budget(lines, [one.reagent for one in split.sources], all_acids)
    except OutOfRange as error:
        raise notes.refuse(
            "/liquids", "contradiction", f"no superfat can be told: {error}", "compare fats, alkali and liquids"
        ) from None


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


def _superfat_figure(budget: SaponificationBudget | None, *, fats_known: bool) -> FractionFigure | UnsetType:
    if budget is None:
        return UNSET
    return FractionFigure(budget.superfat, *budget.superfat_interval) if fats_known else FractionFigure(budget.superfat)


def _draw(source: Source) -> StockDraw:
    if source.strength is None:
        raise TypeError(source)
    w, spread = source.strength
    mass = draw_mass(source.mass, w)
    half_width = coverage_half_width(combine(((1 / w, source.mass_part), (mass / w, spread))))
    try:
        volume: VolumeFigure | UnsetType = VolumeFigure(mass / density.density(source.alkali, w, source.temperature))
    except OutOfRange:
        volume = UNSET
    return StockDraw(
        alkali=source.alkali,
        mass=MassFigure.around(mass, half_width),
        volume=volume,
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
    return Addition(
        liquid=liquid.id,
        mass=MassFigure(mass),
        volume=UNSET if liquid.density is None else VolumeFigure(mass / liquid.density),
        add_to=added.add_to,
        reason=liquid.reason if added.add_to == "fats" else "plain water, as asked; it warms the stock",
        water_mass=MassFigure(mass * liquid.water),
        fat_mass=MassFigure(mass * liquid.fat),
        acid_demand=MassFigure.around(
            mass * liquid.acid_per_mass * mean_molar_mass,
            mass * coverage_half_width(Combined(*liquid.acid_part)) * mean_molar_mass,
        ),
    )


CALCULATION: Final = Calculation(
    name="liquid-split",
    summary="Stock to draw and liquid to add",
    description=(
        "How much of a concentrated stock holds the alkali of a batch, how much other liquid goes beside it for a "
        "wanted ratio of water to alkali, where each liquid goes and why; the water, fat and acid the liquids "
        "bring, and what that does to the true ratio, the superfat and the alkali. All liquid counts: that of the "
        "stock, and that added beside it."
    ),
    request=LiquidSplitRequest,
    answer=LiquidSplitAnswer,
    calculate=calculate,
    examples=(
        Example(
            "two-to-one-with-goat-milk",
            "From a 50 % stock to 2:1 with goat milk (invented)",
            {
                "reference": "invented recipe 1",
                "alkalis": [{"alkali": "NaOH", "mass": "138.6 g"}],
                "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}],
                "total_liquid": {"water_ratio": "2:1"},
                "liquids": [{"liquid": "goat-milk", "rest": True}],
                "superfat": "5 %",
            },
        ),
        Example(
            "stock-as-mixed",
            "A stock mixed 1:1 from 98 % beads, two liquids, their acid made up for (invented)",
            {
                "alkalis": [{"alkali": "NaOH", "mass": "7 oz"}, {"alkali": "KOH", "mass": "1 oz", "purity": "90 %"}],
                "stocks": [
                    {
                        "alkali": "NaOH",
                        "strength": {
                            "as_mixed": {"mass_as_supplied": "10 kg", "water_mass": "10 kg", "purity": "98 %"}
                        },
                    }
                ],
                "total_liquid": {"water_ratio": 1.8},
                "liquids": [
                    {"liquid": "cider-vinegar", "mass": "1 oz"},
                    {"liquid": "coconut-milk-canned", "rest": True},
                ],
                "count_liquids_as": "water_content",
                "fats": [{"fat": "olive-oil", "mass": "3.75 lb"}],
                "superfat": 0.05,
                "compensate": True,
            },
        ),
    ),
    links=(
        Link(
            "mix-new-stock",
            "stock-mixing",
            "Mix a new 1:1 stock that holds the pure alkali of this draw.",
            {
                "solid": {"alkali": "NaOH", "mass_as_supplied": "$response.body#/stock_draws/0/alkali_mass"},
                "water": {"mass": "$response.body#/stock_draws/0/alkali_mass"},
            },
        ),
    ),
)
