"""POST /v1/stock-assay/evaporation: how strong a stock is after water has dried off, or was taken up from the air."""

from typing import Annotated, ClassVar, Final, NamedTuple

from msgspec import UNSET, Meta, UnsetType

from service.calculations.assays.evaporation_notes import caution_change, explain_change
from service.calculations.assays.standing_air import Air, Drying, contradiction, dries_from, read_air
from service.calculations.mixing.stock_mixing import StrengthFigure
from service.calculations.registry import Calculation, Example, Link
from service.calculations.shared.given import Duration, Length, Mass, MassChange, Share, Temperature
from service.calculations.shared.messages import AlkaliName, Answer, Request, Solution
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import ExactlyOne, Rule, Ruled
from service.calculations.shared.told import (
    FractionFigure,
    MassChangeFigure,
    MassFigure,
    RatioFigure,
    TemperatureFigure,
)
from service.calculations.stock.draw_factor import draw_factor
from service.calculations.stock.solutions import ROOM, SOLUBILITY, SOLUBILITY_REASON, mass_fraction
from service.calculations.stock.stock_age import Age
from service.calculations.stock.stocks import known_stock
from service.calculations.stock.volumes import WEIGHED, Amount, by_volume
from service.chemistry import density, heat_loss, highest_loss, vapour_pressure
from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import ROUNDING
from service.chemistry.uncertainty import Combined, Part, combine, coverage_half_width

MOST_DRAWS: Final = 1000
"""Draws a request may list."""
WEAKEST: Final = 0.01
"""Mass fraction below which a solution is no stock."""


class OpenMixing(Ruled, kw_only=True):
    """A mixing in an open vessel, hot enough to steam."""

    diameter: Annotated[Length, Meta(description="Of the open surface.")]
    duration: Annotated[Duration, Meta(description="How long it stands open and hot.", examples=["30 min"])]
    temperature: Annotated[Temperature, Meta(description="How hot it is meanwhile, at most.", examples=["80 °C"])]


class StockAssayEvaporationRequest(Request, kw_only=True):
    """A stock as it was filled, what was drawn, and what there is now."""

    solution: Annotated[Solution, Meta(description="As it was filled.")]
    drawn_masses: (
        Annotated[list[Mass], Meta(max_length=MOST_DRAWS, description="What was drawn since, draw by draw.")] | None
    ) = None
    mass_now: Annotated[Mass, Meta(description="What is left now, without its vessel.")] | None = None
    mass_change: (
        Annotated[
            MassChange,
            Meta(description="How it changed beside the draws; negative where it got lighter.", examples=["-90 g"]),
        ]
        | None
    ) = None
    ambient: (
        Annotated[
            Temperature, Meta(description="Of the air, for `relative_humidity` and `open_mixing`; default 20 °C.")
        ]
        | None
    ) = None
    relative_humidity: (
        Annotated[Share, Meta(description="Of the air: tells from where on the stock dries.", examples=["50 %"])] | None
    ) = None
    open_mixing: (
        Annotated[OpenMixing, Meta(description="A hot mixing in an open vessel, for what may dry off there.")] | None
    ) = None
    age: Age | None = None

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("mass_now", "mass_change")),)


class StockAssayEvaporationAnswer(Answer):
    """How strong the stock is now, and what brings it back."""

    strength: Annotated[
        StrengthFigure,
        Meta(
            description="Now. The value takes the draws as made at the strength it was filled with; the interval spans "
            "that all the change came before the first draw: bounds."
        ),
    ]
    water_change: Annotated[MassChangeFigure, Meta(description="Water lost (negative), or taken up from the air.")]
    water_to_add: Annotated[
        MassFigure,
        Meta(
            description="Water that brings it back to the strength it was filled with; 0 where it is weaker. "
            "The interval spans that the water went before the first draw or after the last: bounds."
        ),
    ]
    draw_factor: Annotated[
        RatioFigure,
        Meta(description="Mass of this stock that holds a mass of pure hydroxide; its ends are bounds too."),
    ]
    mass: Annotated[MassFigure, Meta(description="What is left now.")]
    loses_water_from: (
        Annotated[
            TemperatureFigure,
            Meta(
                description="Stock cooler than this takes water up from that air, warmer stock dries; left out without "
                "`relative_humidity`, and where it is beyond 0 to 100 °C."
            ),
        ]
        | UnsetType
    ) = UNSET
    mixing_loss: (
        Annotated[
            MassFigure,
            Meta(
                description="Water that dries off in the open mixing: from nothing to the most there can be without "
                "a fan, with half of that as value: an order of magnitude."
            ),
        ]
        | UnsetType
    ) = UNSET


class _Filled(NamedTuple):
    """The stock as it was filled."""

    amount: Amount

    @property
    def mass(self) -> float:
        """Kg."""
        return self.amount.mass

    @property
    def w(self) -> float:
        """Mass fraction of hydroxide."""
        return self.amount.found.mass_fraction


def calculate(request: StockAssayEvaporationRequest, notes: Notes) -> StockAssayEvaporationAnswer:
    """How strong a stock is after water has dried off, or was taken up."""
    filled = _filled(request.solution, notes)
    draws = request.drawn_masses or []
    drawn = sum(one.value for one in draws)
    left = filled.mass - drawn
    if left <= 0:
        raise notes.refuse(
            "/drawn_masses",
            "contradiction",
            f"{weight(drawn)} were drawn of {weight(filled.mass)}, and nothing can be left",
            "compare the draws with what was filled in",
        )
    now = _now(request, left)
    change = now - left
    w, early = _strengths(request, filled, left, now, notes)
    if draws and change:
        notes.assume(
            "/drawn_masses",
            "drawn before the water went or came",
            "when it happened is not known; the interval spans that it happened before the first draw",
        )
    strength, changed = _spreads(request, filled, left, now)
    own, top = coverage_half_width(strength), SOLUBILITY[request.solution.alkali]
    low, high = max(0.0, min(w, early) - own), max(w, min(top, max(w, early) + own))
    half = coverage_half_width(changed)
    back = [max(0.0, now * (end / filled.w - 1)) if change < 0 else 0.0 for end in (w, early)]
    low_back, high_back = max(0.0, min(back) - half), max(back) + half
    air = read_air(request.ambient, request.relative_humidity, notes)
    loss = _mixing_loss(request, filled, air.temperature, notes)
    contradicted = None
    if abs(change) > half:
        hot = request.solution.temperature
        dried = Drying(0.0 if loss is None else loss[1], None if hot is None else hot.value)
        contradicted = contradiction(request.solution.alkali, (filled.w, w), change, air, dried)
    caution_change(request.solution.alkali, (filled.w, w), change, request.age, notes, contradicted=contradicted)
    crystals = known_stock(request.solution.alkali, w, air.temperature).crystals
    if crystals is not None:
        notes.tell(crystals)
    if notes.explain:
        explain_change((filled.mass, drawn, now), (filled.w, w, early), notes)
    told = FractionFigure.spanning((w, low, high))
    return StockAssayEvaporationAnswer(
        strength=StrengthFigure(mass_fraction=told),
        water_change=MassChangeFigure.around(change, half),
        water_to_add=MassFigure.spanning((back[0], low_back, high_back)),
        draw_factor=draw_factor(told),
        mass=MassFigure(now),
        loses_water_from=_told_from(request.solution.alkali, w, own, air),
        mixing_loss=UNSET if loss is None else MassFigure(loss[0], 0.0, loss[1]),
    )


def _filled(given: Solution, notes: Notes) -> _Filled:
    """The stock as it was filled.

    Raises:
        Refusal: with every fault of it.
    """
    found = mass_fraction(given.strength, given.alkali, notes, "/solution/strength", lowest=WEAKEST)
    if given.state == "ice":
        notes.fault("/solution/state", "contradiction", "ice is no stock", "leave state out")
    t = ROOM if given.temperature is None else given.temperature.value
    mass, volume = 0.0 if given.mass is None else given.mass.value, WEIGHED
    if found is not None and given.volume is not None:
        if given.temperature is None:
            notes.assume("/solution/temperature", "20 °C", "a workshop's room")
        try:
            mass = given.volume.value * density.density(given.alkali, found.mass_fraction, t)
            volume = by_volume(given.alkali, found, t)
        except OutOfRange:
            notes.fault(
                "/solution/temperature",
                "beyond-data",
                f"the density at {t:.4g} °C is not known, so its volume says no mass",
                "weigh it and give its mass",
            )
    notes.stop_at_faults()
    if found is None:
        raise TypeError(found)  # a missing strength is a fault, and faults have stopped us
    return _Filled(Amount(mass, found, volume))


def _now(request: StockAssayEvaporationRequest, left: float) -> float:
    """Mass of what there is now [kg]."""
    if request.mass_now is not None:
        return request.mass_now.value
    return left + (0.0 if request.mass_change is None else request.mass_change.value)


def _strengths(
    request: StockAssayEvaporationRequest, filled: _Filled, left: float, now: float, notes: Notes
) -> tuple[float, float]:
    """Strength if all the change came after the last draw, and before the first.

    Raises:
        Refusal: such a change is not one of water.
    """
    at = "/mass_now" if request.mass_now is not None else "/mass_change"
    alkali, change = request.solution.alkali, now - left
    if now <= 0 or filled.w * left / now > SOLUBILITY[alkali] + ROUNDING:
        raise notes.refuse(
            at,
            "beyond-solubility",
            f"if {weight(-change)} of water were gone, it would be stronger than {alkali} dissolves: "
            f"{SOLUBILITY_REASON[alkali]}",
            "check for stock that was spilled, leaked or drawn unrecorded, and for crystals on the bottom",
        )
    if change > left:
        raise notes.refuse(
            at,
            "contradiction",
            f"it would have taken up {weight(change)} of water, more than all the stock there was: a slip of weighing "
            "or an addition is likelier than the air",
            "check the weighing and its tare, and whether stock or water was added since",
        )
    return filled.w * (left / now), filled.w * (filled.mass / (filled.mass + change))


def _spreads(
    request: StockAssayEvaporationRequest, filled: _Filled, left: float, now: float
) -> tuple[Combined, Combined]:
    """Spread of the strength now, and of the change of the water [kg]."""
    w = filled.w * left / now
    parts: list[tuple[float, Part | Combined]] = []
    changes: list[tuple[float, Part | Combined]] = []
    if request.mass_now is not None:
        of_left = filled.w / now
        changes += [(1.0, part_of(request.mass_now)), *filled.amount.contributions(0.0, -1.0)]
        parts.append((-w / now, part_of(request.mass_now)))
        changes += [(1.0, part_of(one)) for one in request.drawn_masses or ()]
    else:
        # What was drawn cancels from a change that was weighed for itself, but for the share it leaves.
        of_left = filled.w * (now - left) / now**2
        if request.mass_change is not None:
            changes.append((1.0, part_of(request.mass_change)))
            parts.append((-w / now, part_of(request.mass_change)))
    parts += filled.amount.contributions(left / now, of_left)
    parts += [(-of_left, part_of(one)) for one in request.drawn_masses or ()]
    return combine(parts), combine(changes)


def _told_from(alkali: AlkaliName, w: float, half_width: float, air: Air) -> TemperatureFigure | UnsetType:
    """From where on it loses water to that air."""
    found = dries_from(alkali, w, air, half_width)
    return UNSET if found is None else TemperatureFigure(*found)


def _mixing_loss(
    request: StockAssayEvaporationRequest, filled: _Filled, ambient: float, notes: Notes
) -> tuple[float, float] | None:
    """Half of what dries off at most, and that most, into dry air of this temperature [°C]; no more than there is."""
    hot, w = request.open_mixing, filled.w
    if hot is None:
        return None
    if request.ambient is None and request.relative_humidity is None:
        notes.assume("/ambient", "20 °C", "a workshop's room")
    t, boiling = hot.temperature.value, vapour_pressure.boiling_point(request.solution.alkali, w)
    if not 0 <= t <= boiling:
        raise notes.refuse(
            "/open_mixing/temperature",
            "impossible-temperature",
            f"a {percent(w)} stock of {t:.4g} °C is frozen or boils (from about {boiling:.0f} °C)",
            "check the number and its unit",
        )
    pressure = vapour_pressure.water_vapour_pressure(request.solution.alkali, w, t)
    surface = heat_loss.disc_area(hot.diameter.value)
    level = filled.mass / highest_loss.DENSEST / surface
    rate = highest_loss.highest_evaporation_rate(surface, level, t, ambient, pressure)
    most = min(rate * hot.duration.value, filled.mass * (1 - w))
    return most / 2, most


CALCULATION: Final = Calculation(
    name="stock-assay/evaporation",
    summary="Strength of a stock after water dried off or was taken up",
    description=(
        "For a jug that has stood: from what was filled in, what was drawn and what is left, the water that went or "
        "came, the strength now, and the water that brings it back. A strong cool stock takes water up from damp air; "
        "only a warm one loses it: with the air's humidity it is told from which temperature on.\n\n"
        "All the change is taken to be water, so what was spilled or drawn unrecorded looks like drying. Range: NaOH "
        "to 52 %, KOH to 50 %. Not for carbonate: a titration tells it.\n\n"
        "Sources: conservation of mass; vapour pressures as in `concentration`; the bound of an open mixing is twice "
        "what free convection of still air carries off by the relation of heat and mass transfer (Churchill & Chu "
        "1975; Lewis 1922, from memory), and dry air takes, with Stefan's flow."
    ),
    request=StockAssayEvaporationRequest,
    answer=StockAssayEvaporationAnswer,
    calculate=calculate,
    examples=(
        Example(
            "drum-after-a-month",
            "A drum that lost water between its draws, in a dry room (invented)",
            {
                "reference": "invented drum 6",
                "solution": {
                    "alkali": "NaOH",
                    "mass": "60 kg",
                    "strength": {"mass_fraction": "48 %", "uncertainty": "0.2 %"},
                },
                "drawn_masses": ["4.2 kg", "3.9 kg", "11 kg"],
                "mass_now": "39.7 kg",
                "relative_humidity": "40 %",
                "age": "35 d",
            },
        ),
        Example(
            "open-jug-in-damp-air",
            "A jug of potash left open, which got heavier, and what its mixing may have lost (invented)",
            {
                "solution": {"alkali": "KOH", "volume": "1 gal", "strength": {"mass_fraction": "45 %"}},
                "mass_change": "3 oz",
                "open_mixing": {"diameter": "8 in", "duration": "20 min", "temperature": "170 °F"},
            },
        ),
        Example(
            "handbook-dew-point",
            "From where on hardly more than water dries into air of 20 °C and 50 % humidity",
            {
                "solution": {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": "1 %"}},
                "mass_change": "0 g",
                "relative_humidity": "50 %",
                "ambient": "20 °C",
            },
            "Published: half of the saturation pressure of water at 20 °C, 2.339 kPa, is that of water at the dew "
            "point, 9.3 °C (steam tables, IAPWS R7-97; from memory); 1 % of NaOH raises it by less than 0.2 K.",
        ),
        Example(
            "published-vapour-pressure",
            "Air of 20 °C that is as damp as the vapour over 50 % NaOH: 200 of 2339 Pa",
            {
                "solution": {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": "50 %"}},
                "mass_change": "0 g",
                "relative_humidity": 0.0855,
                "ambient": "20 °C",
            },
            "Published: 200 Pa over 50 % NaOH at 20 °C (Dow Chemical, caustic soda product page), so that "
            "it loses no water to this air and takes none up; compared as loses_water_from.",
        ),
    ),
    links=(
        Link(
            "draw-from-the-stock",
            "liquid-split",
            "How much of this stock holds 100 g of pure hydroxide.",
            {
                "alkalis": [{"alkali": "$request.body#/solution/alkali", "mass": "100 g"}],
                "stocks": [{"alkali": "$request.body#/solution/alkali", "strength": "$response.body#/strength"}],
            },
        ),
    ),
)
