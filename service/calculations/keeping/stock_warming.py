"""POST /v1/stock-warming: how long a heater takes to warm a stock, and what it takes to hold it."""

from typing import Annotated, Final

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.keeping.stock_warming_examples import EXAMPLES
from service.calculations.keeping.vessel_contents import told_first_solid
from service.calculations.keeping.warming_notes import caution_warming
from service.calculations.keeping.warming_reading import Asked, read_warming
from service.calculations.keeping.warming_runs import Run
from service.calculations.keeping.warming_steps import explain_warming
from service.calculations.registry import Calculation, Link
from service.calculations.shared.given import Duration, Efficiency, Power, Temperature
from service.calculations.shared.messages import Answer, Request, Solution, Vessel
from service.calculations.shared.notes import Notes
from service.calculations.shared.standing_cautions import of_solution
from service.calculations.shared.told import (
    FIRST_SOLID_GUARD,
    DurationFigure,
    EnergyFigure,
    FractionFigure,
    MarginFigure,
    PowerFigure,
    TemperatureFigure,
)
from service.chemistry.standing_loss import Range


class StockWarmingRequest(Request, kw_only=True):
    """A stock in its vessel, the heater, and how warm it is to get."""

    solution: Annotated[
        Solution,
        Meta(description="What is in the vessel, as cold as it is now; its temperature is by default that of the air."),
    ]
    vessel: Annotated[Vessel, Meta(description="What it is in.")]
    heater_power: Annotated[Power, Meta(description="What the heater draws.", examples=["1500 W"])]
    target_temperature: Annotated[Temperature, Meta(description="How warm it is to get.", examples=["40 °C"])]
    ambient: Annotated[Temperature, Meta(description="Temperature of the air; default 20 °C.")] | None = None
    efficiency: (
        Annotated[
            Efficiency,
            Meta(
                description="Share of the heater's power that reaches the liquid; default 100 %, which holds for a "
                "heater that is all in the liquid. What the vessel loses is counted beside it."
            ),
        ]
        | None
    ) = None
    hold_time: (
        Annotated[Duration, Meta(description="How long it is held there afterwards.", examples=["12 h"])] | None
    ) = None
    crystallised: (
        Annotated[
            bool,
            Meta(
                description="Whether crystals have formed. Where it is not said, a stock colder than its first solid "
                "is taken to be at rest with its crystals, and the lower ends to be without."
            ),
        ]
        | None
    ) = None


class WarmingPoint(Struct, frozen=True, kw_only=True):
    """The stock on its way."""

    time: Annotated[DurationFigure, Meta(description="Since the heater was switched on.")]
    temperature: Annotated[TemperatureFigure, Meta(description="Of the stock.")]
    solid_share: Annotated[FractionFigure, Meta(description="Share of its mass that is crystals.")] | UnsetType = UNSET


class Holding(Struct, frozen=True, kw_only=True):
    """What it takes to hold the stock at its temperature."""

    time: Annotated[DurationFigure, Meta(description="How long.")]
    energy: Annotated[EnergyFigure, Meta(description="What the heater draws in that time.")]
    duty: Annotated[FractionFigure, Meta(description="Share of the time for which the thermostat has it on.")]


class StockWarmingAnswer(Answer):
    """Time and energy for the warming, and what limits it."""

    time: Annotated[
        DurationFigure,
        Meta(
            description="Until the temperature is reached. The ends are bounds: everything in favour, and against; "
            "they are left out where at the upper end of the loss it is not reached, or the heat to thaw not known."
        ),
    ]
    energy: Annotated[
        EnergyFigure, Meta(description="What the heater draws in that time; its ends go with those of the time.")
    ]
    surely_reached: Annotated[
        bool, Meta(description="Whether the temperature is reached at the upper end of the loss too.")
    ]
    heat_taken_up: Annotated[
        EnergyFigure, Meta(description="By stock, crystals and vessel. It and what is lost are what the heater gave.")
    ]
    heat_lost: Annotated[EnergyFigure, Meta(description="To the room while it warms.")]
    thawing_heat: Annotated[
        EnergyFigure,
        Meta(
            description="Of what is taken up, the heat that melts crystals; 0 also where it is not known: see cautions."
        ),
    ]
    first_solid_temperature: Annotated[
        TemperatureFigure,
        Meta(description=f"Below it crystals form: it must not be stored colder. {FIRST_SOLID_GUARD}"),
    ]
    first_solid: Annotated[str, Meta(description="What these are.", examples=["sodium hydroxide dihydrate"])]
    power_to_hold: Annotated[
        PowerFigure, Meta(description="What the heater must draw on average to hold the temperature.")
    ]
    boiling_point: Annotated[TemperatureFigure, Meta(description="Of the stock at 1 atm.")]
    path: Annotated[list[WarmingPoint], Meta(description="Point by point, from the start.")]
    steady_temperature: (
        Annotated[
            TemperatureFigure,
            Meta(
                description="Where a heater without thermostat would end; its upper end is cut off at boiling. Left "
                "out where the stock boils first."
            ),
        ]
        | UnsetType
    ) = UNSET
    hold: Annotated[Holding, Meta(description="With `hold_time`: what holding takes.")] | UnsetType = UNSET
    vessel_limit: Annotated[TemperatureFigure, Meta(description="Of the vessel, where known.")] | UnsetType = UNSET
    vessel_margin: (
        Annotated[MarginFigure, Meta(description="Distance of the target to that limit; positive is safe.")] | UnsetType
    ) = UNSET


def calculate(request: StockWarmingRequest, notes: Notes) -> StockWarmingAnswer:
    """Time and energy for a heater to bring a stock to a temperature and to hold it there."""
    read = read_warming(
        Asked(
            request.solution,
            request.vessel,
            request.heater_power,
            request.target_temperature,
            request.ambient,
            request.efficiency,
            request.crystallised,
        ),
        notes,
    )
    run, vessel = read.run, read.vessel
    first = told_first_solid(run.contents)
    limit = vessel.limit(run.contents.w)
    steady = run.steady()
    notes.tell(*of_solution(run.contents.alkali, run.contents.w))
    caution_warming(read, steady, notes)
    if notes.explain:
        explain_warming(read, notes)
    heat, hold = run.heat, _hold_power(run)
    time = run.times
    lost = run.heat_lost
    power = run.heater.power
    return StockWarmingAnswer(
        time=DurationFigure.spanning(time),
        energy=EnergyFigure.spanning((power * time[0], power * time[1], power * time[2])),
        surely_reached=run.surely_reached,
        heat_taken_up=EnergyFigure.spanning(heat),
        heat_lost=EnergyFigure.spanning(lost),
        thawing_heat=EnergyFigure.spanning(run.thawing_heat),
        steady_temperature=UNSET if steady is None else TemperatureFigure.spanning(steady),
        first_solid_temperature=TemperatureFigure(first.temperature, first.low, first.high),
        first_solid=run.first.name,
        power_to_hold=PowerFigure.spanning(hold),
        hold=UNSET if request.hold_time is None else _hold(run, request.hold_time.value, hold),
        boiling_point=TemperatureFigure.around(run.boiling, run.boiling_half_width),
        vessel_limit=UNSET if limit is None else TemperatureFigure(limit),
        vessel_margin=UNSET if limit is None else MarginFigure(limit - run.target),
        path=_path(run),
    )


def _hold_power(run: Run) -> Range:
    value, low, high = (max(0.0, one) / run.heater.efficiency for one in run.loss(run.target))
    return value, low, high


def _hold(run: Run, time: float, power: Range) -> Holding:
    value, low, high = (min(one, run.heater.power) for one in power)
    most = run.heater.power
    return Holding(
        time=DurationFigure(time),
        energy=EnergyFigure.spanning((value * time, low * time, high * time)),
        duty=FractionFigure.spanning((value / most, low / most, high / most)),
    )


def _path(run: Run) -> list[WarmingPoint]:
    times = (0.0, *run.value.times)
    return [
        WarmingPoint(
            time=DurationFigure(time),
            temperature=TemperatureFigure(t),
            solid_share=UNSET if share is None else FractionFigure(share),
        )
        for time, t, share in zip(times, run.path.temperatures, run.path.solids, strict=True)
    ]


CALCULATION: Final = Calculation(
    name="stock-warming",
    summary="How long a heater takes to warm a stock, and to hold it",
    description=(
        "For a stock that has got too cold to draw, or has set: the time and the energy that a heater takes to bring "
        "it to working temperature against what the vessel loses, what holding it over night takes, where a weak "
        "heater ends, below which temperature the stock must not be stored, and the heat that thaws one that has "
        "crystallised.\n\n"
        "The contents are taken to be of one temperature: stir, or circulate. Range: NaOH to 52 %, KOH to 50 %, from "
        "-28 °C up to what vessel and boiling allow, one alkali. The heat to thaw is known for ice, roughly for the "
        "hydrates of NaOH with 1, 2, 3.5 and 4 H2O; where it is not known a caution says that it is left out. Not for "
        "heating under pressure, and not for choosing the heater's surface or its safety devices.\n\n"
        "Sources: heat capacities as in `stock-mixing`; Bergman et al., Introduction to Heat Transfer, 6th ed., 5.3 "
        "(lumped capacitance); free convection by Churchill & Chu, Int. J. Heat Mass Transfer 18 "
        "(1975) 1323; freezing line: Pickering 1893 and Wang et al. 2008."
    ),
    request=StockWarmingRequest,
    answer=StockWarmingAnswer,
    calculate=calculate,
    examples=EXAMPLES,
    links=(
        Link(
            "properties-of-the-warm-stock",
            "concentration",
            "The properties of the stock when it is warm.",
            {
                "alkali": "$request.body#/solution/alkali",
                "strength": "$request.body#/solution/strength",
                "temperature": "$request.body#/target_temperature",
            },
        ),
        Link(
            "draw-from-the-warm-stock",
            "liquid-split",
            "How much of the warm stock holds 100 g of pure hydroxide.",
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
    ),
)
