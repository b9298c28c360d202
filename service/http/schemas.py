"""The schemas of the contract: from the structs of the calculations to JSON Schema (draft 2020-12).

msgspec writes the schemas of the structs. Added here are the quantities (which msgspec cannot know), the
rules between members, and what an answer always holds.
"""

import typing
from collections.abc import Iterable
from typing import Any, Final

import msgspec
from msgspec import inspect

from service.calculations.shared.messages import Answer
from service.calculations.shared.notes import Worked
from service.calculations.shared.reading import Given
from service.calculations.shared.rules import Ruled
from service.calculations.shared.told import Told
from service.http.quantity_schemas import given_quantity, told_quantity, unit_name, unit_names, worked
from service.http.references import SCHEMAS, Schema, reference

ALWAYS: Final = ("cautions", "assumed", "data_version")
"""Members of an answer that are there even where they are empty."""
LONGEST_SHOWN: Final = 3
"""Items that a list keeps in the example of a component; whole lists stand in the examples of the operations."""


def schemas(structs: Iterable[type]) -> tuple[list[Schema], dict[str, Schema]]:
    """The schemas of some types, and all components they need, by name."""
    wanted = tuple(structs)
    leaves: dict[str, type] = {}

    def hook(kind: type) -> Schema:
        if not issubclass(kind, Given | Told | Worked):
            raise NotImplementedError(kind)
        leaves[kind.__name__] = kind
        return reference(kind.__name__)

    found, components = msgspec.json.schema_components(wanted, schema_hook=hook, ref_template=SCHEMAS)
    classes = _structs(inspect.multi_type_info(wanted))
    for name, schema in components.items():
        _tidy(schema, classes[name])
        _complete(schema, classes[name])
    for name, leaf in leaves.items():
        if name in components:
            raise TypeError(f"two types of the contract are named {name}")
        if issubclass(leaf, Given):
            components[name] = given_quantity(leaf)
            components[unit_name(leaf.kind)] = unit_names(leaf.kind)
        else:
            components[name] = told_quantity(leaf) if issubclass(leaf, Told) else worked()
    return list(found), dict(sorted(components.items()))


def _structs(shapes: Iterable[inspect.Type]) -> dict[str, type]:
    """Every struct that some types hold, by its name."""
    found: dict[str, type] = {}

    def walk(shape: Any) -> None:
        if isinstance(shape, inspect.StructType):
            if found.setdefault(shape.cls.__name__, shape.cls) is not shape.cls:
                raise TypeError(f"two structs of the contract are named {shape.cls.__name__}")
            for field in shape.fields:
                walk(field.type)
        elif isinstance(shape, inspect.UnionType):
            for one in shape.types:
                walk(one)
        else:
            for name in ("type", "item_type", "value_type"):
                if isinstance(inner := getattr(shape, name, None), inspect.Type):
                    walk(inner)

    seen: set[int] = set()
    for shape in shapes:
        if id(shape) not in seen:
            seen.add(id(shape))
            walk(shape)
    return found


def _tidy(schema: Schema, struct: type) -> None:
    """Lift the description of a member that may be null to where readers and generators look for it.

    What was written about a member that is an object of its own msgspec leaves out; it is put back.
    """
    hints = typing.get_type_hints(struct, include_extras=True)
    for name, member in schema.get("properties", {}).items():
        for words in (member, *member.get("anyOf", ())):
            if "enum" in words and "type" not in words:
                words["type"] = "string" if all(type(one) is str for one in words["enum"]) else "boolean"
                if words["enum"] == [True]:  # generators know no enumeration of true and false
                    words["const"] = words.pop("enum")[0]
        said = _description(hints.get(name))
        if said and "description" not in member:
            member["description"] = said
        if member.get("default", ...) is None:
            del member["default"]
        branches = member.get("anyOf", ())
        if len(branches) == 2 and branches[1] == {"type": "null"}:
            for word in ("description", "examples"):
                if word in branches[0]:
                    member[word] = branches[0].pop(word)


def _description(hint: Any) -> str | None:
    """What is written about a member beside its type."""
    for meta in getattr(hint, "__metadata__", ()):
        if isinstance(meta, msgspec.Meta) and meta.description:
            return meta.description
    found = (_description(one) for one in typing.get_args(hint) if typing.get_origin(one) is not list)
    return next((one for one in found if one), None)


def _complete(schema: Schema, struct: type) -> None:
    """Add what msgspec cannot know of a struct."""
    if issubclass(struct, Ruled) and struct.rules:
        schema["allOf"] = [rule.schema() for rule in struct.rules]
    if issubclass(struct, Answer):
        schema["required"] = [*schema.get("required", ()), *ALWAYS]
    if schema.get("required") == []:
        del schema["required"]


def add_examples(components: dict[str, Schema], samples: Iterable[tuple[Schema, Any]]) -> None:
    """Give every component without an example one that was really sent or answered.

    Args:
        components: the components by name.
        samples: schemas, and values that fit them.
    """
    for schema, value in samples:
        _harvest(schema, value, components)


def _harvest(schema: Schema, value: Any, components: dict[str, Schema]) -> None:
    if "$ref" in schema:
        component = components[schema["$ref"].rpartition("/")[2]]
        if component.get("type") == "object" and not isinstance(value, dict):
            return  # of a word and an object, the other is meant
        component.setdefault("examples", [cut(value)])
        _harvest(component, value, components)
    for branch in schema.get("anyOf", ()):
        if value is not None:
            _harvest(branch, value, components)
    if isinstance(value, dict):
        others = schema.get("additionalProperties")
        for name, one in value.items():
            _harvest(schema.get("properties", {}).get(name, others or {}), one, components)
    elif isinstance(value, list):
        for one in value:
            _harvest(schema.get("items", {}), one, components)


def cut(value: Any) -> Any:
    """A value with its long lists cut.

    Args:
        value: an example of a component.
    """
    if isinstance(value, dict):
        return {name: cut(one) for name, one in value.items()}
    return [cut(one) for one in value[:LONGEST_SHOWN]] if isinstance(value, list) else value
