"""What kind of quantity each member of a request is, as its struct says, and a walk over all of them."""

from collections.abc import Callable
from functools import cache
from typing import Any, Final, get_args, get_type_hints

from msgspec import Struct

from service.calculations.registry import calculations
from service.calculations.shared.given import Ratio
from service.calculations.shared.reading import Given
from service.calculations.shared.units import Kind

MEMBER_OF_SHARES: Final = "fatty_acids"
"""The member that holds quantities under names of the caller's choice."""


def _inside(hint: Any) -> list[type]:
    """Every class within a type, such as those of a union or a list."""
    found = [hint] if isinstance(hint, type) else []
    return found + [one for part in get_args(hint) for one in _inside(part)]


@cache
def givens() -> dict[str, set[type[Given]]]:
    """Classes of the quantities that stand under each name, anywhere in a request."""
    left: list[type] = [calculation.request for calculation in calculations().values()]
    seen: set[type] = set()
    found: dict[str, set[type[Given]]] = {}
    while left:
        struct = left.pop()
        seen.add(struct)
        for name, hint in get_type_hints(struct).items():
            for one in _inside(hint):
                if issubclass(one, Given):
                    found.setdefault(name, set()).add(one)
                elif issubclass(one, Struct) and one not in seen:
                    left.append(one)
    return found


@cache
def kinds() -> dict[str, Kind]:
    """Kind of the quantity under each name; a name means one kind everywhere."""
    found = {}
    for name, classes in givens().items():
        (found[name],) = {one.kind.name: one.kind for one in classes}.values()
    return found


def is_ratio(name: str) -> bool:
    """Whether a member is said as a ratio, "2:1"."""
    return any(issubclass(one, Ratio) for one in givens()[name])


def with_quantities(request: Any, change: Callable[[str, Any], Any]) -> Any:
    """The request with every quantity changed.

    Args:
        request: a request, or a part of one.
        change: gives the new quantity for a member's name and its quantity.
    """
    if isinstance(request, list):
        return [with_quantities(one, change) for one in request]
    if not isinstance(request, dict):
        return request
    new: dict[str, Any] = {}
    for name, value in request.items():
        if name == MEMBER_OF_SHARES and isinstance(value, dict):
            new[name] = {code: change(MEMBER_OF_SHARES, share) for code, share in value.items()}
        elif name in kinds() and isinstance(value, list):
            new[name] = [change(name, one) for one in value]
        elif name in kinds() and value is not None:
            new[name] = change(name, value)
        else:
            new[name] = with_quantities(value, change)
    return new


def holds(request: Any, *names: str) -> bool:
    """Whether a member of one of these names is said anywhere in a request."""
    if isinstance(request, list):
        return any(holds(one, *names) for one in request)
    if isinstance(request, dict):
        return any((name in names and one is not None) or holds(one, *names) for name, one in request.items())
    return False
