"""Headline figures of caustic solutions beside the figures they are published with.

`validation_rows` serves the table of deviations; `cases` adds the tolerance. It is the 95 % half width that the
service itself states for the figure, or what the source says about itself; never what makes the case pass.
`known_disagreements` lists published figures outside that interval, which the service does not follow.
"""

from collections.abc import Iterator
from functools import cache
from typing import Final, cast

from service.chemistry import density, enthalpy, freezing, mixing, strength, vapour_pressure, viscosity, water
from service.chemistry.molar_masses import ALKALI, WATER, Alkali
from tests.reference_cases import outside
from tests.reference_cases.caustic_published import parker
from tests.reference_cases.outside import read_table
from tests.reference_cases.rows import ValidationRow

CRC = "CRC Handbook of Chemistry and Physics, 102nd ed. (2021), Concentrative Properties of Aqueous Solutions"
ICT = "International Critical Tables 3 (1928) 79, as printed in Perry's handbook, from memory"
PERRY_KOH = "Perry's Chemical Engineers' Handbook, KOH at 15 °C, from memory"
DOW = "Dow Chemical, caustic soda product page"
PARKER = "V. B. Parker, NSRDS-NBS 2 (1965)"
PICKERING = "S. U. Pickering, J. Chem. Soc. 63 (1893) 890-909, as summarised in an encyclopedia"
FELDER = "Felder & Rousseau, Elementary Principles of Chemical Processes, table B.11, from memory"
THOMSEN = "J. Thomsen, Thermochemische Untersuchungen, from memory"
SILVESTER = "Silvester & Pitzer, in Pitzer (ed.), Activity Coefficients in Electrolyte Solutions, 1991, ch. 3, table 12"
SIMMONS = "W. H. Simmons, H. A. Appleton, The Handbook of Soap Manufacture, London 1908, Appendix C"
SOVIET = "Great Soviet Encyclopedia, solubility of potassium hydroxide, 97 g per 100 g water"
PRACTICE = "common practice, no source"


# (quantity, ours, reference, unit, source, tolerance)
_Case = tuple[str, float, float, str, str, float]


def from_water_per_hydroxide(alkali: Alkali, n: float) -> float:
    """Mass fraction at n mol water per mol hydroxide."""
    return ALKALI[alkali] / (ALKALI[alkali] + n * WATER)


def heat_of_dilution(alkali: Alkali, w: float) -> float:
    """Relative apparent molar enthalpy [kJ/mol]."""
    return 1e-3 * ALKALI[alkali] * (enthalpy.heat_of_solution(alkali, w) - enthalpy.heat_of_solution(alkali, 0.0))


def heat_of_dilution_half_width(alkali: Alkali, w: float) -> float:
    """What the service states for it [kJ/mol]: its half width at 25 °C, per mol of hydroxide."""
    return 1e-3 * ALKALI[alkali] * enthalpy.enthalpy_half_width(alkali, w, 25.0) / w


def heats_of_dilution(source: str) -> Iterator[tuple[Alkali, float, float]]:
    """(alkali, mass fraction, kJ/mol) as published."""
    for row in read_table("caustic_heats_of_dilution.csv"):
        if row["source"] == source:
            alkali = cast("Alkali", row["alkali"])
            yield alkali, from_water_per_hydroxide(alkali, float(row["water_per_hydroxide"])), float(row["value"])


def densities(source: str) -> Iterator[tuple[Alkali, float, float, float]]:
    """(alkali, mass fraction, temperature, kg/m3) as published."""
    for row in read_table("caustic_densities.csv"):
        if row["source"] == source:
            alkali = cast("Alkali", row["solute"])
            yield alkali, float(row["mass_percent"]) / 100, float(row["temperature"]), 1e3 * float(row["density"])


def _density_cases() -> Iterator[_Case]:
    for percent, printed in ((10, 1.1089), (20, 1.2192), (30, 1.3277), (40, 1.4299)):
        w = percent / 100
        half = density.density_half_width("NaOH", w, 20.0)
        yield f"density, NaOH {percent} %, 20 °C", density.density("NaOH", w, 20.0), 1e3 * printed, "kg/m3", CRC, half
    for t, printed in ((0.0, 1.5400), (15.0, 1.5290), (20.0, 1.5253), (60.0, 1.4967), (100.0, 1.4690)):
        half = density.density_half_width("NaOH", 0.5, t)
        yield f"density, NaOH 50 %, {t:g} °C", density.density("NaOH", 0.5, t), 1e3 * printed, "kg/m3", ICT, half
    for percent, printed in ((30, 1.2905), (50, 1.5143)):
        w = percent / 100
        half = density.density_half_width("KOH", w, 15.0)
        ours = density.density("KOH", w, 15.0)
        yield f"density, KOH {percent} %, 15 °C", ours, 1e3 * printed, "kg/m3", PERRY_KOH, half


def _boiling_and_freezing_cases() -> Iterator[_Case]:
    half = vapour_pressure.boiling_point_half_width("NaOH", 0.5)
    yield "boiling point, NaOH 50 %, 1 atm", vapour_pressure.boiling_point("NaOH", 0.5), 145.0, "°C", DOW, half
    half = vapour_pressure.water_vapour_pressure_half_width("NaOH", 0.5, 20.0)
    ours = vapour_pressure.water_vapour_pressure("NaOH", 0.5, 20.0)
    yield "vapour pressure, NaOH 50 %, 20 °C", ours, 200.0, "Pa", DOW, half
    # Pickering's points and the solubility are points of the interpolation: these rows hold that it goes through them.
    for w, t in ((0.188, -28.0), (0.388, 15.38), (0.457, 5.0)):
        yield (
            f"first solid, NaOH {100 * w:.3g} %",
            freezing.first_solid("NaOH", w).temperature,
            t,
            "°C",
            PICKERING,
            0.05,
        )
    first = freezing.first_solid("NaOH", 0.5)
    yield "first solid, NaOH 50 %", first.temperature, 14.0, "°C", DOW + ", approximate", first.high - first.temperature
    yield "first solid, KOH 49.2 %", freezing.first_solid("KOH", 0.492).temperature, 0.0, "°C", SOVIET, 0.05


def _heat_cases() -> Iterator[_Case]:
    for alkali in ("NaOH", "KOH"):
        limit = 1e-3 * ALKALI[alkali] * enthalpy.heat_of_solution(alkali, 1e-12)
        yield f"heat of solution at infinite dilution, {alkali}", limit, parker(alkali), "kJ/mol", PARKER, 0.005
    for label, alkali, n, printed, source in (
        ("NaOH in 50 H2O", "NaOH", 50.0, 0.315, SILVESTER),
        ("NaOH in 5 H2O", "NaOH", 5.0, 5.15, FELDER),
        ("NaOH in 3 H2O", "NaOH", 3.0, 14.01, THOMSEN),
        ("KOH in 5 H2O", "KOH", 5.0, 6.75, THOMSEN),
        ("KOH in 9 H2O", "KOH", 9.0, 2.88, THOMSEN),
    ):
        kind = cast("Alkali", alkali)
        w = from_water_per_hydroxide(kind, n)
        half = heat_of_dilution_half_width(kind, w)
        yield f"heat of dilution to infinity, {label}", heat_of_dilution(kind, w), printed, "kJ/mol", source, half
    ours = enthalpy.enthalpy("NaOH", 0.5, 100.0)
    reference = outside.olsson_enthalpy_moved(0.5, 100.0)
    yield "enthalpy, NaOH 50 %, 100 °C", ours / 1e3, reference / 1e3, "kJ/kg", outside.OLSSON, 4.0
    for alkali, w, tolerance in (("NaOH", 0.2, 0.035), ("KOH", 0.4, 0.018)):
        kind = cast("Alkali", alkali)
        ours = enthalpy.heat_capacity(kind, w, 60.0) / 1e3
        reference = outside.laliberte_heat_capacity(kind, w, 60.0) / 1e3
        name = f"heat capacity, {alkali} {100 * w:g} %, 60 °C"
        yield name, ours, reference, "kJ/(kg K)", outside.THERMO, tolerance


def _strength_cases() -> Iterator[_Case]:
    for twaddell, printed in ((40.0, 17.629), (70.0, 31.948), (100.0, 46.545)):
        ours = 100 * strength.mass_fraction_from_degrees_twaddell("NaOH", twaddell)
        yield f"strength, NaOH at {twaddell:g} degrees Twaddell", ours, printed, "% NaOH", SIMMONS, 1.0
    for percent, printed in ((20, 4.619), (40, 36.312)):
        w = percent / 100
        ours = 1e3 * viscosity.viscosity("NaOH", w, 20.0)
        yield (
            f"viscosity, NaOH {percent} %, 20 °C",
            ours,
            printed,
            "mPa s",
            CRC,
            viscosity.viscosity_half_width("NaOH", w, 20.0) * 1e3,
        )


RULES_OF_THUMB: Final = {
    "water of 25 °C": (mixing.Charge(water=mixing.Water(1.0, 25.0)), 113.0),
    "ice of 0 °C": (mixing.Charge(ice=mixing.Ice(1.0)), 49.0),
}
"""Contents for a kilogram of NaOH, and what is told of the highest temperature [°C]: common practice, no source (235 °F
with water of the room, 120 °F with ice)."""


def rule_of_thumb(contents: mixing.Charge) -> tuple[float, float, float]:
    """Highest temperature of 1 kg NaOH in 1 kg of these contents: lower limit, value, upper limit [°C].

    Lower: a tenth of the heat lost and the 95 % interval's cool end. Upper: nothing lost, and its hot end.
    """
    solid = mixing.Solid("NaOH", 1.0)
    low = mixing.mix(solid, contents, loss_fraction=0.1, enthalpy_shift=-1.0).peak_temperature
    value = mixing.mix(solid, contents).peak_temperature
    high = mixing.mix(solid, contents, enthalpy_shift=1.0).peak_temperature
    assert low is not None
    assert value is not None
    assert high is not None
    return low, value, high


def _mixing_cases() -> Iterator[_Case]:
    for name, (contents, told) in RULES_OF_THUMB.items():
        low, value, _ = rule_of_thumb(contents)
        yield f"peak, NaOH 50 % from {name}", value, told, "°C", PRACTICE, value - low


def _water_cases() -> Iterator[_Case]:
    reference = outside.if97(20.0)
    yield "density of water, 20 °C", water.density(20.0), reference["rho"], "kg/m3", outside.IF97, 0.1
    ours, cp = water.heat_capacity(60.0) / 1e3, outside.if97(60.0)["cp"] / 1e3
    yield "heat capacity of water, 60 °C", ours, cp, "kJ/(kg K)", outside.IF97, 0.0004 * cp


@cache
def cases() -> list[tuple[ValidationRow, float]]:
    """Rows with their tolerances."""
    rows = []
    for generate in (
        _density_cases,
        _boiling_and_freezing_cases,
        _heat_cases,
        _strength_cases,
        _mixing_cases,
        _water_cases,
    ):
        for quantity, ours, reference, unit, source, tolerance in generate():
            row = ValidationRow(quantity, float(ours), float(reference), float(ours - reference), unit, source)
            rows.append((row, float(tolerance)))
    return rows


@cache
def known_disagreements() -> list[tuple[ValidationRow, float]]:
    """Published figures that lie outside the interval the service states, with that interval's half width."""
    rows = []
    for percent, printed in ((40, 1.3881), (50, 1.5024)):
        w = percent / 100
        ours = density.density("KOH", w, 20.0)
        quantity = f"density, KOH {percent} %, 20 °C"
        row = ValidationRow(quantity, ours, 1e3 * printed, ours - 1e3 * printed, "kg/m3", CRC)
        rows.append((row, density.density_half_width("KOH", w, 20.0)))
    return rows


def validation_rows() -> list[ValidationRow]:
    """All rows, the disagreements last."""
    return [row for row, _ in (*cases(), *known_disagreements())]
