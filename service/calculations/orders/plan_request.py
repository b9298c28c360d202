"""What a production plan is asked for: orders, recipes, stocks, materials and what the workshop can do in a day."""

from typing import Annotated, ClassVar, Final, Literal

from msgspec import Meta

from service.calculations.keeping.cooling_reading import Surroundings
from service.calculations.mixing.ice_reading import IceKind
from service.calculations.orders.money import Price
from service.calculations.orders.recipe import BarMass, Recipe
from service.calculations.shared.given import Density, Efficiency, MassAtHand, PlainMass, Power, Temperature
from service.calculations.shared.identifiers import FORM
from service.calculations.shared.messages import (
    Alkali,
    MoistureGiven,
    PurityGiven,
    Request,
    Strength,
    TemperatureGiven,
    Vessel,
)
from service.calculations.shared.rules import AtLeastOne, Rule, Ruled

MOST_LINES: Final = 10_000
"""Order lines of one plan."""
MOST_RECIPES: Final = 1_000
MOST_STOCKS: Final = 20
MOST_MATERIALS: Final = 2_000
MOST_QUANTITY: Final = 1_000_000
MOST_DAYS: Final = 3_660

Sku = Annotated[
    str,
    Meta(
        min_length=1,
        max_length=80,
        description="The caller's own number of an article; it comes back as it was sent.",
        examples=["OAT-100"],
    ),
]
Date = Annotated[
    str,
    Meta(
        pattern=r"^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$",
        description="A day, by ISO 8601.",
        examples=["2031-03-14"],
        extra={FORM: "write year, month and day, as in '2031-03-14'"},
    ),
]
Quantity = Annotated[int, Meta(ge=1, le=MOST_QUANTITY, description="How many bars.", examples=[120])]


class OrderLine(Ruled, kw_only=True):
    """A line of an order."""

    sku: Sku
    quantity: Quantity
    due: (
        Annotated[Date, Meta(description="The day on which the bars must be ready. Default: when all else is.")] | None
    ) = None
    order: (
        Annotated[str, Meta(min_length=1, max_length=80, description="The caller's mark of it.", examples=["order 7"])]
        | None
    ) = None


class BatchSize(Ruled, kw_only=True):
    """How large a batch of a recipe is made."""

    fat_mass: Annotated[PlainMass, Meta(description="Mass of all the fats.", examples=["4 kg"])]


class PlanRecipe(Ruled, kw_only=True):
    """A recipe, and the batch that is made of it."""

    recipe: Annotated[Recipe, Meta(description="What it is made of.")]
    batch: Annotated[BatchSize, Meta(description="One batch.")]
    bars: Annotated[int, Meta(ge=1, le=MOST_QUANTITY, description="What a batch gives.", examples=[40])]
    bar_mass: BarMass | None = None
    description: (
        Annotated[str, Meta(min_length=1, max_length=120, description="What the article is called.")] | None
    ) = None
    mould_set: (
        Annotated[
            str,
            Meta(min_length=1, max_length=80, description="Which moulds a batch fills.", examples=["slab of 40"]),
        ]
        | None
    ) = None
    ready_after_days: (
        Annotated[
            int,
            Meta(ge=0, le=MOST_DAYS, description="Days from pouring to sale: drying and release.", examples=[28]),
        ]
        | None
    ) = None


class Remixing(Ruled, kw_only=True):
    """How a tank is filled anew, as `stock-mixing/ice` asks it."""

    strength: Annotated[Strength, Meta(description="Wanted of it; default that of the stock.")] | None = None
    peak_limit: Annotated[Temperature, Meta(description="What the upper end of the peak shall not pass.")]
    purity: PurityGiven | None = None
    moisture: MoistureGiven | None = None
    solid_temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None
    water_temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None
    ambient: Annotated[Temperature, Meta(description="Temperature of the air; default 20 °C.")] | None = None
    ice: Annotated[IceKind, Meta(description="The ice.")] | None = None
    cool_to: (
        Annotated[Temperature, Meta(description="When it may be drawn from; default 38 °C.", examples=["30 °C"])] | None
    ) = None
    surroundings: Annotated[Surroundings, Meta(description="What the tank cools in; default still air.")] | None = None


class PlanStock(Ruled, kw_only=True):
    """A stock in its tank or jug."""

    alkali: Alkali
    mass: Annotated[MassAtHand, Meta(description="What is there; an empty tank holds 0 kg.", examples=["18 kg"])]
    strength: Annotated[Strength, Meta(description="How much of that hydroxide it holds.")]
    temperature: TemperatureGiven | None = None
    vessel: Annotated[Vessel, Meta(description="What it is in; `dead_volume` stays below its outlet.")] | None = None
    reserve: (
        Annotated[PlainMass, Meta(description="What shall stay in it beside that; default the reserve of the plan.")]
        | None
    ) = None
    remixing: Annotated[Remixing, Meta(description="How it is filled anew; without it, it is not.")] | None = None


class FinishedOnHand(Ruled, kw_only=True):
    """Bars that are there already."""

    sku: Sku
    quantity: Annotated[int, Meta(ge=0, le=MOST_QUANTITY, description="How many bars; none is 0.", examples=[12])]


class PlanMaterial(Ruled, kw_only=True):
    """A material on the shelf, and how it is bought."""

    material: Annotated[
        str,
        Meta(
            min_length=1,
            max_length=120,
            description="As in a weigh list: an identifier of the catalogue, or the name it has in a recipe; solid "
            "alkali by its formula; ice.",
            examples=["olive-oil", "NaOH", "ice"],
        ),
    ]
    sku: Sku | None = None
    description: (
        Annotated[str, Meta(min_length=1, max_length=120, description="What it is called.", examples=["olive oil"])]
        | None
    ) = None
    mass: Annotated[MassAtHand, Meta(description="What is there. Default: none.", examples=["12 kg"])] | None = None
    package_mass: (
        Annotated[PlainMass, Meta(description="What a package holds; whole ones are bought.", examples=["5 kg"])] | None
    ) = None
    unit: (
        Annotated[
            Literal["kg", "g", "lb", "oz", "t", "L", "mL", "gal"],
            Meta(description="What the caller's system counts it in; a volume needs `density`. Default kg."),
        ]
        | None
    ) = None
    density: Annotated[Density, Meta(description="Its own, for a unit of volume.", examples=["0.92 kg/L"])] | None = (
        None
    )
    price: Annotated[Price, Meta(description="What it costs.")] | None = None


class MouldSet(Ruled, kw_only=True):
    """Moulds of one kind, each set of which takes a batch."""

    name: Annotated[str, Meta(min_length=1, max_length=80, description="As recipes call it.", examples=["slab of 40"])]
    count: Annotated[int, Meta(ge=1, le=1000, description="How many sets there are.", examples=[2])]
    days_filled: (
        Annotated[int, Meta(ge=1, le=365, description="Days from pouring to unmoulding; default 1.", examples=[2])]
        | None
    ) = None


class Capacity(Ruled, kw_only=True):
    """What the workshop can do."""

    batches_per_day: (
        Annotated[int, Meta(ge=1, le=1000, description="How many batches fit into a day.", examples=[6])] | None
    ) = None
    mould_sets: (
        Annotated[list[MouldSet], Meta(min_length=1, max_length=200, description="The moulds there are.")] | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (AtLeastOne(("batches_per_day", "mould_sets")),)


class Heating(Ruled, kw_only=True):
    """What warms the fats."""

    power: Annotated[Power, Meta(description="Of the heater.", examples=["1.5 kW"])]
    efficiency: Annotated[Efficiency, Meta(description="Share of it that reaches the fats; default 80 %.")] | None = (
        None
    )
    fats_temperature: Annotated[Temperature, Meta(description="What the fats are warmed to.", examples=["50 °C"])]
    ambient: Annotated[Temperature, Meta(description="What they start from; default 20 °C.")] | None = None


class ProductionPlanRequest(Request, kw_only=True):
    """Orders, and what they are made of, in and with."""

    orders: Annotated[list[OrderLine], Meta(min_length=1, max_length=MOST_LINES, description="The order lines.")]
    recipes: Annotated[
        dict[Sku, PlanRecipe],
        Meta(min_length=1, max_length=MOST_RECIPES, description="What each article is made of, by its SKU."),
    ]
    stocks: (
        Annotated[
            list[PlanStock],
            Meta(
                max_length=MOST_STOCKS,
                description="The stocks at hand, drawn from in this order; an alkali without one is weighed dry.",
            ),
        ]
        | None
    ) = None
    on_hand: (
        Annotated[list[FinishedOnHand], Meta(max_length=MOST_RECIPES, description="Finished bars that are there.")]
        | None
    ) = None
    materials: (
        Annotated[list[PlanMaterial], Meta(max_length=MOST_MATERIALS, description="Materials on the shelf.")] | None
    ) = None
    capacity: Annotated[Capacity, Meta(description="Default: everything fits into one day.")] | None = None
    reserve: (
        Annotated[PlainMass, Meta(description="Stock that stays in each tank above its dead volume; default none.")]
        | None
    ) = None
    first_day: (
        Annotated[Date, Meta(description="The first day of work; without it, days are counted alone.")] | None
    ) = None
    heating: Annotated[Heating, Meta(description="What warms the fats; default: nothing is told of it.")] | None = None
    scale_division: (
        Annotated[PlainMass, Meta(description="Step of the scale, as in batch-sheet. Default: none.", examples=["1 g"])]
        | None
    ) = None
