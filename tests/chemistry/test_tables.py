"""The reader of coefficient tables says where a table is wrong."""

from pathlib import Path

import pytest

from service.reference import ReferenceDataError, tables

HEAD = "# source: someone, 1900\n# evidence: memory\nname,value\n"


def written(folder: Path, text: str) -> Path:
    (folder / "t.csv").write_text(text, encoding="utf-8")
    return folder


def test_figures_come_in_file_order_and_by_match(tmp_path: Path) -> None:
    table = tables.read("t.csv", written(tmp_path, HEAD + "a,1\nb,2\na,3\n"))
    assert table.select(name="a") == (1.0, 3.0)
    assert table.source == "someone, 1900"
    assert table.evidence == "memory"


@pytest.mark.parametrize("missing", ["# source: someone, 1900\n", "# evidence: memory\n"])
def test_a_table_without_source_or_evidence_is_refused(tmp_path: Path, missing: str) -> None:
    with pytest.raises(ValueError, match=r"t\.csv: the opening comments"):
        tables.read("t.csv", written(tmp_path, HEAD.replace(missing, "") + "a,1\n"))


@pytest.mark.parametrize("row", ["a\n", "a,1,2\n"])
def test_a_row_that_does_not_fit_is_named(tmp_path: Path, row: str) -> None:
    with pytest.raises(ValueError, match=r"t\.csv, row 5"):
        tables.read("t.csv", written(tmp_path, HEAD + "a,1\n" + row))


@pytest.mark.parametrize("figure", ["x", "nan", "inf", ""])
def test_a_figure_that_is_no_number_is_named(tmp_path: Path, figure: str) -> None:
    table = tables.read("t.csv", written(tmp_path, HEAD + f"a,1\nb,{figure}\n"))
    with pytest.raises(ValueError, match=r"t\.csv, row 5"):
        table.select(name="b")


def test_a_missing_file_and_one_that_is_no_text_are_named(tmp_path: Path) -> None:
    with pytest.raises(ReferenceDataError, match=r"^t\.csv: cannot be read"):
        tables.read("t.csv", tmp_path)
    (tmp_path / "t.csv").write_bytes(b"\xff")
    with pytest.raises(ReferenceDataError, match=r"^t\.csv: is not UTF-8"):
        tables.read("t.csv", tmp_path)


def test_an_empty_table_and_an_empty_match_are_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no rows"):
        tables.read("t.csv", written(tmp_path, HEAD))
    with pytest.raises(ValueError, match="no row with"):
        tables.read("t.csv", written(tmp_path, HEAD + "a,1\n")).select(name="c")


def test_every_coefficient_table_has_source_and_evidence() -> None:
    for name in (
        "alkali_enthalpy.csv",
        "balej_1985.csv",
        "choi_okos_1986.csv",
        "freezing_points.csv",
        "iapws_if97_region4.csv",
        "kell_1975.csv",
        "laliberte_2009.csv",
        "olsson_1997.csv",
        "olsson_1997_validity.csv",
    ):
        table = tables.read(name)
        assert table.source
        assert table.evidence
