"""Which tank each batch draws from, what is left in it, and when it must be filled anew."""

from collections.abc import Callable, Mapping, Sequence
from math import inf
from typing import NamedTuple

from service.calculations.shared.messages import AlkaliName
from service.chemistry.ranges import ROUNDING

Need = Callable[[int, bool], float]
"""Mass of stock that a batch draws of a tank, by its place and whether it was filled anew by this plan [kg]; infinite
where no batch can be made with that stock, as with one that is too weak."""


class Filling(NamedTuple):
    """A tank that is filled anew; masses in kg."""

    tank: int
    before_batch: int
    """Number of the batch it must be ready for."""
    left: float
    """What was in it."""
    again: bool
    """Whether that was mixed by this plan too."""
    mass: float
    """What it holds then."""


class Draw(NamedTuple):
    """What a batch draws of a tank; masses in kg."""

    tank: int
    alkali: AlkaliName
    mass: float
    left: float


class Tank:
    """A tank or a jug with stock.

    Attributes:
        alkali: its hydroxide.
        mass: what is there [kg].
        kept: what stays in it [kg].
        filled: what it holds when it was filled anew, from what is left in it and whether that was mixed by this plan
            too [kg]; None where it is not filled anew.
        again: whether it was filled anew already.
    """

    __slots__ = ("again", "alkali", "filled", "kept", "mass")

    def __init__(
        self,
        alkali: AlkaliName,
        mass: float,
        kept: float,
        filled: Callable[[float, bool], float] | None = None,
    ) -> None:
        self.alkali = alkali
        self.mass = mass
        self.kept = kept
        self.filled = filled
        self.again = False

    def gives(self, mass: float) -> bool:
        """Whether so much can be drawn [kg]."""
        return self.mass - self.kept >= mass * (1 - ROUNDING)


class RunsOut(ValueError):  # noqa: N818 - says what the stock does
    """No tank gives what a batch draws, and none can be filled so that it does.

    Attributes:
        tank: the tank that comes nearest.
        alkali: what is drawn.
        mass: what the batch draws [kg]; infinite where no tank's stock makes it.
        gives: what a filling of that tank gives; None where it cannot be filled anew [kg].
    """

    def __init__(self, tank: int, alkali: AlkaliName, mass: float, gives: float | None) -> None:
        super().__init__(f"{mass} kg of {alkali} stock")
        self.tank = tank
        self.alkali = alkali
        self.mass = mass
        self.gives = gives


def draw(tanks: Sequence[Tank], needs: Mapping[AlkaliName, Need], batch: int) -> tuple[list[Draw], list[Filling]]:
    """Draw a batch from the first tank of each alkali that gives it; fill one anew where none does.

    Args:
        tanks: as they stand; they are changed.
        needs: what is drawn of each alkali, by the tank, since each has its strength.
        batch: number of the batch.

    Raises:
        RunsOut: no tank gives it.
    """
    draws: list[Draw] = []
    fillings: list[Filling] = []
    for alkali, need in needs.items():
        places = [place for place, one in enumerate(tanks) if one.alkali == alkali]
        place = next((at for at in places if tanks[at].gives(need(at, tanks[at].again))), None)
        if place is None:
            place, filling = _fill(tanks, places, alkali, need, batch)
            fillings.append(filling)
        tank = tanks[place]
        mass = need(place, tank.again)
        tank.mass = max(tank.mass - mass, min(tank.mass, tank.kept))
        draws.append(Draw(place, alkali, mass, tank.mass))
    return draws, fillings


def _fill(
    tanks: Sequence[Tank], places: Sequence[int], alkali: AlkaliName, need: Need, batch: int
) -> tuple[int, Filling]:
    """Fill the first tank that then gives a draw."""
    nearest: RunsOut | None = None
    for place in places:
        tank = tanks[place]
        mass = inf if tank.filled is None else need(place, True)
        if tank.filled is None or mass == inf:
            continue
        left, again, full = tank.mass, tank.again, tank.filled(tank.mass, tank.again)
        if full - tank.kept >= mass * (1 - ROUNDING):
            tank.mass, tank.again = full, True
            return place, Filling(place, batch, left, again, full)
        nearest = nearest or RunsOut(place, alkali, mass, full - tank.kept)
    if nearest is not None:
        raise nearest
    least, place = min((need(place, tanks[place].again), place) for place in places)
    raise RunsOut(place, alkali, least, None)
