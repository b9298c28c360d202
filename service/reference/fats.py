"""Fats and fatty acids from their tables, checked and in SI units."""

import math
from typing import Final, Literal

from msgspec import Struct

from service.reference.figures import FigureReader, Unit
from service.reference.files import Entry, Place, identified
from service.reference.records import Composition, Evidence, Fat, FatKind, FatProperty, FattyAcid, Figure


class FattyAcidRow(Struct, frozen=True, forbid_unknown_fields=True):
    """A row of fatty_acids.csv; molar mass in g/mol."""

    code: str
    name: str
    formula: str
    carbons: int
    double_bonds: int
    molar_mass: float
    source: str
    evidence: Evidence


class FatRow(Struct, frozen=True, forbid_unknown_fields=True):
    """A row of fats.csv."""

    id: str
    name: str
    kind: FatKind
    hardly_saponified: Literal["yes", "no"]
    species: str = ""
    caution: str = ""


class FatFigureRow(Struct, frozen=True, forbid_unknown_fields=True):
    """A row of fat_figures.csv, in the unit that it names."""

    fat: str
    property: FatProperty
    unit: str
    used: Literal["yes", "no"]
    source: str
    evidence: Evidence
    low: float | None = None
    high: float | None = None
    note: str = ""


class CompositionRow(Struct, frozen=True, forbid_unknown_fields=True):
    """A row of fat_compositions.csv."""

    fat: str
    form: Literal["limits", "analysis"]
    source: str
    evidence: Evidence
    note: str = ""


class ShareRow(Struct, frozen=True, forbid_unknown_fields=True):
    """A row of fat_fatty_acids.csv; shares in % by mass."""

    fat: str
    fatty_acid: str
    low: float
    high: float


_UNITS: Final[dict[FatProperty, Unit]] = {
    "saponification_value": Unit("mg/g", 1, 1000, 50, 700),
    "iodine_value": Unit("g/100 g", 1, 100, 0, 450),
    "unsaponifiable": Unit("%", 1, 100, 0, 100),
    "melting": Unit("°C", 1, 1, -100, 150),
    "titre": Unit("°C", 1, 1, -100, 150),
}


def fatty_acids(entries: list[Entry[FattyAcidRow]], reader: FigureReader) -> dict[str, FattyAcid]:
    """Fatty acids by shorthand.

    Args:
        entries: rows of fatty_acids.csv.
        reader: knows the sources.

    Raises:
        ReferenceDataError: a shorthand comes twice or does not fit its numbers, or a source is unknown.
    """
    found = {}
    for code, (place, row) in identified(entries, "code").items():
        reader.check_source(row.source, place)
        if code.partition("-")[0] != f"C{row.carbons}:{row.double_bonds}":
            raise place.fault(f"{code} does not mean {row.carbons} carbon atoms and {row.double_bonds} double bonds")
        if not row.molar_mass > 0:
            raise place.fault(f"molar mass {row.molar_mass:g} must be above 0")
        found[code] = FattyAcid(
            code=code,
            name=row.name,
            formula=row.formula,
            carbons=row.carbons,
            double_bonds=row.double_bonds,
            molar_mass=row.molar_mass / 1000,
            source=row.source,
            evidence=row.evidence,
        )
    return found


def fats(
    rows: dict[str, Entry[FatRow]],
    figures: list[Entry[FatFigureRow]],
    compositions: dict[str, Composition],
    reader: FigureReader,
) -> dict[str, Fat]:
    """Fats by identifier.

    Args:
        rows: rows of fats.csv by identifier.
        figures: rows of fat_figures.csv.
        compositions: fatty acids by fat.
        reader: makes the figures.

    Raises:
        ReferenceDataError: a fat is unknown, a figure is faulty, two figures of a property are marked as used,
            one of them has an open end, or no saponification value is used.
    """
    used: dict[tuple[str, FatProperty], Figure] = {}
    others: dict[str, list[tuple[FatProperty, Figure]]] = {fat: [] for fat in rows}
    for place, row in figures:
        if row.fat not in rows:
            raise place.fault(f"fat {row.fat!r} is not in fats.csv")
        figure = _fat_figure(place, row, reader)
        if row.used == "no":
            others[row.fat].append((row.property, figure))
            continue
        if (row.fat, row.property) in used:
            raise place.fault(f"a second {row.property} of {row.fat} is marked as used")
        if math.isinf(figure.low) or math.isinf(figure.high):
            raise place.fault("a figure with an open end cannot be the one used")
        used[row.fat, row.property] = figure
    found = {}
    for fat, (place, fat_row) in rows.items():
        value = used.get((fat, "saponification_value"))
        if value is None:
            raise place.fault(f"{fat} has no used saponification_value in fat_figures.csv")
        found[fat] = Fat(
            id=fat,
            name=fat_row.name,
            species=fat_row.species,
            kind=fat_row.kind,
            saponification_value=value,
            iodine_value=used.get((fat, "iodine_value")),
            unsaponifiable=used.get((fat, "unsaponifiable")),
            melting=used.get((fat, "melting")),
            fatty_acids=compositions.get(fat),
            hardly_saponified=fat_row.hardly_saponified == "yes",
            caution=fat_row.caution,
            other_figures=tuple(others[fat]),
        )
    return found


def compositions(
    entries: list[Entry[CompositionRow]],
    shares: list[Entry[ShareRow]],
    fat_rows: dict[str, Entry[FatRow]],
    acids: dict[str, FattyAcid],
    reader: FigureReader,
) -> dict[str, Composition]:
    """Fatty acids of the fats: limits as printed, analyses brought to a sum of 1.

    Args:
        entries: rows of fat_compositions.csv.
        shares: rows of fat_fatty_acids.csv.
        fat_rows: rows of fats.csv by identifier.
        acids: the fatty acids.
        reader: knows the sources.

    Raises:
        ReferenceDataError: a fat, acid or source is unknown, a share is impossible or comes twice, an analysis
            has a range, or limits cannot add up to 100 %.
    """
    heads = identified(entries, "fat")
    for fat, (place, head) in heads.items():
        if fat not in fat_rows:
            raise place.fault(f"fat {fat!r} is not in fats.csv")
        reader.check_source(head.source, place)
    parts: dict[str, dict[str, tuple[float, float]]] = {fat: {} for fat in heads}
    for place, row in shares:
        if row.fat not in heads:
            raise place.fault(f"fat {row.fat!r} is not in fat_compositions.csv")
        if row.fatty_acid not in acids:
            raise place.fault(f"fatty acid {row.fatty_acid!r} is not in fatty_acids.csv")
        if row.fatty_acid in parts[row.fat]:
            raise place.fault(f"{row.fatty_acid} of {row.fat} comes twice")
        if row.low > row.high:
            raise place.fault(f"low {row.low:g} is above high {row.high:g}")
        if row.low < 0 or row.high > 100:
            raise place.fault(f"{row.low:g} to {row.high:g} % is not between 0 and 100 %")
        if heads[row.fat].value.form == "analysis" and row.low != row.high:
            raise place.fault("an analysis has one figure: low must equal high")
        parts[row.fat][row.fatty_acid] = (row.low, row.high)
    return {fat: _composition(head, parts[fat]) for fat, head in heads.items()}


def _fat_figure(place: Place, row: FatFigureRow, reader: FigureReader) -> Figure:
    unit = _UNITS[row.property]
    if row.unit != unit.name:
        raise place.fault(f"{row.property} is given in {unit.name}, not in {row.unit}")
    return reader.figure(place, row, unit)


def _composition(head: Entry[CompositionRow], parts: dict[str, tuple[float, float]]) -> Composition:
    place, row = head
    least = sum(low for low, _ in parts.values())
    most = sum(high for _, high in parts.values())
    if not parts or most <= 0:
        raise place.fault(f"{row.fat} has no fatty acids in fat_fatty_acids.csv")
    limits = row.form == "limits"
    if limits and not least <= 100 <= most:
        raise place.fault(f"the limits of {row.fat} add up to {least:g} to {most:g} %, which excludes 100 %")
    whole = 100 if limits else most
    return Composition(
        shares={acid: (low / whole, high / whole) for acid, (low, high) in parts.items()},
        source=row.source,
        evidence=row.evidence,
        is_range=limits,
        note=row.note,
    )
