"""Who may ask, how often, and from which pages: looked at before anything else of a request.

Guard       looks at every request
Origins     the headers that let scripts of other pages read an answer
"""

from collections.abc import Sequence
from time import monotonic
from typing import Final, NamedTuple

from service.http.operation.keys import Keys, shown_key
from service.http.operation.rates import Rates, household
from service.http.operation.room import Room
from service.http.operation.settings import Settings
from service.http.problems import ADDRESS_TOO_LONG, PAGES, TOO_MANY_REQUESTS, UNAUTHORIZED, Trouble
from service.http.tags import CACHE_CONTROL
from service.http.wire import Scope

Headers = tuple[tuple[bytes, bytes], ...]

OPEN: Final = frozenset({"/", "/docs", "/openapi.json", "/problems", "/words"})
OPEN_BELOW: Final = ("/docs/", PAGES)
"""What is read without a key: how to ask. All else but health needs one, where keys are set."""
HEALTH: Final = frozenset({"/health/live", "/health/ready"})
"""Of these nothing is asked for, counted or limited: whoever watches the service must see it when it is busiest."""
_PRIVATE: Final = (b"cache-control", CACHE_CONTROL.replace("public", "private").encode())


class Seen(NamedTuple):
    """What came of looking at a request."""

    trouble: Trouble | None
    headers: Headers
    """Headers of the answer."""
    keyed: bool
    """Whether it bears a key: then no cache that others share may keep the answer."""


class Guard:
    """Looks at every request.

    Attributes:
        watches: whether it has something to look at in every request; else only in those with a query.
    """

    def __init__(self, settings: Settings, room: Room) -> None:
        self._room = room
        self._keys = Keys(settings.key_hashes)
        address_rate, key_rate = settings.address_rate, settings.rate_per_key
        self._by_address = None if address_rate is None else Rates("address", address_rate)
        self._by_key = None if key_rate is None else Rates("key", key_rate)
        self._longest = settings.longest_address
        self.watches = bool(len(self._keys) or self._by_address or settings.address_concurrent)

    def look(self, scope: Scope) -> Seen:
        """Look at a request, and take its key out of its query, so that nothing behind sees it."""
        key, query = shown_key(scope["headers"], scope["query_string"])
        scope["query_string"] = query
        keyed = key is not None
        place = self._keys.place(key) if key is not None and len(self._keys) else None
        path: str = scope["path"]
        if path in HEALTH:
            return Seen(None, (), keyed)
        rates = self._by_address if place is None else self._by_key
        headers: Headers = ()
        client = scope.get("client")
        who = household(client[0] if client else "") if place is None else str(place)
        if rates is not None:
            trouble, headers = _taken(rates, who, keyed=place is not None)
            if trouble is not None:
                return Seen(trouble, (), keyed)
        if place is not None:
            return Seen(None, headers, keyed)
        if len(self._keys) and not _is_open(path) and scope["method"] != "OPTIONS":
            return Seen(_unauthorized(keyed=keyed), headers, keyed)
        return Seen(self._room.enter(scope, who), headers, keyed)

    def at_line(self, address: str) -> tuple[Trouble | None, Headers]:
        """Take a request that is refused at the line off the rate of an address; no key is looked at.

        Returns:
            What is wrong where it asked too often, and the headers that tell of its rate.
        """
        if self._by_address is None:
            return None, ()
        return _taken(self._by_address, household(address), keyed=False)

    def too_long(self, scope: Scope) -> Trouble | None:
        """What is wrong with an address that is too long."""
        size = len(scope.get("raw_path") or scope["path"]) + 1 + len(scope["query_string"])
        if size <= self._longest:
            return None
        detail = f"The address has {size} bytes, and at most {self._longest} are taken. Send the request with POST."
        return Trouble(ADDRESS_TOO_LONG, detail)


def privately(headers: Sequence[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
    """The headers of an answer, of which only the caller's own cache may keep a copy."""
    return [_PRIVATE if name == b"cache-control" and b"public" in value else (name, value) for name, value in headers]


def _is_open(path: str) -> bool:
    return path in OPEN or path.startswith(OPEN_BELOW)


def _taken(rates: Rates, who: str, *, keyed: bool) -> tuple[Trouble | None, Headers]:
    """Take a request off a rate: what is wrong where it was asked too often, and the headers that tell of the rate."""
    taken = rates.take(who, monotonic())
    headers = rates.told(taken)
    return (_too_many(headers, keyed=keyed) if taken.wait else None), headers


def _too_many(headers: Headers, *, keyed: bool) -> Trouble:
    wait = dict(headers)[b"retry-after"].decode()
    who = "with this key" if keyed else "from your address"
    detail = f"More was asked {who} than is allowed. Wait {wait} s, and ask for many items at once with /v1/bulk."
    return Trouble(TOO_MANY_REQUESTS, detail, headers=headers)


def _unauthorized(*, keyed: bool) -> Trouble:
    """A key that is wrong is told apart from none (RFC 6750, 3.1)."""
    challenge = b'Bearer realm="lyestock"' + (b', error="invalid_token"' if keyed else b"")
    needed, how = UNAUTHORIZED.example.split(". ", 1)
    detail = f"{'The key is not known here' if keyed else needed}. {how}"
    return Trouble(UNAUTHORIZED, detail, headers=((b"www-authenticate", challenge),))


class Origins:
    """The headers that let scripts of other pages read an answer (Fetch Standard, 3.2)."""

    def __init__(self, settings: Settings) -> None:
        self._named = frozenset(one.encode() for one in settings.allowed_origins)
        self.any = settings.any_origin
        """Whether every answer may be read by every page: then no request needs to be looked at."""

    def of(self, headers: Sequence[tuple[bytes, bytes]]) -> Headers:
        """The headers of the answer to a request, where not every page may read it."""
        origin = next((value for name, value in headers if name == b"origin"), b"")
        return ((b"access-control-allow-origin", origin),) if origin in self._named else ()

    def varied(self, headers: Sequence[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
        """The headers of an answer that says by its header Vary that it is not the same for every origin."""
        if not self._named:
            return [*headers]
        vary = [value for name, value in headers if name == b"vary"]
        others = [(name, value) for name, value in headers if name != b"vary"]
        return [*others, (b"vary", b", ".join([*vary, b"Origin"]))]
