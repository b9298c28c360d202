"""Problems as they are answered: RFC 9457 documents, and every kind there is.

ProblemKind   a kind of problem: its title, its meaning and how to mend it
Problem       the document a caller gets
Trouble       raised by the transport; becomes a Problem
"""

from collections.abc import Iterable
from typing import Annotated, Any, Final, NamedTuple
from urllib.parse import quote

import msgspec
from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.shared.faults import Fault, Refusal

PROBLEM_JSON: Final = "application/problem+json"
LONGEST_INSTANCE: Final = 300
"""Bytes of a path that an answer repeats."""
PAGES: Final = "/problems/"
"""Path below which every kind has its page."""


class ProblemKind(NamedTuple):
    """A kind of problem."""

    name: str
    status: int
    title: str
    meaning: str
    mend: str
    example: str
    """The detail of an example."""

    @property
    def uri(self) -> str:
        """What stands under `type`; also the path of the page."""
        return PAGES + self.name


INVALID_REQUEST: Final = ProblemKind(
    "invalid-request",
    400,
    "The request does not fit the contract",
    "The body or the query cannot be read as the contract says: broken JSON, an unknown or missing member, a wrong "
    "type, a number without unit, a wrong unit, or a value outside what can be meant. All faults are listed at once, "
    "identifiers that the catalogue does not know among them; of more than a hundred the first hundred. Whatever else "
    "chemistry objects is told (422) once the request can be read.",
    "Go through the errors. Each says where it is (a JSON Pointer into the body, or the name of a query parameter), "
    "what is wrong, and how to mend it.",
    "The request has 2 faults: see errors.",
)
NOT_SENSIBLE: Final = ProblemKind(
    "not-sensible",
    422,
    "The request is well formed, but not sensible",
    "Everything can be read, but chemistry, physics or the catalogue object: a stock too weak for the wanted liquid, "
    "shares that do not add up, an unknown fat, a solution that would not stay liquid, or a point no published data "
    "reach.",
    "Go through the errors. Each says which member it concerns and what would be possible instead.",
    "The request has 1 fault: see errors.",
)
UNAUTHORIZED: Final = ProblemKind(
    "unauthorized",
    401,
    "A key is needed here",
    "Whoever runs this service gave out keys, and this request bears none, or one that is not good (any more). What "
    "the service is and how to ask it is read without a key.",
    "Send the header Authorization: Bearer KEY; where you cannot set headers, as in a cell of a spreadsheet, put "
    "key=KEY into the address. Whoever runs the service gives keys out.",
    "A key is needed here. Send the header Authorization: Bearer KEY, or put key=KEY into the address. Whoever runs "
    "this service gives keys out.",
)
NOT_FOUND: Final = ProblemKind(
    "not-found",
    404,
    "There is nothing at this address",
    "No calculation, no page and no entry of the catalogue has this path. Capitals count, and a path has no slash at "
    "its end.",
    "Use the path that the problem names, where one comes near. Else compare yours with the contract at "
    "/openapi.json or with the page /docs.",
    "There is nothing at this path. Did you mean /v1/saponification?",
)
METHOD_NOT_ALLOWED: Final = ProblemKind(
    "method-not-allowed",
    405,
    "This address does not know this method",
    "Calculations are asked with POST, since the request is a JSON document in the body; pages are read with GET.",
    "Use one of the methods in the header Allow. The page /docs lets you try every calculation.",
    "GET is not known here. Send the request as JSON with POST; /docs shows how.",
)
NOT_ACCEPTABLE: Final = ProblemKind(
    "not-acceptable",
    406,
    "The answer cannot be given in the format that is asked for",
    "The header Accept leaves out every format there is here. A problem is always answered as "
    "application/problem+json, whatever Accept says.",
    "Leave out the header Accept, or name application/json in it; or put format=json into the address, which wins "
    "over the header.",
    "Accept is text/csv, which leaves out application/json. Leave it out, or put format=json into the address.",
)
REQUEST_TIMEOUT: Final = ProblemKind(
    "request-timeout",
    408,
    "The body did not come in time",
    "The headers promise a body, and it was not complete after the time that the service waits. The connection is "
    "closed.",
    "Send the body at once. If the line is slow, send fewer items at a time, or pack them with gzip.",
    "The body was not complete after 60 s.",
)
BODY_TOO_LARGE: Final = ProblemKind(
    "body-too-large",
    413,
    "The body is too large",
    "No request needs as much as was sent: 1 MiB is taken for a calculation, 32 MiB for a plan and for many items at "
    "once, unpacked too. The rest of it is not read, and the connection is closed. Of many items, one that is too "
    "large is refused alone.",
    "Send one request for each calculation, or fewer items at once.",
    "At most 1048576 bytes (1 MiB) are taken. Send one request for each calculation.",
)
ADDRESS_TOO_LONG: Final = ProblemKind(
    "address-too-long",
    414,
    "The address is too long",
    "The address with its query has more bytes than any single value needs.",
    "Send the request with POST to the calculation itself, or many at once to /v1/bulk: there it goes into the body.",
    "The address has 9000 bytes, and at most 8192 are taken. Send the request with POST.",
)
UNSUPPORTED_MEDIA_TYPE: Final = ProblemKind(
    "unsupported-media-type",
    415,
    "The body is not declared as plain JSON in UTF-8",
    "The header Content-Type is missing, stands twice, or names something else than JSON in UTF-8; or the body is "
    "compressed. Many items at once may also be NDJSON or CSV in UTF-8, and packed by gzip. Types derived from JSON, "
    "such as application/vnd.example+json, are refused too: what they add to JSON is not known here.",
    "Send the header Content-Type: application/json, and the body uncompressed in UTF-8.",
    "Content-Type is text/plain. Send Content-Type: application/json.",
)
TOO_MANY_REQUESTS: Final = ProblemKind(
    "too-many-requests",
    429,
    "More was asked than is allowed",
    "One caller asked more often, or for more at once, than the service allows, so that others get their turn. The "
    "header RateLimit tells how many requests are left, Retry-After when the next is served.",
    "Wait as many seconds as Retry-After says. To ask much, send many items in one request to /v1/bulk: it counts "
    "once.",
    "More was asked from your address than is allowed. Wait 3 s, and ask for many items at once with /v1/bulk.",
)
HEADERS_TOO_LARGE: Final = ProblemKind(
    "headers-too-large",
    431,
    "The headers are too large",
    "The headers of the request, with its address, have more bytes than the service takes. The connection is closed.",
    "Leave out headers that are not needed, such as cookies: there are none here.",
    "The headers have more than 16384 bytes.",
)
INTERNAL: Final = ProblemKind(
    "internal",
    500,
    "The service failed",
    "A fault of the service, not of the request. It was written to the log of the service.",
    "Tell the operator of the service the request id from the header X-Request-Id.",
    "The service failed; its log knows why.",
)
UNAVAILABLE: Final = ProblemKind(
    "unavailable",
    503,
    "The service cannot take this now",
    "It is busy with as many requests as it serves at once, or it is about to end, or this request would take too "
    "long.",
    "Ask again after as many seconds as Retry-After says: a request only computes, and may be repeated safely.",
    "As many requests are being served as can be at once. Ask again in 1 s.",
)
RETRY: Final = ((b"retry-after", b"1"),)
"""What an answer that is unavailable says at least."""

KINDS: Final[dict[str, ProblemKind]] = {
    kind.name: kind
    for kind in (
        INVALID_REQUEST,
        UNAUTHORIZED,
        NOT_FOUND,
        METHOD_NOT_ALLOWED,
        NOT_ACCEPTABLE,
        REQUEST_TIMEOUT,
        BODY_TOO_LARGE,
        ADDRESS_TOO_LONG,
        UNSUPPORTED_MEDIA_TYPE,
        NOT_SENSIBLE,
        TOO_MANY_REQUESTS,
        HEADERS_TOO_LARGE,
        INTERNAL,
        UNAVAILABLE,
    )
}
BY_STATUS: Final[dict[int, ProblemKind]] = {kind.status: kind for kind in KINDS.values()}


class Problem(Struct, omit_defaults=True):
    """What is wrong with a request, after RFC 9457."""

    type: Annotated[
        str,
        Meta(
            description="Kind of problem: the address of a page that explains it.",
            examples=[INVALID_REQUEST.uri],
            extra_json_schema={"enum": sorted(kind.uri for kind in KINDS.values()), "format": "uri-reference"},
        ),
    ]
    title: Annotated[
        str, Meta(description="What kind it is, for a person; constant for a type.", examples=[INVALID_REQUEST.title])
    ]
    status: Annotated[int, Meta(description="The HTTP status.", ge=400, le=599, examples=[400])]
    detail: Annotated[str, Meta(description="What is wrong this time.", examples=[INVALID_REQUEST.example])]
    instance: Annotated[str, Meta(description="The path that was called.", examples=["/v1/saponification"])]
    errors: Annotated[list[Fault], Meta(description="Every fault of the request.")] | UnsetType = UNSET


class Trouble(Exception):  # noqa: N818 - reads as what a request is in
    """A request the transport cannot serve.

    Attributes:
        kind: kind of problem.
        detail: what is wrong this time.
        faults: the single faults, where there are any.
        headers: headers that belong to the answer, such as Allow.
    """

    def __init__(
        self,
        kind: ProblemKind,
        detail: str,
        *,
        faults: Iterable[Fault] = (),
        headers: Iterable[tuple[bytes, bytes]] = (),
    ) -> None:
        super().__init__(detail)
        self.kind = kind
        self.detail = detail
        self.faults = tuple(faults)
        self.headers = tuple(headers)

    def document(self, instance: str) -> bytes:
        """The problem document for a path."""
        kind = self.kind
        faults = list(self.faults) or UNSET
        return msgspec.json.encode(Problem(kind.uri, kind.title, kind.status, self.detail, instance, faults))


def refused(refusal: Refusal, headers: Iterable[tuple[bytes, bytes]] = ()) -> Trouble:
    """The trouble a refused request is in."""
    kind = INVALID_REQUEST if refusal.status == INVALID_REQUEST.status else NOT_SENSIBLE
    told, count = len(refusal.faults), refusal.count
    which = "see errors" if told == count else f"the first {told} are in errors"
    detail = f"The request has {count} {'fault' if count == 1 else 'faults'}: {which}."
    return Trouble(kind, detail, faults=refusal.faults, headers=headers)


def path_of(scope: Any) -> str:
    """The path that was called, as it was sent; whatever has no place in an address is encoded, and it is cut."""
    raw: bytes = scope.get("raw_path") or scope["path"].encode(errors="surrogateescape")
    return quote(raw.partition(b"?")[0][:LONGEST_INSTANCE], safe="/%:@!$&'()*+,;=~-._")
