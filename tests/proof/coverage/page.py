"""The page and the table of what was tried."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from tests.proof.coverage.summary import LEAST, MOST, Kept

HEAD = """# Whether intervals hold

Every calculation that tells intervals was asked many random requests, with limits and uncertainties as callers can give
them. For each request a Monte Carlo run (JCGM 101:2008) drew what may be true: limits as rectangles, uncertainties and
answered intervals as normals, fats and liquids of the catalogue anywhere between their limits, densities off by as much
as their model may be, alike for every strength. The calculation itself, asked with what is true, tells the truth of a
draw; of other models it is off by a normal of the width that the calculation tells for exact inputs. Counted is how
often the interval that was told holds the truth: of a nominal 95 % the mean is to lie between {least:.0%} and
{most:.0%}.

{requests} requests for each calculation, {draws} draws for each request, seed {seed}; written by
`python -m tests.proof.coverage --write`. A single request of {draws} draws scatters by {scatter:.1%}.
`tests/proof/test_coverage.py` tries a few of each whenever the tests run.

{outside} of {all} members lie outside; their causes stand beside them.
"""


def row(one: Kept) -> str:
    """A line of the table that is printed."""
    mark = "" if not one.outside else "  outside" + (": " + one.cause if one.cause else ", no cause known")
    numbers = f"{one.requests:5d} {one.mean:7.2%} {one.least:7.1%} {one.most:7.1%}"
    return f"{one.calculation:24s} {one.member:40s} {numbers}{mark}"


def page(found: Sequence[Kept], lost: Mapping[str, float], counts: tuple[int, int, int]) -> str:
    """The page, in Markdown.

    Args:
        found: every member.
        lost: share of the draws of each calculation that were beyond what can be answered.
        counts: seed, requests and draws.
    """
    seed, requests, draws = counts
    lines = [
        HEAD.format(
            least=LEAST,
            most=MOST,
            seed=seed,
            requests=requests,
            draws=draws,
            scatter=(0.95 * 0.05 / draws) ** 0.5,
            outside=sum(1 for one in found if one.outside),
            all=len(found),
        )
    ]
    for calculation, members in groupby(found, lambda one: one.calculation):
        kept = list(members)
        mean = sum(one.mean * one.requests for one in kept) / sum(one.requests for one in kept)
        beyond = f"; {lost[calculation]:.1%} of the draws were beyond the data" if lost[calculation] >= 5e-4 else ""
        lines += [
            f"## {calculation}\n",
            f"Mean over all members: {mean:.1%}{beyond}.\n",
            "| member | tried | mean | least single | remark |",
            "|---|---:|---:|---:|---|",
            *(
                f"| `{one.member[1:]}` | {one.requests} | {one.mean:.1%} | {one.least:.1%} | {one.cause} |"
                for one in kept
            ),
            "",
        ]
    return "\n".join(lines)
