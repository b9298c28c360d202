"""What a liquid split is asked for, read: alkalis with their stocks, liquids, and the liquid wanted in all."""

from collections.abc import Sequence
from typing import Annotated, ClassVar, Final, Literal

from msgspec import Meta

from service.calculations.batch.alkalis import SUM_TOLERANCE, purity_of
from service.calculations.batch.liquids import catalogue_liquid, find_liquid
from service.calculations.batch.split import Line, Source, Total
from service.calculations.shared.given import LiquidRatio, Mass, PlainMass, Proportion, Purity, Share
from service.calculations.shared.identifiers import SHELF
from service.calculations.shared.messages import (
    Alkali,
    AlkaliName,
    Identifier,
    PurityGiven,
    Stock,
    Strength,
)
from service.calculations.shared.notes import Notes, missed, percent
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import AtMostOne, ExactlyOne, Rule, Ruled, Together
from service.calculations.stock.solutions import ROOM, mass_fraction
from service.chemistry.ranges import ROUNDING
from service.chemistry.uncertainty import EXACT, Part

WATER: Final = "distilled-water"
LEAST_STRENGTH: Final = 1e-3
"""Mass fraction below which a solution is no stock."""
COLDEST_STOCK: Final = -30.0
"""Temperature [°C] below which no caustic stock is liquid."""


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

    water_ratio: (
        Annotated[LiquidRatio, Meta(description="Liquid per mass of pure hydroxide.", examples=["2:1"])] | None
    ) = None
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


CountLiquidsAs = Annotated[
    Literal["whole", "water_content"],
    Meta(
        description="Whether liquids count by their whole mass (default, as is usual in the trade), or only the water "
        "in them counts."
    ),
]
Compensate = Annotated[
    bool, Meta(description="Whether the alkali that a liquid's acid takes is added; default it is only told.")
]
ShareOfAdded = Annotated[Share, Meta(description="Its share of all that is added, by mass.", examples=["50 %"])]
Rest = Annotated[Literal[True], Meta(description="It is what the others leave.")]
AddPlainWaterTo = Annotated[
    Literal["fats", "stock"],
    Meta(description="Where plain water goes; all else goes into the fats. Default the fats."),
]


class LiquidLine(Ruled, kw_only=True):
    """A liquid added beside the stock, and how much of it."""

    liquid: Annotated[Identifier, Meta(examples=["goat-milk"], extra={SHELF: "liquids"})]
    share: ShareOfAdded | None = None
    mass: Annotated[PlainMass, Meta(description="Its mass.", examples=["60 g"])] | None = None
    rest: Rest | None = None
    add_to: AddPlainWaterTo | None = None

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("share", "mass", "rest")),)


def read_sources(alkalis: Sequence[AlkaliMass], given: Sequence[Stock], notes: Notes) -> list[Source]:
    """Each alkali with the stock of its kind, or without one."""
    stocks: dict[AlkaliName, tuple[int, Stock]] = {}
    for index, stock in enumerate(given):
        if stock.alkali in stocks:
            notes.fault(
                f"/stocks/{index}",
                "contradiction",
                f"there are two stocks of {stock.alkali}, and no way to tell how much to draw from each",
                "give the stock to draw from, one for each alkali",
            )
        stocks.setdefault(stock.alkali, (index, stock))
    sources: list[Source] = []
    needed: set[AlkaliName] = set()
    for index, line in enumerate(alkalis):
        if line.alkali in needed:
            notes.fault(f"/alkalis/{index}", "contradiction", f"{line.alkali} is listed twice", "put it on one line")
            continue
        needed.add(line.alkali)
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
                source = Source(line.alkali, line.mass.value, part_of(line.mass), found, temperature=t)
                _check_temperature(source, found.mass_fraction, place, notes)
                sources.append(source)
            continue
        purity, part = _dry_purity(line, notes, f"/alkalis/{index}")
        mass = line.mass
        sources.append(
            Source(line.alkali, mass.value, part_of(mass), None, temperature=ROOM, purity=purity, purity_part=part)
        )
    for alkali, (place, _) in stocks.items():
        if alkali not in needed:
            notes.fault(
                f"/stocks/{place}/alkali",
                "contradiction",
                f"the batch needs no {alkali}, and this stock holds nothing else",
                "mend the alkali, or leave the stock out",
            )
    return sources


def _check_temperature(source: Source, w: float, place: int, notes: Notes) -> None:
    at, t = f"/stocks/{place}/temperature", source.temperature
    if source.stock is not None and t > source.stock.boiling_point:
        notes.fault(
            at,
            "impossible-temperature",
            f"a {percent(w)} {source.alkali} stock boils at about {source.stock.boiling_point:.0f} °C, and this one is "
            f"said to have {t:.4g} °C",
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
    least, _ = Purity.limits()
    if not least - ROUNDING <= purity <= 1 + ROUNDING:
        notes.fault(
            f"{at}/mass_as_supplied",
            "contradiction",
            f"the purity would be {percent(purity)}, mass over mass_as_supplied",
            "mass is of pure hydroxide, mass_as_supplied is what the scale shows: the larger of the two",
        )
    return min(max(purity, least), 1.0), EXACT


def read_lines(given: Sequence[LiquidLine] | None, total: TotalLiquid | None, notes: Notes) -> list[Line]:
    """The liquids asked for, distilled water where none are."""
    if given is None:
        if total is not None:
            notes.assume("/liquids", f"{WATER} for all of it, into the fats", "water needs no choice")
        return [Line(catalogue_liquid(WATER), None, None, "fats")]
    if sum(1 for one in given if one.rest) > 1:
        notes.fault("/liquids", "does-not-add-up", "more than one liquid takes the rest", "give rest to one of them")
    shares = sum(one.share.value for one in given if one.share is not None)
    only_shares = all(one.share is not None for one in given)
    if (only_shares and abs(shares - 1) > SUM_TOLERANCE) or shares > 1 + SUM_TOLERANCE:
        notes.fault(
            "/liquids",
            "does-not-add-up",
            f"the shares add up to {shares * 100:.6g} %{missed(shares)}",
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
                f"{liquid.id} does not go into the stock: {liquid.reason}",
                "add it to the fats",
            )
        elif one.add_to is None and liquid.is_water:
            notes.assume(f"/liquids/{index}/add_to", "fats", "there it does not warm the stock")
        lines.append(
            Line(
                liquid,
                None if one.mass is None else one.mass.value,
                None if one.share is None else one.share.value / (shares if only_shares else 1.0),
                one.add_to or "fats",
            )
        )
    return lines


def read_total(
    wanted: TotalLiquid | None, liquids: Sequence[LiquidLine] | None, sources: list[Source], notes: Notes
) -> Total:
    """The liquid wanted, as mass or as ratio to the alkali; neither where none is wanted."""
    if wanted is None:
        if liquids is not None and any(one.mass is None for one in liquids):
            notes.fault(
                "/liquids",
                "does-not-add-up",
                "there is no total liquid that a share or the rest could be taken of",
                'give total_liquid, such as {"water_ratio": "2:1"}, or give every liquid a mass',
            )
        if liquids is None:
            notes.assume("/total_liquid", "nothing beside the stock", "the stock brings its own water")
        else:
            notes.assume("/total_liquid", "the stock and the liquids given", "nothing is filled up")
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
