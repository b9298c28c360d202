"""The peer: the same calculations behind FastAPI with pydantic models for requests and answers.

The quantities are read and written by the same functions, the rules are the same objects, and the calculations
are the same code; only framework, models and encoding differ.
"""

from functools import cache
from typing import Annotated, Any, cast

import msgspec
from fastapi import FastAPI
from msgspec import UNSET, inspect
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PlainValidator, create_model, model_validator

from service.calculations.registry import Calculation, calculations, gravity
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import Given
from service.calculations.shared.rules import Ruled
from service.calculations.shared.told import Told, figure
from service.http.wire import App
from service.reference import reference_data
from tests.benchmarks.bodies import NAMES
from tests.benchmarks.shapes import constraints, outline


class Asked(BaseModel):
    """What every model of a request is made of."""

    model_config = ConfigDict(extra="forbid")


class Ruling(Asked):
    """A model whose members follow rules."""

    @model_validator(mode="after")
    def _follow(self) -> "Ruling":
        for rule in cast("type[Ruled]", type(self).ruled).rules:  # type: ignore[attr-defined]
            rule.check(cast("Ruled", self))
        return self


class Answered(BaseModel):
    """What every model of an answer is made of."""

    model_config = ConfigDict(from_attributes=True)


class Shown(BaseModel):
    """A number with its unit."""

    value: float
    unit: str
    low: float | None = None
    high: float | None = None


def _shown(told: Told) -> Shown:
    one = figure(told, told.kind.metric)
    if one.low is UNSET or one.high is UNSET:
        return Shown(value=one.value, unit=one.unit)
    return Shown(value=one.value, unit=one.unit, low=one.low, high=one.high)


def _set(value: Any) -> Any:
    return None if value is UNSET else value


def model(shape: inspect.Type) -> Any:
    """A type of the service as a type for pydantic."""
    if isinstance(shape, inspect.StructType):
        return _model(shape.cls)
    if isinstance(shape, inspect.CustomType):
        if issubclass(shape.cls, Given):
            return Annotated[Any, PlainValidator(shape.cls.read)]
        if issubclass(shape.cls, Told):
            return Annotated[Shown, BeforeValidator(_shown)]
        return Any
    found = outline(shape, model)
    limits = constraints(shape)
    return Annotated[found, Field(**limits)] if limits else found


@cache
def _model(kind: type[msgspec.Struct]) -> type[BaseModel]:
    shape = inspect.type_info(kind)
    assert isinstance(shape, inspect.StructType)
    asked = issubclass(kind, Ruled)
    fields: dict[str, Any] = {}
    for field in shape.fields:
        of = model(field.type)
        if field.required:
            fields[field.name] = (of, ...)
        elif asked:
            fields[field.name] = (of, None)
        else:
            fields[field.name] = (Annotated[of | None, BeforeValidator(_set)], None)
    base = Answered
    if asked:
        base = Ruling if kind.rules else Asked  # type: ignore[attr-defined, assignment]
    made = create_model(kind.__name__, __base__=base, **fields)
    made.ruled = kind  # type: ignore[attr-defined]
    return made


def _add(app: FastAPI, calculation: Calculation[Any, Any]) -> None:
    version = reference_data().version

    async def serve(request: Any) -> Any:
        notes = Notes()
        answer = calculation.calculate(request, notes)
        if request.reference is not None:
            answer.reference = request.reference
        answer.cautions = sorted(notes.cautions, key=gravity)
        answer.assumed = notes.assumed
        answer.data_version = version
        return answer

    request: type[msgspec.Struct] = calculation.request
    told: type[msgspec.Struct] = calculation.answer
    serve.__annotations__ = {"request": _model(request), "return": Any}
    app.post(
        f"/v1/{calculation.name}",
        response_model=_model(told),
        response_model_exclude_none=True,
    )(serve)


def create_app() -> App:
    """The application."""
    app = FastAPI(openapi_url=None)
    for name in NAMES:
        _add(app, calculations()[name])
    return cast("App", app)
