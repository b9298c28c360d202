"""The page and the table of what was tried."""

from collections.abc import Mapping
from typing import Final

from tests.proof.coverage.summary import FRESH, LEAST, MOST, SIGMAS, TIMES, Kept, Result, scatter

HEAD: Final = """# Whether uncertainties are carried through

Proved here is that what is open in a request is carried through to the intervals of its answer, and that bounds are no
narrower than the 95 % that they are to hold at least. **Not proved is that the models themselves are as good as they
say:** their widths are taken as the service tells them, and a width of any size would pass. How wide the models must be
is shown by [second opinions](../validation/second-opinions.md), which compare them with other data and correlations.
Coolings by readings have [a page of their own](readings.md): there the truth is Newton's law, and no model of ours.

Every calculation that tells intervals was asked many random requests, with limits and uncertainties as callers can give
them. For each request a Monte Carlo run (JCGM 101:2008) drew what may be true: limits as rectangles, uncertainties and
answered intervals as normals, fats and liquids of the catalogue anywhere between their limits, fatty acids as well
where all together they add up to 1, water in solid KOH of which nothing is said anywhere between the ends that the
service takes, densities off by the width that the service takes, alike for every strength. The calculation itself,
asked with what is true, tells the truth of a draw; of other models it is off by a normal of the width that the
calculation tells for exact inputs. Counted is how often the interval
that was told holds the truth: of a nominal 95 % the mean is to lie between {least:.0%} and {most:.0%}.

- **A mean outside** has its cause beside it, and behind it the mean *without* that cause: of an interval by the usual
  rule of propagation on every input alone, in place of a bound; or only of those intervals that are more than nothing.
- **A least single** more than {sigmas:g} standard deviations of its draws below 95 % was asked again with {times} times
  as many draws. What comes near 95 % then, was chance; what does not, has its cause beside it, and behind it what that
  request comes to without the cause.

Written by `python -m tests.proof.coverage --write`, which keeps all figures in `results.json`; with the names of some
calculations it tries those, and keeps the others. `tests/proof/test_coverage.py` tries a few requests of each whenever
the tests run, and holds this page to them.

{outside} of {all} members lie outside. {low} have a single request that is truly held far less often than 95 %.
"""


def remark(one: Kept, calculation: str, draws: int) -> str:
    """What stands beside a member: causes, and what came of checking them."""
    told = []
    over = one.over(calculation)
    if over is not None:
        told.append(over.why + ("" if one.checked is None else f" (without: {one.checked:.1%})"))
    elif one.fresh is not None:
        told.append(f"few requests have one: {FRESH} others that have one come to {one.fresh:.1%}")
    elif one.outside:
        told.append("no cause is known")
    low = one.low(calculation, draws)
    if one.again is not None:
        more = f"the least, with {TIMES * draws} draws: {one.again:.1%}"
        if low is not None:
            more += ("" if low is over else f"; {low.why}") + (
                " (not checked by another interval)"
                if one.again_checked is None
                else f" (without: {one.again_checked:.1%})"
            )
        elif one.truly_low(draws):
            more += "; no cause has been checked"
        told.append(more)
    return "; ".join(told)


def row(one: Kept, calculation: str, draws: int) -> str:
    """A line of the table that is printed."""
    numbers = f"{one.requests:5d} {one.mean:7.2%} {one.least:7.1%}"
    mark = "outside" if one.outside else ""
    return f"{calculation:24s} {one.member:40s} {numbers} {mark} {remark(one, calculation, draws)}".rstrip()


def page(results: Mapping[str, Result]) -> str:
    """The page, in Markdown.

    Args:
        results: by calculation.
    """
    every = [one for result in results.values() for one in result.members]
    lines = [
        HEAD.format(
            least=LEAST,
            most=MOST,
            sigmas=SIGMAS,
            times=TIMES,
            outside=sum(1 for one in every if one.outside),
            all=len(every),
            low=sum(1 for result in results.values() for one in result.members if one.truly_low(result.draws)),
        )
    ]
    for calculation, result in sorted(results.items()):
        tried = sum(one.requests for one in result.members)
        mean = sum(one.mean * one.requests for one in result.members) / tried
        beyond = f"; {result.lost:.1%} of the draws were beyond the data" if result.lost >= 5e-4 else ""
        lines += [
            f"## {calculation}\n",
            f"Mean over all members: {mean:.1%}{beyond}. {result.requests} requests, {result.draws} draws for each, "
            f"seed {result.seed}; a single request scatters by {scatter(0.95, result.draws):.1%}.\n",
            "| member | tried | mean | least single | remark |",
            "|---|---:|---:|---:|---|",
            *(
                f"| `{one.member[1:]}` | {one.requests} | {one.mean:.1%} | {one.least:.1%} "
                f"| {remark(one, calculation, result.draws)} |"
                for one in result.members
            ),
            "",
        ]
    return "\n".join(lines)
