"""Acids of a request: what takes alkali beyond the fats' need, and what heat that gives."""

from collections.abc import Sequence
from typing import Annotated, Final

from msgspec import Meta

from service.calculations.shared.given import Mass
from service.calculations.shared.identifiers import SHELF
from service.calculations.shared.messages import Identifier
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import Ruled
from service.chemistry.saponification_budget import Reagent
from service.reference import reference_data

HEAT_OF_NEUTRALISATION: Final = 56e3
"""For each mole of hydroxide that an acid takes [J/mol]: water from its ions gives 55.8 kJ/mol (CRC Handbook, from
memory), and the weak acids of the trade give within a few per cent of it."""


class AcidLine(Ruled, kw_only=True):
    """An acid of the catalogue and its mass as weighed."""

    acid: Annotated[Identifier, Meta(examples=["citric-acid-anhydrous"], extra={SHELF: "acids"})]
    mass: Annotated[Mass, Meta(description="Its mass.", examples=["10 g"])]


def hydroxide_per_mass(identifier: str) -> float:
    """Hydroxide that one mass of an acid of the catalogue takes [mol/kg].

    Raises:
        KeyError: there is none of that name.
    """
    acid = reference_data().acids[identifier]
    return acid.content * acid.protons / acid.molar_mass


def weighed_acids(lines: Sequence[AcidLine], notes: Notes, at: str = "/acids") -> list[Reagent]:
    """The acids of a request; faults go into the notes."""
    found = []
    for index, line in enumerate(lines):
        try:
            takes = hydroxide_per_mass(line.acid)
        except KeyError:
            notes.unknown("acids", line.acid, f"{at}/{index}/acid")
            continue
        found.append(Reagent(line.acid, line.mass.value, takes, mass_part=part_of(line.mass)))
    return found


def caution_acids(acids: Sequence[Reagent], notes: Notes) -> None:
    """Say how much heat the acids of a recipe give off with caustic, and how not to bring them together."""
    heat = sum(one.mass * one.content for one in acids) * HEAT_OF_NEUTRALISATION / 1000
    if heat:
        told = f"{heat:.0f}" if heat >= 10 else f"{heat:.2g}"
        notes.caution(
            "acid-heats-caustic",
            f"The acids and caustic react at once and give off about {told} kJ. Never put an acid, dry or strong, into "
            "a stock or onto solid alkali: it boils and spatters. Thin it with cold water first, and bring the two "
            "together slowly, stirring.",
        )
