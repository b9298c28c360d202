"""Texts that cannot be read as a quantity: what is probably meant, and how to write it.

Nothing here reads a request: what was meant is shown to the caller, who decides.
"""

import re
import unicodedata
from decimal import Decimal
from typing import Final

from service.calculations.shared import clock, units
from service.calculations.shared.faults import Faulty, meant, nearest, quoted
from service.calculations.shared.loose_units import NUMBER_AND_REST, has_no_one_size, in_words, unit_meant, written
from service.calculations.shared.units import Kind

_LONGEST: Final = 60
"""Characters of a text that are looked at; a quantity is shorter."""
_COMPOUND: Final = re.compile(
    rf"\s*({units.NUMBER})\s*([A-Za-z.]{{1,12}}?)[\s,]*(?:and |& ?)?({units.NUMBER})\s*([A-Za-z.]{{1,12}})\s*", re.ASCII
)
_UNIT: Final = r"\s*([A-Za-z%°].{0,30}?)?\s*"
_DECIMAL_COMMA: Final = re.compile(rf"\s*(\d{{1,3}}(?:[.'’ ]\d{{3}})+|\d+),(\d+){_UNIT}", re.ASCII)
_THOUSANDS: Final = re.compile(rf"\s*(\d{{1,3}}(?:([.,'’ _])\d{{3}})(?:\2\d{{3}})*)(\.\d+)?{_UNIT}", re.ASCII)
_SPAN: Final = re.compile(rf"\s*(\d+(?:\.\d+)?)\s*(?:-|–|to)\s*(\d+(?:\.\d+)?){_UNIT}", re.ASCII)
_BROKEN: Final = re.compile(r"\s*(?:(\d{1,6})[\s-]+)?(\d{1,6})\s?/\s?(\d{1,6})\s*([A-Za-z%°].{0,30}?)?\s*", re.ASCII)
_LIKE: Final = str.maketrans({"−": "-", "º": "°", "\ufeff": None})
"""Characters that look like others, and which."""
_NORMALITIES: Final = frozenset({"N", "n", "eq/L", "mol(eq)/L", "val/L", "meq/mL"})
"""Units of normality, which is no amount of acid."""
_GRAINS: Final = frozenset({"gr", "grs"})
"""Plain spellings of a gram to some and of a grain, a fifteenth of it, to others."""
_NOT_A_NUMBER: Final = re.compile(r"\s*[+-]?(?:nan|inf|infinity)\b", re.IGNORECASE)

_RANGES: Final[dict[str, tuple[str, str]]] = {
    "mass": ("1 µg", "100 000 t"),
    "change of mass": ("-100 000 t", "100 000 t"),
    "volume": ("0.000001 mL", "100 000 m3"),
    "temperature": ("-273.15 °C", "1000 °C"),
    "time": ("0.001 s", "11 574 d"),
    "power": ("0.001 W", "1 000 000 kW"),
    "length": ("0.001 mm", "1000 m"),
    "speed": ("0.05 m/s", "30 m/s"),
    "density": ("0.1 kg/m3", "30 kg/L"),
    "molarity": ("0 mol/L", "100 mol/L"),
    "molality": ("0 mol/kg", "10 000 mol/kg"),
    "mass concentration": ("0 g/L", "10 000 g/L"),
    "saponification value": ("1 mg/g", "700 mg/g"),
    "iodine value": ("0 g/100g", "400 g/100g"),
    "fraction": ("0 %", "100 %"),
    "ratio": ("0.000001:1", "1 000 000:1"),
}
"""The range of each kind, as a person writes it."""


def range_text(kind: Kind, low: float | None, high: float | None) -> str:
    """The range of a quantity, as a person writes it.

    Args:
        kind: its kind.
        low: lowest value where it is narrower than the kind's [SI].
        high: highest value where it is narrower than the kind's [SI].
    """
    ends = _RANGES[kind.name]
    return f"{_end(kind, low) if low is not None else ends[0]} to {_end(kind, high) if high is not None else ends[1]}"


def _end(kind: Kind, value: float) -> str:
    if kind is units.FRACTION:
        return f"{value * 100:g} %"
    if kind is units.RATIO:
        return f"{value:g}:1"
    return f"{kind.metric.from_si(value):.6g} {kind.metric.symbol}"


def bare(kind: Kind, shown: str) -> Faulty:
    """A number without the unit it needs."""
    examples = [f"'{kind.example}'"]
    if re.fullmatch(r"-?\d{1,7}(?:\.\d{1,6})?", shown, re.ASCII):
        usual = kind.units["min"] if kind is units.TIME else kind.metric  # nobody adds solid for 20 h
        likely = dict.fromkeys((usual, kind.metric, kind.us, *kind.units.values()))
        within = [unit.symbol for unit in likely if kind.low <= unit.to_si(float(shown)) <= kind.high]
        examples = [f"'{shown} {symbol}'" for symbol in within[: 1 if kind.metric is kind.us else 2]] or examples
    return Faulty("bare-number", f"{shown} has no unit", f"write the unit with it, as in {' or '.join(examples)}")


def unreadable(kind: Kind, text: str) -> Faulty:
    """A text that is no quantity, with what it may be meant for."""
    shown = quoted(text)
    cut = text[:_LONGEST]
    example = f"write it as in '{kind.example}'"
    if not cut.strip():
        return Faulty("unreadable-quantity", f"the text is empty, and a {kind.name} is due", example)
    if _NOT_A_NUMBER.match(cut):
        return Faulty("unreadable-quantity", f"{shown} is not a number", f"give a number, as in '{kind.example}'")
    plain = plain_text(cut)
    if plain != cut and len(text) <= _LONGEST:
        match = units.QUANTITY_TEXT.fullmatch(plain)
        mend = f"write '{plain}'" if match and match[2] in kind.units else example
        if match and match[2] not in kind.units and (form := written(kind, Decimal(match[1]), match[2])):
            mend = f"write '{form}'"
        return Faulty("unreadable-quantity", f"{shown} is not written in plain digits and blanks", mend)
    return (
        (clock.hours_and_minutes(cut) if kind is units.TIME else None)
        or _broken(kind, shown, cut)
        or _marked(kind, shown, cut)
        or _span(kind, shown, cut)
        or _worded(kind, shown, text)
        or Faulty("unreadable-quantity", f"{shown} cannot be read as a {kind.name}", example)
    )


def plain_text(text: str) -> str:
    """A text with the digits of every script as 0 to 9, vulgar fractions as decimals, and blanks as blanks."""
    found: list[str] = []
    for letter in " ".join(text.translate(_LIKE).split()):
        digit = unicodedata.decimal(letter, None)
        part = unicodedata.numeric(letter, None) if unicodedata.category(letter) == "No" else None
        if digit is not None:
            found.append(str(digit))
        elif part is not None and 0 < part < 1:
            whole = re.search(r"(\d+)\s?$", "".join(found))
            if whole:
                found = list("".join(found)[: whole.start()])
            found.append(f"{(int(whole.group(1)) if whole else 0) + part:.6g}")
        else:
            found.append(letter)
    return "".join(found)


def _broken(kind: Kind, shown: str, text: str) -> Faulty | None:
    """A number as a fraction: 1/2 lb, 1 1/2 lb."""
    match = _BROKEN.fullmatch(text)
    if match is None or int(match[3]) == 0:
        return None
    number = int(match[1] or 0) + int(match[2]) / int(match[3])
    mend = f"write {_written(kind, f'{number:.6g}', match[4])}"
    return Faulty("unreadable-quantity", f"{shown} is written as a fraction", mend)


def _marked(kind: Kind, shown: str, text: str) -> Faulty | None:
    """A number with a decimal comma, or with marks between its thousands."""
    match = _DECIMAL_COMMA.fullmatch(text)
    if match is not None:
        whole, part, unit = match.groups()
        joined = re.sub(r"\D", "", whole)
        mend = f"write {_written(kind, f'{joined}.{part}', unit)}"
        if len(part) == 3 and joined == whole and len(whole) <= 3:  # 1.5 to some and 1500 to others
            mend += f" or {_written(kind, joined + part, unit)}, as is meant"
        return Faulty("decimal-comma", f"{shown} has a comma", mend)
    match = _THOUSANDS.fullmatch(text)
    if match is None:
        return None
    whole, mark, part, unit = match.groups()
    number = re.sub(r"\D", "", whole) + (part or "")
    return Faulty(
        "decimal-comma" if mark == "," else "unreadable-quantity",
        f"{shown} has marks between its digits",
        f"write {_written(kind, number, unit)}",
    )


def _span(kind: Kind, shown: str, text: str) -> Faulty | None:
    """Two numbers for one."""
    match = _SPAN.fullmatch(text)
    if match is None:
        return None
    middle = _written(kind, f"{(float(match[1]) + float(match[2])) / 2:.6g}", match[3])
    return Faulty("unreadable-quantity", f"{shown} is a range, and one figure is due", f"write one, as in {middle}")


def _worded(kind: Kind, shown: str, text: str) -> Faulty | None:
    """An amount in words or marks, for which there is one number and one unit."""
    form = in_words(kind, text) if len(text) <= _LONGEST else None
    if form is None:
        return None
    return Faulty("unreadable-quantity", f"{shown} is not one number and one unit", f"write '{form}'")


def _loose(kind: Kind, word: str, text: object) -> Faulty | None:
    """A unit in another spelling; the whole quantity is written anew where it came as a text."""
    rest = NUMBER_AND_REST.fullmatch(text) if isinstance(text, str) and len(text) <= _LONGEST else None
    number = None if rest is None else Decimal(rest[1])
    if kind.units is units.MASS.units and word.strip(" .").casefold() in _GRAINS:
        form = None if number is None else written(kind, number, "g")
        return Faulty(
            "unknown-unit",
            f"{quoted(word)} is a gram to some, and a grain (0.0648 g) to others",
            f"write '{form}', if grams are meant" if form else "write g, if grams are meant",
        )
    if kind is units.TEMPERATURE and number is not None and word.strip(" .").casefold() in {"°", "degree", "degrees"}:
        scales = [f"'{form}'" for scale in ("°C", "°F") if (form := written(kind, number, scale))]
        if scales:
            return Faulty(
                "unknown-unit",
                f"{quoted(word)} does not say of which scale",
                f"write {' or '.join(scales)}, as is meant",
            )
    one = unit_meant(kind, word)
    if one is None:
        return None
    form = None if number is None else written(kind, number, word)
    if form is None and one.times != 1:
        return Faulty(
            "unknown-unit",
            f"{quoted(word)} is not a unit of {kind.name}",
            f"write it in {one.symbol}: one is {one.times.normalize():f} {one.symbol}",
        )
    hint = meant([one.symbol]) if one.times == 1 else ""
    return Faulty(
        "unknown-unit",
        f"{quoted(word)} is not a unit of {kind.name}{hint}",
        f"write '{form}'" if form else f"write {one.symbol}",
    )


def _written(kind: Kind, number: str, unit: str | None) -> str:
    """A number as it should have been written, with its unit."""
    if kind is units.FRACTION and not unit:
        share = float(number)
        return f"'{number} %'" if share > 1 else f"'{share * 100:.6g} %'"
    return f"'{number} {unit or kind.metric.symbol}'"


def unknown_unit(kind: Kind, word: str, text: object = None) -> Faulty:
    """A unit that the kind does not know, though no other kind knows it either.

    Args:
        kind: kind of what is due.
        word: the unit as it was written.
        text: the whole quantity, where it came as a text.
    """
    if kind is units.TIME and isinstance(text, str) and (shown := clock.hours_and_minutes(text)) is not None:
        return shown  # 1h30
    compound = _COMPOUND.fullmatch(text) if isinstance(text, str) and len(text) <= _LONGEST else None
    if compound is not None and isinstance(text, str):
        first, second = (unit_meant(kind, compound[place]) for place in (2, 4))
        if first and second and first.times == second.times == 1 and kind is not units.TEMPERATURE:
            small = kind.units[second.symbol]
            whole = kind.units[first.symbol].to_si(float(compound[1])) + small.to_si(float(compound[3]))
            return Faulty(
                "unreadable-quantity",
                f"{quoted(text)} has two units, and one is due",
                f"write '{small.from_si(whole):.10g} {small.symbol}'",
            )
    if isinstance(text, str) and (fault := _worded(kind, quoted(text), text)):
        return fault
    symbols = dict.fromkeys(unit.symbol for unit in kind.units.values())
    known = f"use {' or '.join(symbols)}" if len(symbols) < 3 else f"use one of {', '.join(symbols)}"
    if kind is units.FRACTION:
        known = "write per cent as %, or a number from 0 to 1 without quotes"
    if isinstance(text, str) and re.match(r"\s*[+-]?0[xX]", text):
        return Faulty(
            "unreadable-quantity",
            f"{quoted(text)} is not a decimal number",
            f"write plain digits, as in '{kind.example}'",
        )
    if kind.units is units.VOLUME.units and has_no_one_size(word):
        return Faulty("unknown-unit", f"{quoted(word)} is no unit that is taken here", "measure it, and write it in mL")
    if kind is units.MASS and word == "Mg":
        return Faulty(
            "unknown-unit", "'Mg' is a megagram, which is 1 t, and may be meant for mg", "write t or mg, as is meant"
        )
    if kind is units.MOLARITY and word.strip() in _NORMALITIES:
        return Faulty(
            "unknown-unit",
            f"{quoted(word)} is a normality: protons, or hydroxide, per volume",
            "write mol/L: the normality divided by the protons of each molecule, so 1 N of sulfuric acid is 0.5 mol/L",
        )
    if fault := _loose(kind, word, text):
        return fault
    close = nearest(word.rstrip(" ."), kind.units, cutoff=0.7)  # ug is no slip for g
    exact = [one for one in close if one.casefold() == word.strip(" .").casefold()]
    names = list(dict.fromkeys(kind.units[one].symbol for one in exact or close))
    mend = f"write {names[0]}" if exact and len(names) == 1 else known
    return Faulty("unknown-unit", f"{quoted(word)} is not a unit of {kind.name}{meant(names)}", mend)
