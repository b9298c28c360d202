"""Vapour pressures and boiling points of caustic solutions: Balej's two equations, Pitzer's, and Gerlach's table."""

import math
from collections.abc import Iterator

from service.chemistry import vapour_pressure as vapour
from service.chemistry import water
from service.chemistry.molar_masses import ALKALI, Alkali
from tests.proof.opinions import pitzer
from tests.proof.opinions.records import (
    NONE,
    Check,
    Excepted,
    Ground,
    Opinion,
    Point,
    Region,
    coefficients,
    rows,
    steps,
)

OURS: dict[Alkali, str] = {
    "NaOH": "Olsson, Jernqvist, Aly, Int. J. Thermophys. 18 (1997) 779-793",
    "KOH": "J. Balej, Int. J. Hydrogen Energy 10 (1985) 233-243, equation of the pressure",
}
BALEJ = "J. Balej, Int. J. Hydrogen Energy 10 (1985) 233-243, equation of the {}; {} to {} mol/kg, 0 to 200 °C"
PITZER = "K. S. Pitzer, G. Mayorga, J. Phys. Chem. 77 (1973) 2300-2308; to {:g} mol/kg, 25 °C"
GERLACH = "G. T. Gerlach, Z. anal. Chem. 26 (1887) 413, as in the Smithsonian Physical Tables, from memory"
TEMPERATURES = (0.0, 20.0, 40.0, 60.0, 100.0, 150.0, 200.0)


def _molality(alkali: Alkali, w: float) -> float:
    return w / (ALKALI[alkali] * (1.0 - w))


def _polynomial(alkali: Alkali, term: str, m: float) -> float:
    return sum(c * m**k for k, c in enumerate(coefficients("balej_1985.csv", salt=alkali, term=term), start=1))


def balej_activity(alkali: Alkali, w: float, t: float) -> float:
    """Activity of water by Balej's equation of the activity [-]."""
    m = _molality(alkali, w)
    return float(10.0 ** (_polynomial(alkali, "C", m) + _polynomial(alkali, "D", m) / (t + 273.15)))


def _balej_pressure_naoh(w: float, t: float) -> float:
    """Pressure over caustic soda by Balej's equation of the pressure [Pa]."""
    m, pure = _molality("NaOH", w), water.saturation_pressure(t) * 1e-5
    return float(1e5 * 10.0 ** _polynomial("NaOH", "A", m) * pure ** (1.0 + _polynomial("NaOH", "B-1", m)))


def _point(alkali: Alkali, w: float, t: float, theirs: float) -> Point:
    ours = vapour.water_vapour_pressure(alkali, w, t)
    return Point(w, t, ours, vapour.water_vapour_pressure_half_width(alkali, w, t), theirs)


def _of_activity(alkali: Alkali, strengths: tuple[float, ...]) -> tuple[Point, ...]:
    return tuple(
        _point(alkali, w, t, balej_activity(alkali, w, t) * water.saturation_pressure(t))
        for t in TEMPERATURES
        for w in strengths
    )


def _of_pitzer(alkali: Alkali) -> tuple[Point, ...]:
    found = []
    for m in steps(0.5, pitzer.highest(alkali), 12):
        w = pitzer.mass_fraction(alkali, m)
        activity = pitzer.log_activity(alkali, m)
        found.append(_point(alkali, w, 25.0, math.exp(activity) * water.saturation_pressure(25.0)))
    return tuple(found)


def _of_gerlach(alkali: Alkali) -> tuple[Point, ...]:
    found = []
    for row in rows("gerlach_boiling.csv", alkali=alkali):
        grams = float(row["grams"])
        w = grams / (100.0 + grams)
        ours, half_width = vapour.boiling_point(alkali, w), vapour.boiling_point_half_width(alkali, w)
        found.append(Point(w, 0.0, ours, half_width, 100.0 + float(row["rise"])))
    return tuple(found)


def opinions() -> Iterator[Opinion]:
    """Of both hydroxides."""
    yield Opinion(
        name="vapour-pressure-naoh-balej",
        quantity="water vapour pressure over caustic soda",
        unit="Pa",
        our_source=OURS["NaOH"],
        their_source=BALEJ.format("pressure", "NaOH", 25),
        shared="measurements that both were fitted to; our interval is made of their disagreement",
        points=tuple(
            _point("NaOH", w, t, _balej_pressure_naoh(w, t))
            for t in TEMPERATURES
            for w in (*steps(0.05, 0.45, 9), 0.4999)
        ),
        explanation="Within 3.5 % to 40 %; at 50 % Balej is 27 % lower at 20 °C and 8 % at 200 °C: his solutions end "
        "there, and a maker's figure (Dow Chemical, 200 Pa at 20 °C) lies on the other side of Olsson.",
        checks=(
            Check(
                "pressure over 30 % NaOH, 60 °C [Pa]",
                _balej_pressure_naoh(0.30, 60.0),
                10019.8,
                Ground.EXPECTED,
                "what his coefficients gave, programmed once more for this project",
            ),
        ),
        coded_here=True,
    )
    yield Opinion(
        name="vapour-pressure-naoh-activity",
        quantity="water vapour pressure over caustic soda",
        unit="Pa",
        our_source=OURS["NaOH"],
        their_source=BALEJ.format("activity", "NaOH", 25),
        shared="measurements that both were fitted to",
        points=_of_activity("NaOH", (*steps(0.05, 0.45, 9), 0.4999)),
        explanation="Within 4 % to 40 %; beyond, lower below 150 °C as his equation of the pressure is.",
        excepted=(
            Excepted(
                (Region((0.49, 0.5), (0.0, 20.0)), Region((0.44, 0.46), (20.0, 60.0))),
                "one slope with temperature for 0 to 200 °C: its heat of dilution from 1 to 25 mol/kg comes to 27.5 "
                "kJ/mol, that of calorimetry and Olsson to 20.2 at 25 °C",
            ),
        ),
        checks=(
            Check(
                "activity over 20 % NaOH, 100 °C, over that of his equation of the pressure",
                balej_activity("NaOH", 0.2, 100.0)
                * water.saturation_pressure(100.0)
                / _balej_pressure_naoh(0.2, 100.0),
                1.0,
                Ground.EXPECTED,
                "the author's two equations, fitted to the same measurements, should agree",
            ),
        ),
        coded_here=True,
    )
    yield Opinion(
        name="vapour-pressure-koh-activity",
        quantity="water vapour pressure over caustic potash",
        unit="Pa",
        our_source=OURS["KOH"],
        their_source=BALEJ.format("activity", "KOH", 18),
        shared="author and measurements: how far one set of data bends with the form of the equation",
        points=_of_activity("KOH", (*steps(0.05, 0.45, 9), 0.495)),
        explanation="Within 2 % to 40 % and 150 °C; 5 % apart at 50 % and 200 °C.",
        checks=(
            Check(
                "activity over 20 % KOH, 100 °C, over that of his equation of the pressure",
                balej_activity("KOH", 0.2, 100.0)
                * water.saturation_pressure(100.0)
                / vapour.water_vapour_pressure("KOH", 0.2, 100.0),
                1.0,
                Ground.EXPECTED,
                "the author's two equations, fitted to the same measurements, should agree",
            ),
        ),
        coded_here=True,
    )
    alkalis: tuple[Alkali, ...] = ("NaOH", "KOH")
    for alkali, explanation in zip(
        alkalis,
        (
            "Ours is 0.4 to 1.2 % higher, most at 4 mol/kg: isopiestic measurements at 25 °C against a fit over 200 K.",
            "Ours is up to 1.2 % lower, most at 4 to 5 mol/kg.",
        ),
        strict=True,
    ):
        yield Opinion(
            name=f"vapour-pressure-{alkali.lower()}-pitzer",
            quantity=f"water vapour pressure over {alkali} at 25 °C",
            unit="Pa",
            our_source=OURS[alkali],
            their_source=PITZER.format(pitzer.highest(alkali)),
            shared="nothing: isopiestic measurements at 25 °C",
            points=_of_pitzer(alkali),
            explanation=explanation,
            checks=pitzer.checks(alkali),
            coded_here=True,
        )
    for alkali, explanation in zip(
        alkalis,
        (
            "Ours is 0.3 K lower at 14 % and 1.0 to 1.6 K higher from 29 to 38 %. Olsson and Balej agree there within "
            "0.3 K, so that their disagreement alone would be a false exactness; a maker's figure (145 °C at 50 %) "
            "lies on Gerlach's side by as much. The interval holds both since.",
            "Within 0.3 K from 4 to 40 %, ours higher at the strong end.",
        ),
        strict=True,
    ):
        yield Opinion(
            name=f"boiling-point-{alkali.lower()}-gerlach",
            quantity=f"boiling point of {alkali} at 1 atm",
            unit="°C",
            our_source=OURS[alkali] + "; solved for the temperature",
            their_source=GERLACH,
            shared="nothing that is known",
            points=_of_gerlach(alkali),
            curves=NONE,
            explanation=explanation,
        )
