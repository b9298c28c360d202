"""What the service takes from tables and constants and nothing independent was at hand for, and what a check is.

Every quantity of the data files is either part of a model of the report or stands in `UNCHECKED`; a test holds that.
"""

from collections.abc import Sequence
from typing import Final, NamedTuple

from tests.proof.data_figures import data_figures
from tests.proof.figures import Found
from tests.proof.report.judged import of_their_interval
from tests.proof.report.records import Model, Point
from tests.proof.report.writing import table
from tests.reference_cases.outside import read_table

IN_MODELS: Final = {
    "alkalis.toml molar_mass": ("molar-masses",),
    "acids.csv molar_mass": ("molar-masses",),
    "alkali_enthalpy.csv": ("heat-capacity", "heat-of-solution", "enthalpy"),
    "balej_1985.csv": ("boiling", "vapour-pressure"),
    "choi_okos_1986.csv": ("batch-heat",),
    "choi_okos_1986_density.csv": ("batter-density",),
    "fat_densities.csv": ("batter-density",),
    "fat_fatty_acids.csv": ("saponification-value", "iodine-value"),
    "fat_figures.csv iodine_value": ("iodine-value",),
    "fat_figures.csv saponification_value": ("saponification-value",),
    "fatty_acids.csv": ("molar-masses",),
    "freezing_points.csv": ("first-solid",),
    "iapws_if97_region4.csv": ("water",),
    "kell_1975.csv": ("water",),
    "laliberte_2009.csv": ("density-koh", "viscosity"),
    "liquid_figures.csv density": ("batter-density",),
    "olsson_1997.csv": ("density-naoh", "vapour-pressure"),
    "olsson_1997_validity.csv": ("density-naoh",),
}
"""Models of the report that the quantities of a data file are part of, by their keys."""


class Unchecked(NamedTuple):
    """A quantity that stands beside no independent figure."""

    quantity: str
    figures: tuple[str, ...]
    """Files of data with the property, as `group` has it, or modules with the constant."""
    rests: str
    """On what it rests."""


UNCHECKED: Final = (
    Unchecked(
        "Composition of milk, juices and other liquids; their alcohol and acidity",
        (
            "liquids.csv",
            "liquid_figures.csv water",
            "liquid_figures.csv carbohydrate",
            "liquid_figures.csv alcohol",
            "liquid_figures.csv acidity",
        ),
        "one table of foods; acidities mostly from memory or chosen. No second analysis of any was at hand",
    ),
    Unchecked(
        "Heat capacity, conductivity and density of the materials of vessels, and what they stand",
        (
            "vessel_materials.toml heat_capacity",
            "vessel_materials.toml conductivity",
            "vessel_materials.toml density",
            "vessel_materials.toml limits",
        ),
        "one standard or maker each, and handbooks from memory",
    ),
    Unchecked(
        "Unsaponifiable matter, melting points and titres of fats",
        ("fat_figures.csv unsaponifiable", "fat_figures.csv melting", "fat_figures.csv titre"),
        "standards and handbooks; where several speak of a fat, the catalogue tells them side by side",
    ),
    Unchecked(
        "Purity of alkalis as they are bought, and the carbonate in them; strength of acids as they are sold",
        (
            "alkalis.toml purity",
            "alkalis.toml carbonate",
            "alkalis.toml default_purity",
            "acids.csv content",
            "acids.csv protons",
        ),
        "limits of one specification each, usual strengths of the trade, and counting of protons",
    ),
    Unchecked(
        "Rules of thumb that are shown, and taken by no calculation", ("practices.toml",), "workshops, old books"
    ),
    Unchecked(
        "Heats of saponification and of neutralisation",
        ("batch/blend_runs.py HEAT_OF_SAPONIFICATION", "batch/acids.py HEAT_OF_NEUTRALISATION"),
        "a heat of another ester that was read, and one from memory",
    ),
    Unchecked(
        "Density of a batter: air that stirring leaves, additions, solid alkali; and how much warm fats expand",
        (
            "batter.py USUAL_AIR",
            "batter.py _PER_KELVIN",
            "orders/batch_content.py ADDITION",
            "orders/batch_content.py SOLID",
        ),
        "common practice, what was chosen, and memory",
    ),
    Unchecked(
        "Conductivity of caustic in a bath, emissivities of walls, evaporation from an open vessel",
        (
            "bath.py CONDUCTIVITY",
            "standing_loss.py DULL",
            "standing_loss.py BARE_METAL",
            "standing_loss.py EVAPORATION",
        ),
        "handbooks from memory, and factors that were chosen wide; of the conductivity a correlation stands among the "
        "second opinions",
    ),
    Unchecked(
        "Heat capacity of what is neither hydroxide nor water, and how much of a frozen liquid stays liquid",
        ("equilibrium.py INERT_HEAT_CAPACITY", "batch_spread.py _HELD_BACK"),
        "chosen; both bear on a few tenths of a kelvin",
    ),
    Unchecked("Digits of currencies", ("currencies.csv",), "a standard of names; no measurement"),
)
CRC_ROWS: Final = "crc_caustic_20c.csv"


def group(found: Found) -> str:
    """The data file of a figure, with its property where the file holds several of different kinds."""
    file = found.place.partition(":")[0]
    if file.endswith(".toml") and file != "practices.toml":
        return f"{file} {found.name.split('.')[1]}"
    if file in {"fat_figures.csv", "liquid_figures.csv"}:
        return f"{file} {found.name.split()[1]}"
    return f"{file} {found.name.split()[-1]}" if file == "acids.csv" else file


def groups() -> set[str]:
    """Those of all data files."""
    return {group(one) for one in data_figures()}


def lines(every: Sequence[Model]) -> list[str]:
    """Both parts of the page."""
    rows = [(one.quantity, ", ".join(f"`{place}`" for place in one.figures), one.rests) for one in UNCHECKED]
    return [
        "### Not checked against anything independent",
        "",
        "What the service takes from its tables and constants, that no model below holds, or holds a part of only:",
        "",
        *table(("quantity", "figures", "what it rests on"), rows),
        "",
        *_handbook(every),
    ]


def _handbook(every: Sequence[Model]) -> list[str]:
    """The rule by which rows of one handbook, which much is both made of and held against, count as checks."""
    held = sum(1 for _ in read_table(CRC_ROWS))
    rows = []
    for model in every:
        labels = dict.fromkeys(one.source.label for one in model.points if one.source.label.startswith("CRC"))
        for label in labels:
            points = [point for point in model.points if point.source.label == label]
            rows.append((model.title, label, f"{len(points)}", *_counted(model, points)))
    return [
        "### Which rows of the CRC Handbook are checks",
        "",
        "Models rest on this handbook and are held against it. A row counts as a check of a quantity where the service "
        "takes neither that quantity nor the coefficients of its model from the handbook; a row that the model goes "
        "through, or was fitted to, is none, whatever else stands in it. So of the table of solutions at 20 °C the "
        "depressions of the freezing point are what the ice lines are made of, all of them, and prove nothing, while "
        f"densities and viscosities, whose models are others' correlations, are checks. Of that table {held} rows were "
        "typed in, some of each alkali; the service takes none of the others but the depressions. "
        "Whether Olsson and Laliberté had the handbook's figures among their own is not known.",
        "",
        *table(("model", "rows", "figures", "independent", "of these held to an interval made from them"), rows),
        "",
    ]


def _counted(model: Model, points: Sequence[Point]) -> tuple[str, str]:
    independent = [point for point in points if point.source.is_independent]
    return f"{len(independent) or 'none'}", f"{sum(of_their_interval(model, point) for point in independent) or ''}"
