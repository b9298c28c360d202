"""Which intervals were made from the very figures that the report holds against them, and prove nothing by holding."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from tests.proof.report.records import Evidence, Model, Point


class Made(NamedTuple):
    """An interval, and the figures that it was made from."""

    says: str
    """Which interval, and how it was made."""
    model: str = ""
    """Key of the model whose points these are; empty where they stand among the second opinions alone."""
    sources: tuple[str, ...] = ()
    """Their labels there."""


WIDENED: Final = (
    Made(
        "the boiling point of NaOH from 10 to 43 %, until it held Gerlach's; that and the vapour pressure are nowhere "
        "told better than Olsson and Balej agree",
        "boiling",
        ("Balej 1985",),
    ),
    Made("the heat capacity of NaOH from 25 to 40 %, until it held the slope of Olsson's enthalpy"),
    Made("the heat of diluting solutions below 10 %, until it held Thomsen's and the textbook's"),
    Made(
        "the first solid of KOH below 7 %, to the cold side, until it held Pitzer's; that of NaOH from 47 % up, to the "
        "warm side, until it held a maker's figure and an encyclopedia's",
        "first-solid",
        ("Dow", "Soviet encyclopedia"),
    ),
    Made("the density of NaOH above 100 °C, until it held Laliberté's at 120 °C to 30 %"),
)
"""Where a source had lain outside."""
JUDGED: Final = (
    Made(
        "the density of NaOH to 100 °C holds every deviation of the International Critical Tables (0.30 % at 0 °C, "
        "0.11 % from 40 °C up) and of the table to 6 mol/kg (0.14 %)",
        "density-naoh",
        ("ICT 1928", "table without origin"),
    ),
    Made(
        "the density of KOH, 0.2 % at 15 to 20 °C, was chosen by the two tables that lie within 0.13 %",
        "density-koh",
        ("physics table", "Perry"),
    ),
    Made("the viscosity, 12 %, by the CRC Handbook's table, which is up to 9.1 % off", "viscosity", ("CRC 2021",)),
    Made(
        "the heat capacity, 3 % from 25 % up, by what Laliberté and Olsson differ by, to both of whom it was fitted",
        "heat-capacity",
        ("Laliberté 2009, heat capacity", "Olsson 1997, slope"),
    ),
    Made(
        "the heat of dilution of KOH by what Balej and Thomsen differ by, to both of whom it was fitted; that of NaOH "
        "by what Olsson, Silvester & Pitzer, Thomsen and the textbook do, of whom it was fitted to the first two",
        "heat-of-solution",
        ("Balej 1985, heats", "Thomsen, KOH", "Thomsen", "Felder & Rousseau", "Silvester & Pitzer"),
    ),
    Made(
        "the heats of fusion of the hydrates with 4, 3.5 and 2 molecules of water are the means of the 11 stretches of "
        "the freezing line that are shown beside them, and their limits were drawn about these; the limit of the "
        "monohydrate is the most by which its 3 are off (1.90 kJ/mol)",
        "thawing",
        ("slope of the freezing line", "Parker 1965, monohydrate"),
    ),
    Made(
        "the first solid of NaOH where Wang's plot has it, 1.5 K, by what he and the CRC Handbook (1 K) and he and "
        "Pickering (1.1 K) differ by",
        "first-solid",
        ("Wang 2008",),
    ),
    Made(
        "what carbonate reads as, 5 %, by the figures of Laliberté that it is compared with (within 3 %)",
        "density-carbonate",
        ("Laliberté 2009, soda (program)",),
    ),
    Made(
        "the heat capacity of free fatty acids above 50 °C reaches 0.2 to 2.3 % beyond the highest of Zábranský's; "
        "below it was left at that of fats, since the CRC Handbook's oleic acid lies within it",
        "batch-heat",
        ("Zábranský, free acids", "CRC, oleic acid"),
    ),
    Made(
        "the density of liquids by their composition, 3 %, by the household weights, which are up to 1.7 % off",
        "batter-density",
        ("USDA SR26, cups",),
    ),
    Made(
        "what is claimed of the density, the heat capacity and the viscosity of water, and of the enthalpies of water, "
        "ice and steam, was read off the deviations from IAPWS's, with room",
        "water",
        ("IAPWS-IF97 (program)", "IAPWS-IF97, heat (program)", "IAPWS 2008 (program)", "IAPWS R10 (program)"),
    ),
    Made("so was that of the conductivity of water", "convection", ("IAPWS R15 (program)",)),
)
"""Where it was drawn about the figures from the start."""


def lines() -> list[str]:
    """Both lists."""
    return [
        *[f"- {one.says}" for one in WIDENED],
        "",
        "Others were chosen by the figures that are held against them, which prove little by lying within:",
        "",
        *[f"- {one.says}" for one in JUDGED],
        "",
    ]


def of_their_interval(model: Model, point: Point) -> bool:
    """Whether the interval that a figure is held to was made from it."""
    return any(one.model == model.key and point.source.label in one.sources for one in (*WIDENED, *JUDGED))


def proofs_that_are_none(every: Sequence[Model]) -> int:
    """How many figures are independent of their model and seen, and were what their interval was made from."""
    return sum(
        of_their_interval(model, point) and point.source.is_independent and point.source.evidence is Evidence.SEEN
        for model in every
        for point in model.points
    )
