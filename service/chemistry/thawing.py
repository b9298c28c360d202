"""Crystals in a cold stock: how much of it is solid at rest, and the heat that melts it.

At rest a cold stock is two of these side by side: liquor on the freezing line, ice, and hydrates; which two, and
how much of each, follows from the strength (lever rule). The enthalpy of liquor and ice is known. That of a
hydrate rests on its heat of fusion L, taken per kilogram to a liquid of the hydrate's own strength.

Of NaOH·H2O the enthalpy was measured. Of the hydrates with 2, 3.5 and 4 H2O, L was computed for this project from
the slope of the freezing line: with n molecules of water per hydroxide in the crystal and N in the liquor, the heat
that one mole of crystal takes to dissolve in its liquor is

    R T^2 (n - N) (d ln a / dN)_T dN/dT        a = activity of water

(from Gibbs and Duhem). The points of the line scatter, so the limits are wide. The same way gives -21.2 to -23.6
kJ/mol for the monohydrate, where -23.10 was measured. Of the other hydrates no figure is known here, and none is made
up.

References:
    .. [1] S. U. Pickering, J. Chem. Soc. 63 (1893) 890-909, and Wang et al. 2008: the freezing line.
    .. [2] H. Olsson, A. Jernqvist, G. Aly, Int. J. Thermophys. 18 (1997) 779-793: the activity of water.
    .. [3] V. B. Parker, NSRDS-NBS 2 (1965): the monohydrate.
"""

from bisect import bisect_left, bisect_right
from functools import lru_cache
from typing import Final, NamedTuple

from service.chemistry.enthalpy import EXTENDED_RANGE, HIGHEST_MASS_FRACTION, at_strength, hydrate_enthalpy
from service.chemistry.freezing import ICE_LINES, KNOT_TEMPERATURES, KNOTS, SOLID_NAMES, first_solid
from service.chemistry.molar_masses import ALKALI, WATER, Alkali
from service.chemistry.ranges import ROUNDING, require, require_mass_fraction
from service.chemistry.water import ZERO, ice_enthalpy

COLDEST: Final = EXTENDED_RANGE[0]
"""Temperature down to which the enthalpy of liquor is continued, that of the eutectic of NaOH [°C]."""

_ICE_CAPACITY: Final = 37.8
"""Of one mole of ice at 0 °C [J/(mol K)]: water bound in a hydrate is taken alike, by Kopp and Neumann's rule (computed
from `ice_enthalpy`)."""
_SOLID_CAPACITY: Final = 59.5
"""Of NaOH [J/(mol K)] (CRC Handbook of Chemistry and Physics, in the package chemicals 1.5.2: seen-secondary)."""
_MONOHYDRATE_SPREAD: Final = 33e3
"""Limit of the monohydrate's enthalpy beside that of liquor [J/kg]: 1.9 kJ/mol, the most by which the slope of the
freezing line differs from what was measured (computed)."""
_ICE_SPREAD: Final = 0.03
"""Limit of the heat to melt ice, relative [-] (assumed: that of the freezing points, by which the share is found)."""


class Crystal(NamedTuple):
    """A solid that a cold stock may hold."""

    solid: str
    """Formula, or "ice"."""
    mass_fraction: float
    """Of hydroxide in it [-]."""
    melts: float
    """Above this there is none [°C]; there it melts, or decomposes."""
    fusion: tuple[float, float, float] | None
    """Heat of fusion to a liquid of the same strength: value, least, most [J/kg]; None where it is not known."""


class Frozen(NamedTuple):
    """A stock at rest at one temperature."""

    solid_share: float | None
    """Mass of solids per mass of stock, 0 where all is liquid [-]; None where no data reach."""
    solids: tuple[str, ...]
    """Their formulas."""
    liquor_strength: float | None
    """Of what is liquid [-]; None where nothing is."""
    heat: float | None
    """Heat that turns it into liquid of the same temperature [J/kg of stock]; None where no data reach."""
    low: float
    """Its least value; 0 where it is not known."""
    high: float
    """Its highest value; 0 where it is not known."""


ALL_LIQUID: Final = Frozen(0.0, (), None, 0.0, 0.0, 0.0)
"""Of a stock without a crystal: no solid share [-], and nothing to melt [J/kg] (exact)."""


def _crystal(n: float, melts: float, fusion: tuple[float, float, float] | None) -> Crystal:
    formula = "NaOH·H2O" if n == 1 else f"NaOH·{n:g}H2O"
    return Crystal(formula, ALKALI["NaOH"] / (ALKALI["NaOH"] + n * WATER), melts, fusion)


CRYSTALS: Final[dict[Alkali, tuple[Crystal, ...]]] = {
    "NaOH": (
        Crystal("ice", 0.0, 0.0, None),
        _crystal(7, -24.0, None),
        _crystal(5, -17.7, None),
        _crystal(4, 5.4, (204e3, 155e3, 250e3)),
        _crystal(3.5, 15.38, (215e3, 190e3, 255e3)),
        _crystal(2, 12.5, (261e3, 195e3, 305e3)),
        _crystal(1, 65.1, None),
    ),
    "KOH": (Crystal("ice", 0.0, 0.0, None),),
}
"""Solids by rising strength: molecules of water, temperature at which there is none above [°C], and heat of fusion with
its limits [J/kg]. The temperatures are those of Pickering, and of Wang for the dihydrate [1]_ (mixed: read in a text
and a plot that quote them, but for that of the monohydrate; the heats are this module's)."""


def frozen(alkali: Alkali, w: float, t: float) -> Frozen:
    """What of a stock is solid after long rest, and the heat that melts it.

    A stock in which nothing has crystallised yet, though it is cold enough, needs none of that heat.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        t: temperature [°C], from −28 up.

    Raises:
        OutOfRange: w or t outside that range.

    References:
        .. [1] balance of masses between neighbouring phases, with the freezing line of
           `service.chemistry.freezing.first_solid` and the heats of fusion of `CRYSTALS`.

    Examples:
        >>> found = frozen("NaOH", 0.5, 8.0)
        >>> found.solids, round(found.solid_share, 2)
        (('NaOH·2H2O',), 0.53)
    """
    w = require_mass_fraction(w, HIGHEST_MASS_FRACTION[alkali], "heats of stronger solutions are not known")
    require("temperature", t, COLDEST, 200.0, "heats of colder solutions are not known")
    first = first_solid(alkali, w)
    if t >= first.temperature:
        return ALL_LIQUID
    if first.solid == "ice":
        return _with_ice(alkali, w, t)
    if alkali == "KOH":
        return Frozen(None, (first.solid,), None, None, 0.0, 0.0)
    return _with_hydrates(w, t)


def _with_ice(alkali: Alkali, w: float, t: float) -> Frozen:
    strengths, temperatures = ICE_LINES[alkali]
    solids = ("ice",)
    if w == 0.0:
        heat = at_strength(alkali, 0.0).enthalpy(t) - ice_enthalpy(t)
        return Frozen(1.0, solids, None, heat, heat, heat)
    if t < temperatures[-1]:
        return Frozen(None, solids, None, None, 0.0, 0.0)
    liquor = _crossing(strengths, temperatures, t)
    ice = 1.0 - w / liquor
    strong, own = at_strength(alkali, liquor), at_strength(alkali, w)
    heat = own.enthalpy(t) - ice * ice_enthalpy(t) - (1.0 - ice) * strong.enthalpy(t)
    # What is uncertain in the heats of solution and liquor is common to both; the freezing line's 3 % is left.
    spread = _ICE_SPREAD * heat
    return Frozen(ice, solids, liquor, heat, heat - spread, heat + spread)


def _crossing(strengths: tuple[float, ...], temperatures: tuple[float, ...], t: float) -> float:
    """Strength at which a falling line of temperatures passes t."""
    i = bisect_right([-one for one in temperatures], -t)
    i = min(max(i, 1), len(strengths) - 1)
    share = (t - temperatures[i - 1]) / (temperatures[i] - temperatures[i - 1])
    return strengths[i - 1] + share * (strengths[i] - strengths[i - 1])


_HYDRATES: Final = CRYSTALS["NaOH"][1:]
_EUTECTIC: Final = ICE_LINES["NaOH"].strengths[-1]


class _Phase(NamedTuple):
    strength: float
    crystal: Crystal | None
    """None of liquor."""


def _with_hydrates(w: float, t: float) -> Frozen:
    weak, strong = _neighbour(w, t, -1), _neighbour(w, t, 1)
    apart = strong.strength - weak.strength
    share = (w - weak.strength) / apart if apart > 0.0 else 0.0  # apart by nothing: the strength is the crystal's own
    parts = ((1.0 - share, weak), (share, strong))
    solids = tuple(p.crystal.solid for mass, p in parts if p.crystal is not None and mass > 0.0)
    solid_share = sum(mass for mass, p in parts if p.crystal is not None)
    liquor = next((p.strength for _, p in parts if p.crystal is None), None)
    heat, spread_down, spread_up = at_strength("NaOH", w).enthalpy(t), 0.0, 0.0
    for mass, phase in parts:
        if phase.crystal is None:
            heat -= mass * at_strength("NaOH", phase.strength).enthalpy(t)
            continue
        known = _ENTHALPIES[phase.crystal.solid]
        if known is None:
            return Frozen(solid_share, solids, liquor, None, 0.0, 0.0)
        heat -= mass * (known.at_zero + known.slope * t)
        spread_down += mass * known.less
        spread_up += mass * known.more
    return Frozen(solid_share, solids, liquor, heat, max(0.0, heat - spread_down), heat + spread_up)


class _Line(NamedTuple):
    """Enthalpy of a hydrate [J/kg]: a straight line in temperature, and by how much the heat to melt it may differ."""

    at_zero: float
    slope: float
    less: float
    more: float


def _line(crystal: Crystal) -> _Line | None:
    per_mole = ALKALI["NaOH"] / crystal.mass_fraction
    n = (per_mole - ALKALI["NaOH"]) / WATER
    capacity = (_SOLID_CAPACITY + n * _ICE_CAPACITY) / per_mole
    if crystal.solid == "NaOH·H2O":
        at_25 = hydrate_enthalpy("NaOH") * WATER / per_mole
        return _Line(at_25 - capacity * ZERO, capacity, _MONOHYDRATE_SPREAD, _MONOHYDRATE_SPREAD)
    if crystal.fusion is None:
        return None
    value, least, most = crystal.fusion
    liquid = at_strength("NaOH", crystal.mass_fraction).enthalpy(crystal.melts)
    return _Line(liquid - value - capacity * crystal.melts, capacity, value - least, most - value)


_ENTHALPIES: Final = {crystal.solid: _line(crystal) for crystal in _HYDRATES}


def _neighbour(w: float, t: float, way: int) -> _Phase:
    """The phase that stands beside a strength within a field of solids, to the weaker (-1) or stronger (1) side.

    There is one always: liquor of the eutectic to the weaker side, the monohydrate to the stronger.
    """
    # Where it decomposes, all of its heat is still to come, however the unit of the temperature rounds.
    beside = [c for c in _HYDRATES if t < c.melts + ROUNDING and (c.mass_fraction - w) * way >= 0.0]
    if not beside:
        return _Phase(_liquor(w, t, _EUTECTIC), None)
    crystal = beside[0 if way > 0 else -1]  # by rising strength
    end = min(crystal.mass_fraction, HIGHEST_MASS_FRACTION["NaOH"])
    liquor = _liquor(w, t, end)
    return _Phase(crystal.mass_fraction, crystal) if liquor == end else _Phase(liquor, None)


def _liquor(w: float, t: float, end: float) -> float:
    """The strength nearest to w on the way to `end` whose first solid forms at t; `end` where there is none."""
    inner, warmer = w, first_solid("NaOH", w).temperature
    knots, temperatures = KNOTS["NaOH"], KNOT_TEMPERATURES["NaOH"]
    i = bisect_right(knots, w) if end > w else bisect_left(knots, w) - 1
    way = 1 if end > w else -1
    while 0 <= i < len(knots) and (knots[i] - end) * way < 0.0:
        outer, temperature = knots[i], temperatures[i]
        if temperature <= t:
            break
        inner, warmer = outer, temperature
        i += way
    else:
        outer, temperature = end, first_solid("NaOH", end).temperature
        if temperature > t:
            return end
    # The line is straight from the one, which is warmer than t, to the other, which is not.
    return inner + (outer - inner) * (warmer - t) / (warmer - temperature)


@lru_cache(maxsize=256)
def frozen_known(alkali: Alkali, w: float, t: float) -> Frozen:
    """As `frozen`, kept: a shop asks of the same stock in the same store again and again.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-].
        t: temperature [°C].

    Raises:
        OutOfRange: as `frozen`.

    References:
        .. [1] as `frozen`.
    """
    return frozen(alkali, w, t)


def names(found: Frozen) -> str:
    """The solids in English, for a sentence.

    Args:
        found: a stock that holds solids.
    """
    return " and ".join(SOLID_NAMES[solid] for solid in found.solids)
