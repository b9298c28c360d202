"""Texts in cells of CSV that no spreadsheet takes for a formula, which it would run; and the same texts had back."""

from typing import Final

FORMULA: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""Beginnings of a text that spreadsheets take for a formula, the full-width forms of East Asian keyboards among them
(common practice, no source)."""


def harmless(text: str) -> str:
    """A text with an apostrophe before it where a spreadsheet would take it for a formula; numbers are not asked about.

    A text that begins so after apostrophes of its own gets one more, so that taking one off gives every text back.

    Args:
        text: of a cell.
    """
    return f"'{text}" if text.lstrip("'").startswith(FORMULA) else text


def had_back(cell: str) -> str:
    """The text that was made harmless: one apostrophe less where a sign follows.

    Args:
        cell: as it stands in a table.
    """
    return cell[1:] if cell.startswith("'") and cell.lstrip("'").startswith(FORMULA) else cell
