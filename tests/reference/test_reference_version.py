"""The version of the reference data follows the content of their files."""

import re
import shutil
from pathlib import Path

import pytest

from service.reference import load, reference_data
from service.reference.loader import DATA, version_of


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(DATA, tmp_path / "data"))


def test_the_version_is_a_short_digest() -> None:
    assert re.fullmatch(r"sha256-[0-9a-f]{12}", reference_data().version)


def test_a_copy_of_the_files_has_the_same_version_and_content(folder: Path) -> None:
    assert load(folder) == reference_data()


def test_one_changed_byte_in_any_file_changes_the_version(folder: Path) -> None:
    sound = version_of(folder)
    files = [path for path in folder.rglob("*") if path.is_file()]
    assert files
    for path in files:
        content = path.read_bytes()
        path.write_bytes(content[:-1] + bytes([content[-1] ^ 1]))
        assert version_of(folder) != sound, path.name
        path.write_bytes(content)
    assert version_of(folder) == sound


def test_an_added_or_renamed_file_changes_the_version(folder: Path) -> None:
    sound = version_of(folder)
    added = folder / "further.csv"
    added.write_text("# none\n", encoding="utf-8")
    with_added = version_of(folder)
    added.rename(folder / "other.csv")
    assert len({sound, with_added, version_of(folder)}) == 3


def test_files_that_the_catalogue_does_not_know_are_left_to_others(folder: Path) -> None:
    (folder / "further.csv").write_text("no table at all\n", encoding="utf-8")
    assert load(folder).fats == reference_data().fats


def test_the_data_are_read_once() -> None:
    assert reference_data() is reference_data()
