"""A service of three small calculations, so that the transport is tested apart from the chemistry."""

from typing import Annotated

import pytest
from msgspec import Meta

from service.calculations.registry import Calculation, Example
from service.calculations.shared.given import Fraction, Mass
from service.calculations.shared.messages import Answer, Request
from service.calculations.shared.notes import Notes
from service.calculations.shared.told import MassFigure
from service.http.app import create_app
from tests.asgi import Caller


class PartRequest(Request, kw_only=True):
    """A mass, and a share of it."""

    mass: Annotated[Mass, Meta(description="The whole.")]
    share: Annotated[Fraction, Meta(description="The share.")]


class PartAnswer(Answer, kw_only=True):
    """A part of a mass."""

    part: Annotated[MassFigure, Meta(description="The part.")]


def part(request: PartRequest, notes: Notes) -> PartAnswer:
    if request.share.value == 0:
        raise notes.refuse("/share", "contradiction", "nothing is no part", "give a share above 0")
    if notes.explain:
        notes.step("part", "mass * share", {"mass": (request.mass.value, "kg")}, (0.5, "kg"), "arithmetic")
    return PartAnswer(part=MassFigure(request.mass.value * request.share.value))


def fails(_: PartRequest, __: Notes) -> PartAnswer:
    raise ZeroDivisionError("a secret of the house")


def endless(_: PartRequest, __: Notes) -> PartAnswer:
    return PartAnswer(part=MassFigure(float("inf")))


HALF = {"mass": "1 kg", "share": "50 %"}
EXAMPLES = (Example("half", "Half a kilogram", HALF),)


def _calculation(
    name: str, calculate: object, examples: tuple[Example, ...] = ()
) -> Calculation[PartRequest, PartAnswer]:
    return Calculation(
        name=name,
        summary="A part of a mass",
        description="A part of a mass.",
        request=PartRequest,
        answer=PartAnswer,
        calculate=calculate,  # type: ignore[arg-type]
        examples=examples,
    )


@pytest.fixture(scope="session")
def call() -> Caller:
    known = (_calculation("part", part, EXAMPLES), _calculation("fails", fails), _calculation("endless", endless))
    return Caller(create_app({one.name: one for one in known}))
