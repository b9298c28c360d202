"""Dissolving solid caustic in water, ice or an existing stock: temperatures along the way, boiling and ice.

The contents of the vessel come to equilibrium first; then the solid is added in equal steps, and after each the heat
balance is solved anew for the temperature t. With a share s of the solid in,

    m_solution h(w, t) + m_ice h_ice(t) + m_inert c_inert (t - 25) + H_steam + Q_lost = H_contents + s H_solid

where H_solid counts the bound water as monohydrate and the inert part. Masses and heat close.
"""

from typing import Final

from service.chemistry.enthalpy import Strength
from service.chemistry.equilibrium import Amounts, settle, state_enthalpy
from service.chemistry.mixing_path import FINISHED, HIGHEST_TEMPERATURE, Vessel, Walk, summit, vertex
from service.chemistry.mixing_records import Balance, Charge, Ice, Mixing, PathPoint, Solid, Stock, Water
from service.chemistry.ranges import require

__all__ = ["Balance", "Charge", "Ice", "Mixing", "PathPoint", "Solid", "Stock", "Water", "mix"]

_POINTS: Final = 50
"""Points of a path where nobody says how many [-] (numerical)."""


def mix(
    solid: Solid,
    contents: Charge,
    *,
    points: int = _POINTS,
    loss_fraction: float = 0.0,
    loss_joules: float = 0.0,
    enthalpy_shift: float = 0.0,
    boiling_shift: float | None = 0.0,
    boiling_told: bool = True,
) -> Mixing:
    """Add a solid to the contents of a vessel in equal steps and follow temperature, ice and boiling.

    While ice remains the liquid lies on the ice line; where that leaves the data (beyond the eutectic of
    NaOH, above 7 % KOH) temperature and ice are None for those points, which later ones do not depend on.
    A liquid hotter than its boiling point at 1 atm stays at it and gives off steam. The heat of
    crystallisation of hydrates is not counted.

    Args:
        solid: the solid.
        contents: what it is added to; at least one of water, ice and stock.
        points: number of points of the path [-], the first before any solid, 2 to 1000.
        loss_fraction: share of the heat released that the vessel loses [-], 0 to 1.
        loss_joules: heat lost [J], 0 or more, beside `loss_fraction`; both are spread along the path in
            proportion to the heat released so far; a mixture that releases none loses none.
        enthalpy_shift: half widths of the 95 % interval by which solutions give off more heat than the data
            say [-], −1 to 1: +1 gives the hottest path, −1 the coolest.
        boiling_shift: half widths of the 95 % interval by which the boiling point is taken lower where the margin
            to it is reckoned [-], 0 to 1; temperatures and steam are of the boiling point itself. None where the
            margin is not asked for.
        boiling_told: whether boiling points are asked for; where not, they are left out of what cannot boil, and the
            margin with them.

    Raises:
        OutOfRange: a mass, share or temperature out of range; moisture beyond the monohydrate; or a finished
            solution stronger than 55 % NaOH or 50 % KOH.

    References:
        .. [1] balance of masses and enthalpies, with `service.chemistry.enthalpy`, `freezing` and
           `vapour_pressure`.

    Examples:
        >>> half = mix(Solid("NaOH", 1.0), Charge(water=Water(1.0, 25.0)))
        >>> round(half.temperature, 1), round(half.peak_temperature, 1), round(half.peak_share, 2)
        (117.9, 120.5, 0.76)
    """
    require("points", points, 2, 1000, "a path has a start and an end")
    require("loss_fraction", loss_fraction, 0.0, 1.0, "a share of the heat released")
    require("loss_joules", loss_joules, 0.0, 1e15, "a loss is not negative")
    require("enthalpy_shift", enthalpy_shift, -1.0, 1.0, "the ends of the 95 % interval")
    boiling_shift = boiling_shift if boiling_told else None
    if boiling_shift is not None:
        require("boiling_shift", boiling_shift, 0.0, 1.0, "from the boiling point to the lower end of its interval")
    vessel = Vessel(solid, contents, enthalpy_shift)
    finished = vessel.liquid(1.0)
    released = vessel.released(1.0, finished)
    loss = loss_joules + loss_fraction * max(released, 0.0)
    walk = Walk(vessel, loss / released if released > 0.0 else 0.0, boiling_shift, boiling_told=boiling_told)
    path = tuple(walk.step(i / (points - 1)) for i in range(points))
    peak, peak_share = _peak(path, walk)
    margin, margin_share = (None, None) if boiling_shift is None else _least_margin(walk, points)
    hydroxide, water, inert = vessel.masses(1.0)
    left = Amounts(hydroxide, water - walk.steam, inert)
    end = path[-1]
    remaining = state_enthalpy(vessel.alkali, left, walk.state, shift=enthalpy_shift)
    return Mixing(
        path=path,
        mass=left.total,
        mass_fraction=end.mass_fraction,
        solution_strength=left.strength,
        temperature=end.temperature,
        peak_temperature=peak,
        peak_share=peak_share,
        adiabatic_temperature=_adiabatic(vessel, finished, walk),
        boils=walk.boils,
        boiling_margin=margin,
        boiling_margin_share=margin_share,
        water_boiled_off=walk.steam,
        ice_left=end.ice_mass,
        heat_released=released,
        heat_lost=walk.lost,
        balance=Balance(vessel.heat_before, vessel.heat_added, remaining, walk.steam_heat, walk.lost),
        beyond_data=walk.beyond_data,
    )


def _peak(path: tuple[PathPoint, ...], walk: Walk) -> tuple[float | None, float | None]:
    """Highest temperature of the path and its share, sought between the points too."""
    known = [(p.temperature, i) for i, p in enumerate(path) if p.temperature is not None]
    if not known:
        return None, None
    # The first of equal temperatures: with nothing added the path is level.
    highest, i = max(known, key=lambda pair: (pair[0], -pair[1]))
    share = path[i].solid_added_share
    if len(path) > 2:
        # At an end the parabola is that of the three points there: its vertex may lie between the last two.
        middle = min(max(i, 1), len(path) - 2)
        around = path[middle - 1 : middle + 2]
        before, here, after = (
            walk.liquid_at(one.solid_added_share) if one.ice_mass else one.temperature for one in around
        )
        # Between the points the walk is known where no steam leaves; below 0 °C ice may, and it is no peak.
        smooth = around[0].water_boiled_off == around[2].water_boiled_off == walk.steam
        if smooth and before is not None and here is not None and after is not None:
            first, second, third = (one.solid_added_share for one in around)
            between, t = summit(walk.liquid_at, (first, second, third), (before, here, after))
            if t > highest and t >= 0.0:
                return t, between
    return highest, share


def _least_margin(walk: Walk, points: int) -> tuple[float | None, float | None]:
    """Least distance from boiling and its share, sought between the points too."""
    margins = walk.margins
    known = [(pair[1], i, pair[0]) for i, pair in enumerate(margins) if pair is not None]
    if not known:
        return None, None
    least, i, share = min(known)
    if walk.steam:  # between the points it is not known what has left
        if 0 < i < points - 1 and (before := margins[i - 1]) is not None and (after := margins[i + 1]) is not None:
            share, least = vertex(share, 1.0 / (points - 1), before[1], least, after[1])
    elif points > 2:
        middle = min(max(i, 1), points - 2)
        before, here, after = margins[middle - 1 : middle + 2]
        if before is not None and here is not None and after is not None:
            places = before[0], here[0], after[0]
            between, nearest = summit(lambda s: -walk.margin_at(s), places, (-before[1], -here[1], -after[1]))
            if -nearest < least:
                return -nearest, between
    return least, share


def _adiabatic(vessel: Vessel, finished: Strength, walk: Walk) -> float | None:
    """Temperature of the finished mix, nothing lost and no steam gone."""
    state = walk.state
    if walk.steam or walk.lost:
        state = settle(
            vessel.alkali, finished, vessel.masses(1.0), vessel.heat(1.0), shift=vessel.shift, start=FINISHED
        )
    t = state.temperature
    return None if t is None or t > HIGHEST_TEMPERATURE else t
