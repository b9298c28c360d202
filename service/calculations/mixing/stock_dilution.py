"""POST /v1/stock-dilution: what solutions of any strength come to when they are poured together."""

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.calculations.mixing.poured import alkali_of, read_pour
from service.calculations.mixing.pouring import Pouring, pour_together
from service.calculations.mixing.pouring_notes import caution_pouring
from service.calculations.mixing.pouring_steps import explain_pouring
from service.calculations.mixing.stock_mixing import StrengthFigure
from service.calculations.mixing.vessels import find_vessel
from service.calculations.registry import Calculation, Example, Link
from service.calculations.shared.messages import Answer, Request, Solution, Vessel
from service.calculations.shared.notes import Notes
from service.calculations.shared.told import (
    FIRST_SOLID_GUARD,
    EnergyFigure,
    FractionFigure,
    MarginFigure,
    MassFigure,
    TemperatureFigure,
    VolumeChangeFigure,
    VolumeFigure,
)
from service.calculations.stock.concentration import first_solid_within
from service.calculations.stock.solutions import ROOM, Found
from service.calculations.stock.told_solution import ToldSolution

MOST_SOLUTIONS: Final = 50


class StockDilutionRequest(Request, kw_only=True):
    """What is poured together."""

    solutions: Annotated[
        list[Solution],
        Meta(
            min_length=1,
            max_length=MOST_SOLUTIONS,
            description="Solutions of one alkali, water (strength 0) and ice, in any order.",
        ),
    ]
    vessel: Annotated[Vessel, Meta(description="What they are poured in.")] | None = None


class StockDilutionAnswer(Answer):
    """What they come to."""

    solution: Annotated[ToldSolution, Meta(description="What they come to.")]
    heat_released: Annotated[
        EnergyFigure,
        Meta(description="Heat of diluting at 25 °C; positive is given off. Melting takes from it."),
    ]
    boils: Annotated[bool, Meta(description="Whether it can boil anywhere: whether the margin is not positive.")]
    boiling_margin: Annotated[
        MarginFigure,
        Meta(
            description="Least distance to boiling over all proportions in which they can meet, whatever the order of "
            "pouring: from the upper end of the temperature to the lower end of the boiling point; positive is safe."
        ),
    ]
    nearest_boiling_strength: Annotated[
        StrengthFigure, Meta(description="Strength of what is nearest to boiling on the way.")
    ]
    peak_temperature: Annotated[
        TemperatureFigure,
        Meta(
            description="Highest temperature that any part of it can get, in whatever order and proportion they meet, "
            "capped at boiling. The interval covers every place that may be the hottest: wider than 95 %."
        ),
    ]
    first_solid_temperature: Annotated[
        TemperatureFigure, Meta(description=f"Where the first solid forms in it on slow cooling. {FIRST_SOLID_GUARD}")
    ]
    first_solid: Annotated[str, Meta(description="What that solid is.", examples=["ice"])]
    fully_liquid: Annotated[bool, Meta(description="Whether it is surely all liquid at its temperature.")]
    ice_left: Annotated[MassFigure, Meta(description="Ice that does not melt.")]
    water_boiled_off: (
        Annotated[MassFigure, Meta(description="Water that leaves the whole as steam; left out where no data reach.")]
        | UnsetType
    ) = UNSET
    volume_change: (
        Annotated[
            VolumeChangeFigure,
            Meta(
                description="Its volume less those of what was poured, each at its temperature; negative where it "
                "contracts. The interval is wider than 95 %: the model of densities may err apart at each strength. "
                "Left out where no density reaches, and with ice."
            ),
        ]
        | UnsetType
    ) = UNSET
    cool_volume: (
        Annotated[VolumeFigure, Meta(description="Its volume at 20 °C; left out where ice is left.")] | UnsetType
    ) = UNSET
    vessel_limit: Annotated[TemperatureFigure, Meta(description="Of the vessel, where known.")] | UnsetType = UNSET
    vessel_margin: (
        Annotated[
            MarginFigure,
            Meta(description="Distance of the peak's upper end to the limit of the vessel; positive is safe."),
        ]
        | UnsetType
    ) = UNSET


def calculate(request: StockDilutionRequest, notes: Notes) -> StockDilutionAnswer:
    """What solutions come to when they are poured together."""
    vessel = None if request.vessel is None else find_vessel(request.vessel, notes)
    pouring = _pouring(request.solutions, notes)
    first = first_solid_within(pouring.alkali, Found(pouring.whole.mass_fraction, pouring.strength_spread))
    caution_pouring(pouring, first, vessel, notes)
    if notes.explain:
        explain_pouring(pouring, notes)
    whole, solution = pouring.whole, pouring.solution
    change = pouring.volume_change()
    limit = None if vessel is None else vessel.limit(pouring.strength)
    ice = whole.state.ice_mass or 0.0
    return StockDilutionAnswer(
        solution=solution.told(),
        heat_released=EnergyFigure.spanning(pouring.heat_released),
        boils=pouring.boiling_margin <= 0,
        boiling_margin=MarginFigure(pouring.boiling_margin),
        nearest_boiling_strength=StrengthFigure(mass_fraction=FractionFigure(pouring.nearest[0].mass_fraction)),
        peak_temperature=TemperatureFigure(*pouring.peak),
        first_solid_temperature=TemperatureFigure(first.temperature, first.low, first.high),
        first_solid=first.name,
        fully_liquid=not ice and pouring.temperature - pouring.temperature_rooms[0] > first.high,
        ice_left=MassFigure(ice),
        water_boiled_off=UNSET if whole.beyond_data else MassFigure(whole.steam),
        volume_change=UNSET if change is None else VolumeChangeFigure.around(*change),
        cool_volume=solution.volume_at(ROOM),
        vessel_limit=UNSET if limit is None else TemperatureFigure(limit),
        vessel_margin=UNSET if limit is None else MarginFigure(limit - pouring.peak[2]),
    )


def _pouring(given: list[Solution], notes: Notes) -> Pouring:
    """What is poured together; refused where it cannot be reckoned."""
    pours = [read_pour(one, notes, f"/solutions/{index}") for index, one in enumerate(given)]
    alkali = alkali_of(given, pours, notes, "/solutions")
    notes.stop_at_faults()
    return pour_together(alkali, [one for one in pours if one is not None], notes)


CALCULATION: Final = Calculation(
    name="stock-dilution",
    summary="What solutions come to when they are poured together",
    description=(
        "For diluting a stock, joining what is left in two tanks, or cooling hot stock with water or ice, before "
        "anyone pours: strength, temperature, volume and first solid of the whole, the heat of diluting, and how near "
        "to boiling any part of it comes. Two or more solutions of one alkali, of any strength and temperature, water "
        "and ice. The order of pouring is not asked: peak and boiling margin are those of the worst proportion in "
        "which any of them can meet, so that they hold for every order. Volumes do not add up, and are reckoned by "
        "densities; ice melts along the freezing line.\n\n"
        "Range: NaOH to 52 %, KOH to 50 %; solutions from -28 °C to their boiling point, ice from -30 °C. No heat is "
        "lost, so temperatures are upper bounds. Not for NaOH with KOH, whose mixtures no data here cover, nor for "
        "solid alkali: that is `stock-mixing`. The heat of melting crystals is not counted.\n\n"
        "Sources: heats and boiling points as in `stock-mixing`; densities as in `concentration`; the balance of the "
        "enthalpy-concentration diagram."
    ),
    request=StockDilutionRequest,
    answer=StockDilutionAnswer,
    calculate=calculate,
    examples=(
        Example(
            "half-strength",
            "10 kg of 50 % stock thinned with its own mass of water (invented)",
            {
                "reference": "invented drum 2",
                "solutions": [
                    {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": "50 %", "uncertainty": "0.3 %"}},
                    {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": 0}, "temperature": "12 °C"},
                ],
                "vessel": {"material": "hdpe", "volume": "30 L"},
            },
        ),
        Example(
            "two-tanks-and-ice",
            "What is left in two tanks, the one still hot, with a bag of ice (invented)",
            {
                "solutions": [
                    {
                        "alkali": "KOH",
                        "volume": "3 gal",
                        "strength": {"mass_fraction": "45 %"},
                        "temperature": "120 °F",
                    },
                    {"alkali": "KOH", "mass": "20 lb", "strength": {"degrees_baume": 25}, "temperature": "65 °F"},
                    {
                        "alkali": "KOH",
                        "mass": "8 lb",
                        "strength": {"mass_fraction": 0},
                        "state": "ice",
                        "temperature": "15 °F",
                    },
                ],
            },
        ),
        Example(
            "published-heat-of-dilution",
            "NaOH with 3 mol of water, thinned to 10 mol of water: the heat that calorimetry found",
            {
                "solutions": [
                    {"alkali": "NaOH", "mass": "94.042 g", "strength": {"mole_fraction": 0.25}, "temperature": "25 °C"},
                    {"alkali": "NaOH", "mass": "126.107 g", "strength": {"mass_fraction": 0}, "temperature": "25 °C"},
                ],
            },
            "Published: integral heats of solution of 28.87 kJ/mol in 3 mol of water and 42.51 kJ/mol in 10 mol (R. M. "
            "Felder and R. W. Rousseau, Elementary Principles of Chemical Processes, table B.11; from memory): 13.64 "
            "kJ for the mole that is here.",
        ),
    ),
    links=(
        Link(
            "properties-of-the-solution",
            "concentration",
            "The properties of what they come to.",
            {"alkali": "$response.body#/solution/alkali", "strength": "$response.body#/solution/strength"},
        ),
        Link(
            "pour-on",
            "stock-dilution",
            "What comes of it with a kilogram of water.",
            {
                "solutions": [
                    {
                        "alkali": "$response.body#/solution/alkali",
                        "mass": "$response.body#/solution/mass",
                        "strength": "$response.body#/solution/strength",
                    },
                    {"alkali": "$response.body#/solution/alkali", "mass": "1 kg", "strength": {"mass_fraction": 0}},
                ]
            },
        ),
    ),
)
