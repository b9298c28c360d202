"""Asks again where an answer got lost, for the generated Python client (httpx).

Every calculation only reckons: the same request brings the same answer, however often it is sent. So a caller may ask
again after a broken connection, and after an answer that says "later" (429, 503) or that comes from a proxy whose
service is just starting anew (502, 504). Whatever else is answered is an answer: asking again would change nothing.
"""

import random
import time
from typing import Final

import httpx

LATER: Final = frozenset({429, 502, 503, 504})
TRIES: Final = 6
FIRST_WAIT: Final = 0.25
"""Seconds before the second try; each wait is about twice the one before."""
LONGEST_WAIT: Final = 30.0


class Patient(httpx.BaseTransport):
    """A transport that asks up to six times: Client(base_url=..., httpx_args={"transport": Patient()})."""

    def __init__(self, inner: httpx.BaseTransport | None = None, first_wait: float = FIRST_WAIT) -> None:
        self._inner = inner or httpx.HTTPTransport()
        self._first_wait = first_wait

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        """Send a request, again where that helps; the last failure is told as it is."""
        for tried in range(1, TRIES):
            wait = self._first_wait * 2 ** (tried - 1) * random.uniform(0.75, 1.25)  # noqa: S311 - spreads callers out
            try:
                response = self._inner.handle_request(request)
            except httpx.TransportError:
                pass
            else:
                if response.status_code not in LATER:
                    return response
                told = response.headers.get("retry-after", "")  # a date, which some proxies write, is passed over
                wait = float(told) if told.isdigit() else wait
                response.close()
            time.sleep(min(wait, LONGEST_WAIT))
        return self._inner.handle_request(request)

    def close(self) -> None:
        """Close the connections."""
        self._inner.close()
