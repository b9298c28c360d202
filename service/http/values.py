"""Single values over HTTP: one number for a cell, as text, JSON, CSV or XML, which any cache may keep.

The answer follows from the address and the versions of service and data alone. LibreOffice asks each cell with
OPTIONS, HEAD and GET, so HEAD answers as GET does.
"""

from collections.abc import Sequence
from functools import lru_cache
from time import perf_counter
from typing import Final, NamedTuple
from xml.sax.saxutils import escape, quoteattr

import msgspec

from service.calculations.shared.cautions import Caution
from service.calculations.shared.faults import Fault, Refusal, near
from service.calculations.shared.told import Shown, Told, figure
from service.calculations.values.value import Value
from service.http.endpoint import failed
from service.http.metrics import Meter
from service.http.negotiation import JSON, VARY, answer_media
from service.http.problems import METHOD_NOT_ALLOWED, Trouble, refused
from service.http.tags import CACHE_CONTROL, entity_tag, has_tag
from service.http.value_query import CSV, ENDS, MEDIA, TEXT, XML, End, Wishes, read_wishes, wants_inline
from service.http.wire import PROBLEM, App, Receive, Scope, Send, answer, answer_empty, answer_trouble
from service.reference import reference_data

CONTENT_TYPE: Final = {
    TEXT: b"text/plain; charset=utf-8",
    JSON: JSON.encode(),
    CSV: b"text/csv; charset=utf-8; header=present",
    XML: b"application/xml; charset=utf-8",
}
ALLOW: Final = ((b"allow", b"GET, HEAD, OPTIONS"),)
KEPT: Final = 4096
"""Values kept: those of a large sheet. Each takes a kilobyte or two."""
LONGEST_INLINE: Final = 200
"""Characters of a refusal as text: what a cell can show."""


class Answered(NamedTuple):
    """A value as it is told, before its format."""

    shown: Shown
    cautions: Sequence[Caution]
    data_version: str


def value_endpoint(value: Value, data_version: str, meter: Meter) -> App:
    """The ASGI application that serves one value.

    Args:
        value: the value.
        data_version: of the reference data.
        meter: counts the time that reckoning takes.
    """
    versioned = (b"data-version", data_version.encode())

    async def serve(scope: Scope, _: Receive, send: Send) -> None:
        query: bytes = scope["query_string"]
        inline = wants_inline(query)
        try:
            method: str = scope["method"]
            if method == "OPTIONS":
                await answer_empty(send, ALLOW)
                return
            if method not in {"GET", "HEAD"}:
                detail = f"{method[:20]} is not known here; a value is read with GET."
                raise Trouble(METHOD_NOT_ALLOWED, detail, headers=ALLOW)
            wishes, given, faults = read_wishes(query, value)
            media = answer_media(wishes.format, _header(scope, b"accept"), MEDIA)
            began = perf_counter()
            body = value_body(value, wishes, tuple(sorted(given.items())), tuple(faults), media)
            meter.worked(perf_counter() - began)
            tag = entity_tag(scope["path"], query, media, data_version, body)
            headers = [(b"etag", tag.encode()), (b"cache-control", CACHE_CONTROL.encode()), *VARY, versioned]
            if has_tag(_header(scope, b"if-none-match"), tag):
                await send({"type": "http.response.start", "status": 304, "headers": headers})
                await send({"type": "http.response.body", "body": b"", "more_body": False})
            else:
                await answer(send, 200, body, CONTENT_TYPE[media], headers)
        except Refusal as refusal:
            await _refuse(scope, send, refused(refusal, (versioned,)), refusal, data_version, inline=inline)
        except Trouble as trouble:
            shown = inline and trouble.kind is not METHOD_NOT_ALLOWED
            await _refuse(scope, send, trouble, None, data_version, inline=shown)
        except Exception:  # whatever it is, the caller gets a problem document and the log the rest
            await _refuse(scope, send, failed(scope), None, data_version, inline=inline)

    return serve


def _header(scope: Scope, wanted: bytes) -> list[str]:
    """Every value of a header."""
    return [value.decode("latin-1") for name, value in scope["headers"] if name == wanted]


@lru_cache(maxsize=KEPT)
def value_body(
    value: Value, wishes: Wishes, given: tuple[tuple[str, str], ...], faults: tuple[Fault, ...], media: str
) -> bytes:
    """The answer, written; the same address has the same one.

    Args:
        value: the value.
        wishes: how it is to be given.
        given: the parameters it is reckoned from, in order.
        faults: of the other parameters.
        media: media type of the answer.

    Raises:
        Refusal: with every fault found.
    """
    try:
        found = value.find(dict(given))
    except Refusal as refusal:
        raise Refusal(400 if faults else refusal.status, (*faults, *refusal.faults)) from None
    if faults:
        raise Refusal(400, faults)
    unit = found.told.kind.metric
    if wishes.unit is not None:
        if wishes.unit not in found.told.kind.units:
            raise Refusal(422, [_no_unit(wishes.unit, found.told)])
        unit = found.told.kind.units[wishes.unit]
    shown = figure(found.told, unit, wishes.digits)
    return _WRITE[media](Answered(shown, found.cautions, found.data_version), wishes)


def _no_unit(word: str, told: Told) -> Fault:
    kind = told.kind
    symbols = dict.fromkeys(unit.symbol for unit in kind.units.values())
    return Fault(
        "unit-does-not-fit",
        f"{word[:24]!r} is no unit of {kind.name}{near(word, kind.units)}",
        f"write one of {', '.join(list(symbols)[:12])}",
        parameter="unit",
    )


def _alone(shown: Shown, end: End) -> float:
    """One of its numbers; an end that it has not is the value."""
    number = getattr(shown, end)
    return shown.value if number is msgspec.UNSET else float(number)


def _number(number: float, wishes: Wishes) -> str:
    """A number as text: no exponent, no unit, nothing but digits, sign and decimal sign."""
    text = f"{number:.15f}" if abs(number) < 1e-4 else repr(number)
    if "e" in text:
        text = f"{number:.0f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    text = "0" if text in {"-0", ""} else text
    return text.replace(".", ",") if wishes.decimal == "comma" else text


def _text(answered: Answered, wishes: Wishes) -> bytes:
    return _number(_alone(answered.shown, wishes.end), wishes).encode()


def _json(answered: Answered, _: Wishes) -> bytes:
    shown = msgspec.to_builtins(answered.shown)
    return msgspec.json.encode(shown | {"cautions": answered.cautions, "data_version": answered.data_version})


def _csv(answered: Answered, wishes: Wishes) -> bytes:
    """A header with the unit, as elsewhere, and a row: the value and the ends of its interval."""
    shown = answered.shown
    mark = ";" if wishes.decimal == "comma" else ","
    numbers = [_number(_alone(shown, end), wishes) for end in ENDS]
    if shown.low is msgspec.UNSET:
        numbers[1:] = ["", ""]
    header = mark.join(f"{end} [{shown.unit}]" for end in ENDS)
    return f"{header}\r\n{mark.join(numbers)}\r\n".encode()


def _xml(answered: Answered, _: Wishes) -> bytes:
    """Flat and without namespaces, in ASCII, as the functions of spreadsheets need it."""
    shown = answered.shown
    unit = quoteattr(shown.unit)
    parts = [f"<value unit={unit}>{shown.value!r}</value>"]
    for end in ("low", "high"):
        number = getattr(shown, end)
        if number is not msgspec.UNSET:
            parts.append(f"<{end} unit={unit}>{number!r}</{end}>")
    parts += [
        f'<caution code="{one.code}" severity="{one.severity}">{escape(one.message)}</caution>'
        for one in answered.cautions
    ]
    parts.append(f"<data_version>{escape(answered.data_version)}</data_version>")
    whole = f'<?xml version="1.0" encoding="UTF-8"?><answer>{"".join(parts)}</answer>'
    return whole.encode("ascii", "xmlcharrefreplace")


_WRITE: Final = {TEXT: _text, JSON: _json, CSV: _csv, XML: _xml}


async def _refuse(
    scope: Scope, send: Send, trouble: Trouble, refusal: Refusal | None, data_version: str, *, inline: bool
) -> None:
    """A problem document; or, where it is wanted inline, a text that no program takes for a number."""
    if not inline:
        headers = [*trouble.headers, *(one for one in VARY if one not in trouble.headers)]
        await answer_trouble(scope, send, Trouble(trouble.kind, trouble.detail, faults=trouble.faults, headers=headers))
        return
    scope[PROBLEM] = trouble.kind.name
    body = inline_text(trouble, refusal)
    media = CONTENT_TYPE[TEXT]
    tag = entity_tag(scope["path"], scope["query_string"], TEXT, data_version, body)
    versioned = (b"data-version", data_version.encode())
    await answer(send, 200, body, media, ((b"etag", tag.encode()), (b"cache-control", b"no-store"), *VARY, versioned))


async def refuse_value(scope: Scope, send: Send, trouble: Trouble) -> None:
    """Refuse a value before its query is read, as a text for a cell.

    Args:
        scope: the request.
        send: takes the answer.
        trouble: what is wrong.
    """
    await _refuse(scope, send, trouble, None, reference_data().version, inline=True)


def inline_text(trouble: Trouble, refusal: Refusal | None) -> bytes:
    """A refusal as a short text in ASCII that begins with a word, so that it is no number.

    Args:
        trouble: what the document would say.
        refusal: its faults, where it has some.
    """
    if refusal is None or not refusal.faults:
        said = trouble.detail
    else:
        first = refusal.faults[0]
        at = f"{first.parameter}: " if isinstance(first.parameter, str) else ""
        more = f" (and {refusal.count - 1} more)" if refusal.count > 1 else ""
        said = f"{at}{first.detail}; {first.mend}{more}"
    plain = said.replace("°", "deg ").replace("\n", " ")
    text = f"Error: {plain}".encode("ascii", "replace")
    return text if len(text) <= LONGEST_INLINE else text[: LONGEST_INLINE - 3] + b"..."
