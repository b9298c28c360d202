"""Heats of caustic solutions: capacity, solution and dilution, enthalpy."""

from collections.abc import Iterator
from typing import Final

from service.chemistry import enthalpy, water
from service.chemistry.molar_masses import ALKALI, WATER, Alkali
from tests.proof.report.models.works import INTERVAL, LALIBERTE, OLSSON, PARKER
from tests.proof.report.plot import Panel
from tests.proof.report.records import Evidence, Model, Point, Source
from tests.proof.report.sampling import marked, sampled, spread, spread_by_factors
from tests.reference_cases import caustic_grids, outside
from tests.reference_cases.caustic_published import parker
from tests.reference_cases.caustic_validation import (
    from_water_per_hydroxide,
    heat_of_dilution,
    heat_of_dilution_half_width,
    heats_of_dilution,
)

ALKALIS: Final[tuple[Alkali, ...]] = ("NaOH", "KOH")
STRENGTH: Final = "mass fraction, %"
WATERS: Final = "mol water per mol hydroxide"
PITZER: Final = Source(
    "Silvester & Pitzer",
    "L. F. Silvester, K. S. Pitzer",
    "in K. S. Pitzer (ed.), Activity Coefficients in Electrolyte Solutions, 2nd ed.",
    "1991",
    "ch. 3, table 12, evaluated",
    Evidence.SEEN,
    INTERVAL,
    "its parameters were seen in data files; the model was fitted to it",
    is_made_of=True,
)
FELDER: Final = Source(
    "Felder & Rousseau",
    "R. M. Felder, R. W. Rousseau",
    "Elementary Principles of Chemical Processes",
    "edition not recalled",
    "table B.11, less its value at infinite dilution",
    Evidence.MEMORY,
    INTERVAL,
)
THOMSEN: Final = Source(
    "Thomsen",
    "J. Thomsen",
    "Thermochemische Untersuchungen",
    "1882-1886",
    "heats of dilution at 18 °C, moved to 25 °C and tied at 200 mol of water",
    Evidence.MEMORY,
    INTERVAL,
)
THOMSEN_KOH: Final = THOMSEN._replace(label="Thomsen, KOH", note="the model was fitted to it", is_made_of=True)
BALEJ_HEATS: Final = Source(
    "Balej 1985, heats",
    "J. Balej",
    "Int. J. Hydrogen Energy 10, 233-243",
    "1985",
    "temperature coefficient of its water activities, anchored at 0.70 kJ/mol at 1 mol/kg (assumed)",
    Evidence.SEEN,
    INTERVAL,
    "as coded in a public program; the model was fitted to it",
    is_made_of=True,
)
_HEATS: Final = {"silvester-pitzer": PITZER, "felder-rousseau": FELDER, "thomsen": THOMSEN, "balej": BALEJ_HEATS}
LALIBERTE_CAPACITY: Final = LALIBERTE._replace(
    label="Laliberté 2009, heat capacity",
    where="heat capacity; NaOH to 30 %, KOH to 46 %, where its data end",
    tolerance=INTERVAL,
    note="as programmed in the package thermo 0.6.1; the model was fitted to it",
    is_same_formula=False,
    is_made_of=True,
)
OLSSON_ENTHALPY: Final = OLSSON._replace(
    label="Olsson 1997, enthalpy",
    where="enthalpy, moved to our zero by Parker's heat of solution less 0.726 kJ/mol",
    tolerance=INTERVAL,
    note="as programmed in the package absorptionlib 1.1.0; the heats at 25 °C were fitted to it above 13 %, the heat "
    "capacity above 40 %",
    is_same_formula=False,
    is_made_of=True,
)
OLSSON_SLOPE: Final = OLSSON_ENTHALPY._replace(
    label="Olsson 1997, slope",
    where="slope of the enthalpy with temperature, 50 % NaOH",
    note="as programmed in the package absorptionlib 1.1.0; the model was fitted to it",
)


OLSSON_WEAK: Final = OLSSON_ENTHALPY._replace(
    label="Olsson 1997, weak",
    note="as programmed in the package absorptionlib 1.1.0; below 13 % nothing was fitted to it, but its zero is "
    "moved by Silvester & Pitzer's heats",
    is_made_of=False,
)
FITTED_FROM: Final = 0.13
"""Mass fraction from which heats of NaOH at 25 °C were fitted to Olsson [-]."""


def heat_capacity() -> Model:
    """Of solutions of both."""
    points = []
    for alkali in ALKALIS:
        for w, t in caustic_grids.HEAT_CAPACITIES[alkali]:
            theirs = outside.laliberte_heat_capacity(alkali, w, t)
            points.append(_capacity(LALIBERTE_CAPACITY, alkali, w, t, theirs))
    for t in caustic_grids.SLOPES:
        slope = outside.olsson_enthalpy(0.5, t + 0.5) - outside.olsson_enthalpy(0.5, t - 0.5)
        points.append(_capacity(OLSSON_SLOPE, "NaOH", 0.5, t, slope))
    panels = []
    for alkali in ALKALIS:
        highest = 100 * enthalpy.HIGHEST_MASS_FRACTION[alkali]
        curves = [
            sampled(
                f"ours, {t:g} °C",
                spread(0.0, highest),
                lambda w, t=t, a=alkali: enthalpy.heat_capacity(a, w / 100, t) / 1e3,  # type: ignore[misc]
                lambda w, t=t, a=alkali: _capacity_half_width(a, w / 100, t) / 1e3,  # type: ignore[misc]
            )
            for t in (25.0, 100.0)
        ]
        shown = [p for p in points if p.what.startswith(alkali) and p.what.endswith((", 25 °C", ", 100 °C"))]
        panels.append(Panel(STRENGTH, "heat capacity, kJ/(kg K)", curves, marked(shown), alkali, height=220.0))
    return Model(
        "heat-capacity",
        "Heat capacity of caustic solutions",
        "service/chemistry/enthalpy.py: fitted to Laliberté 2009, above 40 % NaOH to Olsson 1997",
        "NaOH 0 to 55 %, 0 to 150 °C; KOH 0 to 50 %, 0 to 120 °C",
        "3 % from 25 % up, in proportion less in weaker solutions",
        "No measured heat capacity was at hand that the model was not fitted to. NaOH from 30 to 40 % lies between "
        "the two sources; KOH from 46 to 50 % beyond its only one.",
        STRENGTH,
        points,
        panels,
    )


def _capacity_half_width(alkali: Alkali, w: float, t: float) -> float:
    return enthalpy.at_strength(alkali, w).capacity_spread * enthalpy.heat_capacity(alkali, w, t)


def _capacity(source: Source, alkali: Alkali, w: float, t: float, theirs: float) -> Point:
    ours, half_width = enthalpy.heat_capacity(alkali, w, t), _capacity_half_width(alkali, w, t)
    what = f"{alkali} {100 * w:g} %, {t:g} °C"
    return Point(source, what, 100 * w, ours / 1e3, theirs / 1e3, half_width / 1e3, "kJ/(kg K)")


def _limits() -> Iterator[Point]:
    for alkali in ALKALIS:
        most = 5000.0
        ours = 1e-3 * ALKALI[alkali] * enthalpy.heat_of_solution(alkali, 1e-12)
        yield Point(PARKER, f"{alkali}, to infinite dilution", most, ours, parker(alkali), 0.005, "kJ/mol")
        bound = 1e-3 * WATER * enthalpy.hydrate_enthalpy(alkali)
        theirs = parker(alkali) - parker(f"{alkali}·H2O")
        yield Point(PARKER, f"{alkali}·H2O of its parts", 1.0, bound, theirs, 0.01, "kJ/mol")


def heat_of_solution() -> Model:
    """Solution and dilution at 25 °C."""
    points = []
    for name, source in _HEATS.items():
        for alkali, w, printed in heats_of_dilution(name):
            if w <= enthalpy.HIGHEST_MASS_FRACTION[alkali]:
                n = (1 / w - 1) * ALKALI[alkali] / WATER
                ours, half_width = heat_of_dilution(alkali, w), heat_of_dilution_half_width(alkali, w)
                work = THOMSEN_KOH if source is THOMSEN and alkali == "KOH" else source
                points.append(Point(work, f"{alkali} in {n:.4g} H2O", n, ours, printed, half_width, "kJ/mol"))
    panels = []
    for alkali in ALKALIS:
        curve = sampled(
            "ours",
            spread_by_factors(2.0 if alkali == "NaOH" else 3.2, 1000.0),
            lambda n, a=alkali: heat_of_dilution(a, from_water_per_hydroxide(a, n)),  # type: ignore[misc]
            lambda n, a=alkali: heat_of_dilution_half_width(a, from_water_per_hydroxide(a, n)),  # type: ignore[misc]
        )
        shown = marked([p for p in points if p.what.startswith(alkali)])
        panels.append(Panel(WATERS, "to infinite dilution, kJ/mol", [curve], shown, alkali, log_x=True, height=220.0))
    return Model(
        "heat-of-solution",
        "Heat of solution and dilution",
        "service/chemistry/enthalpy.py: fitted to Parker 1965, Silvester & Pitzer, Olsson 1997, Balej 1985 and Thomsen",
        "NaOH 0 to 55 %, KOH 0 to 50 %, 25 °C",
        _told_of_dilution(),
        "KOH rests on one equation and on Thomsen from memory; both were used for the fit. The strongest point of "
        "KOH (3 mol of water, 51 %) lies beyond the range and is not compared. No figure above 42.5 % NaOH is "
        "apart from Olsson, to whom the model was fitted there.",
        WATERS,
        [*points, *_limits()],
        panels,
        log_x=True,
    )


def _told_of_dilution() -> str:
    """Half-widths of the heats of dilution at the strongest, in words."""
    ends = []
    for alkali in ALKALIS:
        w = enthalpy.HIGHEST_MASS_FRACTION[alkali]
        ends.append(f"{heat_of_dilution_half_width(alkali, w):.2f} kJ/mol at {100 * w:g} % {alkali}")
    return f"{' and '.join(ends)}, less in weaker solutions, with 0.2 kJ/mol for the heat of solution"


def _told_of_enthalpy() -> str:
    """Half-widths of the enthalpy of both at 50 %, in words."""
    told = [
        f"{alkali} 50 %: {enthalpy.enthalpy_half_width(alkali, 0.5, 25.0) / 1e3:.1f} kJ/kg at 25 °C, "
        f"{enthalpy.enthalpy_half_width(alkali, 0.5, 118.0) / 1e3:.1f} at 118 °C"
        for alkali in ALKALIS
    ]
    return f"{'; '.join(told)}; less in weaker solutions"


def _olsson_s_water() -> float:
    """By how much its heat from 20 to 25 °C is above that of water [%]."""
    theirs: float = outside.olsson_enthalpy(0.0, 25.0) - outside.olsson_enthalpy(0.0, 20.0)
    return 100 * (theirs / (water.enthalpy(25.0) - water.enthalpy(20.0)) - 1)


def enthalpy_of_soda() -> Model:
    """NaOH, 25 to 150 °C."""
    points = []
    for w, t in caustic_grids.ENTHALPIES:
        theirs, ours = outside.olsson_enthalpy_moved(w, t), enthalpy.enthalpy("NaOH", w, t)
        half_width = enthalpy.enthalpy_half_width("NaOH", w, t)
        what = f"NaOH {100 * w:g} %, {t:g} °C"
        source = OLSSON_ENTHALPY if w >= FITTED_FROM else OLSSON_WEAK
        points.append(Point(source, what, 100 * w, ours / 1e3, theirs / 1e3, half_width / 1e3, "kJ/kg"))
    curves = [
        sampled(
            f"ours, {t:g} °C",
            spread(0.0, 55.0),
            lambda w, t=t: enthalpy.enthalpy("NaOH", w / 100, t) / 1e3,  # type: ignore[misc]
            lambda w, t=t: enthalpy.enthalpy_half_width("NaOH", w / 100, t) / 1e3,  # type: ignore[misc]
        )
        for t in (25.0, 60.0, 100.0, 150.0)
    ]
    shown = [p for p in points if p.what.endswith((" 25 °C", " 60 °C", " 100 °C", " 150 °C"))]
    return Model(
        "enthalpy",
        "Enthalpy of caustic soda",
        "service/chemistry/enthalpy.py: the two models above, together",
        "NaOH 0 to 55 %, 0 to 150 °C; KOH 0 to 50 %, 0 to 120 °C",
        _told_of_enthalpy(),
        "Above 13 % the model was fitted to the same source, so that agreement there is a check of the fit. "
        f"Olsson's own water takes {_olsson_s_water():.1f} % too much heat to warm from 20 to 25 °C, so that weak "
        "solutions are not followed. For KOH no enthalpy was at hand that is not made of the heats above.",
        STRENGTH,
        points,
        [Panel(STRENGTH, "enthalpy, kJ/kg", curves, marked(shown), "Over solid NaOH and water of 25 °C")],
    )
