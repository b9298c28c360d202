"""How the contract is laid out as a file: for people as well as for programs, and so that a difference is short."""

import json
from typing import Any, Final

_WIDTH: Final = 280
_MOST_LEAVES: Final = 24
"""Values that a line may hold."""


def pretty(document: Any) -> bytes:
    """A document for people as well: what fits into a line stands in one, all else member by member."""
    return _lines(document, "").encode() + b"\n"


def _lines(node: Any, indent: str) -> str:
    if _leaves(node) <= _MOST_LEAVES:
        line = json.dumps(node, ensure_ascii=False)
        if len(indent) + len(line) <= _WIDTH or not isinstance(node, dict | list):
            return line
    deeper = indent + "  "
    if isinstance(node, dict):
        rows = [f"{json.dumps(name, ensure_ascii=False)}: {_lines(one, deeper)}" for name, one in node.items()]
        opened, closed = "{", "}"
    else:
        rows = [_lines(one, deeper) for one in node]
        opened, closed = "[", "]"
    return f"{opened}\n{deeper}" + f",\n{deeper}".join(rows) + f"\n{indent}{closed}"


def _leaves(node: Any) -> int:
    """How much a value holds, at least; enough to tell that it does not fit into a line."""
    if not isinstance(node, dict | list):
        return 1
    if len(node) > _MOST_LEAVES:
        return len(node)
    return sum(_leaves(one) for one in (node.values() if isinstance(node, dict) else node))
