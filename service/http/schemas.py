"""The schemas of the contract: from the structs of the calculations to JSON Schema (draft 2020-12).

msgspec writes the schemas of the structs. Added here are the quantities (which msgspec cannot know), the
rules between members, and what an answer always holds.
"""

import re
import typing
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
EXAMPLES: Final = {"Purity": "98.5 %"}
"""Examples of what takes less than its kind, by name."""
TEXT_LIMIT: Final = 160
"""Characters a quantity may have as text."""

LONGEST_SHOWN: Final = 3
"""Items that a list keeps in the example of a component; whole lists stand in the examples of the operations."""

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
        _tidy(schema, classes[name])
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
        "x-enum-varnames": _names(kind.units),
        "examples": list(spelled),
    }


_SPOKEN: Final = (
    ("%", " PERCENT "),
    ("°", " DEG "),
    ("℃", " DEGREE CELSIUS "),
    ("℉", " DEGREE FAHRENHEIT "),
    ("/", " PER "),
    ("³", " CUBED "),
    ("^", " TO THE "),
    (".", " DOT "),
)


def _names(words: Iterable[str]) -> list[str]:
    """A name for each spelling, for generated code: letters, digits and underscores, and none twice."""
    names: list[str] = []
    for word in words:
        spoken = word
        for sign, said in _SPOKEN:
            spoken = spoken.replace(sign, said)
        name = "_".join(re.findall(r"[A-Z0-9]+", spoken.upper()))
        name = f"UNIT_{name}" if name[0].isdigit() else name
        same = sum(1 for one in names if re.fullmatch(rf"{name}(_SPELLING_\d+)?", one))
        names.append(f"{name}_SPELLING_{same + 1}" if same else name)
    return names


def _answered(kind: Kind) -> str:
    both = dict.fromkeys((kind.metric.symbol, kind.us.symbol))
    return " or ".join(f"`{symbol}`" for symbol in both)


def _given(given: type[Given]) -> Schema:
    """The component of a quantity that comes in."""
    kind = given.kind
    example = EXAMPLES.get(given.__name__, kind.example)
    text: Schema = {
        "title": f"{given.__name__} as text",
        "description": f"A number and a unit, as in `{example}`.",
        "type": "string",
        "format": text_format(given),
        "pattern": f"^{text_pattern(given)}$",
        "maxLength": TEXT_LIMIT,
        "examples": [example],
    }
    branches = [text]
    if given.plain_number:
        low, high = given.limits()
        whole = min(high, 1.0) if issubclass(given, Fraction) else high  # a fraction above 1 needs its per cent sign
        branches.append(
            {
                "title": f"{given.__name__} as plain number",
                "description": "A ratio, as in `2.0`." if issubclass(given, Ratio) else "A part of 1, as in `0.05`.",
                "type": "number",
                "minimum": low,
                "maximum": whole,
            }
        )
    number = _any_unit(given) | {"description": "The number, in `unit`."}
    end = {"type": "number", "description": "An end of the interval, in `unit`."}
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
            {
                "value": number,
                "uncertainty": {"type": "number", "minimum": 0, "description": "Its standard uncertainty, in `unit`."},
            },
        ),
    )
    # Where a spread would not count it is refused; an answer may still be sent on as it is.
    # What holds most comes first, since generated code takes the first form that it can make of an object.
    forms: tuple[tuple[str, str, Mapping[str, Schema]], ...] = (
        (interval, *reversed(spreads), exact) if given.spread_counts else (interval, exact)
    )
    for title, description, members in forms:
        branches.append(
            {
                # The name of the kind makes the title one of its own: generated code has a class of that name.
                "title": f"{given.__name__} {title}",
                "description": description,
                "type": "object",
                "properties": {**members, "unit": reference(_unit_name(kind)) | {"description": "Their unit."}},
                "required": [*members, "unit"],
                "additionalProperties": False,
            }
        )
    low, high = given.limits()
    unit = kind.units.get("%", kind.metric)
    scale = "" if unit.symbol == "1" else f" {unit.symbol}"
    return {
        "title": given.__name__,
        "description": f"{(given.__doc__ or '').strip()} Taken from {_written(unit.from_si(low))}{scale} "
        f"to {_written(unit.from_si(high))}{scale}.",
        "oneOf": branches,
        "examples": [example, *([0.05] if given.plain_number and given.limits()[1] <= 1 and low <= 0.05 else [])],
    }


def _written(number: float) -> str:
    """A limit as a person writes it: no exponent, thousands apart."""
    return f"{float(f'{number:.6g}'):,.12f}".rstrip("0").rstrip(".").replace(",", " ")


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
    number = {"type": "number", "description": "The number, in `unit`."}
    return {
        "title": told.__name__,
        "description": f"{(told.__doc__ or '').strip()} Where it is uncertain, `low` and `high` hold 95 %.",
        "type": "object",
        "properties": {
            "value": number,
            "unit": {
                "type": "string",
                "description": f"Its unit: {_answered(kind)}.",
                "enum": list(dict.fromkeys((kind.metric.symbol, kind.us.symbol))),
            },
            "low": {"type": "number", "description": "Lower end of the 95 % interval, in `unit`."},
            "high": {"type": "number", "description": "Upper end of the 95 % interval, in `unit`."},
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
        "properties": {
            "value": {"type": "number", "description": "The number, in `unit`."},
            "unit": {"type": "string", "description": "Its unit, as the expression of the step takes it."},
        },
        "required": ["value", "unit"],
        "additionalProperties": False,
    }


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
        component.setdefault("examples", [_cut(value)])
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


def _cut(value: Any) -> Any:
    """A value with its long lists cut."""
    if isinstance(value, dict):
        return {name: _cut(one) for name, one in value.items()}
    return [_cut(one) for one in value[:LONGEST_SHOWN]] if isinstance(value, list) else value
