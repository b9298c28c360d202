"""Quantities as callers spell them: texts, objects, with a spread; and the values workshops have to do with."""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared import units
from service.calculations.shared.given import Fraction, Ratio
from service.calculations.shared.reading import Given

USUAL: Final[dict[str, tuple[float, float]]] = {
    units.MASS.name: (0.01, 10.0),
    units.VOLUME.name: (1e-4, 2e-2),
    units.TEMPERATURE.name: (15.0, 60.0),
    units.TIME.name: (60.0, 7200.0),
    units.POWER.name: (100.0, 5000.0),
    units.LENGTH.name: (0.05, 1.0),
    units.SPEED.name: (0.3, 5.0),
    units.DENSITY.name: (1050.0, 1500.0),
    units.MOLARITY.name: (1000.0, 15000.0),
    units.MOLALITY.name: (2.0, 25.0),
    units.MASS_CONCENTRATION.name: (100.0, 700.0),
    units.SAPONIFICATION_VALUE.name: (0.17, 0.26),
    units.IODINE_VALUE.name: (0.05, 2.0),
    units.FRACTION.name: (0.05, 0.5),
    units.RATIO.name: (1.0, 4.0),
    units.MASS_CHANGE.name: (-0.2, 1.0),
}
"""What workshops have to do with [SI]."""


def usual(given: type[Given]) -> tuple[float, float]:
    """Usual values of a kind of quantity [SI], within what is taken."""
    low, high = given.limits()
    if given.limits()[0] == 0.5:
        return 0.8, 1.0
    usual_low, usual_high = USUAL[given.kind.name]
    return max(low, usual_low), min(high, usual_high)


def spellings(given: type[Given]) -> list[str]:
    """Every word for a unit of this kind that may stand in a text."""
    return sorted(word for word in given.kind.units if not word[0].isdigit())


def text_of(given: type[Given]) -> st.SearchStrategy[str]:
    """Texts that are read as a quantity."""
    values = st.floats(*usual(given))
    if issubclass(given, Ratio):
        return values.map(lambda value: f"{value:.6g}:1")

    def text(value: float, word: str, blank: str) -> str:
        return f"{given.kind.units[word].from_si(value):.6g}{blank}{word}"

    return st.builds(text, values, st.sampled_from(spellings(given)), st.sampled_from(["", " ", "\u00a0"]))


@st.composite
def said(draw: st.DrawFn, given: type[Given], low: float, high: float | None = None, *, spread: bool = True) -> Any:
    """A quantity between two values [SI], or of one value, as a caller may spell it.

    Args:
        draw: draws from strategies.
        given: what kind it is.
        low: lowest value, or the value.
        high: highest value.
        spread: whether it may be said with limits or an uncertainty, which leave the value as it is.
    """
    value = low if high is None else draw(st.floats(low, high))
    if issubclass(given, Ratio):
        return draw(st.sampled_from([value, f"{value!r}:1", {"value": value, "unit": "1"}]))
    if issubclass(given, Fraction) and draw(st.booleans()):
        return value
    word = draw(st.sampled_from(spellings(given)))
    number = given.kind.units[word].from_si(value)
    forms: list[Any] = [f"{number!r} {word}", {"value": number, "unit": word}]
    if spread and given.spread_counts and given.limits()[0] < value * 0.99 and value * 1.01 < given.limits()[1]:
        share = draw(st.floats(0.0, 0.005))
        forms.append({"value": number, "uncertainty": abs(number) * share, "unit": word})
        forms.append({"value": number, "low": number * (1 - share), "high": number * (1 + share), "unit": word})
        forms.append({"low": number * (1 - share), "high": number * (1 + share), "unit": word})
    return draw(st.sampled_from(forms))


def maybe(draw: st.DrawFn, name: str, strategy: st.SearchStrategy[Any]) -> dict[str, Any]:
    """A member that may be left out."""
    return {name: draw(strategy)} if draw(st.booleans()) else {}
