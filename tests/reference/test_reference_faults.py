"""A faulty data file stops the load, with the file, the row and the reason."""

import re
import shutil
from pathlib import Path
from typing import NamedTuple

import pytest

from service.reference import ReferenceDataError, load
from service.reference.loader import DATA


class Fault(NamedTuple):
    name: str
    file: str
    old: str
    """Text of the sound file whose first occurrence is changed."""
    new: str
    reason: str
    at: str = ""
    """Text on the row that is to be named; empty where that is the changed one."""


FAULTS = [
    Fault("unknown column", "fats.csv", "id,name,species", "id,name,colour,species", "unknown column 'colour'"),
    Fault("missing column", "fat_figures.csv", "evidence,note", "evidence", "column 'note' must stand there"),
    Fault("too few cells", "acids.csv", "citric-acid-anhydrous,", "", "8 cells under 9 columns"),
    Fault(
        "no number",
        "fat_figures.csv",
        "coconut-oil,saponification_value,248,",
        "coconut-oil,saponification_value,2 48,",
        "low: Expected `float",
    ),
    Fault(
        "decimal comma",
        "fat_figures.csv",
        "coconut-oil,iodine_value,6.3,",
        'coconut-oil,iodine_value,"6,3",',
        "it holds '6,3'",
    ),
    Fault(
        "not a number word",
        "fat_figures.csv",
        "coconut-oil,saponification_value,248,",
        "coconut-oil,saponification_value,nan,",
        "not a usable number",
    ),
    Fault(
        "limits crossed",
        "fat_figures.csv",
        "coconut-oil,saponification_value,248,265",
        "coconut-oil,saponification_value,265,248",
        "low 265 is above high 248",
    ),
    Fault(
        "slip of the unit",
        "fat_figures.csv",
        "coconut-oil,saponification_value,248,265",
        "coconut-oil,saponification_value,0.248,0.265",
        "check the unit",
    ),
    Fault(
        "other unit",
        "fat_figures.csv",
        "coconut-oil,saponification_value,248,265,mg/g",
        "coconut-oil,saponification_value,248,265,%",
        "given in mg/g, not in %",
    ),
    Fault(
        "unknown source",
        "fat_figures.csv",
        "265,mg/g,yes,codex-cxs-210",
        "265,mg/g,yes,codex-cxs-999",
        "source 'codex-cxs-999' is not in sources.toml",
    ),
    Fault(
        "unknown evidence",
        "fat_figures.csv",
        "265,mg/g,yes,codex-cxs-210,seen-reprint",
        "265,mg/g,yes,codex-cxs-210,certain",
        "evidence: 'certain' is none of seen-primary, seen-reprint, ",
    ),
    Fault(
        "no limits",
        "fat_figures.csv",
        "coconut-oil,saponification_value,250,,",
        "coconut-oil,saponification_value,,,",
        "low and high are both empty",
    ),
    Fault(
        "open end used",
        "fat_figures.csv",
        "coconut-oil,saponification_value,248,265",
        "coconut-oil,saponification_value,248,",
        "open end",
    ),
    Fault(
        "second figure used",
        "fat_figures.csv",
        "coconut-oil,saponification_value,250,264,mg/g,no",
        "coconut-oil,saponification_value,250,264,mg/g,yes",
        "a second saponification_value of coconut-oil",
    ),
    Fault("figure of no fat", "fat_figures.csv", "\nlard,", "\nlarb,", "fat 'larb' is not in fats.csv"),
    Fault("identifier twice", "fats.csv", "\npalm-olein,", "\npalm-oil,", "id 'palm-oil' stands in row"),
    Fault("identifier in capitals", "fats.csv", "\npalm-olein,", "\nPalm olein,", "joined by hyphens"),
    Fault(
        "unknown kind",
        "fats.csv",
        "Cocos nucifera,triglyceride",
        "Cocos nucifera,oil",
        "kind: 'oil' is none of triglyceride, ",
    ),
    Fault(
        "unknown fatty acid",
        "fat_fatty_acids.csv",
        "coconut-oil,C12:0",
        "coconut-oil,C12:9",
        "fatty acid 'C12:9' is not in fatty_acids.csv",
    ),
    Fault(
        "fatty acid twice",
        "fat_fatty_acids.csv",
        "coconut-oil,C12:0",
        "coconut-oil,C10:0",
        "C10:0 of coconut-oil comes twice",
    ),
    Fault(
        "shares crossed",
        "fat_fatty_acids.csv",
        "coconut-oil,C12:0,45.1,53.2",
        "coconut-oil,C12:0,53.2,45.1",
        "low 53.2 is above high 45.1",
    ),
    Fault(
        "analysis with a range",
        "fat_fatty_acids.csv",
        "cocoa-butter,C16:0,25.4,25.4",
        "cocoa-butter,C16:0,25.4,26",
        "low must equal high",
    ),
    Fault("shorthand astray", "fatty_acids.csv", "C18:1,oleic", "C19:1,oleic", "C19:1 does not mean 18"),
    Fault("content above the whole", "acids.csv", "90.078,88,", "90.078,188,", "content 188 %"),
    Fault("unknown like fat", "liquids.csv", "seen-primary,milk-fat", "seen-primary,milk-fats", "'milk-fats'"),
    Fault("missing share", "liquids.csv", "milk,87.03,4.14,", "milk,87.03,,", "goat-milk has no fat"),
    Fault("more than the whole", "liquids.csv", "milk,87.03,4.14,", "milk,97.03,4.14,", "add up to 110.0 %"),
    Fault("unknown acid", "liquid_figures.csv", "%,lactic-acid,", "%,milky-acid,", "'milky-acid' is not in acids"),
    Fault(
        "share given twice",
        "liquid_figures.csv",
        "beer,alcohol,",
        "beer,water,",
        "water of beer is given twice",
    ),
    Fault("figure of no liquid", "liquid_figures.csv", "\nbeer,alcohol", "\nbier,alcohol", "liquid 'bier'"),
    Fault("member unknown", "vessel_materials.toml", '[hdpe]\nname = "', '[hdpe]\ncolour = "', "`colour`"),
    Fault("hazard unknown", "vessel_materials.toml", '["hydrogen"]', '["hydrogene"]', "hydrogene", at="[aluminium]"),
    Fault(
        "limits astray",
        "vessel_materials.toml",
        "strength = 40",
        "strength = 60",
        "limits must ascend",
        at="[stainless-steel]",
    ),
    Fault(
        "unknown source of a rule",
        "practices.toml",
        'source = "common-practice"',
        'source = "hearsay"',
        "source 'hearsay' is not",
        at="[water-ratio-usual]",
    ),
    Fault("no TOML", "sources.toml", "[codex-cxs-210]", "[codex-cxs-210", "Expected ']'"),
    Fault(
        "purity as a fraction",
        "alkalis.toml",
        "default_purity = 100",
        "default_purity = 1",
        "default purity 1 is not between",
        at="[NaOH]",
    ),
    Fault(
        "member missing",
        "alkalis.toml",
        "molar_mass = 56.1053",
        "",
        "missing required field `molar_mass`",
        at="[KOH]",
    ),
]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(DATA, tmp_path / "data"))


def row_of(text: str, part: str) -> int:
    at = text.index(part)
    return text.count("\n", 0, at + part.startswith("\n")) + 1


@pytest.mark.parametrize("fault", FAULTS, ids=[fault.name for fault in FAULTS])
def test_a_fault_names_file_row_and_reason(folder: Path, fault: Fault) -> None:
    path = folder / fault.file
    sound = path.read_text(encoding="utf-8")
    assert fault.old in sound
    path.write_text(sound.replace(fault.old, fault.new, 1), encoding="utf-8")
    with pytest.raises(ReferenceDataError, match=re.escape(fault.reason)) as caught:
        load(folder)
    row = row_of(sound, fault.at or fault.old)
    assert caught.value.file == fault.file
    assert caught.value.row == row
    assert str(caught.value) == f"{fault.file}, row {row}: {caught.value.reason}"


def test_a_fat_without_a_used_saponification_value_is_named_where_it_stands(folder: Path) -> None:
    figures = folder / "fat_figures.csv"
    text = figures.read_text(encoding="utf-8")
    used = "lard,saponification_value,195,203,mg/g,yes"
    assert used in text
    figures.write_text(text.replace(used, used.replace("yes", "no")), encoding="utf-8")
    with pytest.raises(ReferenceDataError, match="lard has no used saponification_value") as caught:
        load(folder)
    assert caught.value.file == "fats.csv"
    assert caught.value.row == row_of((folder / "fats.csv").read_text(encoding="utf-8"), "\nlard,")


def test_limits_of_fatty_acids_that_cannot_add_up_are_refused(folder: Path) -> None:
    shares = folder / "fat_fatty_acids.csv"
    text = shares.read_text(encoding="utf-8")
    shares.write_text(text.replace("coconut-oil,C12:0,45.1,53.2", "coconut-oil,C12:0,0,1"), encoding="utf-8")
    with pytest.raises(ReferenceDataError, match="excludes 100 %") as caught:
        load(folder)
    assert caught.value.file == "fat_compositions.csv"


@pytest.mark.parametrize("file", ["fats.csv", "liquid_figures.csv", "sources.toml"])
def test_a_missing_file_is_named(folder: Path, file: str) -> None:
    (folder / file).unlink()
    with pytest.raises(ReferenceDataError, match="cannot be read") as caught:
        load(folder)
    assert caught.value.file == file
    assert caught.value.row is None


def test_an_empty_file_is_named(folder: Path) -> None:
    (folder / "acids.csv").write_text("# nothing yet\n", encoding="utf-8")
    with pytest.raises(ReferenceDataError, match=re.escape("acids.csv: no header")):
        load(folder)


def test_a_file_in_another_encoding_is_named(folder: Path) -> None:
    text = (folder / "liquids.csv").read_text(encoding="utf-8")
    (folder / "liquids.csv").write_bytes(text.encode("latin-1"))
    with pytest.raises(ReferenceDataError, match=re.escape("liquids.csv: is not UTF-8")):
        load(folder)


def test_a_file_saved_by_a_spreadsheet_loads_alike(folder: Path) -> None:
    fats = folder / "fats.csv"
    text = fats.read_text(encoding="utf-8")
    fats.write_bytes(text.replace("\n", "\r\n").encode("utf-8-sig"))
    assert load(folder).fats == load().fats
