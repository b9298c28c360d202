"""From an answer's struct to its JSON, in the units and with the digits the caller asks for."""

from collections.abc import Callable
from functools import lru_cache
from math import isfinite
from typing import Final, Literal, cast

import msgspec

from service.calculations.notes import Worked
from service.calculations.told import NotFinite, Told, figure, significant
from service.calculations.units import Unit

UnitSystem = Literal["metric", "us"]

MOST_DIGITS: Final = 15


@lru_cache(maxsize=64)
def renderer(units: UnitSystem = "metric", digits: int | None = None) -> Callable[[object], bytes]:
    """A function that writes answers as JSON.

    Args:
        units: system of units of the answer.
        digits: significant digits from 1 to 15, or None for all there are.

    Raises (the function returned):
        NotFinite: a number of the answer is NaN or infinite.
    """
    table = _units(units)

    def show(told: object) -> object:
        unit = table.get(told.__class__)
        if unit is not None:
            number = cast("Told", told)
            if number.kept is None:
                return figure(number, unit, digits)
            if not number.kept or number.kept[0] is not table:
                number.kept = (table, figure(number, unit, digits))
            return number.kept[1]
        if isinstance(told, Worked):
            if not isfinite(told.value):
                raise NotFinite(repr(told))
            value = told.value if digits is None else significant(told.value, digits)
            return {"value": value, "unit": told.unit}
        raise NotImplementedError(type(told))

    encode = msgspec.json.Encoder(enc_hook=show).encode

    def write(answer: object) -> bytes:
        document = encode(answer)
        if b"null" in document and _holds_null(msgspec.json.decode(document)):
            raise NotFinite("a bare number")
        return document

    return write


def _holds_null(said: object) -> bool:
    """Whether null stands anywhere: no member of an answer is null, so it is a number that JSON cannot say."""
    if isinstance(said, dict):
        return any(_holds_null(value) for value in said.values())
    if isinstance(said, list):
        return any(_holds_null(value) for value in said)
    return said is None


def _units(system: UnitSystem) -> dict[type, Unit]:
    """The unit that each class of figures is answered in."""
    return {kind: kind.kind.metric if system == "metric" else kind.kind.us for kind in Told.__subclasses__()}
