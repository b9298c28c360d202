"""Bringing a stock to a wanted strength: how much to add, and how it is drawn if it is left as it is."""

from service.chemistry.ranges import require


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


def added_mass_slopes(mass: float, present: float, wanted: float, added: float) -> tuple[float, float, float]:
    """How the mass to add changes with the solution's mass [kg/kg], with its strength and with what is added [kg].

    dx/dm = x / m, dx/dw = -m / (a - w'), dx/da = -x / (a - w').

    Args:
        mass: of the solution, above 0 [kg].
        present: its strength [-].
        wanted: strength that it is to have [-].
        added: hydroxide in what is added [-].

    Raises:
        OutOfRange: as `added_mass` does.

    References:
        .. [1] derivatives of `added_mass`.

    Examples:
        >>> [round(one, 3) for one in added_mass_slopes(10.0, 0.52, 0.50, 0.0)]
        [0.04, 20.0, 0.8]
    """
    x = added_mass(mass, present, wanted, added)
    apart = added - wanted
    return x / mass, -mass / apart, -x / apart


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
