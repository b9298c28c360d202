"""Keys of callers: made here, known to the settings by their hashes only.

A key holds 256 random bits, so that a plain digest of it cannot be turned back by trying; a digest that is slow on
purpose, as passwords need it, would only make every request slow.
"""

import hmac
import secrets
from collections.abc import Iterable
from hashlib import sha256
from typing import Final, NamedTuple
from urllib.parse import unquote_to_bytes

HEADER: Final = b"authorization"
PARAMETER: Final = b"key"
_SCHEME: Final = b"bearer "
_BEGINS: Final = "lyestock-"
"""How every key begins: whoever finds one knows what it opens, and a scan of texts can find it."""
_MARK: Final = "sha256:"
_LONGEST: Final = 200
"""Bytes of what is looked at as a key."""


def new_key() -> tuple[str, str]:
    """A new key, and its hash for the settings."""
    key = _BEGINS + secrets.token_urlsafe(32)
    return key, _MARK + sha256(key.encode()).hexdigest()


class Keys:
    """The keys that are good."""

    def __init__(self, hashes: Iterable[str]) -> None:
        """Take their hashes, as `new_key` makes them."""
        self._digests = tuple(bytes.fromhex(one.removeprefix(_MARK)) for one in hashes)

    def __len__(self) -> int:
        return len(self._digests)

    def place(self, key: bytes) -> int | None:
        """Which of the keys it is, counted from 0; None where it is none.

        Every hash is compared, each in constant time: how long it takes tells nothing.
        """
        digest = sha256(key[:_LONGEST]).digest()
        found = None
        for place, one in enumerate(self._digests):
            if hmac.compare_digest(digest, one):
                found = place
        return found


class Shown(NamedTuple):
    """What a request shows as its key."""

    key: bytes | None
    query: bytes
    """The query without it."""


def shown_key(headers: Iterable[tuple[bytes, bytes]], query: bytes) -> Shown:
    """The key of a request: that of the header Authorization, else the parameter `key` of the address.

    Args:
        headers: as they were sent.
        query: as it was sent.
    """
    key = None
    if PARAMETER + b"=" in query:
        parts = query.split(b"&")
        told = [part for part in parts if part.startswith(PARAMETER + b"=")]
        if told:
            query = b"&".join(part for part in parts if part not in told)
            key = unquote_to_bytes(told[0].partition(b"=")[2])
    for name, value in headers:
        if name == HEADER and value[: len(_SCHEME)].lower() == _SCHEME:
            key = value[len(_SCHEME) :].strip()
    return Shown(key, query)
