"""Figures of the catalogue as they are answered: with the source they come from, and how well it was verified.

A figure of an answer has a 95 % interval; a figure of the catalogue has limits, as its source prints them.
"""

from math import isfinite
from typing import Annotated, Any, ClassVar, Final, Literal, NamedTuple, TypeVar

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.shared import units
from service.calculations.shared.rendering import MOST_DIGITS, UnitSystem
from service.calculations.shared.told import NotFinite, significant
from service.calculations.shared.units import Kind
from service.reference import Evidence, FatProperty, Figure

EVIDENCE: Final[dict[Evidence, str]] = {
    "seen-primary": "the work itself was read",
    "seen-reprint": "a published copy or quotation of the named work was read",
    "seen-secondary": "it was read in a text that quotes the named work",
    "mixed": "part was read and part is from memory; the note says which",
    "memory": "from memory, not checked: provisional",
    "computed": "it follows from other figures, or from molar masses",
    "common-practice": "custom of the trade, with no standard behind it",
    "assumed": "chosen by this project; the note says why",
}
"""What each word of evidence means."""


class Style(NamedTuple):
    """How numbers are written."""

    units: UnitSystem = "metric"
    digits: int = MOST_DIGITS
    """Significant digits. All there are is what the sources print; the digits beyond are a machine's own."""


SourceKey = Annotated[
    str,
    Meta(description="Key of the source, which `/v1/sources/{id}` tells in full.", examples=["codex-cxs-33"]),
]
EvidenceWord = Annotated[Evidence, Meta(description="How well it was verified.")]
Note = Annotated[str, Meta(description="A remark.", examples=["as KOH"])]
Value = Annotated[float, Meta(description="The middle of the limits, in `unit`.")]
Low = Annotated[float, Meta(description="Lower limit, in `unit`; the value itself where there is but one.")]
High = Annotated[float, Meta(description="Upper limit, in `unit`; the value itself where there is but one.")]


class Cited(Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True):
    """A figure with the limits its source gives, that source, and how well it was verified."""

    kind: ClassVar[Kind]

    value: Value
    low: Low
    high: High
    unit: str
    source: SourceKey
    evidence: EvidenceWord
    note: Note | UnsetType = UNSET


class CitedSaponificationValue(Cited, frozen=True, kw_only=True):
    """A saponification value with its source: mass of KOH that a mass of fat takes. Of a fatty acid: its acid value."""

    kind = units.SAPONIFICATION_VALUE
    unit: Annotated[Literal["mg/g"], Meta(description="mg KOH per g of fat.")]


class CitedIodineValue(Cited, frozen=True, kw_only=True):
    """An iodine value with its source: mass of iodine that a mass of fat takes up."""

    kind = units.IODINE_VALUE
    unit: Annotated[Literal["g/100g"], Meta(description="g of iodine per 100 g of fat.")]


class CitedFraction(Cited, frozen=True, kw_only=True):
    """A mass fraction with its source."""

    kind = units.FRACTION
    unit: Annotated[Literal["1"], Meta(description="Part of 1.")]


class CitedTemperature(Cited, frozen=True, kw_only=True):
    """A temperature with its source."""

    kind = units.TEMPERATURE
    unit: Annotated[Literal["°C", "°F"], Meta(description="°C, or °F with units=us.")]


class CitedDensity(Cited, frozen=True, kw_only=True):
    """A density with its source."""

    kind = units.DENSITY
    unit: Annotated[Literal["kg/L", "lb/gal"], Meta(description="kg/L, or lb/gal with units=us.")]


class CitedHeatCapacity(Cited, frozen=True, kw_only=True):
    """A heat capacity with its source."""

    kind = units.HEAT_CAPACITY
    unit: Annotated[Literal["kJ/(kg K)"], Meta(description="kJ for each kg and kelvin.")]


class CitedConductivity(Cited, frozen=True, kw_only=True):
    """A thermal conductivity with its source."""

    kind = units.CONDUCTIVITY
    unit: Annotated[Literal["W/(m K)"], Meta(description="W for each metre and kelvin.")]


class CitedMolarMass(Cited, frozen=True, kw_only=True):
    """A molar mass with its source."""

    kind = units.MOLAR_MASS
    unit: Annotated[Literal["g/mol"], Meta(description="g for each mole.")]


class ShareLimits(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A share of a whole, whose source stands beside all of the shares."""

    value: Value
    low: Low
    high: High
    unit: Annotated[Literal["1"], Meta(description="Part of 1.")]


class PlainShare(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A mass fraction that is set, not measured, and so has no source."""

    value: Annotated[float, Meta(description="The number, in `unit`.")]
    unit: Annotated[Literal["1"], Meta(description="Part of 1.")]


class OtherFigure(Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True):
    """What another source says of a property; no calculation takes it. A limit that is left open is left out."""

    property: Annotated[
        FatProperty, Meta(description="Which property; `titre` is the solidification point of the fat's acids.")
    ]
    value: Annotated[float, Meta(description="The middle of the limits; left out where one is open.")] | UnsetType = (
        UNSET
    )
    low: Annotated[float, Meta(description="Lower limit; left out where the source gives none.")] | UnsetType = UNSET
    high: Annotated[float, Meta(description="Upper limit; left out where the source gives none.")] | UnsetType = UNSET
    unit: Annotated[Literal["mg/g", "g/100g", "1", "°C", "°F"], Meta(description="Unit of the property.")]
    source: SourceKey
    evidence: EvidenceWord
    note: Note | UnsetType = UNSET


PROPERTIES: Final[dict[FatProperty, Kind]] = {
    "saponification_value": units.SAPONIFICATION_VALUE,
    "iodine_value": units.IODINE_VALUE,
    "unsaponifiable": units.FRACTION,
    "melting": units.TEMPERATURE,
    "titre": units.TEMPERATURE,
}

C = TypeVar("C", bound=Cited)


def cited(shape: type[C], figure: Figure, style: Style) -> C:
    """A figure of the reference data as it is answered.

    Args:
        shape: class of its kind.
        figure: the figure, in SI.
        style: how numbers are written.

    Raises:
        NotFinite: it has an open end; such a figure is an OtherFigure.
    """
    limits = _ends(shape.kind, figure, style)
    if len(limits) != len(_ENDS):
        raise NotFinite(repr(figure))
    unit = _unit(shape.kind, style)
    return shape(**limits, unit=unit, source=figure.source, evidence=figure.evidence, note=figure.note or UNSET)


def single(shape: type[C], value: float, source: str, evidence: Evidence, style: Style) -> C:
    """A single value of the reference data, in SI, as it is answered.

    Raises:
        NotFinite: it is not finite.
    """
    return cited(shape, Figure(value, value, source, evidence), style)


def optional(shape: type[C], figure: Figure | None, style: Style) -> C | UnsetType:
    """A figure that may be missing."""
    return UNSET if figure is None else cited(shape, figure, style)


def share(low: float, high: float, style: Style) -> ShareLimits:
    """Limits of a share."""
    ends = _ends(units.FRACTION, Figure(low, high, "", "computed"), style)
    return ShareLimits(**ends, unit="1")


def plain_share(value: float, style: Style) -> PlainShare:
    """A share that is set."""
    return PlainShare(value=significant(value, style.digits), unit="1")


def other(name: FatProperty, figure: Figure, style: Style) -> OtherFigure:
    """What another source says of a property; an infinite end is left out."""
    kind = PROPERTIES[name]
    return OtherFigure(
        property=name,
        **_ends(kind, figure, style),
        unit=_unit(kind, style),
        source=figure.source,
        evidence=figure.evidence,
        note=figure.note or UNSET,
    )


_ENDS: Final = ("value", "low", "high")


def _ends(kind: Kind, figure: Figure, style: Style) -> dict[str, float]:
    """Middle and limits in the unit of an answer, those that are finite."""
    unit = kind.metric if style.units == "metric" else kind.us
    found = zip(_ENDS, (figure.middle, figure.low, figure.high), strict=True)
    return {name: significant(unit.from_si(number), style.digits) for name, number in found if isfinite(number)}


def _unit(kind: Kind, style: Style) -> Any:
    """Symbol of the unit; which of the literals of a class it is, only its kind knows."""
    return (kind.metric if style.units == "metric" else kind.us).symbol
