"""One endpoint for every calculation: method, formats, query, body, answer, problems."""

import logging
from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Final

from msgspec import json

from service.calculations.registry import Calculation
from service.calculations.shared.faults import Fault, Refusal
from service.calculations.shared.rendering import renderer
from service.http.beside import LONG, beside, timed
from service.http.calculation_query import Wishes, read_wishes
from service.http.forms import FORMS, HEADERS, Form
from service.http.metrics import Meter
from service.http.negotiation import JSON, VARY, best_match, is_json, shown
from service.http.operation.limits import largest_body
from service.http.operation.settings import DEFAULTS, Settings
from service.http.operation.trace import TRACE
from service.http.problems import (
    BODY_TOO_LARGE,
    INTERNAL,
    METHOD_NOT_ALLOWED,
    NOT_ACCEPTABLE,
    UNAVAILABLE,
    UNSUPPORTED_MEDIA_TYPE,
    Trouble,
    refused,
)
from service.http.wire import (
    REQUEST,
    App,
    Gone,
    Receive,
    Scope,
    Send,
    answer,
    answer_and_part,
    answer_empty,
    answer_trouble,
    read_body,
)

LOG: Final = logging.getLogger("lyestock")

JSON_BYTES: Final = JSON.encode()
_ANY: Final = frozenset({b"", b"*/*", JSON_BYTES})
"""What most callers accept."""
ALLOW: Final = ((b"allow", b"POST, OPTIONS"),)
KEPT: Final = 512
"""Answers kept: those of a sheet that is recalculated, and of callers who ask again for want of an answer. With what
is kept of each, 16 MB at most."""
LARGEST_KEPT: Final = 2048
"""Bytes of the largest request whose answer is kept."""
FORMS_KEPT: Final = 64
"""Pictures and pages kept: tens of kilobytes each, with the request they belong to."""
LARGEST_DRAWN: Final = 8192
"""Bytes of the largest request whose picture or page is kept."""
ACCEPT_MEND: Final = "Leave it out, or put format=json into the address."
ASK: Final = "Send the request as JSON with POST; /docs shows how."


def failed(scope: Scope) -> Trouble:
    """Write the exception at hand to the log, with the request id that the caller is told, and hide it from them.

    The log tells the template of a page's path, not what a caller wrote in its place.
    """
    identifier: bytes = scope.get(REQUEST, b"without id")
    route = scope.get("path_template") or scope["path"]
    about = {"request_id": identifier.decode(), "trace_id": scope.get(TRACE), "route": route}
    LOG.exception("request %s failed at %s", identifier.decode(), route, extra=about)
    return Trouble(INTERNAL, INTERNAL.example)


def endpoint(calculation: Calculation[Any, Any], data_version: str, meter: Meter, settings: Settings = DEFAULTS) -> App:
    """The ASGI application that serves one calculation, and counts the time that calculating takes."""
    largest = largest_body(calculation, settings)
    form = FORMS.get(calculation.name)
    other_form = None if form is None else form.word
    versioned: tuple[tuple[bytes, bytes], ...] = ((b"data-version", data_version.encode()),)
    if form is not None:
        versioned = (*versioned, *VARY)

    async def serve(scope: Scope, receive: Receive, send: Send) -> None:
        try:
            method: str = scope["method"]
            if method == "OPTIONS":
                await answer_empty(send, ALLOW)
                return
            if method != "POST":
                raise Trouble(METHOD_NOT_ALLOWED, f"{method[:20]} is not known here. {ASK}", headers=ALLOW)
            wishes, faults = read_wishes(scope["query_string"], other_form)
            declared, other = _check_headers(scope["headers"], wishes, faults, form)
            body = await read_body(scope, receive, declared, largest)
            if other is not None or len(body) > LONG:
                document, seconds = await beside(timed, _answered, calculation, body, wishes, faults, other)
            else:
                document, seconds = timed(_answered, calculation, body, wishes, faults, other)
            meter.worked(seconds)
            if other is not None:
                await answer(send, 200, document, other.content_type, (*versioned, *HEADERS))
            else:
                await answer(send, 200, document, JSON_BYTES, versioned)
        except Refusal as refusal:
            await answer_trouble(scope, send, refused(refusal, versioned))
        except Trouble as trouble:
            if trouble.kind in {BODY_TOO_LARGE, UNAVAILABLE}:  # before the whole body was read
                await answer_and_part(scope, receive, send, trouble)
            else:
                await answer_trouble(scope, send, trouble)
        except Gone:
            return
        except Exception:  # whatever it is, the caller gets a problem document and the log the rest
            await answer_trouble(scope, send, failed(scope))

    return serve


def _check_headers(
    headers: Sequence[tuple[bytes, bytes]], wishes: Wishes, faults: list[Fault], form: Form | None
) -> tuple[bytes, Form | None]:
    """Check Content-Type and Accept.

    Returns:
        Content-Length, empty where it is not given; and the form that is wanted in the place of JSON.

    Raises:
        Trouble: 415 or 406.
    """
    media = accept = length = encoding = b""
    twice = False
    for name, value in headers:
        if name == b"content-type":
            twice = twice or media not in {b"", value}
            media = value
        elif name == b"accept":
            accept = accept + b"," + value if accept else value
        elif name == b"content-length":
            length = value
        elif name == b"content-encoding":
            encoding = value
    other, unlike = (None, "")
    if form is not None or accept not in _ANY:
        format_said = wishes.format is not None or any(fault.parameter == "format" for fault in faults)
        other, unlike = _wanted(accept, wishes, form, format_said=format_said)
    if twice or (media != JSON_BYTES and not is_json(media.decode("latin-1"))):
        said = "stands twice" if twice else f"is {shown(media)}" if media else "is missing"
        detail = f"Content-Type {said}. Send Content-Type: {JSON}. {unlike}".rstrip()
        raise Trouble(UNSUPPORTED_MEDIA_TYPE, detail, faults=faults, headers=((b"accept", JSON_BYTES),))
    if encoding and encoding.lower() != b"identity":
        detail = f"The body is compressed ({shown(encoding)}). Send it as it is, without Content-Encoding. {unlike}"
        raise Trouble(
            UNSUPPORTED_MEDIA_TYPE, detail.rstrip(), faults=faults, headers=((b"accept-encoding", b"identity"),)
        )
    if unlike:
        raise Trouble(NOT_ACCEPTABLE, unlike, faults=faults)
    return length, other


def _wanted(accept: bytes, wishes: Wishes, form: Form | None, *, format_said: bool) -> tuple[Form | None, str]:
    """The form that is wanted in the place of JSON, if any; and what is wrong with what is wanted."""
    other = form if form is not None and wishes.format == form.word else None
    if not format_said and accept not in _ANY:
        offered = (JSON,) if form is None else (JSON, form.media)
        media = best_match(accept.decode("latin-1"), offered)
        if media is None:
            return None, f"Accept is {shown(accept)}, which leaves out {' and '.join(offered)}. {ACCEPT_MEND}"
        if media != JSON:
            other = form
    if other is not None and not other.can():
        return None, f"{other.media} cannot be made here: the extra for pictures is not installed. {ACCEPT_MEND}"
    return other, ""


def _answered(
    calculation: Calculation[Any, Any], body: bytes, wishes: Wishes, faults: list[Fault], other: Form | None
) -> bytes:
    """The answer, reckoned or kept.

    Args:
        calculation: what is asked.
        body: the request.
        wishes: how the answer is to be given.
        faults: of the query.
        other: the form it is to have, if not JSON.

    Raises:
        Refusal: with every fault found.
    """
    if faults:
        raise _refused_with(faults, calculation, body)
    if other is not None:
        return (kept_form if len(body) <= LARGEST_DRAWN else _form)(calculation, body, wishes, other)
    if wishes.explain or len(body) > LARGEST_KEPT:
        return _document(calculation, body, wishes)
    return kept_document(calculation, body, wishes)


def _document(calculation: Calculation[Any, Any], body: bytes, wishes: Wishes) -> bytes:
    """The answer, written.

    Raises:
        Refusal: with every fault found.
    """
    return renderer(wishes.units, wishes.digits)(calculation.run(body, explain=wishes.explain))


def _form(calculation: Calculation[Any, Any], body: bytes, wishes: Wishes, form: Form) -> bytes:
    """The answer in another form, which takes tens of milliseconds.

    Args:
        calculation: what is asked.
        body: the request.
        wishes: how the answer is to be given.
        form: the form.

    Raises:
        Refusal: with every fault found.
    """
    return form.write(json.decode(_document(calculation, body, wishes)))


kept_form: Final = lru_cache(maxsize=FORMS_KEPT)(_form)
"""Pictures and pages are looked at again and again."""
kept_document: Final = lru_cache(maxsize=KEPT)(_document)
"""An answer follows from these alone: the same request gets the same bytes, reckoned or kept."""


def _refused_with(faults: list[Fault], calculation: Calculation[Any, Any], body: bytes) -> Refusal:
    """Refusal for faults of the query, which tells those of the body with them."""
    try:
        calculation.run(body)
    except Refusal as refusal:
        return Refusal(400, (*faults, *refusal.faults), refusal.count - len(refusal.faults))
    return Refusal(400, faults)
