"""Densities of caustic soda, caustic potash, and both with their carbonate."""

from collections.abc import Iterator
from typing import Final

from service.calculations.assays.stock_assay_hydrometer import CARBONATE_GUESSED_TO, CARBONATE_KNOWN_TO
from service.chemistry.carbonate_density import density_with_carbonate, over_reading, source_range_ends
from service.chemistry.density import density, density_half_width, relative_half_width
from service.chemistry.molar_masses import Alkali
from tests.proof.report.models.works import CRC, INTERVAL, LALIBERTE, OLSSON
from tests.proof.report.plot import Panel
from tests.proof.report.records import Evidence, Model, Point, Source
from tests.proof.report.sampling import marked, sampled, spread
from tests.reference_cases import caustic_grids, outside
from tests.reference_cases.caustic_published import carbonate_densities
from tests.reference_cases.caustic_validation import densities

STRENGTH: Final = "mass fraction, %"
ICT: Final = Source(
    "ICT 1928",
    "E. W. Washburn (ed.)",
    "International Critical Tables 3",
    "1928",
    "p. 79, as printed in Perry's Chemical Engineers' Handbook",
    Evidence.MEMORY,
    INTERVAL,
)
UNSIGNED: Final = Source(
    "table without origin",
    "unknown",
    "table of densities at 0.5 to 6 mol/kg",
    "undated",
    "10 to 85 °C",
    Evidence.SEEN,
    INTERVAL,
    "no origin stated; without caustic it agrees with IAPWS-95",
)
POLISH: Final = Source(
    "physics table",
    "unknown",
    "table of densities at 18 °C, in Polish",
    "undated",
    "KOH",
    Evidence.SEEN,
    INTERVAL,
    "no origin stated",
)
PERRY: Final = Source(
    "Perry",
    "R. H. Perry (ed.)",
    "Chemical Engineers' Handbook",
    "edition not recalled",
    "KOH at 15 °C",
    Evidence.MEMORY,
    INTERVAL,
)
CRC_CARBONATE: Final = CRC._replace(
    label="CRC, carbonates",
    body="editors of the edition",
    title="CRC Handbook of Chemistry and Physics",
    year="edition not recalled",
    where="10 % of Na2CO3 and of K2CO3 at 20 °C",
    evidence=Evidence.MEMORY,
    tolerance="0.2 %, the interval that the service tells for KOH",
    note="",
)
LALIBERTE_MIXED: Final = LALIBERTE._replace(
    label="Laliberté 2009, mixed (program)",
    where="rule of mixing, KOH with K2CO3",
)
LALIBERTE_SODA: Final = LALIBERTE._replace(
    label="Laliberté 2009, soda (program)",
    where="NaOH with Na2CO3, with Laliberté's own densities of NaOH",
    tolerance=f"{100 * CARBONATE_KNOWN_TO:g} % of the reading, the interval that the service tells",
    note="as programmed in the package thermo 0.6.1; the volume of the carbonate is the model's own",
    is_same_formula=False,
    is_made_of=True,
)
_TABLES: Final = {"ict": ICT, "web": UNSIGNED, "polish": POLISH, "perry-koh": PERRY}


def _tabled(alkali: Alkali, names: tuple[str, ...]) -> Iterator[Point]:
    for name in names:
        for kind, w, t, printed in densities(name):
            if kind == alkali:
                yield _point(_TABLES[name], alkali, w, t, printed)
    for row in outside.read_table("crc_caustic_20c.csv"):
        if row["solute"] == alkali:
            yield _point(CRC, alkali, float(row["mass_percent"]) / 100, 20.0, 1e3 * float(row["density"]))


def _point(source: Source, alkali: Alkali, w: float, t: float, printed: float) -> Point:
    ours, half_width = density(alkali, w, t), density_half_width(alkali, w, t)
    what = f"{alkali} {100 * w:.4g} %, {t:g} °C"
    return Point(source, what, 100 * w, ours, printed, half_width, "kg/m3")


def _told(alkali: Alkali, t: float) -> str:
    """The interval's half width where it is narrowest at a temperature, in words."""
    return f"{100 * min(_half_widths(alkali, t)):.2g} %"


def _beyond(alkali: Alkali, t: float) -> str:
    """By how much it is wider at the same temperature where the source's range ends, in words."""
    return f"{100 * (max(_half_widths(alkali, t)) - min(_half_widths(alkali, t))):.2g} %"


def _half_widths(alkali: Alkali, t: float) -> list[float]:
    return [relative_half_width(alkali, percent / 100, t) for percent in range(5, 51)]


def _panel(alkali: Alkali, highest: float, temperatures: tuple[float, ...], points: list[Point]) -> Panel:
    x = spread(0.0, highest)
    curves = [
        sampled(
            f"ours, {t:g} °C",
            x,
            lambda w, t=t: density(alkali, w / 100, t),  # type: ignore[misc]
            lambda w, t=t: density_half_width(alkali, w / 100, t),  # type: ignore[misc]
        )
        for t in temperatures
    ]
    return Panel(STRENGTH, "density, kg/m3", curves, marked(points))


def caustic_soda() -> Model:
    """NaOH."""
    points = list(_tabled("NaOH", ("ict", "web")))
    shown = [p for p in points if p.what.endswith((", 0 °C", ", 20 °C", " 60 °C", "100 °C"))]
    programmed = [
        Point(
            OLSSON,
            f"formula, NaOH {100 * w:g} %, {t:g} °C",
            100 * w,
            density("NaOH", w, t),
            outside.olsson_density(w, t),
            1e-9 * outside.olsson_density(w, t),
            "kg/m3",
        )
        for w, t in caustic_grids.OLSSON_DENSITIES
    ]
    return Model(
        "density-naoh",
        "Density of caustic soda",
        "service/chemistry/density.py: Olsson, Jernqvist & Aly 1997, drawn to Kell's water below 5 %",
        "NaOH 0 to 55 %, 0 to 150 °C",
        f"{_told('NaOH', 0.0)} at 0 °C, {_told('NaOH', 20.0)} at 20 °C, {_told('NaOH', 40.0)} at 40 °C and "
        f"{_told('NaOH', 100.0)} at 100 °C, {_told('NaOH', 120.0)} from 120 °C up; {_beyond('NaOH', 0.0)} more "
        "outside of the range that the authors claim",
        "No published density was at hand above 100 °C nor above 50 %; to 120 °C Laliberté's correlation stands among "
        "the second opinions. The widest table, the International Critical Tables, is from memory.",
        STRENGTH,
        points + programmed,
        [_panel("NaOH", 55.0, (0.0, 20.0, 60.0, 100.0), shown)],
    )


def caustic_potash() -> Model:
    """KOH."""
    points = list(_tabled("KOH", ("polish", "perry-koh")))
    strongest = max((point for point in points if point.source is CRC), key=lambda point: point.x)
    programmed = [
        Point(
            LALIBERTE,
            f"formula, KOH {100 * w:g} %, {t:g} °C",
            100 * w,
            density("KOH", w, t),
            outside.laliberte_density("KOH", w, t),
            1e-9 * outside.laliberte_density("KOH", w, t),
            "kg/m3",
        )
        for w, t in caustic_grids.LALIBERTE_DENSITIES
    ]
    return Model(
        "density-koh",
        "Density of caustic potash",
        "service/chemistry/density.py: Laliberté 2009",
        "KOH 0 to 50 %, 0 to 120 °C",
        f"{_told('KOH', 15.0)} at 15 °C and {_told('KOH', 20.0)} at 20 °C, {_told('KOH', 40.0)} from 40 to 95 °C; "
        f"{_told('KOH', 0.0)} at 0 °C and {_told('KOH', 120.0)} at 120 °C, where the author claims nothing",
        "Published densities at hand are of 15 to 20 °C alone: below and above, nothing but the formula itself. "
        f"At {strongest.x:g} % the CRC Handbook is {100 * (1 - strongest.published / strongest.ours):.2f} % lighter "
        "than ours, against the others.",
        STRENGTH,
        points + programmed,
        [_panel("KOH", 50.0, (20.0,), points)],
    )


def with_carbonate() -> Model:
    """Both, with their carbonates."""
    points = []
    for alkali, w, printed in carbonate_densities():
        ours = density_with_carbonate(alkali, 0.0, w, 20.0)
        what = f"carbonate of {alkali}, {100 * w:g} %, 20 °C"
        points.append(Point(CRC_CARBONATE, what, 0.0, ours, printed, 0.002 * printed, "kg/m3"))
    mixed = []
    for w, carbonate, t in caustic_grids.CARBONATED:
        theirs = outside.laliberte_density("KOH", w, t, carbonate)
        ours = density_with_carbonate("KOH", w, carbonate, t)
        what = f"KOH {100 * w:g} % with {100 * carbonate:g} %, {t:g} °C"
        mixed.append(Point(LALIBERTE_MIXED, what, 100 * w, ours, theirs, 1e-9 * theirs, "kg/m3"))
    for w, t in caustic_grids.OVER_READINGS:
        read = 100 * outside.laliberte_over_reading(w, 0.01, t)
        ours = 100 * over_reading("NaOH", density_with_carbonate("NaOH", w, 0.01, t), 0.01, t)
        what = f"1 % Na2CO3 reads as, NaOH {100 * w:g} %, {t:g} °C"
        points.append(Point(LALIBERTE_SODA, what, 100 * w, ours, read, CARBONATE_KNOWN_TO * read, "% NaOH"))
    x = spread(0.5, 45.0)
    curves = [
        sampled(
            f"ours, {100 * carbonate:g} % K2CO3",
            x,
            lambda w, c=carbonate: density_with_carbonate("KOH", w / 100, c, 25.0),  # type: ignore[misc]
        )
        for carbonate in (0.005, 0.03)
    ]
    shown = [p for p in mixed if p.what.endswith(", 25 °C")]
    read_as = [p for p in points if p.source is LALIBERTE_SODA and p.what.endswith(", 15 °C")]
    reading = sampled(
        "ours, 15 °C",
        spread(1.0, 50.0),
        lambda w: 100 * over_reading("NaOH", density_with_carbonate("NaOH", w / 100, 0.01, 15.0), 0.01, 15.0),
        lambda w: 5 * over_reading("NaOH", density_with_carbonate("NaOH", w / 100, 0.01, 15.0), 0.01, 15.0),
    )
    return Model(
        "density-carbonate",
        "Density of caustic with carbonate",
        "service/chemistry/carbonate_density.py: apparent volumes, Laliberté 2009",
        "0 to 100 °C; solutions of carbonate were measured to "
        f"{100 * source_range_ends('NaOH'):.1f} % (Na2CO3) and {100 * source_range_ends('KOH'):.1f} % (K2CO3)",
        f"{100 * CARBONATE_KNOWN_TO:g} % of what carbonate reads as, {100 * CARBONATE_GUESSED_TO:g} % beyond what was "
        "measured",
        "No measured density of caustic with carbonate was at hand: mixtures are compared with another program of the "
        "same rule, and each carbonate alone with two figures from memory.",
        STRENGTH,
        points + mixed,
        [
            Panel(STRENGTH, "density, kg/m3", curves, marked(shown), "KOH with carbonate, 25 °C", height=220.0),
            Panel(STRENGTH, "reads as, % NaOH", [reading], marked(read_as), "1 % Na2CO3 beside NaOH", height=180.0),
        ],
    )
