"""A list of ingredients in the order that a law asks for."""

from collections.abc import Sequence
from typing import Literal, NamedTuple

from service.calculations.orders.label_laws import EQUAL, Law, is_little

Kind = Literal["ingredient", "colour", "allergen"]


class Material(NamedTuple):
    """Something that a label names: its mass [kg], what it is, and how well its name was verified."""

    inci_name: str
    mass: float
    kind: Kind
    evidence: str


class Listed(NamedTuple):
    """A line of a list of ingredients."""

    inci_name: str
    share: float
    in_any_order: bool
    """Whether the law leaves open where among its like it stands."""
    evidence: str


def listed(materials: Sequence[Material], whole: float, law: Law, sold: float | None = None) -> list[Listed]:
    """Ingredients in the order of a law; the same name is one ingredient.

    First what there is much of, the most first; then what there is little of; then colours. What may stand in any
    order is told the most first, too, and equals by name, so that the same recipe gets the same list. An allergen is
    told by its share of the whole beside the fragrance that holds it, and only from the law's threshold on, which is a
    share of what is sold.

    Args:
        materials: in any order; masses at least 0.
        whole: mass that shares are of [kg].
        law: by which.
        sold: mass of the finished product [kg]; default the whole.
    """
    together: dict[tuple[str, Kind], tuple[float, str]] = {}
    for one in materials:
        mass, evidence = together.get((one.inci_name, one.kind), (0.0, one.evidence))
        together[one.inci_name, one.kind] = mass + one.mass, min(evidence, one.evidence)
    groups: dict[str, list[Listed]] = {"much": [], "little": [], "colour": []}
    for (name, kind), (mass, evidence) in together.items():
        share = mass / whole
        if share <= 0 or (kind == "allergen" and not _is_named(law, mass / (sold or whole))):
            continue
        little = is_little(law, share)
        group = "colour" if kind == "colour" else "little" if little else "much"
        groups[group].append(Listed(name, share, group != "much", evidence))
    return [line for group in groups.values() for line in _descending(group)]


def _is_named(law: Law, share: float) -> bool:
    return law.allergens_from is not None and share > law.allergens_from * (1 + EQUAL)


def _descending(lines: list[Listed]) -> list[Listed]:
    """The most first; what differs by rounding alone, by name."""
    by_share = sorted(lines, key=lambda one: -one.share)
    found: list[Listed] = []
    tied: list[Listed] = []
    for one in by_share:
        if tied and tied[0].share - one.share > EQUAL * tied[0].share:
            found += sorted(tied, key=lambda line: line.inci_name)
            tied = []
        tied.append(one)
    return found + sorted(tied, key=lambda line: line.inci_name)
