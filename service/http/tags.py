"""What caches need: entity tags (RFC 9110, 8.8.3) of an answer and those a caller has, and how long it may be kept."""

import hashlib
import re
from collections.abc import Iterable
from typing import Final

from service import __version__

CACHE_CONTROL: Final = "public, max-age=3600"
"""A corrected figure reaches everyone within an hour; with an entity tag asking again costs next to nothing."""
_TAG: Final = re.compile(r'(?:W/)?("[\x21\x23-\x7e\x80-\xff]*")')


def entity_tag(path: str, query: bytes, media: str, data_version: str, body: bytes) -> str:
    """The entity tag of an answer: by its address, its format and bytes, and the versions of service and data.

    Args:
        path: of the address, decoded.
        query: of the address, as it was sent.
        media: media type of the answer.
        data_version: of the reference data.
        body: of the answer.
    """
    digest = hashlib.sha256()
    place: bytes = path.encode(errors="surrogateescape")
    for part in (place, query, media.encode(), data_version.encode(), __version__.encode()):
        digest.update(b"%d\0%b" % (len(part), part))
    digest.update(body)
    return f'"{digest.hexdigest()[:32]}"'


def has_tag(said: Iterable[str], tag: str) -> bool:
    """Whether If-None-Match names an entity tag, by the weak comparison of RFC 9110, 8.8.3.2 and 13.1.2.

    Args:
        said: values of that header.
        tag: the tag.
    """
    listed = ",".join(said)
    return listed.strip() == "*" or tag in _TAG.findall(listed)
