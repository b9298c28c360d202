"""Asks the service for a calculation, and asks again where that may help. Python 3.11 and nothing else.

A calculation only reckons: it may be asked as often as one likes, and the same request gets the same answer. So it is
safe to send a request again whose connection broke, or that was answered with 429 or 503.
"""

import json
import time
import urllib.error
import urllib.request
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime
from http.client import HTTPException
from typing import Any, Final

ATTEMPTS: Final = 6
LONGEST_WAIT: Final = 60.0
"""Seconds: a service that wants a longer pause is left alone, and that is told."""
AGAIN: Final = frozenset({429, 502, 503, 504})
"""Statuses that say nothing of the request, only that it is not the moment."""
Json = dict[str, Any]


class UnansweredError(Exception):
    """The service gave no plan; the text tells a person why."""


def ask(address: str, request: Json, key: str = "") -> Json:
    """The answer to a request, tried again where that may help.

    Args:
        address: of the calculation.
        request: its body.
        key: where who runs the service wants one.

    Raises:
        UnansweredError: it was refused, or there was no answer after several attempts.
    """
    headers = {"Content-Type": "application/json", "Accept": "application/json"}
    if key:
        headers["Authorization"] = f"Bearer {key}"
    body = json.dumps(request).encode()
    said = ""
    for attempt in range(ATTEMPTS):  # the last one waits for nothing
        pause = 0.5 * 2**attempt
        try:
            sent = urllib.request.Request(address, body, headers)  # noqa: S310 - the address is the caller's own
            with urllib.request.urlopen(sent, timeout=60) as reply:  # noqa: S310
                answer: Json = json.load(reply)
                return answer
        except urllib.error.HTTPError as error:
            said = _told(error)
            if error.code not in AGAIN:
                raise UnansweredError(said) from None
            pause = _retry_after(error.headers.get("Retry-After"), pause)
        except (OSError, HTTPException, ValueError) as error:  # refused, reset, timed out, or cut short
            said = f"{address} does not answer: {error}"
        if attempt + 1 == ATTEMPTS or pause > LONGEST_WAIT:
            break
        time.sleep(pause)
    raise UnansweredError(said)


def _retry_after(told: str | None, otherwise: float) -> float:
    """Seconds that a Retry-After asks for: a number of them, or a date (RFC 9110, 10.2.3)."""
    if told is None:
        return otherwise
    if told.strip().isdigit():
        return float(told)
    try:
        return max(0.0, (parsedate_to_datetime(told) - datetime.now(UTC)).total_seconds())
    except (TypeError, ValueError):
        return otherwise


def _told(error: urllib.error.HTTPError) -> str:
    """A problem document (RFC 9457) in words: each fault, where it is, and how to mend it."""
    try:
        problem = json.load(error)
        faults = [
            f"{one.get('pointer', one.get('parameter', ''))}: {one['detail']}; {one['mend']}"
            for one in problem.get("errors", [])
        ]
        return "\n".join([f"{problem['title']}: {problem['detail']}", *faults])
    except (ValueError, KeyError, TypeError, AttributeError, OSError, HTTPException):
        return f"the service answered with status {error.code}"
