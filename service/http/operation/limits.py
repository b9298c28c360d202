"""How much one request may hold, as far as an operator may say it."""

from typing import Any, Final, NamedTuple

from service.calculations.registry import LARGEST_BODY, Calculation
from service.http.operation.settings import Settings


class Limits(NamedTuple):
    """How much a request may hold; the defaults are what the contract says."""

    largest_body: int = LARGEST_BODY
    """Bytes."""
    largest_bulk_body: int = 32 << 20
    """Bytes of a plan or of many items, unpacked too."""
    most_items: int = 10_000

    def of(self, calculation: Calculation[Any, Any]) -> int:
        """Bytes that a request for a calculation may have."""
        own = calculation.largest_body
        return min(own, self.largest_body if own <= LARGEST_BODY else self.largest_bulk_body)


AS_CONTRACTED: Final = Limits()


def limits(settings: Settings) -> Limits:
    """The limits that are set."""
    return Limits(settings.largest_body, settings.largest_bulk_body, settings.most_items)
