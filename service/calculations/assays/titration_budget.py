"""The uncertainty budget of a titration: every input with its spread, and how much of the whole it brings.

Inputs are told in metric units whatever the answer's are, since a budget is compared with certificates.
"""

from collections.abc import Iterable, Sequence
from math import isclose, sqrt
from typing import Annotated, Final, Literal, NamedTuple

from msgspec import Meta, Struct

from service.calculations.shared.notes import Notes, Worked
from service.calculations.shared.told import FractionFigure
from service.chemistry.titration import shares
from service.chemistry.uncertainty import Combined, Part, coverage_factor, coverage_half_width

BudgetInput = Literal[
    "acid_molarity",
    "acid_temperature",
    "acid_volume",
    "back_titration_molarity",
    "back_titration_volume",
    "carbonate_molar_mass",
    "density",
    "end_point_detection",
    "first_end_point",
    "first_end_point_colour",
    "first_end_point_detection",
    "hydroxide_molar_mass",
    "sample_mass",
    "sample_volume",
    "scale_division",
    "second_end_point",
    "second_end_point_colour",
    "second_end_point_detection",
]
Distribution = Literal["exact", "normal", "rectangular", "triangular"]


class BudgetLine(Struct, frozen=True, kw_only=True):
    """What one input brings to the uncertainty of the result."""

    input: Annotated[BudgetInput, Meta(description="The input, mostly a member of the request.")]
    value: Annotated[Worked, Meta(description="Its value; of a correction that is not made, 0.")]
    standard_uncertainty: Annotated[Worked, Meta(description="Its standard uncertainty.")]
    distribution: Annotated[
        Distribution, Meta(description="How its error is distributed; `exact` where it was given without a spread.")
    ]
    sensitivity: Annotated[Worked, Meta(description="Change of the mass fraction for one unit of the input.")]
    contribution: Annotated[
        FractionFigure, Meta(description="Standard uncertainty it brings to the mass fraction, in mass fraction.")
    ]
    share: Annotated[FractionFigure, Meta(description="Its share of the variance; all shares add up to the whole.")]


Budget = Annotated[
    list[BudgetLine],
    Meta(
        description="Every input of `strength` or `free_alkali` by JCGM 100:2008, with its share of the variance. "
        "Numbers are in metric units and in full, whatever `units` and `digits` say."
    ),
]


class Unit(NamedTuple):
    """The unit that an input is told in."""

    symbol: str
    si: float
    """How much of SI it is."""
    per: str
    """The unit of a mass fraction for each of it."""
    of_difference: str | None = None
    """That of its uncertainty, where it is another."""


ML: Final = Unit("mL", 1e-6, "1/mL")
G: Final = Unit("g", 1e-3, "1/g")
MOL_L: Final = Unit("mol/L", 1e3, "L/mol")
KG_L: Final = Unit("kg/L", 1e3, "L/kg")
G_MOL: Final = Unit("g/mol", 1e-3, "mol/g")
CELSIUS: Final = Unit("°C", 1.0, "1/K", "K")


class Entry(NamedTuple):
    """An input of the budget: its value and spread in SI, and how the result changes with it."""

    input: BudgetInput
    value: float
    part: Part
    sensitivity: float
    unit: Unit


def distribution(part: Part) -> Distribution:
    """How the error of an input is distributed, by its spread."""
    if part.standard_uncertainty <= 0:
        return "exact"
    if part.rectangular_half_width <= 0:
        return "normal"
    rectangle = part.rectangular_half_width / sqrt(3)
    return "rectangular" if isclose(part.standard_uncertainty, rectangle, rel_tol=1e-9) else "triangular"


def budget_of(entries: Sequence[Entry]) -> tuple[Combined, list[BudgetLine]]:
    """The combined uncertainty, and the line of each input."""
    combined, parts = shares([(one.sensitivity, one.part) for one in entries])
    return combined, [_line(one, share) for one, share in zip(entries, parts, strict=True)]


def _line(one: Entry, share: float) -> BudgetLine:
    unit = one.unit
    return BudgetLine(
        input=one.input,
        value=Worked(_as_given(one.value / unit.si), unit.symbol),
        standard_uncertainty=Worked(
            _as_given(one.part.standard_uncertainty / unit.si), unit.of_difference or unit.symbol
        ),
        distribution=distribution(one.part),
        sensitivity=Worked(one.sensitivity * unit.si, unit.per),
        contribution=FractionFigure(abs(one.sensitivity) * one.part.standard_uncertainty),
        share=FractionFigure(share),
    )


def _as_given(value: float) -> float:
    """A reading without what going to SI and back left of it: 25.3 mL, not 25.300000000000004."""
    return float(f"{value:.12g}")


def explain_spread(result: str, entries: Iterable[Entry], combined: Combined, notes: Notes) -> None:
    """The combined uncertainty of a mass fraction and its interval, so that a person can redo them.

    Args:
        result: what the mass fraction is of.
        entries: the inputs.
        combined: their combined uncertainty.
        notes: where the steps go.
    """
    parts: dict[str, float] = {one.input: abs(one.sensitivity) * one.part.standard_uncertainty for one in entries}
    moved = {name: (value, "1") for name, value in parts.items() if value > 0}
    if not moved:
        return
    notes.step(
        f"standard uncertainty of {result}",
        f"sqrt({' + '.join(f'{name}**2' for name in moved)})",
        moved,
        (combined.standard_uncertainty, "1"),
        "JCGM 100:2008, 5.1.2: contributions of the inputs, as the budget of each has them",
    )
    notes.step(
        f"half-width of {result}",
        "coverage_factor * standard_uncertainty",
        {
            "coverage_factor": (coverage_factor(combined), "1"),
            "standard_uncertainty": (combined.standard_uncertainty, "1"),
        },
        (coverage_half_width(combined), "1"),
        "covers 95 %; the factor is 1.645 for one rectangle alone and 1.960 for a normal distribution",
    )
