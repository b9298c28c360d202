"""Published figures of caustic solutions, as the tables of `data/` have them."""

from typing import NamedTuple, cast

from service.chemistry.molar_masses import Alkali
from tests.reference_cases.outside import read_table


class FirstSolidPoint(NamedTuple):
    """A published point of a freezing line."""

    alkali: Alkali
    w: float
    t: float
    """°C."""
    is_knot: bool
    """Whether the service interpolates through it."""
    solid: str
    """What crystallises from there up; empty where the source does not say."""
    source: str


def boiling_points(source: str, alkali: Alkali) -> list[tuple[float, float]]:
    """(mass fraction, °C at 1 atm) of one source."""
    return [
        (float(row["mass_fraction"]), float(row["temperature"]))
        for row in read_table("boiling_points.csv")
        if row["source"] == source and row["alkali"] == alkali
    ]


def first_solids() -> list[FirstSolidPoint]:
    """All of them."""
    return [
        FirstSolidPoint(
            cast("Alkali", row["alkali"]),
            float(row["mass_fraction"]),
            float(row["temperature"]),
            row["use"] == "knot",
            row["solid"],
            row["source"],
        )
        for row in read_table("first_solids.csv")
    ]


def parker(solid: str) -> float:
    """Heat of solution to infinite dilution [kJ/mol]."""
    return next(float(row["value"]) for row in read_table("parker_1965.csv") if row["solid"] == solid)


def carbonate_densities() -> list[tuple[Alkali, float, float]]:
    """(alkali, mass fraction of its carbonate alone in water, kg/m3 at 20 °C)."""
    return [
        (cast("Alkali", row["alkali"]), float(row["mass_fraction"]), float(row["density"]))
        for row in read_table("carbonate_densities.csv")
    ]
