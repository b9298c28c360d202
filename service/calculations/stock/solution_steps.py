"""Steps for the properties of a solution: each correlation written out, with its coefficients as inputs.

Expressions use + - * / **, ln, log10, exp, sqrt, erfc, max and min, and the names of their inputs.
"""

from collections.abc import Sequence
from math import log
from typing import Final

from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes
from service.chemistry import density, enthalpy, molar_masses, vapour_pressure, water
from service.reference import tables

Inputs = dict[str, tuple[float, str]]

_HEATS: Final = tables.read("alkali_enthalpy.csv")
_OLSSON: Final = tables.read("olsson_1997.csv")
_BALEJ: Final = tables.read("balej_1985.csv")
_KELL: Final = tables.read("kell_1975.csv")
_LALIBERTE: Final = tables.read("laliberte_2009.csv")
_REGION_4: Final = tables.read("iapws_if97_region4.csv")
_POWERS: Final = ("1", "1.5", "2", "3")
ZERO: Final = 25.0
"""Temperature at which solid hydroxide and water have no enthalpy [°C]."""

HEAT_SOURCE: Final[dict[AlkaliName, str]] = {
    "NaOH": "infinite dilution: Parker, NSRDS-NBS 2, 1965; dilution fitted to Olsson, Jernqvist & Aly 1997 and Pitzer "
    "1991; slope 1.986, distance 1.2: Debye-Hückel",
    "KOH": "infinite dilution: Parker, NSRDS-NBS 2, 1965; dilution fitted to Balej 1985 and Thomsen's heats; slope "
    "1.986, distance 1.2: Debye-Hückel",
}
CAPACITY_SOURCE: Final[dict[AlkaliName, str]] = {
    "NaOH": "fitted to Laliberté 2009, above 40 % to Olsson, Jernqvist & Aly 1997; water: to IAPWS R7-97(2012)",
    "KOH": "fitted to Laliberté 2009; water: to IAPWS R7-97(2012)",
}


def powers(names: Sequence[str], variable: str, first: int = 0) -> str:
    """A polynomial: each name times a rising power of a variable."""
    terms = []
    for power, name in enumerate(names, start=first):
        terms.append(name if power == 0 else f"{name} * {variable}" if power == 1 else f"{name} * {variable}**{power}")
    return " + ".join(terms)


def named(letter: str, figures: Sequence[float], unit: str, first: int = 0) -> Inputs:
    """Coefficients by a letter and their number."""
    return {f"{letter}{place}": (value, unit) for place, value in enumerate(figures, start=first)}


def explain_density(alkali: AlkaliName, w: float, t: float, notes: Notes, name: str = "density") -> None:
    """The density of a solution [kg/L], and of water where it goes in."""
    rho = density.density(alkali, w, t) / 1000
    if alkali == "KOH":
        explain_water_density(t, notes)
        c = _LALIBERTE.select(solute="KOH", property="density")
        notes.step(
            name,
            "1 / ((1 - w) / water + 1000 * w * (w + c2 + c3 * t) / ((c0 * w + c1) * exp((t + c4)**2 / 1000000)))",
            {"w": (w, "1"), "t": (t, "°C"), "water": (water.density(t) / 1000, "kg/L"), **named("c", c, "1")},
            (rho, "kg/L"),
            "Laliberté, J. Chem. Eng. Data 54 (2009) 1725-1760",
        )
        return
    parts = {part: _OLSSON.select(property="density", name=part) for part in ("k", "l", "m")}
    inputs: Inputs = {"w": (w, "1"), "t": (t, "°C")}
    terms = []
    for place, figures in enumerate(zip(*parts.values(), strict=True)):
        inputs |= {f"{part}{place}": (figure, "1") for part, figure in zip(parts, figures, strict=True)}
        terms.append(f"(k{place} + l{place} * t + m{place} * t**2) * sqrt(1 - w)**{place}")
    total = " + ".join(terms)
    if w >= density.DRAWN_TO_WATER_BELOW:
        notes.step(name, f"({total}) / 1000", inputs, (rho, "kg/L"), _olsson("equation of the density"))
        return
    explain_water_density(t, notes)
    plain = sum(k + (m + n * t) * t for k, m, n in zip(*parts.values(), strict=True))
    notes.step(
        name,
        f"({total} + (1 - w / {density.DRAWN_TO_WATER_BELOW})**2 * (water - at_no_strength)) / 1000",
        inputs | {"water": (water.density(t), "kg/m3"), "at_no_strength": (plain, "kg/m3")},
        (rho, "kg/L"),
        _olsson("equation of the density; below 5 % drawn towards that of water (this project)"),
    )


def explain_water_density(t: float, notes: Notes) -> None:
    """The density of water [kg/L]."""
    upper, lower = _KELL.select(part="numerator"), _KELL.select(part="denominator")
    above, below = named("a", upper, "1"), named("b", lower, "1")
    notes.step(
        f"density of water at {t:.4g} °C",
        f"({powers(list(above), 't')}) / ({powers(list(below), 't')}) / 1000",
        {"t": (t, "°C"), **above, **below},
        (water.density(t) / 1000, "kg/L"),
        "Kell, J. Chem. Eng. Data 20 (1975) 97-105",
    )


def explain_boiling_point(alkali: AlkaliName, w: float, notes: Notes) -> float:
    """The boiling point of a solution at 1 atm [°C]."""
    boiling = vapour_pressure.boiling_point(alkali, w)
    if alkali == "KOH":
        _boiling_potash(w, boiling, notes)
        return boiling
    found = []
    for name, part in (("A1", "k"), ("A2", "l"), ("A3", "m")):
        figures = _OLSSON.select(property="pressure", name=part)
        inputs = named("c", figures, "1")
        value = sum(c * log(1 - w) ** place for place, c in enumerate(figures))
        notes.step(
            f"{name} of the vapour pressure",
            powers(list(inputs), "ln(1 - w)"),
            {"w": (w, "1"), **inputs},
            (value, "1"),
            _olsson("ln(p/kPa) = (A1 + A2 t) / (t - A3)"),
        )
        found.append(value)
    a1, a2, a3 = found
    notes.step(
        "boiling point",
        "(A1 + ln(pressure) * A3) / (ln(pressure) - A2)",
        {"A1": (a1, "1"), "A2": (a2, "1"), "A3": (a3, "1"), "pressure": (101.325, "kPa")},
        (boiling, "°C"),
        _olsson("the same, solved for t at 1 atm"),
    )
    return boiling


def _boiling_potash(w: float, boiling: float, notes: Notes) -> None:
    m = w / (molar_masses.KOH * (1 - w))
    source = "Balej, Int. J. Hydrogen Energy 10 (1985) 233-243: log10(p/bar) = A + B log10(p0/bar), p0 of water"
    found = []
    for name, term in (("A", "A"), ("B", "B-1")):
        figures = _BALEJ.select(alkali="KOH", term=term)
        inputs = named("c", figures, "1", 1)
        value = sum(c * m**power for power, c in enumerate(figures, start=1)) + (name == "B")
        expression = powers(list(inputs), "molality", 1)
        notes.step(
            f"{name} of the vapour pressure",
            f"1 + {expression}" if name == "B" else expression,
            {"molality": (m, "mol/kg"), **inputs},
            (value, "1"),
            source,
        )
        found.append(value)
    a, b = found
    p0 = 10 ** ((log(1.01325) / log(10) - a) / b)
    notes.step(
        "vapour pressure of water where the solution boils",
        "10**((log10(pressure) - A) / B)",
        {"pressure": (1.01325, "bar"), "A": (a, "1"), "B": (b, "1")},
        (p0, "bar"),
        source,
    )
    n = _REGION_4.select()
    beta = (p0 / 10) ** 0.25
    e = beta**2 + n[2] * beta + n[5]
    f = n[0] * beta**2 + n[3] * beta + n[6]
    g = n[1] * beta**2 + n[4] * beta + n[7]
    d = 2 * g / (-f - (f * f - 4 * e * g) ** 0.5)
    region = "IAPWS R7-97(2012), region 4, equation 31"
    for name, value, used in (("E", e, (None, 3, 6)), ("F", f, (1, 4, 7)), ("G", g, (2, 5, 8))):
        inputs = {f"n{one}": (n[one - 1], "1") for one in used if one is not None}
        lead = "beta**2" if used[0] is None else f"n{used[0]} * beta**2"
        notes.step(
            f"{name} of the boiling point of water",
            f"{lead} + n{used[1]} * beta + n{used[2]}",
            {"beta": (beta, "1"), **inputs},
            (value, "1"),
            f"{region}; beta = (p0 / 1 MPa)^(1/4)",
        )
    notes.step(
        "D of the boiling point of water",
        "2 * G / (-F - sqrt(F**2 - 4 * E * G))",
        {"E": (e, "1"), "F": (f, "1"), "G": (g, "1")},
        (d, "K"),
        region,
    )
    notes.step(
        "boiling point",
        "(n10 + D - sqrt((n10 + D)**2 - 4 * (n9 + n10 * D))) / 2 - 273.15",
        {"n9": (n[8], "1"), "n10": (n[9], "1"), "D": (d, "K")},
        (boiling, "°C"),
        region,
    )


def explain_heat_of_solution(alkali: AlkaliName, w: float, what: str, notes: Notes) -> float:
    """The heat of dissolving one mass of hydroxide to a strength at 25 °C [J/kg]."""
    figures = _HEATS.select(substance=alkali, part="phi_L")
    inputs = named("p", figures, "kJ/mol", 1)
    value = enthalpy.heat_of_solution(alkali, w)
    notes.step(
        f"heat of solution at 25 °C, {what}",
        "(infinite_dilution + slope / distance * ln(1 + distance * sqrt(w / (molar_mass * (1 - w)))) + "
        f"{powers(list(inputs), 'w', 1)}) / molar_mass",
        {
            "w": (w, "1"),
            "molar_mass": (molar_masses.ALKALI[alkali], "kg/mol"),
            "infinite_dilution": (_HEATS.select(substance=alkali, part="infinite_dilution [kJ/mol]")[0], "kJ/mol"),
            "slope": (_HEATS.select(part="debye_hueckel_slope [kJ kg^0.5 mol^-1.5]")[0], "kJ kg^0.5 mol^-1.5"),
            "distance": (_HEATS.select(part="debye_hueckel_distance [kg^0.5 mol^-0.5]")[0], "kg^0.5 mol^-0.5"),
            **inputs,
        },
        (value / 1000, "kJ/kg"),
        HEAT_SOURCE[alkali],
    )
    return value


def explain_heat_capacity(alkali: AlkaliName, w: float, t: float, what: str, notes: Notes) -> float:
    """The mean heat capacity of a solution between 25 °C and a temperature [J/(kg K)]."""
    found = list(_HEATS.select(substance="water", part="heat_capacity"))
    if w:
        for power in range(3):
            figures = [_HEATS.select(substance=alkali, part=f"heat_capacity w^{e}")[power] for e in _POWERS]
            before = found[power]
            found[power] += sum(a * w ** float(e) for a, e in zip(figures, _POWERS, strict=True))
            notes.step(
                f"heat capacity, c{power}, {what}",
                "water + a1 * w + a2 * w**1.5 + a3 * w**2 + a4 * w**3",
                {"w": (w, "1"), "water": (before, "kJ/(kg K)"), **named("a", figures, "kJ/(kg K)", 1)},
                (found[power], "kJ/(kg K)"),
                f"coefficient of (t/100)^{power}; {CAPACITY_SOURCE[alkali]}",
            )
    inputs = named("c", found, "kJ/(kg K)")
    x, start = t / 100, ZERO / 100
    if abs(t - ZERO) < 1e-6:
        value = sum(c * x**power for power, c in enumerate(found))
        expression = powers(list(inputs), "x")
    else:
        value = sum(c * (x ** (k + 1) - start ** (k + 1)) / (k + 1) for k, c in enumerate(found)) / (x - start)
        terms = [f"c{k} * (x**{k + 1} - 0.25**{k + 1}) / {k + 1}" for k in range(len(found))]
        expression = f"({' + '.join(terms)}) / (x - 0.25)"
    notes.step(
        f"mean heat capacity from 25 °C, {what}",
        expression,
        {"x": (x, "1"), **inputs},
        (value, "kJ/(kg K)"),
        f"x is the temperature in hundreds of °C; {CAPACITY_SOURCE[alkali]}",
    )
    return value * 1000


def _olsson(what: str) -> str:
    return f"Olsson, Jernqvist & Aly, Int. J. Thermophys. 18 (1997) 779-793, {what}"
