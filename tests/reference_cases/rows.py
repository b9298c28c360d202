"""A row of the table of deviations."""

from typing import NamedTuple


class ValidationRow(NamedTuple):
    """One figure of ours beside the published one; deviation = ours - reference."""

    quantity: str
    ours: float
    reference: float
    deviation: float
    unit: str
    source: str
