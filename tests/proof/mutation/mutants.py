"""The mutants of a module: copies with one small fault put in, told apart by what a reader of the source sees.

A place is mutated in every way that suits it, in the order of the source. Texts, annotations, imports and docstrings
stay: what the service says is compared word for word elsewhere.
"""

import ast
import copy
import hashlib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

COMPARED: Final[dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
"""What a comparison turns into: its limit is moved to the other side, or all of it is turned round."""
RECKONED: Final[dict[type[ast.operator], type[ast.operator]]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
SWAPPED: Final = {"min": "max", "max": "min", "all": "any", "any": "all", "floor": "ceil", "ceil": "floor"}
LARGER: Final = 1.1
"""What a figure is multiplied by: a table or a balance should notice a tenth."""
MUCH_LARGER: Final = 1000.0
"""What a tolerance is multiplied by; a tenth of it is nothing that anyone could notice."""
LARGEST_TOLERANCE: Final = 1e-5

STAYING: Final = {"annotation", "returns", "decorator_list", "bases", "op", "ops", "ctx"}
"""Fields of a node in which nothing is mutated."""

Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


class Name(NamedTuple):
    """What a mutant is known by, as long as its line and function stay as they are, wherever they move.

    Attributes:
        function: the function or class in which the place is, as `Class.method`; empty for the module itself.
        line: source of the line on which the place begins, without its indentation.
        mutation: what was put in place of what; a number follows where a line has several alike.
    """

    function: str
    line: str
    mutation: str


@dataclass(frozen=True)
class Mutant:
    """One mutant.

    Attributes:
        name: what it is known by.
        sound: the module as it is.
        node: what is replaced in it; nothing, where the module is tried as it is.
        replacement: what stands there instead.
    """

    name: Name
    sound: ast.Module
    node: ast.AST | None = None
    replacement: ast.AST | None = None

    def tree(self) -> ast.Module:
        """The mutated module."""
        memo: dict[int, object] = {}
        if self.node is not None:
            memo[id(self.node)] = ast.copy_location(copy.deepcopy(self.replacement) or ast.Pass(), self.node)
        return ast.fix_missing_locations(copy.deepcopy(self.sound, memo))

    @property
    def lot(self) -> str:
        """A number drawn from the name alone, so that a sample hardly changes where a module does."""
        return hashlib.sha256("\0".join(self.name).encode()).hexdigest()


class _Place(NamedTuple):
    """A node within its parent, and the function around it."""

    parent: ast.AST
    field: str
    node: ast.AST
    function: str


def mutants(source: str) -> list[Mutant]:
    """All mutants of a module, in the order of its source."""
    tree = ast.parse(source)
    lines = source.splitlines()
    seen: Counter[Name] = Counter()
    made = []
    for place in _places(tree, ""):
        for replacement in _replacements(place):
            number = getattr(place.node, "lineno", 1)
            name = Name(place.function, lines[number - 1].strip(), _told(place.node, replacement))
            seen[name] += 1
            if seen[name] > 1:
                name = name._replace(mutation=f"{name.mutation} ({seen[name]})")
            made.append(Mutant(name, tree, place.node, replacement))
    return made


def digest(source: str) -> str:
    """What changes where a module does, but for its docstrings and the lines of its comments."""
    lines: list[str | None] = list(source.splitlines())
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str):
            lines[node.lineno - 1 : node.end_lineno] = [None] * ((node.end_lineno or node.lineno) - node.lineno + 1)
    code = [line for line in lines if line and line.strip() and not line.lstrip().startswith("#")]
    return hashlib.sha256("\n".join(code).encode()).hexdigest()[:16]


def sound(source: str) -> Mutant:
    """The module as it is, to be tried like a mutant."""
    return Mutant(Name("", "", "none"), ast.parse(source))


def sample(all_of_them: list[Mutant], most: int | None) -> list[Mutant]:
    """A sample of at most so many mutants, always the same one, in the order of the source."""
    if most is None or len(all_of_them) <= most:
        return all_of_them
    drawn = {one.name for one in sorted(all_of_them, key=lambda one: one.lot)[:most]}
    return [one for one in all_of_them if one.name in drawn]


def unseen(all_of_them: list[Mutant], known: int, most: int) -> list[Mutant]:
    """Those that come next after a sample, in the order of the source: no test was ever written because of them.

    Args:
        all_of_them: the mutants of a source.
        known: how many were drawn before.
        most: how many are drawn now, at most.
    """
    drawn = {one.name for one in sorted(all_of_them, key=lambda one: one.lot)[known:][:most]}
    return [one for one in all_of_them if one.name in drawn]


def users(mutant: Mutant) -> list[str]:
    """The functions and methods that use the constant of a module in which a mutant lies; none, where it is in no such.

    A constant that others are made of is used by their users.
    """
    own = [one for one in mutant.sound.body if mutant.node is not None and mutant.node in ast.walk(one)]
    names = {target.id for one in own for target in _targets(one)}
    for one in mutant.sound.body if names else ():
        if _uses(one, names):
            names |= {target.id for target in _targets(one)}
    return [name for name, one in _functions(mutant.sound.body, "") if _uses(one, names)]


def _targets(statement: ast.stmt) -> list[ast.Name]:
    match statement:
        case ast.AnnAssign(target=ast.Name() as target):
            return [target]
        case ast.Assign(targets=targets):
            return [one for target in targets for one in ast.walk(target) if isinstance(one, ast.Name)]
    return []


def _uses(node: ast.AST, names: set[str]) -> bool:
    return any(isinstance(one, ast.Name) and one.id in names for one in ast.walk(node))


def _functions(body: list[ast.stmt], within: str) -> Iterator[tuple[str, ast.AST]]:
    for one in body:
        if isinstance(one, ast.FunctionDef | ast.AsyncFunctionDef):
            yield f"{within}{one.name}", one
        elif isinstance(one, ast.ClassDef):
            yield from _functions(one.body, f"{within}{one.name}.")


def _places(node: ast.AST, function: str) -> Iterator[_Place]:
    for field, value in ast.iter_fields(node):
        if field in STAYING or (field == "keywords" and isinstance(node, ast.ClassDef)):
            continue
        for child in value if isinstance(value, list) else (value,):
            if not isinstance(child, ast.AST) or _stays(child):
                continue
            within = function
            if isinstance(child, Definition):
                within = f"{function}.{child.name}" if function else child.name
            yield _Place(node, field, child, within)
            yield from _places(child, within)


def _stays(node: ast.AST) -> bool:
    """Whether nothing in a statement can be mutated: imports, docstrings and what only type checkers read."""
    if isinstance(node, ast.Import | ast.ImportFrom):
        return True
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        return True
    if isinstance(node, ast.Assign) and isinstance(node.value, ast.Call):
        return getattr(node.value.func, "id", "") in {"TypeVar", "ParamSpec"}
    return isinstance(node, ast.If) and getattr(node.test, "id", "") == "TYPE_CHECKING"


def _replacements(place: _Place) -> Iterator[ast.AST]:
    node = place.node
    if isinstance(node, ast.expr):
        yield from _other_expressions(node, place)
    elif isinstance(node, ast.stmt):
        yield from _other_statements(node)


def _other_expressions(node: ast.expr, place: _Place) -> Iterator[ast.expr]:
    match node:
        case ast.Compare():
            for index, operator in enumerate(node.ops):
                for other in COMPARED[type(operator)]:
                    ops = [*node.ops[:index], other(), *node.ops[index + 1 :]]
                    yield ast.Compare(node.left, ops, node.comparators)
        case ast.BinOp() if type(node.op) in RECKONED and not _is_text(node):
            yield ast.BinOp(node.left, RECKONED[type(node.op)](), node.right)
        case ast.UnaryOp(op=ast.USub() | ast.Not()):
            yield node.operand
        case ast.BoolOp():
            yield ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values)
        case ast.IfExp():
            yield ast.IfExp(node.test, node.orelse, node.body)
        case ast.Call(func=ast.Name(id=called)) if called in SWAPPED:
            yield ast.Call(ast.Name(SWAPPED[called], ast.Load()), node.args, node.keywords)
        case ast.Call(func=ast.Attribute(value=ast.Name(id="math"), attr=called)) if called in SWAPPED:
            yield ast.Call(ast.Attribute(ast.Name("math"), SWAPPED[called], ast.Load()), node.args, node.keywords)
        case ast.Constant():
            yield from (ast.Constant(value) for value in _other_values(node.value))
        case _:
            pass
    turned = isinstance(node, ast.Name | ast.Attribute | ast.Call | ast.NamedExpr)
    if turned and place.field == "test" and isinstance(place.parent, ast.If | ast.While | ast.IfExp):
        yield ast.UnaryOp(ast.Not(), node)


def _is_text(node: ast.BinOp) -> bool:
    return any(
        isinstance(side, ast.JoinedStr) or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in (node.left, node.right)
    )


def _other_values(value: object) -> Iterator[bool | int | float]:
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, int):
        yield from (value + 1, value - 1)
    elif isinstance(value, float):
        tolerance = value <= LARGEST_TOLERANCE and f"{value:e}".startswith("1.000000e")
        other = value * (MUCH_LARGER if tolerance else LARGER)
        yield float(f"{other:.12g}") if value else 1.0


def _other_statements(node: ast.stmt) -> Iterator[ast.stmt]:
    match node:
        case ast.Return(value=ast.expr() as value) if not (isinstance(value, ast.Constant) and value.value is None):
            yield ast.Return(ast.Constant(None))
        case ast.AugAssign() if type(node.op) in RECKONED:
            yield ast.AugAssign(node.target, RECKONED[type(node.op)](), node.value)
            yield ast.Pass()
        case ast.Break():
            yield ast.Continue()
        case ast.Continue():
            yield ast.Break()
        case ast.Expr() | ast.Raise() | ast.Assert() | ast.Delete() | ast.AugAssign():
            if not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Yield | ast.YieldFrom)):
                yield ast.Pass()
        case _:
            pass


def _told(before: ast.AST, after: ast.AST) -> str:
    shown = ast.unparse(before)
    return f"without `{shown}`" if isinstance(after, ast.Pass) else f"`{shown}` → `{ast.unparse(after)}`"
