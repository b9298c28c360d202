"""The figures: files that name the source of each, what they look like in memory, and what loads them."""

from service.reference.errors import ReferenceDataError
from service.reference.loader import load, reference_data
from service.reference.records import (
    Acid,
    Acidity,
    Alkali,
    Composition,
    Evidence,
    Fat,
    FatKind,
    FatProperty,
    FattyAcid,
    Figure,
    Liquid,
    Practice,
    ReferenceData,
    Source,
    TemperatureLimit,
    VesselMaterial,
)

__all__ = [
    "Acid",
    "Acidity",
    "Alkali",
    "Composition",
    "Evidence",
    "Fat",
    "FatKind",
    "FatProperty",
    "FattyAcid",
    "Figure",
    "Liquid",
    "Practice",
    "ReferenceData",
    "ReferenceDataError",
    "Source",
    "TemperatureLimit",
    "VesselMaterial",
    "load",
    "reference_data",
]
