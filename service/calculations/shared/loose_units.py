"""Units as they are spelt in haste, and amounts told in words: what they mean, and how to write it.

Nothing here is read as a quantity: the caller is shown what was meant, and writes it.
"""

import re
from decimal import Decimal
from functools import cache
from typing import Final, NamedTuple

from service.calculations.shared import units
from service.calculations.shared.units import Kind

NUMBER_AND_REST: Final = re.compile(rf"\s*({units.NUMBER})\s*(.*?)\s*", re.ASCII)


LONGEST_WORD: Final = 40
"""Characters of a unit that are looked at; every spelling is shorter."""


class Meant(NamedTuple):
    """A unit that a word means: so many of it."""

    times: Decimal
    symbol: str


_ONE: Final = Decimal(1)
_TEN: Final = Decimal(10)

_WORDS: Final[dict[str, dict[str, Meant]]] = {
    "mass": {
        **dict.fromkeys(("gm", "grm", "gramm"), Meant(_ONE, "g")),
        **dict.fromkeys(("kgm", "kilogramme", "kilogramm"), Meant(_ONE, "kg")),
        **dict.fromkeys(("dag", "dkg"), Meant(_TEN, "g")),
        "metric ton": Meant(_ONE, "t"),
        **dict.fromkeys(("oz av", "oz avdp", "oz wt", "wt oz", "ozm", "ounce by weight"), Meant(_ONE, "oz")),
        **dict.fromkeys(("lb av", "lb avdp", "lbm"), Meant(_ONE, "lb")),
        "stone": Meant(Decimal(14), "lb"),
    },
    "volume": {
        **dict.fromkeys(("lt", "ltr"), Meant(_ONE, "L")),
        **dict.fromkeys(("ccm", "cu cm", "cubic centimetre", "cubic centimeter"), Meant(_ONE, "cm3")),
        "dl": Meant(_TEN * _TEN, "mL"),
        "cl": Meant(_TEN, "mL"),
        **dict.fromkeys(("cubic inch", "cubic inches"), Meant(_ONE, "in3")),
        **dict.fromkeys(("us fluid ounce", "us fl oz"), Meant(_ONE, "fl_oz")),
        "gallon us": Meant(_ONE, "gal"),
        **dict.fromkeys(("uk gal", "uk gallon"), Meant(_ONE, "imp_gal")),
        **dict.fromkeys(("uk fl oz", "uk fluid ounce"), Meant(_ONE, "imp_fl_oz")),
    },
    "temperature": {
        **dict.fromkeys(("centigrade", "celcius"), Meant(_ONE, "°C")),
        **dict.fromkeys(("farenheit", "fahrenheight"), Meant(_ONE, "°F")),
    },
    "time": {
        **dict.fromkeys(("week", "wk"), Meant(Decimal(7), "d")),
        **dict.fromkeys(("minut", "mn"), Meant(_ONE, "min")),
    },
    "length": {
        **dict.fromkeys(("millimetre", "millimeter"), Meant(_ONE, "mm")),
        **dict.fromkeys(("centimetre", "centimeter"), Meant(_ONE, "cm")),
        **dict.fromkeys(("yd", "yard"), Meant(Decimal(3), "ft")),
    },
    "speed": {
        **dict.fromkeys(("m/sec", "m/second", "meter/second", "metre/second"), Meant(_ONE, "m/s")),
        **dict.fromkeys(("km/hr", "kmh", "kmph", "km/hour"), Meant(_ONE, "km/h")),
        **dict.fromkeys(("feet/minute", "ft/minute"), Meant(_ONE, "ft/min")),
        "mile/hour": Meant(_ONE, "mph"),
    },
    "density": {
        **dict.fromkeys(("g/cc", "g/ccm"), Meant(_ONE, "g/cm3")),
        **dict.fromkeys(("kg/litre", "kg/liter", "kg/dm3"), Meant(_ONE, "kg/L")),
        **dict.fromkeys(("lb/us gal", "lb/gallon"), Meant(_ONE, "lb/gal")),
    },
    "molarity": {
        **dict.fromkeys(
            ("m", "molar", "mol/dm3", "mol l-1", "mol/litre", "mol/liter", "mmol/ml"), Meant(_ONE, "mol/L")
        ),
        **dict.fromkeys(("mm", "mmol/l"), Meant(Decimal("0.001"), "mol/L")),
    },
    "mass concentration": {**dict.fromkeys(("g/litre", "g/liter", "g/dm3", "mg/ml"), Meant(_ONE, "g/L"))},
    "saponification value": {
        **dict.fromkeys(("mgkoh/g", "mg/gram"), Meant(_ONE, "mg/g")),
        "g/g": Meant(Decimal(1000), "mg/g"),
    },
    "iodine value": {
        **dict.fromkeys(("gi2/100g", "gi2/100 g", "cg/g"), Meant(_ONE, "g/100g")),
    },
    "fraction": {
        **dict.fromkeys(
            (
                *("per cent", "%%", "w%", "wt%", "wt %", "% wt", "% w/w", "w/w %", "w/w%", "m%", "% m/m", "mass %"),
                *("mass%", "% by mass", "% by weight", "percent by mass", "percent by weight"),
            ),
            Meant(_ONE, "%"),
        ),
        **dict.fromkeys(("permille", "per mille", "g/kg"), Meant(Decimal("0.1"), "%")),
    },
}
"""Words of each kind, in the plain form, in the singular. A word that means different amounts to different people (a
cup, a pint, a ton, a normality) is none of them."""

_VESSELS: Final = frozenset(
    ("cup", "mug", "pint", "pt", "gill", "tablespoon", "tbsp", "tbs", "teaspoon", "tsp", "spoon", "drop", "dash")
)
"""What people measure liquids and powders by, in the plain form and the singular: each is a volume, and none has one
size (a pint is 473 mL in one country and 568 mL in another)."""

_PARTS: Final = {"half": Decimal("0.5"), "quarter": Decimal("0.25")}
_COUNTS: Final = {"a": _ONE, "an": _ONE, "one": _ONE}
_AND_A_HALF: Final = re.compile(
    r"\s*(\d{1,9}|an?|one) ([A-Za-z.]{1,20}),? and an? (half|quarter)\s*", re.ASCII | re.IGNORECASE
)
_HALVES: Final = re.compile(
    r"\s*(\d{1,9}|one) and an? (half|quarter)(?: of)?(?: an?)? ([A-Za-z.]{1,20})\s*", re.ASCII | re.IGNORECASE
)
_HALF: Final = re.compile(r"\s*(?:an? )?(half|quarter)(?: of)?(?: an?)? ([A-Za-z.]{1,20})\s*", re.ASCII | re.IGNORECASE)
_ONE_OF: Final = re.compile(r"\s*(an?|one) ([A-Za-z.]{1,20})\s*", re.ASCII | re.IGNORECASE)
_ABOUT: Final = re.compile(r"\s*(?:~|≈|about|approx\.?|approximately|around|ca\.?|circa)\s*(\S.*)", re.IGNORECASE)
_INCHES: Final = re.compile(
    r"\s*(?:(\d{1,4}(?:\.\d{1,6})?)\s?['′]\s?)?(?:(\d{1,4}(?:\.\d{1,6})?)\s?(?:\"|''|″))?\s*", re.ASCII
)
_DEGREES: Final = re.compile(r"(?:°|\b(?:degrees?|degs?|grad)\b)\s*")


def plain(word: str) -> str:
    """A unit without what people write differently: capitals, full stops, blanks round a stroke, powers."""
    word = word.casefold().replace("³", "3").replace("^", "").translate(_DROPPED)
    return " ".join(re.sub(r"\s*(?:/|\bper\b(?! ?cent| ?mille))\s*", "/", word).split())


_DROPPED: Final = str.maketrans({".": "", ",": " ", ";": " ", "(": " ", ")": " "})


@cache
def _table(name: str) -> dict[str, Meant]:
    """Plain spellings of a kind's units, those that a request may hold among them."""
    kind = next(one for one in units.READ if one.name == name)
    table: dict[str, Meant] = {}
    for spelling, unit in kind.units.items():
        if unit.symbol != "1":  # a number alone has no other spelling
            table.setdefault(plain(spelling), Meant(_ONE, unit.symbol))
    return table | _WORDS.get(name, {})


def unit_meant(kind: Kind, word: str) -> Meant | None:
    """The unit that a word surely means, or None.

    Args:
        kind: kind of what is due.
        word: a unit as it was written.
    """
    if kind not in units.READ:
        kind = units.MASS if kind.units is units.MASS.units else kind
        if kind is not units.MASS:
            return None
    table, short = _table(kind.name), plain(word[:LONGEST_WORD])
    if kind is units.TEMPERATURE:
        short = _DEGREES.sub("", short).strip()
    return table.get(short) or table.get(short.removesuffix("s"))


def has_no_one_size(word: str) -> bool:
    """Whether a unit is a volume whose size depends on where one is, or on the vessel ("cups", "Tbsp.")."""
    short = plain(word[:LONGEST_WORD])
    bare = re.sub(r"^(?:us|uk|imperial|imp|metric) ", "", short.removesuffix(" s"))  # "cup(s)" is "cup s" by now
    return bare in _VESSELS or bare.removesuffix("s") in _VESSELS


def measures_volume(word: str) -> bool:
    """Whether a unit is one of volume in another spelling ("Fl Oz"), or of no one size ("cups"), and none of mass."""
    return (len(word) <= LONGEST_WORD and unit_meant(units.VOLUME, word) is not None) or has_no_one_size(word)


def written(kind: Kind, number: Decimal, word: str) -> str | None:
    """A quantity as it should have been written, or None where its unit or its size is nothing that is taken.

    Args:
        kind: kind of what is due.
        number: the number before the unit.
        word: the unit as it was written.
    """
    one = unit_meant(kind, word)
    if one is None:
        return None
    told = number * one.times
    unit = kind.units[one.symbol]
    if not kind.low <= unit.to_si(float(told)) <= kind.high:
        return None
    shown = f"{told:f}"
    shown = shown.rstrip("0").rstrip(".") if "." in shown and one.times != _ONE else shown
    return f"{shown} {one.symbol}" if len(shown) <= 24 else None


def in_words(kind: Kind, text: str) -> str | None:
    """An amount told in words ("1 litre and a half", "half a pound", "about 20 °C", 12") as it should be written.

    Args:
        kind: kind of what is due.
        text: the whole quantity, cut to what a quantity can hold.
    """
    if match := _ABOUT.fullmatch(text):
        rest = NUMBER_AND_REST.fullmatch(match[1])
        return None if rest is None else written(kind, Decimal(rest[1]), rest[2])
    if match := _AND_A_HALF.fullmatch(text):
        return written(kind, _count(match[1]) + _PARTS[match[3].lower()], match[2])
    if match := _HALVES.fullmatch(text):
        return written(kind, _count(match[1]) + _PARTS[match[2].lower()], match[3])
    if match := _HALF.fullmatch(text):
        return written(kind, _PARTS[match[1].lower()], match[2])
    if match := _ONE_OF.fullmatch(text):
        return written(kind, _ONE, match[2])
    if kind is units.LENGTH and (match := _INCHES.fullmatch(text)) and (match[1] or match[2]):
        feet, inches = match.groups()
        if feet and not inches:
            return written(kind, Decimal(feet), "ft")
        return written(kind, Decimal(feet or 0) * 12 + Decimal(inches), "in")
    return None


def _count(word: str) -> Decimal:
    return _COUNTS.get(word.lower()) or Decimal(word)
