"""Loads the reference data from their files, checks them, and names their version.

Every file of the data folder counts for the version, also the tables of correlations that `tables` reads.
"""

import hashlib
from functools import cache
from pathlib import Path
from typing import Final

from msgspec import Struct

from service.reference import fats, liquids, workshop
from service.reference.figures import FigureReader
from service.reference.files import Entry, check_identifier, identified, read_records, read_table
from service.reference.records import ReferenceData, Source

DATA: Final = Path(__file__).parent / "data"


class SourceEntry(Struct, frozen=True, forbid_unknown_fields=True):
    """A table of sources.toml."""

    title: str
    body: str
    year: str = ""
    note: str = ""


def load(folder: Path | None = None) -> ReferenceData:
    """Read and check all reference data.

    Args:
        folder: folder of the files; None for the one that is installed with the service.

    Raises:
        ReferenceDataError: a file is missing or holds something unusable; it names file, row and reason.
    """
    folder = DATA if folder is None else folder
    sources = _sources(read_records(folder, "sources.toml", SourceEntry))
    reader = FigureReader(sources)
    acids_of_fats = fats.fatty_acids(read_table(folder, "fatty_acids.csv", fats.FattyAcidRow), reader)
    fat_rows = identified(read_table(folder, "fats.csv", fats.FatRow), "id")
    all_fats = fats.fats(
        fat_rows,
        read_table(folder, "fat_figures.csv", fats.FatFigureRow),
        fats.compositions(
            read_table(folder, "fat_compositions.csv", fats.CompositionRow),
            read_table(folder, "fat_fatty_acids.csv", fats.ShareRow),
            fat_rows,
            acids_of_fats,
            reader,
        ),
        reader,
    )
    acids = liquids.acids(read_table(folder, "acids.csv", liquids.AcidRow), reader)
    return ReferenceData(
        version=version_of(folder),
        sources=sources,
        fatty_acids=acids_of_fats,
        fats=all_fats,
        acids=acids,
        liquids=liquids.liquids(
            read_table(folder, "liquids.csv", liquids.LiquidRow),
            read_table(folder, "liquid_figures.csv", liquids.LiquidFigureRow),
            acids,
            all_fats,
            reader,
        ),
        alkalis=workshop.alkalis(read_records(folder, "alkalis.toml", workshop.AlkaliEntry), reader),
        vessel_materials=workshop.vessel_materials(
            read_records(folder, "vessel_materials.toml", workshop.VesselEntry), reader
        ),
        practices=workshop.practices(read_records(folder, "practices.toml", workshop.PracticeEntry), reader),
    )


@cache
def reference_data() -> ReferenceData:
    """The reference data installed with the service, read once.

    Raises:
        ReferenceDataError: a file is missing or holds something unusable.
    """
    return load()


def version_of(folder: Path) -> str:
    """Version of the files of a folder: it changes with any byte or name of them.

    Args:
        folder: folder of the files, with all below it.
    """
    digest = hashlib.sha256()
    files = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if path.is_file()}
    for name, path in sorted(files.items()):
        content = path.read_bytes()
        # the length keeps the end of one file from passing for the start of the next
        digest.update(f"{name}\0{len(content)}\0".encode())
        digest.update(content)
    return f"sha256-{digest.hexdigest()[:12]}"


def _sources(entries: dict[str, Entry[SourceEntry]]) -> dict[str, Source]:
    found = {}
    for key, (place, entry) in entries.items():
        check_identifier(key, place)
        found[key] = Source(key, entry.title, entry.body, entry.year, entry.note)
    return found
