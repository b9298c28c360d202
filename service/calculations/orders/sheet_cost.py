"""What a batch costs, by line and by bar, from the prices that the caller gives."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Annotated, Final, NamedTuple

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.batch.split import Source
from service.calculations.orders.batch_made import Weighing
from service.calculations.orders.money import Amount, Price, cost_of, share_of, told, total_of
from service.calculations.shared.faults import near
from service.calculations.shared.notes import Notes
from service.calculations.shared.rules import Ruled
from service.calculations.shared.told import MassFigure
from service.reference import reference_data
from service.reference.currencies import CURRENCIES


class MaterialPrice(Ruled, kw_only=True):
    """What a material costs."""

    material: Annotated[
        str,
        Meta(
            min_length=1,
            max_length=120,
            description="As in the weigh list. NaOH prices the solid, also what is in a draw of NaOH-stock that has no "
            "price of its own.",
            examples=["olive-oil", "NaOH"],
        ),
    ]
    price: Annotated[Price, Meta(description="What it costs.")]


class CostLine(Struct, frozen=True, kw_only=True):
    """What a line of the weigh list costs."""

    material: Annotated[str, Meta(description="As in the weigh list.", examples=["olive-oil"])]
    mass: Annotated[MassFigure, Meta(description="What is priced: of stock without a price of its own, its hydroxide.")]
    cost: Annotated[Amount, Meta(description="Rounded to the currency's minor unit, halves to even.")]


class Cost(Struct, frozen=True, kw_only=True):
    """What the materials of a batch cost."""

    lines: Annotated[list[CostLine], Meta(description="In the order of the weigh list, what has no price left out.")]
    total: Annotated[Amount, Meta(description="The exact sum of the lines.")]
    by_bar: (
        Annotated[Amount, Meta(description="The total for each bar, rounded likewise; with a bar_mass.")] | UnsetType
    ) = UNSET
    without_price: Annotated[
        list[str], Meta(description="Materials that nothing is counted for.", examples=[["distilled-water"]])
    ]


OF_SOLID: Final = "the stock is made of the solid and water; its hydroxide is priced as if the solid were pure"
"""Why a stock without a price of its own costs what it does."""


class Prices(NamedTuple):
    """The prices of a request, read."""

    by_material: dict[str, Price]
    currency: str

    def cost(self, material: str, mass: float) -> Decimal:
        """What a mass of a material costs that has a price.

        Args:
            material: as prices have it.
            mass: of it [kg].
        """
        price = self.by_material[material]
        return cost_of(mass, price.amount, 1.0 if price.per is None else price.per.value, self.currency)


def priced(weighing: Weighing, prices: Prices) -> tuple[str, float]:
    """What is priced of a line: of stock without a price of its own, its hydroxide; and its mass [kg].

    Args:
        weighing: the line.
        prices: that there are.
    """
    source = weighing.of
    if (
        isinstance(source, Source)
        and source.strength is not None
        and weighing.material not in prices.by_material
        and source.alkali in prices.by_material
    ):
        return source.alkali, weighing.mass * source.strength.mass_fraction
    return weighing.material, weighing.mass


def read_prices(given: Sequence[MaterialPrice], notes: Notes, at: str = "/prices") -> Prices | None:
    """The prices of a request; faults go into the notes. None where there are none, or faults.

    Args:
        given: as the request has them.
        notes: where faults go.
        at: their pointer.
    """
    found: dict[str, Price] = {}
    before = len(notes.faults)
    for index, one in enumerate(given):
        price, place = one.price, f"{at}/{index}"
        if price.currency not in CURRENCIES:
            notes.fault(
                f"{place}/price/currency",
                "unknown-identifier",
                f"'{price.currency}' is no currency known here{near(price.currency, CURRENCIES)}",
                "give the code of ISO 4217, as in 'EUR'",
            )
        elif price.currency != given[0].price.currency:
            notes.fault(
                f"{place}/price/currency",
                "two-currencies",
                f"this price is in {price.currency}, and the first one in {given[0].price.currency}: no rate is known",
                "give all prices in one currency",
            )
        if one.material in found:
            notes.fault(
                f"{place}/material",
                "contradiction",
                f"{one.material[:60]} has two prices",
                "keep one of them",
            )
        found[one.material] = price
        if price.per is None:
            notes.assume(f"{place}/price/per", "1 kg", "materials are usually priced by the kilogram")
    if not found or len(notes.faults) > before:
        return None
    return Prices(found, given[0].price.currency)


def check_prices(prices: Prices, given: Sequence[MaterialPrice], weighings: Sequence[Weighing], notes: Notes) -> None:
    """A price of what is not in the batch is a fault: it may be the name of something that is.

    Args:
        prices: as they were read.
        given: as the request has them.
        weighings: everything to weigh.
        notes: where faults go.
    """
    known = [one.material for one in weighings]
    known += [one.of.alkali for one in weighings if isinstance(one.of, Source)]
    for index, one in enumerate(given):
        if one.material in prices.by_material and one.material not in known:
            notes.fault(
                f"/prices/{index}/material",
                "unknown-identifier",
                f"nothing called '{one.material[:60]}' is in this batch{near(one.material, known)}",
                "write it as the weigh list has it, or leave the price out",
            )


def cost(prices: Prices, weighings: Sequence[Weighing], bars: int | None, notes: Notes) -> Cost:
    """What a batch costs.

    Args:
        prices: by material.
        weighings: everything, with the masses that the scale shows.
        bars: how many bars it gives; None or 0 where that is not told.
        notes: where cautions and assumptions go.
    """
    lines: list[CostLine] = []
    amounts: list[Decimal] = []
    without: list[str] = []
    for one in weighings:
        material, mass = priced(one, prices)
        if material not in prices.by_material:
            without.append(one.material)
            continue
        if material != one.material:
            notes.assume("/prices", f"{material} for {one.material}", OF_SOLID)
        amounts.append(prices.cost(material, mass))
        lines.append(CostLine(material=one.material, mass=MassFigure(mass), cost=told(amounts[-1], prices.currency)))
    total = total_of(amounts, prices.currency)
    caution_unpriced(list(dict.fromkeys(without)), notes)
    return Cost(
        lines=lines,
        total=told(total, prices.currency),
        by_bar=told(share_of(total, bars, prices.currency), prices.currency) if bars else UNSET,
        without_price=list(dict.fromkeys(without)),
    )


def caution_unpriced(without: list[str], notes: Notes) -> None:
    """Say what nothing is counted for; water is hardly ever priced.

    Args:
        without: materials that have no price.
        notes: where the caution goes.
    """
    liquids = reference_data().liquids
    worth = [name for name in without if name not in liquids or liquids[name].group != "water"]
    if worth:
        named = ", ".join(name[:40] for name in worth[:4]) + (f" and {len(worth) - 4} more" if len(worth) > 4 else "")
        notes.caution(
            "price-missing", f"No price is given for {named}: the cost counts nothing for that, and is too low."
        )
