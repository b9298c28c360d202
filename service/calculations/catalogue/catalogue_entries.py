"""Entries of the catalogue as they are answered: all that the reference data know of each."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.catalogue.catalogue_figures import (
    CitedConductivity,
    CitedDensity,
    CitedFraction,
    CitedHeatCapacity,
    CitedIodineValue,
    CitedMolarMass,
    CitedSaponificationValue,
    CitedTemperature,
    EvidenceWord,
    Note,
    OtherFigure,
    PlainShare,
    ShareLimits,
    SourceKey,
)
from service.reference import FatKind
from service.reference.records import VesselHazard

Name = Annotated[str, Meta(description="Name in plain English.", examples=["olive oil"])]
Formula = Annotated[str, Meta(description="Chemical formula.", examples=["NaOH"])]
Shorthand = Annotated[
    str,
    Meta(
        pattern="^C[0-9]{1,2}:[0-9](-OH)?$",
        description="Carbon atoms : double bonds.",
        examples=["C18:1"],
    ),
]


class Entry(Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True):
    """An entry of the catalogue."""

    id: Annotated[str, Meta(description="Identifier, as requests write it.", examples=["olive-oil"])]


class FatAcids(Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True):
    """The fatty acids of a fat, with the source that all shares come from."""

    form: Annotated[
        Literal["limits", "analysis"],
        Meta(
            description="`limits`: the range of each acid, as a standard gives it. `analysis`: one typical "
            "composition, brought to a sum of 1."
        ),
    ]
    source: SourceKey
    evidence: EvidenceWord
    note: Note | UnsetType = UNSET
    shares: Annotated[
        dict[Shorthand, ShareLimits],
        Meta(
            description="Mass of each acid in that of all fatty acids, by its shorthand: carbon atoms : double bonds. "
            "`/v1/fatty-acids/{id}` tells its name."
        ),
    ]


class FatEntry(Entry, frozen=True, kw_only=True):
    """A fat, oil, wax, resin or fatty acid that takes alkali. Its figures are those that calculations use."""

    name: Name
    species: (
        Annotated[str, Meta(description="Plant or animal it comes from.", examples=["Olea europaea, fruit"])]
        | UnsetType
    ) = UNSET
    kind: Annotated[FatKind, Meta(description="What it is chemically.")]
    saponification_value: Annotated[
        CitedSaponificationValue,
        Meta(description="KOH that it takes; of a fatty acid its acid value. Calculations use this figure."),
    ]
    iodine_value: (
        Annotated[CitedIodineValue, Meta(description="Iodine that it takes up: the more, the more double bonds.")]
        | UnsetType
    ) = UNSET
    unsaponifiable: (
        Annotated[CitedFraction, Meta(description="Mass fraction that alkali does not turn into soap.")] | UnsetType
    ) = UNSET
    melting: (
        Annotated[CitedTemperature, Meta(description="Where it melts, from the first to the last.")] | UnsetType
    ) = UNSET
    hardly_saponified: Annotated[bool, Meta(description="Whether alkali in water hardly saponifies it.")]
    caution: (
        Annotated[str, Meta(description="What its user must know.", examples=["A lauric oil, not palm oil."])]
        | UnsetType
    ) = UNSET
    fatty_acids: Annotated[FatAcids, Meta(description="Its fatty acids.")] | UnsetType = UNSET
    other_figures: Annotated[
        tuple[OtherFigure, ...], Meta(description="What other sources say; no calculation uses it.")
    ]


class LiquidAcidity(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The acidity of a liquid by titration."""

    acid: Annotated[
        str, Meta(description="The acid that it is expressed as: an entry of `/v1/acids`.", examples=["lactic-acid"])
    ]
    mass_fraction: Annotated[CitedFraction, Meta(description="Mass of that acid per mass of liquid.")]


class LiquidEntry(Entry, frozen=True, kw_only=True):
    """A liquid that goes into a batch beside the stock. Its shares are mass fractions of the liquid."""

    name: Name
    group: Annotated[str, Meta(description="Kind of liquid.", examples=["milk"])]
    water: Annotated[CitedFraction, Meta(description="Water.")]
    fat: Annotated[CitedFraction, Meta(description="Fat.")]
    protein: Annotated[CitedFraction, Meta(description="Protein.")]
    carbohydrate: Annotated[CitedFraction, Meta(description="Carbohydrate by difference, sugars and fibre included.")]
    sugars: Annotated[CitedFraction, Meta(description="Sugars, which are part of the carbohydrate.")] | UnsetType = (
        UNSET
    )
    ash: Annotated[CitedFraction, Meta(description="Ash.")] | UnsetType = UNSET
    alcohol: Annotated[CitedFraction, Meta(description="Ethanol.")] | UnsetType = UNSET
    acidity: (
        Annotated[LiquidAcidity, Meta(description="How sour it is, where a figure for it is known.")] | UnsetType
    ) = UNSET
    acid_unknown: Annotated[bool, Meta(description="Whether it is sour without a figure for its acidity being known.")]
    density: Annotated[CitedDensity, Meta(description="Its density.")] | UnsetType = UNSET
    fat_like: (
        Annotated[
            str,
            Meta(
                description="The entry of `/v1/fats` whose saponification value stands for the liquid's own fat.",
                examples=["milk-fat"],
            ),
        ]
        | UnsetType
    ) = UNSET
    note: Note | UnsetType = UNSET


class AcidEntry(Entry, frozen=True, kw_only=True):
    """An acid that takes alkali beyond the need of the fats."""

    name: Name
    formula: Formula
    protons: Annotated[int, Meta(description="Protons that strong alkali neutralises.", ge=1, examples=[3])]
    molar_mass: Annotated[
        CitedMolarMass, Meta(description="Molar mass of its formula, with any water of crystallisation.")
    ]
    content: Annotated[CitedFraction, Meta(description="Mass fraction of the acid in what is weighed.")]
    note: Note | UnsetType = UNSET


class AlkaliEntry(Entry, frozen=True, kw_only=True):
    """A hydroxide as it is bought."""

    name: Name
    formula: Formula
    molar_mass: Annotated[CitedMolarMass, Meta(description="Molar mass of the hydroxide.")]
    solid_forms: Annotated[str, Meta(description="Forms it is sold in.", examples=["flakes, pellets"])]
    default_purity: (
        Annotated[
            PlainShare,
            Meta(description="Purity that calculations take where none is given; left out where it must be given."),
        ]
        | UnsetType
    ) = UNSET
    purity: Annotated[CitedFraction, Meta(description="Total alkali of the solid, reckoned as hydroxide.")]
    carbonate: Annotated[CitedFraction, Meta(description="Carbonate in the solid: `high` is the limit.")]
    note: Note | UnsetType = UNSET


class StrengthLimit(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The highest temperature of a material for solutions up to a strength."""

    strength: Annotated[PlainShare, Meta(description="Mass fraction of hydroxide up to which the limit holds.")]
    temperature: Annotated[CitedTemperature, Meta(description="Highest temperature up to that strength.")]


class VesselMaterialEntry(Entry, frozen=True, kw_only=True):
    """A material of vessels that caustic is kept or mixed in."""

    name: Name
    suitable: Annotated[Literal["yes", "limited", "no"], Meta(description="Whether it is fit for caustic.")]
    reason: Annotated[str, Meta(description="Why.", examples=["Not attacked."])]
    hazards: Annotated[
        tuple[Annotated[VesselHazard, Meta(extra_json_schema={"type": "string"})], ...],
        Meta(
            description="What it does beside failing: `hydrogen`, it gives hydrogen off in caustic; "
            "`thermal-shock`, it cracks where heat is sudden."
        ),
    ]
    limits: Annotated[
        tuple[StrengthLimit, ...],
        Meta(description="Highest temperatures, from weak to strong solutions; empty where none is known."),
    ]
    heat_capacity: Annotated[CitedHeatCapacity, Meta(description="Heat it takes up itself, near room temperature.")]
    conductivity: (
        Annotated[CitedConductivity, Meta(description="How well it conducts heat, near room temperature.")] | UnsetType
    ) = UNSET
    density: Annotated[CitedDensity, Meta(description="Its density.")] | UnsetType = UNSET


class FattyAcidEntry(Entry, frozen=True, kw_only=True):
    """A fatty acid in the standard shorthand, carbon atoms : double bonds."""

    name: Annotated[str, Meta(description="Name in plain English, without the word acid.", examples=["oleic"])]
    formula: Formula
    carbons: Annotated[int, Meta(description="Carbon atoms.", ge=1, examples=[18])]
    double_bonds: Annotated[int, Meta(description="Double bonds of the chain.", ge=0, examples=[1])]
    molar_mass: Annotated[CitedMolarMass, Meta(description="Molar mass of the acid.")]


class PracticeEntry(Entry, frozen=True, kw_only=True):
    """A rule of thumb of the trade, for people to read; no calculation takes a figure from it."""

    subject: Annotated[str, Meta(description="What it is about.", examples=["water"])]
    statement: Annotated[str, Meta(description="The rule.", examples=["Alkali into water, never water onto alkali."])]
    source: SourceKey
    evidence: EvidenceWord


class SourceEntry(Entry, frozen=True, kw_only=True):
    """A work that figures come from. Its identifier is the key that figures name as their source."""

    title: Annotated[str, Meta(description="Title of the work.", examples=["Handbook of Soap Manufacture"])]
    body: Annotated[str, Meta(description="Authors, or who issued it.", examples=["Codex Alimentarius Commission"])]
    year: Annotated[str, Meta(description="Year, in words where it is not one.", examples=["1999"])] | UnsetType = UNSET
    note: Note | UnsetType = UNSET
