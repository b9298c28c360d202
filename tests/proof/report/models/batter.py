"""Densities of fats and of the liquids of a batch."""

from collections.abc import Iterator
from typing import Final

from service.chemistry import batter, food_density
from tests.proof.report.models.works import INTERVAL
from tests.proof.report.plot import Panel
from tests.proof.report.records import Evidence, Model, Point, Source
from tests.proof.report.sampling import marked, sampled, spread
from tests.reference_cases.batter_validation import fat_by_choi_and_okos, household_weights, published_fats

CODEX: Final = Source(
    "Codex, relative densities",
    "Codex Alimentarius Commission",
    "CXS 210-1999 table 2 and CXS 33-1981",
    "1999, amended to 2022",
    "least and highest relative density of a fat",
    Evidence.SEEN,
    INTERVAL,
    "in reprints; what is taken for all fats, 900 to 936 kg/m3 at 20 °C, was drawn about these limits",
    is_made_of=True,
)
PHARMACOPOEIA: Final = CODEX._replace(
    label="British Pharmacopoeia",
    body="British Pharmacopoeia Commission",
    title="British Pharmacopoeia",
    year="1993 and undated",
    where="monographs Castor Oil, Virgin Linseed Oil",
    note="in reprints; castor oil is taken by it, and that of all fats was drawn to hold linseed oil",
)
MERCK: Final = CODEX._replace(
    label="Merck Index",
    body="Merck & Co.",
    title="The Merck Index",
    year="edition not recalled",
    where="monograph Jojoba Oil",
    note="jojoba oil is taken by it",
)
MALAYSIA: Final = Source(
    "Malaysia 1985",
    "Government of Malaysia",
    "Food Regulations 1985",
    "1985",
    "regulation 181, relative density of beef tallow at 40 °C",
    Evidence.SEEN,
    INTERVAL,
    "in a reprint; the interval was not drawn about it",
)
FAT_IN_FOOD: Final = Source(
    "Choi & Okos 1986, fat",
    "Y. Choi, M. R. Okos",
    "Effects of temperature and composition on the thermal properties of foods",
    "1986",
    "density of fat, ASHRAE Handbook - Refrigeration 2006, ch. 9, table 1",
    Evidence.SEEN,
    INTERVAL,
    "as the ASHRAE Handbook prints it; the service takes it for the fat in milk and other liquids alone",
)
HOUSEHOLD: Final = Source(
    "USDA SR26, cups",
    "U.S. Department of Agriculture",
    "National Nutrient Database for Standard Reference, release 26",
    "2013",
    "household weights: grams of a cup or of a fluid ounce",
    Evidence.SEEN,
    "3 %, which the service tells of a density by composition; the weights themselves are good to 1 to 2 %",
    "where it knows such a weight, the service takes that",
)
_WORKS: Final = {"codex": CODEX, "bp": PHARMACOPOEIA, "merck": MERCK, "malaysia": MALAYSIA}
_DIGIT: Final = 0.05
"""Half a unit of the last digit that the service keeps of a fat's own limits [kg/m3]."""
_ANY: Final = "a fat like most"
_ODD: Final = ("castor-oil", "jojoba-oil")


def _fats() -> Iterator[Point]:
    for one in published_fats():
        ours = batter.fat_density(one.fat, one.temperature)
        ends = {"least": one.low, "highest": one.high} if one.low < one.high else {"": one.low}
        for name, published in ends.items():
            what = ", ".join(part for part in (one.fat, f"{one.temperature:g} °C", name) if part)
            room = ours.half_width + (_DIGIT if one.use == "own" else 0.0)
            yield Point(_WORKS[one.source], what, one.temperature, ours.density, published, room, "kg/m3")
    for t in (0.0, 20.0, 40.0, 60.0, 80.0, 100.0):
        any_fat = batter.fat_density(_ANY, t)
        theirs = fat_by_choi_and_okos(t)
        yield Point(FAT_IN_FOOD, f"fat, {t:g} °C", t, any_fat.density, theirs, any_fat.half_width, "kg/m3")


def _liquids() -> Iterator[Point]:
    for one in household_weights():
        room = food_density.SPREAD * one.ours
        yield Point(HOUSEHOLD, f"{one.name}, 20 °C", 20.0, one.ours, one.by_weight, room, "kg/m3")


def model() -> Model:
    """Both."""
    fats, liquids = list(_fats()), list(_liquids())
    curve = sampled(
        "ours, a fat like most",
        spread(0.0, 100.0),
        lambda t: batter.fat_density(_ANY, t).density,
        lambda t: batter.fat_density(_ANY, t).half_width,
    )
    shown = [point for point in fats if not point.what.startswith(_ODD)]
    hottest = batter.fat_density(_ANY, 100.0)
    own = fat_by_choi_and_okos(100.0)
    return Model(
        "batter-density",
        "Densities of fats and of the liquids of a batch",
        "service/chemistry/batter.py: limits of standards, with an expansion from memory; food_density.py: Choi & Okos "
        "1986, by composition",
        "fats and liquids of 0 to 100 °C; castor and jojoba oil by their own figures, all other fats by one",
        f"{hottest.half_width:g} kg/m3 of a fat, less of castor and jojoba oil; {100 * food_density.SPREAD:g} % of a "
        "liquid",
        "How much fats expand is from memory, and no measured density of a warm fat was at hand but the limits of "
        "standards at 40 and 50 °C; of one fat alone, beef tallow, was the interval not drawn about them. Choi and "
        f"Okos's fat expands less, and at 100 °C is {own - hottest.density:.0f} kg/m3 above ours. Household weights "
        "are what the interval of liquids was chosen by. Nothing published was at hand of a batter or the air in it.",
        "temperature, °C",
        fats + liquids,
        [Panel("temperature, °C", "density, kg/m3", [curve], marked(shown), "Liquid fats", height=240.0)],
    )
