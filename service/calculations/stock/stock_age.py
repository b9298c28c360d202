"""How long a stock has stood, and what is to be done with it for that."""

from typing import Annotated, Final

from msgspec import Meta

from service.calculations.shared.given import Duration
from service.calculations.shared.notes import Notes

DAY: Final = 86400.0
AGEING: Final = 30 * DAY
OLD: Final = 60 * DAY
"""One to two months closed is as long as many keep a stock [s] (common practice)."""
OPENED: Final = "closed, clear and colourless, stirred before each draw, it may still serve"

Age = Annotated[Duration, Meta(description="How long the stock has stood since it was mixed.", examples=["40 d"])]


def caution_age(age: Duration | None, assayed: str, notes: Notes) -> None:
    """Say so where a stock has stood for a month, or for two.

    Args:
        age: how long it has stood; None where that was not told.
        assayed: what this assay tells of such a stock, and what it does not, as a sentence.
        notes: where the caution goes.
    """
    if age is None or age.value < AGEING:
        return
    days = f"It has stood for {age.value / DAY:.0f} days"
    if age.value < OLD:
        notes.caution(
            "stock-old",
            f"{days}, and many keep a stock for one to two months closed: {OPENED}. {assayed} Assay it again before "
            "the two months are over.",
            "note",
        )
        return
    notes.caution(
        "stock-old",
        f"{days}, and one to two months closed is as long as many keep a stock. {assayed} Hand it over as caustic "
        "waste where it is cloudy, coloured, or holds more carbonate than fresh solid would bring.",
    )
