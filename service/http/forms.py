"""Other forms that answers are given in beside JSON: pictures, and pages for the wall.

A form is made from the answer as it is told, so that it shows the very numbers of the JSON, in its units and digits.
"""

from collections.abc import Callable, Mapping
from typing import Any, Final, NamedTuple

from service.http.answer_pictures import cooling_picture, mixing_picture
from service.http.drawing import Picture, can_draw, draw
from service.http.paper import POLICY
from service.http.wall_pages import batch_sheet_page, production_plan_page

SVG, HTML = "image/svg+xml", "text/html"


class Form(NamedTuple):
    """A form of the answers of one calculation."""

    word: str
    """Word of the parameter `format`."""
    media: str
    write: Callable[[Mapping[str, Any]], bytes]
    """From the answer, decoded from its JSON, to the bytes of the form."""
    can: Callable[[], bool]
    """Whether what it takes is installed."""
    description: str

    @property
    def content_type(self) -> bytes:
        """What the header Content-Type says."""
        return f"{self.media}; charset=utf-8".encode() if self.media == HTML else self.media.encode()


HEADERS: Final = ((b"content-security-policy", POLICY.encode()),)
"""A page and a picture load nothing, and run nothing."""


def _picture(make: Callable[[Mapping[str, Any]], Picture], description: str) -> Form:
    return Form("svg", SVG, lambda answer: draw(make(answer)), can_draw, description)


def _page(write: Callable[[Mapping[str, Any]], bytes], description: str) -> Form:
    return Form("html", HTML, write, lambda: True, description)


FORMS: Final[Mapping[str, Form]] = {
    "stock-mixing": _picture(
        mixing_picture, "A plot of the mixing: its temperature, boiling point, peak, and the vessel's limit."
    ),
    "stock-cooling": _picture(
        cooling_picture, "A plot of the cooling: its temperature, the time it takes, and the limits it has to keep to."
    ),
    "batch-sheet": _page(batch_sheet_page, "A page to print: what to weigh, boxes to tick, cautions first."),
    "production-plan": _page(
        production_plan_page, "A page to print: batches, stock to mix, what to buy, cautions first."
    ),
}
"""The other form of a calculation's answers, by its name."""
