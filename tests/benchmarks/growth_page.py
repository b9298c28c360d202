"""The page of growth, results/growth.md, and its drawings, made from what is kept."""

from collections.abc import Sequence
from math import log10
from typing import Final

from tests.benchmarks.growth import Growth, Point, Series
from tests.benchmarks.results import about, kept
from tests.benchmarks.turns import AGREE, LEAST_TURNS, MOST_TURNS

STRAIGHT: Final = 0.25
"""Share by which a size may be off the straight line and still be called straight."""
TITLES: Final = {
    "fats": "Saponification by fats",
    "points": "Mixing by points of its path",
    "items": "Splits at once",
    "lines": "Production plan by order lines",
    "callers": "Callers at once",
}
WHY: Final = {
    "fats": (
        "Each fat is read, weighed into the sums and told once, and an interval sums over them once: so much for "
        "each, and so much for the rest of the request. Two hundred is the most that is taken."
    ),
    "points": (
        "A point is found from where the last three lead to, in about as many calls however far apart they lie (the "
        "last column, from a hundred points on). What is sought once (the peak, the least distance from boiling) is "
        "most of them where points are few. Callers get 50; a thousand is the most that chemistry itself takes."
    ),
    "items": (
        "Items are taken one after the other and their answers are sent on, so time is so much for each, and so much "
        "for the call. The body (some 200 bytes an item) is there before and is not counted. Beyond it, two copies are "
        "held for a moment while it is looked at as a whole, then an object for each item that points into it; and "
        "some answers on their way, no more of them from a hundred items on."
    ),
    "lines": (
        "Every plan here reads two hundred recipes, which is all there is to the least one. Up to some hundred lines "
        "nearly each is of another article, whose batch and weighing list have to be reckoned; from a thousand on all "
        "articles are there, and a line more is so much for itself, its batches and its days."
    ),
    "callers": (
        "One core answers so many a second, whoever asks; so each waits for as long as all the others take. The "
        "service holds what each has at hand, and no thread for any."
    ),
}
BENT: Final = {
    ("points", "ms"): "two points have none between them, so that no peak is sought: they lie far below the others",
    ("items", "kib"): (
        "answers on their way are held up to some number, which a hundred items reach; from there on only what each "
        "item leaves grows"
    ),
    ("lines", "ms"): "articles are met for the first time up to some hundred lines, and hardly any from a thousand on",
    ("lines", "kib"): "the same: a line of an article that is there already adds less than one of a new article",
}
"""Causes of what is not straight, where there is one in what the service does."""
_W, _H, _LEFT, _TOP, _WIDE, _HIGH = 760, 300, 62, 34, 290, 210


def line_through(points: Sequence[Point], which: str) -> tuple[float, float]:
    """What is there at no size, and what each adds: the straight line that is least off, by shares.

    Args:
        points: sizes and what they took.
        which: `ms` or `kib`.
    """
    w: list[float] = [1 / max(getattr(one, which), 1e-9) ** 2 for one in points]
    x, y = [float(one.size) for one in points], [getattr(one, which) for one in points]
    sw = sum(w)
    mx, my = (sum(a * b for a, b in zip(w, v, strict=True)) / sw for v in (x, y))
    sxx = sum(a * (b - mx) ** 2 for a, b in zip(w, x, strict=True))
    sxy = sum(a * (b - mx) * (c - my) for a, b, c in zip(w, x, y, strict=True))
    each = sxy / sxx if sxx else 0.0
    return my - each * mx, each


def off(points: Sequence[Point], which: str) -> float:
    """The greatest share by which a size is off the line."""
    start, each = line_through(points, which)
    shares: list[float] = [abs((start + each * one.size) / max(getattr(one, which), 1e-9) - 1) for one in points]
    return max(shares)


def verdict(points: Sequence[Point], which: str, unit: str) -> str:
    """Whether it is straight, and how much a single one adds."""
    start, each = line_through(points, which)
    apart, last = off(points, which), points[-1]
    share = each * last.size / max(getattr(last, which), 1e-9)
    if apart <= STRAIGHT:
        if abs(share) < 0.1:
            return f"flat (off by {apart:.0%} at most)"
        return f"straight: {start:.3g} {unit} and {each:.3g} {unit} for each (off by {apart:.0%} at most)"
    powers = _powers(points, which)
    steepest = max(range(len(powers)), key=lambda place: powers[place])
    told = f"not one straight line (off by {apart:.0%})"
    if begun := straight_from(points, which):
        each = line_through(begun, which)[1]
        told += f", but straight from {begun[0].size} on, {each:.3g} {unit} for each"
    told += f"; from {points[-2].size} to {last.size} it grows as n^{powers[-1]:.2f}"
    if powers[steepest] - powers[-1] >= 0.01:
        told += f", at most as n^{powers[steepest]:.2f} ({points[steepest].size} to {points[steepest + 1].size})"
    return told


def straight_from(points: Sequence[Point], which: str) -> Sequence[Point]:
    """The sizes from the least one on from which the rest are straight; none where fewer than four are."""
    for place in range(len(points) - 3):
        if off(points[place:], which) <= STRAIGHT:
            return points[place:]
    return []


def causes(one: Series) -> list[str]:
    """Why time, and memory, are not straight where they are not."""
    told = []
    for which, name in (("ms", "Time"), ("kib", "Memory")):
        if (which == "kib" and one.name == "callers") or off(one.points, which) <= STRAIGHT:
            continue
        known = BENT.get((one.name, which), "no cause is known in what the service does")
        told.append(f"{name} is not one straight line: {known}.")
        counted = [each.calls for each in one.points]
        if which == "ms" and None not in counted:
            bent = off(one.points, "calls") > STRAIGHT
            more = (
                "the calls are not, either, so there is more or less to do"
                if bent
                else ("the calls are, so what bends is what a call takes on this machine, and not how many there are")
            )
            told.append(f"Of the functions that are called: {more}.")
        if which == "ms" and (loose := [str(each.size) for each in one.points if each.apart and each.apart > AGREE]):
            told.append(f"The two best turns differ by more than {AGREE:.0%} at {', '.join(loose)}.")
    return told


def _powers(points: Sequence[Point], which: str) -> list[float]:
    """The power with which each size grows to the next."""
    values = [max(float(getattr(one, which)), 1e-9) for one in points]
    steps = zip(points, points[1:], values, values[1:], strict=False)
    return [log10(after / before) / log10(b.size / a.size) for a, b, before, after in steps]


def of_callers(points: Sequence[Point]) -> str:
    """How the memory of the service grows with its callers."""
    least, most = points[0], points[-1]
    grown = most.kib - least.kib
    told = f"{least.kib / 1024:.1f} MiB with {least.size}, {most.kib / 1024:.1f} MiB with {most.size}"
    return f"{told}: {grown / max(1, most.size - least.size):.1f} KiB for each more"


def _axis(values: Sequence[float]) -> tuple[int, int]:
    """Powers of ten that enclose values."""
    low, high = min(values), max(values)
    first = int(log10(low) // 1)
    last = first + 1
    while 10**last < high:
        last += 1
    return first, last


def _plot(at: int, title: str, points: Sequence[Point], which: str) -> list[str]:
    sizes = [float(one.size) for one in points]
    values = [max(float(getattr(one, which)), 1e-3) for one in points]
    (x0, x1), (y0, y1) = _axis(sizes), _axis(values)

    def place(size: float, value: float) -> tuple[float, float]:
        right = at + _WIDE * (log10(size) - x0) / (x1 - x0)
        return right, _TOP + _HIGH * (1 - (log10(value) - y0) / (y1 - y0))

    out = [f'<text x="{at}" y="20" font-weight="bold">{title}</text>']
    for power in range(x0, x1 + 1):
        x, _ = place(10.0**power, 10.0**y0)
        out.append(f'<path d="M{x:.1f} {_TOP}V{_TOP + _HIGH}" stroke="#ccc"/>')
        out.append(f'<text x="{x:.1f}" y="{_TOP + _HIGH + 18}" text-anchor="middle">{10**power}</text>')
    for power in range(y0, y1 + 1):
        _, y = place(10.0**x0, 10.0**power)
        out.append(f'<path d="M{at} {y:.1f}h{_WIDE}" stroke="#ccc"/>')
        out.append(f'<text x="{at - 6}" y="{y + 4:.1f}" text-anchor="end">{10.0**power:g}</text>')
    start, each = line_through(points, which)
    steps = [sizes[0] * (sizes[-1] / sizes[0]) ** (i / 40) for i in range(41)]
    fitted = [place(one, start + each * one) for one in steps if start + each * one >= 10.0**y0]
    if fitted:
        drawn = " ".join(f"{x:.1f},{y:.1f}" for x, y in fitted)
        out.append(f'<polyline points="{drawn}" fill="none" stroke="#888" stroke-dasharray="4 3"/>')
    for size, value in zip(sizes, values, strict=True):
        x, y = place(size, value)
        out.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4" fill="#004f7c"/>')
    return out


def drawing(one: Series) -> str:
    """Time and memory side by side, both axes by powers of ten; dashed is the straight line of the table."""
    title = TITLES[one.name]
    held = "resident, KiB" if one.name == "callers" else "held at most, KiB"
    took = "median latency, ms" if one.name == "callers" else "processor time, ms"
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_W} {_H}" font-family="sans-serif" font-size="12" '
        f'role="img" aria-label="{title}: time and memory">',
        f'<rect width="{_W}" height="{_H}" fill="#fff"/>',
        *_plot(_LEFT, f"{title}: {took}", one.points, "ms"),
        *_plot(_LEFT + _WIDE + 78, held, one.points, "kib"),
        f'<text x="{_LEFT}" y="{_H - 16}">dashed: the straight line that is least off, by shares</text>',
        "</svg>",
    ]
    return "\n".join([*lines, ""])


def _memory(one: Series) -> str:
    return of_callers(one.points) if one.name == "callers" else verdict(one.points, "kib", "KiB")


def _row(one: Point) -> str:
    turns = "" if one.turns is None else str(one.turns)
    apart = "" if one.apart is None else f"{one.apart:.1%}"
    called = "" if one.calls is None else f"{one.calls / one.size:.4g}"
    took = f"{one.ms:.3g} | {one.kib:.0f} | {1000 * one.ms / one.size:.3g}"
    return f"| {one.size} | {took} | {turns} | {apart} | {called} |"


def _older(it: Growth) -> list[str]:
    if all(point.turns for one in it.series for point in one.points):
        return []
    return [
        "**Not to be relied on:** these figures are older; they are of repeated requests and of five turns in a row."
    ]


def page(it: Growth) -> str:
    """The page."""
    lines = [
        "# How time and memory grow",
        "",
        "Made from `growth.json`, which `python -m tests.benchmarks.growth` measures and writes. Time is processor",
        f"time, the best of {LEAST_TURNS} to {MOST_TURNS} turns: all sizes in turn, in another order each time, until",
        f"the two best of a size differ by {AGREE:.0%} at most. Every request is new, so that nothing which is kept",
        "answers it. Memory is the most that was held beyond what was held before. Of callers time is the median",
        "latency, by the clock, and memory the most that a new service held meanwhile (resident), from few callers to",
        "many. Calls are those of functions, of Python and of C, which no machine and no other program changes.",
        "",
        f"A series is called straight where no size is off one straight line by more than {STRAIGHT:.0%}. Where it is",
        "not, the last and the greatest power tell how it grows from one size to the next; between neighbours a power",
        "also holds what the turns differ by.",
        *_older(it),
        "",
        about(it.machine),
        "",
        "| by | time | memory |",
        "|---|---|---|",
        *(f"| {TITLES[one.name]} | {verdict(one.points, 'ms', 'ms')} | {_memory(one)} |" for one in it.series),
        "",
    ]
    for one in it.series:
        lines += [
            f"## {TITLES[one.name]}",
            "",
            f"![time and memory](growth-{one.name}.svg)",
            "",
            f"Why: {WHY[one.name]}",
            "",
            *([" ".join(bent), ""] if (bent := causes(one)) else []),
            f"| {one.name} | ms | KiB | µs for each | turns | best two apart | calls for each |",
            "|---|---|---|---|---|---|---|",
            *(_row(each) for each in one.points),
            "",
        ]
    return "\n".join(lines)


def files() -> dict[str, str]:
    """The page and its drawings; nothing where nothing was measured."""
    it = kept("growth", Growth)
    if it is None:
        return {}
    return {"growth.md": page(it)} | {f"growth-{one.name}.svg": drawing(one) for one in it.series}
