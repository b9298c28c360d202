"""The schemas of quantities, which msgspec cannot know: as text, as objects, as they are answered, and their units."""

import re
from collections.abc import Iterable
from inspect import cleandoc
from typing import Final

from service.calculations.shared import units
from service.calculations.shared.given import Fraction, Ratio
from service.calculations.shared.notes import Worked
from service.calculations.shared.reading import LONGEST_TEXT, Given
from service.calculations.shared.told import Told
from service.calculations.shared.units import Kind
from service.http.references import Schema, reference

EXAMPLES: Final = {"MeasuredVolume": "25.3 mL", "Purity": "98.5 %", "TitrantMolarity": "1 mol/L"}
"""Examples of what takes less than its kind, by name."""

_NUMBER: Final = units.NUMBER.replace(r"\d", "[0-9]")
_BLANK: Final = "[ \u00a0]{0,4}"
_BLANK_BEFORE_UNIT: Final = "[ \u00a0\u202f]{0,4}"


def unit_name(kind: Kind) -> str:
    """Name of the component that lists the units of a kind."""
    return "".join(word.capitalize() for word in kind.name.split()) + "Unit"


def unit_names(kind: Kind) -> Schema:
    """The component that lists the units of a kind."""
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


def given_quantity(given: type[Given]) -> Schema:
    """The component of a quantity that comes in."""
    example = EXAMPLES.get(given.__name__, given.kind.example)
    low, high = given.limits()
    unit = given.kind.units.get("%", given.kind.metric)
    scale = "" if unit.symbol == "1" else f" {unit.symbol}"
    return {
        "title": given.__name__,
        "description": f"{cleandoc(given.__doc__ or '')} Taken from {_written(unit.from_si(low))}{scale} "
        f"to {_written(unit.from_si(high))}{scale}.",
        "oneOf": [_as_text(given, example), *([_as_number(given)] if given.plain_number else []), *_as_objects(given)],
        "examples": [example, *([0.05] if given.plain_number and high <= 1 and low <= 0.05 else [])],
    }


def _as_text(given: type[Given], example: str) -> Schema:
    return {
        "title": f"{given.__name__} as text",
        "description": f"{'Two numbers' if issubclass(given, Ratio) else 'A number and a unit'}, as in `{example}`.",
        "type": "string",
        "format": text_format(given),
        "pattern": f"^{text_pattern(given)}$",
        "maxLength": LONGEST_TEXT,
        "examples": [example],
    }


def _as_number(given: type[Given]) -> Schema:
    low, high = given.limits()
    return {
        "title": f"{given.__name__} as plain number",
        "description": "A ratio, as in `2.0`." if issubclass(given, Ratio) else "A part of 1, as in `0.05`.",
        "type": "number",
        "minimum": low,
        # a fraction above 1 needs its per cent sign
        "maximum": min(high, 1.0) if issubclass(given, Fraction) else high,
    }


def _as_objects(given: type[Given]) -> list[Schema]:
    """The forms of an object.

    Where a spread would not count it is refused; an answer may still be sent on as it is. What holds most comes first,
    since generated code takes the first form that it can make of an object.
    """
    number = _any_unit(given) | {"description": "The number, in `unit`."}
    end = {"type": "number", "description": "An end of the interval, in `unit`."}
    uncertainty = {"type": "number", "minimum": 0, "description": "Its standard uncertainty, in `unit`."}
    interval = (
        "with 95 % interval",
        "As this service answers it: the ends of the interval that holds 95 %, the value between them.",
        {"value": number, "low": end, "high": end},
    )
    normal = (
        "with standard uncertainty",
        "A value and its standard uncertainty (normal distribution).",
        {"value": number, "uncertainty": uncertainty},
    )
    limits = ("as limits", "Limits of a rectangular distribution.", {"low": number, "high": number})
    exact = ("as value and unit", "An exact value.", {"value": number})
    return [
        {
            # The name of the kind makes the title one of its own: generated code has a class of that name.
            "title": f"{given.__name__} {title}",
            "description": description,
            "type": "object",
            "properties": {**members, "unit": reference(unit_name(given.kind)) | {"description": "Their unit."}},
            "required": [*members, "unit"],
            "additionalProperties": False,
        }
        for title, description, members in (
            (interval, normal, limits, exact) if given.spread_counts else (interval, exact)
        )
    ]


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


def told_quantity(told: type[Told]) -> Schema:
    """The component of a quantity that goes out."""
    kind = told.kind
    number = {"type": "number", "description": "The number, in `unit`."}
    return {
        "title": told.__name__,
        "description": f"{cleandoc(told.__doc__ or '')} Where it is uncertain, `low` and `high` are the ends of its "
        "95 % interval.",
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


def worked() -> Schema:
    """The component of a number in a step."""
    return {
        "title": "Worked",
        "description": cleandoc(Worked.__doc__ or ""),
        "type": "object",
        "properties": {
            "value": {"type": "number", "description": "The number, in `unit`."},
            "unit": {"type": "string", "description": "Its unit, as the expression of the step takes it."},
        },
        "required": ["value", "unit"],
        "additionalProperties": False,
    }
