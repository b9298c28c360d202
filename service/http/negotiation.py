"""Which formats a caller takes (Accept), and what format a body is in (Content-Type)."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from service.http.problems import NOT_ACCEPTABLE, Trouble

JSON = "application/json"
VARY: Final = ((b"vary", b"Accept"),)
"""What an answer says that depends on Accept."""


def best_match(accept: str, offered: Sequence[str]) -> str | None:
    """The offered media type that the header Accept likes most, by RFC 9110, 12.5.1.

    Elements that cannot be read are passed over. Of equally liked types the first offered wins.

    Args:
        accept: value of the header; an empty one accepts everything.
        offered: media types there are, the preferred first.

    Returns:
        One of the offered types, or None where the header leaves out all of them.
    """
    if not accept.strip():
        return offered[0]
    ranges = [parsed for part in accept.split(",") if (parsed := _range(part)) is not None]
    best, best_quality = None, 0.0
    for media in offered:
        quality = _quality(media, ranges)
        if quality > best_quality:
            best, best_quality = media, quality
    return best


def answer_media(said: str | None, accept: Iterable[str], offered: Mapping[str, str]) -> str:
    """The media type to answer in.

    Args:
        said: the word of the parameter `format`, which wins; None where it is not given.
        accept: values of the header Accept.
        offered: media types by the words of `format`, the preferred first.

    Raises:
        Trouble: 406.
    """
    if said is not None:
        return offered[said]
    known = tuple(offered.values())
    media = best_match(",".join(accept), known)
    if media is None:
        raise Trouble(NOT_ACCEPTABLE, f"Accept allows none of: {', '.join(known)}.", headers=VARY)
    return media


def _range(part: str) -> tuple[str, float] | None:
    """Media range and quality of one element; parameters other than q do not distinguish anything here."""
    media, *parameters = (piece.strip().lower() for piece in part.split(";"))
    kind, slash, subtype = media.partition("/")
    if not slash or not kind or not subtype or (kind == "*" and subtype != "*"):
        return None
    quality = 1.0
    for parameter in parameters:
        name, _, value = parameter.partition("=")
        if name.strip() == "q":
            try:
                quality = float(value)
            except ValueError:
                return None
    return (media, quality) if 0 <= quality <= 1 else None


def _quality(media: str, ranges: list[tuple[str, float]]) -> float:
    """Quality of a media type: that of the most specific range that holds it."""
    for wanted in (media, media.partition("/")[0] + "/*", "*/*"):
        qualities = [quality for name, quality in ranges if name == wanted]
        if qualities:
            return max(qualities)
    return 0.0


def is_json(content_type: str) -> bool:
    """Whether a Content-Type is JSON in UTF-8; a parameter such as charset=utf-8 may stand with it.

    Types derived from JSON (application/vnd.example+json) are not taken for it: they may mean more than JSON says.
    """
    return media_in_utf8(content_type) == JSON


def media_in_utf8(content_type: str) -> str | None:
    """The media type that a Content-Type names, in small letters; None where it names another code than UTF-8.

    Args:
        content_type: value of the header.
    """
    media, *parameters = (piece.strip().lower() for piece in content_type.split(";"))
    for parameter in parameters:
        name, _, value = parameter.partition("=")
        if name.strip() == "charset" and value.strip().strip('"') not in {"utf-8", "utf8", "us-ascii"}:
            return None
    return media


def shown(header: bytes) -> str:
    """A header as a message shows it: printable ASCII, and cut.

    Args:
        header: its value.
    """
    text = header.decode("ascii", "replace")
    return "".join(letter if " " <= letter <= "~" else "?" for letter in text[:60])
