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
    desk = Desk(calculation, wishes, {"path": f"/v1/bulk/{calculation.name}"})
    return b"".join(written_as(answered, items, desk, wishes))


def table_of(requests: Sequence[Any], decimal: DecimalSign = "point") -> str:
    """Requests as CSV, a row each.

    Args:
        requests: sound ones.
        decimal: decimal sign of the table.
    """
    rows = [dict(_cells(request, ())) for request in requests]
    if any(len(found) > 1 for found in _units(rows).values()):
        rows = [dict(_apart(row)) for row in rows]
    headers = list(dict.fromkeys(header for row in rows for header in row))
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=";" if decimal == "comma" else ",", lineterminator="\r\n")
    writer.writerow(_headed(*header) for header in headers)
    for row in rows:
        writer.writerow(_cell(row.get(header), decimal) for header in headers)
    return out.getvalue()


_Header = tuple[Steps, str]


def _headed(steps: Steps, unit: str) -> str:
    return f"{written(steps)} [{unit}]" if unit else written(steps)


def _cells(node: Any, steps: Steps) -> Iterator[tuple[_Header, Any]]:
    """The cells of a request: path and unit of each, and what it says."""
    if isinstance(node, dict) and "unit" in node and node.keys() <= _QUANTITY:
        for part in ("value", "low", "high", "uncertainty"):
            if part in node:
                yield ((steps if part == "value" else (*steps, part)), node["unit"]), node[part]
    elif isinstance(node, dict):
        for name, one in node.items():
            yield from _cells(one, (*steps, name))
    elif isinstance(node, list):
        for place, one in enumerate(node):
            yield from _cells(one, (*steps, place))
    elif node is not None:
        match = units.QUANTITY_TEXT.fullmatch(node) if isinstance(node, str) else None
        if match is not None and units.kind_of_unit(match[2]) is not None and steps[-1] not in {"reference", "name"}:
            yield (steps, match[2]), float(match[1])
        else:
            yield (steps, ""), node


def _units(rows: list[dict[_Header, Any]]) -> dict[Steps, set[str]]:
    """The units that each quantity is told in."""
    found: dict[Steps, set[str]] = {}
    for row in rows:
        for steps, unit in row:
            whole = steps[:-1] if steps[-1] in _QUANTITY else steps
            found.setdefault(whole, set()).add(unit)
    return found


def _apart(row: dict[_Header, Any]) -> Iterator[tuple[_Header, Any]]:
    """The same with numbers and units in columns of their own."""
    for (steps, unit), value in row.items():
        if not unit:
            yield (steps, ""), value
        elif steps[-1] in _QUANTITY:
            yield (steps, ""), value
            yield ((*steps[:-1], "unit"), ""), unit
        else:
            yield ((*steps, "value"), ""), value
            yield ((*steps, "unit"), ""), unit


def _cell(value: Any, decimal: DecimalSign) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return harmless(value)
    text = repr(value)
    return text.replace(".", ",") if decimal == "comma" else text


MEDIA: Final = {JSON: "json", NDJSON: "ndjson", CSV: "csv"}
"""Endings of files by media types."""
