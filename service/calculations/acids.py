"""Acids of a request: what takes alkali beyond the fats' need."""

from collections.abc import Sequence
from typing import Annotated

from msgspec import Meta

from service.calculations.given import Mass
from service.calculations.identifiers import SHELF
from service.calculations.messages import Identifier
from service.calculations.notes import Notes
from service.calculations.reading import part_of
from service.calculations.rules import Ruled
from service.chemistry.saponification_budget import Reagent
from service.reference import reference_data


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
