"""Quantities as they are given, one class per kind.

The class on a request's member decides what is read and how the contract describes it; `reading.py` does the reading.
"""

from functools import lru_cache
from typing import Final, cast

from service.calculations.shared import clock, units
from service.calculations.shared.faults import Faulty, quoted
from service.calculations.shared.misread import plain_text
from service.calculations.shared.reading import LONGEST_TEXT, Given, as_float, short


class Mass(Given):
    """A mass."""

    __slots__ = ()
    kind = units.MASS


class PlainMass(Mass):
    """A mass without spread."""

    __slots__ = ()
    spread_counts = False


class MassChange(Given):
    """A change of mass; negative where there is less."""

    __slots__ = ()
    kind = units.MASS_CHANGE


class MassAtHand(Given):
    """A mass that is there; nothing where there is none."""

    __slots__ = ()
    kind = units.MASS
    low = 0.0
    spread_counts = False

    @classmethod
    def _mend_range(cls, value: float) -> str:
        return "give what is there, or 0 g for nothing" if value < 0 else "check the number and its unit"


class Volume(Given):
    """A volume."""

    __slots__ = ()
    kind = units.VOLUME
    spread_counts = False


class MeasuredVolume(Given):
    """A volume that was read off, as of a burette or a pipette."""

    __slots__ = ()
    kind = units.VOLUME


class Temperature(Given):
    """A temperature."""

    __slots__ = ()
    kind = units.TEMPERATURE
    spread_counts = False


class MeasuredTemperature(Given):
    """A temperature that was read off, with what the thermometer leaves open."""

    __slots__ = ()
    kind = units.TEMPERATURE


class Duration(Given):
    """A length of time."""

    __slots__ = ()
    kind = units.TIME
    spread_counts = False


class TimeRead(Given):
    """When something was read, from any start; nothing is the start itself."""

    __slots__ = ()
    kind = units.TIME
    low = 0.0
    spread_counts = False

    @classmethod
    def _unreadable(cls, text: str) -> Faulty:
        return clock.time_of_day(text) or super()._unreadable(text)

    @classmethod
    def _unknown_unit(cls, word: object, within: str = "", text: object = None) -> Faulty:
        shown = clock.time_of_day(text) if isinstance(text, str) else None
        return shown or super()._unknown_unit(word, within, text)


class Power(Given):
    """A power."""

    __slots__ = ()
    kind = units.POWER
    spread_counts = False


class Length(Given):
    """A length."""

    __slots__ = ()
    kind = units.LENGTH
    spread_counts = False


class Speed(Given):
    """A speed of air."""

    __slots__ = ()
    kind = units.SPEED


class Density(Given):
    """A density."""

    __slots__ = ()
    kind = units.DENSITY


class Molarity(Given):
    """Amount of hydroxide per volume of solution."""

    __slots__ = ()
    kind = units.MOLARITY


class TitrantMolarity(Given):
    """Amount of acid or alkali per volume of the solution that a burette delivers, at 20 °C."""

    __slots__ = ()
    kind = units.MOLARITY
    low = 1.0
    high = 2e4


class Molality(Given):
    """Amount of hydroxide per mass of water."""

    __slots__ = ()
    kind = units.MOLALITY


class MassConcentration(Given):
    """Mass of hydroxide per volume of solution."""

    __slots__ = ()
    kind = units.MASS_CONCENTRATION


class SaponificationValue(Given):
    """Mass of KOH that a mass of fat takes."""

    __slots__ = ()
    kind = units.SAPONIFICATION_VALUE


class IodineValue(Given):
    """Mass of iodine that a mass of fat takes up."""

    __slots__ = ()
    kind = units.IODINE_VALUE


class Fraction(Given):
    """A part of a whole, from 0 to 1."""

    __slots__ = ()
    kind = units.FRACTION
    plain_number = True

    @classmethod
    def _number(cls, number: float) -> float:
        if number > 1:
            high = cls.limits()[1] * 100
            raise Faulty(
                "percent-missing",
                f"{short(number)} is more than the whole",
                f"write '{short(number)} %', or the fraction of 1 that is meant"
                if number <= high
                else f"give at most {high:g} %, as in '{cls.kind.example}', or a fraction of 1",
            )
        return cls._within(as_float(number), number)

    @classmethod
    def _unreadable(cls, text: str) -> Faulty:
        if units.NUMBER_TEXT.fullmatch(text[:LONGEST_TEXT]):
            word = text.strip()[:40]
            share, high = float(text), cls.limits()[1]
            if share > 100 * high or share < 0:
                mend = f"give 0 to {high * 100:g} %, as in '{cls.kind.example}'"
            elif share > 1:
                mend = f"write '{word} %'"
            else:
                mend = f"write '{share * 100:g} %', or the number {word} without quotes"
            raise Faulty("percent-missing", f"'{word}' does not say whether it is per cent", mend)
        return super()._unreadable(text)


class Share(Fraction):
    """A part of a whole, without spread."""

    __slots__ = ()
    spread_counts = False


class Superfat(Share):
    """A fraction of at most 50 %, so that one a hundredfold off is caught."""

    __slots__ = ()
    high = 0.5


class Proportion(Share):
    """One mass for another, which may be more than the whole; "30 %", "120 %"."""

    __slots__ = ()
    high = 20.0


class Efficiency(Share):
    """A share of at least 1 %, so that a slip is caught."""

    __slots__ = ()
    low = 0.01


class Purity(Fraction):
    """A fraction of at least 50 %, so that one a hundredfold off is caught."""

    __slots__ = ()
    low = 0.5


class Ratio(Given):
    """Water : alkali by mass, "2:1" or 2.0."""

    __slots__ = ()
    kind = units.RATIO
    plain_number = True

    @classmethod
    def _number(cls, number: float) -> float:
        return cls._within(as_float(number), number)

    @classmethod
    def _text(cls, text: str) -> float:
        match = units.RATIO_TEXT.fullmatch(text) if len(text) <= LONGEST_TEXT else None
        if match is None:
            raise _no_ratio(text)
        water, alkali = map(float, match.groups())
        if alkali <= 0:
            raise Faulty("out-of-range", f"{quoted(text)} has no alkali", "write water : alkali, as in '2:1'")
        return cls._within(water / alkali, text)

    @classmethod
    def _mend_range(cls, value: float) -> str:
        return "write water to alkali by mass, as in '2:1' or 2.0"


def _no_ratio(text: str) -> Faulty:
    """A text that is no ratio, with what it may be meant for."""
    shown = quoted(text)
    if units.NUMBER_TEXT.fullmatch(text[:LONGEST_TEXT]):
        word = text.strip()[:40]
        return Faulty(
            "unreadable-quantity", f"{shown} is one number in quotes", f"write '{word}:1', or {word} without quotes"
        )
    plain = plain_text(text[:40]).replace(",", ".")
    parts = plain.split(":")
    mend = "write water to alkali, as in '2:1'"
    if len(text) <= 40 and len(parts) == 2 and all(units.NUMBER_TEXT.fullmatch(part) for part in parts):
        mend = f"write '{plain}'"
    return Faulty(
        "decimal-comma" if "," in shown else "unreadable-quantity",
        f"{shown} cannot be read as a ratio of water to alkali",
        mend,
    )


class LiquidRatio(Ratio):
    """Liquid : alkali of a batch by mass, at most 20:1, so that a slip is caught."""

    __slots__ = ()
    high = 20.0


GIVEN: Final[tuple[type[Given], ...]] = (
    Mass,
    Volume,
    MeasuredVolume,
    Temperature,
    MeasuredTemperature,
    Duration,
    TimeRead,
    Power,
    Length,
    Speed,
    Density,
    Molarity,
    TitrantMolarity,
    Molality,
    MassConcentration,
    SaponificationValue,
    IodineValue,
    Fraction,
    PlainMass,
    MassChange,
    MassAtHand,
    Share,
    Superfat,
    Proportion,
    Efficiency,
    Purity,
    Ratio,
    LiquidRatio,
)


@lru_cache(maxsize=512)
def _read_text(kind: type[Given], said: str) -> Given:
    """What a text says; callers write the same few again and again ("50 %", "2:1", "20 °C")."""
    return kind.read(said)


def read_hook(kind: type, said: object) -> object:
    """Read one member of a request; msgspec calls this for every quantity."""
    return _read_text(kind, said) if said.__class__ is str else cast("type[Given]", kind).read(said)
