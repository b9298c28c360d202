"""What objects of several requests may hold is what the published contract says of it."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from service.calculations.shared import messages
from service.calculations.shared.given import Fraction, Molarity
from service.http.schemas import schemas
from tests.calculations.asking import calculation

CONTRACT = json.loads((Path(__file__).parents[2] / "openapi" / "openapi.json").read_text("utf-8"))
SHARED = [messages.Strength, messages.Stock, messages.Solution, messages.Vessel, messages.NamedFat, messages.FatLine]
REQUESTS = ["saponification", "liquid-split", "concentration"]


def bounds(schema: Any, at: str = "") -> Iterator[tuple[str, float]]:
    """The numbers of a schema by their places, but for those of examples."""
    if isinstance(schema, dict):
        for name, value in schema.items():
            if name not in {"examples", "example", "default", "description"}:
                yield from bounds(value, f"{at}/{name}")
    elif isinstance(schema, list):
        for number, value in enumerate(schema):
            yield from bounds(value, f"{at}/{number}")
    elif isinstance(schema, int | float) and not isinstance(schema, bool):
        yield at, schema


@pytest.mark.parametrize("name", REQUESTS)
def test_what_a_request_may_hold_is_published(name: str) -> None:
    published = CONTRACT["components"]["schemas"]
    _, components = schemas([calculation(name).request, *SHARED])
    seen = 0
    for title, component in components.items():
        if title in published:
            assert dict(bounds(component)) == dict(bounds(published[title])), title
            seen += len(dict(bounds(component)))
    assert seen > 20


@pytest.mark.parametrize("form", messages.STRENGTH_FORMS)
def test_a_strength_knows_in_which_form_it_is_given(form: str) -> None:
    given: Any = Molarity(1.0) if form == "molarity" else Fraction(0.5)
    assert messages.Strength(**{form: given}).form == form
