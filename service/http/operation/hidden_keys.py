"""No key gets into the log, whoever writes into it: what looks like one is hidden.

Keys stand in addresses and headers, which our own lines never hold. But a message of the server, or an exception that
tells what it was working at, may hold anything.
"""

import re
from typing import Final

HIDDEN: Final = "***"
BEGINNING: Final = "lyestock-"
"""How the keys begin that are made here."""

_KEYS: Final = (
    # in an address: key=..., also where = is encoded once or more; and whatever ends so, such as shopkey=...
    re.compile(r"(?i)(key(?:=|%(?:25)*3d))[^&;\s'\"<>#]+"),
    # in a header: Authorization: Bearer ..., also as pairs of bytes
    re.compile(r"(?i)(\bauthorization['\"]?\s*[:=,]\s*(?:b?['\"])?)[^'\"\r\n]+"),
    re.compile(r"(?i)(\bbearer\s+)[^\s'\",]+"),
    # wherever: as keys are made here
    re.compile(rf"({BEGINNING})[A-Za-z0-9_-]{{20,}}"),
)


def without_keys(text: str) -> str:
    """A text in which whatever looks like a caller's key is hidden."""
    for pattern in _KEYS:
        text = pattern.sub(rf"\g<1>{HIDDEN}", text)
    return text
