"""Water, ice and steam."""

from collections.abc import Iterator
from typing import Final

from service.chemistry import water
from tests.proof.report.models.works import HALF_DIGIT, IF97
from tests.proof.report.plot import Panel
from tests.proof.report.records import Evidence, Model, Point, Source
from tests.proof.report.sampling import marked, sampled, spread
from tests.reference_cases.outside import if97
from tests.reference_cases.water_validation import (
    FUSION,
    ICE,
    LIQUID,
    STEAM,
    UNDER_PRESSURE,
    check_values,
    iapws_ice_enthalpy,
)

RELEASE: Final = IF97._replace(
    label="IAPWS R7-97, tables 35 and 36",
    where="tables 35 and 36, the release's own check values of region 4",
    tolerance=HALF_DIGIT,
    note="",
    is_same_formula=True,
)
HEAT: Final = IF97._replace(
    label="IAPWS-IF97, heat (program)",
    note=f"{IF97.note}; the model was fitted to it",
    is_made_of=True,
)
ICE_IH: Final = IF97._replace(
    label="IAPWS R10 (program)",
    title="R10-06(2009), ice Ih, with IAPWS-95 for the liquid",
    year="2009",
    where="enthalpy of ice, heat of fusion",
    tolerance="0.05 kJ/kg, which the model claims",
    note=f"{IF97.note}; the model was fitted to it",
    is_made_of=True,
)
VISCOSITY: Final = IF97._replace(
    label="IAPWS 2008 (program)",
    title="R12-08, viscosity",
    year="2008",
    where="liquid water at 1 atm",
    tolerance="1 %, which the model claims",
)
STEAM_TABLE: Final = Source(
    "handbook, evaporation",
    "common handbooks",
    "heat of evaporation at 100 °C",
    "undated",
    "",
    Evidence.MEMORY,
    HALF_DIGIT,
)


def _liquid() -> Iterator[Point]:
    for t in LIQUID:
        theirs = if97(t)
        yield Point(IF97, f"density, {t:g} °C", t, water.density(t), theirs["rho"], 1e-4 * theirs["rho"], "kg/m3")
        cp = theirs["cp"] / 1e3
        yield Point(HEAT, f"heat capacity, {t:g} °C", t, water.heat_capacity(t) / 1e3, cp, 4e-4 * cp, "kJ/(kg K)")
        h = (theirs["h"] - if97(25.0)["h"]) / 1e3
        yield Point(HEAT, f"enthalpy, {t:g} °C", t, water.enthalpy(t) / 1e3, h, 0.03, "kJ/kg")
        mu = 1e3 * theirs["mu"]
        yield Point(VISCOSITY, f"viscosity, {t:g} °C", t, 1e3 * water.viscosity(t), mu, 0.01 * mu, "mPa s")
    for t in UNDER_PRESSURE:
        theirs = if97(t, 0.5)
        what = f"{t:g} °C, 0.5 MPa"
        yield Point(IF97, f"density, {what}", t, water.density(t), theirs["rho"], 5e-4 * theirs["rho"], "kg/m3")
        cp = theirs["cp"] / 1e3
        yield Point(HEAT, f"heat capacity, {what}", t, water.heat_capacity(t) / 1e3, cp, 4e-4 * cp, "kJ/(kg K)")


def _others() -> Iterator[Point]:
    for t in STEAM:
        theirs = (if97(t)["h"] - if97(25.0)["h"]) / 1e3
        yield Point(HEAT, f"enthalpy of steam, {t:g} °C", t, water.steam_enthalpy(t) / 1e3, theirs, 0.1, "kJ/kg")
    for t in ICE:
        theirs = iapws_ice_enthalpy(t) / 1e3
        yield Point(ICE_IH, f"enthalpy of ice, {t:g} °C", t, water.ice_enthalpy(t) / 1e3, theirs, 0.05, "kJ/kg")
    fusion = (water.enthalpy(0.0) - water.ice_enthalpy(0.0)) / 1e3
    yield Point(ICE_IH, "heat of fusion", 0.0, fusion, FUSION / 1e3, 0.05, "kJ/kg")
    evaporation = (water.steam_enthalpy(100.0) - water.enthalpy(100.0)) / 1e3
    yield Point(STEAM_TABLE, "heat of evaporation", 100.0, evaporation, 2256.5, 0.05, "kJ/kg")
    for kelvin, printed in check_values(35):
        t = kelvin - 273.15
        ours = water.saturation_pressure(t) / 1e6
        yield Point(RELEASE, f"saturation, {kelvin:g} K", t, ours, printed, _half_digit(printed), "MPa")
    for pressure, printed in check_values(36):
        ours = water.saturation_temperature(1e6 * pressure) + 273.15
        yield Point(RELEASE, f"saturation, {pressure:g} MPa", printed - 273.15, ours, printed, 5e-7, "K")


def _half_digit(printed: float) -> float:
    """Of a figure printed with nine digits as 0.ddddddddd and a power of ten."""
    power = len(str(int(printed))) if printed >= 1 else -2
    return 0.5 * 10.0 ** (power - 9)


def _off_under_pressure(points: list[Point]) -> float:
    """Largest deviation of the density from that under pressure [%]."""
    some = [point for point in points if point.what.startswith("density") and point.what.endswith("MPa")]
    return max(100 * abs(point.deviation) / point.published for point in some)


def model() -> Model:
    """All of it."""
    points = [*_liquid(), *_others()]
    warmth = spread(0.0, 150.0)

    def shown(first: str) -> list[Point]:
        return [p for p in points if p.what.startswith(first)]

    capacity = sampled(
        "ours", warmth, lambda t: water.heat_capacity(t) / 1e3, lambda t: 4e-4 * water.heat_capacity(t) / 1e3
    )
    density = sampled("ours", warmth, water.density, lambda t: 1e-4 * water.density(t))
    thickness = sampled(
        "ours", spread(0.0, 100.0), lambda t: 1e3 * water.viscosity(t), lambda t: 10.0 * water.viscosity(t)
    )
    celsius = "temperature, °C"
    return Model(
        "water",
        "Water, ice and steam",
        "service/chemistry/water.py: Kell 1975, polynomials fitted to IAPWS-IF97, IAPWS region 4",
        "liquid 0 to 150 °C, ice -30 to 0 °C, steam 99.9 to 200 °C",
        "0.01 % of the density (0.05 % above 100 °C), 0.04 % of the heat capacity, 1 % of the viscosity; enthalpies "
        "0.03 kJ/kg of the liquid, 0.05 of ice, 0.1 of steam",
        f"Above 100 °C the density is taken as if at 1 atm, {_off_under_pressure(points):.2f} % off at the pressure "
        "that keeps it liquid.",
        celsius,
        points,
        [
            Panel(celsius, "density, kg/m3", [density], marked(shown("density")), height=150.0),
            Panel(celsius, "heat capacity, kJ/(kg K)", [capacity], marked(shown("heat capacity")), height=150.0),
            Panel(celsius, "viscosity, mPa s", [thickness], marked(shown("viscosity")), height=150.0),
        ],
    )
