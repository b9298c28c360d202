"""Every number in the chemistry's code, with unit, source and evidence.

A constant has its docstring below it, and one docstring serves the constants that stand without a gap above it. It
holds the unit in square brackets and, in round ones, how well the number is known and by whom:

    CONDUCTIVITY: Final = 0.65
    \"\"\"Of caustic solutions [W/(m K)] (handling guides of caustic soda makers, from memory).\"\"\"

The author may stand in the references of the module instead, cited as [1]_. Numbers inside of a function are told by
its docstring in the same way, or by that of what it stands in. What needs no word: 0, 1 and 2 in functions and in the
members of a record, where they count or mean nothing, all of it and twice (a constant of the module's top has a name,
and so a meaning, whatever its value); small whole numbers and halves in arithmetic, places in a sequence and steps of
counting; factors between units that are exact by definition; sizes of caches and numbers of rounds, and tiny bounds of
comparisons (`numerical`); and the ends of a range, which `require` gives a reason for.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from tests.proof.figures import SERVICE, Found, evidence_in, source_in, unit_in

CHEMISTRY: Final = SERVICE / "chemistry"
_TRIVIAL: Final = {0, 1, 2}
_SMALL: Final = {0.5, *range(3, 10)}
_FACTORS: Final = {100, 1e3, 1e-3, 1e5, 1e-5, 1e6, 1e-6}
"""Between percent and fraction, kilo, milli, mega and micro, and bar and pascal."""
_TOLERANCE: Final = 1e-6
"""What a comparison inside of a function holds, as small as this, is where a search ends."""
_DEFINED: Final = {273.15: "BIPM, SI Brochure 9th ed.: degrees Celsius count from 273.15 K"}
_UNITS_OF_RANGES: Final = {
    "age": "s",
    "baume_modulus": "1",
    "clearance": "K",
    "contents": "kg",
    "degrees_twaddell": "°Tw",
    "difference": "1",
    "loss_joules": "J",
    "molality": "mol/kg",
    "pressure": "Pa",
    "mean_molar_mass": "kg/mol",
    "points": "1",
    "taken_off": "J",
    "water": "1",
}
_Node = ast.FunctionDef | ast.ClassDef


def chemistry_numbers(folder: Path = CHEMISTRY) -> Iterator[Found]:
    """Every number of every module of the chemistry."""
    for path in sorted(folder.rglob("*.py")):
        yield from Module(path.relative_to(folder).as_posix(), path.read_text("utf-8")).numbers()


class Module:
    """A module, walked from its top."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.tree = ast.parse(text)
        self.lines = text.splitlines()
        self.doc = ast.get_docstring(self.tree) or ""
        self.parents = {child: node for node in ast.walk(self.tree) for child in ast.iter_child_nodes(node)}
        self.below = self._docstrings_below()

    def numbers(self) -> Iterator[Found]:
        """Its numbers in the order of its lines."""
        for node in sorted(_constants(self.tree), key=lambda one: (one.lineno, one.col_offset)):
            if node.value not in _TRIVIAL or self._names_a_constant(node):
                yield self._found(node)

    def _names_a_constant(self, node: ast.Constant) -> bool:
        """Whether it stands in a constant of the module's top."""
        return isinstance(self._above(node)[-2], ast.Assign | ast.AnnAssign)

    def _found(self, node: ast.Constant) -> Found:
        place, value = f"{self.name}:{node.lineno}", float(node.value)  # type: ignore[arg-type]
        above = self._above(node)
        inside = [one for one in above if isinstance(one, _Node)]
        name = ".".join(one.name for one in reversed(inside)) or _target(above)
        if exact := self._needs_no_word(node, in_function=any(isinstance(one, ast.FunctionDef) for one in above)):
            return Found(place, name, value, *exact)
        if ground := _range_end(above):
            return Found(place, name, value, *ground)
        for text in self._docstrings(above):
            if evidence := evidence_in(text):
                note = " ".join(re.split(r"\n\s*\n", text.strip())[0].split())
                return Found(place, name, value, unit_in(text), source_in(text, self.doc), evidence, note)
        return Found(place, name, value, "", "", "")

    def _above(self, node: ast.AST) -> list[ast.AST]:
        found = []
        while node in self.parents:
            node = self.parents[node]
            found.append(node)
        return found

    def _docstrings(self, above: list[ast.AST]) -> Iterator[str]:
        """Docstrings that may speak of a number, the nearest first."""
        for node in above:
            if node in self.below:
                yield self.below[node]
            elif isinstance(node, _Node):
                yield ast.get_docstring(node) or ""

    def _docstrings_below(self) -> dict[ast.AST, str]:
        """The docstring below each assignment of a module or class, or below those that stand with it."""
        found: dict[ast.AST, str] = {}
        for owner in ast.walk(self.tree):
            if not isinstance(owner, ast.Module | _Node):
                continue
            waiting: list[ast.AST] = []
            for before, node in zip([None, *owner.body], owner.body, strict=False):
                if before is not None and node.lineno > (before.end_lineno or before.lineno) + 1:
                    waiting = []
                if isinstance(node, ast.Assign | ast.AnnAssign):
                    waiting.append(node)
                    continue
                if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
                    found.update(dict.fromkeys(waiting, str(node.value.value)))
                waiting = []
        return found

    def _needs_no_word(self, node: ast.Constant, *, in_function: bool) -> tuple[str, str, str] | None:
        value = float(node.value)  # type: ignore[arg-type]
        parent: ast.AST = self.parents[node]
        if isinstance(parent, ast.UnaryOp):
            parent = self.parents[parent]
        above = self._above(node)
        if value in _DEFINED:
            return "K", _DEFINED[value], "exact"
        if any(isinstance(one, ast.keyword) and one.arg == "maxsize" for one in above):
            return "1", "size of a cache", "numerical"
        tiny = abs(value) <= _TOLERANCE and any(isinstance(one, ast.Compare) for one in above[:3])
        if in_function and tiny:
            return "1", "tolerance of a search", "numerical"
        called = parent.func.id if isinstance(parent, ast.Call) and isinstance(parent.func, ast.Name) else ""
        if called in {"range", "round"} or any(isinstance(one, ast.Subscript | ast.Slice) for one in above[:3]):
            loop = self.parents[parent]
            rounds = isinstance(loop, ast.For) and ast.unparse(loop.target) == "_"
            return ("1", "most rounds", "numerical") if rounds else ("1", "counting", "exact")
        if isinstance(parent, ast.BinOp | ast.AugAssign):
            factor = isinstance(parent.op, ast.Mult | ast.Div) and value in _FACTORS
            if factor:
                return "1", "factor between units", "exact"
            if in_function and value in _SMALL:
                return "1", "arithmetic", "exact"
        return None


def _constants(tree: ast.AST) -> list[ast.Constant]:
    return [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float) and not isinstance(node.value, bool)
    ]


def _target(above: list[ast.AST]) -> str:
    for node in above:
        if isinstance(node, ast.AnnAssign):
            return ast.unparse(node.target)
        if isinstance(node, ast.Assign):
            return ast.unparse(node.targets[0])
    return ""


def _range_end(above: list[ast.AST]) -> tuple[str, str, str] | None:
    """Unit, reason and evidence of an end of a range that `require` or `OutOfRange` states."""
    for node in above:
        if isinstance(node, ast.Call) and re.search(r"require|_check|OutOfRange", ast.unparse(node.func)):
            texts = [one.value for one in node.args if isinstance(one, ast.Constant) and isinstance(one.value, str)]
            named = isinstance(node.args[0], ast.Constant)
            quantity = texts[0] if named else ast.unparse(node.args[1])
            unit = _UNITS_OF_RANGES.get(quantity) or _usual_unit(quantity)
            reason = texts[-1] if len(texts) > named else ast.unparse(node.args[-1])
            return unit, reason, "assumed"
    return None


def _usual_unit(quantity: str) -> str:
    """The SI unit, or °C, of a quantity by the end of its name."""
    usual = {
        "temperature|reference|surface|ambient": "°C",
        "mass|supplied": "kg",
        "ratio|fraction|purity|moisture|gravity|strength|share": "1",
    }
    return next((unit for ends, unit in usual.items() if re.search(f"({ends})$", quantity)), "")
