"""How warm the fats of a batch must be, as `batch-temperature` reckons it."""

from collections.abc import Sequence
from typing import Annotated, Final

from msgspec import Meta, Struct

from service.calculations.batch.batch_temperature import (
    BatchTemperatureAnswer,
    BatchTemperatureRequest,
)
from service.calculations.batch.batch_temperature import calculate as batch_temperature
from service.calculations.batch.blend_reading import WarmFatLine, WarmLiquid
from service.calculations.batch.melting import SolidFat
from service.calculations.orders.batch_made import Made
from service.calculations.orders.moved import take_over
from service.calculations.orders.recipe import Recipe
from service.calculations.orders.recipe_reading import fat_line
from service.calculations.shared.cautions import CautionCode
from service.calculations.shared.faults import Refusal
from service.calculations.shared.given import Mass, MeasuredTemperature, PlainMass, Temperature
from service.calculations.shared.messages import Solution
from service.calculations.shared.notes import Notes
from service.calculations.shared.told import TemperatureFigure, TemperatureRiseFigure

USUAL: Final = 32.0
"""What a batch is to have where nothing is said [°C]: the middle of the usual 29 to 35 °C (common practice)."""

TOLD_ON: Final[frozenset[CautionCode]] = frozenset(
    {
        "boils",
        "fats-hot",
        "stock-hot",
        "milk-too-warm",
        "batch-temperature-unusual",
        "acid-heats-caustic",
        "water-warms-stock",
        "fats-not-liquid",
        "fats-set",
        "melting-unknown",
        "thawing-heat-rough",
        "ice-left",
    }
)
"""Cautions of `batch-temperature` that bear on a sheet."""


class Temperatures(Struct, frozen=True, kw_only=True):
    """How warm what is before it is mixed, and then."""

    fats: Annotated[
        TemperatureFigure,
        Meta(
            description="Of all the fats: as it was given, or as it must be for the temperature of the batch; as "
            "batch-temperature answers it."
        ),
    ]
    stock: Annotated[TemperatureFigure, Meta(description="Of the stock, as it was given or taken.")]
    batch: Annotated[
        TemperatureFigure,
        Meta(
            description="Of the whole before any fat saponifies: as it comes, or as it was wanted. The lower end "
            "counts none of the heat of dilution, as in batch-temperature: a bound."
        ),
    ]
    reaction_rise: Annotated[
        TemperatureRiseFigure, Meta(description="What saponifying would add, were no heat lost: an order of magnitude.")
    ]
    solid_fats: Annotated[list[SolidFat], Meta(description="Fats that are not liquid at the temperature of the batch.")]


def temperatures(
    made: Made,
    recipe: Recipe,
    stocks: Sequence[Solution],
    given: tuple[MeasuredTemperature | None, Temperature | None],
    notes: Notes,
) -> Temperatures | None:
    """How warm fats and batch are; None, with a caution that says why, where that cannot be told.

    Args:
        made: the batch.
        recipe: as the request has it.
        stocks: as the request has them.
        given: temperature of the fats, and the one that is wanted of the batch.
        notes: where cautions and faults go.

    Raises:
        Refusal: the temperature that is given or wanted cannot be had.
    """
    drawn = [one for one in made.split.sources if one.strength is not None]
    if len(drawn) != 1 or len(made.split.sources) != 1:
        if any(one is not None for one in given):
            at = "/fats_temperature" if given[0] is not None else "/wanted_temperature"
            raise notes.refuse(
                at,
                "contradiction",
                "heat is reckoned for a batch with one stock, and this one has two alkalis, or a solid to dissolve",
                "leave the temperature out, or give a stock of the one alkali",
            )
        notes.caution(
            "temperatures-left-out",
            "Temperatures are told for a batch with one stock alone. Bring fats and caustic to the usual 29 to 35 °C, "
            "and let caustic that was just dissolved cool first.",
        )
        return None
    (source,) = drawn
    index, stock = next((place, one) for place, one in enumerate(stocks) if one.alkali == source.alkali)
    fats_temperature, wanted = given
    usual = fats_temperature is None and wanted is None
    asked = Temperature(USUAL) if usual else wanted
    liquids, places = _liquids(made, recipe)
    request = BatchTemperatureRequest(
        fats=_fats(made, recipe),
        fats_temperature=fats_temperature,
        stock=Solution(
            alkali=stock.alkali,
            mass=PlainMass(source.mass + source.own_water),
            strength=stock.strength,
            temperature=stock.temperature,
        ),
        liquids=liquids,
        wanted_temperature=asked,
    )
    told = Notes(explain=notes.explain)
    try:
        answer = batch_temperature(request, told)
    except Refusal:
        if usual and all(one.pointer == "/wanted_temperature" for one in told.faults):
            notes.caution(
                "temperatures-left-out",
                f"This batch does not come to {USUAL:g} °C: {told.faults[0].detail}. Give wanted_temperature, or "
                "change the temperatures of stock and liquids.",
            )
            return None
        take_over(
            told, notes, [("/stock", f"/stocks/{index}"), *places, ("/fats", "/recipe/fats")], cautions=frozenset()
        )
        raise Refusal(422, notes.faults, notes.untold) from None
    if usual:
        notes.assume("/wanted_temperature", f"{USUAL:g} °C", "the middle of the usual 29 to 35 °C (common practice)")
    take_over(told, notes, places, cautions=TOLD_ON, assumed=["/liquids"])
    return _told(answer, source.temperature, fats_temperature, asked)


def _fats(made: Made, recipe: Recipe) -> list[WarmFatLine]:
    """The fats with the certificates they were given with."""
    given = [one for one in recipe.fats if one.amount > 0]
    return [
        fat_line(WarmFatLine, one, weighed.mass * made.fat_mass)
        for one, weighed in zip(given, made.recipe.fats, strict=True)
    ]


def _liquids(made: Made, recipe: Recipe) -> tuple[list[WarmLiquid], list[tuple[str, str]]]:
    """The liquids at the temperatures that the recipe has, and where in it they are."""
    if recipe.liquids is None:
        water = [WarmLiquid(liquid=one.liquid.id, mass=Mass(one.mass), frozen=False) for one in made.split.added]
        return water, [("/liquids", "/recipe/liquids")]
    found: list[WarmLiquid] = []
    places: list[tuple[str, str]] = []
    lines = iter(enumerate(recipe.liquids))
    for one in made.split.added:  # in the order of the recipe, without those of which there is none
        index, line = next((index, line) for index, line in lines if line.liquid == one.liquid.id)
        places.append((f"/liquids/{len(found)}", f"/recipe/liquids/{index}"))
        found.append(
            WarmLiquid(liquid=line.liquid, mass=Mass(one.mass), temperature=line.temperature, frozen=line.frozen)
        )
    return found, places


def _told(
    answer: BatchTemperatureAnswer,
    stock: float,
    fats: MeasuredTemperature | None,
    wanted: Temperature | None,
) -> Temperatures:
    needed, comes = answer.fats_temperature_needed, answer.temperature
    if isinstance(needed, TemperatureFigure) and wanted is not None:
        of_fats, of_batch = needed, TemperatureFigure(wanted.value)
    elif isinstance(comes, TemperatureFigure) and fats is not None:
        of_fats, of_batch = TemperatureFigure(fats.value), comes
    else:
        raise TypeError(answer)  # one of the two was asked for
    return Temperatures(
        fats=of_fats,
        stock=TemperatureFigure(stock),
        batch=of_batch,
        reaction_rise=answer.reaction_rise,
        solid_fats=answer.solid_fats,
    )
