"""Vessels of a request: their material, how much they hold, and how hot they may get."""

from typing import Final, NamedTuple

from service.calculations.shared.messages import Vessel
from service.calculations.shared.notes import Notes
from service.chemistry import heat_loss
from service.reference import VesselMaterial, reference_data
from service.reference.records import TemperatureLimit

UNSTATED_SHARE: Final = 0.05
"""Share of the heat that a vessel of unknown mass takes up at most: 60 g of plastic per kg of stock take 3.4 %."""
AS_STATED: Final = 0.005
"""A limit stated for 40 % holds for 40.5 %, and for nothing stronger: between two limits the lower one is taken."""
STRONGEST: Final = 0.5
"""Strength at which the charts of the materials end."""
ROUND_UP: Final = 0.025
"""A limit stated for 50 %, where the charts end, is taken for a stock of up to 52.5 %, that is for all there are."""


class KnownVessel(NamedTuple):
    """A vessel as a calculation needs it."""

    material: VesselMaterial
    given: Vessel

    @property
    def heat_capacity(self) -> float:
        """Of the vessel itself [J/K]; 0 where its mass is not known."""
        return 0.0 if self.given.mass is None else self.given.mass.value * self.material.heat_capacity.high

    @property
    def volume(self) -> float | None:
        """What it holds to the brim [m3]."""
        if self.given.volume is not None:
            return self.given.volume.value
        if self.given.diameter is not None and self.given.height is not None:
            return heat_loss.cylinder_volume(self.given.diameter.value, self.given.height.value)
        return None

    def limit(self, strength: float) -> float | None:
        """Highest temperature for a solution of this strength [°C]; None where none is known."""
        if self.given.maximum_temperature is not None:
            return self.given.maximum_temperature.value
        found = self.catalogue_limit(strength)
        return None if found is None else found.temperature.low

    def catalogue_limit(self, strength: float) -> TemperatureLimit | None:
        """The material's limit for a solution of this strength, where the catalogue holds one."""
        limits = self.material.limits
        found = next((limit for limit in limits if strength <= limit.strength + AS_STATED), None)
        if found is None and limits and limits[-1].strength >= STRONGEST and strength <= STRONGEST + ROUND_UP:
            return limits[-1]
        return found

    def limit_is_recalled(self, strength: float) -> bool:
        """Whether the limit that is reckoned with was not read in a source."""
        found = self.catalogue_limit(strength)
        recalled = found is not None and found.temperature.evidence == "memory"
        return recalled and self.given.maximum_temperature is None


def find_vessel(given: Vessel, notes: Notes, at: str = "/vessel") -> KnownVessel | None:
    """A vessel by its material; an unknown one is a fault in the notes."""
    material = reference_data().vessel_materials.get(given.material)
    if material is None:
        notes.unknown("vessel materials", given.material, f"{at}/material")
        return None
    return KnownVessel(material, given)
