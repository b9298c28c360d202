"""The schemas of the contract: from the structs of the calculations to JSON Schema (draft 2020-12).

msgspec writes the schemas of the structs. Added here are the quantities (which msgspec cannot know), the
rules between members, and what an answer always holds.
"""

import re
from collections.abc import Iterable, Mapping
from typing import Any, Final

import msgspec
from msgspec import inspect

from service.calculations import units
from service.calculations.fault_meanings import MEANINGS
from service.calculations.given import Fraction, Ratio
from service.calculations.messages import Answer
from service.calculations.notes import Worked
from service.calculations.reading import Given
from service.calculations.rules import Ruled
from service.calculations.told import Told
from service.calculations.units import Kind

Schema = dict[str, Any]

REF: Final = "#/components/schemas/{name}"
ALWAYS: Final = ("cautions", "assumed", "data_version")
"""Members of an answer that are there even where they are empty."""
TEXT_LIMIT: Final = 160
"""Characters a quantity may have as text."""

_NUMBER: Final = units.NUMBER.replace(r"\d", "[0-9]")
_BLANK: Final = "[ \u00a0]{0,4}"
_BLANK_BEFORE_UNIT: Final = "[ \u00a0\u202f]{0,4}"


def reference(name: str) -> Schema:
    """A reference to a component."""
    return {"$ref": REF.format(name=name)}


def schemas(structs: Iterable[type]) -> tuple[list[Schema], dict[str, Schema]]:
    """The schemas of some types, and all components they need, by name."""
    wanted = tuple(structs)
    leaves: dict[str, type] = {}

    def hook(kind: type) -> Schema:
        if not issubclass(kind, Given | Told | Worked):
            raise NotImplementedError(kind)
        leaves[kind.__name__] = kind
        return reference(kind.__name__)

    found, components = msgspec.json.schema_components(wanted, schema_hook=hook, ref_template=REF)
    classes = _structs(inspect.multi_type_info(wanted))
    for name, schema in components.items():
        _tidy(schema)
        _complete(schema, classes[name])
    for name, leaf in leaves.items():
        if name in components:
            raise TypeError(f"two types of the contract are named {name}")
        if issubclass(leaf, Given):
            components[name] = _given(leaf)
            components[_unit_name(leaf.kind)] = _unit_names(leaf.kind)
        else:
            components[name] = _told(leaf) if issubclass(leaf, Told) else _worked()
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


def _tidy(schema: Schema) -> None:
    """Lift the description of a member that may be null to where readers and generators look for it."""
    for member in schema.get("properties", {}).values():
        if member.get("default", ...) is None:
            del member["default"]
        branches = member.get("anyOf", ())
        if len(branches) == 2 and branches[1] == {"type": "null"}:
            for name in ("description", "examples"):
                if name in branches[0]:
                    member[name] = branches[0].pop(name)


def _complete(schema: Schema, struct: type) -> None:
    """Add what msgspec cannot know of a struct."""
    if issubclass(struct, Ruled) and struct.rules:
        schema["allOf"] = [rule.schema() for rule in struct.rules]
    if issubclass(struct, Answer):
        schema["required"] = [*schema.get("required", ()), *ALWAYS]
    if schema.get("required") == []:
        del schema["required"]
    code = schema.get("properties", {}).get("code")
    if struct.__name__ == "Fault" and code is not None:
        code["description"] += "\n\n" + "\n".join(f"- `{name}`: {meaning}" for name, meaning in MEANINGS.items())


def _unit_name(kind: Kind) -> str:
    return "".join(word.capitalize() for word in kind.name.split()) + "Unit"


def _unit_names(kind: Kind) -> Schema:
    spelled: dict[str, list[str]] = {}
    for word, unit in kind.units.items():
        spelled.setdefault(unit.symbol, []).append(word)
    return {
        "title": f"Unit of {kind.name}",
        "description": f"Spellings that are read as a unit of {kind.name}. In answers: {_answered(kind)}.",
        "type": "string",
        "enum": list(kind.units),
        "examples": list(spelled),
    }


def _answered(kind: Kind) -> str:
    both = dict.fromkeys((kind.metric.symbol, kind.us.symbol))
    return " or ".join(f"`{symbol}`" for symbol in both)


def _given(given: type[Given]) -> Schema:
    """The component of a quantity that comes in."""
    kind = given.kind
    text: Schema = {
        "title": "as text",
        "description": f"A number and a unit, as in `{kind.example}`.",
        "type": "string",
        "format": text_format(given),
        "pattern": f"^{text_pattern(given)}$",
        "maxLength": TEXT_LIMIT,
        "examples": [kind.example],
    }
    branches = [text]
    if given.plain_number:
        low, high = given.limits()
        whole = min(high, 1.0) if issubclass(given, Fraction) else high  # a fraction above 1 needs its per cent sign
        branches.append({"title": "as plain number", "type": "number", "minimum": low, "maximum": whole})
    number = _any_unit(given)
    end = {"type": "number"}
    exact = ("as value and unit", "An exact value.", {"value": number})
    interval = (
        "with 95 % interval",
        "As this service answers it: the ends of the interval that holds 95 %, the value between them.",
        {"value": number, "low": end, "high": end},
    )
    spreads = (
        ("as limits", "Limits of a rectangular distribution.", {"low": number, "high": number}),
        (
            "with standard uncertainty",
            "A value and its standard uncertainty (normal distribution).",
            {"value": number, "uncertainty": {"type": "number", "minimum": 0}},
        ),
    )
    # Where a spread would not count it is refused; an answer may still be sent on as it is.
    forms: tuple[tuple[str, str, Mapping[str, Schema]], ...] = (
        (exact, *spreads, interval) if given.spread_counts else (exact, interval)
    )
    for title, description, members in forms:
        branches.append(
            {
                "title": title,
                "description": description,
                "type": "object",
                "properties": {**members, "unit": reference(_unit_name(kind))},
                "required": [*members, "unit"],
                "additionalProperties": False,
            }
        )
    low, high = given.limits()
    unit = kind.metric
    scale = "" if unit.symbol == "1" else f" {unit.symbol}"
    return {
        "title": given.__name__,
        "description": f"{(given.__doc__ or '').strip()} From {unit.from_si(low):g} to {unit.from_si(high):g}{scale}.",
        "oneOf": branches,
        "examples": [kind.example, *([0.05] if given.plain_number and given.limits()[1] <= 1 and low <= 0.05 else [])],
    }


def _any_unit(given: type[Given]) -> Schema:
    """A number that can be meant in at least one unit; which, only the service knows with the unit at hand."""
    ends = [unit.from_si(limit) for limit in given.limits() for unit in given.kind.units.values()]
    return {"type": "number", "minimum": min(ends), "maximum": max(ends)}


def text_format(given: type[Given]) -> str:
    """Name of the format of a quantity as text, such as `mass-quantity`."""
    return re.sub(r"(?<!^)(?=[A-Z])", "-", given.__name__).lower() + "-quantity"


def text_pattern(given: type[Given]) -> str:
    """Regular expression of a quantity as text, without anchors."""
    if issubclass(given, Ratio):
        return f"{_BLANK}{_NUMBER}{_BLANK}:{_BLANK}{_NUMBER}{_BLANK}"
    words = sorted((word for word in given.kind.units if not word[0].isdigit()), key=lambda word: (-len(word), word))
    choices = "|".join(_quoted(word) for word in words)
    return f"{_BLANK}{_NUMBER}{_BLANK_BEFORE_UNIT}(?:{choices}){_BLANK}"


def _quoted(word: str) -> str:
    """A word as it stands in a regular expression of any dialect."""
    return re.sub(r"([.^$*+?()\[\]{}|\\/])", r"\\\1", word)


def _told(told: type[Told]) -> Schema:
    """The component of a quantity that goes out."""
    kind = told.kind
    number = {"type": "number"}
    return {
        "title": told.__name__,
        "description": f"{(told.__doc__ or '').strip()} Where it is uncertain, `low` and `high` hold 95 %.",
        "type": "object",
        "properties": {
            "value": number,
            "unit": {"type": "string", "enum": list(dict.fromkeys((kind.metric.symbol, kind.us.symbol)))},
            "low": {"type": "number", "description": "Lower end of the 95 % interval."},
            "high": {"type": "number", "description": "Upper end of the 95 % interval."},
        },
        "required": ["value", "unit"],
        "dependentRequired": {"low": ["high"], "high": ["low"]},
        "additionalProperties": False,
    }


def _worked() -> Schema:
    """The component of a number in a step."""
    return {
        "title": "Worked",
        "description": (Worked.__doc__ or "").strip(),
        "type": "object",
        "properties": {"value": {"type": "number"}, "unit": {"type": "string"}},
        "required": ["value", "unit"],
        "additionalProperties": False,
    }
