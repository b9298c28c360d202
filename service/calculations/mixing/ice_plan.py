"""How a mixing is kept below its limit: by ice, or, where all ice is too little, by what else does it."""

from typing import Final, NamedTuple

from service.calculations.mixing.mixing_contents import GivenCharge, GivenSolid, all_ice, all_water
from service.calculations.mixing.mixing_runs import Case, within_data
from service.calculations.shared.messages import AlkaliName
from service.chemistry import freezing
from service.chemistry import mixing_records as records
from service.chemistry.errors import OutOfRange
from service.chemistry.ice_needed import (
    COLDEST_LIMIT,
    Needed,
    heat_taken_off,
    ice_needed,
    most_solid,
    peak_temperature,
    solid_temperature_needed,
)
from service.chemistry.mixing_bounds import bounds
from service.chemistry.mixing_records import Charge

ABOVE_ROOM: Final = 5.0
"""Distance to the room [K] to which waiting takes a sensible time; the last kelvins take as long as all before."""
ABOVE_CRYSTALS: Final = 2.0
"""Distance [K] that a waiting stock keeps above its first solid."""
MOST_STAGES: Final = 8
CLEAR_OF_BOILING: Final = 1.0
"""Distance [K] that is kept to the lower end of the boiling point: the margin that is told, which is found between the
points of a path, then stays positive."""
SPARE: Final = 1e-3
"""Kelvins by which the upper end of the peak stays below the limit, so that rounding does not put it above."""
LEAST_PORTION: Final = 0.02
"""Share of the solid below which a portion is none."""


class Stage(NamedTuple):
    """A portion of the solid, and how far the vessel has to cool before it goes in."""

    mass: float
    """kg, as supplied."""
    wait_until: float | None
    """°C; None for the first portion."""


class Hottest(NamedTuple):
    """The peak of the hottest of the mixings that bound one."""

    temperature: float
    """°C."""
    place: int
    """Which of them it is."""
    share: float | None
    """Share of the solid at the peak; None where it is not near a peak of liquid."""


class Planned(NamedTuple):
    """What goes into a mixing, with the ice and the water that its limit calls for."""

    solid: GivenSolid
    existing: GivenCharge
    water: float
    """Water to add, as liquid or as ice [kg]."""
    water_temperature: float
    ice: records.Ice
    """Its temperature and melted share; its mass is not used."""
    limit: float

    def charge(self, ice_mass: float, existing: Charge) -> Charge:
        """What the solid goes into, with so much ice in the place of water."""
        water, ice, stock = existing
        liquid = [] if water is None else [water]
        frozen = [] if ice is None else [ice]
        if self.water > ice_mass:
            liquid.append(records.Water(self.water - ice_mass, self.water_temperature))
        if ice_mass:
            frozen.append(self.ice._replace(mass=ice_mass))
        return Charge(all_water(liquid), all_ice(frozen), stock)

    def given_charge(self, ice_mass: float) -> GivenCharge:
        """The same, with the ends of the strength of what is in the vessel."""
        best, hottest, coolest, spread, existing = self.existing
        if not spread:
            only = self.charge(ice_mass, best)
            return GivenCharge(only, only, only, existing=existing)
        told = [self.charge(ice_mass, one) for one in (best, hottest, coolest)]
        return GivenCharge(told[0], told[1], told[2], spread, existing)

    def cases(self, ice_mass: float) -> list[Case]:
        """The mixings that bound the peak from above, as the runs of a mixing try them."""
        given = self.given_charge(ice_mass)
        charges = (given.hottest, given.coolest) if given.hydroxide_half_width else (given.charge,)
        shifts = (1.0, -1.0) if given.charge.stock is not None else (1.0,)
        return [Case(within_data(self.solid.hottest, given), one, shift) for one in charges for shift in shifts]

    @property
    def taken_off(self) -> float:
        """Heat that a kilogram of the ice takes off in the place of water [J/kg]."""
        return heat_taken_off(self.ice, self.water_temperature)

    @property
    def held_to(self) -> float:
        """What the upper end of the peak is held to [°C]."""
        return max(self.limit - SPARE, COLDEST_LIMIT)

    def needed(self) -> tuple[float, bool]:
        """Ice that keeps the upper end of the peak at the limit [kg], and whether boiling is what limits it."""
        most = max((self._needed(one, self.taken_off) for one in self.cases(0.0)), key=lambda one: one.mass)
        return most.mass, most.by_boiling

    def _needed(self, case: Case, taken_off: float) -> Needed:
        solid, charge, shift = case
        return ice_needed(
            solid,
            charge,
            self.held_to,
            taken_off,
            enthalpy_shift=shift,
            boiling_shift=1.0,
            clearance=CLEAR_OF_BOILING,
        )

    def too_much(self, needed: float) -> float:
        """Heat that is too much for the limit where all of the water is ice [J].

        Args:
            needed: ice that the limit calls for [kg].
        """
        water, ice, _ = self.existing.charge
        if self.taken_off and water is None and ice is None:
            return max(0.0, (needed - self.water) * self.taken_off)
        # Water or ice of another temperature that is there already is taken as one with what is added.
        return max(0.0, *(self._needed(one, 1.0).mass for one in self.cases(self.water)))

    def hottest(self, near: float, known: Hottest | None = None) -> Hottest:
        """Upper end of the peak with all of the water as ice; at the limit where no data tell.

        Args:
            near: a temperature near it [°C].
            known: that of a mixing which differs by little: the same of its ends is the hottest, near the same share.
        """
        found: list[Hottest] = []
        for place, (solid, charge, shift) in enumerate(self.cases(self.water)):
            if known is not None and known.share is not None and place != known.place:
                continue
            share = None if known is None else known.share
            peak = peak_temperature(solid, charge, near, enthalpy_shift=shift, share=share)
            if peak is not None:
                found.append(Hottest(peak.temperature, place, peak.share))
                continue
            t = bounds(solid, charge, enthalpy_shift=shift).peak_temperature  # ice is left, or it gets near boiling
            if t is not None:
                found.append(Hottest(t, place, None))
        return max(found, key=lambda one: one.temperature, default=Hottest(self.limit, 0, None))

    def solid_temperature_needed(self) -> float | None:
        """How cold the solid has to be where all water is ice [°C]; None where the data end before that."""
        if not self.taken_off:
            return None  # whatever the solid, no ice of this kind brings the rest
        found = [
            solid_temperature_needed(
                solid,
                charge,
                self.held_to,
                self.water * self.taken_off,
                enthalpy_shift=shift,
                boiling_shift=1.0,
                clearance=CLEAR_OF_BOILING,
            )
            for solid, charge, shift in self.cases(0.0)
        ]
        known = [t for t in found if t is not None]
        return min(known) if len(known) == len(found) else None

    def stages(self, ambient: float) -> list[Stage]:
        """Portions of the solid, all water being ice, with waiting between them; none where that does not do either."""
        whole = self.solid.solid.mass_as_supplied
        cases = self.cases(self.water)
        found: list[Stage] = []
        charge = self.charge(self.water, self.existing.charge)
        left, wait = whole, None
        for _ in range(MOST_STAGES):
            share = self._portion(cases, left)
            if share < 1.0 and share * left < LEAST_PORTION * whole:
                return []
            if share >= 1.0:
                found.append(Stage(left, wait))
                return found
            found.append(Stage(share * left, wait))
            charge = _with(charge, self.solid.solid._replace(mass_as_supplied=share * left))
            left -= share * left
            stock = charge.stock
            if stock is None:
                return []
            wait = _waiting(self.solid.alkali, stock.mass_fraction, ambient)
            charge = Charge(stock=stock._replace(temperature=wait))
            cases = [Case(self.solid.hottest, charge, shift) for shift in (1.0, -1.0)]
        return []

    def _portion(self, cases: list[Case], left: float) -> float:
        """Share of what is left of the solid that keeps below the limit."""
        share = 1.0
        try:
            for solid, charge, shift in cases:
                portion = solid._replace(mass_as_supplied=left)
                share = most_solid(
                    portion, charge, self.held_to, enthalpy_shift=shift, boiling_shift=1.0, at_most=share
                )
        except OutOfRange:
            return 0.0
        return share


def _with(charge: Charge, solid: records.Solid) -> Charge:
    """What a vessel holds when a portion is in and all has melted; its temperature is that of what comes next."""
    hydroxide, water = solid.mass_as_supplied * solid.purity, solid.mass_as_supplied * solid.moisture
    for part in (charge.water, charge.ice):
        water += 0.0 if part is None else part.mass
    if charge.stock is not None:
        hydroxide += charge.stock.mass * charge.stock.mass_fraction
        water += charge.stock.mass * (1 - charge.stock.mass_fraction)
    total = hydroxide + water
    return Charge(stock=records.Stock(total, hydroxide / total, 25.0))


def _waiting(alkali: AlkaliName, w: float, ambient: float) -> float:
    """How far to wait: near the room, and not so far that the stock begins to set."""
    near = ambient + ABOVE_ROOM
    if w > freezing.HIGHEST_MASS_FRACTION[alkali]:
        return near
    return max(near, freezing.first_solid(alkali, w).high + ABOVE_CRYSTALS)
