"""From the records of the reference data to the entries of the catalogue."""

from typing import Final

from msgspec import UNSET, UnsetType

from service.calculations.catalogue.catalogue_entries import (
    AcidEntry,
    AlkaliEntry,
    FatAcids,
    FatEntry,
    FattyAcidEntry,
    LiquidAcidity,
    LiquidEntry,
    PracticeEntry,
    SourceEntry,
    StrengthLimit,
    VesselMaterialEntry,
)
from service.calculations.catalogue.catalogue_figures import (
    CitedConductivity,
    CitedDensity,
    CitedFraction,
    CitedHeatCapacity,
    CitedIodineValue,
    CitedMolarMass,
    CitedSaponificationValue,
    CitedTemperature,
    Style,
    cited,
    optional,
    other,
    plain_share,
    share,
    single,
)
from service.reference import (
    Acid,
    Alkali,
    Composition,
    Fat,
    FattyAcid,
    Liquid,
    Practice,
    Source,
    VesselMaterial,
)

ATOMIC_WEIGHTS: Final = "iupac-weights-2021"
"""Source that the molar masses of the alkalis are computed from, as the head of alkalis.toml says."""


def fat(record: Fat, style: Style) -> FatEntry:
    """A fat."""
    return FatEntry(
        id=record.id,
        name=record.name,
        species=record.species or UNSET,
        kind=record.kind,
        saponification_value=cited(CitedSaponificationValue, record.saponification_value, style),
        iodine_value=optional(CitedIodineValue, record.iodine_value, style),
        unsaponifiable=optional(CitedFraction, record.unsaponifiable, style),
        melting=optional(CitedTemperature, record.melting, style),
        hardly_saponified=record.hardly_saponified,
        caution=record.caution or UNSET,
        fatty_acids=_fat_acids(record.fatty_acids, style),
        other_figures=tuple(other(name, one, style) for name, one in record.other_figures),
    )


def _fat_acids(composition: Composition | None, style: Style) -> FatAcids | UnsetType:
    if composition is None:
        return UNSET
    return FatAcids(
        form="limits" if composition.is_range else "analysis",
        source=composition.source,
        evidence=composition.evidence,
        note=composition.note or UNSET,
        shares={acid: share(low, high, style) for acid, (low, high) in composition.shares.items()},
    )


def liquid(record: Liquid, style: Style) -> LiquidEntry:
    """A liquid."""
    acidity: LiquidAcidity | UnsetType = UNSET
    if record.acidity is not None:
        acidity = LiquidAcidity(
            acid=record.acidity.acid, mass_fraction=cited(CitedFraction, record.acidity.mass_fraction, style)
        )
    return LiquidEntry(
        id=record.id,
        name=record.name,
        group=record.group,
        water=cited(CitedFraction, record.water, style),
        fat=cited(CitedFraction, record.fat, style),
        protein=cited(CitedFraction, record.protein, style),
        carbohydrate=cited(CitedFraction, record.carbohydrate, style),
        sugars=optional(CitedFraction, record.sugars, style),
        ash=optional(CitedFraction, record.ash, style),
        alcohol=optional(CitedFraction, record.alcohol, style),
        acidity=acidity,
        acid_unknown=record.acid_unknown,
        density=optional(CitedDensity, record.density, style),
        fat_like=record.fat_like or UNSET,
        note=record.note or UNSET,
    )


def acid(record: Acid, style: Style) -> AcidEntry:
    """An acid. The file gives one source for the molar mass and the content; the note says where they differ."""
    return AcidEntry(
        id=record.id,
        name=record.name,
        formula=record.formula,
        protons=record.protons,
        molar_mass=single(CitedMolarMass, record.molar_mass, record.source, record.evidence, style),
        content=single(CitedFraction, record.content, record.source, record.evidence, style),
        note=record.note or UNSET,
    )


def alkali(record: Alkali, style: Style) -> AlkaliEntry:
    """An alkali."""
    return AlkaliEntry(
        id=record.id,
        name=record.name,
        formula=record.formula,
        molar_mass=single(CitedMolarMass, record.molar_mass, ATOMIC_WEIGHTS, "computed", style),
        solid_forms=record.solid_forms,
        default_purity=UNSET if record.default_purity is None else plain_share(record.default_purity, style),
        purity=cited(CitedFraction, record.purity, style),
        carbonate=cited(CitedFraction, record.carbonate, style),
        note=record.note or UNSET,
    )


def vessel_material(record: VesselMaterial, style: Style) -> VesselMaterialEntry:
    """A material of vessels."""
    return VesselMaterialEntry(
        id=record.id,
        name=record.name,
        suitable=record.suitable,
        reason=record.reason,
        hazards=record.hazards,
        limits=tuple(
            StrengthLimit(
                strength=plain_share(limit.strength, style),
                temperature=cited(CitedTemperature, limit.temperature, style),
            )
            for limit in record.limits
        ),
        heat_capacity=cited(CitedHeatCapacity, record.heat_capacity, style),
        conductivity=optional(CitedConductivity, record.conductivity, style),
        density=optional(CitedDensity, record.density, style),
    )


def fatty_acid(record: FattyAcid, style: Style) -> FattyAcidEntry:
    """A fatty acid."""
    return FattyAcidEntry(
        id=record.code,
        name=record.name,
        formula=record.formula,
        carbons=record.carbons,
        double_bonds=record.double_bonds,
        molar_mass=single(CitedMolarMass, record.molar_mass, record.source, record.evidence, style),
    )


def practice(record: Practice, _: Style) -> PracticeEntry:
    """A rule of thumb."""
    return PracticeEntry(
        id=record.id,
        subject=record.subject,
        statement=record.statement,
        source=record.source,
        evidence=record.evidence,
    )


def source(record: Source, _: Style) -> SourceEntry:
    """A work."""
    return SourceEntry(
        id=record.key,
        title=record.title,
        body=record.body,
        year=record.year or UNSET,
        note=record.note or UNSET,
    )
