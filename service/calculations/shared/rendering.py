"""From an answer's struct to its JSON, in the units and with the digits the caller asks for."""

from collections.abc import Callable
from functools import cache, lru_cache
from math import isfinite
from typing import Annotated, Any, Final, Literal, get_origin

import msgspec

from service.calculations.shared.notes import Worked
from service.calculations.shared.told import NotFinite, Told, figure
from service.calculations.shared.units import Unit

UnitSystem = Literal["metric", "us"]

MOST_DIGITS: Final = 15


@lru_cache(maxsize=64)
def renderer(units: UnitSystem = "metric", digits: int | None = None) -> Callable[[object], bytes]:
    """A function that writes answers as JSON.

    Args:
        units: system of units of the answer.
        digits: significant digits from 1 to 15, or None for all there are; steps keep all of theirs, since a person
            redoes them.

    Raises (the function returned):
        NotFinite: a number of the answer is NaN or infinite.
    """
    table = answer_units(units)

    def show(told: Any) -> object:
        unit = table.get(told.__class__)
        if unit is not None:
            return figure(told, unit, digits)
        if isinstance(told, Worked):
            if not isfinite(told.value):
                raise NotFinite(repr(told))
            return {"value": told.value, "unit": told.unit}
        raise NotImplementedError(type(told))

    encode = msgspec.json.Encoder(enc_hook=show).encode

    def write(answer: object) -> bytes:
        kind: Any = type(answer)
        for name in bare_numbers(kind):
            if not isfinite(getattr(answer, name)):
                raise NotFinite(name)
        return encode(answer)

    return write


@cache
def bare_numbers(kind: type) -> tuple[str, ...]:
    """Members of an answer that are numbers without a unit, which no figure looks after.

    Only the answer itself may have such members; what it holds may not.
    """
    fields = msgspec.structs.fields(kind) if issubclass(kind, msgspec.Struct) else ()
    return tuple(field.encode_name for field in fields if _is_number(field.type))


def _is_number(kind: Any) -> bool:
    return kind is float or (get_origin(kind) is Annotated and kind.__origin__ is float)


@cache
def answer_units(system: UnitSystem) -> dict[type, Unit]:
    """The unit that each class of figures is answered in.

    Args:
        system: system of units of the answer.
    """
    kinds = [kind for one in Told.__subclasses__() for kind in (one, *one.__subclasses__())]
    return {kind: kind.kind.metric if system == "metric" else kind.kind.us for kind in kinds}
