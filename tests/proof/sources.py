"""Where every figure of the service comes from: `python -m tests.proof.sources [--all | --faults]`.

It counts the figures of the reference data's files, the numbers of the chemistry's code and the physical ones of the
calculations' by how well they are known.
`--all` lists each with its value, unit, evidence and source, `--faults` those that lack one.
"""

import argparse
import re
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final

from tests.proof.calculation_numbers import calculation_numbers
from tests.proof.chemistry_numbers import chemistry_numbers
from tests.proof.data_figures import data_figures
from tests.proof.figures import EVIDENCE, Found

_WIDTH: Final = 100


def everything() -> tuple[Found, ...]:
    """Every figure of the data files, every number of the chemistry, and the physical ones of the calculations."""
    return (*data_figures(), *chemistry_numbers(), *calculation_numbers())


def faults() -> tuple[Found, ...]:
    """Those that lack a unit, a source or a word of evidence."""
    return tuple(one for one in everything() if one.faults)


def recalled() -> tuple[Found, ...]:
    """Those that are from memory: nobody read them in a text that can be named."""
    return tuple(one for one in everything() if one.evidence == "memory")


def partly_recalled() -> tuple[Found, ...]:
    """Those that rest on something from memory beside what was read, reckoned or chosen."""
    return tuple(
        one
        for one in everything()
        if one.evidence == "mixed"
        or (one.evidence != "memory" and re.search(r"from\s+memory|recalled", f"{one.source} {one.note}"))
    )


def counts(found: Iterable[Found]) -> dict[str, int]:
    """How many there are of each word of evidence, in the words' order."""
    counted = Counter(one.evidence for one in found)
    return {word: counted[word] for word in (*EVIDENCE, *sorted(set(counted) - set(EVIDENCE))) if counted[word]}


def _lines(found: Iterable[Found]) -> Iterable[str]:
    for one in found:
        missing = f"  MISSING: {', '.join(one.faults)}" if one.faults else ""
        yield f"{one.place}  {one.name} = {one.value:g} [{one.unit}]  {one.evidence}: {one.source[:_WIDTH]}{missing}"


def main(words: Sequence[str]) -> int:
    """Print what is asked for; 1 where a figure lacks something."""
    parser = argparse.ArgumentParser(prog="python -m tests.proof.sources", description=__doc__)
    choice = parser.add_mutually_exclusive_group()
    choice.add_argument("--all", action="store_true", help="list every figure")
    choice.add_argument("--faults", action="store_true", help="list the figures that lack something")
    chosen = parser.parse_args(words)
    wrong = faults()
    if chosen.all or chosen.faults:
        print("\n".join(_lines(everything() if chosen.all else wrong)) or "No figure lacks anything.")
    else:
        for title, found in (
            ("data files", tuple(data_figures())),
            ("chemistry", tuple(chemistry_numbers())),
            ("calculations", tuple(calculation_numbers())),
        ):
            print(f"{title}: {len(found)}")
            for word, number in counts(found).items():
                print(f"  {number:6d} {word or 'no evidence'}")
        print(f"lacking something: {len(wrong)}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
