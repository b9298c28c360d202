"""POST /v1/stock-mixing/ice: how much ice keeps a mixing below a temperature, or what else does."""

import math
from typing import Annotated, Final

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.mixing.ice_amounts import Amounts
from service.calculations.mixing.ice_notes import caution_ice, explain_ice
from service.calculations.mixing.ice_plan import Planned
from service.calculations.mixing.ice_reading import (
    ReadIce,
    StockMixingIceRequest,
    fills,
    read_amounts,
    read_request,
    scaled,
)
from service.calculations.mixing.ice_spreads import amount_spreads, least_ice
from service.calculations.mixing.mixing_links import links_from_stock
from service.calculations.mixing.mixing_notes import caution_mixing
from service.calculations.mixing.mixing_runs import Runs, Surroundings, mixed_without_path
from service.calculations.mixing.mixing_steps import explain_mixing
from service.calculations.mixing.stock_mixing import StrengthFigure
from service.calculations.mixing.vessel_notes import volume_at
from service.calculations.registry import Calculation, Example
from service.calculations.shared.messages import Answer
from service.calculations.shared.notes import Notes, kilograms, litres
from service.calculations.shared.standing_cautions import HANDLING
from service.calculations.shared.told import (
    CountFigure,
    EnergyFigure,
    FractionFigure,
    HighestTemperatureFigure,
    LeastEnergyFigure,
    LeastMassFigure,
    MarginFigure,
    MassFigure,
    TemperatureFigure,
    VolumeFigure,
)
from service.calculations.stock.solutions import ROOM

CLOSE: Final = 1e-6
"""Ice over the water that counts as rounding."""
FILLINGS: Final = 4
"""How often a vessel is filled anew: less stock onto what is there already gets to another temperature."""
AS_HOT: Final = 1e-6
"""Kelvins by which a vessel that is filled anew gets hotter when it need not be filled once more."""


class StageTold(Struct, frozen=True, kw_only=True):
    """A portion of the solid."""

    mass_as_supplied: Annotated[MassFigure, Meta(description="What goes in.")]
    wait_until_temperature: (
        Annotated[
            HighestTemperatureFigure,
            Meta(description="What the vessel has to cool to before it goes in; the first portion waits for nothing."),
        ]
        | UnsetType
    ) = UNSET


class StockMixingIceAnswer(Answer):
    """What goes into the vessel, and how hot it gets."""

    mass_as_supplied: Annotated[
        MassFigure,
        Meta(description="Solid to weigh; the interval is what the purity, and the stock that is there, leave open."),
    ]
    ice_mass: Annotated[
        LeastMassFigure,
        Meta(
            description="Ice to weigh, what has melted of it counted: the least that keeps the limit, in whole bags "
            "where the water allows. It is enough at the upper end of purity, stock and heats; at their lower end "
            "`low` would do: bounds. Where no ice is enough it is all of the water."
        ),
    ]
    water_mass: Annotated[MassFigure, Meta(description="Water to weigh beside this ice; the interval is likewise.")]
    mass: Annotated[MassFigure, Meta(description="Of the finished stock, what was in the vessel counted.")]
    strength: Annotated[StrengthFigure, Meta(description="Of the finished stock, as wanted.")]
    peak_temperature: Annotated[
        TemperatureFigure,
        Meta(
            description="Highest temperature with this ice, as stock-mixing answers it: without heat lost, with the "
            "same bounds, wider than 95 %."
        ),
    ]
    reachable: Annotated[bool, Meta(description="Whether ice keeps the peak at or below the limit.")]
    boiling_margin: Annotated[MarginFigure, Meta(description="Least distance to boiling; positive is safe.")]
    heat_released: Annotated[
        EnergyFigure,
        Meta(
            description="Heat of dissolving and diluting at 25 °C; positive is given off. Melting takes from it. Its "
            "ends are bounds."
        ),
    ]
    fill_volume: Annotated[VolumeFigure, Meta(description="What it takes hot, at the peak.")]
    cold_volume: Annotated[VolumeFigure, Meta(description="What it takes at 20 °C.")]
    headspace: (
        Annotated[VolumeFigure, Meta(description="What is left of the vessel above the hot stock.")] | UnsetType
    ) = UNSET
    ice_bags: Annotated[CountFigure, Meta(description="Bags of ice to have at hand.")] | UnsetType = UNSET
    lowest_peak: (
        Annotated[
            TemperatureFigure,
            Meta(
                description="Peak with all of the water as ice, and the bounds of it, wider than 95 %; told where even "
                "that much ice leaves the peak above the limit."
            ),
        ]
        | UnsetType
    ) = UNSET
    solid_temperature_needed: (
        Annotated[
            HighestTemperatureFigure,
            Meta(description="How cold the solid had to be beside all that ice; left out where no cold would do."),
        ]
        | UnsetType
    ) = UNSET
    heat_to_remove: (
        Annotated[
            LeastEnergyFigure,
            Meta(description="What a cooling bath had to take off while it is mixed, beside all that ice."),
        ]
        | UnsetType
    ) = UNSET
    stages: (
        Annotated[
            list[StageTold],
            Meta(
                description="Portions of the solid, all of the water being ice, with waiting between them; empty where "
                "waiting does not help."
            ),
        ]
        | UnsetType
    ) = UNSET


def calculate(request: StockMixingIceRequest, notes: Notes) -> StockMixingIceAnswer:
    """How much ice keeps a mixing below a temperature, or what else does."""
    read = read_request(request, notes)
    wanted, plan, needed, by_boiling = _plan(request, read, notes)
    reachable = needed <= wanted.water * (1 + CLOSE)
    ice = min(max(needed, 0.0), wanted.water)
    bags = _bags(request, ice, wanted.water)
    ice = ice if bags is None else bags[1]
    given = plan.given_charge(ice)
    plain = mixed_without_path(plan.solid.solid, given.charge)
    runs = Runs(plan.solid, given, plain, Surroundings(None, read.ambient, read.vessel, asks_duration=False), notes)
    hot, cold = volume_at(runs, runs.peak), volume_at(runs, ROOM)
    holds = None if read.vessel is None else read.vessel.volume
    if holds is not None and hot > holds:
        raise notes.refuse(
            "/vessel",
            "contradiction",
            f"the hot stock takes {litres(hot, 'up')}, and the vessel holds {litres(holds, 'down')}",
            "take a larger vessel, or mix less",
        )
    stages = None if reachable else plan.stages(read.ambient)
    notes.tell(*HANDLING)
    vessel_limit = None if read.vessel is None else read.vessel.limit(plain.solution_strength)
    caution_mixing(runs, read.vessel, vessel_limit, notes)
    caution_ice(plan, runs, (needed, by_boiling), stages, notes)
    if notes.explain:
        explain_ice(plan, (wanted, read.w), needed, notes)
        explain_mixing(runs, read.ambient, notes)
    peak = TemperatureFigure(runs.peak, runs.peak_low, runs.peak_high)
    colder = None if reachable else plan.solid_temperature_needed()
    spreads = amount_spreads(
        wanted, plan.solid, plan.existing, (read.w, read.slope), by_solid=request.solid.mass is not None
    )
    return StockMixingIceAnswer(
        mass_as_supplied=MassFigure.around(wanted.solid, spreads.solid),
        ice_mass=_ice_figure(plan, ice, spreads.water, reachable=reachable),
        water_mass=MassFigure.around(max(wanted.water - ice, 0.0), spreads.water) if reachable else MassFigure(0.0),
        mass=MassFigure.around(wanted.total, spreads.total),
        strength=StrengthFigure(mass_fraction=FractionFigure.around(plain.mass_fraction, runs.strength_half_width)),
        peak_temperature=peak,
        reachable=reachable,
        boiling_margin=MarginFigure(runs.boiling_margin),
        heat_released=EnergyFigure.around(plain.heat_released, runs.heat_half_width),
        fill_volume=VolumeFigure(hot),
        cold_volume=VolumeFigure(cold),
        headspace=UNSET if holds is None else VolumeFigure(holds - hot),
        ice_bags=UNSET if bags is None else CountFigure(bags[0]),
        lowest_peak=UNSET if reachable else peak,
        solid_temperature_needed=UNSET if colder is None else HighestTemperatureFigure(colder),
        heat_to_remove=UNSET if reachable else LeastEnergyFigure(plan.too_much(needed)),
        stages=UNSET
        if stages is None
        else [
            StageTold(
                mass_as_supplied=MassFigure(one.mass),
                wait_until_temperature=UNSET if one.wait_until is None else HighestTemperatureFigure(one.wait_until),
            )
            for one in stages
        ],
    )


def _ice_figure(plan: Planned, ice: float, water_half_width: float, *, reachable: bool) -> LeastMassFigure:
    """The ice, and what would do at the lower end of what is not known; where all is too little, all of the water."""
    if not reachable:
        return LeastMassFigure.around(ice, water_half_width)
    return LeastMassFigure(ice, min(least_ice(plan), ice), ice) if ice > 0 else LeastMassFigure(ice)


def _plan(request: StockMixingIceRequest, read: ReadIce, notes: Notes) -> tuple[Amounts, Planned, float, bool]:
    """The amounts, and the ice that they call for."""

    def planned(hot: float) -> tuple[Amounts, Planned]:
        wanted = read_amounts(request, read, hot, notes)
        solid = scaled(read.solid, wanted.solid)
        return wanted, Planned(solid, read.existing, wanted.water, read.water_temperature, read.ice, read.limit)

    wanted, plan = planned(read.limit)
    needed = plan.needed()
    if not fills(request):
        return wanted, plan, *needed
    if needed[0] > wanted.water * (1 + CLOSE):  # it gets hotter than the limit, and takes more room then
        hot, hottest = read.limit, None
        for _ in range(FILLINGS):
            hottest = plan.hottest(hot, hottest)
            if hottest.temperature <= hot:
                break
            rise, hot = hottest.temperature - hot, hottest.temperature
            wanted, plan = planned(hot)
            if rise < AS_HOT:
                break
        needed = plan.needed()
    notes.assume(
        "/solution_mass", kilograms(wanted.total), "the vessel filled hot to nine tenths, a tenth left for foam"
    )
    return wanted, plan, *needed


def _bags(request: StockMixingIceRequest, ice: float, water: float) -> tuple[int, float] | None:
    """Whole bags of ice, and what goes in: all of them where the water allows it, else what is needed."""
    if request.ice is None or request.ice.bag_mass is None:
        return None
    bag = request.ice.bag_mass.value
    count = math.ceil(ice / bag * (1 - CLOSE))
    return count, count * bag if count * bag <= water else ice


CALCULATION: Final = Calculation(
    name="stock-mixing/ice",
    summary="How much ice keeps a mixing below a temperature",
    description=(
        "For buying and weighing, before anyone mixes: a wanted stock, by its strength and by a mass, whole bags or a "
        "vessel to fill, fresh or onto what is left in the tank, and how hot its mixing may get; how much of the water "
        "must be ice, and how much room the stock takes hot and cold. Where even ice alone is too little, what does: "
        "portions with waiting, colder solid, or a bath. The limit holds for the upper end of the peak, as "
        "`stock-mixing` reckons it; ice is also told where it takes ice to stay below boiling.\n\n"
        "Range: NaOH to 52 %, KOH to 50 %, one alkali; limits of 0 to 150 °C; ice from -30 °C. It holds for stirred "
        "contents whose ice has melted: solid that cakes under ice is not seen by any balance.\n\n"
        "Sources: the balance of enthalpies of `stock-mixing`, solved for the ice; heat of fusion by IAPWS R10-06 and "
        "IAPWS-95; the tenth of the vessel that is left for foam is common practice."
    ),
    request=StockMixingIceRequest,
    answer=StockMixingIceAnswer,
    calculate=calculate,
    examples=(
        Example(
            "fill-a-jug",
            "A 20 L jug of polyethylene filled with 50 % stock that may not pass 60 °C (invented)",
            {
                "reference": "invented jug 4",
                "solid": {"alkali": "NaOH", "purity": "99 %"},
                "strength": {"mass_fraction": "50 %"},
                "peak_limit": "60 °C",
                "vessel": {"material": "hdpe", "volume": "20 L", "lid": False},
                "water_temperature": "15 °C",
                "ice": {"bag_mass": "2 kg", "temperature": "-5 °C"},
            },
        ),
        Example(
            "top-up-the-tank",
            "A 20 gal tank topped up with half-melted ice (invented)",
            {
                "solid": {"alkali": "NaOH", "bags": {"count": 3, "mass": "22 lb"}},
                "strength": {"mass_fraction": "48 %"},
                "peak_limit": "155 °F",
                "existing_stock": {"alkali": "NaOH", "mass": "30 lb", "strength": {"mass_fraction": "48 %"}},
                "vessel": {"material": "stainless-steel", "volume": "20 gal"},
                "ice": {"melted_share": "50 %"},
                "ambient": "72 °F",
            },
        ),
        Example(
            "weaker-stock",
            "20 kg of 30 % KOH below 40 °C, for which part of the water is ice (invented)",
            {
                "solid": {"alkali": "KOH", "purity": "90 %", "moisture": "9 %"},
                "strength": {"mass_fraction": "30 %"},
                "solution_mass": "20 kg",
                "peak_limit": "40 °C",
            },
        ),
        Example(
            "no-ice-is-enough",
            "A 50 % stock below 40 °C from half-melted ice: portions, with waiting between them (invented)",
            {
                "solid": {"alkali": "NaOH", "mass_as_supplied": "5 kg", "purity": "99 %"},
                "strength": {"mass_fraction": "50 %"},
                "peak_limit": "40 °C",
                "ice": {"melted_share": "50 %"},
            },
        ),
        Example(
            "published-heat-of-solution",
            "10 mol of NaOH into 30 mol of water, part of it ice: the heat that calorimetry found",
            {
                "solid": {"alkali": "NaOH", "mass_as_supplied": "399.97 g"},
                "strength": {"as_mixed": {"mass_as_supplied": "399.97 g", "water_mass": "540.45 g", "purity": "100 %"}},
                "peak_limit": "80 °C",
                "ambient": "25 °C",
            },
            "Published: 44.51 kJ/mol at infinite dilution (V. B. Parker, NSRDS-NBS 2, 1965, reprinted in the CRC "
            "Handbook), less 14.02 kJ/mol of dilution from 3 mol of water per mol (R. M. Felder and R. W. Rousseau, "
            "Elementary Principles of Chemical Processes, table B.11; from memory; J. Thomsen has 14.01): 304.9 kJ, "
            "however much of the water is ice.",
        ),
    ),
    links=links_from_stock("that is mixed"),
)
