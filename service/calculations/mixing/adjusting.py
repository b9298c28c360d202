"""What is added to a stock for a wanted strength: read, and how much of it."""

from math import ceil, floor
from typing import Annotated, ClassVar, Final, Literal, NamedTuple

from msgspec import Meta, field

from service.calculations.mixing.ice_reading import scaled
from service.calculations.mixing.mixing_contents import GivenSolid, Solid, check_water, plain_degrees, read_solid
from service.calculations.mixing.poured import Pour, read_pour, two_alkalis
from service.calculations.shared import units
from service.calculations.shared.given import Duration, PlainMass, Temperature, Volume
from service.calculations.shared.messages import (
    Alkali,
    AlkaliName,
    MoistureGiven,
    PurityGiven,
    Request,
    Solution,
    Strength,
    TemperatureGiven,
    Vessel,
)
from service.calculations.shared.notes import Notes, at_least, at_most, percent
from service.calculations.shared.rules import AtMostOne, Rule, Ruled
from service.calculations.stock.solutions import ROOM, SOLUBILITY, SOLUBILITY_REASON, mass_fraction
from service.calculations.stock.volumes import STANDARD, WEIGHED
from service.chemistry import blending
from service.chemistry.adjustment import added_mass, added_mass_slopes
from service.chemistry.uncertainty import Combined, Part

WEAKEST: Final = 1e-3
"""Mass fraction below which a solution is no stock."""
SAME: Final = 1e-9
"""Difference of two strengths that is rounding."""
TOLD: Final = 1e-4
"""What a strength is rounded to in a message."""
NOTHING: Final = Combined(0.0, 0.0)

What = Literal["water", "ice", "solid", "solution", "nothing"]


class SolidKind(Ruled, kw_only=True):
    """Solid alkali that could be added, as it comes."""

    temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None
    purity: PurityGiven | None = None
    moisture: MoistureGiven | None = None


class SolutionToAdd(Ruled, kw_only=True):
    """Another solution that could be added; water has strength 0."""

    alkali: Alkali
    strength: Annotated[Strength, Meta(description="How much of that hydroxide it holds; 0 for water.")]
    temperature: TemperatureGiven | None = None
    mass: Annotated[PlainMass, Meta(description="How much of it there is; without it, enough.")] | None = None
    volume: (
        Annotated[Volume, Meta(description="How much of it there is, at its temperature; without it, enough.")] | None
    ) = None
    state: Annotated[Literal["liquid", "ice"], Meta(description="`ice` only for water.")] | None = None

    rules: ClassVar[tuple[Rule, ...]] = (AtMostOne(("mass", "volume")),)


class StockAdjustmentRequest(Request, kw_only=True):
    """A stock, and the strength that it is to have."""

    solution: Annotated[Solution, Meta(description="The stock as it is.")]
    target_strength: Annotated[Strength, Meta(description="The strength that it is to have; its spread is not asked.")]
    with_: Annotated[
        Literal["water", "solid"] | SolutionToAdd | None,
        Meta(
            description="What is added: `water`, `solid`, or another solution of the same alkali. Default water "
            "where the stock is too strong, the solid where it is too weak."
        ),
    ] = field(name="with", default=None)
    solid: Annotated[SolidKind, Meta(description="The solid, where it is added.")] | None = None
    water_temperature: (
        Annotated[Temperature, Meta(description="Of the water, where it is added; default the ambient temperature.")]
        | None
    ) = None
    ambient: Annotated[Temperature, Meta(description="Temperature of the air; default 20 °C.")] | None = None
    vessel: Annotated[Vessel, Meta(description="What it is adjusted in.")] | None = None
    duration: (
        Annotated[
            Duration,
            Meta(
                description="How long the addition of solid takes; bounds the heat lost. It does not bear on pouring.",
                examples=["20 min"],
            ),
        ]
        | None
    ) = None


class Adjusting(NamedTuple):
    """A stock, what is added to it, and how much."""

    alkali: AlkaliName
    stock: Pour
    target: float
    """Wanted mass fraction."""
    what: What
    mass: float
    """Of what is added [kg]; the solid as it is weighed."""
    content: float
    """Hydroxide in what is added."""
    content_spread: Combined
    """Of that, without what the densities leave of the strength of a solution."""
    added: Pour | None
    """The liquid or ice that is added."""
    solid: GivenSolid | None
    """The solid that is added."""
    ambient: float

    @property
    def present(self) -> float:
        """Mass fraction of the stock as it is."""
        return self.stock.part.mass_fraction


def added_by(adjusting: Adjusting) -> list[tuple[float, Part | Combined]]:
    """How the mass to add goes with the strength of the stock, with what is added, and with the densities [kg].

    Args:
        adjusting: the stock and what is added; not nothing.
    """
    stock, added = adjusting.stock, adjusting.added
    by_mass, by_present, by_content = added_mass_slopes(
        stock.part.mass, adjusting.present, adjusting.target, adjusting.content
    )
    by_relative_mass = by_mass * stock.part.mass
    own = 0.0 if added is None else added.by_density
    return [
        (by_present + by_relative_mass * stock.volume.by_strength, stock.own),
        (by_content, adjusting.content_spread),
        (
            by_present * stock.by_density + by_relative_mass * stock.volume.by_density + by_content * own,
            STANDARD,
        ),
    ]


class _Kind(NamedTuple):
    what: What
    content: float
    spread: Combined = NOTHING
    pour: Pour | None = None
    solid: GivenSolid | None = None
    available: float | None = None


def read_adjustment(request: StockAdjustmentRequest, notes: Notes) -> Adjusting:
    """Read a request; refused where the target cannot be reached so.

    Args:
        request: the request.
        notes: where faults and assumptions go.
    """
    ambient = ROOM if request.ambient is None else request.ambient.value
    if request.ambient is None:
        notes.assume("/ambient", "20 °C", "a workshop's room")
    alkali = request.solution.alkali
    stock = read_pour(request.solution, notes, "/solution", ambient)
    wanted = mass_fraction(request.target_strength, alkali, notes, "/target_strength", lowest=WEAKEST)
    if stock is not None and stock.part.mass_fraction < WEAKEST:
        notes.fault(
            "/solution/strength",
            "out-of-range",
            "what holds hardly any hydroxide is no stock to adjust",
            "ask stock-mixing for a new stock",
        )
    notes.stop_at_faults()
    if stock is None or wanted is None:
        raise TypeError(stock)  # what is missing is a fault, and faults have stopped us
    target = wanted.mass_fraction
    present = stock.part.mass_fraction
    rise = target - present
    kind = _kind(request, alkali, rise, ambient, notes)
    notes.stop_at_faults()
    if kind is None:
        raise TypeError(kind)
    if abs(rise) <= SAME:
        return Adjusting(alkali, stock, present, "nothing", 0.0, 0.0, NOTHING, None, None, ambient)
    _check_between(request, kind, present, target, notes)
    notes.stop_at_faults()
    mass = added_mass(stock.part.mass, present, target, kind.content)
    _check_mass(kind, stock, target, mass, notes)
    notes.stop_at_faults()
    pour, solid = kind.pour, kind.solid
    if pour is not None:
        pour = pour._replace(part=pour.part._replace(mass=mass), volume=WEIGHED)
    if solid is not None:
        solid = scaled(solid, mass)
    return Adjusting(alkali, stock, target, kind.what, mass, kind.content, kind.spread, pour, solid, ambient)


def _kind(
    request: StockAdjustmentRequest, alkali: AlkaliName, rise: float, ambient: float, notes: Notes
) -> _Kind | None:
    """What is added; its mass is not known yet."""
    asked = request.with_
    if isinstance(asked, SolutionToAdd):
        return _solution(asked, alkali, ambient, notes)
    if asked is None:
        if abs(rise) <= SAME:
            return _Kind("nothing", 0.0)
        asked = "solid" if rise > 0 else "water"
        notes.assume("/with", asked, "the stock is too weak" if asked == "solid" else "the stock is too strong")
    elif asked == "water" and request.solid is not None:
        notes.fault(
            "/solid",
            "contradiction",
            "a solid is described, and it is water that is to be added",
            "leave solid out, or make with solid",
        )
    if asked == "water":
        return _water(request, ambient, notes)
    if request.solid is None and alkali == "KOH":
        notes.fault(
            "/solid",
            "purity-needed",
            "solid KOH holds about a tenth of water, so its purity must be known",
            "give solid with the purity of its certificate, as in '90 %'",
        )
        return None
    given = request.solid or SolidKind()
    solid = read_solid(
        Solid(
            alkali=alkali,
            mass_as_supplied=PlainMass(1.0),
            temperature=given.temperature,
            purity=given.purity,
            moisture=given.moisture,
        ),
        ambient,
        notes,
    )
    if solid is None:
        return None
    half = solid.purity_half_width
    spread = NOTHING if given.purity is None or given.purity.part is None else Combined(*given.purity.part)
    return _Kind("solid", solid.solid.purity, spread if half else NOTHING, solid=solid)


def _water(request: StockAdjustmentRequest, ambient: float, notes: Notes) -> _Kind:
    t = ambient if request.water_temperature is None else request.water_temperature.value
    if request.water_temperature is None:
        notes.assume("/water_temperature", plain_degrees(t), "the ambient temperature")
    place = "/water_temperature" if request.water_temperature is not None else "/ambient"
    check_water(t, notes, place, "give 0 °C or more, or describe ice under with")
    return _Kind("water", 0.0, pour=Pour(blending.Part(1.0, 0.0, t), NOTHING))


def _solution(asked: SolutionToAdd, alkali: AlkaliName, ambient: float, notes: Notes) -> _Kind | None:
    whole = asked.mass is None and asked.volume is None
    given = Solution(
        alkali=asked.alkali,
        mass=PlainMass(1.0) if whole else asked.mass,
        volume=asked.volume,
        strength=asked.strength,
        temperature=asked.temperature,
        state=asked.state,
    )
    pour = read_pour(given, notes, "/with", ambient)
    if pour is None:
        return None
    if pour.hydroxide and asked.alkali != alkali:
        two_alkalis(notes, "/with/alkali")
        return None
    what: What = "ice" if pour.part.ice else "solution" if pour.hydroxide else "water"
    return _Kind(what, pour.part.mass_fraction, pour.own, pour, available=None if whole else pour.part.mass)


def _check_between(request: StockAdjustmentRequest, kind: _Kind, present: float, target: float, notes: Notes) -> None:
    """Refuse a target that does not lie between the stock and what is added."""
    if (target - present) * (kind.content - target) > 0 and abs(kind.content - target) > SAME:
        return
    stronger = target > present
    detail = (
        f"a stock of {percent(present, 4)} does not come to {percent(target, 4)} with what holds "
        f"{percent(kind.content, 4)} hydroxide: the wanted strength must lie between the two"
    )
    if kind.what == "solid" and stronger:
        notes.fault("/solid/purity", "contradiction", detail, "use a purer solid, or a weaker target")
        return
    pointer = "/with/strength" if isinstance(request.with_, SolutionToAdd) else "/with"
    what = "the solid or a solution stronger" if stronger else "water or a solution weaker"
    notes.fault(pointer, "contradiction", detail, f"give {what} than {percent(target, 4)}, or leave with out")


def _told_reachable(present: float, reached: float) -> float | None:
    """A strength that can be reached, rounded for a message to the side that can; None where that leaves nothing."""
    steps = reached / TOLD
    told = TOLD * (floor(steps) if reached > present else ceil(steps))
    return told if (told - present) * (reached - present) > 0 else None


def _check_mass(kind: _Kind, stock: Pour, target: float, mass: float, notes: Notes) -> None:
    """Refuse more than there is, more than there can be, and what would not dissolve."""
    if mass > units.MASS.high:
        notes.fault(
            "/target_strength",
            "contradiction",
            "so near to what is added, the wanted strength takes more than 100 000 t of it",
            "add something farther from the wanted strength",
        )
    elif kind.available is not None and mass > kind.available * (1 + SAME):
        own, present = stock.part.mass, stock.part.mass_fraction
        reached = _told_reachable(present, (own * present + kind.available * kind.content) / (own + kind.available))
        notes.fault(
            "/with",
            "does-not-add-up",
            f"it takes {at_least(mass * (1 - SAME))} of it, and there are {at_most(kind.available)}",
            "add something else too" + (f", or ask for {percent(reached, 2)}, which it reaches" if reached else ""),
        )
    if kind.solid is None:
        return
    solid, alkali = kind.solid.solid, kind.solid.alkali
    inert = mass * (1 - solid.purity - solid.moisture)
    whole = stock.part.mass + mass
    w = target * whole / (whole - inert)
    if w > SOLUBILITY[alkali] + SAME:
        notes.fault(
            "/target_strength",
            "beyond-solubility",
            f"hydroxide and water alone, without what else the solid holds, would be a {percent(w, 2)} solution: "
            f"{SOLUBILITY_REASON[alkali]}",
            "ask for less, or use a purer solid",
        )
