"""What is answered to a request that is refused before the application sees it, and how one is read anew."""

from collections.abc import Iterable
from secrets import token_hex
from typing import Any, NamedTuple

import httptools
from uvicorn.protocols.http.httptools_impl import STATUS_LINE

from service.http.operation.settings import Settings
from service.http.outer import ALL, ANY_ORIGIN
from service.http.problems import (
    ADDRESS_TOO_LONG,
    HEADERS_TOO_LARGE,
    INVALID_REQUEST,
    PROBLEM_JSON,
    Trouble,
    path_of,
)


def too_large(address: bytes, settings: Settings) -> Trouble:
    """A head that is too large; where its address alone is, that is told.

    Args:
        address: path and query, as far as they have come.
        settings: how long and how large they may be.
    """
    if len(address) > settings.longest_address:
        detail = f"The address has more than {settings.longest_address} bytes. Send the request with POST."
        return Trouble(ADDRESS_TOO_LONG, detail)
    detail = f"The headers have more than {settings.largest_headers} bytes. Leave out those not needed."
    return Trouble(HEADERS_TOO_LARGE, detail)


def no_http(error: Exception) -> Trouble:
    """What the parser objects to; its words never hold any of the caller's.

    Args:
        error: as the parser raised it.
    """
    address = isinstance(error, httptools.HttpParserCallbackError | httptools.HttpParserInvalidURLError)
    what = "the address cannot be read" if address else str(error).rstrip(".") or "it cannot be read"
    return Trouble(INVALID_REQUEST, f"This is no HTTP/1.1 after RFC 9112 ({what}). Send it with a library for HTTP.")


class Answer(NamedTuple):
    """What goes out."""

    head: bytes
    document: bytes
    request_id: bytes


def refusal(trouble: Trouble, address: bytes, headers: Iterable[tuple[bytes, bytes]], *, any_origin: bool) -> Answer:
    """The answer, which is the last of its connection.

    Args:
        trouble: what is refused, and why.
        address: path and query, as far as they have come.
        headers: those that the server has in every answer.
        any_origin: whether scripts of every page may read it.
    """
    document = trouble.document(path_of({"raw_path": address}))
    request_id = token_hex(8).encode()
    all_headers = [
        *headers,
        (b"content-type", PROBLEM_JSON.encode()),
        (b"content-length", b"%d" % len(document)),
        (b"x-request-id", request_id),
        *trouble.headers,
        *ALL,
        *((ANY_ORIGIN,) if any_origin else ()),
        (b"connection", b"close"),
    ]
    lines = b"".join(b"%b: %b\r\n" % header for header in all_headers)
    return Answer(STATUS_LINE[trouble.kind.status] + lines + b"\r\n", document, request_id)


def without_upgrade(parser: Any, address: bytes, headers: Iterable[tuple[bytes, bytes]]) -> bytes:
    """The head of a request without its offer of another protocol.

    Args:
        parser: has read the head.
        address: path and query.
        headers: as they came.
    """
    kept = b"".join(b"%b: %b\r\n" % header for header in headers if header[0] != b"upgrade")
    return b"%b %b HTTP/%b\r\n%b\r\n" % (parser.get_method(), address, parser.get_http_version().encode(), kept)
