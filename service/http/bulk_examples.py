"""Requests as a table that says the same, and what comes of them: the examples of many items at once.

A quantity's unit goes into the header. So requests that share a table name a quantity in one unit, and where they do
not, its number and its unit have columns of their own.
"""

import csv
import io
from collections.abc import Iterator, Sequence
from typing import Any, Final

import msgspec

from service.calculations.registry import Calculation
from service.calculations.shared import units
from service.calculations.shared.csv_cells import harmless
from service.http.bulk import items_of, written_as
from service.http.bulk_paths import Steps, written
from service.http.bulk_query import CSV, NDJSON, Wishes
from service.http.bulk_results import Desk
from service.http.catalogue_table import DecimalSign
from service.http.negotiation import JSON

_QUANTITY: Final = frozenset({"value", "low", "high", "uncertainty", "unit"})
_TEXTS: Final = frozenset({"reference", "name"})
"""Members that are texts, whatever they look like."""


def body_of(requests: Sequence[Any], media: str) -> bytes:
    """Requests as the body of one.

    Args:
        requests: as they would be sent one by one.
        media: media type of the body.
    """
    if media == JSON:
        return msgspec.json.encode({"items": requests})
    if media == NDJSON:
        return b"".join(msgspec.json.encode(one) + b"\n" for one in requests)
    return table_of(requests).encode()


def answer_of(calculation: Calculation[Any, Any], body: bytes, media: str, wishes: Wishes, answered: str) -> bytes:
    """What is answered to a body that is sound as a whole.

    Args:
        calculation: what is asked.
        body: many items.
        media: media type of the body.
        wishes: how the answers are to be given.
        answered: media type of the answer.
    """
    items = items_of(media, body, calculation, wishes)
    for _ in items.look():
        pass
    desk = Desk(calculation, wishes, {"path": f"/v1/bulk/{calculation.name}"}, calculation.largest_body)
    return b"".join(piece for piece in written_as(answered, items, desk, wishes) if isinstance(piece, bytes))


def table_of(requests: Sequence[Any], decimal: DecimalSign = "point") -> str:
    """Requests as CSV, a row each.

    Args:
        requests: sound ones.
        decimal: decimal sign of the table.
    """
    told = [list(_told(request, ())) for request in requests]
    units_of: dict[Steps, set[str]] = {}
    for row in told:
        for steps, _, unit, _ in row:
            units_of.setdefault(steps, set()).add(unit)
    rows = [dict(cell for one in row for cell in _cells(one, mixed=len(units_of[one[0]]) > 1)) for row in told]
    headers = list(dict.fromkeys(header for row in rows for header in row))
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=";" if decimal == "comma" else ",", lineterminator="\r\n")
    writer.writerow(headers)
    writer.writerows([_cell(cells.get(header), decimal) for header in headers] for cells in rows)
    return out.getvalue()


_Told = tuple[Steps, str, str, Any]
"""A member, which of its numbers is told (empty for the member itself), in which unit, and what is told."""


def _told(node: Any, steps: Steps) -> Iterator[_Told]:
    """What a request tells, one by one."""
    if isinstance(node, dict) and "unit" in node and node.keys() <= _QUANTITY:
        for part in ("value", "low", "high", "uncertainty"):
            if part in node:
                yield steps, "" if part == "value" else part, node["unit"], node[part]
    elif isinstance(node, dict):
        for name, one in node.items():
            yield from _told(one, (*steps, name))
    elif isinstance(node, list):
        for place, one in enumerate(node):
            yield from _told(one, (*steps, place))
    elif node is not None:
        match = units.QUANTITY_TEXT.fullmatch(node) if isinstance(node, str) else None
        if match is not None and units.kind_of_unit(match[2]) is not None and steps[-1] not in _TEXTS:
            yield steps, "", match[2], float(match[1])
        else:
            yield steps, "", "", node


def _cells(one: _Told, *, mixed: bool) -> Iterator[tuple[str, Any]]:
    """The cells that tell it; where a member is told in several units, the unit has a column of its own."""
    steps, part, unit, value = one
    path = written((*steps, part) if part else steps)
    if mixed:
        ratio = units.RATIO_TEXT.fullmatch(value) if isinstance(value, str) else None
        yield path, float(ratio[1]) / float(ratio[2]) if ratio is not None else value
        yield written((*steps, "unit")), unit or "1"
    else:
        yield (f"{path} [{unit}]" if unit else path), value


def _cell(value: Any, decimal: DecimalSign) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str) and not units.RATIO_TEXT.fullmatch(value):
        return harmless(value)
    text = str(value)
    return text.replace(".", ",") if decimal == "comma" else text


MEDIA: Final = {JSON: "json", NDJSON: "ndjson", CSV: "csv"}
"""Endings of files by media types."""
