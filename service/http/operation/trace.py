"""The trace that a request belongs to, as its header `traceparent` tells it (W3C Trace Context).

Callers that follow a piece of work through several services send the same trace id to each. The service asks no
others, so that it passes no trace on and begins none: it only tells the trace id in its log. A header that does not
fit the recommendation is passed over, as if none had come. The recommendation knows headers of requests alone:
no answer has one.
"""

import re
from typing import Final

TRACE: Final = "lyestock.trace"
"""Where a scope holds the trace id, if the request came with one."""
TRACEPARENT: Final = b"traceparent"

_FORM: Final = re.compile(rb"([0-9a-f]{2})-([0-9a-f]{32})-([0-9a-f]{16})-[0-9a-f]{2}(-.*)?", re.DOTALL)


def trace_id(traceparent: bytes) -> str | None:
    """The trace id of a header `traceparent`.

    Later versions may add parts after a hyphen; what version 00 says stands at the same place in them.

    Args:
        traceparent: value of the header.

    Returns:
        32 hexadecimal digits, or None where the header is invalid: not in small letters, of another length, of the
        forbidden version ff, or with a trace or parent of zeros alone.
    """
    found = _FORM.fullmatch(traceparent.strip(b" \t"))
    if found is None:
        return None
    version, trace, parent, more = found.groups()
    if version == b"ff" or (version == b"00" and more is not None) or not trace.strip(b"0") or not parent.strip(b"0"):
        return None
    return trace.decode()
