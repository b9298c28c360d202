"""How much a request for a calculation may hold, as far as an operator may say it."""

from typing import Any

from service.calculations.registry import LARGEST_BODY, Calculation
from service.http.operation.settings import Settings


def largest_body(calculation: Calculation[Any, Any], settings: Settings) -> int:
    """Bytes that a request for a calculation may have: its own limit, or a lower one that is set.

    Args:
        calculation: what is asked; what takes more than most, such as a plan, has the limit of many items.
        settings: what the operator says.
    """
    own = calculation.largest_body
    return min(own, settings.largest_body if own <= LARGEST_BODY else settings.largest_bulk_body)
