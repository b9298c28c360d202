"""Requests that mean another's like: twice the batch, other units, another order, a fat on two lines."""

from typing import Any, Final

from service.calculations.shared import units
from service.calculations.shared.messages import MOST_FATS
from tests.contract.members import is_ratio, kinds, with_quantities

Request = dict[str, Any]

EXTENSIVE: Final = (units.MASS, units.MASS_CHANGE, units.VOLUME)
"""Kinds of what there is twice as much of in twice the batch."""


def doubled(request: Request) -> Request:
    """Every mass and volume twice; doubling a binary number is exact."""

    def double(name: str, said: Any) -> Any:
        return _times(said, 2.0) if kinds()[name] in EXTENSIVE else said

    return dict(with_quantities(request, double))


def _times(said: Any, factor: float) -> Any:
    if isinstance(said, dict):
        return {name: factor * one if isinstance(one, (int, float)) else one for name, one in said.items()}
    number, word = _read(said)
    return f"{factor * number!r} {word}"


def _read(said: str) -> tuple[float, str]:
    match = units.QUANTITY_TEXT.fullmatch(said)
    if match is None:
        raise ValueError(said)
    return float(match.group(1)), match.group(2)


def reworded(request: Request) -> Request:
    """Every quantity in another unit, or another way to say it."""
    return dict(with_quantities(request, _other_words))


def _other_words(name: str, said: Any) -> Any:
    if is_ratio(name):
        if isinstance(said, str):
            first, _, second = said.partition(":")
            return float(first) / float(second)
        if isinstance(said, dict):
            return f"{said['value']!r}:1" if said.keys() == {"value", "unit"} else said
        return {"value": said, "unit": "1"}
    kind = kinds()[name]
    if isinstance(said, (int, float)):
        return f"{float(said) * 100!r} %"
    if isinstance(said, str):
        number, word = _read(said)
        said = {"value": number, "unit": word}
    old = kind.units[said["unit"]]
    others = list(dict.fromkeys(kind.units.values()))
    new = others[(others.index(old) + 1) % len(others)]
    told: dict[str, Any] = {"unit": new.symbol}
    for member in said.keys() - {"unit", "uncertainty"}:
        told[member] = new.from_si(old.to_si(said[member]))
    if "uncertainty" in said:
        told["uncertainty"] = new.from_si(old.span_to_si(said["uncertainty"])) - new.zero
    return told


def reordered(request: Any) -> Any:
    """Every list from its end, and the members of every object too."""
    if isinstance(request, list):
        return [reordered(one) for one in reversed(request)]
    if isinstance(request, dict):
        return {name: reordered(one) for name, one in reversed(request.items())}
    return request


def split_fat(request: Request) -> Request | str:
    """The first fat on two lines of half its mass; or why it is not split."""
    fats = request.get("fats")
    if not fats:
        return "no fats"
    mass = fats[0]["mass"]
    if isinstance(mass, dict) and mass.keys() != {"value", "unit"}:
        return "a fat's mass with a spread: two weighings err independently, one does not"
    if request.get("scale_division") is not None:
        return "a scale's division: two weighings err independently, one does not"
    if len(fats) == MOST_FATS:
        return "as many fats as are taken"
    half = fats[0] | {"mass": _times(mass, 0.5)}
    return request | {"fats": [half, *fats[1:], half]}
