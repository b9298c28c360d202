"""The room that requests take together: bytes of large bodies, and places of one address.

Room        what a worker holds for its requests; each gives back what it took when it ends
"""

from collections import Counter
from typing import Final

from service.http.operation.settings import Settings
from service.http.problems import RETRY, TOO_MANY_REQUESTS, UNAVAILABLE, Trouble
from service.http.wire import Scope

_BYTES: Final = "lyestock.room.bytes"
_ADDRESS: Final = "lyestock.room.address"


class Room:
    """What requests of a worker hold at once.

    Attributes:
        bytes: of large bodies that are held.
    """

    def __init__(self, settings: Settings) -> None:
        self._most_bytes = settings.bodies_together
        self._most_each = settings.address_concurrent
        self._each: Counter[str] = Counter()
        self.bytes = 0

    def enter(self, scope: Scope, address: str) -> Trouble | None:
        """Take a place for a request; what is wrong where its address has no more.

        Args:
            scope: the request.
            address: who asks, without a key.
        """
        most = self._most_each
        if most is None:
            return None
        if self._each[address] >= most:
            detail = f"{most} requests of your address are being served, and no more are at once. Ask again in 1 s."
            return Trouble(TOO_MANY_REQUESTS, detail, headers=RETRY)
        self._each[address] += 1
        scope[_ADDRESS] = address
        return None

    def hold(self, scope: Scope, size: int) -> None:
        """Say how many bytes of its body a request holds now.

        Args:
            scope: the request.
            size: bytes; what it held before is among them.

        Raises:
            Trouble: 503, where there is no room for more.
        """
        more = size - scope.get(_BYTES, 0)
        if self.bytes + more > self._most_bytes:
            detail = (
                "Large bodies of other requests take all the room there is. Ask again in 1 s, or send less at once."
            )
            raise Trouble(UNAVAILABLE, detail, headers=RETRY)
        self.bytes += more
        scope[_BYTES] = size

    def leave(self, scope: Scope) -> None:
        """Give back what a request took.

        Args:
            scope: the request, which has ended.
        """
        self.bytes -= scope.pop(_BYTES, 0)
        address = scope.pop(_ADDRESS, None)
        if address is not None:
            self._each[address] -= 1
            if not self._each[address]:
                del self._each[address]
