"""Why an interval holds more or less often than it says, and by what that is checked.

Each cause is checked on the same draws, by counting what they come to without it:

- `usual`: an interval by the usual rule on every input alone, which bounds nothing;
- `near`: the interval that was told, and what lies no farther from it than a search tells temperatures to;
- `open`: the interval that was told, only where it does not end at nothing;
- `unchecked`: nothing that could be counted on the same draws; the page says so.
"""

from collections.abc import Callable
from typing import Final, Literal, NamedTuple

from tests.proof.coverage.engine import Ends

Check = Literal["usual", "near", "open", "unchecked"]


class Cause(NamedTuple):
    """Why a member is held more or less often than 95 %."""

    calculation: str
    """Empty for any."""
    member: str
    """What its pointer ends with; `*` for each of some."""
    why: str
    check: Check
    counts: Callable[[Ends], bool] = lambda _: True
    """Which intervals the check is tried on, where it says nothing of others."""


def above_nothing(ends: Ends) -> bool:
    """Whether an interval of what may be nothing tells more than that."""
    return ends[0] > 0.0


def to_one_side(ends: Ends) -> bool:
    """Whether an interval of what may go up or down is told for what goes one way by more than chance."""
    return abs(ends[0] + ends[1]) > 0.05 * (ends[1] - ends[0])


def something(ends: Ends) -> bool:
    """Whether an interval is more than nothing to nothing."""
    return ends[1] > 1e-12


_SOLID: Final = (
    "the limits of a freezing point hold for every strength within its interval, so both count in full: a guard"
)
_PEAK: Final = (
    "the upper end counts data, purity, moisture and strength at their worst at once, and the lower one the most heat "
    "that can be lost beside the same: bounds for safety"
)
_POURED: Final = (
    "nothing is colder at its peak than the warmest part, where the lower end stops; the upper end counts strengths, "
    "densities and data at their worst at once"
)
_AT_ONCE: Final = "data, purity, moisture and strength at their worst at once: a bound"
_SPENT: Final = "one end counts none of the heat of dilution: a bound, and the draws let any share of it have come"
_FIRST_ORDER: Final = (
    "to first order, and to either side alike: where what is wanted is almost as strong as what is added, the amount "
    "goes up faster than it goes down"
)
_WARMEST: Final = (
    "nothing gets hotter than the warmest part, or by some thousandths of a kelvin, to which the search is good"
)
_WENT: Final = "the interval spans that the water went before the first draw; the draws let it go after the last"
OVER: Final = (
    Cause("", "/first_solid_temperature", _SOLID, "usual"),
    Cause("stock-dilution", "/peak_temperature", _POURED, "usual"),
    Cause("", "/peak_temperature", _PEAK, "usual"),
    Cause("stock-mixing/ice", "/lowest_peak", _PEAK, "usual"),
    Cause("stock-mixing", "/adiabatic_temperature", _AT_ONCE, "usual"),
    Cause("stock-adjustment", "/solution/temperature", "of a solid " + _AT_ONCE, "usual"),
    Cause("stock-adjustment", "/solution/volume", "the temperature of " + _AT_ONCE, "usual"),
    Cause("stock-mixing", "/mass", "the steam of " + _AT_ONCE, "usual"),
    Cause("stock-mixing", "/heat_released", _AT_ONCE, "usual"),
    Cause("stock-mixing/ice", "/heat_released", _AT_ONCE, "usual"),
    Cause(
        "stock-mixing/ice",
        "/ice_mass",
        "the ice is enough at the upper end of all that is open at once, which is a bound",
        "usual",
    ),
    Cause(
        "stock-dilution",
        "/volume_change",
        "the model of densities is taken to err apart at each strength, the wide side; the draws let it err alike. The "
        "check leaves out what is alike, whose change is of the second order and so unseen by the usual rule",
        "usual",
        to_one_side,
    ),
    Cause(
        "superfat-check",
        "/free_alkali",
        "where none is free at either end it is 0 in every draw, and the interval, from 0 to 0, always holds it",
        "open",
        something,
    ),
    Cause(
        "stock-assay/hydrometer",
        "/density_at_20",
        "the model of densities counts once more on the way from the temperature of the reading to 20 °C; the draws "
        "let it err alike there",
        "usual",
    ),
    Cause(
        "stock-assay/titration",
        "/density",
        "it has room for the carbonate, which is counted as hydroxide; the draws have none",
        "usual",
    ),
    Cause("stock-assay/evaporation", "/water_to_add", _WENT, "usual"),
    Cause("stock-assay/evaporation", "/strength/mass_fraction", _WENT, "usual"),
    Cause("stock-assay/evaporation", "/draw_factor", _WENT, "usual"),
    Cause("batch-temperature", "/temperature", _SPENT, "usual"),
    Cause("batch-sheet", "/temperatures/batch", "as the temperature of batch-temperature: " + _SPENT, "usual"),
    Cause(
        "paste-dilution",
        "/free_alkali_share",
        "where little alkali is over, its interval ends at nothing, and holds all draws without any",
        "open",
        above_nothing,
    ),
)
"""Why the mean of a member lies outside the limits."""
LOW: Final = (
    Cause("stock-adjustment", "/add/mass", _FIRST_ORDER, "usual"),
    Cause("stock-adjustment", "/add/volume", _FIRST_ORDER, "usual"),
    Cause(
        "stock-mixing/ice",
        "/ice_mass",
        "the lower end is of the solid and water that are told; the draws let them be weighed anew, by what is true of "
        "the stock that is there",
        "usual",
    ),
    Cause(
        "saponification",
        "/fatty_acids/*",
        "acids anywhere between printed limits that add up to 1 spread like no normal and no rectangle; the interval "
        "is that of the one that is nearer",
        "unchecked",
    ),
    Cause(
        "paste-dilution",
        "/water_to_add",
        "soap is the lesser of what the fats and what the alkali let react: where they are about even, each of the two "
        "may fall below the lower end",
        "usual",
    ),
    Cause("stock-adjustment", "/peak_temperature", _WARMEST, "near"),
    Cause("stock-dilution", "/peak_temperature", _WARMEST, "near"),
)
"""Why a single request is held far less often."""


def cause(calculation: str, member: str, causes: tuple[Cause, ...]) -> Cause | None:
    """The cause of a member.

    Args:
        calculation: its calculation.
        member: its pointer.
        causes: of which.
    """
    return next(
        (one for one in causes if member.endswith(one.member) and one.calculation in {"", calculation}),
        None,
    )
