"""The physical figures among the constants of the calculations, with unit, source and evidence.

Most constants of the calculations are no physical figures: limits of requests, thresholds of what is worth a word,
settings of a search. Looked at are those of a module's top whose docstring says how well they are known, in round
brackets as in the chemistry, and those whose unit is a compound one, as J/kg: a threshold has none such. A docstring
that names no work is its own ground, and the page says so.
"""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from tests.proof.chemistry_numbers import Module
from tests.proof.figures import SERVICE, Found, evidence_in, unit_in

CALCULATIONS: Final = SERVICE / "calculations"
NO_FIGURES: Final = {
    ("batch/fats.py", "LOOKS_LIKE_NAOH"): "a slip that is looked for",
    ("batch/liquid_split.py", "REFERENCE_VALUE"): "cancels: any value gives the same answer",
}
"""Constants with a compound unit that stand for nothing in nature, and why."""
SAID: Final = {
    ("assays/titration_readings.py", "BURETTE"): ("mL", "memory"),
    ("assays/titration_readings.py", "DETECTION"): ("mL", "seen-secondary"),
}
"""Unit and evidence of constants whose docstrings say them in other words than are looked for, or of the product."""
OWN_GROUND: Final = "no work is named"


def calculation_numbers(folder: Path = CALCULATIONS) -> Iterator[Found]:
    """Every number of those constants; empty fields where nothing is said."""
    for path in sorted(folder.rglob("*.py")):
        module = Module(path.relative_to(folder).as_posix(), path.read_text("utf-8"))
        docs = {_name(node): text for node, text in module.below.items() if module.parents.get(node) is module.tree}
        for one in module.numbers():
            text = docs.get(one.name, "")
            key = module.name, one.name
            if key in NO_FIGURES or not _is_physical(text):
                continue
            unit, evidence, source = one.unit or unit_in(text), one.evidence, one.source
            if key in SAID and evidence != "exact":  # not the factor of a unit
                (unit, evidence), source = SAID[key], " ".join(text.split())
            if not source and evidence == "memory":
                source = OWN_GROUND
            yield one._replace(unit=unit, source=source, evidence=evidence)


def _is_physical(text: str) -> bool:
    return bool(evidence_in(text)) or "/" in unit_in(text)


def _name(node: ast.AST) -> str:
    if isinstance(node, ast.AnnAssign):
        return ast.unparse(node.target)
    return ast.unparse(node.targets[0]) if isinstance(node, ast.Assign) else ""
