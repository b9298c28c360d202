"""DEVELOPERS.md, "Add or correct a fat", step by step on a copy of the data."""

import re
import shutil
from pathlib import Path
from typing import Final

import pytest

from service.reference import ReferenceDataError, load, reference_data
from service.reference.loader import DATA
from tests.http.serving import serving

GUIDE: Final = Path(__file__).parents[2] / "DEVELOPERS.md"
STEPS: Final = {
    "sources.toml": '\n[test-certificate]\ntitle = "Invented certificate"\nbody = "This test"\nyear = "2024"\n',
    "fats.csv": 'test-butter,test butter,"Testa testa, seed",triglyceride,no,\n',
    "fat_figures.csv": "test-butter,saponification_value,181,189,mg/g,yes,test-certificate,seen-primary,invented\n"
    "test-butter,saponification_value,,200,mg/g,no,test-certificate,memory,a maximum\n"
    "test-butter,iodine_value,55,65,g/100 g,yes,test-certificate,seen-primary,\n",
    "fat_compositions.csv": "test-butter,limits,test-certificate,seen-primary,\n",
    "fat_fatty_acids.csv": "test-butter,C16:0,30,45\ntest-butter,C18:1,50,70\n",
}
"""What each step of the guide adds at the end of its file; all of it is invented."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(DATA, tmp_path / "data"))


def add(folder: Path, *files: str) -> None:
    for file in files:
        path = folder / file
        path.write_text(path.read_text(encoding="utf-8") + STEPS[file], encoding="utf-8")


def lines(folder: Path, file: str) -> int:
    return len((folder / file).read_text(encoding="utf-8").splitlines())


def test_guide_names_the_files_in_the_order_of_its_steps() -> None:
    section = GUIDE.read_text(encoding="utf-8").partition("## Add or correct a fat")[2].partition("\n## ")[0]
    assert re.findall(r"^\d\. `([a-z_.]+)`", section, re.MULTILINE) == list(STEPS)


def test_fat_added_by_the_guide_is_served_with_its_figures(folder: Path) -> None:
    add(folder, *STEPS)
    data = load(folder)
    assert data.version != reference_data().version
    assert data.fats.keys() - reference_data().fats.keys() == {"test-butter"}
    call = serving(data)
    fat = call("GET", "/v1/fats/test-butter").json()
    assert fat["data_version"] == data.version
    assert fat["saponification_value"] == {
        "value": 185.0,
        "low": 181.0,
        "high": 189.0,
        "unit": "mg/g",
        "source": "test-certificate",
        "evidence": "seen-primary",
        "note": "invented",
    }
    assert fat["iodine_value"]["value"] == 60.0
    assert fat["fatty_acids"]["shares"]["C18:1"] == {"value": 0.6, "low": 0.5, "high": 0.7, "unit": "1"}
    assert fat["other_figures"] == [
        {
            "property": "saponification_value",
            "high": 200.0,
            "unit": "mg/g",
            "source": "test-certificate",
            "evidence": "memory",
            "note": "a maximum",
        }
    ]
    assert call("GET", "/v1/sources/test-certificate").json()["title"] == "Invented certificate"
    assert call("GET", "/v1/fats?search=test+butter&format=csv").body.count(b"test-butter") == 1


@pytest.mark.parametrize(
    ("left_out", "file", "from_end", "reason"),
    [
        ("sources.toml", "fat_compositions.csv", 0, "source 'test-certificate' is not in sources.toml"),
        ("fats.csv", "fat_compositions.csv", 0, "fat 'test-butter' is not in fats.csv"),
        ("fat_figures.csv", "fats.csv", 0, "test-butter has no used saponification_value in fat_figures.csv"),
        ("fat_compositions.csv", "fat_fatty_acids.csv", 1, "fat 'test-butter' is not in fat_compositions.csv"),
        ("fat_fatty_acids.csv", "fat_compositions.csv", 0, "test-butter has no fatty acids in fat_fatty_acids.csv"),
    ],
)
def test_step_left_out_is_told_with_file_and_row(
    folder: Path, left_out: str, file: str, from_end: int, reason: str
) -> None:
    add(folder, *(STEPS.keys() - {left_out}))
    with pytest.raises(ReferenceDataError) as told:
        load(folder)
    assert (told.value.file, told.value.row) == (file, lines(folder, file) - from_end)
    assert reason in told.value.reason


def test_fat_without_known_fatty_acids_needs_neither_file(folder: Path) -> None:
    add(folder, "sources.toml", "fats.csv", "fat_figures.csv")
    assert "fatty_acids" not in serving(load(folder))("GET", "/v1/fats/test-butter").json()


def test_corrected_figure_is_served(folder: Path) -> None:
    path = folder / "fat_figures.csv"
    text = path.read_text(encoding="utf-8")
    assert text.count("olive-oil,saponification_value,184,196,") == 1
    path.write_text(text.replace("olive-oil,saponification_value,184,196,", "olive-oil,saponification_value,185,195,"))
    data = load(folder)
    assert data.version != reference_data().version
    value = serving(data)("GET", "/v1/fats/olive-oil").json()["saponification_value"]
    assert (value["low"], value["high"]) == (185.0, 195.0)
