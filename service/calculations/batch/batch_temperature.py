"""POST /v1/batch-temperature: how warm fats, stock and liquids get together, and how warm the fats must be for that."""

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.calculations.batch.batch_temperature_examples import EXAMPLES
from service.calculations.batch.blend_notes import caution_blend
from service.calculations.batch.blend_reading import (
    WarmFatLine,
    WarmLiquid,
    read_liquids,
    read_stock,
    read_temperatures,
)
from service.calculations.batch.blend_runs import Ends, Runs
from service.calculations.batch.blend_steps import explain_blend
from service.calculations.batch.fats import weighed_fats
from service.calculations.batch.melting import SolidFat, solid_fats, unknown_melting
from service.calculations.registry import Calculation, Link
from service.calculations.shared.given import MeasuredTemperature, Temperature
from service.calculations.shared.messages import MOST_FATS, MOST_LIQUIDS, Answer, Request, Solution
from service.calculations.shared.notes import Notes, weight
from service.calculations.shared.told import (
    EnergyFigure,
    FractionFigure,
    HeatCapacityFigure,
    MassFigure,
    TemperatureFigure,
    TemperatureRiseFigure,
)
from service.chemistry.batch_blend import meet
from service.chemistry.errors import OutOfRange

COLDEST_WANTED: Final = 0.0
HOTTEST_WANTED: Final = 100.0
"""Temperatures [°C] that may be wanted of a batch, which is a liquid with water in it."""
COLDEST_NEEDED: Final = 0.0
HOTTEST_NEEDED: Final = 100.0
"""Temperatures [°C] of the fats beyond which the stock or the liquids are what is to be changed: cold fats are set, and
water flashes into steam where it meets hot ones."""


class BatchTemperatureRequest(Request, kw_only=True):
    """Fats, stock and liquids, each at its temperature, or the temperature that is wanted of them."""

    fats: Annotated[list[WarmFatLine], Meta(min_length=1, max_length=MOST_FATS, description="The fats, in any order.")]
    fats_temperature: (
        Annotated[MeasuredTemperature, Meta(description="Of all the fats together.", examples=["38 °C"])] | None
    ) = None
    stock: Annotated[Solution, Meta(description="The stock that is drawn for the batch.")]
    liquids: (
        Annotated[
            list[WarmLiquid],
            Meta(max_length=MOST_LIQUIDS, description="The other liquids, frozen ones too; plain water among them."),
        ]
        | None
    ) = None
    wanted_temperature: (
        Annotated[
            Temperature,
            Meta(
                description="What the batch is to have before it reacts: fats_temperature_needed then tells how warm "
                "the fats must be. The fats' own temperatures may then be left out.",
                examples=["33 °C"],
            ),
        ]
        | None
    ) = None


class BatchTemperatureAnswer(Answer, kw_only=True):
    """How warm the batch is before it reacts, and what follows from that."""

    temperature: (
        Annotated[
            TemperatureFigure,
            Meta(
                description="Of the whole before any fat saponifies, no heat lost, capped at boiling; left out where "
                "the fats' temperatures are what is asked. The value: the liquids' water has thinned all of the stock, "
                "with the whole heat of dilution, and their acids have reacted. `low`: none of that heat has come yet, "
                "as right after pouring. Both ends are bounds, wider by the 95 % of models, weighings, thermometers "
                "and strength. Of fats that were weighed set, the lower end counts the heat that may melt them; of "
                "frozen liquids, the upper one what may not have been ice."
            ),
        ]
        | UnsetType
    ) = UNSET
    dilution_rise: (
        Annotated[
            TemperatureRiseFigure,
            Meta(
                description="What thinning the stock by all of the liquids' water adds, acids among it: from the "
                "lower end of the temperature to the value, without the spread. Left out where temperature is."
            ),
        ]
        | UnsetType
    ) = UNSET
    dilution_heat: Annotated[
        EnergyFigure,
        Meta(
            description="Heat that thinning the stock by all of the liquids' water gives off at 25 °C, with that of "
            "their acids; negative where it takes up heat."
        ),
    ]
    fats_temperature_needed: (
        Annotated[
            TemperatureFigure,
            Meta(
                description="How warm all the fats must be, and liquid, for `wanted_temperature`, with the whole heat "
                "of dilution. `high`: with none of it yet; both ends wider by the spread."
            ),
        ]
        | UnsetType
    ) = UNSET
    reaction_rise: Annotated[
        TemperatureRiseFigure,
        Meta(
            description="What saponifying all that can be would add, were no heat lost. An order of magnitude: the "
            "interval is a factor of two either way, judged, and no limit of safety."
        ),
    ]
    solid_fats: Annotated[
        list[SolidFat],
        Meta(
            description="Fats that are not liquid at `temperature`, or at `wanted_temperature` where that is left out, "
            "the hardest first; in a blend they may melt some kelvins lower, dissolved in the others."
        ),
    ]
    melting_unknown: Annotated[
        list[str],
        Meta(
            description="Fats of which no melting range is known, so that nothing is said of them.",
            examples=[["sunflower-oil"]],
        ),
    ]
    ice_left: (
        Annotated[
            MassFigure, Meta(description="Ice that no heat but that of dilution would melt; left out where none is.")
        ]
        | UnsetType
    ) = UNSET
    diluted_strength: Annotated[
        FractionFigure, Meta(description="Hydroxide in the stock and the liquids' water together.")
    ]
    mass: Annotated[MassFigure, Meta(description="Of the whole batch.")]
    heat_capacity: Annotated[HeatCapacityFigure, Meta(description="Of the whole batch, per mass.")]


def calculate(request: BatchTemperatureRequest, notes: Notes) -> BatchTemperatureAnswer:
    """How warm fats, stock and liquids get together, and how warm the fats must be for that."""
    wanted = None if request.wanted_temperature is None else request.wanted_temperature.value
    fats = weighed_fats(request.fats, notes)
    temperatures = read_temperatures(request.fats, fats, request.fats_temperature, notes, wanted=wanted is not None)
    stock = read_stock(request.stock, notes)
    liquids = read_liquids(request.liquids or (), notes)
    if wanted is not None and not COLDEST_WANTED <= wanted <= HOTTEST_WANTED:
        notes.fault(
            "/wanted_temperature",
            "impossible-temperature",
            f"a batch is a liquid with water in it, and none has {wanted:.4g} °C",
            f"give {COLDEST_WANTED:g} to {HOTTEST_WANTED:g} °C",
        )
    notes.stop_at_faults()
    if stock is None:
        raise TypeError(request.stock)  # its faults have stopped the request
    runs = Runs(request.stock.alkali, fats, temperatures, stock, liquids)
    pot = "/fats" if request.fats_temperature is None else "/fats_temperature"
    found = None if temperatures is None else _temperature(runs, pot, notes)
    needed = None if wanted is None else _needed(runs, wanted, notes)
    t = found.value if found is not None else wanted
    if t is None:
        raise TypeError(t)  # one of the two is due, and the reading sees to it
    solid, unknown = solid_fats(fats, t), unknown_melting(fats)
    rise = runs.reaction_rise(t)
    caution_blend(runs, (found, needed), (rise, t), (solid, unknown), notes)
    if notes.explain:
        explain_blend(runs, found, (needed, wanted), (rise, t), notes)
    return BatchTemperatureAnswer(
        temperature=UNSET if found is None else TemperatureFigure(*found),
        dilution_rise=UNSET if found is None else TemperatureRiseFigure(runs.uncapped[1] - runs.uncapped[0]),
        dilution_heat=EnergyFigure(*runs.dilution_heat) if runs.blend.water else EnergyFigure(0.0),
        fats_temperature_needed=UNSET if needed is None else TemperatureFigure(*needed),
        reaction_rise=TemperatureRiseFigure(*rise),
        solid_fats=solid,
        melting_unknown=unknown,
        ice_left=MassFigure(runs.ice_left) if found is not None and runs.ice_left else UNSET,
        diluted_strength=FractionFigure(runs.blend.thinned),
        mass=MassFigure(runs.mass),
        heat_capacity=HeatCapacityFigure(runs.blend.capacity(t, 1.0) / runs.mass),
    )


def _temperature(runs: Runs, pot: str, notes: Notes) -> Ends:
    """What the batch comes to; refused where it would freeze, or where no data reach."""
    try:
        left = meet(runs.blend, 1.0).ice
        found = runs.temperature
    except OutOfRange as error:
        if error.value > error.low:
            raise notes.refuse(
                "",
                "beyond-data",
                f"it would come to {error.value:.3g} °C, and heats of caustic are not known there",
                "let the stock and the fats cool first, and check their temperatures and units",
            ) from None
        raise _frozen(runs, 0.0, pot, notes) from None
    if left:
        raise _frozen(runs, left, pot, notes)
    return found


def _frozen(runs: Runs, left: float, pot: str, notes: Notes) -> Exception:
    """It freezes: by the ice of the liquids, or else by what is coldest of fats and stock."""
    if runs.blend.ice:
        return notes.refuse(
            "/liquids",
            "contradiction",
            f"fats and stock bring too little heat: {weight(left)} of ice would be left, in fats that set around it"
            if left
            else "all of it together is so cold that it freezes",
            "thaw the liquids first, in part or wholly, or use warmer fats",
        )
    fats_colder = min(one.temperature for one in runs.blend.fats) < runs.blend.stock.temperature
    return notes.refuse(
        pot if fats_colder else "/stock/temperature",
        "contradiction",
        "all of it together is so cold that it freezes",
        "use warmer fats, or warmer stock" if fats_colder else "use warmer stock, or warmer fats",
    )


def _needed(runs: Runs, wanted: float, notes: Notes) -> Ends:
    """How warm the fats must be; refused where no fats can be so."""
    needed = runs.needed(wanted)
    if needed.value > HOTTEST_NEEDED:
        raise notes.refuse(
            "/wanted_temperature",
            "contradiction",
            f"the fats would have to be hotter than {HOTTEST_NEEDED:g} °C, where water that meets them flashes into "
            "steam",
            "ask for a cooler batch, or use warmer or thawed liquids and a warmer stock",
        )
    if needed.value < COLDEST_NEEDED:
        raise notes.refuse(
            "/wanted_temperature",
            "contradiction",
            f"the fats would have to be colder than {COLDEST_NEEDED:g} °C: stock and liquids bring too much heat",
            "ask for a warmer batch, let the stock cool, or use colder or frozen liquids",
        )
    return needed


CALCULATION: Final = Calculation(
    name="batch-temperature",
    summary="How warm fats, stock and liquids get together",
    description=(
        "For the moment before anything is poured: from fats, a stock and other liquids, frozen ones too, each at its "
        "temperature, how warm the batch is before it reacts; by how much saponifying would warm it; which fats are "
        "not liquid there; and the other way round, how warm the fats must be for a wanted temperature.\n\n"
        "A stock that meets the water of the liquids is thinned by it, and that gives off heat: over 10 K in a milk "
        "batch. The value counts all of it, as where the batch is stirred through; right after pouring less of it has "
        "come, and the lower end counts none. The heat of fats that set or melt is not counted in the value.\n\n"
        "Not for the safety of a reaction: `reaction_rise` is an order of magnitude. No heat is lost to bowl and room. "
        "Usual practice is 29 to 35 °C, and at or below 38 °C with milk (common practice, without a source). Range: "
        "NaOH to 52 %, KOH to 50 %; fats from -40 to 150 °C; liquids from -28 to 100 °C, and so that not more ice is "
        "left than melts.\n\n"
        "Sources: heat capacities by composition, Y. Choi and M. R. Okos 1986, as the ASHRAE Handbook - Refrigeration "
        "2006 prints them, within 5 %, of free fatty acids more widely from 50 °C up (13 % at 80 °C); "
        "water and ice by IAPWS, not by that handbook, whose coefficient for water is 1.3 % low; the stock as "
        "in `stock-dilution`; melting ranges by the sources that the catalogue names; the heat "
        "of saponifying is estimated from its parts."
    ),
    request=BatchTemperatureRequest,
    answer=BatchTemperatureAnswer,
    calculate=calculate,
    examples=EXAMPLES,
    links=(
        Link(
            "properties-of-the-thinned-stock",
            "concentration",
            "The properties of the stock once the liquids' water has thinned it.",
            {
                "alkali": "$request.body#/stock/alkali",
                "strength": {"mass_fraction": "$response.body#/diluted_strength"},
            },
        ),
    ),
)
