"""What a batch is stirred together from, read: fats and liquids at their temperatures, and the stock."""

from collections.abc import Hashable, Sequence
from functools import cache
from typing import Annotated, Final, NamedTuple

from msgspec import Meta

from service.calculations.batch.fats import WeighedFat
from service.calculations.batch.liquids import KnownLiquid, find_liquid
from service.calculations.mixing.mixing_contents import plain_degrees
from service.calculations.mixing.poured import Pour, read_pour
from service.calculations.shared.given import Mass, MeasuredTemperature
from service.calculations.shared.identifiers import SHELF
from service.calculations.shared.messages import FatLine, Identifier, Solution
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import Ruled
from service.calculations.stock.solutions import ROOM
from service.chemistry import food_heat
from service.chemistry.batch_blend import Liquid
from service.chemistry.batch_spread import freezing_point
from service.chemistry.enthalpy import EXTENDED_RANGE
from service.chemistry.food_heat import Dry
from service.chemistry.ranges import ROUNDING
from service.chemistry.uncertainty import Part
from service.reference import reference_data

LEAST_STRENGTH: Final = 1e-3
"""Mass fraction below which a solution is no stock."""
HOTTEST_LIQUID: Final = 100.0
COLDEST_LIQUID: Final = EXTENDED_RANGE[0]
"""Temperatures [°C] of liquids that are reckoned with."""
SYRUP: Final = -10.0
"""Freezing point [°C] by what is dissolved, below which a liquid is a syrup, that no freezer freezes through."""
DAIRY: Final = frozenset({"milk", "cream", "fermented-milk"})
"""Groups of the catalogue whose sugar is lactose."""
MILKY: Final = DAIRY | {"plant-drink"}
"""Groups of liquids that count as milk where a batch must not get warm."""
_LACTOSE: Final = 0.3423
_OTHER_SUGAR: Final = 0.18016
_ETHANOL: Final = 0.04607
"""Molar masses [kg/mol] (computed: atomic weights of IUPAC/CIAAW 2021); other sugars as glucose and fructose, the more
of them there are in a gram."""
_ASH: Final = 0.070
"""Ash per mole of dissolved salts [kg/mol]: what makes milk freeze at -0.53 °C (from memory). It bears on no more than
intervals and on what freezes at all."""


class WarmFatLine(FatLine, kw_only=True):
    """A fat, its mass, and how warm it is."""

    temperature: (
        Annotated[
            MeasuredTemperature,
            Meta(description="Its temperature; given with every fat, or one fats_temperature for all of them."),
        ]
        | None
    ) = None


class WarmLiquid(Ruled, kw_only=True):
    """A liquid that goes into the batch beside the stock, and how warm or cold it is."""

    liquid: Annotated[Identifier, Meta(examples=["goat-milk"], extra={SHELF: "liquids"})]
    mass: Annotated[Mass, Meta(description="What the scale shows.", examples=["130 g"])]
    temperature: (
        Annotated[MeasuredTemperature, Meta(description="Default 20 °C, or 0 °C where it is frozen.")] | None
    ) = None
    frozen: (
        Annotated[
            bool, Meta(description="Whether its water is ice; half-frozen slush goes on two lines. Default false.")
        ]
        | None
    ) = None


class FatTemperature(NamedTuple):
    """How warm a pot of fat is."""

    value: float
    """°C."""
    part: Part
    pot: Hashable
    """What is read on one thermometer, and errs together."""


class ReadLiquid(NamedTuple):
    """A liquid of the request, and how well it is known."""

    liquid: KnownLiquid
    mass: float
    mass_part: Part
    temperature_part: Part
    content: Liquid
    milky: bool
    freezing: float
    """Where ice begins to form in it, by what is dissolved [°C]."""


class Content(NamedTuple):
    """What one mass of a liquid holds."""

    water: float
    dry: Dry
    milky: bool
    freezing: float


@cache
def content_of(identifier: str) -> Content:
    """What one mass of a liquid of the catalogue holds, and where it freezes.

    Raises:
        KeyError: there is none of that name.
    """
    liquid = reference_data().liquids[identifier]
    water, protein, fat = liquid.water.middle, liquid.protein.middle, liquid.fat.middle
    ash = 0.0 if liquid.ash is None else liquid.ash.middle
    alcohol = 0.0 if liquid.alcohol is None else liquid.alcohol.middle
    rest = max(0.0, 1.0 - water - protein - fat - ash - alcohol)
    sugar = (liquid.sugars or liquid.carbohydrate).middle
    dissolved = sugar / (_LACTOSE if liquid.group in DAIRY else _OTHER_SUGAR) + ash / _ASH + alcohol / _ETHANOL
    freezing = 0.0 if liquid.group == "water" else freezing_point(water, dissolved)
    return Content(water, Dry(protein, fat, rest, ash, alcohol), liquid.group in MILKY, freezing)


def read_liquids(given: Sequence[WarmLiquid], notes: Notes) -> list[ReadLiquid]:
    """The liquids of a request; faults and assumptions go into the notes."""
    found = []
    for index, one in enumerate(given):
        at = f"/liquids/{index}"
        liquid = find_liquid(one.liquid, notes, f"{at}/liquid")
        if one.frozen is None:
            notes.assume(f"{at}/frozen", "false", "a liquid is liquid where nothing else is said")
        frozen = one.frozen is True
        t = (0.0 if frozen else ROOM) if one.temperature is None else one.temperature.value
        if one.temperature is None:
            why = "the cautious side: colder ice takes up more heat" if frozen else "the temperature of the room"
            notes.assume(f"{at}/temperature", plain_degrees(t), why)
        if liquid is None:
            continue
        content = content_of(liquid.id)
        if not _possible(liquid.id.replace("-", " "), content, t, notes, at, frozen=frozen):
            continue
        mass = one.mass.value
        water = mass * content.water
        t = min(max(t, COLDEST_LIQUID), 0.0 if frozen else HOTTEST_LIQUID)  # by rounding of units at most
        held = Liquid(water, Dry(*(mass * share for share in content.dry)), t, water if frozen else 0.0)
        found.append(
            ReadLiquid(
                liquid,
                mass,
                part_of(one.mass),
                part_of(one.temperature),
                held,
                content.milky,
                content.freezing,
            )
        )
    return found


def _possible(name: str, content: Content, t: float, notes: Notes, at: str, *, frozen: bool) -> bool:
    before = len(notes.faults)
    place = f"{at}/temperature"
    if frozen and t > ROUNDING:
        notes.fault(
            place,
            "impossible-temperature",
            f"{name} of {t:.4g} °C is said to be frozen, and ice melts at 0 °C",
            "give 0 °C or less, or leave frozen out",
        )
    elif t < COLDEST_LIQUID - ROUNDING:
        notes.fault(
            place,
            "beyond-data",
            f"{t:.4g} °C is below {COLDEST_LIQUID:g} °C, to where heats of water and ice are known here",
            "check the number and its unit",
        )
    elif frozen and content.freezing < SYRUP and t > content.freezing:
        notes.fault(
            f"{at}/frozen",
            "contradiction",
            f"{name} does not freeze at {t:.4g} °C: too much is dissolved in it",
            "leave frozen out",
        )
    elif not frozen and t < content.freezing - ROUNDING:
        notes.fault(
            place,
            "impossible-temperature",
            f"{name} begins to freeze at about {content.freezing:.2g} °C, and is said to have {t:.4g} °C",
            "add frozen, as true, or check the number and its unit",
        )
    elif t > HOTTEST_LIQUID + ROUNDING:
        notes.fault(
            place,
            "impossible-temperature",
            f"{name} boils at about {HOTTEST_LIQUID:g} °C, and is said to have {t:.4g} °C",
            "check the number and its unit",
        )
    return len(notes.faults) == before


def read_stock(given: Solution, notes: Notes) -> Pour | None:
    """The stock; None where that is a fault. Faults and assumptions go into the notes."""
    if given.state == "ice":
        notes.fault(
            "/stock/state", "contradiction", "ice is no stock of alkali", "put ice under liquids, as distilled-water"
        )
        return None
    pour = read_pour(given, notes, "/stock")
    if pour is not None and pour.part.mass_fraction < LEAST_STRENGTH:
        notes.fault(
            "/stock/strength",
            "contradiction",
            "a stock that holds hardly any hydroxide makes no soap",
            "give the strength of the stock, and put water under liquids, as distilled-water",
        )
        return None
    return pour


def read_temperatures(
    lines: Sequence[WarmFatLine],
    fats: Sequence[WeighedFat],
    one_for_all: MeasuredTemperature | None,
    notes: Notes,
    *,
    wanted: bool,
) -> list[FatTemperature] | None:
    """How warm each fat is; None where that is what is asked. Faults go into the notes.

    Args:
        lines: as the request has them.
        fats: the same, looked up; of another number where that found faults.
        one_for_all: temperature of all the fats, where it is given.
        notes: where faults go.
        wanted: whether a temperature of the batch is wanted, so that those of the fats may be asked.
    """
    given = [(index, one.temperature) for index, one in enumerate(lines) if one.temperature is not None]
    if one_for_all is not None:
        for index, _ in given:
            notes.fault(
                f"/fats/{index}/temperature",
                "contradiction",
                "the temperature of this fat is given, and one for all of them too",
                "keep fats_temperature, or give every fat its own",
            )
        _check_fat(one_for_all.value, notes, "/fats_temperature")
        pot = FatTemperature(one_for_all.value, part_of(one_for_all), "all")
        return [pot] * len(lines)
    if not given:
        if not wanted:
            notes.fault(
                "/fats_temperature",
                "temperature-needed",
                "neither how warm the fats are is given, nor a temperature that is wanted of the batch",
                "give fats_temperature, or wanted_temperature to be told how warm the fats must be",
            )
        return None
    for index, one in enumerate(lines):
        if one.temperature is None:
            notes.fault(
                f"/fats/{index}/temperature",
                "temperature-needed",
                "other fats have their temperature, and this one has none",
                "give it too, or one fats_temperature for all of them",
            )
    for index, t in given:
        _check_fat(t.value, notes, f"/fats/{index}/temperature")
    if len(given) != len(lines) or len(fats) != len(lines):
        return None
    return [
        FatTemperature(t.value, part_of(t), (fat.fat.key, f"{t.value:.9g}", f"{part_of(t)[0]:.6g}"))
        for (_, t), fat in zip(given, fats, strict=True)
    ]


def _check_fat(t: float, notes: Notes, at: str) -> None:
    if not food_heat.COLDEST <= t <= food_heat.HOTTEST:
        notes.fault(
            at,
            "beyond-data",
            f"{t:.4g} °C is outside {food_heat.COLDEST:g} to {food_heat.HOTTEST:g} °C, where heats of fats are known",
            "check the number and its unit",
        )
