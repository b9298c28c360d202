"""The catalogue: every collection of the reference data, its entries, and how they are found.

Collection    one kind of entry: its names, its shape, and what may be searched and filtered
Selection     which entries are wanted
Catalogue     the entries of some reference data
"""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any, Final, NamedTuple

from msgspec import UNSET, Struct

from service.calculations.catalogue import catalogue_making as making
from service.calculations.catalogue.catalogue_entries import (
    AcidEntry,
    AlkaliEntry,
    Entry,
    FatEntry,
    FattyAcidEntry,
    LiquidEntry,
    PracticeEntry,
    SourceEntry,
    VesselMaterialEntry,
)
from service.calculations.catalogue.catalogue_figures import Style
from service.reference import ReferenceData, reference_data

IDENTIFIER: Final = "^[a-z0-9]+(-[a-z0-9]+)*$"
"""Identifiers in kebab-case."""
USUAL: Final = Style()


class Collection(NamedTuple):
    """One kind of entry of the catalogue."""

    path: str
    """Last part of its address, in the plural."""
    one: str
    """What an entry is, in the singular."""
    title: str
    text: str
    """What it holds, in a sentence."""
    shape: type[Entry]
    records: Callable[[ReferenceData], Mapping[str, Any]]
    make: Callable[[Any, Style], Entry]
    searched: tuple[str, ...]
    """Members whose words are searched, beside the identifier; the first is its name."""
    filtered: str | None = None
    """Member by which the list may be filtered."""
    cites: bool = True
    """Whether its entries name sources."""
    pattern: str = IDENTIFIER
    """What an identifier looks like."""
    example: str = ""
    """An identifier of it."""


FATS: Final = Collection(
    path="fats",
    one="fat",
    title="Fats",
    text="Fats, oils, waxes, resins and fatty acids, with saponification value, iodine value and composition.",
    shape=FatEntry,
    records=lambda data: data.fats,
    make=making.fat,
    searched=("name", "species", "kind"),
    filtered="kind",
    example="olive-oil",
)
LIQUIDS: Final = Collection(
    path="liquids",
    one="liquid",
    title="Liquids",
    text="Liquids that go into a batch beside the stock: what they hold, and how sour they are.",
    shape=LiquidEntry,
    records=lambda data: data.liquids,
    make=making.liquid,
    searched=("name", "group"),
    filtered="group",
    example="goat-milk",
)
ACIDS: Final = Collection(
    path="acids",
    one="acid",
    title="Acids",
    text="Acids that take alkali beyond the need of the fats.",
    shape=AcidEntry,
    records=lambda data: data.acids,
    make=making.acid,
    searched=("name", "formula"),
    example="citric-acid-anhydrous",
)
ALKALIS: Final = Collection(
    path="alkalis",
    one="alkali",
    title="Alkalis",
    text="The two hydroxides as they are bought.",
    shape=AlkaliEntry,
    records=lambda data: data.alkalis,
    make=making.alkali,
    searched=("name", "solid_forms"),
    pattern="^[A-Z][A-Za-z0-9]*$",
    example="NaOH",
)
VESSEL_MATERIALS: Final = Collection(
    path="vessel-materials",
    one="vessel-material",
    title="Materials of vessels",
    text="What caustic may be kept and mixed in, and how hot.",
    shape=VesselMaterialEntry,
    records=lambda data: data.vessel_materials,
    make=making.vessel_material,
    searched=("name",),
    filtered="suitable",
    example="hdpe",
)
FATTY_ACIDS: Final = Collection(
    path="fatty-acids",
    one="fatty-acid",
    title="Fatty acids",
    text="The fatty acids that compositions name by their shorthand, carbon atoms : double bonds.",
    shape=FattyAcidEntry,
    records=lambda data: data.fatty_acids,
    make=making.fatty_acid,
    searched=("name", "formula"),
    pattern="^C[0-9]{1,2}:[0-9](-OH)?$",
    example="C18:1",
)
PRACTICES: Final = Collection(
    path="practices",
    one="practice",
    title="Practices",
    text="Rules of thumb of the trade, and what older books print. They are for people; no calculation uses them.",
    shape=PracticeEntry,
    records=lambda data: data.practices,
    make=making.practice,
    searched=("statement", "subject"),
    filtered="subject",
    example="water-ratio-usual",
)
SOURCES: Final = Collection(
    path="sources",
    one="source",
    title="Sources",
    text="The works that all figures come from.",
    shape=SourceEntry,
    records=lambda data: data.sources,
    make=making.source,
    searched=("title", "body", "year"),
    cites=False,
    example="codex-cxs-33",
)

COLLECTIONS: Final = (FATS, LIQUIDS, ACIDS, ALKALIS, VESSEL_MATERIALS, FATTY_ACIDS, PRACTICES, SOURCES)


class Selection(NamedTuple):
    """Which entries of a collection are wanted; a condition that is None lets every entry pass."""

    search: str | None = None
    """Words that must all be in the entry's identifier or its searched members, each perhaps as a part of a word."""
    member: str | None = None
    """Value of the member by which the collection is filtered."""
    source: str | None = None
    """Source that the entry, or a figure of it, must name."""
    evidence: str | None = None
    """Word of evidence that the entry, or a figure of it, must bear."""


class Label(NamedTuple):
    """What an entry is called, for hints."""

    name: str


class _Known(NamedTuple):
    """What is known of an entry: what finds it, and the entry as it is answered where nothing else is asked for."""

    record: Any
    entry: Entry
    text: str
    member: str | None
    sources: frozenset[str]
    evidence: frozenset[str]


class Catalogue:
    """The entries of some reference data, in the order of their files."""

    def __init__(self, data: ReferenceData) -> None:
        """Look through all entries once.

        Args:
            data: the reference data.

        Raises:
            NotFinite: a figure that calculations use is not finite.
        """
        self.version = data.version
        self.sources = tuple(data.sources)
        self._known = {
            collection.path: {
                identifier: _known(collection, identifier, record)
                for identifier, record in collection.records(data).items()
            }
            for collection in COLLECTIONS
        }

    def labels(self, collection: Collection) -> dict[str, Label]:
        """What the entries are called, by their identifiers."""
        name = collection.searched[0]
        return {identifier: Label(getattr(one.record, name)) for identifier, one in self._of(collection).items()}

    def choices(self, collection: Collection) -> tuple[str, ...]:
        """Values of the member by which a collection is filtered, in the order of the file."""
        return tuple(dict.fromkeys(one.member for one in self._of(collection).values() if one.member is not None))

    def entry(self, collection: Collection, identifier: str, style: Style) -> Entry:
        """An entry.

        Raises:
            KeyError: there is none of this identifier.
        """
        return _made(collection, self._of(collection)[identifier], style)

    def select(self, collection: Collection, selection: Selection) -> list[str]:
        """Identifiers of the entries that are wanted."""
        words = (selection.search or "").casefold().split()
        return [
            identifier
            for identifier, one in self._of(collection).items()
            if all(word in one.text for word in words)
            and selection.member in {None, one.member}
            and (selection.source is None or selection.source in one.sources)
            and (selection.evidence is None or selection.evidence in one.evidence)
        ]

    def entries(self, collection: Collection, style: Style) -> list[Entry]:
        """Every entry of a collection."""
        return [_made(collection, one, style) for one in self._of(collection).values()]

    def _of(self, collection: Collection) -> dict[str, _Known]:
        return self._known[collection.path]


@cache
def catalogue() -> Catalogue:
    """The catalogue of the reference data installed with the service.

    Raises:
        ReferenceDataError: a data file is missing or holds something unusable.
    """
    return Catalogue(reference_data())


def _made(collection: Collection, one: _Known, style: Style) -> Entry:
    return one.entry if style == USUAL else collection.make(one.record, style)


def _known(collection: Collection, identifier: str, record: Any) -> _Known:
    entry = collection.make(record, USUAL)
    said = [identifier, *(getattr(record, name) for name in collection.searched)]
    cited = list(_cited(entry))
    return _Known(
        record,
        entry,
        " ".join(said).casefold(),
        getattr(record, collection.filtered) if collection.filtered else None,
        frozenset(source for source, _ in cited),
        frozenset(evidence for _, evidence in cited),
    )


def _cited(node: object) -> Iterator[tuple[str, str]]:
    """Source and evidence of an entry and of all its figures."""
    if isinstance(node, Struct):
        if hasattr(node, "source") and hasattr(node, "evidence"):
            yield node.source, node.evidence
        for name in node.__struct_fields__:
            value = getattr(node, name)
            if value is not UNSET:
                yield from _cited(value)
    elif isinstance(node, tuple):
        for one in node:
            yield from _cited(one)
