"""What the vessel of a warming loses: its geometry from the request, and the heat that goes to the room."""

from service.calculations.messages import Vessel
from service.calculations.warming_runs import Losses, Range
from service.chemistry import heat_loss


def losses(vessel: Vessel, volume: float, ambient: float) -> Losses:
    """The heat lost as a function of the temperature of the contents."""
    area = heat_loss.vessel_area(volume)

    def rate(t: float) -> Range:
        return 11.0 * area * (t - ambient), 9.0 * area * (t - ambient), 14.0 * area * (t - ambient)

    return rate
