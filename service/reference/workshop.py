"""Alkalis, materials of vessels and rules of thumb from their files, checked and in SI units."""

from typing import Final, Literal

from msgspec import Struct

from service.reference.figures import FigureReader, Unit
from service.reference.files import Entry, check_identifier
from service.reference.records import Alkali, Evidence, Practice, TemperatureLimit, VesselHazard, VesselMaterial

_PURITY: Final = Unit("%", 1, 100, 50, 101)
_CARBONATE: Final = Unit("%", 1, 100, 0, 100)
_HEAT_CAPACITY: Final = Unit("kJ/(kg K)", 1000, 1, 0.1, 10)
_CONDUCTIVITY: Final = Unit("W/(m K)", 1, 1, 0.01, 500)
_DENSITY: Final = Unit("kg/m3", 1, 1, 500, 25_000)
_TEMPERATURE: Final = Unit("°C", 1, 1, 0, 400)


class FigureEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """A figure of a TOML file, in the unit that the file's head names."""

    low: float
    high: float
    source: str
    evidence: Evidence
    note: str = ""


class LimitEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """A temperature limit: strength in %, temperatures in °C."""

    strength: float
    low: float
    high: float
    source: str
    evidence: Evidence
    note: str = ""


class AlkaliEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """A table of alkalis.toml; molar mass in g/mol, shares in %."""

    name: str
    formula: str
    molar_mass: float
    solid_forms: str
    purity: FigureEntry
    carbonate: FigureEntry
    default_purity: float | None = None
    note: str = ""


class VesselEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """A table of vessel_materials.toml; heat capacity in kJ/(kg K)."""

    name: str
    suitable: Literal["yes", "limited", "no"]
    reason: str
    heat_capacity: FigureEntry
    conductivity: FigureEntry | None = None
    density: FigureEntry | None = None
    limits: tuple[LimitEntry, ...] = ()
    hazards: tuple[VesselHazard, ...] = ()


class PracticeEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """A table of practices.toml."""

    subject: str
    statement: str
    evidence: Evidence
    source: str


def alkalis(entries: dict[str, Entry[AlkaliEntry]], reader: FigureReader) -> dict[str, Alkali]:
    """Alkalis by their formula, the identifier that callers write.

    Args:
        entries: tables of alkalis.toml.
        reader: makes the figures.

    Raises:
        ReferenceDataError: a source is unknown or a figure impossible.
    """
    found = {}
    for key, (place, entry) in entries.items():
        default = entry.default_purity
        if default is not None and not 50 <= default <= 100:
            raise place.fault(f"default purity {default:g} is not between 50 and 100; it is in %")
        if not 0 < entry.molar_mass < 1000:
            raise place.fault(f"molar mass {entry.molar_mass:g} g/mol is not between 0 and 1000")
        found[key] = Alkali(
            id=key,
            name=entry.name,
            formula=entry.formula,
            molar_mass=entry.molar_mass / 1000,
            solid_forms=entry.solid_forms,
            default_purity=None if default is None else default / 100,
            purity=reader.figure(place, entry.purity, _PURITY),
            carbonate=reader.figure(place, entry.carbonate, _CARBONATE),
            note=entry.note,
        )
    return found


def vessel_materials(entries: dict[str, Entry[VesselEntry]], reader: FigureReader) -> dict[str, VesselMaterial]:
    """Materials of vessels by identifier.

    Args:
        entries: tables of vessel_materials.toml.
        reader: makes the figures.

    Raises:
        ReferenceDataError: a source is unknown, a figure impossible, an unsuitable material has limits, or
            limits do not ascend in strength.
    """
    found = {}
    for key, (place, entry) in entries.items():
        check_identifier(key, place)
        strengths = [limit.strength for limit in entry.limits]
        if strengths != sorted(set(strengths)):
            raise place.fault("limits must ascend in strength")
        if strengths and (entry.suitable == "no" or strengths[0] <= 0 or strengths[-1] > 100):
            raise place.fault("limits belong to a suitable material and to strengths above 0 up to 100 %")
        conductivity, density = entry.conductivity, entry.density
        found[key] = VesselMaterial(
            id=key,
            name=entry.name,
            suitable=entry.suitable,
            reason=entry.reason,
            limits=tuple(
                TemperatureLimit(limit.strength / 100, reader.figure(place, limit, _TEMPERATURE))
                for limit in entry.limits
            ),
            heat_capacity=reader.figure(place, entry.heat_capacity, _HEAT_CAPACITY),
            conductivity=reader.figure(place, conductivity, _CONDUCTIVITY) if conductivity else None,
            density=reader.figure(place, density, _DENSITY) if density else None,
            hazards=entry.hazards,
        )
    return found


def practices(entries: dict[str, Entry[PracticeEntry]], reader: FigureReader) -> dict[str, Practice]:
    """Rules of thumb by identifier.

    Args:
        entries: tables of practices.toml.
        reader: knows the sources.

    Raises:
        ReferenceDataError: a source is unknown.
    """
    found = {}
    for key, (place, entry) in entries.items():
        check_identifier(key, place)
        reader.check_source(entry.source, place)
        found[key] = Practice(key, entry.subject, entry.statement, entry.evidence, entry.source)
    return found
