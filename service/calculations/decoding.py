"""From the bytes of a request to its struct; where that fails, every fault of the request at once.

The fast way is one typed decode. Only when it fails does the slow way decode to plain values and walk
them along the request's type, so that a caller sees all faults together and each at its place.
"""

import re
from collections.abc import Callable
from typing import Any, Final, TypeVar

import msgspec
from msgspec import inspect

from service.calculations.faults import Fault, FaultCode, Faulty, Refusal, near
from service.calculations.given import read_hook
from service.calculations.reading import Given, json_name
from service.calculations.repeats import may_repeat, pointer, repeated_members

T = TypeVar("T")

BYTE: Final = re.compile(r"\(byte (\d+)\)")
BYTE_ORDER_MARK: Final = b"\xef\xbb\xbf"
MOST_FAULTS: Final = 100
"""Faults reported at once; more help nobody."""


def decoder(kind: type[T]) -> Callable[[bytes], T]:
    """A function that reads a request of this type, or raises Refusal (400) with all its faults."""
    fast = msgspec.json.Decoder(kind, dec_hook=read_hook).decode
    shape = inspect.type_info(kind)

    def decode(body: bytes) -> T:
        if body.startswith(BYTE_ORDER_MARK):  # many programs under Windows write one
            body = body[len(BYTE_ORDER_MARK) :]
        try:
            request = fast(body)
        except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError, ValueError):
            raise Refusal(400, _faults(body, shape)) from None
        if may_repeat(body):
            faults = repeated_members(body)
            if faults:
                raise Refusal(400, faults)
        return request

    return decode


def _faults(body: bytes, shape: inspect.Type) -> list[Fault]:
    try:
        said = msgspec.json.decode(body)
    except RecursionError:
        return [Fault("malformed-json", "the body is nested too deeply", "no request needs more than ten levels", "")]
    except (msgspec.DecodeError, UnicodeDecodeError, ValueError) as error:
        return [_malformed(body, str(error))]
    walk = _Walk()
    walk.faults.extend(repeated_members(body))
    walk.look(said, shape, "")
    if not walk.faults:
        # The two ways must agree; if they ever do not, the request is still refused and said to be so.
        walk.fault("", "wrong-type", "the body does not fit the contract", "compare it with the contract's example")
    return walk.faults[:MOST_FAULTS]


def _malformed(body: bytes, message: str) -> Fault:
    if not body.strip():
        return Fault("malformed-json", "the body is empty", "send a JSON object", "")
    try:
        body.decode()
    except UnicodeDecodeError as error:
        return Fault("malformed-json", f"byte {error.start} is not UTF-8", "send the body as UTF-8", "")
    if "truncated" in message:
        return Fault(
            "malformed-json",
            "the JSON ends too early, or holds half a surrogate pair",
            "close every bracket and quote",
            "",
        )
    detail = message.removeprefix("JSON is malformed: ")
    place = BYTE.search(detail)
    if place is None:
        return Fault("malformed-json", f"the body is not JSON: {detail}", "check it with any JSON tool", "")
    at = int(place.group(1))
    near_it = body[max(0, at - 20) : at + 10].decode(errors="ignore")
    return Fault(
        "malformed-json",
        f"the body is not JSON: {detail}, near {near_it!r}",
        "write numbers as 0.05 (a decimal point, a digit before it), texts in straight double quotes",
        "",
    )


class _Walk:
    """One pass over a request, collecting faults."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def fault(self, pointer: str, code: FaultCode, detail: str, mend: str) -> None:
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(Fault(code, detail, mend, pointer))

    def look(self, said: Any, shape: inspect.Type, at: str) -> None:
        """Look at one value, and at what it holds."""
        if isinstance(shape, inspect.Metadata):
            self.look(said, shape.type, at)
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
        """A member that may be null: the other type is what is meant."""
        rest = [one for one in shape.types if not isinstance(one, inspect.NoneType)]
        if said is not None or len(rest) == len(shape.types):
            self.look(said, rest[0], at)

    def _struct(self, said: Any, shape: inspect.StructType, at: str) -> None:
        if type(said) is not dict:
            known = ", ".join(field.encode_name for field in shape.fields[:3])
            self.fault(
                at,
                "wrong-type",
                f"an object is due here, not {json_name(said)}",
                f"write {{...}} with {known}",
            )
            return
        before = len(self.faults)
        fields = {field.encode_name: field for field in shape.fields}
        for name, value in said.items():
            if name in fields:
                self.look(value, fields[name].type, pointer(at, name))
            else:
                self.fault(
                    pointer(at, name[:60]),
                    "unknown-member",
                    f"there is no member {name[:40]!r} here{near(name, fields)}",
                    f"known here: {', '.join(sorted(fields))}",
                )
        for name, field in fields.items():
            if field.required and name not in said:
                self.fault(pointer(at, name), "missing-member", f"{name} is missing", f"give {name}")
        if len(self.faults) == before:
            self._rules(said, shape, at)

    def _rules(self, said: dict[str, Any], shape: inspect.StructType, at: str) -> None:
        """Members that are right one by one may still contradict each other."""
        try:
            msgspec.convert(said, shape.cls, dec_hook=read_hook)
        except msgspec.ValidationError as error:
            cause = error.__cause__
            if isinstance(cause, Faulty):
                self.faults.append(cause.at(at))
            else:
                self.fault(at, "wrong-type", str(error), "compare it with the contract's example")

    def _list(self, said: Any, shape: inspect.ListType | inspect.VarTupleType, at: str) -> None:
        if type(said) is not list:
            self.fault(at, "wrong-type", f"a list is due here, not {json_name(said)}", "write [...]")
            return
        if shape.min_length is not None and len(said) < shape.min_length:
            self.fault(at, "too-few", f"the list holds {len(said)}", f"give at least {shape.min_length}")
        if shape.max_length is not None and len(said) > shape.max_length:
            self.fault(at, "too-many", f"the list holds {len(said)}", f"give at most {shape.max_length}")
            return
        for index, value in enumerate(said):
            self.look(value, shape.item_type, pointer(at, index))

    def _dict(self, said: Any, shape: inspect.DictType, at: str) -> None:
        if type(said) is not dict:
            self.fault(at, "wrong-type", f"an object is due here, not {json_name(said)}", "write {...}")
            return
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
                self.faults.append(fault.at(at))

    def _plain(self, said: Any, shape: inspect.Type, at: str) -> None:
        """Text, number, true or false, or one of a few words."""
        if isinstance(shape, inspect.LiteralType):
            if not any(said == value and type(said) is type(value) for value in shape.values):
                words = ", ".join(str(value).lower() if type(value) is bool else str(value) for value in shape.values)
                hint = near(said, [str(value) for value in shape.values]) if type(said) is str else ""
                shown = repr(said[:40]) if type(said) is str else json_name(said)
                self.fault(at, "not-one-of", f"{shown} is not known here{hint}", f"write {words}")
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

    def _text(self, said: Any, shape: inspect.StrType, at: str) -> None:
        if type(said) is not str:
            self.fault(at, "not-text", f"a text is due here, not {json_name(said)}", 'write it in quotes: "..."')
        elif shape.max_length is not None and len(said) > shape.max_length:
            self.fault(at, "too-long", f"the text has {len(said)} characters", f"give at most {shape.max_length}")
        elif shape.min_length is not None and len(said) < shape.min_length:
            self.fault(at, "too-few", f"the text has {len(said)} characters", f"give at least {shape.min_length}")
        elif shape.pattern is not None:
            try:
                msgspec.convert(said, shape)
            except msgspec.ValidationError:
                self.fault(
                    at,
                    "wrong-type",
                    f"{said[:40]!r} has not the form that is due here",
                    f"write it as {shape.pattern}",
                )

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
            self.fault(at, "out-of-range", f"{str(said)[:40]} is outside {low:g} to {high:g}", "check the number")
        elif isinstance(shape, inspect.IntType) and type(said) is float and not said.is_integer():
            self.fault(at, "wrong-type", "a whole number is due here", "write it without decimals")
