"""Densities of caustic solutions: handbooks, a table of dilute caustic soda, and another correlation."""

from collections.abc import Iterator

from service.chemistry import density
from service.chemistry.molar_masses import Alkali
from tests.proof.opinions.records import Excepted, Opinion, Point, Region, steps
from tests.reference_cases import outside
from tests.reference_cases.caustic_validation import CRC, ICT, PERRY_KOH, densities

OURS_NAOH = "Olsson, Jernqvist, Aly, Int. J. Thermophys. 18 (1997) 779-793"
OURS_KOH = "M. Laliberté, J. Chem. Eng. Data 54 (2009) 1725-1760"


def _point(alkali: Alkali, w: float, t: float, theirs: float) -> Point:
    ours = density.density(alkali, w, t)
    return Point(w, t, ours, density.density_half_width(alkali, w, t), theirs)


def _table(source: str) -> tuple[Point, ...]:
    return tuple(_point(alkali, w, t, printed) for alkali, w, t, printed in densities(source))


def _crc(alkali: Alkali) -> tuple[Point, ...]:
    table = outside.read_table("crc_caustic_20c.csv")
    return tuple(
        _point(alkali, float(row["mass_percent"]) / 100, 20.0, 1e3 * float(row["density"]))
        for row in table
        if row["solute"] == alkali
    )


def opinions() -> Iterator[Opinion]:
    """Of both hydroxides."""
    yield Opinion(
        name="density-naoh-ict",
        quantity="density of caustic soda",
        unit="kg/m3",
        our_source=OURS_NAOH,
        their_source=ICT,
        shared="nothing that is known: a fit of 1997 and a table of 1928",
        points=_table("ict"),
        explanation="Ours is 0.05 to 0.3 % lower below 40 °C, most at 0 °C and 30 %, and within 0.11 % from 40 °C up: "
        "the fit was made for warm strong caustic, and its own water is 0.23 % off at 0 °C.",
    )
    yield Opinion(
        name="density-naoh-table",
        quantity="density of caustic soda, to 6 mol/kg",
        unit="kg/m3",
        our_source=OURS_NAOH,
        their_source="table of 0.5 to 6 mol/kg without stated origin, consistent with IAPWS-95 water",
        shared="nothing that is known",
        points=_table("web"),
        explanation="Within 0.14 %, most at 85 °C and 6 mol/kg.",
    )
    yield Opinion(
        name="density-naoh-crc",
        quantity="density of caustic soda at 20 °C",
        unit="kg/m3",
        our_source=OURS_NAOH,
        their_source=CRC,
        shared="nothing that is known",
        points=_crc("NaOH"),
        explanation="Ours is up to 0.18 % lower, most at 30 %.",
    )
    grid = [(w, t) for t in (5.0, 10.0, 20.0, 30.0, 40.0, 60.0, 80.0, 100.0, 120.0) for w in steps(0.05, 0.50, 10)]
    yield Opinion(
        name="density-naoh-laliberte",
        quantity="density of caustic soda",
        unit="kg/m3",
        our_source=OURS_NAOH,
        their_source=outside.THERMO + "; to 50.3 %, 4 to 120 °C",
        shared="measurements that both were fitted to",
        points=tuple(_point("NaOH", w, t, outside.laliberte_density("NaOH", w, t)) for w, t in grid),
        explanation="Within 0.4 % to 30 % and 100 °C; beyond, Laliberté's form, a mixing rule of apparent volumes "
        "with one exponential in temperature, cannot follow strong caustic: at 50 % it is 1.2 % lower at 5 °C and 1.8 "
        "% higher at 120 °C. To 30 % it is up to 0.63 % lower at 120 °C, where there is no table to tell which is "
        "right; our interval holds it.",
        excepted=(
            Excepted(
                (
                    Region((0.345, 0.50), (5.0, 5.0)),
                    Region((0.395, 0.50), (10.0, 10.0)),
                    Region((0.445, 0.50), (20.0, 20.0)),
                    Region((0.345, 0.50), (40.0, 100.0)),
                    Region((0.445, 0.50), (120.0, 120.0)),
                ),
                "his strong caustic soda hardly expands below 30 °C (1.5161 at 15 °C, 1.5163 at 20 and 25 °C); the "
                "International Critical Tables say -0.7 kg/m3 per K and lie within our interval to 100 °C, where he is "
                "0.7 % above them at 40 % and 1.6 % at 50 %",
            ),
            Excepted(
                (
                    Region((0.195, 0.305), (30.0, 30.0)),
                    Region((0.05, 0.345), (40.0, 40.0)),
                    Region((0.095, 0.345), (60.0, 60.0)),
                ),
                "two tables (International Critical Tables, and that to 6 mol/kg) lie within 0.12 % of ours there and "
                "0.15 to 0.35 % below him",
            ),
            Excepted(
                (Region((0.245, 0.345), (80.0, 80.0)),),
                "the same: the International Critical Tables lie within 0.02 % of ours at 30 %",
            ),
            Excepted(
                (Region((0.095, 0.205), (100.0, 100.0)),),
                "near the hot end of his range he is 0.26 % below the International Critical Tables at 10 % and 0.15 % "
                "at 20 %, ours 0.07 % below and above",
            ),
        ),
    )
    yield Opinion(
        name="density-koh-handbooks",
        quantity="density of caustic potash at 15 and 18 °C",
        unit="kg/m3",
        our_source=OURS_KOH,
        their_source=f"{PERRY_KOH}; a Polish physics table at 18 °C without stated origin",
        shared="perhaps measurements that Laliberté was fitted to",
        points=(*_table("perry-koh"), *_table("polish")),
        explanation="Within 0.13 %.",
    )
    yield Opinion(
        name="density-koh-crc",
        quantity="density of caustic potash at 20 °C",
        unit="kg/m3",
        our_source=OURS_KOH,
        their_source=CRC,
        shared="nothing that is known",
        points=_crc("KOH"),
        explanation="The table is 0.04 % lower at 1 % and 0.65 % at 40 to 50 %: as if its solutions held about 3 % "
        "less hydroxide than it says. Its depressions of the freezing point are 2 to 3 % small in the same way.",
        excepted=(
            Excepted(
                (Region((0.065, 0.50), (20.0, 20.0)),),
                "alone against Perry, the Polish table and Laliberté's 237 points, which agree within 0.13 %",
            ),
        ),
    )
