"""How to mend a request whose members do not fit: what is due in their place, written as the caller would write it."""

import json
import re
from typing import Any, Final

from msgspec import inspect

from service.calculations.shared.faults import Faulty
from service.calculations.shared.reading import Given

MOST_NAMES: Final = 15
"""Members that a message lists; a strength has as many."""
CAUSTIC: Final = re.compile(
    r"/(?:alkalis|solid|as_mixed|stocks?|existing_stock|solutions?|with|stock_draws|solids)(?:/|$)"
)
"""Members that hold caustic, where a volume taken for a mass does harm."""


def known_here(fields: dict[str, inspect.Field]) -> str:
    """The members there are, as far as a line holds them."""
    names = sorted(fields)
    if len(names) > MOST_NAMES:
        return f"leave it out; /docs lists all {len(names)}"
    return f"use one of {', '.join(names)}"


def as_member(said: Any, shape: inspect.StructType) -> str:
    """What stands in place of an object, written as one of its members: "12 mol/L" for a strength is a molarity.

    Empty where it is none of them. Where it may be several ("50 %" is a share by mass or by moles) all are told.
    """
    if type(said) in (int, float):  # 50 is no more a water ratio than a share: nothing says which
        return ""
    fields = (field for field in shape.fields if field.name != "uncertainty")  # which is no quantity by itself
    names = [field.encode_name for field in fields if any(_reads(said, one) for one in _quantities(field.type))]
    if not names:
        return ""
    others = f", or {' or '.join(names[1:])} in place of {names[0]}, as is meant" if names[1:] else ""
    return f"write {{{json.dumps(names[0])}: {json.dumps(said, ensure_ascii=False)}}}{others}"


def _reads(said: Any, kind: type[Given]) -> bool:
    try:
        kind.read(said)
    except Faulty:
        return False
    return True


def _quantities(shape: inspect.Type) -> list[type[Given]]:
    """The kinds of quantity that a member takes."""
    if isinstance(shape, inspect.Metadata):
        return _quantities(shape.type)
    if isinstance(shape, inspect.UnionType):
        return [kind for one in shape.types for kind in _quantities(one)]
    return [shape.cls] if isinstance(shape, inspect.CustomType) and issubclass(shape.cls, Given) else []


def main_members(shape: inspect.StructType) -> str:
    """A few members of an object, those that must be given before the others."""
    names = [field.encode_name for field in sorted(shape.fields, key=lambda field: not field.required)]
    return ", ".join([name for name in names if name != "reference"][:3])


def as_due(shape: inspect.Type) -> str:
    """What a member that is missing looks like, as the end of a sentence."""
    if isinstance(shape, inspect.Metadata):
        return as_due(shape.type)
    if isinstance(shape, inspect.CustomType) and issubclass(shape.cls, Given):
        return f", as in '{shape.cls.kind.example}'"
    if isinstance(shape, inspect.LiteralType):
        return f": {' or '.join(repr(value) for value in shape.values)}"
    if isinstance(shape, inspect.ListType):
        return f", a list{as_due(shape.item_type).replace(', an object', ' of objects', 1)}"
    return f", an object with {main_members(shape)}" if isinstance(shape, inspect.StructType) else ""


def suited(fault: Faulty, at: str) -> Faulty:
    """A volume for a mass does other harm with caustic than with fats and water; the message says which."""
    if fault.code != "volume-for-mass" or CAUSTIC.search(at):
        return fault
    word = fault.detail.partition(" is a volume")[0]
    return Faulty(
        fault.code,
        f"{word} is a volume, and a mass is due: how heavy it is depends on what it is, and how warm",
        fault.mend,
        fault.within,
    )
