"""Quantities as they are given: text and objects that become SI numbers.

A quantity comes in as "170.1 g", as {"value", "unit"}, as {"low", "high", "unit"} (limits, any value between them
as likely), as {"value", "uncertainty", "unit"} (standard uncertainty, normal), or as this service answers
it, {"value", "low", "high", "unit"} (the ends of a 95 % interval).

`given.py` has a class for each kind.
"""

import math
from collections.abc import KeysView
from typing import Any, ClassVar, Final, Self

from service.calculations.shared import misread, units
from service.calculations.shared.faults import Faulty, near, quoted
from service.calculations.shared.loose_units import measures_volume
from service.calculations.shared.units import Kind, Unit
from service.chemistry.uncertainty import EXACT, Part, normal, rectangular

_quantity: Final = units.QUANTITY_TEXT.fullmatch

LONGEST_TEXT: Final = 160
"""Characters a quantity may have as text."""
NORMAL_95: Final = 1.959963984540054
"""Half-width of the interval that holds 95 % of a normal distribution, in standard deviations."""

LEAST: Final = 1e-60
"""The least spread that counts [SI]: squared, and changed from one quantity to another, it keeps all of its digits."""

_FORMS: Final = (
    frozenset({"value", "unit"}),
    frozenset({"low", "high", "unit"}),
    frozenset({"value", "uncertainty", "unit"}),
    frozenset({"value", "low", "high", "unit"}),
)
_MEMBERS: Final = frozenset({"value", "unit", "low", "high", "uncertainty"})


class Given:
    """A quantity of a request, in SI. It is shared between requests that say the same, and never changed.

    Attributes:
        value: best value; the middle of the limits where limits were given.
        part: its spread, or None where it was given as exact.
        said: what the caller wrote, for messages.
    """

    __slots__ = ("part", "said", "value")
    kind: ClassVar[Kind]
    low: ClassVar[float | None] = None
    """Lowest value taken here, where it is narrower than the kind's own."""
    high: ClassVar[float | None] = None
    plain_number: ClassVar[bool] = False
    """Whether a number without a unit is taken (fractions and ratios)."""
    spread_counts: ClassVar[bool] = True
    """Whether limits or an uncertainty bear on an answer; where they do not, they are refused rather than dropped.
    The interval of a figure that this service answered is read over there, so that answers can be sent on."""

    _lowest: ClassVar[float]
    _highest: ClassVar[float]

    def __init_subclass__(cls) -> None:
        cls._lowest, cls._highest = cls.limits()

    def __init__(self, value: float, part: Part | None = None, said: object = None) -> None:
        self.value = value
        self.part = part
        self.said = said

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self.value!r})"

    @classmethod
    def limits(cls) -> tuple[float, float]:
        """Lowest and highest value taken [SI]."""
        return (
            cls.kind.low if cls.low is None else cls.low,
            cls.kind.high if cls.high is None else cls.high,
        )

    @classmethod
    def read(cls, said: object) -> Self:
        """Read what a request holds.

        Raises:
            Faulty: with what is wrong and how to mend it.
        """
        if type(said) is str:
            return cls(cls._text(said), None, said)
        if type(said) is dict:
            return cls._object(said)
        if type(said) is float or type(said) is int:
            return cls(cls._number(said), None, said)
        forms = "a number, a text or an object" if cls.plain_number else "a text or an object"
        raise Faulty(
            "wrong-type",
            f"a {cls.kind.name} is {forms}, not {json_name(said)}",
            f"write '{cls.kind.example}'",
        )

    @classmethod
    def _number(cls, number: float) -> float:
        raise misread.bare(cls.kind, short(number))

    @classmethod
    def _text(cls, text: str) -> float:
        match = _quantity(text) if len(text) <= LONGEST_TEXT else None
        if match is None:
            raise cls._unreadable(text)
        number, word = match.groups()
        unit = cls.kind.units.get(word)
        if unit is None:
            raise cls._unknown_unit(word, "", text)
        value = unit.to_si(float(number))
        return value if cls._lowest <= value <= cls._highest else cls._within(value, text)

    @classmethod
    def _object(cls, said: dict[str, Any]) -> Self:
        names = said.keys()
        if not cls.spread_counts and ("uncertainty" in names or ("low" in names and "value" not in names)):
            raise Faulty(
                "choose-one",
                f"limits or an uncertainty of this {cls.kind.name} would not count in the answer",
                "give its value and unit alone",
            )
        if names not in _FORMS:
            unknown = min((name for name in names if name not in _MEMBERS), default=None)
            if unknown is not None:
                raise Faulty(
                    "unknown-member",
                    f"a {cls.kind.name} has no member {quoted(unknown)}{near(unknown, _MEMBERS)}",
                    f'write {{"value": ..., "unit": "{cls.kind.metric.symbol}"}}',
                )
            raise Faulty(
                "choose-one",
                f"a {cls.kind.name} is not told by {_listed(names)}",
                "give value and unit; or low, high and unit; or value, uncertainty and unit",
            )
        word = said["unit"]
        unit = cls.kind.units.get(word) if type(word) is str else None
        if unit is None:
            raise cls._unknown_unit(word, "/unit")
        number = {name: cls._member(name, said[name]) for name in names if name != "unit"}
        if "value" not in number:
            low, high = number["low"], number["high"]
            _ordered(low, high)
            ends = [cls._within(unit.to_si(low), low, "/low"), cls._within(unit.to_si(high), high, "/high")]
            half_width = (ends[1] - ends[0]) / 2
            return cls((ends[0] + ends[1]) / 2, rectangular(half_width if half_width >= LEAST else 0.0), said)
        value = cls._within(unit.to_si(number["value"]), number["value"], "/value")
        if "uncertainty" in number:
            if number["uncertainty"] < 0:
                raise Faulty("out-of-range", "an uncertainty is not negative", "give its size", "/uncertainty")
            return cls(value, normal(cls._spread(unit, number["uncertainty"], "/uncertainty")), said)
        if "low" in number:
            _ordered(number["low"], number["high"])
            if not number["low"] <= number["value"] <= number["high"]:
                raise Faulty(
                    "out-of-range",
                    f"{short(number['value'])} is not between low and high",
                    "give the interval the value lies in",
                    "/value",
                )
            width = cls._spread(unit, number["high"] - number["low"], "/high")
            return cls(value, normal(width / (2 * NORMAL_95)) if cls.spread_counts else None, said)
        return cls(value, None, said)

    @classmethod
    def _spread(cls, unit: Unit, span: float, within: str) -> float:
        """SI value of an uncertainty or a width, which is at most the whole range of the kind.

        What is so small that it would vanish on the way, in one unit and not in another, is none.
        """
        spread = unit.span_to_si(span)
        if spread < LEAST:
            return 0.0
        if spread <= cls.kind.high - cls.kind.low:
            return spread
        raise Faulty(
            "out-of-range",
            f"a {cls.kind.name} cannot be uncertain by {short(span)} {unit.symbol}",
            "check the number and its unit",
            within,
        )

    @staticmethod
    def _member(name: str, number: object) -> float:
        if type(number) is not float and type(number) is not int:
            mend = "write it with a decimal point and without quotes" if type(number) is str else "give a number"
            raise Faulty("wrong-type", f"{name} is a number, not {json_name(number)}", mend, f"/{name}")
        try:
            return float(number)
        except OverflowError:
            raise Faulty("out-of-range", f"{name} is too large", "give a number a scale can show", f"/{name}") from None

    @classmethod
    def _within(cls, value: float, said: object, within: str = "") -> float:
        if cls._lowest <= value <= cls._highest:
            return value
        raise Faulty("out-of-range", f"{short(said)} is outside {cls._range()}", cls._mend_range(value), within)

    @classmethod
    def _range(cls) -> str:
        return misread.range_text(cls.kind, cls.low, cls.high)

    @classmethod
    def _mend_range(cls, value: float) -> str:
        if cls.kind is units.MASS and value <= 0:
            return "give a mass above nothing, or leave the line out"
        if cls.kind is units.TEMPERATURE and value < -273.15:
            return "check the sign and the unit: nothing is colder than -273.15 °C"
        if cls.kind is units.FRACTION:
            low, high = cls.limits()
            if value < low <= value * 100 <= high:
                return f"write '{value * 1e4:.6g} %', if that is meant"
            return f"give {f'at least {low * 100:g}' if value < low else f'at most {high * 100:g}'} %"
        return "check the number and its unit"

    @classmethod
    def _unreadable(cls, text: str) -> Faulty:
        if units.NUMBER_TEXT.fullmatch(text[:LONGEST_TEXT]):
            return misread.bare(cls.kind, text.strip()[:40])
        return misread.unreadable(cls.kind, text)

    @classmethod
    def _unknown_unit(cls, word: object, within: str = "", text: object = None) -> Faulty:
        example = f"write it as in '{cls.kind.example}'"
        if type(word) is not str:
            return Faulty("wrong-type", f"a unit is a text, not {json_name(word)}", example, within)
        if isinstance(text, str) and units.NUMBER_TEXT.fullmatch(text):  # the e of an exponent is no unit
            return cls._unreadable(text)
        other = units.kind_of_unit(word)
        if cls.kind is units.MASS and (other is units.VOLUME or measures_volume(word)):
            return Faulty(
                "volume-for-mass",
                f"{quoted(word)} is a volume, and a mass is due: a 50 % stock poured by the US fluid ounce where"
                " ounces by weight are meant carries 59 % too much alkali",
                "weigh it, and give g, kg, oz or lb",
                within,
            )
        if other is not None:
            return Faulty(
                "wrong-kind-of-unit",
                f"{quoted(word)} is a unit of {other.name}, and a {cls.kind.name} is due",
                example,
                within,
            )
        fault = misread.unknown_unit(cls.kind, word, text)
        return Faulty(fault.code, fault.detail, fault.mend, within)


def _listed(names: KeysView[str]) -> str:
    """Members that were given."""
    if not names:
        return "an object without members"
    return f"{' and '.join(sorted(names))}{' alone' if len(names) < 3 else ' together'}"


def _ordered(low: float, high: float) -> None:
    if low > high:
        raise Faulty("out-of-range", f"low ({short(low)}) is above high ({short(high)})", "exchange low and high")


def short(said: object) -> str:
    """What was said, cut to what a message can hold."""
    try:
        text = str(said)
    except ValueError:  # thousands of digits, which Python does not write out
        return "the number"
    if isinstance(said, float):
        text = text.replace("e+", "e")
    return text if len(text) <= 40 else f"{text[:24]}..."


def as_float(number: float) -> float:
    """A number of JSON, where whole ones may have any number of digits; infinite where it is too large."""
    try:
        return float(number)
    except OverflowError:
        return math.inf if number > 0 else -math.inf


def json_name(said: object) -> str:
    """What JSON calls a value."""
    if said is None:
        return "null"
    names = {
        bool: "true or false",
        str: "a text",
        int: "a number",
        float: "a number",
        list: "a list",
        dict: "an object",
    }
    return names.get(type(said), "that")


def part_of(given: Given | None) -> Part:
    """Spread of a quantity of the request; none where it was given as exact."""
    return EXACT if given is None or given.part is None else given.part
