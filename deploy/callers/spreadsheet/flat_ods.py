"""Writes a spreadsheet as flat OpenDocument (.fods): one XML text, which tools for differences can read.

The same cells give the same bytes: nothing of the day, the machine or the program gets into them. Written by OASIS
OpenDocument 1.3 (parts 3 and 4).
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Final, NamedTuple
from xml.sax.saxutils import escape, quoteattr

NAMESPACES: Final = {
    "office": "urn:oasis:names:tc:opendocument:xmlns:office:1.0",
    "style": "urn:oasis:names:tc:opendocument:xmlns:style:1.0",
    "text": "urn:oasis:names:tc:opendocument:xmlns:text:1.0",
    "table": "urn:oasis:names:tc:opendocument:xmlns:table:1.0",
    "fo": "urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0",
    "number": "urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0",
    "script": "urn:oasis:names:tc:opendocument:xmlns:script:1.0",
    "of": "urn:oasis:names:tc:opendocument:xmlns:of:1.2",
    "ooo": "http://openoffice.org/2004/office",
    "xlink": "http://www.w3.org/1999/xlink",
}
WRONG: Final = "wrong"
"""Style of cells that tell what is wrong; it is one of the document's named styles, as conditions need it."""
OF_MICROSOFT: Final = re.compile(r"\b(WEBSERVICE|FILTERXML|ENCODEURL)\(")
"""Functions that the standard has not, and which are written with a prefix."""
QUOTED: Final = re.compile(r'("[^"]*")')
REFERENCE: Final = re.compile(r"(?<![A-Z$.])(\$?[A-Z]{1,2}\$?[0-9]+)(?::(\$?[A-Z]{1,2}\$?[0-9]+))?(?![0-9(])")

_PAGE: Final = (
    '<style:page-layout style:name="landscape"><style:page-layout-properties style:print-orientation="landscape" '
    'fo:page-width="29.7cm" fo:page-height="21cm" fo:margin="1cm" style:scale-to-X="1" style:scale-to-Y="0"/>'
    "</style:page-layout>\n"
)
"""Paper across, all columns on one page."""


class Style(NamedTuple):
    """How cells look."""

    cell: Mapping[str, str] = {}
    text: Mapping[str, str] = {}
    decimals: int | None = None
    """Decimals that a number is shown with; without it, as many as it has."""
    wrong: str | None = None
    """Formula with C in the place of the cell's address, and when it is true the cell is written in red."""


class Cell(NamedTuple):
    """A cell: a text, a number, or a formula that begins with an equals sign."""

    content: str | float
    style: str = "plain"
    one_of: tuple[str, ...] = ()
    """Words that are offered for it; others are refused."""


class Sheet(NamedTuple):
    """A sheet: cells by their address, and the widths of its columns."""

    name: str
    cells: Mapping[str, Cell]
    widths: Sequence[float]
    """In centimetres, from column A on; a negative one is hidden."""
    heights: Mapping[int, float] = {}
    """In centimetres, of rows that hold texts of several lines."""


def cells_of(row: int, texts: Iterable[str], style: str) -> dict[str, Cell]:
    """Cells side by side from column A on.

    Args:
        row: of the sheet.
        texts: one for each.
        style: of all of them.
    """
    return {f"{chr(ord('A') + place)}{row}": Cell(text, style) for place, text in enumerate(texts)}


def open_formula(formula: str) -> str:
    """A formula as OpenDocument writes it.

    Args:
        formula: as it is typed into Calc: semicolons between arguments, addresses of this sheet.
    """
    parts = QUOTED.split(formula)
    for index in range(0, len(parts), 2):
        bracketed = REFERENCE.sub(_bracketed, parts[index])
        parts[index] = OF_MICROSOFT.sub(r"COM.MICROSOFT.\1(", bracketed)
    return "of:" + "".join(parts)


def _bracketed(match: re.Match[str]) -> str:
    first, last = match.groups()
    return f"[.{first}]" if last is None else f"[.{first}:.{last}]"


def flat_ods(sheets: Sequence[Sheet], styles: Mapping[str, Style], macros: Mapping[str, str]) -> str:
    """The text of the document.

    Args:
        sheets: in their order.
        styles: by the names that cells have; one is called plain.
        macros: modules of Basic by their names.
    """
    names = "".join(f'\n xmlns:{prefix}="{uri}"' for prefix, uri in NAMESPACES.items())
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>\n',
        f'<office:document{names}\n office:version="1.3" office:mimetype="{kind}">\n',
        _scripts(macros),
        "<office:styles>\n",
        *[_style(name, style, sheets[0].name) for name, style in styles.items() if name == WRONG],
        "</office:styles>\n<office:automatic-styles>\n",
        *[_style(name, style, sheets[0].name) for name, style in styles.items() if name != WRONG],
        *[_row_style(height) for height in sorted({one for sheet in sheets for one in sheet.heights.values()})],
        '<style:style style:name="sheet" style:family="table" style:master-page-name="page"/>\n',
        *[_column_style(width) for width in sorted({width for sheet in sheets for width in sheet.widths})],
        _PAGE,
        "</office:automatic-styles>\n",
        '<office:master-styles><style:master-page style:name="page" style:page-layout-name="landscape"/>',
        "</office:master-styles>\n<office:body>\n<office:spreadsheet>\n",
        _validations(sheets),
        *[_table(sheet) for sheet in sheets],
        "</office:spreadsheet>\n</office:body>\n</office:document>\n",
    ]
    return "".join(parts)


def _scripts(macros: Mapping[str, str]) -> str:
    """Macros stand in the document itself, as Calc writes them."""
    if not macros:
        return ""
    modules = "".join(
        f'<ooo:module ooo:name="{name}">\n<ooo:source-code>{escape(text)}</ooo:source-code>\n</ooo:module>\n'
        for name, text in macros.items()
    )
    library = f'<ooo:library-embedded ooo:name="Standard">\n{modules}</ooo:library-embedded>\n'
    libraries = f"<ooo:libraries>\n{library}</ooo:libraries>\n"
    script = f'<office:script script:language="ooo:Basic">\n{libraries}</office:script>\n'
    return f"<office:scripts>\n{script}</office:scripts>\n"


def _attributes(attributes: Mapping[str, str]) -> str:
    return "".join(f" {name}={quoteattr(value)}" for name, value in attributes.items())


def _style(name: str, style: Style, sheet: str) -> str:
    number, data = "", ""
    if style.decimals is not None:
        decimals = f'number:decimal-places="{style.decimals}" number:min-decimal-places="{style.decimals}"'
        shape = f'<number:number {decimals} number:min-integer-digits="1"/>'
        number = f'<number:number-style style:name="of-{name}">{shape}</number:number-style>\n'
        data = f' style:data-style-name="of-{name}"'
    when = ""
    if style.wrong is not None:
        condition = f"of:is-true-formula({open_formula('=' + style.wrong.replace('C', 'A1'))[4:]})"
        when = f'<style:map style:condition={quoteattr(condition)} style:apply-style-name="{WRONG}"'
        when += f' style:base-cell-address="{sheet}.A1"/>'
    return (
        f'{number}<style:style style:name="{name}" style:family="table-cell"{data}>'
        f"<style:table-cell-properties{_attributes(style.cell)}/>"
        f"<style:text-properties{_attributes(style.text)}/>{when}</style:style>\n"
    )


def _column_style(width: float) -> str:
    properties = f'<style:table-column-properties style:column-width="{abs(width)}cm"/>'
    return f'<style:style style:name="{_column(width)}" style:family="table-column">{properties}</style:style>\n'


def _row_style(height: float) -> str:
    properties = f'<style:table-row-properties style:row-height="{height}cm" style:use-optimal-row-height="false"/>'
    return f'<style:style style:name="{_row(height)}" style:family="table-row">{properties}</style:style>\n'


def _row(height: float) -> str:
    return f"height-{height}".replace(".", "-")


def _column(width: float) -> str:
    return f"width-{abs(width)}".replace(".", "-")


def _validation(words: tuple[str, ...]) -> str:
    return "of-" + "-".join(words).lower()


def _validations(sheets: Sequence[Sheet]) -> str:
    lists = dict.fromkeys(cell.one_of for sheet in sheets for cell in sheet.cells.values() if cell.one_of)
    if not lists:
        return ""
    told = []
    for words in lists:
        condition = quoteattr("of:cell-content-is-in-list(" + ";".join(f'"{word}"' for word in words) + ")")
        message = f'<table:error-message table:display="true"><text:p>One of: {", ".join(words)}</text:p>'
        told.append(
            f'<table:content-validation table:name="{_validation(words)}" table:condition={condition}>'
            f"{message}</table:error-message></table:content-validation>\n"
        )
    return f"<table:content-validations>\n{''.join(told)}</table:content-validations>\n"


def _place(address: str) -> tuple[int, int]:
    """Row and column of an address, from 1."""
    letters = address.rstrip("0123456789")
    column = 0
    for letter in letters:
        column = 26 * column + ord(letter) - ord("A") + 1
    return int(address[len(letters) :]), column


def _table(sheet: Sheet) -> str:
    rows: dict[int, dict[int, Cell]] = {}
    for address, cell in sheet.cells.items():
        row, column = _place(address)
        rows.setdefault(row, {})[column] = cell
    parts = [f'<table:table table:name={quoteattr(sheet.name)} table:style-name="sheet">\n']
    for width in sheet.widths:
        hidden = ' table:visibility="collapse"' if width < 0 else ""
        parts.append(
            f'<table:table-column table:style-name="{_column(width)}"{hidden} table:default-cell-style-name="plain"/>\n'
        )
    last = 0
    for number in sorted(rows):
        if number > last + 1:
            parts.append(f'<table:table-row table:number-rows-repeated="{number - last - 1}"><table:table-cell/>')
            parts.append("</table:table-row>\n")
        height = sheet.heights.get(number)
        shape = "" if height is None else f' table:style-name="{_row(height)}"'
        parts.append(f"<table:table-row{shape}>\n")
        done = 0
        for column in sorted(rows[number]):
            if column > done + 1:
                parts.append(f'<table:table-cell table:number-columns-repeated="{column - done - 1}"/>\n')
            parts.append(_cell(rows[number][column]))
            done = column
        parts.append("</table:table-row>\n")
        last = number
    return "".join([*parts, "</table:table>\n"])


def _cell(cell: Cell) -> str:
    attributes = {"table:style-name": cell.style}
    if cell.one_of:
        attributes["table:content-validation-name"] = _validation(cell.one_of)
    content = cell.content
    if isinstance(content, str) and content.startswith("="):
        attributes["table:formula"] = open_formula(content)
        return f"<table:table-cell{_attributes(attributes)}/>\n"
    if isinstance(content, str):
        if not content:
            return f"<table:table-cell{_attributes(attributes)}/>\n"
        attributes["office:value-type"] = "string"
        return f"<table:table-cell{_attributes(attributes)}><text:p>{escape(content)}</text:p></table:table-cell>\n"
    attributes |= {"office:value-type": "float", "office:value": repr(content)}
    return f"<table:table-cell{_attributes(attributes)}><text:p>{content!r}</text:p></table:table-cell>\n"
