"""Published densities of fats and of liquids of a batch, for the tests and the validation report."""

from collections.abc import Iterator
from typing import Final, NamedTuple

from service.calculations.batch.blend_reading import content_of
from service.chemistry import food_density
from service.chemistry.food_heat import Dry
from service.reference import reference_data
from tests.reference_cases.outside import read_table

WATER_AT_20: Final = 998.2
"""kg/m3; relative densities are told against water of 20 °C."""


class PublishedFat(NamedTuple):
    """A fat at a temperature [°C], and the limits of its density [kg/m3]."""

    fat: str
    temperature: float
    low: float
    high: float
    source: str
    use: str
    """`interval` where ours was drawn about it, `own` where ours of that fat is made of it, else `outside`."""


class Household(NamedTuple):
    """A liquid's density by its composition and by the weight of a cup of it [kg/m3]."""

    name: str
    ours: float
    by_weight: float


def published_fats() -> Iterator[PublishedFat]:
    """What standards and pharmacopoeias say of fats."""
    for row in read_table("fat_relative_densities.csv"):
        low, high = (WATER_AT_20 * float(row[name]) for name in ("low", "high"))
        yield PublishedFat(row["fat"], float(row["temperature"]), low, high, row["source"], row["use"])


def household_weights() -> Iterator[Household]:
    """Liquids of which a table of foods tells what a cup weighs."""
    for name, liquid in sorted(reference_data().liquids.items()):
        if liquid.density is not None and liquid.density.source == "usda-sr26":
            held = content_of(name)
            yield Household(name, food_density.density(held.water, held.dry, 20.0), liquid.density.middle)


def fat_by_choi_and_okos(t: float) -> float:
    """Density of the fat in food at a temperature [°C], kg/m3."""
    return food_density.density(0.0, Dry(fat=1.0), t)
