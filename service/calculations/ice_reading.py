"""What a mixing with ice is asked for, read: the solid, the vessel, what is in it, the ice, and how much is wanted."""

from typing import Annotated, Final, NamedTuple

from msgspec import Meta

from service.calculations.given import PlainMass, Share, Temperature
from service.calculations.ice_amounts import Amounts, SolidToMix, amounts, fill_mass
from service.calculations.messages import Request, Solution, Strength, Vessel
from service.calculations.mixing_contents import (
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
from service.calculations.notes import Notes
from service.calculations.rules import Ruled
from service.calculations.solutions import ROOM, mass_fraction
from service.calculations.vessels import KnownVessel, find_vessel
from service.chemistry import mixing_records as records
from service.chemistry.ice_needed import COLDEST_LIMIT, HOTTEST_LIMIT

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
    found = mass_fraction(request.strength, asked.alkali, notes, "/strength", lowest=WEAKEST)
    limit = request.peak_limit.value
    if not COLDEST_LIMIT <= limit <= HOTTEST_LIMIT:
        notes.fault(
            "/peak_limit",
            "beyond-data",
            f"a limit of {limit:.4g} °C is outside {COLDEST_LIMIT:g} to {HOTTEST_LIMIT:g} °C",
            "give what the vessel, or whoever mixes, stands",
        )
    water, ice = _water_temperature(request, ambient, notes), _ice(request, notes)
    notes.stop_at_faults()
    if solid is None or existing is None or found is None:
        raise TypeError(solid)  # what is missing is a fault, and faults have stopped us
    return ReadIce(ambient, vessel, solid, existing, found.mass_fraction, limit, water, ice)


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
    best, spread, hottest, coolest = solid
    told = [one._replace(mass_as_supplied=mass) for one in (best, hottest, coolest)]
    return GivenSolid(told[0], spread, told[1], told[2])


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
