"""What the headers of many items at once say: what the body is, and what the answer is to be."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from service.calculations.shared.faults import Fault
from service.http.bulk_query import CSV, MEDIA, NDJSON, Wishes
from service.http.gzip_coding import GZIP, takes_gzip
from service.http.negotiation import JSON, answer_media, media_in_utf8, shown
from service.http.problems import UNSUPPORTED_MEDIA_TYPE, Trouble

TAKEN: Final = {
    JSON: JSON,
    NDJSON: NDJSON,
    "application/ndjson": NDJSON,
    "application/jsonl": NDJSON,
    CSV: CSV,
}
"""Media types of a body, and what each is read as."""
ACCEPT: Final = f"{JSON}, {NDJSON}, {CSV}"
"""What a body may be, as a header says it."""
ENCODINGS: Final = "gzip, identity"
"""How it may be packed."""


class Said(NamedTuple):
    """What the headers say."""

    media: str
    """What the body is read as."""
    declared: bytes
    """Content-Length, empty where it is not given."""
    packed: bool
    pack: bool
    answered: str
    """Media type of the answer."""


def read_headers(headers: Sequence[tuple[bytes, bytes]], wishes: Wishes, faults: list[Fault]) -> Said:
    """Read the headers.

    Args:
        headers: as they were sent.
        wishes: what the query says.
        faults: of the query, told with those of the headers.

    Raises:
        Trouble: 415 or 406.
    """
    named: dict[bytes, list[str]] = {}
    for name, value in headers:
        named.setdefault(name, []).append(value.decode("latin-1"))
    types = list(dict.fromkeys(named.get(b"content-type", ())))
    media = TAKEN.get(media_in_utf8(types[0]) or "") if len(types) == 1 else None
    if media is None:
        what = (
            "is missing"
            if not types
            else "stands twice"
            if len(types) > 1
            else f"is {shown(types[0].encode('latin-1'))}"
        )
        detail = f"Content-Type {what}. Send one of {ACCEPT}, in UTF-8."
        raise Trouble(UNSUPPORTED_MEDIA_TYPE, detail, faults=faults, headers=((b"accept", ACCEPT.encode()),))
    coding = ",".join(named.get(b"content-encoding", ())).strip().lower().encode("latin-1")
    if coding not in {b"", b"identity", *GZIP}:
        detail = f"The body is compressed ({shown(coding)}). Send it with Content-Encoding: gzip, or as it is."
        raise Trouble(
            UNSUPPORTED_MEDIA_TYPE, detail, faults=faults, headers=((b"accept-encoding", ENCODINGS.encode()),)
        )
    own = [word for word, kind in MEDIA.items() if kind == media]
    offered = {word: MEDIA[word] for word in (*own, *MEDIA)}
    return Said(
        media,
        named.get(b"content-length", [""])[-1].encode(),
        coding in GZIP,
        takes_gzip(named.get(b"accept-encoding", ())),
        answer_media(wishes.format, named.get(b"accept", ()), offered),
    )
