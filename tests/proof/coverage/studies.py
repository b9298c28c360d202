"""The studies of all calculations that tell intervals."""

from typing import Final

from tests.proof.coverage.assays import STUDIES as OF_ASSAYS
from tests.proof.coverage.batches import STUDIES as OF_BATCHES
from tests.proof.coverage.stocks import STUDIES as OF_STOCKS

STUDIES: Final = tuple(sorted((*OF_STOCKS, *OF_BATCHES, *OF_ASSAYS), key=lambda one: one.calculation))
