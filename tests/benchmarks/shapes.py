"""The structs of requests and answers, put into other systems: plain msgspec, and pydantic.

Both are made from the very structs of the service, so that a change of a calculation cannot leave the benchmark
measuring something else.
"""

from collections.abc import Callable
from functools import cache
from typing import Annotated, Any, Final, Literal

import msgspec
from msgspec import inspect

from service.calculations.shared.notes import Worked
from service.calculations.shared.reading import Given
from service.calculations.shared.told import Shown, Told

Mapped = Callable[[inspect.Type], Any]


def constraints(shape: inspect.Type) -> dict[str, Any]:
    """What a type demands of its values: lengths and limits."""
    names = ("min_length", "max_length", "pattern", "ge", "gt", "le", "lt")
    return {name: value for name in names if (value := getattr(shape, name, None)) is not None}


def outline(shape: inspect.Type, inner: Mapped) -> Any:
    """A type that holds no struct and no quantity itself, with what it holds mapped by another function."""
    if isinstance(shape, inspect.Metadata):
        return inner(shape.type)
    if isinstance(shape, inspect.UnionType):
        found = [inner(one) for one in shape.types]
        union = found[0]
        for one in found[1:]:
            union = union | one
        return union
    if isinstance(shape, inspect.LiteralType):
        return Literal[shape.values]
    if isinstance(shape, inspect.ListType):
        return list[inner(shape.item_type)]  # type: ignore[misc]
    if isinstance(shape, inspect.DictType):
        return dict[inner(shape.key_type), inner(shape.value_type)]  # type: ignore[misc]
    plain: Final = {
        inspect.StrType: str,
        inspect.FloatType: float,
        inspect.IntType: int,
        inspect.BoolType: bool,
        inspect.NoneType: None,
    }
    return plain[type(shape)]


def plain(shape: inspect.Type) -> Any:
    """A type for a decoder and an encoder that read and write the same JSON and understand nothing of it."""
    if isinstance(shape, inspect.StructType):
        return _plain_struct(shape.cls)
    if isinstance(shape, inspect.CustomType):
        if issubclass(shape.cls, Given):
            return str | float | dict[str, str | float]
        if issubclass(shape.cls, Told):
            return Shown
        if issubclass(shape.cls, Worked):
            return dict[str, str | float]
    found = outline(shape, plain)
    limits = constraints(shape)
    return Annotated[found, msgspec.Meta(**limits)] if limits else found


@cache
def _plain_struct(kind: type) -> type[msgspec.Struct]:
    shape = inspect.type_info(kind)
    assert isinstance(shape, inspect.StructType)
    fields: list[Any] = []
    for field in shape.fields:
        of = plain(field.type)
        if field.required:
            fields.append((field.name, of))
        else:
            fields.append((field.name, of | msgspec.UnsetType, msgspec.UNSET))
    return msgspec.defstruct(
        kind.__name__,
        fields,
        kw_only=True,
        forbid_unknown_fields=shape.forbid_unknown_fields,
    )


def plain_struct(kind: type) -> type[msgspec.Struct]:
    """The plain twin of a request or an answer."""
    return _plain_struct(kind)
