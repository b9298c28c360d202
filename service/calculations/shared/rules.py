"""Rules between the members of one object: checked when it is read, and stated in the contract.

A struct names its rules in `rules`; the same rule object checks a request and writes its JSON Schema.
"""

from collections.abc import Callable, Iterable
from operator import attrgetter
from typing import Any, ClassVar, NamedTuple

from msgspec import Struct

from service.calculations.shared.faults import Faulty


def _given(struct: object, names: tuple[str, ...]) -> list[str]:
    return [name for name in names if getattr(struct, name) is not None]


def _listed(names: tuple[str, ...] | list[str], word: str) -> str:
    *most, last = names
    return f"{', '.join(most)} {word} {last}" if most else last


def _some(names: tuple[str, ...]) -> str:
    """Members of which one is due, as far as a line holds them."""
    return _listed(names, "or") if len(names) < 6 else f"{', '.join(names[:4])} or {len(names) - 4} others"


_NOT_NULL: dict[str, Any] = {"not": {"type": "null"}}
_NULL: dict[str, Any] = {"type": "null"}


def _no_pair(pairs: Iterable[tuple[str, str]]) -> dict[str, Any]:
    """That no two members of a pair are given, as JSON Schema."""
    parts = [{"not": {"required": [a, b], "properties": {a: _NOT_NULL, b: _NOT_NULL}}} for a, b in pairs]
    return parts[0] if len(parts) == 1 else {"allOf": parts}


class _Counted:
    """A rule that sound requests pass by the number of members that are left out."""

    __slots__ = ("_values", "names")

    def __init__(self, names: tuple[str, ...]) -> None:
        self.names = names
        self._values: Callable[[object], tuple[object, ...]] = attrgetter(*names)

    def left_out(self, struct: object) -> int:
        """How many of the members are not given."""
        return self._values(struct).count(None)


class ExactlyOne(_Counted):
    """Exactly one of some members is given."""

    __slots__ = ()

    def check(self, struct: object) -> None:
        """Raise Faulty where none or several are given."""
        if self.left_out(struct) == len(self.names) - 1:
            return
        given = _given(struct, self.names)
        what = "none of them is given" if not given else f"{_listed(given[:4], 'and')} are given"
        raise Faulty(
            "choose-one",
            f"exactly one of {_some(self.names)} is due, and {what}",
            f"give one, such as {self.names[0]}" if not given else f"keep one of {_listed(given[:4], 'and')}",
        )

    def schema(self) -> dict[str, Any]:
        """The rule as JSON Schema.

        One branch has what the others have as null. Some linters see only that the branches have members in common;
        `minProperties`, which holds anyway, tells them that there is more to a branch than its members.
        """
        return {
            "oneOf": [
                {
                    "title": f"by {name.replace('_', ' ')}",
                    "required": [name],
                    "properties": {name: _NOT_NULL} | {other: _NULL for other in self.names if other != name},
                    "minProperties": 1,
                }
                for name in self.names
            ]
        }


class AtMostOne(_Counted):
    """Not more than one of some members is given."""

    __slots__ = ()

    def check(self, struct: object) -> None:
        """Raise Faulty where several are given."""
        if self.left_out(struct) >= len(self.names) - 1:
            return
        given = _given(struct, self.names)
        raise Faulty(
            "choose-one",
            f"{_listed(given, 'and')} are given, and they say the same thing in different ways",
            f"keep one of {_listed(given, 'and')}",
        )

    def schema(self) -> dict[str, Any]:
        """The rule as JSON Schema."""
        return _no_pair((a, b) for i, a in enumerate(self.names) for b in self.names[i + 1 :])


class AtLeastOne(NamedTuple):
    """One or more of some members are given."""

    names: tuple[str, ...]

    def check(self, struct: object) -> None:
        """Raise Faulty where none is given."""
        if not _given(struct, self.names):
            raise Faulty("choose-one", f"none of {_listed(self.names, 'or')} is given", "give one of them at least")

    def schema(self) -> dict[str, Any]:
        """The rule as JSON Schema."""
        return {"anyOf": [{"required": [name], "properties": {name: _NOT_NULL}} for name in self.names]}


class OnlyWith(NamedTuple):
    """A member makes sense only beside one of some others."""

    name: str
    beside: tuple[str, ...]

    def check(self, struct: object) -> None:
        """Raise Faulty where the member stands without the others."""
        if getattr(struct, self.name) is not None and not _given(struct, self.beside):
            raise Faulty(
                "choose-one",
                f"{self.name} says something about {_listed(self.beside, 'or')}, which is not given",
                f"give {_listed(self.beside, 'or')}, or leave {self.name} out",
                f"/{self.name}",
            )

    def schema(self) -> dict[str, Any]:
        """The rule as JSON Schema."""
        alone = {"properties": {self.name: _NULL}}
        together = [{"required": [name], "properties": {name: _NOT_NULL}} for name in self.beside]
        return {"anyOf": [alone, *together]}


class NeverWith(NamedTuple):
    """A member makes no sense beside some others."""

    name: str
    beside: tuple[str, ...]
    detail: str
    mend: str

    def check(self, struct: object) -> None:
        """Raise Faulty where the member stands beside one of the others."""
        if getattr(struct, self.name) is not None and _given(struct, self.beside):
            raise Faulty("choose-one", self.detail, self.mend, f"/{self.name}")

    def schema(self) -> dict[str, Any]:
        """The rule as JSON Schema."""
        return _no_pair((self.name, other) for other in self.beside)


class Together(_Counted):
    """Some members are given together or not at all."""

    __slots__ = ()

    def check(self, struct: object) -> None:
        """Raise Faulty where some are given and some are not."""
        if self.left_out(struct) in {0, len(self.names)}:
            return
        given = _given(struct, self.names)
        lacking = [name for name in self.names if name not in given]
        raise Faulty(
            "missing-member",
            f"{_listed(given, 'and')} needs {_listed(lacking, 'and')} beside it",
            f"give {_listed(lacking, 'and')} too",
            f"/{lacking[0]}",
        )

    def schema(self) -> dict[str, Any]:
        """The rule as JSON Schema."""
        return {
            "anyOf": [
                {"properties": dict.fromkeys(self.names, _NULL)},
                {"required": list(self.names), "properties": dict.fromkeys(self.names, _NOT_NULL)},
            ]
        }


Rule = ExactlyOne | AtMostOne | AtLeastOne | NeverWith | OnlyWith | Together


def members(rule: Rule) -> set[str]:
    """The members that a rule speaks of."""
    if isinstance(rule, OnlyWith | NeverWith):
        return {rule.name, *rule.beside}
    return set(rule.names)


class Ruled(Struct, forbid_unknown_fields=True, kw_only=True):
    """An object of a request whose members follow rules."""

    rules: ClassVar[tuple[Rule, ...]] = ()

    def __post_init__(self) -> None:
        """Check the rules; msgspec calls this once the members are read."""
        for rule in self.rules:
            rule.check(self)
