"""Where caustic solutions begin to freeze: the first solid on cooling, and the line on which ice melts.

Interpolated linearly between published points, which come with limits.
"""

from bisect import bisect_right
from itertools import pairwise
from typing import Final, NamedTuple, cast

from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from service.chemistry.ranges import require_mass_fraction
from service.reference import tables
from service.reference.records import Evidence

SOLID_NAMES: Final = {
    "ice": "ice",
    "NaOH·7H2O": "sodium hydroxide heptahydrate",
    "NaOH·5H2O": "sodium hydroxide pentahydrate",
    "NaOH·4H2O": "sodium hydroxide tetrahydrate",
    "NaOH·3.5H2O": "sodium hydroxide 3.5-hydrate",
    "NaOH·2H2O": "sodium hydroxide dihydrate",
    "NaOH·H2O": "sodium hydroxide monohydrate",
    "KOH·4H2O": "potassium hydroxide tetrahydrate",
    "KOH·2H2O": "potassium hydroxide dihydrate",
}

_DOUBT: Final[tuple[Evidence, ...]] = ("seen-secondary", "mixed", "memory")


class FirstSolid(NamedTuple):
    """What crystallises first when a solution is cooled slowly."""

    temperature: float
    """°C."""
    low: float
    """°C, lower limit."""
    high: float
    """°C, upper limit; a solution above it is wholly liquid."""
    solid: str
    """Formula, or "ice"."""
    name: str
    """Name in English."""
    evidence: Evidence


class _Line(NamedTuple):
    strengths: tuple[float, ...]
    points: tuple[tuple[float, float, float], ...]
    solids: tuple[str, ...]
    evidence: tuple[Evidence, ...]
    between: tuple[Evidence, ...]
    """Of what is read off between a point and the next."""


class IceLine(NamedTuple):
    """The ice line in its knots, from water down to the last strength that data reach."""

    strengths: tuple[float, ...]
    temperatures: tuple[float, ...]


def _line(alkali: Alkali) -> _Line:
    table = tables.read("freezing_points.csv")
    strengths = table.select("mass_fraction", alkali=alkali)
    if any(a >= b for a, b in pairwise(strengths)):
        raise ValueError(f"freezing_points.csv: mass fractions of {alkali} must rise")
    columns = (table.select(name, alkali=alkali) for name in ("temperature", "low", "high"))
    rows = [row for row in table.rows if row["alkali"] == alkali]
    for number, row in enumerate(rows, start=1):
        if row["solid"] not in SOLID_NAMES or row["evidence"] not in _DOUBT:
            raise ValueError(f"freezing_points.csv, row {number} of {alkali}: unknown solid or evidence")
    evidence = tuple(cast("Evidence", row["evidence"]) for row in rows)
    return _Line(
        strengths,
        tuple(zip(*columns, strict=True)),
        tuple(row["solid"] for row in rows),
        evidence,
        tuple(_between(*pair) for pair in pairwise(evidence)),
    )


def _between(one: Evidence, other: Evidence) -> Evidence:
    """The worse of two points; one from memory beside one that was read makes a mixture."""
    worse = max(one, other, key=_DOUBT.index)
    return "mixed" if worse == "memory" and one != other else worse


_LINES: Final[dict[Alkali, _Line]] = {"NaOH": _line("NaOH"), "KOH": _line("KOH")}

KNOTS: Final[dict[Alkali, tuple[float, ...]]] = {"NaOH": _LINES["NaOH"].strengths, "KOH": _LINES["KOH"].strengths}
"""Mass fractions between which the temperature of the first solid is a straight line."""
KNOT_TEMPERATURES: Final[dict[Alkali, tuple[float, ...]]] = {
    "NaOH": tuple(point[0] for point in _LINES["NaOH"].points),
    "KOH": tuple(point[0] for point in _LINES["KOH"].points),
}
"""Temperatures of the first solid at the knots [°C]."""


def _ice_line(alkali: Alkali) -> IceLine:
    line = _LINES[alkali]
    seen = [i for i in range(len(line.solids)) if line.evidence[i] == "seen-secondary"]
    last = next(i for i in seen if line.solids[i + 1] != "ice" or line.evidence[i + 1] != "seen-secondary")
    if line.solids[last + 1] != "ice" and line.evidence[last + 1] == "seen-secondary":
        last += 1  # the eutectic: ice and a hydrate together
    return IceLine(line.strengths[: last + 1], tuple(point[0] for point in line.points[: last + 1]))


ICE_LINES: Final[dict[Alkali, IceLine]] = {"NaOH": _ice_line("NaOH"), "KOH": _ice_line("KOH")}
"""Knots of `ice_line`: NaOH to the eutectic (18.8 %, -28 °C), KOH to 7 % (-4.9 °C)."""

HIGHEST_MASS_FRACTION: Final[dict[Alkali, float]] = {"NaOH": 0.55, "KOH": 0.528}
"""Strongest solutions that a freezing point is given for [-] (assumed: NaOH as for heats; KOH to the last point)."""


def first_solid(alkali: Alkali, w: float) -> FirstSolid:
    """Temperature at which the first solid appears on slow cooling, its limits, and the solid.

    KOH above 7 % rests on a eutectic from memory and four points: the limits are wide and the evidence says so. Below,
    Pitzer's osmotic coefficients come out up to 3.6 % of the depression lower than the table [3]_, and the limits hold
    them.
    A quiet solution may be cooled below this temperature and stay liquid for a time.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.528.

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] S. U. Pickering, J. Chem. Soc. 63 (1893) 890-909, hydrates of NaOH, as summarised in an encyclopedia.
        .. [2] Wang et al., Cellulose Fiber Dissolution in Sodium Hydroxide Solution at Low Temperature: Dissolution
           Kinetics and Solubility Improvement (2008), a plot digitised in the package absorptionlib 1.1.0 (NaOH). The
           title is as the package quotes it; the work was not at hand, nor where it appeared or whose plot it is.
        .. [3] CRC Handbook of Chemistry and Physics, 102nd ed. (2021), freezing depressions: NaOH to 14 %,
           KOH to 7 %.
        .. [4] ASTM E291-09; Great Soviet Encyclopedia (KOH 45 to 52.8 %).

    Examples:
        >>> first_solid("NaOH", 0.388).solid
        'NaOH·3.5H2O'
    """
    w = require_mass_fraction(w, HIGHEST_MASS_FRACTION[alkali], "freezing points were read up to there")
    line = _LINES[alkali]
    i = min(bisect_right(line.strengths, w), len(line.strengths) - 1) - 1
    share = (w - line.strengths[i]) / (line.strengths[i + 1] - line.strengths[i])
    t, low, high = line.points[i]
    next_t, next_low, next_high = line.points[i + 1]
    return FirstSolid(
        t + share * (next_t - t),
        low + share * (next_low - low),
        high + share * (next_high - high),
        line.solids[i],
        SOLID_NAMES[line.solids[i]],
        line.evidence[i] if share == 0.0 else line.between[i],
    )


def ice_line(alkali: Alkali, w: float) -> float:
    """Temperature at which ice and a solution of this strength are in equilibrium [°C].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide in the liquid [-], NaOH 0 to 0.188 (the eutectic), KOH 0 to 0.07.

    Raises:
        OutOfRange: w beyond the data.

    References:
        .. [1] as `first_solid`.
    """
    strengths, temperatures = ICE_LINES[alkali]
    if not 0.0 <= w <= strengths[-1]:
        why = "the eutectic of ice and the heptahydrate" if alkali == "NaOH" else "no freezing points beyond it"
        raise OutOfRange("mass_fraction", w, 0.0, strengths[-1], why)
    i = min(bisect_right(strengths, w), len(strengths) - 1) - 1
    share = (w - strengths[i]) / (strengths[i + 1] - strengths[i])
    return temperatures[i] + share * (temperatures[i + 1] - temperatures[i])
