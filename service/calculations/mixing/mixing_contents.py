"""What goes into a mixing, from the request to the chemistry: the solid, and the contents of the vessel."""

from typing import Annotated, Final, NamedTuple

from msgspec import Meta

from service.calculations.batch.alkalis import purity_of
from service.calculations.shared.given import PlainMass, Share, Temperature
from service.calculations.shared.messages import Alkali, AlkaliName, MoistureGiven, PurityGiven, Solution
from service.calculations.shared.notes import Notes, at_least, percent
from service.calculations.shared.rules import Ruled
from service.calculations.stock.solutions import SOLUBILITY, SOLUBILITY_REASON, mass_fraction
from service.calculations.stock.volumes import WEIGHED, Amount, by_volume
from service.chemistry import density, enthalpy, vapour_pressure
from service.chemistry import mixing_records as records
from service.chemistry.errors import OutOfRange
from service.chemistry.mixing_records import Charge
from service.chemistry.ranges import ROUNDING
from service.chemistry.uncertainty import Combined, coverage_half_width
from service.chemistry.water import COLDEST_ICE

ICE_DENSITY: Final = 916.7
"""Of ice at 0 °C [kg/m3] (computed: IAPWS R10-06(2009), with the package iapws 1.5.5)."""
HOTTEST_SOLID: Final = 100.0
"""Temperature [°C] of the solid beyond which a slip is likelier than so hot a bag."""
CARBONATE_LIMIT: Final = 0.035
"""Highest share of carbonate in solid KOH [-] (seen-reprint: USP-NF 2018, Potassium Hydroxide)."""


NOTHING: Final = Combined(0.0, 0.0)
"""The spread of what is exact."""


class Solid(Ruled, kw_only=True):
    """The solid alkali, as it is weighed from the bag."""

    alkali: Alkali
    mass_as_supplied: Annotated[PlainMass, Meta(description="What is weighed from the bag.", examples=["10 kg"])]
    temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None
    purity: PurityGiven | None = None
    moisture: MoistureGiven | None = None


class Water(Ruled, kw_only=True):
    """Liquid water in the vessel."""

    mass: Annotated[PlainMass, Meta(description="Its mass.", examples=["10 kg"])]
    temperature: Annotated[Temperature, Meta(description="Default the ambient temperature.")] | None = None


class Ice(Ruled, kw_only=True):
    """Ice in the vessel."""

    mass: Annotated[PlainMass, Meta(description="Its mass, what has melted of it included.", examples=["6 kg"])]
    temperature: (
        Annotated[Temperature, Meta(description="Default 0 °C, the cautious side.", examples=["-18 °C"])] | None
    ) = None
    melted_share: (
        Annotated[Share, Meta(description="The part of it that has melted already; default none.", examples=["20 %"])]
        | None
    ) = None


class GivenSolid(NamedTuple):
    """The solid of a request, as it is and at the ends of what its certificate leaves open."""

    solid: records.Solid
    purity_half_width: float
    """95 % half-width of the purity."""
    hottest: records.Solid
    """The purest and driest it can be: it gives the most heat."""
    coolest: records.Solid
    purity_spread: Combined = NOTHING
    """What makes its half-width."""

    @property
    def alkali(self) -> AlkaliName:
        """Its hydroxide."""
        return self.solid.alkali


class GivenCharge(NamedTuple):
    """What is in the vessel, as it is and with an existing stock at the ends of its strength."""

    charge: Charge
    hottest: Charge
    """With the weakest stock: it takes up hydroxide with the most heat."""
    coolest: Charge
    hydroxide_half_width: float = 0.0
    """95 % half-width of the hydroxide in an existing stock [kg]."""
    existing: Amount | None = None
    """An existing stock, and how well its mass and its strength are known."""


def read_solid(given: Solid, ambient: float, notes: Notes) -> GivenSolid | None:
    """The solid; faults and assumptions go into the notes."""
    t = ambient if given.temperature is None else given.temperature.value
    at = "/solid/temperature" if given.temperature is not None else "/ambient"
    if given.temperature is None:
        notes.assume("/solid/temperature", plain_degrees(ambient), "the ambient temperature")
    if not enthalpy.COLDEST_SOLID <= t <= HOTTEST_SOLID:
        notes.fault(
            at,
            "beyond-data",
            f"solid alkali of {t:.4g} °C is outside {enthalpy.COLDEST_SOLID:g} to {HOTTEST_SOLID:g} °C",
            "check the number and its unit",
        )
    purity, part = purity_of(given.alkali, given.purity, notes, "/solid/purity")
    if purity is None:
        notes.fault(
            "/solid/purity",
            "purity-needed",
            "solid KOH holds about a tenth of water, and that is worth 50 K at 50 %: its purity must be known",
            "give the purity of the certificate, as in '90 %', and moisture where it is stated",
        )
        return None
    purity_spread = Combined(*part)
    half_width = coverage_half_width(purity_spread)
    high, low = min(1.0, purity + half_width), max(0.5, purity - half_width)
    most = _most_moisture(given.alkali, purity)
    if given.moisture is not None:
        moisture = driest = wettest = given.moisture.value
    elif given.alkali == "NaOH":
        moisture = driest = wettest = 0.0
        if purity < 1:
            notes.assume("/solid/moisture", "0 %", "water in the solid takes heat off; without it is the cautious side")
    else:
        moisture, driest, wettest = most, max(0.0, 1 - high - CARBONATE_LIMIT), 1.0
        notes.assume("/solid/moisture", percent(moisture, 3), "what is not KOH in flakes is mainly water")
        notes.caution(
            "moisture-assumed",
            f"Of the flakes {percent(moisture)} are reckoned as bound water; up to 3.5 percentage points of that "
            "may be carbonate, and less water gives more heat: the upper end of the peak counts it.",
        )
    if moisture > most + ROUNDING:
        notes.fault(
            "/solid/moisture",
            "contradiction",
            f"a solid with {percent(purity, 2)} hydroxide holds at most {percent(most, 2)} of water"
            + ("" if most >= 1 - purity else ", one molecule for each hydroxide"),
            "compare purity and moisture with the certificate",
        )
        return None

    def made(pure: float, water: float) -> records.Solid:
        water = min(water, _most_moisture(given.alkali, pure))
        return records.Solid(given.alkali, given.mass_as_supplied.value, t, pure, water)

    return GivenSolid(made(purity, moisture), half_width, made(high, driest), made(low, wettest), purity_spread)


def plain_degrees(t: float) -> str:
    """A temperature as a person writes it: what 32 °F leaves of 0 °C after rounding is nothing, and has no sign."""
    return f"{round(t, 4) + 0.0:.4g} °C"


def _most_moisture(alkali: AlkaliName, purity: float) -> float:
    """Water that a solid can hold: what is not hydroxide, and no more than its monohydrate."""
    return min(1 - purity, enthalpy.BOUND_WATER_LIMIT[alkali] * purity)


class GivenContents(NamedTuple):
    """What a request says is in the vessel."""

    water: Water | None
    ice: Ice | None
    existing_stock: Solution | None


def read_contents(given: GivenContents, alkali: AlkaliName, ambient: float, notes: Notes) -> GivenCharge | None:
    """What is in the vessel before the solid; faults and assumptions go into the notes."""
    water: list[records.Water] = []
    ice: list[records.Ice] = []
    stock: records.Stock | None = None
    existing: Amount | None = None
    if given.water is not None:
        at = "/water/temperature"
        t = ambient if given.water.temperature is None else given.water.temperature.value
        if given.water.temperature is None:
            notes.assume(at, plain_degrees(ambient), "the ambient temperature")
        check_water(t, notes, at)
        water.append(records.Water(given.water.mass.value, t))
    if given.ice is not None:
        at = "/ice/temperature"
        t = 0.0 if given.ice.temperature is None else given.ice.temperature.value
        if given.ice.temperature is None:
            notes.assume(at, "0 °C", "the cautious side: colder ice takes up more heat")
        check_ice(t, notes, at)
        melted = 0.0 if given.ice.melted_share is None else given.ice.melted_share.value
        if given.ice.melted_share is None:
            notes.assume("/ice/melted_share", "0 %", "ice as it comes from the freezer")
        ice.append(records.Ice(given.ice.mass.value, t, melted))
    if given.existing_stock is not None:
        found = _existing(given.existing_stock, alkali, ambient, notes)
        if isinstance(found, records.Water):
            water.append(found)
        elif isinstance(found, records.Ice):
            ice.append(found)
        elif found is not None:
            stock, existing = found
    if notes.faults:
        return None
    spread = 0.0 if existing is None else coverage_half_width(existing.found.spread)
    return within_spread(Charge(all_water(water), all_ice(ice), stock), alkali, spread)._replace(existing=existing)


def within_spread(charge: Charge, alkali: AlkaliName, spread: float) -> GivenCharge:
    """What is in the vessel, with an existing stock at the ends of its strength.

    Args:
        charge: as it is.
        alkali: its hydroxide.
        spread: 95 % half-width of the strength of the stock in it.
    """
    stock = charge.stock
    if stock is None or not spread:
        return GivenCharge(charge, charge, charge)
    weak, strong = max(0.0, stock.mass_fraction - spread), min(SOLUBILITY[alkali], stock.mass_fraction + spread)
    return GivenCharge(
        charge,
        charge._replace(stock=stock._replace(mass_fraction=weak)),
        charge._replace(stock=stock._replace(mass_fraction=strong)),
        stock.mass * spread,
    )


def _existing(
    given: Solution, alkali: AlkaliName, ambient: float, notes: Notes
) -> tuple[records.Stock, Amount] | records.Water | records.Ice | None:
    """What was in the vessel already: stock and how well it is known, or water, or ice."""
    at = "/existing_stock"
    found = mass_fraction(given.strength, given.alkali, notes, f"{at}/strength")
    frozen = given.state == "ice"
    t = (0.0 if frozen else ambient) if given.temperature is None else given.temperature.value
    if given.temperature is None:
        notes.assume(f"{at}/temperature", plain_degrees(t), "ice at 0 °C" if frozen else "the ambient temperature")
    if found is None:
        return None
    w = found.mass_fraction
    if given.state is None and w == 0:
        notes.assume(f"{at}/state", "liquid", "only water may be ice, and is where it is said")
    _check_existing(given, w, t, alkali, notes)
    if notes.faults:
        return None
    try:
        mass = _mass(given, w, t)
        if w > 0:
            enthalpy.enthalpy(alkali, w, t, extended=True)
            volume = WEIGHED if given.volume is None else by_volume(alkali, found, t)
            return records.Stock(mass, w, t), Amount(mass, found, volume)
    except OutOfRange:
        detail = f"no data tell of a stock of {percent(w)} {alkali} at {t:.4g} °C"
        notes.fault(f"{at}/temperature", "beyond-data", detail, "check the temperature of the stock and its unit")
        return None
    return records.Ice(mass, t) if frozen else records.Water(mass, t)


def _check_existing(given: Solution, w: float, t: float, alkali: AlkaliName, notes: Notes) -> None:
    at = "/existing_stock"
    frozen = given.state == "ice"
    if w > 0 and given.alkali != alkali:
        notes.fault(
            f"{at}/alkali",
            "contradiction",
            f"{alkali} goes into a stock of {given.alkali}, and the heat of such mixtures is not known",
            "keep one stock for each alkali",
        )
    if w > 0 and frozen:
        notes.fault(f"{at}/state", "contradiction", "only water is ice", "leave state out, or make the strength 0")
    if w > 0 and t > (boiling := vapour_pressure.boiling_point(given.alkali, w)):
        notes.fault(
            f"{at}/temperature",
            "impossible-temperature",
            f"this stock boils at about {boiling:.0f} °C, and is said to have {t:.4g} °C",
            "check the number and its unit",
        )
    if w == 0 and frozen:
        check_ice(t, notes, f"{at}/temperature")
    elif w == 0:
        check_water(t, notes, f"{at}/temperature")


def _mass(given: Solution, w: float, t: float) -> float:
    """Mass of a solution that is given by mass or by volume [kg]."""
    if given.mass is not None:
        return given.mass.value
    volume = 0.0 if given.volume is None else given.volume.value
    return volume * (ICE_DENSITY if given.state == "ice" else density.density(given.alkali, w, t))


def check_water(t: float, notes: Notes, at: str, frozen: str = "put it under ice, or mend the number") -> None:
    """Refuse water that is ice or steam; what mends the first is said as the request can say it."""
    if t < 0:
        notes.fault(at, "impossible-temperature", f"water of {t:.4g} °C is ice", frozen)
    elif t > 100:
        notes.fault(at, "impossible-temperature", f"water of {t:.4g} °C is steam", "give at most 100 °C")


def check_ice(t: float, notes: Notes, at: str, melted: str = "give 0 °C or less, or melted_share") -> None:
    """Refuse ice that has melted, or is colder than the data; what mends the first as the request can say it."""
    if t > 0:
        notes.fault(at, "impossible-temperature", f"ice of {t:.4g} °C has melted", melted)
    elif t < COLDEST_ICE:
        notes.fault(at, "beyond-data", f"ice of {t:.4g} °C is colder than the data", f"give {COLDEST_ICE:g} °C or more")


def all_water(parts: list[records.Water]) -> records.Water | None:
    """Water of two temperatures as one, by its heat; the capacity of water hardly changes between them."""
    if len(parts) < 2:
        return parts[0] if parts else None
    mass = sum(one.mass for one in parts)
    return records.Water(mass, _mean_temperature([(one.mass, one.temperature) for one in parts]))


def _mean_temperature(parts: list[tuple[float, float]]) -> float:
    """Mean of temperatures [°C] by mass; rounding must not take it beyond them, to where the data end."""
    mean = sum(mass * t for mass, t in parts) / sum(mass for mass, _ in parts)
    temperatures = [t for _, t in parts]
    return min(max(mean, min(temperatures)), max(temperatures))


def all_ice(parts: list[records.Ice]) -> records.Ice | None:
    """Ice of two kinds as one: its temperature is that of what is still frozen."""
    if not parts:
        return None
    if len(parts) == 1 and parts[0].melted_share < 1:
        return parts[0]
    mass = sum(one.mass for one in parts)
    solid = sum(one.mass * (1 - one.melted_share) for one in parts)
    if solid <= 0:
        return records.Ice(mass, 0.0, 1.0)
    t = _mean_temperature([(one.mass * (1 - one.melted_share), one.temperature) for one in parts])
    return records.Ice(mass, t, 1 - solid / mass)


def hydroxide_and_water(solid: records.Solid, contents: Charge) -> tuple[float, float]:
    """Pure hydroxide and water in all, bound water and ice included [kg]."""
    hydroxide = solid.mass_as_supplied * solid.purity
    water = solid.mass_as_supplied * solid.moisture
    for part in (contents.water, contents.ice):
        water += 0.0 if part is None else part.mass
    if contents.stock is not None:
        hydroxide += contents.stock.mass * contents.stock.mass_fraction
        water += contents.stock.mass * (1 - contents.stock.mass_fraction)
    return hydroxide, water


def check_strength(given: GivenSolid, contents: Charge, notes: Notes) -> None:
    """Refuse a mixing that would not dissolve."""
    hydroxide, water = hydroxide_and_water(given.solid, contents)
    w = hydroxide / (hydroxide + water)
    top = SOLUBILITY[given.alkali]
    if w > top + ROUNDING:
        least = hydroxide * (1 - top) / top
        notes.fault(
            "/solid/mass_as_supplied",
            "beyond-solubility",
            f"it would make a {percent(w, 2)} solution: {SOLUBILITY_REASON[given.alkali]}",
            f"use {at_least(least - water)} more water or ice, or less solid",
        )
