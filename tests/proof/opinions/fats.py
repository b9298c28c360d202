"""The catalogue's saponification values, beside those that the fatty acids of the fats come to."""

from collections.abc import Iterator

from service.chemistry.fatty_acids import saponification_value
from service.reference import reference_data
from tests.proof.opinions.records import NONE, Axis, Check, Ground, Opinion, Point
from tests.reference_cases.saponification_validation import ACIDS, composition_limits, middles, usda_compositions

FAT = Axis("fat, in the order of the table", "-")
IN_THE_CATALOGUE = {
    "butterfat": "milk-fat",
    "cocoa-butter": "cocoa-butter",
    "coconut-usp": "coconut-oil",
    "goose": "goose-fat",
    "lard": "lard",
    "mutton-tallow": "mutton-tallow",
    "palm-high-oleic": "palm-oil-high-oleic",
    "rapeseed-low-erucic": "rapeseed-oil",
    "safflower-high-oleic": "safflower-oil-high-oleic",
    "shea": "shea-butter",
    "sunflower-high-oleic": "sunflower-oil-high-oleic",
    "sunflower-mid-oleic": "sunflower-oil-mid-oleic",
    "tallow": "beef-tallow",
}
"""What the catalogue calls them; all others are oils of the same word."""
OURS = "limits of standards, as the catalogue holds them; sources in `fat_figures.csv`"


def _point(place: int, fat: str, shares: dict[str, float]) -> Point:
    figure = reference_data().fats[IN_THE_CATALOGUE.get(fat, f"{fat}-oil")].saponification_value
    ours, half = 5e2 * (figure.low + figure.high), 5e2 * (figure.high - figure.low)
    return Point(float(place), 0.0, ours, half, 1e3 * saponification_value(shares, ACIDS))


def _points(compositions: list[tuple[str, dict[str, float]]]) -> tuple[Point, ...]:
    return tuple(_point(place, fat, shares) for place, (fat, shares) in enumerate(compositions, start=1))


def opinions() -> Iterator[Opinion]:
    """Of the fats that a table of compositions has, too."""
    pure = (
        Check(
            "saponification value of triolein [mg/g]",
            1e3 * saponification_value({"C18:1": 1.0}, ACIDS),
            190.1,
            Ground.BY_HAND,
            "on the abridged standard atomic weights, IUPAC/CIAAW 2021",
            0.1,
        ),
    )
    yield Opinion(
        name="saponification-standards",
        quantity="saponification value of fats",
        unit="mg/g",
        our_source=OURS,
        their_source="middles of the fatty acids of CXS 210-1999 and CXS 33-1981, reckoned as pure triglycerides",
        shared="the oils that the standards' authors looked at, but not the method: one titrates, one separates",
        points=_points([(fat, middles(limits)) for fat, limits in composition_limits().items()]),
        explanation="The acids come to 0.8 % less to 2.2 % more, mostly more, since a fat holds some that takes no "
        "alkali.",
        along=FAT,
        labels=tuple(composition_limits()),
        curves=NONE,
        checks=pure,
    )
    yield Opinion(
        name="saponification-usda",
        quantity="saponification value of fats",
        unit="mg/g",
        our_source=OURS,
        their_source="fatty acids of USDA SR26 (2013), one composition for each fat, reckoned as pure triglycerides",
        shared="nothing",
        points=_points([(row["fat"], shares) for row, shares in usda_compositions()]),
        explanation="Nearest to an end for cocoa butter, shea and mid-oleic sunflower, all at the upper one: for the "
        "same cause, and for the narrow range that the standard prints. Mutton tallow is held here to the 190 to 200 "
        "that the catalogue tells; to the Merck Index, which it does not use, the report holds the same sample, and "
        "lists it.",
        along=FAT,
        labels=tuple(f"{row['fat']}, {row['description']}" for row, _ in usda_compositions()),
        curves=NONE,
        checks=pure,
    )
