"""The README's table of deviations is that of the tests."""

from tests.reference_cases import table


def test_the_readme_shows_the_table_of_the_tests() -> None:
    text = table.README.read_text(encoding="utf-8")
    assert table.BEGIN in text
    assert table.inserted(text) == text, "run: python -m tests.reference_cases.table"
