"""Shapes of the reference data, in SI units.

Masses in kg, shares as fractions of 1, temperatures in degrees Celsius, densities in kg/m3, molar masses
in kg/mol. A saponification value is kg KOH per kg (190 mg/g is 0.190), an iodine value kg I2 per kg
(85 g/100 g is 0.85).
"""

from typing import Literal

from msgspec import Struct

Evidence = Literal[
    "seen-primary",  # read in the work itself
    "seen-reprint",  # read in a reprint of the document, or where it is cited word for word
    "seen-secondary",  # read in another text that takes the figure from the document
    "mixed",  # some read and some recalled, as the note tells
    "memory",  # recalled, and to be checked
    "computed",  # worked out from other figures or molar masses
    "common-practice",  # what the trade does, without a standard
    "assumed",  # our own choice, with its ground in the note
]

FatKind = Literal["triglyceride", "wax", "fatty-acid", "resin"]

FatProperty = Literal["saponification_value", "iodine_value", "unsaponifiable", "melting", "titre"]

VesselHazard = Literal["hydrogen", "thermal-shock"]
"""What a material does beside failing: it gives hydrogen off in caustic, or cracks where heat is sudden."""


class Source(Struct, frozen=True, forbid_unknown_fields=True):
    """A work that figures come from."""

    key: str
    title: str
    body: str
    """Authors, or the body that issued it."""
    year: str = ""
    note: str = ""


class Figure(Struct, frozen=True):
    """A figure with its limits, its source and how well it was verified; low equals high for a single value.

    An end is infinite where the source gives only a minimum or only a maximum. Such a figure is kept beside
    others (`Fat.other_figures`) and is never the one used for calculation.
    """

    low: float
    high: float
    source: str
    """Key of a Source."""
    evidence: Evidence
    note: str = ""

    @property
    def middle(self) -> float:
        """Middle of the limits."""
        return (self.low + self.high) / 2

    @property
    def half_width(self) -> float:
        """Half the distance between the limits."""
        return (self.high - self.low) / 2


class FattyAcid(Struct, frozen=True):
    """A fatty acid in the standard shorthand, carbon atoms : double bonds."""

    code: str
    name: str
    formula: str
    carbons: int
    double_bonds: int
    molar_mass: float
    source: str = ""
    """Key of the Source of the molar mass; empty for an acid that no file holds."""
    evidence: Evidence = "computed"


class Composition(Struct, frozen=True):
    """Fatty acids of a fat, as low and high mass fraction of all its fatty acids."""

    shares: dict[str, tuple[float, float]]
    source: str
    evidence: Evidence
    is_range: bool
    """True where the source gives limits, False where it gives one typical analysis."""
    note: str = ""


class Fat(Struct, frozen=True):
    """A fat, oil, wax, resin or fatty acid that takes alkali."""

    id: str
    name: str
    species: str
    kind: FatKind
    saponification_value: Figure
    """The figure used for calculation. Fatty acids: their acid value."""
    iodine_value: Figure | None = None
    unsaponifiable: Figure | None = None
    melting: Figure | None = None
    fatty_acids: Composition | None = None
    hardly_saponified: bool = False
    """True where alkali in water hardly saponifies it (wool fat, jojoba, beeswax)."""
    caution: str = ""
    """What its user must know, in one sentence; empty where there is nothing."""
    other_figures: tuple[tuple[FatProperty, Figure], ...] = ()
    """(property, figure) of other sources, kept so that a disagreement shows."""


class Acid(Struct, frozen=True):
    """An acid that takes alkali beyond the fats' need."""

    id: str
    name: str
    formula: str
    protons: int
    """Protons that strong alkali neutralises."""
    molar_mass: float
    content: float
    """Mass fraction of the acid in what is weighed (0.88 for an 88 % solution)."""
    source: str
    evidence: Evidence
    note: str = ""


class Acidity(Struct, frozen=True):
    """Titratable acidity of a liquid, expressed as one acid."""

    acid: str
    """Identifier of an Acid."""
    mass_fraction: Figure


class Liquid(Struct, frozen=True):
    """A liquid that goes into a batch beside the stock; shares are mass fractions."""

    id: str
    name: str
    group: str
    water: Figure
    fat: Figure
    protein: Figure
    carbohydrate: Figure
    sugars: Figure | None
    ash: Figure | None
    alcohol: Figure | None
    acidity: Acidity | None
    density: Figure | None
    fat_like: str | None
    """Identifier of the Fat whose saponification value stands for the liquid's own fat."""
    acid_unknown: bool = False
    """True where it is sour, and no figure for its acidity is held."""
    note: str = ""


class Alkali(Struct, frozen=True):
    """A hydroxide as it is bought."""

    id: str
    name: str
    formula: str
    molar_mass: float
    solid_forms: str
    default_purity: float | None
    """None where the purity must be given."""
    purity: Figure
    carbonate: Figure
    """Limit of carbonate in the solid (high is the limit)."""
    note: str = ""


class TemperatureLimit(Struct, frozen=True):
    """Highest temperature for solutions up to a strength (mass fraction of hydroxide)."""

    strength: float
    temperature: Figure


class VesselMaterial(Struct, frozen=True):
    """A material of vessels that caustic is kept or mixed in."""

    id: str
    name: str
    suitable: Literal["yes", "limited", "no"]
    reason: str
    limits: tuple[TemperatureLimit, ...]
    """In ascending order of strength; empty where no limit is known or the material is unsuitable."""
    heat_capacity: Figure
    """J/(kg K)."""
    conductivity: Figure | None
    """W/(m K)."""
    density: Figure | None
    hazards: tuple[VesselHazard, ...] = ()


class Practice(Struct, frozen=True):
    """A rule of thumb of the trade."""

    id: str
    subject: str
    statement: str
    evidence: Evidence
    source: str


class ReferenceData(Struct, frozen=True):
    """All reference data, by identifier, and the version derived from the content of the files."""

    version: str
    sources: dict[str, Source]
    fatty_acids: dict[str, FattyAcid]
    fats: dict[str, Fat]
    acids: dict[str, Acid]
    liquids: dict[str, Liquid]
    alkalis: dict[str, Alkali]
    vessel_materials: dict[str, VesselMaterial]
    practices: dict[str, Practice]
