"""What a mixing with ice is asked for, read: the solid, the vessel, what is in it, the ice, and how much is wanted."""

from typing import Annotated, Final, NamedTuple

from msgspec import Meta
from msgspec.structs import replace

from service.calculations.mixing.ice_amounts import Amounts, SolidToMix, amounts, fill_mass
from service.calculations.mixing.mixing_contents import (
    GivenCharge,
    GivenContents,
    GivenSolid,
    Solid,
    check_ice,
    check_water,
    plain_degrees,
    read_contents,
    read_solid,
)
from service.calculations.mixing.vessels import KnownVessel, find_vessel
from service.calculations.shared.given import PlainMass, Share, Temperature
from service.calculations.shared.messages import Request, Solution, Strength, Vessel
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.rules import Ruled
from service.calculations.stock.solutions import ROOM, mass_fraction
from service.chemistry import mixing_records as records
from service.chemistry.ice_needed import COLDEST_LIMIT, HOTTEST_LIMIT
from service.chemistry.ranges import ROUNDING

WEAKEST: Final = 0.01
"""Mass fraction below which a solution is no stock."""


class IceKind(Ruled, kw_only=True):
    """The ice, as it comes."""

    temperature: (
        Annotated[Temperature, Meta(description="Default 0 °C, the cautious side.", examples=["-18 °C"])] | None
    ) = None
    melted_share: (
        Annotated[Share, Meta(description="The part of it that has melted already; default none.", examples=["50 %"])]
        | None
    ) = None
    bag_mass: (
        Annotated[
            PlainMass,
            Meta(
                description="What a bag holds: ice is rounded up to whole bags where the water allows.",
                examples=["2 kg"],
            ),
        ]
        | None
    ) = None


class StockMixingIceRequest(Request, kw_only=True):
    """A stock that is wanted, and how hot its mixing may get.

    How much is wanted is told in one way: by the solid's `mass_as_supplied` or `bags`, by `solution_mass`, or by the
    vessel, which is then filled with room for foam.
    """

    solid: Annotated[SolidToMix, Meta(description="The solid alkali that goes in.")]
    strength: Annotated[Strength, Meta(description="Of the finished stock, taken as exact.")]
    peak_limit: Annotated[
        Temperature, Meta(description="What the upper end of the peak shall not pass.", examples=["60 °C"])
    ]
    solution_mass: (
        Annotated[PlainMass, Meta(description="All that is wanted, what is in the vessel counted.", examples=["20 kg"])]
        | None
    ) = None
    vessel: Annotated[Vessel, Meta(description="What it is mixed in.")] | None = None
    existing_stock: (
        Annotated[Solution, Meta(description="Stock that is in the vessel already, of the same alkali.")] | None
    ) = None
    water_temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None
    ice: Annotated[IceKind, Meta(description="The ice.")] | None = None
    ambient: Annotated[Temperature, Meta(description="Temperature of the air; default 20 °C.")] | None = None


class ReadIce(NamedTuple):
    """The request, read."""

    ambient: float
    vessel: KnownVessel | None
    solid: GivenSolid
    existing: GivenCharge
    w: float
    slope: float
    """How the strength that is wanted changes with the purity of the solid: 0 but where it is told by that solid."""
    limit: float
    water_temperature: float
    ice: records.Ice


def read_request(request: StockMixingIceRequest, notes: Notes) -> ReadIce:
    """The request's parts; faults of all of them stop here.

    Raises:
        Refusal: with every fault found.
    """
    ambient = ROOM if request.ambient is None else request.ambient.value
    if request.ambient is None:
        notes.assume("/ambient", "20 °C", "a workshop's room")
    vessel = None if request.vessel is None else find_vessel(request.vessel, notes)
    asked = request.solid
    unit = Solid(
        alkali=asked.alkali,
        mass_as_supplied=PlainMass(1.0 if asked.mass is None else asked.mass),
        temperature=asked.temperature,
        purity=asked.purity,
        moisture=asked.moisture,
    )
    solid = read_solid(unit, ambient, notes)
    existing: GivenCharge | None = GivenCharge(records.Charge(), records.Charge(), records.Charge())
    if request.existing_stock is not None:
        existing = read_contents(GivenContents(None, None, request.existing_stock), asked.alkali, ambient, notes)
    strength, as_pure = _strength(request, notes)
    found = mass_fraction(strength, asked.alkali, notes, "/strength", lowest=WEAKEST)
    limit = request.peak_limit.value
    if not COLDEST_LIMIT <= limit <= HOTTEST_LIMIT:
        notes.fault(
            "/peak_limit",
            "beyond-data",
            f"a limit of {limit:.4g} °C is outside {COLDEST_LIMIT:g} to {HOTTEST_LIMIT:g} °C",
            "give what the vessel, or whoever mixes, stands",
        )
    if existing is not None:
        told = request.existing_stock is not None and request.existing_stock.temperature is not None
        _check_hot(existing.charge, limit, notes, "/existing_stock/temperature" if told else "/ambient")
    water, ice = _water_temperature(request, ambient, notes), _ice(request, notes)
    notes.stop_at_faults()
    if solid is None or existing is None or found is None:
        raise TypeError(solid)  # what is missing is a fault, and faults have stopped us
    w = found.mass_fraction
    slope = w / solid.solid.purity if as_pure else 0.0
    return ReadIce(ambient, vessel, solid, existing, w, slope, limit, water, ice)


def _strength(request: StockMixingIceRequest, notes: Notes) -> tuple[Strength, bool]:
    """The strength that is wanted, and whether it holds for the purity of the solid that goes in.

    What was mixed of a solid and water without a word on its purity is mixed again, of the solid that there is.
    """
    strength, purity = request.strength, request.solid.purity
    if strength.as_mixed is None or strength.as_mixed.purity is not None or purity is None:
        return strength, False
    at = "/strength/as_mixed/purity"
    notes.assume(at, percent(purity.value, 4), "that of the solid which goes in")
    return replace(strength, as_mixed=replace(strength.as_mixed, purity=purity)), True


def _check_hot(charge: records.Charge, limit: float, notes: Notes, at: str) -> None:
    """Refuse contents that are above the limit before anything goes in.

    Ice would bring them below it in the end, but a vessel that must not pass the limit has passed it; and water or ice
    that meets hot stock is warmed by the heat of dilution where the two meet, which no balance of the whole shows.
    """
    for part in (charge.stock, charge.water):
        if part is not None and part.temperature > limit + ROUNDING:
            notes.fault(
                at,
                "contradiction",
                f"what is in the vessel has {part.temperature:.4g} °C already, above the limit of {limit:.4g} °C",
                "let it cool to the limit first, or give a higher limit if it stands that",
            )


def _water_temperature(request: StockMixingIceRequest, ambient: float, notes: Notes) -> float:
    at = "/water_temperature"
    if request.water_temperature is None:
        notes.assume(at, plain_degrees(ambient), "the ambient temperature")
        t = ambient
    else:
        t = request.water_temperature.value
    check_water(t, notes, at if request.water_temperature is not None else "/ambient")
    return t


def _ice(request: StockMixingIceRequest, notes: Notes) -> records.Ice:
    kind = IceKind() if request.ice is None else request.ice
    t = 0.0 if kind.temperature is None else kind.temperature.value
    if kind.temperature is None:
        notes.assume("/ice/temperature", "0 °C", "the cautious side: colder ice takes up more heat")
    check_ice(t, notes, "/ice/temperature")
    melted = 0.0 if kind.melted_share is None else kind.melted_share.value
    if kind.melted_share is None:
        notes.assume("/ice/melted_share", "0 %", "ice as it comes from the freezer")
    return records.Ice(0.0, t, melted)


def scaled(solid: GivenSolid, mass: float) -> GivenSolid:
    """The same solid, of another mass [kg]."""
    best, hottest, coolest = (
        one._replace(mass_as_supplied=mass) for one in (solid.solid, solid.hottest, solid.coolest)
    )
    return solid._replace(solid=best, hottest=hottest, coolest=coolest)


def read_amounts(request: StockMixingIceRequest, read: ReadIce, hot: float, notes: Notes) -> Amounts:
    """Solid and water, by the one amount that is told.

    Args:
        request: the request.
        read: the same, read.
        hot: how hot it gets in a vessel that is filled [°C].
        notes: where faults go.

    Raises:
        Refusal: none is told, or several, or there is no such mixing.
    """
    told = {
        "/solid": request.solid.mass,
        "/solution_mass": None if request.solution_mass is None else request.solution_mass.value,
    }
    given = [at for at, mass in told.items() if mass is not None]
    if len(given) > 1:
        raise notes.refuse(
            "/solution_mass",
            "contradiction",
            "the solid says how much is wanted already",
            "leave solution_mass out, or the solid's mass or bags",
        )
    if not given:
        whole = None
        if read.vessel is not None:
            whole = fill_mass(read.vessel, request.solid.alkali, read.w, hot)
        if whole is None:
            raise notes.refuse(
                "",
                "contradiction",
                "nothing says how much is wanted",
                "give mass_as_supplied or bags of the solid, solution_mass, or a vessel with its volume to fill",
            )
        told["/solution_mass"] = whole
    found = amounts(read.w, read.solid, (told["/solid"], told["/solution_mass"]), read.existing.charge, notes)
    notes.stop_at_faults()
    if found is None:
        raise TypeError(found)  # what is missing is a fault, and faults have stopped us
    return found


def fills(request: StockMixingIceRequest) -> bool:
    """Whether it is the vessel that says how much is wanted."""
    return request.solid.mass is None and request.solution_mass is None
