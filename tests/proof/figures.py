"""Shapes of the audit of sources: a figure that was found, and what may be said of it."""

import re
from pathlib import Path
from typing import Final, NamedTuple, get_args

from service.reference import Evidence

SERVICE: Final = Path(__file__).parents[2] / "service"

EVIDENCE: Final = (*get_args(Evidence), "exact", "numerical")
"""Words of the reference data; `exact`: by definition or by counting; `numerical`: a setting of a computation."""

_IN_PROSE: Final = {"from memory": "memory", "recalled": "memory", "common practice": "common-practice"}
_WORDS: Final = re.compile(r"(?<![\w-])(" + "|".join((*EVIDENCE, *_IN_PROSE)).replace(" ", r"\s+") + r")(?![\w-])")
_UNIT: Final = re.compile(r"(?<!\.\. )\[([^\]\n]+)\](?!_)")
_CITED: Final = re.compile(r"\[(\d+)\]_")


class Found(NamedTuple):
    """A figure of a data file or a number of a chemistry module, with what is said of it; empty where nothing is."""

    place: str
    """File and line, as `kell_1975.csv:5`."""
    name: str
    value: float
    unit: str
    source: str
    evidence: str
    note: str = ""
    """What is said of it beside: the docstring that speaks of a number, the note of a row or of its file."""

    @property
    def faults(self) -> tuple[str, ...]:
        """What is missing or no word of evidence."""
        return tuple(name for name in ("unit", "source") if not getattr(self, name)) + (
            () if self.evidence in EVIDENCE else ("evidence",)
        )


def brackets_in(text: str) -> list[str]:
    """What stands in round brackets, those within others with them."""
    found, depth, start = [], 0, 0
    for place, sign in enumerate(text):
        if sign == "(":
            depth, start = depth + 1, start if depth else place + 1
        elif sign == ")" and depth:
            depth -= 1
            if not depth:
                found.append(text[start:place])
    return found


def evidence_in(text: str) -> str:
    """The word of evidence that a docstring holds in round brackets, `unclear` where it holds several."""
    words = {
        _IN_PROSE.get(" ".join(word.split()), word) for bracket in brackets_in(text) for word in _WORDS.findall(bracket)
    }
    return "unclear" if len(words) > 1 else next(iter(words), "")


def unit_in(text: str) -> str:
    """The units that a docstring holds in square brackets; a reference, [1]_, is none."""
    return ", ".join(dict.fromkeys(_UNIT.findall(text.partition("Examples:")[0])))


def references_in(text: str) -> dict[str, str]:
    """The entries of a docstring's references by their number."""
    _, _, listed = text.partition("References:")
    listed = re.split(r"\n\s*\n", listed.strip("\n"))[0]
    parts = re.split(r"\.\. \[(\d+)\]", listed)[1:]
    return {number: " ".join(entry.split()) for number, entry in zip(parts[::2], parts[1::2], strict=True)}


def source_in(text: str, module: str) -> str:
    """What a docstring names as the source or the ground of its numbers.

    Args:
        text: the docstring.
        module: that of the module, whose references it may cite.
    """
    known = references_in(module) | references_in(text)
    cited = [known[number] for number in _CITED.findall(text) if number in known]
    if cited or "References:" in text:
        return " ".join(cited) or " ".join(references_in(text).values())
    brackets = [bracket for bracket in brackets_in(text) if _WORDS.search(bracket)]
    said = [bracket for bracket in brackets if _WORDS.sub("", bracket).strip(" ,;:.")]
    if said:
        return " ".join(said[0].split())
    # what is chosen, counted or worked out has its ground in the sentence; what was read or recalled has an author
    grounds = ("exact", "numerical", "assumed", "computed", "common-practice")
    return " ".join(text.split()) if evidence_in(text) in grounds else ""
