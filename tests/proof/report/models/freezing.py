"""First solids of cold stocks, and the heat that melts them."""

import math
from collections.abc import Sequence
from typing import Final

from service.chemistry.enthalpy import hydrate_enthalpy
from service.chemistry.freezing import HIGHEST_MASS_FRACTION, FirstSolid, first_solid
from service.chemistry.molar_masses import ALKALI, WATER, Alkali
from service.chemistry.thawing import CRYSTALS
from service.chemistry.vapour_pressure import water_vapour_pressure
from service.chemistry.water import saturation_pressure
from tests.proof.opinions.pitzer import freezing_point, melting_point
from tests.proof.opinions.pressures import balej_activity
from tests.proof.report.models.works import CRC, DOW, HALF_DIGIT, OLSSON, PARKER, PICKERING, SOVIET
from tests.proof.report.plot import Curve, Panel, Points
from tests.proof.report.records import Evidence, Model, Point, Source, against_limits
from tests.proof.report.sampling import marked, sampled, spread
from tests.reference_cases.caustic_published import FirstSolidPoint, first_solids
from tests.reference_cases.hydrates import MONOHYDRATE, RECALLED, STRETCHES, M, crystal, fusion, hydrate

STRENGTH: Final = "mass fraction, %"
LIMITS: Final = "the limits that the service tells (the source states none)"
WANG: Final = Source(
    "Wang 2008",
    "Wang et al.",
    "Cellulose Fiber Dissolution in Sodium Hydroxide Solution at Low Temperature: Dissolution Kinetics and Solubility "
    "Improvement",
    "2008",
    "plotted points that were left out of the interpolation",
    Evidence.SEEN,
    LIMITS,
    "read off a plot, as digitised in the package absorptionlib 1.1.0, which quotes the title; where it appeared, and "
    "whether the plot is its own, is not known",
)
ENCYCLOPEDIA: Final = Source(
    "encyclopedia",
    "an encyclopedia",
    "solubility of NaOH, 418 g per L of water at 0 °C",
    "undated",
    "",
    Evidence.SEEN,
    LIMITS,
)
ASTM: Final = Source(
    "ASTM E291",
    "ASTM International",
    "E291-09, Standard Test Methods for Chemical Analysis of Caustic Soda and Caustic Potash",
    "2009",
    "section on sampling: 45 % KOH is liquid to -29 °C",
    Evidence.SEEN,
    HALF_DIGIT,
    "a point of the interpolation; that it freezes there is from memory",
    is_made_of=True,
)
_WORKS: Final = {
    "dow": DOW._replace(tolerance=LIMITS),
    "soviet": SOVIET._replace(tolerance=LIMITS + "; at a point of the interpolation " + HALF_DIGIT),
    "pickering": PICKERING,
    "pickering-memory": PICKERING._replace(
        label="Pickering 1893, recalled",
        where="dihydrate to monohydrate",
        evidence=Evidence.MEMORY,
        tolerance=LIMITS,
        note="",
        is_made_of=False,
    ),
    "wang": WANG,
    "encyclopedia": ENCYCLOPEDIA,
    "astm": ASTM,
    "crc": CRC._replace(
        label="CRC 2021, depressions",
        where="depressions of the freezing point",
        tolerance=HALF_DIGIT,
        note="points of the interpolation; as typed in a public data file",
        is_made_of=True,
    ),
}
_DIGITS: Final = {"pickering": 0.05, "crc": 0.005, "astm": 0.5, "soviet": 0.05}
"""Half a unit of the last digit, of points of the interpolation [K]."""
SLOPE: Final = Source(
    "slope of the freezing line",
    "Pickering 1893, Wang et al. 2008; activities of water by Olsson 1997",
    "worked out for this project by Gibbs and Duhem's equation",
    "1893-2008",
    "stretches of the freezing line",
    Evidence.SEEN,
    "the limits that the service tells",
    "not a published heat: what published figures of another kind say of it",
    is_made_of=True,
)
SIEMENS: Final = Source(
    "Siemens & Giauque 1969",
    "R. A. Siemens, W. F. Giauque",
    "J. Phys. Chem. 73, 149-157",
    "1969",
    "heat of fusion of NaOH·3.5H2O, about 5.2 kcal/mol",
    Evidence.MEMORY,
    "the limits that the service tells",
)
MONO: Final = PARKER._replace(
    label="Parker 1965, monohydrate",
    where="heats of solution of NaOH and of its monohydrate",
    tolerance="1.9 kJ/mol, the limit that the service tells",
    note=f"beside the slope of the freezing line; {PARKER.note}",
)


def first_solids_of_both() -> Model:
    """Both alkalis."""
    points = [_point(one) for one in first_solids()]
    panels = []
    alkalis: tuple[Alkali, ...] = ("NaOH", "KOH")
    for alkali in alkalis:
        curve = sampled(
            "ours",
            spread(0.0, 100 * HIGHEST_MASS_FRACTION[alkali], 220),
            lambda w, a=alkali: first_solid(a, w / 100).temperature,  # type: ignore[misc]
            limits=lambda w, a=alkali: first_solid(a, w / 100)[1:3],  # type: ignore[misc]
        )
        shown = marked([p for p in points if p.what.startswith(alkali)])
        panels.append(Panel(STRENGTH, "first solid, °C", [curve], shown, alkali, height=240.0))
    return Model(
        "first-solid",
        "First solid on cooling",
        "service/chemistry/freezing.py: published points, joined by straight lines",
        "NaOH 0 to 55 %, KOH 0 to 52.8 %",
        _told(),
        f"{_ice_of_potash()} From 7 to 45 % KOH rests on a eutectic from memory and on no other point; its limits are "
        "wide and the answer says so. Points of the interpolation prove only that it goes through them.",
        STRENGTH,
        points,
        panels,
    )


def _told() -> str:
    """The limits, as the service has them."""
    strong = [first_solid("NaOH", w / 1000) for w in range(470, 551)]
    widths = [side for one in strong for side in (one[2] - one[0], one[0] - one[1])]
    koh = []
    for percent in (10.0, 15.0, 20.0, 25.0, 30.8):
        t, low, high = first_solid("KOH", percent / 100)[:3]
        koh.append(f"{high - t:+.1f}/{low - t:+.1f} K at {percent:g} %")
    return (
        f"limits of each point: 3 % of a depression, 1.5 K of a plotted point, {min(widths):.2g} to {max(widths):.2g} "
        f"K from 47 % NaOH up; of KOH {', '.join(koh)}"
    )


def _ice_of_potash() -> str:
    """What others say of the ice line of KOH, for which the table is the only source."""
    percents = range(1, 8)
    ours = [first_solid("KOH", percent / 100) for percent in percents]
    pitzer = [freezing_point("KOH", percent / (100 - percent) / ALKALI["KOH"]) for percent in percents]
    pressures = [water_vapour_pressure("KOH", percent / 100, 0.0) / saturation_pressure(0.0) for percent in percents]
    balej = [melting_point(math.log(one)) for one in pressures]
    strays = [melting_point(math.log(balej_activity("KOH", percent / 100, 0.0))) for percent in percents]
    held = [sum(one.low <= t <= one.high for one, t in zip(ours, theirs, strict=True)) for theirs in (pitzer, balej)]
    return (
        f"The ice line of KOH to 7 % is the CRC Handbook's ({ours[-1].temperature:.2f} °C at 7 %), and no other "
        "measured freezing point was at hand. Activities of water stand beside it: "
        f"by Pitzer and Mayorga's of 1973 the depression differs from it by {_apart(ours, pitzer)} ({pitzer[-1]:.2f} "
        f"°C), by Balej's equation of the pressure of 1985, taken at 0 °C, by {_apart(ours, balej)} ({balej[-1]:.2f} "
        f"°C); of the {len(ours)} whole percentages our limits hold {held[0]} and {held[1]}. Balej's equation of the "
        f"activity strays, {_apart(ours, strays)} ({strays[-1]:.2f} °C): it has one slope for 0 to 200 °C."
    )


def _apart(ours: Sequence[FirstSolid], theirs: Sequence[float]) -> str:
    """By which shares of our depressions theirs are larger."""
    shares = [100.0 * (t / one.temperature - 1.0) for one, t in zip(ours, theirs, strict=True)]
    return f"{min(shares):+.1f} to {max(shares):+.1f} %"


def _point(one: FirstSolidPoint) -> Point:
    ours = first_solid(one.alkali, one.w)
    tolerance = _DIGITS[one.source] if one.is_knot else against_limits(*ours[:3], one.t)
    what = f"{one.alkali} {100 * one.w:.4g} %"
    work = _WORKS[one.source]
    if one.is_knot and not work.is_made_of:
        work = work._replace(label=f"{work.label}, of the line", is_made_of=True)
    return Point(work, what, 100 * one.w, ours.temperature, one.t, tolerance, "°C")


def thawing() -> Model:
    """Hydrates of NaOH."""
    points, names, limits = [], [], []
    for solid, weak, strong in STRETCHES:
        held = crystal(solid).fusion
        assert held is not None
        found = fusion(solid, weak, strong)
        tolerance = against_limits(*held, found)
        what = f"{solid}, {100 * weak:.4g} to {100 * strong:.4g} %"
        points.append(Point(SLOPE, what, 0.0, held[0] / 1e3, found / 1e3, tolerance / 1e3, "kJ/kg"))
    held = crystal("NaOH·3.5H2O").fusion
    assert held is not None
    recalled = RECALLED / (M / crystal("NaOH·3.5H2O").mass_fraction)
    tolerance = against_limits(*held, recalled)
    points.append(Point(SIEMENS, "NaOH·3.5H2O", 0.0, held[0] / 1e3, recalled / 1e3, tolerance / 1e3, "kJ/kg"))
    for point in points:
        known = crystal(point.what.partition(",")[0]).fusion
        assert known is not None
        names.append(point.what)
        limits.append((known[1] / 1e3, known[2] / 1e3))
    measured = hydrate_enthalpy("NaOH") * WATER
    mono = [
        Point(
            MONO,
            f"NaOH·H2O of its parts, by {100 * weak:.4g} to {100 * strong:.4g} %",
            0.0,
            hydrate(1.0, weak, strong)[0] / 1e3,
            measured / 1e3,
            33.0 * (M + WATER),
            "kJ/mol",
        )
        for weak, strong, _ in MONOHYDRATE
    ]
    sides = [100 * abs(end / one.fusion[0] - 1) for one in CRYSTALS["NaOH"] if one.fusion for end in one.fusion[1:]]
    places = [float(index) for index in range(len(points))]
    ours = Curve("ours", places, [p.ours for p in points], [low for low, _ in limits], [high for _, high in limits])
    found_marks = Points("by the slope of the line; recalled (last)", places, [p.published for p in points])
    return Model(
        "thawing",
        "Heat that melts the hydrates of caustic soda",
        "service/chemistry/thawing.py: worked out from the freezing line and the activity of water",
        "NaOH·4H2O, ·3.5H2O, ·2H2O and ·H2O; ice",
        f"limits of each, {min(sides):.0f} to {max(sides):.0f} % to either side",
        "No measured heat of fusion was at hand but one from memory. Of NaOH·7H2O, NaOH·5H2O and of all hydrates of "
        f"KOH nothing is known, and the service says so. The activity of water is that of {OLSSON.body}.",
        "",
        points + mono,
        [Panel("", "heat of fusion, kJ/kg", [ours], [found_marks], x_names=names)],
    )
