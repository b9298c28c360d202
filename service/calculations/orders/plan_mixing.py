"""A tank that is filled anew: its sheet by `stock-mixing/ice`, and how long it takes to cool by `stock-cooling`."""

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import Final, NamedTuple, TypeVar

from service.calculations.keeping.cooling_reading import Surroundings
from service.calculations.keeping.stock_cooling import StockCoolingAnswer, StockCoolingRequest
from service.calculations.keeping.stock_cooling import calculate as stock_cooling
from service.calculations.mixing.ice_amounts import SolidToMix
from service.calculations.mixing.ice_reading import StockMixingIceRequest
from service.calculations.mixing.stock_mixing_ice import StockMixingIceAnswer
from service.calculations.mixing.stock_mixing_ice import calculate as stock_mixing_ice
from service.calculations.orders.moved import take_over
from service.calculations.orders.plan_request import PlanStock
from service.calculations.shared.faults import Refusal
from service.calculations.shared.given import PlainMass, Temperature
from service.calculations.shared.messages import Solution
from service.calculations.shared.notes import Notes

Asked = TypeVar("Asked")
Told = TypeVar("Told")

USABLE: Final = 38.0
"""Temperature [°C] a stock has cooled to before it meets fats, where nothing is said (common practice)."""
NOT_OURS: Final = frozenset({"/solution_mass", "/surroundings/temperature", "/existing_stock/temperature"})
"""Assumptions of members that a plan does not have, or tells itself: what the tank holds, its room, its temperature."""
LEAST_HEEL: Final = 1e-3
"""Stock in a tank that is not worth a word [kg]."""


class Mixed(NamedTuple):
    """A tank that was filled anew."""

    sheet: StockMixingIceAnswer
    cooling: StockCoolingAnswer | None
    """None where it is cool at once."""
    cool_to: float


class Refill:
    """How a tank is filled anew, from whatever is left in it; the same rest is reckoned once."""

    def __init__(self, stock: PlanStock, place: int, notes: Notes) -> None:
        self._stock = stock
        self._place = place
        self._notes = notes
        self._kept: dict[tuple[float, bool], Mixed] = {}

    @cached_property
    def cool_to(self) -> float:
        """Temperature that it has to cool to [°C]."""
        given = None if self._stock.remixing is None else self._stock.remixing.cool_to
        if given is None:
            self._notes.assume(
                f"/stocks/{self._place}/remixing/cool_to", "38 °C", "what a stock has cooled to before it meets fats"
            )
        return USABLE if given is None else given.value

    def mixed(self, left: float, *, again: bool) -> Mixed:
        """The tank filled anew.

        Args:
            left: stock that is in it [kg].
            again: whether that was mixed by this plan too, and not at hand from the start.

        Raises:
            Refusal: it cannot be mixed so.
        """
        if (left, again) not in self._kept:
            self._kept[left, again] = self._mix(left, again=again)
        return self._kept[left, again]

    def _mix(self, left: float, *, again: bool) -> Mixed:
        stock, how = self._stock, self._stock.remixing
        if how is None or stock.vessel is None:
            raise TypeError(stock)  # only what can be filled anew is asked
        strength = how.strength or stock.strength
        heel = Solution(
            alkali=stock.alkali,
            mass=PlainMass(left),
            strength=strength if again else stock.strength,
            temperature=stock.temperature,
        )
        request = StockMixingIceRequest(
            solid=SolidToMix(
                alkali=stock.alkali, temperature=how.solid_temperature, purity=how.purity, moisture=how.moisture
            ),
            strength=strength,
            peak_limit=how.peak_limit,
            vessel=stock.vessel,
            existing_stock=heel if left > LEAST_HEEL else None,
            water_temperature=how.water_temperature,
            ice=how.ice,
            ambient=how.ambient,
        )
        sheet = self._ask_ice(request)
        peak = sheet.peak_temperature.high or sheet.peak_temperature.value
        if peak <= self.cool_to:
            return Mixed(sheet, None, self.cool_to)
        cooling = StockCoolingRequest(
            solution=Solution(
                alkali=stock.alkali,
                mass=PlainMass(sheet.mass.value),
                strength=strength,
                temperature=Temperature(peak),
            ),
            vessel=stock.vessel,
            surroundings=self._surroundings,
            target_temperature=Temperature(self.cool_to),
        )
        return Mixed(sheet, self._ask_cooling(cooling), self.cool_to)

    def _ask_ice(self, request: StockMixingIceRequest) -> StockMixingIceAnswer:
        at = f"/stocks/{self._place}"
        places = [
            ("/vessel", f"{at}/vessel"),
            ("/solid/temperature", f"{at}/remixing/solid_temperature"),
            ("/solid", f"{at}/remixing"),
            ("/existing_stock", at),
            ("/strength", f"{at}/remixing/strength" if self._how_strength else f"{at}/strength"),
            ("", f"{at}/remixing"),
        ]
        return self._asked(stock_mixing_ice, request, places)

    @cached_property
    def _surroundings(self) -> Surroundings:
        """What the tank cools in."""
        how = self._stock.remixing
        if how is not None and how.surroundings is not None:
            return how.surroundings
        self._notes.assume(f"/stocks/{self._place}/remixing/surroundings", "still-air", "the air of the room")
        return Surroundings(medium="still-air", temperature=None if how is None else how.ambient)

    @property
    def _how_strength(self) -> bool:
        return self._stock.remixing is not None and self._stock.remixing.strength is not None

    def _ask_cooling(self, request: StockCoolingRequest) -> StockCoolingAnswer:
        at = f"/stocks/{self._place}"
        places = [
            ("/vessel", f"{at}/vessel"),
            ("/target_temperature", f"{at}/remixing/cool_to"),
            ("/solution", at),
            ("", f"{at}/remixing"),
        ]
        return self._asked(stock_cooling, request, places)

    def _asked(
        self, calculate: Callable[[Asked, Notes], Told], request: Asked, places: Sequence[tuple[str, str]]
    ) -> Told:
        told = Notes()
        first = not self._kept
        try:
            answer = calculate(request, told)
        except Refusal:
            take_over(told, self._notes, places, cautions=frozenset())
            raise Refusal(422, self._notes.faults, self._notes.untold) from None
        if first:
            told.assumed = [one for one in told.assumed if one.pointer not in NOT_OURS]
            take_over(told, self._notes, places, assumed=[""])
        return answer
