"""Content-Encoding gzip (RFC 1952), in and out, in steps that keep nobody waiting.

gunzip        a packed body unpacked, no further than a limit
Packer        packs an answer piece by piece
takes_gzip    whether Accept-Encoding likes it
"""

import asyncio
import io
import zlib
from collections.abc import Callable, Iterable
from typing import Final

from service.calculations.shared.faults import Fault, Refusal
from service.http.problems import BODY_TOO_LARGE, Trouble

GZIP: Final = frozenset({b"gzip", b"x-gzip"})
"""Names of the coding; the second is the older one (RFC 9110, 8.4.1.3)."""
_FRAMED: Final = 31
"""The window of 32 KiB, with the head and the check sum of gzip (zlib's wbits)."""
_BITE: Final = 1 << 16
"""Packed bytes that are unpacked at a time."""
_STEP: Final = 1 << 18
"""Bytes unpacked at a time, about a quarter of a millisecond; others are served in between."""
_MOST_PARTS: Final = 10_000
"""Parts that a body may be packed in: of 32 MiB in parts of 64 KiB, as programs write them, there are five hundred."""
_LEVEL: Final = 1
"""How hard it is packed: answers repeat themselves so much that more effort gains little."""
_BLOCK: Final = 1 << 14
"""Bytes packed at a time, always the same, so that the same answer has the same bytes."""


async def gunzip(packed: bytes, limit: int, mend: str, hold: Callable[[int], None] = lambda _: None) -> bytes:
    """What was packed, of one part or several.

    Args:
        packed: the body as it was sent.
        limit: bytes taken at most.
        mend: what to do where there are more.
        hold: is told how many bytes there are so far, and may refuse to hold them.

    Raises:
        Trouble: 413, as soon as it is known to hold more.
        Refusal: 400, where it is broken or ends too early.
    """
    found = io.BytesIO()
    part = zlib.decompressobj(_FRAMED)
    parts = 1
    try:
        for start in range(0, len(packed), _BITE):
            data = packed[start : start + _BITE]
            size = 0
            while data or size == _STEP:  # a whole step may have left something behind
                if part.eof:
                    data = data.lstrip(b"\0")  # tapes pad with zeros, and so do some programs
                    if not data:
                        break
                    part = zlib.decompressobj(_FRAMED)
                    parts += 1
                    if parts > _MOST_PARTS:
                        raise _broken(f"the gzip of the body has more than {_MOST_PARTS} parts")
                step = part.decompress(data, _STEP)
                size = len(step)
                found.write(step)
                if found.tell() > limit:
                    detail = f"At most {limit} bytes ({limit >> 20} MiB) are taken, unpacked. {mend}"
                    raise Trouble(BODY_TOO_LARGE, detail)
                hold(found.tell())
                data = part.unused_data if part.eof else part.unconsumed_tail
                await asyncio.sleep(0)
    except zlib.error:
        raise _broken("the body is no gzip, or was damaged on its way") from None
    if not part.eof:
        raise _broken("the gzip of the body ends too early" if packed else "the body is empty")
    return found.getvalue()


def _broken(detail: str) -> Refusal:
    return Refusal(400, [Fault("malformed-gzip", detail, "pack it anew, or send it without Content-Encoding", "")])


class Packer:
    """Packs an answer while it is made."""

    def __init__(self) -> None:
        self._packing = zlib.compressobj(_LEVEL, wbits=_FRAMED)
        self._left = bytearray()

    def pack(self, piece: bytes) -> bytes:
        """The next piece; what comes out may be nothing yet.

        Args:
            piece: of the answer.
        """
        left = self._left
        left += piece
        whole = len(left) - len(left) % _BLOCK
        packed = b"".join(self._packing.compress(left[start : start + _BLOCK]) for start in range(0, whole, _BLOCK))
        del left[:whole]
        return packed

    def end(self) -> bytes:
        """What is still to come."""
        return self._packing.compress(bytes(self._left)) + self._packing.flush()


def takes_gzip(said: Iterable[str]) -> bool:
    """Whether a caller takes gzip, and likes it no less than the plain bytes (RFC 9110, 12.5.3).

    Args:
        said: values of Accept-Encoding.
    """
    liked: dict[str, float] = {}
    for part in ",".join(said).lower().split(","):
        name, *parameters = (piece.strip() for piece in part.split(";"))
        quality = 1.0
        for parameter in parameters:
            key, _, value = parameter.partition("=")
            if key.strip() == "q":
                try:
                    quality = float(value)
                except ValueError:
                    quality = 0.0
        if name:
            liked[name] = max(liked.get(name, 0.0), quality if 0 <= quality <= 1 else 0.0)
    named = [liked[one.decode()] for one in GZIP if one.decode() in liked]
    wanted = max(named) if named else liked.get("*", 0.0)
    return wanted > 0 and wanted >= liked.get("identity", 0.0)
