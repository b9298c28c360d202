"""Materials over a whole plan: what is required, what is there, what lacks and what is bought."""

from collections.abc import Mapping, Sequence
from math import ceil
from typing import Final

from msgspec import UNSET

from service.calculations.orders.csv_lines import MASS_UNITS, VOLUME_UNITS, Line, csv_text, quantity_text
from service.calculations.orders.plan_answer import MaterialLine
from service.calculations.orders.plan_request import PlanMaterial
from service.calculations.shared.faults import near
from service.calculations.shared.notes import Notes
from service.calculations.shared.told import CountFigure, MassFigure
from service.chemistry.ranges import ROUNDING

ICE: Final = "ice"
STOCK: Final = "stock"
"""What materials of a mixing are needed for."""
NAMED: Final = 3
"""Materials that a message names."""
LOOKED_AT: Final = 20
"""Materials that names are compared of: it takes time."""


class Required:
    """What a plan takes, by material [kg], and for what."""

    def __init__(self) -> None:
        self.masses: dict[str, float] = {}
        self.needed_for: dict[str, dict[str, None]] = {}

    def add(self, material: str, mass: float, needed_for: str) -> None:
        """Add what something takes.

        Args:
            material: as weigh lists call it.
            mass: of it, at least 0 [kg].
            needed_for: SKU, or the stock.
        """
        self.masses[material] = self.masses.get(material, 0.0) + mass
        self.needed_for.setdefault(material, {})[needed_for] = None


def check_materials(given: Sequence[PlanMaterial], notes: Notes) -> dict[str, PlanMaterial]:
    """Materials of the shelf by name; faults go into the notes.

    Args:
        given: as the request has them.
        notes: where faults and assumptions go.
    """
    found: dict[str, PlanMaterial] = {}
    for index, one in enumerate(given):
        at = f"/materials/{index}"
        if one.material in found:
            notes.fault(f"{at}/material", "contradiction", f"{one.material[:60]} is listed twice", "put it on one line")
        if one.unit in VOLUME_UNITS and one.density is None:
            notes.fault(
                f"{at}/unit",
                "unit-does-not-fit",
                f"{one.unit} is a volume, and {one.material[:60]} is weighed: nothing says how heavy it is",
                "give density, or count it in a unit of mass",
            )
        found[one.material] = one
    return found


def material_lines(required: Required, shelf: Mapping[str, PlanMaterial]) -> list[MaterialLine]:
    """A line for each material that is required, by name.

    Args:
        required: what the plan takes.
        shelf: what is there, by material.
    """
    return [
        _line(material, required.masses[material], list(required.needed_for[material]), shelf.get(material))
        for material in sorted(required.masses)
        if required.masses[material] > 0
    ]


def caution_unused(shelf: Mapping[str, PlanMaterial], lines: Sequence[MaterialLine], notes: Notes) -> None:
    """Say which materials of the shelf nothing takes: one may be what lacks, by another name.

    Args:
        shelf: what is there, by material.
        lines: of the plan.
        notes: where the caution goes.
    """
    required = {one.material for one in lines}
    short = [one.material for one in lines if one.short.value > 0]
    unused = [name for name in shelf if name not in required]
    if not unused:
        return
    close = {name: near(name, short) for name in unused[:LOOKED_AT]}
    first = sorted(unused, key=lambda name: not close.get(name))[:NAMED]
    more = f" and {len(unused) - NAMED} more" if len(unused) > NAMED else ""
    named = "; ".join(f"{name[:40]}{close.get(name, '')}" for name in first)
    notes.caution(
        "materials-not-taken",
        f"Nothing in this plan takes these materials of the shelf: {named}{more}. What is meant for a recipe must have "
        "the name that it has there.",
        "caution" if any(close.values()) else None,
    )


def _line(material: str, mass: float, needed_for: list[str], at_hand: PlanMaterial | None) -> MaterialLine:
    there = 0.0 if at_hand is None or at_hand.mass is None else at_hand.mass.value
    short = mass - there
    short = 0.0 if short <= ROUNDING * mass else short
    package = None if at_hand is None or at_hand.package_mass is None else at_hand.package_mass.value
    packages = None if package is None else ceil(short / package * (1 - ROUNDING))
    purchase = short if package is None or packages is None else packages * package
    code, per_unit = _unit(at_hand)
    return MaterialLine(
        material=material,
        sku=material if at_hand is None or at_hand.sku is None else at_hand.sku,
        description=material if at_hand is None or at_hand.description is None else at_hand.description,
        required=MassFigure(mass),
        on_hand=MassFigure(there),
        short=MassFigure(short),
        purchase=MassFigure(purchase),
        packages=UNSET if packages is None else CountFigure(packages),
        quantity=quantity_text(mass / per_unit),
        short_quantity=quantity_text(short / per_unit, up=True),
        purchase_quantity=quantity_text(purchase / per_unit, up=True),
        unit_code=code,
        needed_for=needed_for,
    )


def _unit(at_hand: PlanMaterial | None) -> tuple[str, float]:
    """Code of the unit that a material is counted in, and how heavy one of it is [kg]."""
    unit = "kg" if at_hand is None or at_hand.unit is None else at_hand.unit
    if unit in MASS_UNITS:
        return MASS_UNITS[unit]
    code, volume = VOLUME_UNITS[unit]
    return code, volume * (1.0 if at_hand is None or at_hand.density is None else at_hand.density.value)


def as_csv(lines: Sequence[MaterialLine], *, purchases: bool) -> str:
    """Lines as CSV: what is required, or what is bought of those that lack.

    Args:
        lines: of the plan.
        purchases: whether what is bought is told.
    """
    return csv_text(
        Line(
            one.sku,
            one.description,
            one.purchase_quantity if purchases else one.quantity,
            one.unit_code,
            ";".join(one.needed_for),
        )
        for one in lines
        if not purchases or one.purchase.value > 0
    )
