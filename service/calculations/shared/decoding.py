"""From the bytes of a request to its struct; where that fails, every fault of the request at once.

The fast way is one typed decode. Only when it fails does the slow way decode to plain values and walk
them along the request's type, so that a caller sees all faults together and each at its place. The slow way also
looks up the identifiers of the catalogue: an unknown fat is told beside a wrong unit. Whatever else only chemistry
can see is told once the request can be read.
"""

import re
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any, Final, TypeVar, cast

import msgspec
from msgspec import inspect

from service.calculations.shared.faults import MOST_FAULTS, Fault, FaultCode, Faulty, Refusal, meant, near, quoted
from service.calculations.shared.given import read_hook
from service.calculations.shared.identifiers import FORM, SHELF, shelf, unknown
from service.calculations.shared.mends import as_due, as_member, known_here, main_members, suited
from service.calculations.shared.not_json import not_json
from service.calculations.shared.reading import Given, json_name, short
from service.calculations.shared.repeats import may_repeat, pointer, repeated_members, shows_more
from service.calculations.shared.rules import Rule, members
from service.calculations.shared.synonyms import likely_members

T = TypeVar("T")

BYTE_ORDER_MARK: Final = b"\xef\xbb\xbf"
MOST_PARTS: Final = 50_000
"""Lists and objects of a body at which the slow way stops: the largest request there can be has about ten thousand."""
MOST_ENTRIES: Final = 500_000
"""Commas of a body, and so members and entries, beyond which it is not read: the plan of ten thousand order lines and a
thousand recipes has some two hundred thousand."""
_SIEVED: Final = 1 << 16
"""Bytes of a body below which what it holds cannot take long to read."""
_STEP: Final = 200
"""Digits of which a number of twice as many has a whole step."""
EXACT_IN_FLOATS: Final = 2.0**53
"""Below it every whole number is a float."""


def decoder(kind: type[T]) -> Callable[[bytes], T]:
    """A function that reads a request of this type, or raises Refusal (400) with all its faults."""
    fast = msgspec.json.Decoder(kind, dec_hook=read_hook).decode
    shape = inspect.type_info(kind)

    def decode(body: bytes) -> T:
        if body.startswith(BYTE_ORDER_MARK):  # many programs under Windows write one
            body = body[len(BYTE_ORDER_MARK) :]
        if len(body) > _SIEVED:
            _refuse_overfull(body)
        try:
            request = fast(body)
        except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError, ValueError):
            return _read_slowly(body, kind, shape)
        if may_repeat(body):
            faults = _repeats(body)
            if faults:
                raise Refusal(400, faults)
        return request

    return decode


def _refuse_overfull(body: bytes) -> None:
    """Refuse a body that would take long to read, whatever is right or wrong about it.

    Raises:
        Refusal: it holds more than any request, or digits upon digits, whose reading takes the square of their number.
    """
    entries = body.count(b",")
    if entries > MOST_ENTRIES:
        detail = f"the body holds {entries} members and entries, and at most {MOST_ENTRIES} are read"
        raise Refusal(400, [Fault("too-many", detail, "send less at once", "")])
    for start in range(0, len(body), _STEP):
        if body[start : start + _STEP].isdigit():
            at = len(body[:start].rstrip(b"0123456789"))
            detail = f"at byte {at + 1} begins a number of more than {_STEP} digits"
            raise Refusal(400, [Fault("too-long", detail, "write it shorter: 3.5e10", "")])


def _read_slowly(body: bytes, kind: type[T], shape: inspect.Type) -> T:
    """The request after all, where only a whole number was written as 9.0; else Refusal with all its faults."""
    parts = body.count(b"[") + body.count(b"{")
    if parts > MOST_PARTS:
        # Reading so many takes longer than a refused request may keep the others waiting.
        detail = f"the body holds {parts} lists and objects, and no request needs as many"
        raise Refusal(400, [Fault("too-many", detail, "send one request for each calculation", "")])
    try:
        said = msgspec.json.decode(body)
        walk = _Walk()
        if shows_more(body, said):
            walk.faults.extend(_repeats(body))
        walk.look(said, shape, "")
    except RecursionError:
        raise Refusal(400, [_too_deep()]) from None
    except (msgspec.DecodeError, UnicodeDecodeError, ValueError) as error:
        raise Refusal(400, [not_json(body, str(error))]) from None
    if not walk.faults:
        try:
            return msgspec.convert(_whole(said), kind, dec_hook=read_hook)
        except (msgspec.MsgspecError, ValueError):
            # The two ways must agree; if they ever do not, the request is still refused and said to be so.
            walk.fault("", "wrong-type", "the body does not fit the contract", "compare it with the contract's example")
    raise Refusal(400, walk.faults, walk.untold)


def _whole(said: Any) -> Any:
    """The same with 9.0 as 9, which to JSON Schema is an integer too, and what some programs write for every number."""
    if type(said) is dict:
        return {name: _whole(value) for name, value in said.items()}
    if type(said) is list:
        return [_whole(value) for value in said]
    return int(said) if type(said) is float and abs(said) < EXACT_IN_FLOATS and said.is_integer() else said


def _repeats(body: bytes) -> list[Fault]:
    """Members given twice; a body that one decoder reads and the other does not is refused, never taken unseen."""
    try:
        return repeated_members(body)
    except RecursionError:
        return [_too_deep()]


def _too_deep() -> Fault:
    mend = "take brackets away: no request needs more than ten levels"
    return Fault("malformed-json", "the body is nested too deeply", mend, "")


class _Walk:
    """One pass over a request, collecting faults; when a hundred are found, the rest is only counted."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.untold = 0

    def fault(self, pointer: str, code: FaultCode, detail: str, mend: str) -> None:
        """Note a fault."""
        self.note(Fault(code, detail, mend, pointer))

    def note(self, fault: Fault) -> None:
        """Note a fault that is made already."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(fault)
        else:
            self.untold += 1

    def look(self, said: Any, shape: inspect.Type, at: str) -> None:
        """Look at one value, and at what it holds."""
        if isinstance(shape, inspect.Metadata):
            if shape.extra is not None and FORM in shape.extra and isinstance(shape.type, inspect.StrType):
                self._text(said, shape.type, at, shape.extra[FORM])
                return
            self.look(said, shape.type, at)
            if shape.extra is not None and SHELF in shape.extra and type(said) is str:
                self._identifier(said, shape, at)
        elif isinstance(shape, inspect.UnionType):
            self._union(said, shape, at)
        elif isinstance(shape, inspect.StructType):
            self._struct(said, shape, at)
        elif isinstance(shape, inspect.ListType | inspect.VarTupleType):
            self._list(said, shape, at)
        elif isinstance(shape, inspect.DictType):
            self._dict(said, shape, at)
        elif isinstance(shape, inspect.CustomType):
            self._custom(said, shape, at)
        else:
            self._plain(said, shape, at)

    def _union(self, said: Any, shape: inspect.UnionType, at: str) -> None:
        """A member that may be null: the other type is what is meant; of a word and an object, what is like it."""
        rest = [one for one in shape.types if not isinstance(one, inspect.NoneType)]
        if said is not None or len(rest) == len(shape.types):
            objects = [one for one in rest if isinstance(one, inspect.StructType)]
            self.look(said, objects[0] if objects and type(said) is dict else rest[0], at)

    def _struct(self, said: Any, shape: inspect.StructType, at: str) -> None:
        fields = {field.encode_name: field for field in shape.fields}
        alone = type(said) is dict and said.keys() == {"value", "unit"} and said.keys().isdisjoint(fields)
        if type(said) is not dict or alone:
            found = "a quantity alone" if alone else json_name(said)
            mend = as_member(said, shape) or f"write {{...}} with {main_members(shape)}"
            self.fault(at, "wrong-type", f"an object is due here, not {found}", mend)
            return
        suspects: set[str] = set()
        for name, value in said.items():
            if name in fields:
                before = len(self.faults)
                self.look(value, fields[name].type, pointer(at, name))
                volume = name.replace("mass", "volume")
                if name != volume and volume in fields:
                    self._by_volume(before, name, volume)
            elif len(self.faults) >= MOST_FAULTS:
                self.untold += 1
            else:
                close = likely_members(name, fields)
                suspects.update(close)
                self.fault(
                    pointer(at, name[:60]),
                    "unknown-member",
                    f"there is no member {quoted(name)} here{meant(close)}",
                    f"use {close[0]!r} in its place" if len(close) == 1 else known_here(fields),
                )
        for name, field in fields.items():
            if field.required and name not in said:
                self.fault(
                    pointer(at, name), "missing-member", f"{name} is missing", f"give {name}{as_due(field.type)}"
                )
        self._rules(said, shape, at, suspects)

    def _by_volume(self, start: int, name: str, volume: str) -> None:
        """Where a volume may be given, a volume under mass is a slip of the member's name."""
        for place, fault in enumerate(self.faults[start:], start):
            if fault.code == "volume-for-mass":
                self.faults[place] = msgspec.structs.replace(fault, mend=f"give it under {volume} in place of {name}")

    def _rules(self, said: dict[str, Any], shape: inspect.StructType, at: str, suspects: set[str]) -> None:
        """Members that are right one by one may still contradict each other.

        Of rules that share a member only the first is told, and none about a member that may merely be misspelt.
        """
        given = SimpleNamespace(**{field.name: said.get(field.encode_name) for field in shape.fields})
        told = set(suspects)
        for rule in cast("tuple[Rule, ...]", getattr(shape.cls, "rules", ())):
            if told.isdisjoint(members(rule)):
                try:
                    rule.check(given)
                except Faulty as fault:
                    self.note(fault.at(at))
                    told.update(members(rule))

    def _list(self, said: Any, shape: inspect.ListType | inspect.VarTupleType, at: str) -> None:
        if type(said) is not list:
            self.fault(at, "wrong-type", f"a list is due here, not {json_name(said)}", "write it in brackets: [...]")
            return
        if shape.min_length is not None and len(said) < shape.min_length:
            self.fault(at, "too-few", f"the list holds {len(said) or 'nothing'}", f"give at least {shape.min_length}")
        if shape.max_length is not None and len(said) > shape.max_length:
            self.fault(at, "too-many", f"the list holds {len(said)}", f"give at most {shape.max_length}")
            return
        for index, value in enumerate(said):
            self.look(value, shape.item_type, pointer(at, index))

    def _dict(self, said: Any, shape: inspect.DictType, at: str) -> None:
        if type(said) is not dict:
            self.fault(at, "wrong-type", f"an object is due here, not {json_name(said)}", "write {...}")
            return
        if shape.min_length is not None and len(said) < shape.min_length:
            self.fault(at, "too-few", f"the object holds {len(said) or 'nothing'}", f"give at least {shape.min_length}")
        if shape.max_length is not None and len(said) > shape.max_length:
            self.fault(at, "too-many", f"the object holds {len(said)} members", f"give at most {shape.max_length}")
            return
        for name, value in said.items():
            self.look(name, shape.key_type, pointer(at, name[:60]))
            self.look(value, shape.value_type, pointer(at, name[:60]))

    def _custom(self, said: Any, shape: inspect.CustomType, at: str) -> None:
        if issubclass(shape.cls, Given):
            try:
                shape.cls.read(said)
            except Faulty as fault:
                self.note(suited(fault, at).at(at))

    def _plain(self, said: Any, shape: inspect.Type, at: str) -> None:
        """Text, number, true or false, or one of a few words."""
        if isinstance(shape, inspect.LiteralType):
            self._word(said, shape, at)
        elif isinstance(shape, inspect.StrType):
            self._text(said, shape, at)
        elif isinstance(shape, inspect.BoolType):
            if type(said) is not bool:
                self.fault(
                    at,
                    "wrong-type",
                    f"true or false is due here, not {json_name(said)}",
                    "write true or false",
                )
        elif isinstance(shape, inspect.FloatType | inspect.IntType):
            self._number(said, shape, at)
        else:  # pragma: no cover - a request type that this walk does not know is a fault of ours
            raise TypeError(shape)

    def _word(self, said: Any, shape: inspect.LiteralType, at: str) -> None:
        """One of a few words, or true alone."""
        if any(said == value and type(said) is type(value) for value in shape.values):
            return
        if shape.values == (True,):
            shown = "false" if said is False else json_name(said)
            self.fault(at, "not-one-of", f"{shown} says nothing here: only true does", "write true, or leave it out")
            return
        words = [repr(value) for value in shape.values]
        hint = near(said, [str(value) for value in shape.values]) if type(said) is str else ""
        shown = quoted(said) if type(said) is str else json_name(said)
        self.fault(at, "not-one-of", f"{shown} is not known here{hint}", f"write {' or '.join(words)}")

    def _identifier(self, said: str, shape: inspect.Metadata, at: str) -> None:
        """An identifier of the catalogue, where it has the form of one."""
        name = (shape.extra or {})[SHELF]
        longest = getattr(shape.type, "max_length", None)
        if said and said not in shelf(name) and (longest is None or len(said) <= longest):
            if len(self.faults) < MOST_FAULTS:
                self.note(unknown(name, said).at(at))
            else:
                self.untold += 1

    def _text(self, said: Any, shape: inspect.StrType, at: str, form: str = 'write it in quotes: "..."') -> None:
        if type(said) is not str:
            self.fault(at, "not-text", f"a text is due here, not {json_name(said)}", form)
        elif shape.max_length is not None and len(said) > shape.max_length:
            self.fault(at, "too-long", f"the text has {len(said)} characters", f"give {shape.max_length} at most")
        elif shape.min_length is not None and len(said) < shape.min_length:
            self.fault(at, "too-few", "the text is empty", "write it, or leave the member out")
        elif shape.pattern is not None and not re.search(shape.pattern, said):
            self.fault(at, "wrong-type", f"{quoted(said)} has not the form that is due here", form)

    def _number(self, said: Any, shape: inspect.FloatType | inspect.IntType, at: str) -> None:
        if type(said) is not float and type(said) is not int:
            self.fault(
                at,
                "wrong-type",
                f"a plain number is due here, not {json_name(said)}",
                "write it without quotes and unit",
            )
            return
        low = shape.ge if shape.ge is not None else shape.gt
        high = shape.le if shape.le is not None else shape.lt
        below = (shape.ge is not None and said < shape.ge) or (shape.gt is not None and said <= shape.gt)
        above = (shape.le is not None and said > shape.le) or (shape.lt is not None and said >= shape.lt)
        if below or above:
            detail = f"{short(said)} is outside {low:g} to {high:g}"
            self.fault(at, "out-of-range", detail, f"give a number from {low:g} to {high:g}")
        elif (
            type(said) is float and not said.is_integer() and (isinstance(shape, inspect.IntType) or shape.multiple_of)
        ):
            self.fault(at, "wrong-type", "a whole number is due here", "write it without decimals")
