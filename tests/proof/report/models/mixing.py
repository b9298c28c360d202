"""Temperatures of mixings, and heats of a batch."""

from collections.abc import Iterator
from typing import Final

from service.chemistry import food_heat
from service.chemistry.mixing import Charge, Ice, Solid, Water, mix
from tests.proof.report.models.works import OLSSON
from tests.proof.report.plot import Panel
from tests.proof.report.records import Evidence, Model, Point, Source, against_limits
from tests.proof.report.sampling import marked, sampled, spread
from tests.reference_cases.batch_validation import (
    FATS,
    fat_half_width,
    fat_rows,
    fitted_acids,
    milk_rows,
    printed_components,
)
from tests.reference_cases.caustic_validation import RULES_OF_THUMB, rule_of_thumb
from tests.reference_cases.diluting import DILUTIONS, by_olsson, diluted
from tests.reference_cases.outside import read_table

STRENGTH: Final = "mass fraction, %"
RULE: Final = Source(
    "rule of thumb",
    "soap workshops",
    "235 °F with water of the room, 120 °F with ice, for 50 % NaOH",
    "undated",
    "",
    Evidence.PRACTICE,
    "the interval that the service tells, with up to a tenth of the heat lost",
    "no source",
)
OLSSON_DILUTED: Final = OLSSON._replace(
    label="Olsson 1997, diluting",
    where="temperatures from its enthalpies, moved to our zero",
    tolerance="the 95 % interval that the service tells (the source states none)",
    note="as programmed in the package absorptionlib 1.1.0; above 13 % the model was fitted to it",
    is_same_formula=False,
    is_made_of=True,
)
TRIOLEIN: Final = Source(
    "Zábranský, triolein",
    "M. Zábranský et al.",
    "Heat Capacity of Liquids: Critical Review and Recommended Values, as in the package thermo",
    "1996-2010",
    "triolein",
    Evidence.SEEN,
    "5 %, the spread that the service tells",
)
ACIDS: Final = TRIOLEIN._replace(
    label="Zábranský, free acids",
    where="oleic, stearic and palmitic acid",
    tolerance="the spread that the service tells of free acids: 5 %, and more from 50 °C up",
    note="the formula of the spread was fitted to the highest of these",
    is_made_of=True,
)
CRC_ACID: Final = Source(
    "CRC, oleic acid",
    "J. R. Rumble (ed.)",
    "CRC Handbook of Chemistry and Physics, as in the package thermo",
    "undated",
    "heat capacity of oleic acid at 25 °C",
    Evidence.SEEN,
    "5 %, the spread that the service tells",
)
MILK: Final = Source(
    "milk, recalled",
    "unknown",
    "heat capacities of milk at 20 °C",
    "undated",
    "",
    Evidence.MEMORY,
    "5 %, the spread that the service tells",
)
CHOI_OKOS: Final = Source(
    "Choi & Okos 1986",
    "Y. Choi, M. R. Okos",
    "Effects of temperature and composition on the thermal properties of foods",
    "1986",
    "ASHRAE Handbook - Refrigeration 2006, ch. 9, table 1; by hand at 20 °C",
    Evidence.SEEN,
    "one part in 1e9: the same equations",
    "as the ASHRAE Handbook prints it",
    is_same_formula=True,
)


def _points() -> Iterator[Point]:
    for name, (contents, told) in RULES_OF_THUMB.items():
        low, value, high = rule_of_thumb(contents)
        tolerance = against_limits(value, low, high, told)
        yield Point(RULE, f"NaOH 50 % from {name}", 50.0, value, told, tolerance, "°C")
    for strong, weak in DILUTIONS:
        told = diluted("NaOH", strong, weak, 1.0)["solution"]["temperature"]
        theirs = by_olsson(strong, weak)
        tolerance = against_limits(told["value"], told["low"], told["high"], theirs)
        what = f"{100 * strong:g} % to {100 * weak:g} %"
        yield Point(OLSSON_DILUTED, what, 100 * weak, told["value"], theirs, tolerance, "°C")


def _peak(w: float, *, with_ice: bool) -> tuple[float, float, float]:
    """Lower limit, value, upper limit of a mixing to a strength in % [°C]."""
    rest = 1.0 - w / 100
    contents = Charge(ice=Ice(rest)) if with_ice else Charge(water=Water(rest, 25.0))
    solid = Solid("NaOH", w / 100)
    found = [
        mix(solid, contents, loss_fraction=lost, enthalpy_shift=shift).peak_temperature
        for lost, shift in ((0.1, -1.0), (0.0, 0.0), (0.0, 1.0))
    ]
    low, value, high = (one if one is not None else float("nan") for one in found)
    return low, value, high


def mixing() -> Model:
    """Solid into water or ice, and stock into water."""
    points = list(_points())
    separate = sum(1 for _ in read_table("adiabatic_mixing.csv"))
    thinned = [p for p in points if p.what.startswith("50 % to")]
    rules = [p for p in points if p.source is RULE]
    curves = [
        sampled(
            "from water of 25 °C",
            spread(5.0, 50.0, 46),
            lambda w: _peak(w, with_ice=False)[1],
            limits=lambda w: _peak(w, with_ice=False)[::2],
        ),
        sampled(
            "from ice of 0 °C",
            spread(26.0, 50.0, 25),
            lambda w: _peak(w, with_ice=True)[1],
            limits=lambda w: _peak(w, with_ice=True)[::2],
        ),
    ]

    def thin(w: float) -> tuple[float, float, float]:
        told = diluted("NaOH", 0.5, w / 100, 1.0)["solution"]["temperature"]
        return told["low"], told["value"], told["high"]

    diluting = sampled(
        "ours, from 50 %",
        spread(10.0, 48.0, 20),
        lambda w: thin(w)[1],
        limits=lambda w: thin(w)[::2],
    )
    return Model(
        "mixing",
        "Temperatures of mixings",
        "service/chemistry/mixing.py and blending.py: the heats above, balanced",
        "NaOH to 55 %, KOH to 50 %; from -28 °C to boiling",
        "that of the heats; the lower end also takes off the heat that may be lost",
        f"No measured temperature of a mixing was at hand, only {len(RULES_OF_THUMB)} rules of thumb. A separate "
        f"program of the same model gives {separate} temperatures within 0.2 K, which other tests hold; they hold the "
        "arithmetic and are not counted here.",
        STRENGTH,
        points,
        [
            Panel(STRENGTH, "peak, °C", curves, marked(rules), "NaOH into water or ice", height=220.0),
            Panel(
                STRENGTH, "temperature, °C", [diluting], marked(thinned), "50 % NaOH thinned with water", height=180.0
            ),
        ],
    )


def _work(substance: str, source: str) -> Source:
    """Whose figure it is, and whether the spread was made from it."""
    if source.startswith("CRC"):
        return CRC_ACID
    return ACIDS if substance.endswith("acid") else TRIOLEIN


def _acids_reach(t: float) -> str:
    return f"{100 * food_heat.acid_spread(t) / food_heat.fat_heat_capacity(t):.0f} %"


def _acids_above(t: float) -> str:
    """By how much the acids that are fitted at a temperature lie above fats."""
    above = [
        f"{100 * (1e3 * one.heat_capacity(t) / food_heat.fat_heat_capacity(t) - 1):.0f}"
        for one in fitted_acids()
        if one.low <= t <= one.high
    ]
    ends = dict.fromkeys((min(above, key=int), max(above, key=int)))
    return f"{' to '.join(ends)} %"


def _acids_fitted() -> str:
    return ", ".join(f"{one.name} {one.low:.0f} to {one.high:.0f} °C" for one in fitted_acids())


def batch_heat() -> Model:
    """Fats, milk, components of food."""
    points = []
    for (substance, _, _, t, *_), row in zip(FATS, fat_rows(), strict=True):
        tolerance = fat_half_width(substance, t)
        points.append(
            Point(
                _work(substance, row.source),
                row.quantity.partition("against ")[2],
                t,
                row.ours,
                row.reference,
                tolerance,
                row.unit,
            )
        )
    points += [
        Point(MILK, row.quantity, 20.0, row.ours, row.reference, food_heat.SPREAD * row.ours, row.unit)
        for row in milk_rows()
    ]
    for dry, printed in printed_components(20.0):
        ours = food_heat.heat_capacity(0.0, 0.0, dry, 20.0)
        name = next(name for name, share in dry._asdict().items() if share)
        what = f"{name}, 20 °C"
        points.append(Point(CHOI_OKOS, what, 20.0, ours / 1e3, printed / 1e3, 1e-9 * printed / 1e3, "kJ/(kg K)"))
    curve = sampled(
        "ours, fat",
        spread(0.0, 120.0),
        lambda t: food_heat.fat_heat_capacity(t) / 1e3,
        lambda t: food_heat.SPREAD * food_heat.fat_heat_capacity(t) / 1e3,
    )
    shown = [p for p in points if p.source in (TRIOLEIN, ACIDS, CRC_ACID)]
    celsius = "temperature, °C"
    return Model(
        "batch-heat",
        "Heats of fats and liquids of a batch",
        "service/chemistry/food_heat.py: Choi & Okos 1986, by composition",
        "-40 to 150 °C",
        f"{100 * food_heat.SPREAD:.0f} %; of free fatty acids more from {food_heat.ACIDS_FROM:.0f} °C up: "
        f"{_acids_reach(80.0)} at 80 °C, {_acids_reach(150.0)} at 150 °C",
        "Heat of melting of fats is not reckoned, and the service says where fats are not liquid. Triolein stands for "
        "fats; no measured heat capacity of a fat was at hand. Free acids are reckoned as fats, though measured ones "
        f"are {_acids_above(80.0)} higher at 80 °C and {_acids_above(150.0)} at 150 °C: their interval reaches that "
        f"far, the value stays low. From {food_heat.ACIDS_FROM:.0f} °C up it was made from one source, the fits of "
        f"three acids ({_acids_fitted()}), and nothing else was at hand to hold it to; of every other acid, and "
        "outside of these temperatures, it is an extrapolation.",
        celsius,
        points,
        [Panel(celsius, "heat capacity, kJ/(kg K)", [curve], marked(shown))],
    )
