"""POST /v1/stock-cooling: how long a hot stock takes to get cool enough."""

from typing import Annotated, Final

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.keeping.cooling_notes import caution_cooling
from service.calculations.keeping.cooling_reading import Asked, Surroundings, read_cooling
from service.calculations.keeping.cooling_readings import MOST_READINGS, CoolingReading
from service.calculations.keeping.cooling_runs import Run
from service.calculations.keeping.cooling_steps import explain_cooling
from service.calculations.keeping.stock_cooling_examples import EXAMPLES
from service.calculations.keeping.vessel_contents import told_first_solid
from service.calculations.registry import Calculation, Link
from service.calculations.shared.given import Temperature
from service.calculations.shared.messages import Answer, Request, Solution, Vessel
from service.calculations.shared.notes import Notes
from service.calculations.shared.standing_cautions import of_solution
from service.calculations.shared.told import (
    FIRST_SOLID_GUARD,
    DurationFigure,
    EnergyFigure,
    HeatLossFigure,
    MarginFigure,
    MassFigure,
    PowerFigure,
    TemperatureFigure,
)


class StockCoolingRequest(Request, kw_only=True):
    """A hot stock in its vessel, what the vessel stands in, and how cool it is to get."""

    solution: Annotated[
        Solution,
        Meta(
            description="What is in the vessel, as hot as it is now: the time counts from then on. Its temperature is "
            "due; with `readings` it may be left out, and is that of the last one."
        ),
    ]
    vessel: Annotated[Vessel, Meta(description="What it is in.")]
    surroundings: Annotated[Surroundings, Meta(description="What the vessel stands in.")]
    target_temperature: Annotated[Temperature, Meta(description="How cool it is to get.", examples=["38 °C"])]
    readings: (
        Annotated[
            list[CoolingReading],
            Meta(
                min_length=2,
                max_length=MOST_READINGS,
                description="One's own readings, in the order of their times, of this filling or of one like it: the "
                "same amount and strength in the same vessel and surroundings. The heat-loss coefficient is then "
                "theirs, and the shape of the vessel does not count.",
            ),
        ]
        | None
    ) = None


class CoolingPoint(Struct, frozen=True, kw_only=True):
    """The stock on its way."""

    time: Annotated[DurationFigure, Meta(description="From now.")]
    temperature: Annotated[TemperatureFigure, Meta(description="Of the stock.")]
    bath_temperature: (
        Annotated[TemperatureFigure, Meta(description="Of a bath that warms, with `bath_mass`.")] | UnsetType
    ) = UNSET


class StockCoolingAnswer(Answer):
    """When the stock is cool, and how it gets there."""

    time: Annotated[
        DurationFigure,
        Meta(
            description="From now until the target is reached. The ends are bounds: everything in favour, and against; "
            "they are left out where the target is not surely reached. By readings they are the 95 % interval that "
            "these leave, that of the last one included where the time counts from it; beyond it they allow for a "
            "coefficient that falls as the vessel cools, so that the upper end is a bound."
        ),
    ]
    surely_reached: Annotated[
        bool,
        Meta(description="Whether the target is reached at the unfavourable ends too; a bath may get too warm for it."),
    ]
    heat_loss_coefficient: Annotated[
        HeatLossFigure,
        Meta(
            description="Heat lost in a time per kelvin above the surroundings: fitted to the readings, with its 95 % "
            "interval; or the one by which Newton's law takes the same time, its ends those of the bounds."
        ),
    ]
    heat_given_off: Annotated[EnergyFigure, Meta(description="By stock and vessel, until the target is reached.")]
    heat_loss_at_start: Annotated[PowerFigure, Meta(description="What the vessel loses now.")]
    resting_temperature: Annotated[
        TemperatureFigure,
        Meta(description="What the stock would come to: that of the surroundings, or of stock and bath together."),
    ]
    path: Annotated[list[CoolingPoint], Meta(description="Point by point, from the start.")]
    first_solid_temperature: Annotated[
        TemperatureFigure, Meta(description=f"Below it crystals form. {FIRST_SOLID_GUARD}")
    ]
    first_solid: Annotated[str, Meta(description="What these are.", examples=["sodium hydroxide dihydrate"])]
    boiling_point: Annotated[TemperatureFigure, Meta(description="Of the stock at 1 atm.")]
    ice_melted: (
        Annotated[
            MassFigure,
            Meta(description="In an ice bath: what the stock's heat melts. The room's heat melts more beside it."),
        ]
        | UnsetType
    ) = UNSET
    vessel_limit: Annotated[TemperatureFigure, Meta(description="Of the vessel, where known.")] | UnsetType = UNSET
    vessel_margin: (
        Annotated[MarginFigure, Meta(description="Distance of the start to that limit; positive is safe.")] | UnsetType
    ) = UNSET


def calculate(request: StockCoolingRequest, notes: Notes) -> StockCoolingAnswer:
    """The time in which a stock cools to a temperature, and its way there."""
    read = read_cooling(
        Asked(request.solution, request.vessel, request.surroundings, request.target_temperature, request.readings),
        notes,
    )
    run, vessel = read.run, read.vessel
    first = told_first_solid(run.contents)
    contents = run.contents
    limit = vessel.limit(contents.w)
    notes.tell(*of_solution(contents.alkali, contents.w))
    caution_cooling(read, notes)
    if notes.explain:
        explain_cooling(read, notes)
    coefficient = run.coefficient() if read.told is None else read.told.coefficient
    return StockCoolingAnswer(
        time=DurationFigure.spanning(run.times),
        surely_reached=run.surely_reached,
        heat_loss_coefficient=HeatLossFigure.spanning(coefficient),
        heat_given_off=EnergyFigure.spanning(run.heat),
        heat_loss_at_start=PowerFigure.spanning(run.loss_at_start),
        resting_temperature=TemperatureFigure(run.rest),
        path=_path(run),
        first_solid_temperature=TemperatureFigure(first.temperature, first.low, first.high),
        first_solid=run.first.name,
        boiling_point=TemperatureFigure.around(run.boiling, run.boiling_half_width),
        ice_melted=MassFigure.spanning(run.ice_melted) if run.around.medium == "ice-bath" else UNSET,
        vessel_limit=UNSET if limit is None else TemperatureFigure(limit),
        vessel_margin=UNSET if limit is None else MarginFigure(limit - contents.temperature),
    )


def _path(run: Run) -> list[CoolingPoint]:
    warms = run.around.capacity != float("inf")
    times = (0.0, *run.value.times)
    return [
        CoolingPoint(
            time=DurationFigure(time),
            temperature=TemperatureFigure(t),
            bath_temperature=TemperatureFigure(bath) if warms else UNSET,
        )
        for time, t, bath in zip(times, run.temperatures, run.value.baths, strict=True)
    ]


CALCULATION: Final = Calculation(
    name="stock-cooling",
    summary="How long a hot stock takes to get cool enough",
    description=(
        "For a stock just mixed or warmed: when it is cool enough to be closed, split, or met by fats. Jug, bucket or "
        "tank in still air, in front of a fan, in a bath of water, which may warm, or of ice; by published "
        "correlations for the loss, or by a heat-loss coefficient fitted to one's own readings, which are surer. "
        "Answers the curve, the heat given off, and the ice that it melts.\n\n"
        "The contents are taken to be of one temperature: stir. Correlations leave about a factor of "
        "two to either side in air and three in baths, of which one's own readings leave little; the ends of the time "
        "are bounds. With readings the time counts from the last one, where no temperature is told: its interval holds "
        "what that reading leaves uncertain. Range: NaOH to 52 %, KOH to 50 %, one alkali, from boiling down to the "
        "first solid: where crystals form it refuses. Not for stock in layers, for vessels with jackets or coils, or "
        "for one that lies.\n\n"
        "Sources: heat capacities as in `stock-mixing`; Bergman et al., Introduction to Heat Transfer, 6th ed., 5.1 "
        "(lumped capacitance); free convection: Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1323; air "
        "across a cylinder: Churchill & Bernstein, J. Heat Transfer 99 (1977) 300; evaporation: Lewis, Trans. ASME 44 "
        "(1922) 325; viscosity: Laliberté 2009; intervals of a fit: JCGM 100:2008, H.3, and of a time by it: "
        "Fieller, J. R. Stat. Soc. B 16 (1954) 175 (from memory)."
    ),
    request=StockCoolingRequest,
    answer=StockCoolingAnswer,
    calculate=calculate,
    examples=EXAMPLES,
    links=(
        Link(
            "draw-from-the-cool-stock",
            "liquid-split",
            "How much of the cool stock holds 100 g of pure hydroxide.",
            {
                "alkalis": [{"alkali": "$request.body#/solution/alkali", "mass": "100 g"}],
                "stocks": [
                    {
                        "alkali": "$request.body#/solution/alkali",
                        "strength": "$request.body#/solution/strength",
                        "temperature": "$request.body#/target_temperature",
                    }
                ],
            },
        ),
        Link(
            "properties-of-the-cool-stock",
            "concentration",
            "The properties of the stock when it is cool.",
            {
                "alkali": "$request.body#/solution/alkali",
                "strength": "$request.body#/solution/strength",
                "temperature": "$request.body#/target_temperature",
            },
        ),
    ),
)
