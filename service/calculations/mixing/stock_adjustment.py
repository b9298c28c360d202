"""POST /v1/stock-adjustment: what brings a stock to a wanted strength, or how it is drawn as it is."""

from typing import Annotated, Final, NamedTuple

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.mixing.adjusting import Adjusting, StockAdjustmentRequest, What, added_by, read_adjustment
from service.calculations.mixing.adjusting_notes import caution_adjusting, explain_adjusting
from service.calculations.mixing.mixing_contents import within_spread
from service.calculations.mixing.mixing_notes import caution_mixing
from service.calculations.mixing.mixing_runs import Runs, Surroundings, mixed_without_path
from service.calculations.mixing.mixing_steps import explain_mixing
from service.calculations.mixing.pouring import Pouring, pour_together
from service.calculations.mixing.pouring_notes import caution_pouring
from service.calculations.mixing.pouring_steps import explain_pouring
from service.calculations.mixing.stock_mixing import StrengthFigure
from service.calculations.mixing.vessels import KnownVessel, find_vessel
from service.calculations.registry import Calculation, Example, Link
from service.calculations.shared.messages import Answer
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import NORMAL_95
from service.calculations.shared.standing_cautions import HANDLING
from service.calculations.shared.told import (
    FIRST_SOLID_GUARD,
    EnergyFigure,
    FractionFigure,
    MarginFigure,
    MassFigure,
    RatioFigure,
    TemperatureFigure,
    VolumeFigure,
)
from service.calculations.stock.concentration import first_solid_within
from service.calculations.stock.solutions import Found
from service.calculations.stock.told_solution import KnownSolution, ToldSolution, Unknown, model_spread
from service.calculations.stock.volumes import STANDARD, steepness
from service.chemistry import density
from service.chemistry.adjustment import draw_factor
from service.chemistry.errors import OutOfRange
from service.chemistry.freezing import FirstSolid
from service.chemistry.mixing_records import Charge, Stock
from service.chemistry.uncertainty import Combined, combine, coverage_half_width


class AddTold(Struct, frozen=True, kw_only=True):
    """What is added."""

    what: Annotated[What, Meta(description="What it is; `nothing` where the strength is as wanted already.")]
    mass: Annotated[
        MassFigure,
        Meta(
            description="What to weigh, the solid as it is supplied; the interval is what the strengths leave open, to "
            "first order: where what is added is hardly stronger or weaker than wanted, a caution tells how much more "
            "it may take."
        ),
    ]
    volume: (
        Annotated[VolumeFigure, Meta(description="Of a liquid, at its temperature; weighing it is surer.")] | UnsetType
    ) = UNSET


class StockAdjustmentAnswer(Answer):
    """What brings the stock to the wanted strength, and how it is drawn if it is left as it is."""

    present_strength: Annotated[StrengthFigure, Meta(description="Of the stock as it is.")]
    add: Annotated[AddTold, Meta(description="What is added.")]
    solution: Annotated[ToldSolution, Meta(description="The stock afterwards, no heat lost.")]
    heat_released: Annotated[
        EnergyFigure, Meta(description="Heat of dissolving and diluting at 25 °C; positive is given off.")
    ]
    peak_temperature: Annotated[
        TemperatureFigure,
        Meta(
            description="Highest temperature on the way, capped at boiling: of a solid as stock-mixing answers it, of "
            "liquids as stock-dilution does. The interval is wider than 95 %."
        ),
    ]
    boils: Annotated[bool, Meta(description="Whether it can boil anywhere: whether the margin is not positive.")]
    boiling_margin: Annotated[
        MarginFigure,
        Meta(
            description="Least distance to boiling on the way, from the upper end of the temperature to the lower end "
            "of the boiling point; positive is safe."
        ),
    ]
    first_solid_temperature: Annotated[
        TemperatureFigure,
        Meta(description=f"Where the first solid forms in it afterwards, on slow cooling. {FIRST_SOLID_GUARD}"),
    ]
    first_solid: Annotated[str, Meta(description="What that solid is.", examples=["ice"])]
    draw_factor: Annotated[
        RatioFigure,
        Meta(description="If the stock is left as it is: mass of stock to draw for a mass of pure hydroxide."),
    ]
    target_draw_factor: Annotated[RatioFigure, Meta(description="The same for the wanted strength.")]
    draw_correction: Annotated[
        RatioFigure,
        Meta(
            description="If it is left as it is: what a draw reckoned with the wanted strength is multiplied by. The "
            "water of the batch changes by the difference."
        ),
    ]
    vessel_limit: Annotated[TemperatureFigure, Meta(description="Of the vessel, where known.")] | UnsetType = UNSET
    vessel_margin: (
        Annotated[
            MarginFigure,
            Meta(description="Distance of the peak's upper end to the limit of the vessel; positive is safe."),
        ]
        | UnsetType
    ) = UNSET


class _Done(NamedTuple):
    """What came of adding."""

    solution: KnownSolution
    heat: EnergyFigure
    peak: tuple[float, float, float]
    margin: float
    limit: float | None
    first: FirstSolid


def calculate(request: StockAdjustmentRequest, notes: Notes) -> StockAdjustmentAnswer:
    """What brings a stock to a wanted strength, or how it is drawn as it is."""
    vessel = None if request.vessel is None else find_vessel(request.vessel, notes)
    adjusting = read_adjustment(request, notes)
    done = _dissolved(request, adjusting, vessel, notes)
    if done is None:
        done = _poured(adjusting, vessel, notes)
    spread = _mass_spread(adjusting)
    half = coverage_half_width(spread)
    caution_adjusting(adjusting, half, notes)
    if notes.explain:
        explain_adjusting(adjusting, spread, notes)
    present, target = adjusting.present, adjusting.target
    known = coverage_half_width(adjusting.stock.spread)
    return StockAdjustmentAnswer(
        present_strength=StrengthFigure(mass_fraction=FractionFigure.around(present, known)),
        add=AddTold(what=adjusting.what, mass=MassFigure.around(adjusting.mass, half), volume=_volume(adjusting)),
        solution=done.solution.told(),
        heat_released=done.heat,
        peak_temperature=TemperatureFigure(*done.peak),
        boils=done.margin <= 0,
        boiling_margin=MarginFigure(done.margin),
        first_solid_temperature=TemperatureFigure(done.first.temperature, done.first.low, done.first.high),
        first_solid=done.first.name,
        draw_factor=_factor(present, known),
        target_draw_factor=RatioFigure(draw_factor(target)),
        draw_correction=_factor(present, known, target),
        vessel_limit=UNSET if done.limit is None else TemperatureFigure(done.limit),
        vessel_margin=UNSET if done.limit is None else MarginFigure(done.limit - done.peak[2]),
    )


def _factor(present: float, known: float, of: float = 1.0) -> RatioFigure:
    """A mass of stock for a mass of hydroxide, with the ends that those of the strength give."""
    value = of * draw_factor(present)
    if not known:
        return RatioFigure(value)
    if known > present / 2:  # so little known that the weaker end would tell of a stock without hydroxide
        return RatioFigure.around(value, value * known / present)
    return RatioFigure(value, of * draw_factor(min(1.0, present + known)), of * draw_factor(present - known))


def _mass_spread(adjusting: Adjusting) -> Combined:
    if adjusting.what == "nothing":
        return Combined(0.0, 0.0)
    return combine(added_by(adjusting))


def _volume(adjusting: Adjusting) -> VolumeFigure | UnsetType:
    """Of the liquid that is added."""
    added = adjusting.added
    if added is None or added.part.ice:
        return UNSET
    _, w, t, _ = added.part
    try:
        rho = density.density(adjusting.alkali, w, t)
    except OutOfRange:
        return UNSET
    by_stock, by_content, by_density = (sensitivity for sensitivity, _ in added_by(adjusting))
    # What is added is the lighter the weaker it is, and all solutions are denser or none.
    if added.own.standard_uncertainty or added.by_density:
        slope = steepness(adjusting.alkali, w, t)
        by_content -= adjusting.mass * slope
        by_density -= adjusting.mass * slope * added.by_density
    by_density -= adjusting.mass * model_spread(adjusting.alkali, w, t) / NORMAL_95
    spreads = (adjusting.stock.own, adjusting.content_spread, STANDARD)
    half = coverage_half_width(combine(zip((by_stock, by_content, by_density), spreads, strict=True)))
    return VolumeFigure.around(adjusting.mass / rho, half / rho)


def _poured(adjusting: Adjusting, vessel: KnownVessel | None, notes: Notes) -> _Done:
    """Water, ice or another solution is poured to the stock; or nothing is."""
    pours = [adjusting.stock] if adjusting.added is None else [adjusting.stock, adjusting.added]
    pouring: Pouring = pour_together(adjusting.alkali, pours, notes)
    first = first_solid_within(adjusting.alkali, Found(pouring.whole.mass_fraction, pouring.strength_spread))
    caution_pouring(pouring, first, vessel, notes)
    if notes.explain:
        explain_pouring(pouring, notes)
    return _Done(
        pouring.solution,
        EnergyFigure.spanning(pouring.heat_released),
        pouring.peak,
        pouring.boiling_margin,
        None if vessel is None else vessel.limit(pouring.strength),
        first,
    )


def _dissolved(
    request: StockAdjustmentRequest, adjusting: Adjusting, vessel: KnownVessel | None, notes: Notes
) -> _Done | None:
    """Solid is strewn into the stock; None where it is not."""
    solid = adjusting.solid
    if solid is None:
        return None
    alkali, stock = adjusting.alkali, adjusting.stock
    mass, w, t, _ = stock.part
    contents = within_spread(Charge(stock=Stock(mass, w, t)), alkali, coverage_half_width(stock.spread))
    plain = mixed_without_path(solid.solid, contents.charge)
    runs = Runs(solid, contents, plain, Surroundings(request.duration, adjusting.ambient, vessel), notes)
    limit = None if vessel is None else vessel.limit(plain.solution_strength)
    notes.tell(*HANDLING)
    caution_mixing(runs, vessel, limit, notes)
    if notes.explain:
        explain_mixing(runs, adjusting.ambient, notes)
    end = runs.peak if plain.temperature is None else plain.temperature
    room = 0.0 if runs.hot.temperature is None else abs(runs.hot.temperature - end)
    share, apart = mass / plain.mass, w - adjusting.target
    heavier, denser = share * stock.volume.by_strength, share * stock.volume.by_density
    unknown = (
        Unknown(heavier, share + apart * heavier, stock.own),
        Unknown(0.0, adjusting.mass / plain.mass, solid.purity_spread),
    )
    solution = KnownSolution(
        alkali,
        plain.mass,
        plain.mass_fraction,
        end,
        unknown,
        (denser, share * stock.by_density + apart * denser),
        (room, room),
        warmer_if_weaker=True,  # the weaker the stock, the more heat the solid gives off in it
    )
    return _Done(
        solution,
        EnergyFigure.around(plain.heat_released, runs.heat_half_width),
        (runs.peak, runs.peak_low, runs.peak_high),
        runs.boiling_margin,
        limit,
        first_solid_within(alkali, Found(plain.mass_fraction, solution.strength_spread)),
    )


CALCULATION: Final = Calculation(
    name="stock-adjustment",
    summary="What brings a stock to a wanted strength",
    description=(
        "For a stock that an assay found too strong or too weak: how much water, ice, solid alkali or another solution "
        "brings it to a wanted strength, how hot that gets and how near to boiling; or, if it is left as it is, what "
        "draws are multiplied by. The interval of the mass to add is what the strengths leave open: where it reaches "
        "to nothing, a better assay is worth more than an adjustment.\n\n"
        "Range: NaOH to 52 %, KOH to 50 %, one alkali; the wanted strength between that of the stock and that of what "
        "is added. No heat is lost in the value of the peak. Of the solid only hydroxide counts, as in `stock-mixing`. "
        "The heat of melting crystals is not counted: bring the stock to where it is clear first.\n\n"
        "Sources: balance of masses; heats as `stock-mixing` and `stock-dilution` have them; JCGM 100:2008 for the "
        "interval."
    ),
    request=StockAdjustmentRequest,
    answer=StockAdjustmentAnswer,
    calculate=calculate,
    examples=(
        Example(
            "too-strong",
            "A tank of 51.4 % stock that is to have 50 % (invented)",
            {
                "reference": "invented tank 1",
                "solution": {
                    "alkali": "NaOH",
                    "mass": "40 kg",
                    "strength": {"mass_fraction": "51.4 %", "uncertainty": "0.15 %"},
                    "temperature": "24 °C",
                },
                "target_strength": {"mass_fraction": "50 %"},
            },
        ),
        Example(
            "too-weak",
            "KOH stock that took up water, mended with flakes (invented)",
            {
                "solution": {"alkali": "KOH", "volume": "10 L", "strength": {"degrees_baume": 44.0}},
                "target_strength": {"mass_fraction": "45 %"},
                "with": "solid",
                "solid": {"purity": "90 %", "moisture": "9 %"},
                "vessel": {"material": "hdpe", "volume": "5 gal"},
                "duration": "10 min",
            },
        ),
        Example(
            "with-a-stronger-stock",
            "30 % stock brought to 40 % with 50 % stock, of which there is a jug (invented)",
            {
                "solution": {"alkali": "NaOH", "mass": "5 lb", "strength": {"mass_fraction": "30 %"}},
                "target_strength": {"mass_fraction": "40 %"},
                "with": {
                    "alkali": "NaOH",
                    "strength": {"mass_fraction": "50 %"},
                    "volume": "1 gal",
                    "temperature": "75 °F",
                },
            },
        ),
        Example(
            "published-draw",
            "A stock of 100 °Twaddell as it is: what is drawn of it for a mass of hydroxide",
            {
                "solution": {"alkali": "NaOH", "mass": "1 kg", "strength": {"degrees_twaddell": 100}},
                "target_strength": {"mass_fraction": "40 %"},
            },
            "Published: 46.545 % at 100 degrees Twaddell (W. H. Simmons and H. A. Appleton, The Handbook of Soap "
            "Manufacture, 1908, appendix C), so that 2.14846 kg hold 1 kg of hydroxide.",
        ),
    ),
    links=(
        Link(
            "properties-of-the-stock",
            "concentration",
            "The properties of the stock afterwards.",
            {"alkali": "$response.body#/solution/alkali", "strength": "$response.body#/solution/strength"},
        ),
        Link(
            "draw-from-the-stock",
            "liquid-split",
            "How much of the stock holds 100 g of pure hydroxide afterwards.",
            {
                "alkalis": [{"alkali": "$response.body#/solution/alkali", "mass": "100 g"}],
                "stocks": [
                    {"alkali": "$response.body#/solution/alkali", "strength": "$response.body#/solution/strength"}
                ],
            },
        ),
    ),
)
