"""Bringing a stock to a wanted strength: how much to add, and how it is drawn if it is left as it is."""

from service.chemistry.ranges import require
from service.chemistry.uncertainty import Combined, Part, combine


def added_mass(mass: float, present: float, wanted: float, added: float) -> float:
    """Mass to add to a solution for a wanted strength [kg], by the balance of hydroxide.

    m w + x a = (m + x) w', so x = m (w' - w) / (a - w').

    Args:
        mass: of the solution, 0 or more [kg].
        present: its strength w [-], 0 to 1.
        wanted: strength w' that it is to have [-], 0 to 1, between the other two.
        added: hydroxide in what is added, a [-]: 0 for water, the purity of a solid, the strength of another solution.

    Raises:
        OutOfRange: the wanted strength does not lie between that of the solution and that of what is added.

    References:
        .. [1] balance of masses (the cross of alligation).

    Examples:
        >>> round(added_mass(10.0, 0.52, 0.50, 0.0), 3)
        0.4
    """
    require("wanted", wanted, min(present, added), max(present, added), "a mixture lies between its parts")
    if wanted == present:
        return 0.0
    require("difference", abs(added - wanted), 1e-12, 1.0, "no amount brings a mixture to the strength of its part")
    return mass * (wanted - present) / (added - wanted)


def added_mass_spread(
    mass: tuple[float, Part | Combined],
    present: tuple[float, Part | Combined],
    wanted: float,
    added: tuple[float, Part | Combined],
) -> Combined:
    """Uncertainty of the mass to add [kg], to first order [1]_.

    dx/dm = x / m, dx/dw = -m / (a - w'), dx/da = -x / (a - w').

    Args:
        mass: of the solution [kg], and its uncertainty.
        present: its strength [-], and its uncertainty.
        wanted: strength that it is to have [-].
        added: hydroxide in what is added [-], and its uncertainty.

    Raises:
        OutOfRange: as `added_mass` does.

    References:
        .. [1] JCGM 100:2008, 5.1.2.
    """
    x = added_mass(mass[0], present[0], wanted, added[0])
    apart = added[0] - wanted
    return combine([(x / mass[0], mass[1]), (-mass[0] / apart, present[1]), (-x / apart, added[1])])


def draw_factor(w: float) -> float:
    """Mass of stock that holds a mass of pure hydroxide, over that mass [-].

    Args:
        w: mass fraction of hydroxide [-], above 0, to 1.

    Raises:
        OutOfRange: w outside that range.

    References:
        .. [1] balance of masses.
    """
    require("mass_fraction", w, 1e-12, 1.0, "what holds no hydroxide brings none")
    return 1.0 / w
