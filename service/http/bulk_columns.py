"""The columns of a table that comes in: which member each is, and how a row becomes the JSON of a request.

A column is a member's path (`bulk_paths.py`). An empty cell is a member that is left out, and what holds nothing else
is left out with it: so places of a list may stay empty in a row.
"""

from collections.abc import Sequence
from typing import Any, Final

from msgspec import inspect

from service.calculations.shared.faults import Fault, Faulty, Refusal, meant, nearest, quoted
from service.http.bulk_cells import Reader, plain_reader
from service.http.bulk_paths import ABSENT, LONGEST_HEADER, Cell, Steps, blank, pointer_of, taken_apart, written
from service.http.bulk_quantities import Quantity, twice
from service.http.catalogue_table import DecimalSign

MOST_PLACES: Final = 10_000
"""Places of a list that says no less."""


_ALIKE: Final = 0.7
"""How like a member's name another word must be to pass for a slip of the pen."""


class Member:
    """A member that is no quantity: what it holds, and the column that tells it, where one does.

    Attributes:
        steps: the way to it.
        kids: what it holds, by name or place.
        is_list: whether it is a list.
        cell: the column that tells it.
        read: reads its cell.
    """

    def __init__(self, steps: Steps) -> None:
        self.steps = steps
        self.kids: dict[str | int, Member | Quantity] = {}
        self.is_list = False
        self.cell: Cell | None = None
        self.read: Reader = str

    def make(self, cells: Sequence[str], faults: list[Fault]) -> Any:
        """What a row says of it, as JSON would; ABSENT where it says nothing.

        Args:
            cells: of the row.
            faults: gets what cannot be read.
        """
        found = {}
        for name, kid in self.kids.items():
            value = kid.make(cells, faults)
            if value is not ABSENT:
                found[name] = value
        if self.cell is not None and not blank(text := cells[self.cell.column]):
            try:
                if not found:
                    return self.read(text)
                detail = f"{written(self.steps)} is told by one cell, and its members by others"
                raise Faulty("choose-one", detail, "leave one of them empty")
            except Faulty as fault:
                at = pointer_of(self.steps)
                faults.append(self.cell.fault(fault.code, fault.detail, fault.mend, at))
                return None
        if not found:
            return ABSENT
        return [*found.values()] if self.is_list else found

    def finish(self, decimal: DecimalSign) -> list[Fault]:
        """Put the places of lists in order, and say what is wrong with columns together.

        Args:
            decimal: decimal sign of the table.
        """
        if self.is_list:
            self.kids = dict(sorted(self.kids.items(), key=lambda one: int(one[0])))
        return [fault for kid in self.kids.values() for fault in kid.finish(decimal)]

    def kept(self, cells: Sequence[str]) -> list["Member | Quantity"]:
        """What it holds in a row, in the order of its list.

        Args:
            cells: of the row.
        """
        return [kid for kid in self.kids.values() if kid.make(cells, []) is not ABSENT]


class Columns:
    """The columns of a table."""

    def __init__(self, header: Sequence[str], request: type, decimal: DecimalSign) -> None:
        """Find the members that the columns tell.

        Args:
            header: cells of the first row.
            request: struct of the request.
            decimal: decimal sign of the table.

        Raises:
            Refusal: with every column that is none.
        """
        self._root = Member(())
        self._shape = inspect.type_info(request)
        faults: list[Fault] = []
        for column, text in enumerate(header):
            cell = Cell(column, text.strip())
            try:
                self._add(cell, decimal)
            except Faulty as fault:
                faults.append(cell.fault(fault.code, fault.detail, fault.mend))
        faults += self._root.finish(decimal)
        if faults:
            raise Refusal(400, faults)

    def request(self, cells: Sequence[str], faults: list[Fault]) -> Any:
        """The request of a row, as JSON would say it.

        Args:
            cells: of the row.
            faults: gets what cannot be read.
        """
        found = self._root.make(cells, faults)
        return {} if found is ABSENT else found

    def place(
        self, pointer: str, cells: Sequence[str], known: dict[Member, list["Member | Quantity"]]
    ) -> tuple[str, str]:
        """Where in a row a member is.

        Args:
            pointer: JSON Pointer into the request of the row.
            cells: of the row.
            known: what lists hold in this row, as far as it was asked; a row may have a hundred faults in one list.

        Returns:
            The pointer by the places that the headers name, and the header of the column, or what it would be.
        """
        node: Member | Quantity | None = self._root
        steps: list[str | int] = []
        for part in pointer.split("/")[1:]:
            step: str | int = part.replace("~1", "/").replace("~0", "~")
            if isinstance(node, Quantity):
                return pointer_of([*steps, step]), node.header(str(step))
            if node is not None and node.is_list and part.isdigit():
                kept = known[node] if node in known else known.setdefault(node, node.kept(cells))
                node = kept[int(part)] if int(part) < len(kept) else None
                step = int(part) if node is None else node.steps[-1]
            elif node is not None:
                node = node.kids.get(step)
            steps.append(step)
        if isinstance(node, Quantity):
            return pointer_of(steps), node.header("")
        if node is not None and node.cell is not None:
            return pointer_of(steps), node.cell.header
        return pointer_of(steps), written(steps)[:LONGEST_HEADER]

    def _add(self, cell: Cell, decimal: DecimalSign) -> None:
        """Find the member of a column.

        Raises:
            Faulty: there is none.
        """
        steps, unit = taken_apart(cell.header)
        if steps == [""]:
            raise Faulty("malformed-csv", f"column {cell.column + 1} has no name", "name it, or take it away")
        node, shape = self._root, self._shape
        for at in range(len(steps)):
            key, shape = _step(steps, at, _inner(shape, goes_on=True))
            shape = _inner(shape, goes_on=at + 1 < len(steps))
            way = (*node.steps, key)
            node.is_list = isinstance(key, int)
            if isinstance(shape, inspect.CustomType):
                quantity = node.kids.setdefault(key, Quantity(way, shape.cls))
                if isinstance(quantity, Quantity):
                    quantity.add(steps[at + 1 :], unit, cell)
                return
            kid = node.kids.setdefault(key, Member(way))
            if isinstance(kid, Member):
                node = kid
        if isinstance(shape, inspect.StructType | inspect.ListType | inspect.VarTupleType | inspect.DictType):
            raise _holds_more(written(steps), shape)
        if unit is not None:
            raise Faulty("unknown-unit", f"{written(steps)} has no unit", f"write {written(steps)} alone")
        if node.cell is not None:
            raise twice(written(steps), node.cell.header)
        node.cell, node.read = cell, plain_reader(shape, decimal)


def _inner(shape: inspect.Type, *, goes_on: bool) -> inspect.Type:
    """A type without what is said about it; of a word and an object, the object where the path goes on."""
    while isinstance(shape, inspect.Metadata | inspect.UnionType):
        if isinstance(shape, inspect.Metadata):
            shape = shape.type
        else:
            rest = [one for one in shape.types if not isinstance(one, inspect.NoneType)]
            objects = [one for one in rest if isinstance(one, inspect.StructType)]
            shape = objects[0] if objects and goes_on else rest[0]
    return shape


def _step(steps: list[str], at: int, shape: inspect.Type) -> tuple[str | int, inspect.Type]:
    """The next step of a path: its name or place, and the type of what is there."""
    name, before = steps[at], written(steps[:at])
    if isinstance(shape, inspect.StructType):
        fields = {field.encode_name: field.type for field in shape.fields}
        if name not in fields:
            close = nearest(name, fields, _ALIKE)
            where = f" of {before}" if before else ""
            mend = f"write {written([*steps[:at], close[0]])}" if len(close) == 1 else "take the column away"
            raise Faulty("unknown-member", f"there is no member {quoted(name)}{where}{meant(close)}", mend)
        return name, fields[name]
    if isinstance(shape, inspect.ListType | inspect.VarTupleType):
        if not (name.isascii() and name.isdigit() and len(name) < 6 and str(int(name)) == name):
            mend = f"write {before}.0 for the first, {before}.1 for the second"
            raise Faulty("wrong-type", f"{before} is a list, and {quoted(name)} is no place in it", mend)
        most = MOST_PLACES if shape.max_length is None else shape.max_length
        if int(name) >= most:
            raise Faulty("too-many", f"{before} holds at most {most}", f"number them from 0 to {most - 1}")
        return int(name), shape.item_type
    if isinstance(shape, inspect.DictType):
        return name, shape.value_type
    raise Faulty("unknown-member", f"{before} holds no members", f"write {before}")


def _holds_more(path: str, shape: inspect.Type) -> Faulty:
    if isinstance(shape, inspect.StructType):
        names = [field.encode_name for field in shape.fields][:3]
        mend = f"name the member, as in {path}.{names[0]}"
        return Faulty("wrong-type", f"{path} is an object with {', '.join(names)} and others", mend)
    if isinstance(shape, inspect.DictType):
        return Faulty("wrong-type", f"{path} is an object", f"put the name of what it holds behind it: {path}.name")
    return Faulty("wrong-type", f"{path} is a list", f"write {path}.0 for the first, {path}.1 for the second")
