"""How the chemistry refuses what lies outside of a range: with the quantity's name and both limits."""

import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest

from service.chemistry.errors import OutOfRange


@contextmanager
def refused(quantity: str, low: float, high: float) -> Iterator[None]:
    """What is done within is refused with this name and these limits."""
    with pytest.raises(OutOfRange) as caught:
        yield
    assert (caught.value.quantity, caught.value.low, caught.value.high) == (quantity, low, high)


def hold_to_ends(quantity: str, of: Callable[[float], object], low: float, high: float) -> None:
    """A range is taken to both of its ends, and refused just beyond them and for what is no number."""
    for inside in (low, high):
        of(inside)
    for outside in (low - max(1e-6 * abs(low), 1e-13), high * (1.0 + 1e-6), math.nan):
        with refused(quantity, low, high):
            of(outside)
