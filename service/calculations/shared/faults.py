"""What is wrong with a request: the faults, and the exceptions that carry them.

Faulty     raised while one value is read; knows what and how to mend it, not where
Refusal    raised for a whole request; holds every fault with its place
"""

import difflib
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Annotated, Final, Literal, Protocol, get_args

from msgspec import UNSET, Meta, Struct, UnsetType

FaultCode = Literal[
    # what the schema can say (400)
    "malformed-json",
    "malformed-csv",
    "malformed-gzip",
    "wrong-type",
    "missing-member",
    "unknown-member",
    "repeated-member",
    "choose-one",
    "not-one-of",
    "too-few",
    "too-many",
    "too-long",
    "not-text",
    "bare-number",
    "unreadable-quantity",
    "decimal-comma",
    "unknown-unit",
    "wrong-kind-of-unit",
    "two-units",
    "volume-for-mass",
    "percent-missing",
    "out-of-range",
    "unknown-parameter",
    "repeated-parameter",
    "invalid-parameter",
    # what only chemistry, physics or the catalogue can say (422)
    "unknown-identifier",
    "does-not-add-up",
    "contradiction",
    "stock-too-weak",
    "too-little-water",
    "beyond-solubility",
    "beyond-data",
    "impossible-temperature",
    "purity-needed",
    "not-into-stock",
    "heater-too-weak",
    "readings-too-close",
    "too-hot-for-vessel",
    "temperature-needed",
    "inci-name-needed",
    "two-currencies",
    "cyclic-recipes",
    "unit-does-not-fit",
    "too-large-a-plan",
    "stock-runs-out",
]

FAULT_CODES: Final[frozenset[str]] = frozenset(get_args(FaultCode))


class Fault(Struct, frozen=True, omit_defaults=True):
    """One fault of a request: where it is, what it is, and how to mend it."""

    code: Annotated[FaultCode, Meta(description="What kind of fault it is; stable, for programs.")]
    detail: Annotated[str, Meta(description="What is wrong, for a person.", examples=["a mass needs a unit"])]
    mend: Annotated[str, Meta(description="How to mend it.", examples=["write '170.1 g' or '6 oz'"])]
    pointer: (
        Annotated[
            str,
            Meta(description="Where in the body it is: JSON Pointer (RFC 6901).", examples=["/fats/0/mass"]),
        ]
        | UnsetType
    ) = UNSET
    parameter: Annotated[str, Meta(description="Which query parameter it is in.", examples=["units"])] | UnsetType = (
        UNSET
    )
    column: (
        Annotated[
            str, Meta(description="Which column of a table it is in, as its header says.", examples=["fats.0.mass [g]"])
        ]
        | UnsetType
    ) = UNSET
    line: (
        Annotated[int, Meta(ge=1, description="Which line of the body it is in; the first is 1.", examples=[3])]
        | UnsetType
    ) = UNSET


class Named(Protocol):
    """An entry of the catalogue."""

    @property
    def name(self) -> str:
        """Its name in English."""


class Faulty(ValueError):  # noqa: N818 - reads as what it says of a value
    """A value cannot be taken as it is.

    Attributes:
        code: kind of fault.
        detail: what is wrong.
        mend: how to mend it.
        within: JSON Pointer below the value, where the fault lies deeper.
    """

    def __init__(self, code: FaultCode, detail: str, mend: str, within: str = "") -> None:
        super().__init__(detail)
        self.code = code
        self.detail = detail
        self.mend = mend
        self.within = within

    def at(self, pointer: str) -> Fault:
        """The fault at its place."""
        return Fault(self.code, self.detail, self.mend, pointer + self.within)


MOST_FAULTS: Final = 100
"""Faults told at once; more help nobody, and an answer stays of a size that any caller can read."""


class Refusal(Exception):  # noqa: N818 - reads as what happens to a request
    """A request is refused, with its faults.

    Attributes:
        status: 400 for what the schema can say, 422 for what only chemistry or the catalogue can say.
        faults: the faults found, the first hundred where there are more.
        count: how many were found.
    """

    def __init__(self, status: Literal[400, 422], faults: Iterable[Fault], untold: int = 0) -> None:
        found = tuple(faults)
        self.status: Literal[400, 422] = status
        self.faults = found[:MOST_FAULTS]
        self.count = len(found) + untold
        super().__init__("; ".join(f"{f.pointer or ''} {f.detail}" for f in self.faults))


LONGEST_SOUGHT: Final = 80
"""Characters of a word for which near names are sought; every name is shorter, and comparing long texts takes time."""
SLIP: Final = 0.85
"""How like a name a word must be to pass for a slip of the pen; what is merely alike may be another fat."""
COMMON_WORDS: Final[frozenset[str]] = frozenset({"oil", "fat", "acid", "butter", "juice", "milk", "raw", "of", "and"})
"""Words that say little of which entry of the catalogue is meant."""
_QUALITIES: Final[frozenset[str]] = frozenset(
    (
        *("bio", "certified", "cold", "crude", "deodorised", "deodorized", "edible", "expeller", "extra", "food"),
        *("fresh", "grade", "natural", "organic", "pressed", "pure", "raw", "refined", "sweet", "unrefined", "virgin"),
        "whole",
    )
)
"""Words that tell how an entry was made, bought or kept, and not what it is: they are let go where they fit nothing."""

WHOLE_WORDS: Final = 2.0
"""How well an entry is meant that holds the words themselves, and not others that begin alike: crude tall oil is no
tallow."""
_PURE: Final = ("water", "plain", "pure", "purified", "deionised", "deionized", "demineralised", "demineralized")
_DRAWN: Final = ("drinking", "filtered", "hard", "mineral", "spring", "well")
OTHER_NAMES: Final[dict[str, str]] = {
    "aqua": "distilled-water",
    "cacao-butter": "cocoa-butter",
    "h2o": "distilled-water",
    **{one if one == "water" else f"{one}-water": "distilled-water" for one in _PURE},
    **{f"{one}-water": "tap-water" for one in _DRAWN},
}
"""Words that mean an entry of the catalogue which is not spelt alike, and that entry. Ice is none of them: whoever
writes it means the heat that it takes up, too."""


def nearest_entries(word: str, known: Mapping[str, Named]) -> list[str]:
    """Identifiers of the catalogue that a word may mean, the likeliest first, three at most.

    A word that is an identifier or a name but for capitals, blanks and the like means that one alone, and so does
    another name of it: "water" is no coconut water. Else an entry
    whose identifier or name holds the telling words comes first: "corn-oil" is maize oil, whose name holds corn, and
    no oil that is merely spelt like it.
    """
    cut = word[:LONGEST_SOUGHT]
    slug = "-".join(re.findall(r"[a-z0-9]+", cut.lower()))
    slug = OTHER_NAMES.get(slug, slug)
    if slug in known:
        return [slug]
    words = _words(cut)
    return (
        _telling(words, known)
        or difflib.get_close_matches(cut.lower(), known, n=3, cutoff=SLIP)
        or _telling(words - _QUALITIES, known, least=WHOLE_WORDS)
    )


def _telling(words: set[str], known: Mapping[str, Named], least: float = 1.0) -> list[str]:
    """Identifiers of entries that hold the telling ones among some words, the likeliest first, three at most."""
    telling = words - COMMON_WORDS or words - {"oil", "fat", "butter", "acid"}
    # Sorting keeps the order of the catalogue among equals, where the usual entries come first.
    scores = {identifier: _match(telling, identifier, entry.name) for identifier, entry in known.items()}
    return [one for one in sorted(scores, key=scores.__getitem__, reverse=True) if scores[one] >= least][:3]


def _words(text: str) -> set[str]:
    return set(re.findall(r"[a-z0-9]+", text.lower()))


def _match(telling: set[str], identifier: str, name: str) -> float:
    """How well an entry is meant: all telling words in its identifier, in its name, or words that begin alike."""
    if not telling:
        return 0.0
    own, named = _words(identifier), _words(name)
    if telling <= own:
        return 3.0
    if telling <= named:
        return 2.0
    alike = all(any(one.startswith(word) or word.startswith(one) for one in own if len(one) > 2) for word in telling)
    return 1.0 if alike else 0.0


def nearest(word: str, known: Iterable[str], cutoff: float = 0.6) -> list[str]:
    """Names close to a word, the closest first, three at most."""
    names = list(known)
    cut = word[:LONGEST_SOUGHT].strip()
    close = [name for name in names if name.casefold() == cut.casefold()]
    return close or difflib.get_close_matches(cut, names, n=3, cutoff=cutoff)


def quoted(text: str) -> str:
    """What the caller wrote, in quotes: cut to what a message can hold, and what cannot be printed as escapes.

    At most 40 characters of it are shown, and no more than 20 or 4 where escapes would make it longer than 60.
    """
    for longest in (40, 20, 4):
        shown = repr(text[:longest])
        if len(shown) <= 60:
            break
    return shown if len(text) <= longest else f"{shown[:-1]}...{shown[-1]}"


def meant(names: Sequence[str]) -> str:
    """The names that may be meant, as the end of a sentence: " (did you mean 'x'?)", or nothing."""
    return f" (did you mean {' or '.join(repr(name) for name in names)}?)" if names else ""


def near(word: str, known: Iterable[str], cutoff: float = 0.6) -> str:
    """Names close to a word, as the end of a sentence: " (did you mean 'x'?)", or nothing."""
    return meant(nearest(word, known, cutoff))
