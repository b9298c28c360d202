"""Titrations, and the arithmetic of uncertainty."""

from collections.abc import Iterator
from typing import Final

from service.chemistry.molar_masses import ALKALI, CARBONATE, NAOH, SODIUM_CARBONATE
from service.chemistry.titration import Assay, Titration, assay, weighed
from service.chemistry.uncertainty import combine, coverage_half_width, normal, rectangular
from tests.calculations.asking import ask
from tests.proof.report.models.works import HALF_DIGIT
from tests.proof.report.plot import Curve, Panel, Points
from tests.proof.report.records import Evidence, Model, Point, Source
from tests.reference_cases import charge_balance as balance
from tests.reference_cases import quam, titration_published
from tests.reference_cases.known_mixtures import BY_INDICATORS, CASES, STEP_MOVES, Mixture
from tests.reference_cases.pitzer_end_points import FIRST_PH, PITZER, SECOND_PH
from tests.reference_cases.saponification_validation import uncertainty_rows

JECFA: Final = Source(
    "JECFA, USP",
    "Joint FAO/WHO Expert Committee on Food Additives; U.S. Pharmacopeia",
    "specification of sodium hydroxide (INS 524); Sodium Hydroxide",
    "undated",
    "equivalents of normal acid",
    Evidence.SEEN,
    HALF_DIGIT,
    "in reprints",
    is_same_formula=True,
)
CERTIFICATE: Final = Source(
    "factors by weights",
    "IUPAC, Commission on Isotopic Abundances and Atomic Weights",
    "arithmetic by hand on the standard atomic weights",
    "2021",
    "carbonate as hydroxide",
    Evidence.SEEN,
    HALF_DIGIT,
    is_same_formula=True,
)
BALANCE: Final = Source(
    "charge balance, steepest pH",
    "worked out for this project",
    "balance of charges with pKa 6.35 and 10.33 of carbonic acid (CRC Handbook)",
    "undated",
    "mixtures that are known; end points at the steepest pH",
    Evidence.MEMORY,
    "1e-5 of the hydroxide, 1e-5 of the sample for carbonate: more than a tenth of the step by which the steepest pH "
    "is looked for moves any of them",
    "the pKa are from memory",
)
INDICATORS: Final = BALANCE._replace(
    label="charge balance, indicators",
    where="the same, and stocks of 30 to 50 % with 0.05 to 5 % carbonate; phenolphthalein and bromocresol green",
    tolerance="95 % of what the interval leaves open for the colours, without burette, eye and sample",
)
PITZER_CURVES: Final = Source(
    "Pitzer's equations, indicators",
    "U.S. Geological Survey",
    "pitzer.dat of the program PHREEQC",
    "undated",
    "mixtures that are known; phenolphthalein at pH 8.3 and bromocresol green at 4.3",
    Evidence.SEEN,
    INDICATORS.tolerance,
    "worked out with the package phreeqpython 1.6.2; what is left open was set by its farthest of pH 8.0 to 8.6 and "
    "4.0 to 4.6",
    is_made_of=True,
)
QUAM: Final = Source(
    "QUAM",
    "EURACHEM/CITAC",
    "CG 4, Quantifying Uncertainty in Analytical Measurement, 3rd ed.",
    "2012",
    "examples A1, A2, A3",
    Evidence.SEEN,
    "half a unit of the last printed digit, a whole one where digits were cut off",
    "as reproduced in the documentation of the GUM Tree Calculator (MSL, New Zealand)",
    is_same_formula=True,
)
EA: Final = Source(
    "EA-4/02, S9",
    "European co-operation for Accreditation",
    "EA-4/02 M, Evaluation of the Uncertainty of Measurement in Calibration",
    "2013",
    "example S9, a multimeter where a rectangle dominates",
    Evidence.MEMORY,
    HALF_DIGIT,
    is_same_formula=True,
)


def _equivalents() -> Iterator[Point]:
    found = assay("NaOH", Titration(1000.0, 9e-6, 10e-6), weighed(1e-3))
    hydroxide, carbonate = titration_published.EQUIVALENTS
    yield Point(JECFA, "NaOH of 1 mL of normal acid", 0.0, found.total_alkali * 100, hydroxide, 0.005, "mg")
    yield Point(JECFA, "Na2CO3 of 1 mL of normal acid", 0.0, found.carbonate * 1000, carbonate, 0.05, "mg")
    for alkali, factor in titration_published.CARBONATE_AS_HYDROXIDE.items():
        ours = 2 * ALKALI[alkali] / CARBONATE[alkali]
        yield Point(CERTIFICATE, f"carbonate as {alkali}", 0.0, ours, factor, 5e-5, "1")


def _known() -> Iterator[Point]:
    for name, (mixture, *_) in CASES.items():
        found = mixture.at_the_steepest()
        w, carbonate = 100 * mixture.hydroxide, 100 * mixture.carbonate
        yield Point(BALANCE, f"{name}, NaOH", 0.0, 100 * found.hydroxide, w, STEP_MOVES * w, "%")
        yield Point(BALANCE, f"{name}, Na2CO3", 0.0, 100 * found.carbonate, carbonate, 100 * STEP_MOVES, "%")
    mixtures = {name: mixture for name, (mixture, *_) in CASES.items()}
    mixtures |= {f"{100 * one.hydroxide:g} % with {100 * one.carbonate:g} %": one for one in BY_INDICATORS}
    for name, mixture in mixtures.items():
        found = mixture.by_indicators()
        yield from _by_colours(INDICATORS, f"{name}, {{}}, indicators", mixture, found)
    at = FIRST_PH.index(balance.PHENOLPHTHALEIN), SECOND_PH.index(balance.BROMOCRESOL_GREEN)
    for past in PITZER:
        first = past.hydroxide + past.carbonate + past.first[at[0]]
        second = past.hydroxide + 2 * past.carbonate + past.second[at[1]]
        mass = 10.0 * past.acid
        hydroxide, carbonate = past.hydroxide * NAOH / mass, past.carbonate * SODIUM_CARBONATE / mass
        mixture = Mixture(hydroxide, carbonate, mass / 1e3, past.acid)
        found = mixture.titrated(first / past.acid / 1e3, second / past.acid / 1e3)
        name = f"{past.hydroxide:g} mmol with {past.carbonate:g}, {past.acid:g} mol/L, {{}}"
        yield from _by_colours(PITZER_CURVES, name, mixture, found)


def _by_colours(source: Source, name: str, mixture: Mixture, found: Assay) -> Iterator[Point]:
    """Hydroxide and carbonate, held to what is left open for the colours."""
    for what, ours, true, room in zip(
        ("NaOH", "Na2CO3"), found, (mixture.hydroxide, mixture.carbonate), mixture.left_open(), strict=False
    ):
        yield Point(source, name.format(what), 0.0, 100 * ours, 100 * true, 100 * room, "%")


def _holds() -> str:
    """Where the colours tell how much, of stocks with normal acid."""
    found = [(one.by_indicators().carbonate, one.carbonate) for one in BY_INDICATORS]
    most = max(100 * (ours - true) for ours, true in found)
    weakest = min(true for _, true in found)
    least = [100 * (ours / true - 1) for ours, true in found if true == weakest]
    off = max(100 * abs(one.by_indicators().hydroxide / one.hydroxide - 1) for one in BY_INDICATORS)
    return (
        "NaOH and KOH with their carbonates; acid of 5 to 40 °C. By indicators, were there no salt, stocks of 30 % and "
        f"more with up to 5 % of carbonate and normal acid: hydroxide within {off:.2g} %, carbonate up to {most:.3f} "
        f"percentage points too high, which of {100 * weakest:g} % is {min(least):.0f} to {max(least):.0f} %"
    )


def _off_with_tenth_normal(known: list[Point]) -> float:
    """Largest deviation of the hydroxide by indicators [% of it]."""
    some = [point for point in known if "tenth-normal" in point.what and point.what.endswith("NaOH, indicators")]
    return max(100 * abs(point.deviation) / point.published for point in some)


def titration() -> Model:
    """Two end points."""
    answer = ask("stock-assay/titration", titration_published.quam_request())["molarity"]
    reverse = Point(QUAM, "the titration of A3 the other way round", 0.0, answer["value"], 0.10214, 5e-6, "mol/L")
    known = list(_known())
    hydroxide = [p for p in known if p.unit == "%" and "Na2CO3" not in p.what]
    places = [float(index) for index in range(len(hydroxide))]
    apart = [1e4 * (p.ours / p.published - 1) for p in hydroxide]
    told = [1e4 * p.tolerance / p.published for p in hydroxide]
    band = Curve("exact", places, [0.0] * len(told), [-one for one in told], told)
    return Model(
        "titration",
        "Titration",
        "service/chemistry/titration.py: the two-end-point method",
        _holds(),
        "the whole budget of the titration, by its own readings, and by where the indicators' colours may turn",
        "Published titrations with both end points were not at hand: mixtures that are known are titrated by "
        "arithmetic. With tenth-normal acid the indicators' colours are off by up to "
        f"{_off_with_tenth_normal(known):.1f} % of the hydroxide, which the service tells and which stands in the "
        "tests as it is.",
        "",
        [*_equivalents(), reverse, *known],
        [
            Panel(
                "",
                "hydroxide found less put in, 1e-4",
                [band],
                [Points("ours", places, apart)],
                x_names=[p.what for p in hydroxide],
            )
        ],
    )


def uncertainty() -> Model:
    """Worked examples."""
    points = [
        Point(QUAM, row.quantity, 0.0, row.ours, row.reference, tolerance, row.unit)
        for row, tolerance in uncertainty_rows()
    ]
    _, _, contributions = quam.a2()
    budget = [
        Point(QUAM, f"A2, contribution of {name}", 0.0, contributions[name], printed, digit / 2, "mol/L")
        for name, printed, digit in quam.A2_CONTRIBUTIONS
    ]
    combined = combine([(1.0, rectangular(0.05)), (1.0, normal(0.001)), (1.0, rectangular(0.011))])
    points += [
        *budget,
        Point(EA, "standard uncertainty of the multimeter", 0.0, combined.standard_uncertainty, 0.030, 0.0005, "V"),
        Point(EA, "its expanded uncertainty, 95 %", 0.0, coverage_half_width(combined), 0.05, 0.005, "V"),
    ]
    places = [float(index) for index in range(len(budget))]
    printed = Points("printed", places, [1e6 * p.published for p in budget])
    ours = Points("ours", places, [1e6 * p.ours for p in budget])
    return Model(
        "uncertainty",
        "Uncertainty",
        "service/chemistry/uncertainty.py: JCGM 100:2008, to first order, with the coverage of the widest rectangle",
        "what is nearly linear within its spread",
        "94 to 97 % of 200 000 draws lie within (JCGM 101:2008), which other tests hold",
        "Beyond first order nothing is reckoned; correlations are those that the calculation knows of.",
        "",
        points,
        [
            Panel(
                "",
                "contribution, µmol/L",
                [],
                [printed, ours],
                "Budget of QUAM A2",
                [p.what for p in budget],
                log_y=True,
            )
        ],
    )
