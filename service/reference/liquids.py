"""Liquids and acids from their tables, checked and in SI units."""

from typing import Final, Literal, NamedTuple

from msgspec import Struct

from service.reference.figures import FigureReader, SingleValue, Unit
from service.reference.files import Entry, Place, identified
from service.reference.records import Acid, Acidity, Evidence, Fat, Figure, Liquid

_SHARES: Final = ("water", "fat", "protein", "carbohydrate", "sugars", "ash")
_NEEDED: Final = ("water", "fat", "protein", "carbohydrate")
_PERCENT: Final = Unit("%", 1, 100, 0, 100)
_DENSITY: Final = Unit("g/mL", 1000, 1, 0.5, 2)
_MOST_OF_A_WHOLE: Final = 1.005
"""Sum of the shares at most: printed analyses are rounded and may pass 100 % a little."""


class AcidRow(Struct, frozen=True, forbid_unknown_fields=True):
    """A row of acids.csv; molar mass in g/mol, content in % by mass."""

    id: str
    name: str
    formula: str
    protons: int
    molar_mass: float
    content: float
    source: str
    evidence: Evidence
    note: str = ""


class LiquidRow(Struct, frozen=True, forbid_unknown_fields=True):
    """A row of liquids.csv; shares in g per 100 g."""

    id: str
    name: str
    group: str
    source: str
    evidence: Evidence
    water: float | None = None
    fat: float | None = None
    protein: float | None = None
    carbohydrate: float | None = None
    sugars: float | None = None
    ash: float | None = None
    fat_like: str | None = None
    acid_unknown: Literal["yes"] | None = None
    note: str = ""


class LiquidFigureRow(Struct, frozen=True, forbid_unknown_fields=True):
    """A row of liquid_figures.csv, in the unit that it names."""

    liquid: str
    property: Literal["water", "fat", "protein", "carbohydrate", "sugars", "ash", "alcohol", "acidity", "density"]
    low: float
    high: float
    unit: str
    source: str
    evidence: Evidence
    acid: str | None = None
    note: str = ""


class _Found(NamedTuple):
    """Figures of one liquid so far, and the acid that its acidity is expressed as."""

    figures: dict[str, Figure]
    acids: list[str]


def acids(entries: list[Entry[AcidRow]], reader: FigureReader) -> dict[str, Acid]:
    """Acids by identifier.

    Args:
        entries: rows of acids.csv.
        reader: knows the sources.

    Raises:
        ReferenceDataError: an identifier comes twice, a source is unknown or a figure impossible.
    """
    found = {}
    for key, (place, row) in identified(entries, "id").items():
        reader.check_source(row.source, place)
        if row.protons < 1 or not row.molar_mass > 0:
            raise place.fault("protons must be at least 1 and the molar mass above 0")
        if not 0 < row.content <= 100:
            raise place.fault(f"content {row.content:g} % is not above 0 and at most 100 %")
        found[key] = Acid(
            id=key,
            name=row.name,
            formula=row.formula,
            protons=row.protons,
            molar_mass=row.molar_mass / 1000,
            content=row.content / 100,
            source=row.source,
            evidence=row.evidence,
            note=row.note,
        )
    return found


def liquids(
    entries: list[Entry[LiquidRow]],
    figures: list[Entry[LiquidFigureRow]],
    known_acids: dict[str, Acid],
    known_fats: dict[str, Fat],
    reader: FigureReader,
) -> dict[str, Liquid]:
    """Liquids by identifier.

    Args:
        entries: rows of liquids.csv.
        figures: rows of liquid_figures.csv.
        known_acids: the acids that an acidity may be expressed as.
        known_fats: the fats that a liquid's own fat may be likened to.
        reader: makes the figures.

    Raises:
        ReferenceDataError: an identifier is unknown or comes twice, a figure is faulty, missing or given
            twice, or the shares add up to more than the whole.
    """
    rows = identified(entries, "id")
    found: dict[str, _Found] = {}
    for key, (place, row) in rows.items():
        if row.fat_like is not None and row.fat_like not in known_fats:
            raise place.fault(f"fat {row.fat_like!r} is not in fats.csv")
        reader.check_source(row.source, place)
        found[key] = _Found(_shares(place, row, reader), [])
    for place, figure_row in figures:
        if figure_row.liquid not in rows:
            raise place.fault(f"liquid {figure_row.liquid!r} is not in liquids.csv")
        _add(place, figure_row, found[figure_row.liquid], known_acids, reader)
    return {key: _liquid(entry, found[key]) for key, entry in rows.items()}


def _shares(place: Place, row: LiquidRow, reader: FigureReader) -> dict[str, Figure]:
    shares: dict[str, Figure] = {}
    for name in _SHARES:
        value: float | None = getattr(row, name)
        if value is not None:
            shares[name] = reader.figure(place, SingleValue(value, row.source, row.evidence), _PERCENT)
    return shares


def _add(place: Place, row: LiquidFigureRow, found: _Found, known_acids: dict[str, Acid], reader: FigureReader) -> None:
    unit = _DENSITY if row.property == "density" else _PERCENT
    if row.unit != unit.name:
        raise place.fault(f"{row.property} is given in {unit.name}, not in {row.unit}")
    if row.property in found.figures:
        raise place.fault(f"{row.property} of {row.liquid} is given twice")
    if row.property == "acidity":
        if row.acid not in known_acids:
            raise place.fault(f"acid {row.acid!r} is not in acids.csv")
        found.acids.append(row.acid)
    elif row.acid is not None:
        raise place.fault(f"an acid belongs to an acidity, not to {row.property}")
    found.figures[row.property] = reader.figure(place, row, unit)


def _liquid(entry: Entry[LiquidRow], found: _Found) -> Liquid:
    place, row = entry
    figures = found.figures
    for name in _NEEDED:
        if name not in figures:
            raise place.fault(f"{row.id} has no {name}, neither here nor in liquid_figures.csv")
    parts = ("water", "fat", "protein", "carbohydrate", "ash", "alcohol")
    whole = sum(figures[name].low for name in parts if name in figures)
    if whole > _MOST_OF_A_WHOLE:
        raise place.fault(f"the shares of {row.id} add up to {100 * whole:.1f} %")
    acidity = figures.get("acidity")
    return Liquid(
        id=row.id,
        name=row.name,
        group=row.group,
        water=figures["water"],
        fat=figures["fat"],
        protein=figures["protein"],
        carbohydrate=figures["carbohydrate"],
        sugars=figures.get("sugars"),
        ash=figures.get("ash"),
        alcohol=figures.get("alcohol"),
        acidity=Acidity(found.acids[0], acidity) if acidity else None,
        density=figures.get("density"),
        fat_like=row.fat_like,
        acid_unknown=row.acid_unknown == "yes",
        note=row.note,
    )
