"""Enthalpy of caustic solutions, of the solid hydroxides and of their bound water.

Zero: the pure solid hydroxide at 25 °C and liquid water at 25 °C, each zero, so that mixing both at 25 °C is
h = 0 and every other start is one more term. With w the mass fraction and m the molality,

    h(w, t) = w q(w) + I(w, t)
    q(w)    = (dH_inf + phi_L) / M                    heat of solution at 25 °C
    phi_L   = (A/b) ln(1 + b sqrt m) + sum p_k w^k    A = 1.986 kJ kg^0.5 mol^-1.5, b = 1.2
    I(w, t) = integral of c_p from 25 °C to t
    c_p     = water's + sum a_ej w^e (t/100)^j        e = 1, 1.5, 2, 3; j = 0, 1, 2

A is the slope by the dielectric constant of D. J. Bradley and K. S. Pitzer (J. Phys. Chem. 83 (1979) 1599-1603), which
the parameters below 4 mol/kg go with. By that of IAPWS R8-97 it is 1.972; polynomials fitted beside it would take up
the difference, at most 0.02 kJ/mol.

The coefficients were fitted for this project; `alkali_enthalpy.csv` names the data behind them. The polynomials
must not be used beyond the strengths given. For w fixed h is a polynomial in t, which `at_strength` gives.
"""

import math
from collections.abc import Callable
from functools import lru_cache
from typing import Final

from service.chemistry.molar_masses import ALKALI, WATER, Alkali
from service.chemistry.ranges import ROUNDING, require, require_mass_fraction
from service.chemistry.water import ZERO
from service.reference import tables

_TABLE: Final = tables.read("alkali_enthalpy.csv")
_POWERS: Final = ("1", "1.5", "2", "3")
_SLOPE: Final = 1e3 * _TABLE.select(part="debye_hueckel_slope [kJ kg^0.5 mol^-1.5]")[0]
_DISTANCE: Final = _TABLE.select(part="debye_hueckel_distance [kg^0.5 mol^-0.5]")[0]
_REFERENCE: Final = ZERO / 100.0

_DILUTION_SPREAD: Final[dict[Alkali, tuple[float, float]]] = {"NaOH": (200.0, 500.0), "KOH": (300.0, 1200.0)}
"""95 % half widths of the heat of dilution [J/mol]: in water, and the rise of it to `_RISEN` (assumed, by the
disagreement of independent routes). Of these Thomsen's heats, of both, and Felder and Rousseau's, of NaOH, are from
memory."""
_RISEN: Final = 0.5
"""Mass fraction at which that rise is complete [-] (assumed)."""
_SOLUTION_SPREAD: Final = 200.0
"""95 % half width of the heat of solution at infinite dilution [J/mol] (assumed)."""
_DRIFT: Final = 0.10
"""Distance of two strengths over which sources wander by all of the first of `_DILUTION_SPREAD` [-] (assumed)."""
_TRACE: Final = 1e-12
"""Least strength counted, lest two of pure water divide by nothing [-] (numerical)."""
_CAPACITY_SPREAD: Final = 0.03
_CAPACITY_SPREAD_FROM: Final = 0.25
"""95 % half width of heat capacities, relative, from the second, a mass fraction, up [-] (assumed, by the disagreement
of the sources). At 25 to 30 % the slope of Olsson's enthalpy lies up to 2.8 % above ours between 8 and 20 °C, and 1.9 %
at 140 °C."""
START: Final = 60.0
"""Where searches for a temperature begin [°C] (numerical)."""
_CLOSE: Final = 1e-6
_SHIFTED_CLOSE: Final = 1e-4
_LEVEL: Final = 1e-12
_SHIFTED_LEVEL: Final = 1e-10
"""Steps after which a search ends, and below which none is taken, in hundreds of kelvins; those of a shifted one in
[K] (numerical)."""


class _Coefficients:
    """Coefficients of one alkali in SI units, arranged for summing."""

    def __init__(self, alkali: Alkali) -> None:
        def figure(part: str) -> float:
            return _TABLE.select(substance=alkali, part=part)[0]

        self.molar_mass = ALKALI[alkali]
        self.infinite_dilution = 1e3 * figure("infinite_dilution [kJ/mol]")
        monohydrate = 1e3 * figure("monohydrate_infinite_dilution [kJ/mol]")
        self.hydrate = (self.infinite_dilution - monohydrate) / WATER
        self.solid_heat_capacity = figure("solid_heat_capacity [J/(mol K)]") / self.molar_mass
        self.dilution = tuple(1e3 * p for p in reversed(_TABLE.select(substance=alkali, part="phi_L")))
        water = _TABLE.select(substance="water", part="heat_capacity")
        # What multiplies x^(j+1) in I, x = t/100: 100 K times 1000 J/kJ over j + 1.
        self.water = tuple(1e5 * c / (j + 1) for j, c in enumerate(water))
        by_power = [_TABLE.select(substance=alkali, part=f"heat_capacity w^{e}") for e in _POWERS]
        self.capacity = tuple(tuple(1e5 * a[j] / (j + 1) for a in by_power) for j in range(3))
        least, rise = _DILUTION_SPREAD[alkali]
        self.at_hand = (
            self.molar_mass,
            self.infinite_dilution,
            least,
            rise / _RISEN,
            (0.0,) * (6 - len(self.dilution)) + self.dilution,
            tuple(a for row in self.capacity for a in row),
            self.water,
        )
        """What an enthalpy is made of: molar mass, heat at infinite dilution, its spread in water and the rise of that
        with the mass fraction, the polynomials of dilution and of heat capacity, and that of water."""


_COEFFICIENTS: Final[dict[Alkali, _Coefficients]] = {"NaOH": _Coefficients("NaOH"), "KOH": _Coefficients("KOH")}

HIGHEST_MASS_FRACTION: Final[dict[Alkali, float]] = {"NaOH": 0.55, "KOH": 0.50}
"""Strengths to which the polynomials were fitted [-] (numerical)."""
HIGHEST_TEMPERATURE: Final[dict[Alkali, float]] = {"NaOH": 150.0, "KOH": 120.0}
"""Temperatures to which heat capacities were fitted, from 0 °C [°C] (numerical)."""
COLDEST_SOLID: Final = -40.0
"""Down to which the heat capacity of the solids is taken for that at 25 °C [°C] (assumed)."""
EXTENDED_RANGE: Final = (-28.0, 200.0)
"""To which the polynomials run on smoothly without data [°C]: only where the caller asks for it (assumed)."""
BOUND_WATER_LIMIT: Final[dict[Alkali, float]] = {
    "NaOH": WATER / ALKALI["NaOH"],
    "KOH": WATER / ALKALI["KOH"],
}
"""Water bound per hydroxide in the monohydrate [kg/kg]."""
_WHY_STRENGTH: Final[dict[Alkali, str]] = {
    "NaOH": "heats of caustic soda were fitted up to 55 %",
    "KOH": "heats of caustic potash were fitted up to 50 %",
}


class Strength:
    """Enthalpy of one alkali at one strength: a polynomial in temperature. Made by `at_strength`.

    Its methods do no range check, since they serve inner loops; callers hold to the ranges of `enthalpy`.

    Attributes:
        mass_fraction: mass fraction of hydroxide [-].
        at_25: enthalpy at 25 °C, the heat of solution per mass of solution [J/kg].
        fixed_spread: 95 % half width of `at_25` [J/kg].
        capacity_spread: 95 % half width of the heat capacity, relative [-].
    """

    __slots__ = ("_c", "at_25", "capacity_spread", "fixed_spread", "mass_fraction")

    def __init__(self, alkali: Alkali, w: float) -> None:
        # Written out, with its coefficients at hand: a mixing is made of dozens of strengths, each asked for once.
        molar_mass, infinite, least, rise, polynomial, capacity, water = _COEFFICIENTS[alkali].at_hand
        p6, p5, p4, p3, p2, p1 = polynomial
        phi = (((((p6 * w + p5) * w + p4) * w + p3) * w + p2) * w + p1) * w
        phi += _SLOPE / _DISTANCE * math.log(1.0 + _DISTANCE * math.sqrt(w / (molar_mass * (1.0 - w))))
        self.mass_fraction = w
        self.at_25 = at_25 = w * (infinite + phi) / molar_mass
        w15, w2 = w * math.sqrt(w), w * w
        w3 = w2 * w
        a, b, c, d, e, f, g, h, p, q, r, s = capacity
        c1, c2, c3, c4, c5, c6 = water
        c1 += a * w + b * w15 + c * w2 + d * w3
        c2 += e * w + f * w15 + g * w2 + h * w3
        c3 += p * w + q * w15 + r * w2 + s * w3
        x = _REFERENCE
        c0 = at_25 - (((((c6 * x + c5) * x + c4) * x + c3) * x + c2) * x + c1) * x
        self._c = (c0, c1, c2, c3, c4, c5, c6)
        self.fixed_spread = w * math.hypot(least + rise * w, _SOLUTION_SPREAD) / molar_mass
        self.capacity_spread = _CAPACITY_SPREAD * (w / _CAPACITY_SPREAD_FROM if w < _CAPACITY_SPREAD_FROM else 1.0)

    def enthalpy(self, t: float) -> float:
        """Enthalpy [J/kg].

        Args:
            t: temperature [°C], within `EXTENDED_RANGE`.
        """
        c0, c1, c2, c3, c4, c5, c6 = self._c
        x = t / 100.0
        return (((((c6 * x + c5) * x + c4) * x + c3) * x + c2) * x + c1) * x + c0

    def heat_capacity(self, t: float) -> float:
        """Isobaric heat capacity [J/(kg K)].

        Args:
            t: temperature [°C], within `EXTENDED_RANGE`.
        """
        _, c1, c2, c3, c4, c5, c6 = self._c
        x = t / 100.0
        return (((((6.0 * c6 * x + 5.0 * c5) * x + 4.0 * c4) * x + 3.0 * c3) * x + 2.0 * c2) * x + c1) / 100.0

    def temperature(self, h: float, start: float = START, inert: float = 0.0, shift: float = 0.0) -> float:
        """Temperature [°C] at which a solution and inert matter beside it have this enthalpy, by Newton's method.

        The heat capacity of solutions hardly changes with temperature: a step leaves about a thousandth of its square
        in kelvins, so that none is taken to prove that the last was small.

        Args:
            h: enthalpy of both per mass of the solution [J/kg].
            start: first guess [°C].
            inert: heat capacity of the inert matter per mass of the solution [J/(kg K)].
            shift: half widths of the 95 % interval by which the solution's enthalpy is lowered [-].
        """
        if shift:
            return self._shifted_temperature(h, start, inert, shift)
        c0, c1, c2, c3, c4, c5, c6 = self._c
        c0 -= h + ZERO * inert
        c1 += 100.0 * inert
        x = start / 100.0
        for _ in range(30):
            value = (((((c6 * x + c5) * x + c4) * x + c3) * x + c2) * x + c1) * x + c0
            slope = ((((6.0 * c6 * x + 5.0 * c5) * x + 4.0 * c4) * x + 3.0 * c3) * x + 2.0 * c2) * x + c1
            step = value / slope
            if -_CLOSE < step < _CLOSE:
                # No step is taken by what the last one left: a path that is level stays so.
                return 100.0 * (x - step) if abs(step) > _LEVEL else 100.0 * x
            x -= step
        return 100.0 * x

    def _shifted_temperature(self, h: float, start: float, inert: float, shift: float) -> float:
        c0, c1, c2, c3, c4, c5, c6 = self._c
        fixed, r, at_25 = self.fixed_spread, self.capacity_spread, self.at_25
        t = start
        for _ in range(40):
            x = t / 100.0
            value = (((((c6 * x + c5) * x + c4) * x + c3) * x + c2) * x + c1) * x + c0
            slope = (((((6.0 * c6 * x + 5.0 * c5) * x + 4.0 * c4) * x + 3.0 * c3) * x + 2.0 * c2) * x + c1) / 100.0
            warmed = r * (value - at_25)
            spread = math.hypot(fixed, warmed)
            if spread:
                slope -= shift * r * warmed * slope / spread
                value -= shift * spread
            step = (value + inert * (t - ZERO) - h) / (slope + inert)
            if -_SHIFTED_CLOSE < step < _SHIFTED_CLOSE:
                return t - step if abs(step) > _SHIFTED_LEVEL else t
            t -= step
        return t

    def half_width(self, t: float) -> float:
        """95 % half width of `enthalpy` [J/kg].

        Args:
            t: temperature [°C], within `EXTENDED_RANGE`.
        """
        return math.hypot(self.fixed_spread, self.capacity_spread * (self.enthalpy(t) - self.at_25))


@lru_cache(maxsize=256)
def at_strength(alkali: Alkali, w: float) -> Strength:
    """Enthalpy as a function of temperature at one strength; the quick way for many temperatures.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] as `enthalpy`.
    """
    return Strength(alkali, require_mass_fraction(w, HIGHEST_MASS_FRACTION[alkali], _WHY_STRENGTH[alkali]))


@lru_cache(maxsize=16)
def isotherm(alkali: Alkali, t: float, shift: float = 0.0) -> Callable[[float], float]:
    """Enthalpy [J/kg] as a function of the mass fraction, at one temperature; the quick way for many strengths.

    At one temperature I(w, t) is a polynomial in the root of w, so that few steps are left for each strength. The
    function does no range check, since it serves inner loops; callers hold to the strengths of `enthalpy`.

    Args:
        alkali: NaOH or KOH.
        t: temperature [°C], −28 to 200.
        shift: half widths of the 95 % interval by which the enthalpy is lowered [-].

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] as `enthalpy` and `enthalpy_half_width`.

    Examples:
        >>> round(isotherm("NaOH", 25.0)(0.5) / 1e3, 1)
        -299.2
    """
    _require_temperature(alkali, t, extended=True)
    k = _COEFFICIENTS[alkali]
    x, y = t / 100.0, _REFERENCE
    d1, d2, d3, d4, d5, d6 = x - y, x**2 - y**2, x**3 - y**3, x**4 - y**4, x**5 - y**5, x**6 - y**6
    c1, c2, c3, c4, c5, c6 = k.water
    water = c1 * d1 + c2 * d2 + c3 * d3 + c4 * d4 + c5 * d5 + c6 * d6
    a, b, c, d = (e1 * d1 + e2 * d2 + e3 * d3 for e1, e2, e3 in zip(*k.capacity, strict=True))
    p6, p5, p4, p3, p2, p1 = (0.0,) * (6 - len(k.dilution)) + k.dilution
    infinite, per_mole, slope = k.infinite_dilution, 1.0 / k.molar_mass, _SLOPE / _DISTANCE
    least, rise = _DILUTION_SPREAD[alkali]
    rise /= _RISEN
    sqrt, log, hypot = math.sqrt, math.log, math.hypot

    def enthalpy_at(w: float) -> float:
        polynomial = (((((p6 * w + p5) * w + p4) * w + p3) * w + p2) * w + p1) * w
        phi = slope * log(1.0 + _DISTANCE * sqrt(w * per_mole / (1.0 - w))) + polynomial
        warmed = water + w * (a + b * sqrt(w) + w * (c + d * w))
        h: float = w * (infinite + phi) * per_mole + warmed
        if shift:
            fixed = w * hypot(least + rise * w, _SOLUTION_SPREAD) * per_mole
            h -= shift * hypot(fixed, _CAPACITY_SPREAD * min(w / _CAPACITY_SPREAD_FROM, 1.0) * warmed)
        return h

    return enthalpy_at


def _require_temperature(alkali: Alkali, t: float, extended: bool) -> None:
    low, high = EXTENDED_RANGE if extended else (0.0, HIGHEST_TEMPERATURE[alkali])
    why = "beyond it nothing is known" if extended else "heat capacities were fitted from 0 °C up to there"
    require("temperature", t, low, high, why)


def enthalpy(alkali: Alkali, w: float, t: float, *, extended: bool = False) -> float:
    """Enthalpy of the liquid solution [J/kg], zero as the module says.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        t: temperature [°C], NaOH 0 to 150, KOH 0 to 120.
        extended: allow −28 to 200 °C, where the polynomial runs on beyond the data.

    Raises:
        OutOfRange: w or t outside that range.

    References:
        .. [1] V. B. Parker, NSRDS-NBS 2 (1965), heats of solution at infinite dilution.
        .. [2] H. Olsson, A. Jernqvist, G. Aly, Int. J. Thermophys. 18 (1997) 779-793 (NaOH above 13 %).
        .. [3] L. F. Silvester, K. S. Pitzer, J. Solution Chem. 7 (1978) 327-337 (NaOH below 4 mol/kg).
        .. [4] J. Balej, Int. J. Hydrogen Energy 10 (1985) 233-243, and J. Thomsen, Thermochemische
           Untersuchungen (from memory) (KOH).
        .. [5] M. Laliberté, J. Chem. Eng. Data 54 (2009) 1725-1760 (heat capacities).

    Examples:
        >>> round(enthalpy("NaOH", 0.5, 25.0) / 1e3, 1)
        -299.2
    """
    _require_temperature(alkali, t, extended)
    return at_strength(alkali, w).enthalpy(t)


def heat_capacity(alkali: Alkali, w: float, t: float, *, extended: bool = False) -> float:
    """Isobaric heat capacity of the solution [J/(kg K)].

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        t: temperature [°C], NaOH 0 to 150, KOH 0 to 120.
        extended: allow −28 to 200 °C, where the polynomial runs on beyond the data.

    Raises:
        OutOfRange: w or t outside that range.

    References:
        .. [1] M. Laliberté 2009 (NaOH to 30 %, KOH to 46.5 %); slope of Olsson's enthalpy (NaOH from 40 %).

    Examples:
        >>> round(heat_capacity("NaOH", 0.5, 25.0))
        3250
    """
    _require_temperature(alkali, t, extended)
    return at_strength(alkali, w).heat_capacity(t)


def heat_of_solution(alkali: Alkali, w: float) -> float:
    """Enthalpy change on dissolving the pure solid in water to strength w at 25 °C [J per kg of hydroxide].

    Negative: heat is given off. At w = 0 it is the value at infinite dilution.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide reached [-], NaOH 0 to 0.55, KOH 0 to 0.50.

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] as `enthalpy`.
    """
    if w == 0.0:
        k = _COEFFICIENTS[alkali]
        return k.infinite_dilution / k.molar_mass
    return at_strength(alkali, w).at_25 / w


def solid_heat_capacity(alkali: Alkali) -> float:
    """Heat capacity of the pure solid at 25 °C [J/(kg K)].

    Args:
        alkali: NaOH or KOH.

    References:
        .. [1] CRC Handbook of Chemistry and Physics, standard thermodynamic properties: 59.5 and 68.9 J/(mol K).
    """
    return _COEFFICIENTS[alkali].solid_heat_capacity


def solid_enthalpy(alkali: Alkali, t: float) -> float:
    """Enthalpy of the pure solid relative to 25 °C [J/kg], with the heat capacity at 25 °C.

    Args:
        alkali: NaOH or KOH.
        t: temperature [°C], −40 to 150.

    Raises:
        OutOfRange: t outside that range.

    References:
        .. [1] as `solid_heat_capacity`.
    """
    require("temperature", t, COLDEST_SOLID, 150.0, "the heat capacity of the solid is known at 25 °C only")
    return solid_heat_capacity(alkali) * (t - ZERO)


def hydrate_enthalpy(alkali: Alkali) -> float:
    """Enthalpy at 25 °C of water bound in the solid as monohydrate [J per kg of bound water]; negative.

    That much less heat is given off when a solid that holds moisture dissolves.

    Args:
        alkali: NaOH or KOH.

    References:
        .. [1] V. B. Parker, NSRDS-NBS 2 (1965): difference of the heats of solution at infinite dilution of the
           hydroxide (−44.51, −57.61 kJ/mol) and its monohydrate (−21.41, −14.64 kJ/mol).
    """
    return _COEFFICIENTS[alkali].hydrate


def enthalpy_half_width(alkali: Alkali, w: float, t: float, *, extended: bool = False) -> float:
    """Half the width of the 95 % interval of `enthalpy` [J/kg].

    Three parts in quadrature: the heat of dilution (NaOH 0.2 kJ/mol in water to 0.7 at 50 %, KOH 0.3 to
    1.5), the heat of solution at infinite dilution (0.2 kJ/mol), and the heat capacity over the way from
    25 °C (3 % from 25 % up, in proportion below). Judged from the disagreement of independent routes; for
    NaOH of 50 % it comes to 9 kJ/kg at 25 °C and 13 at 118 °C.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        t: temperature [°C], NaOH 0 to 150, KOH 0 to 120.
        extended: allow −28 to 200 °C.

    Raises:
        OutOfRange: w or t outside that range.

    References:
        .. [1] as `enthalpy`.
    """
    _require_temperature(alkali, t, extended)
    return at_strength(alkali, w).half_width(t)


def dilution_half_width(alkali: Alkali, w: float, other: float) -> float:
    """Half the width of the 95 % interval of the heat of going from one strength to another [J per kg of hydroxide].

    That of the difference of `heat_of_solution` at the two. Two parts in quadrature: one that grows from none with the
    distance of the strengths as that of the heat of dilution grows with the strength (NaOH 0.5 kJ/mol over 50 %, KOH
    1.2), since a whole curve is too high or too low; and what sources differ by at each strength for itself (NaOH 0.2
    kJ/mol, KOH 0.3, at both), all of it from a distance of 10 % on, or of the stronger one from water where that is
    less, and in proportion below, since a solution and its like differ by nothing. Judged from the disagreement of
    independent routes; below 5 % Thomsen, the textbook and the fit differ by 0.06 to 0.11 kJ/mol over 1 %.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-].
        other: the other mass fraction [-].

    References:
        .. [1] as `enthalpy`.
    """
    least, rise = _DILUTION_SPREAD[alkali]
    apart = abs(w - other)
    own = math.sqrt(2.0) * least * min(apart / min(_DRIFT, max(w, other, _TRACE)), 1.0)
    return math.hypot(rise * apart / _RISEN, own) / _COEFFICIENTS[alkali].molar_mass


def temperature_at(alkali: Alkali, w: float, h: float, *, extended: bool = False) -> float:
    """Temperature [°C] at which the solution has the enthalpy h; the inverse of `enthalpy`.

    Args:
        alkali: NaOH or KOH.
        w: mass fraction of hydroxide [-], NaOH 0 to 0.55, KOH 0 to 0.50.
        h: enthalpy [J/kg].
        extended: allow −28 to 200 °C.

    Raises:
        OutOfRange: w outside its range, or the temperature outside that of `enthalpy`.

    References:
        .. [1] as `enthalpy`.
    """
    t = at_strength(alkali, w).temperature(h)
    low, high = EXTENDED_RANGE if extended else (0.0, HIGHEST_TEMPERATURE[alkali])
    if abs(t - high) < ROUNDING or abs(t - low) < ROUNDING:
        return min(max(t, low), high)
    _require_temperature(alkali, t, extended)
    return t
