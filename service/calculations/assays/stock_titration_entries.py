"""The inputs of a stock's titration with their spreads, and what of them density and molarity have."""

from typing import NamedTuple

from service.calculations.assays.titration_budget import G_MOL, KG_L, ML, MOL_L, Entry, G
from service.calculations.assays.titration_readings import (
    Acid,
    Limits,
    detection_part,
    reading_part,
    scale_entry,
    temperature_entry,
)
from service.calculations.shared.given import Density, Mass, MeasuredVolume
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.reading import NORMAL_95, part_of
from service.calculations.shared.told import DensityFigure, MolarityFigure
from service.chemistry.end_points import rooms
from service.chemistry.molar_masses import ALKALI, CARBONATE
from service.chemistry.titration import Sample, Sensitivity, Titration, hydroxide_amount, molar_mass_part
from service.chemistry.uncertainty import Part, combine, coverage_half_width, normal, rectangular


class MeasuredStock(NamedTuple):
    """A titration of stock as it was measured."""

    alkali: AlkaliName
    acid: Acid
    limits: Limits
    first: MeasuredVolume
    second: MeasuredVolume
    mass: Mass | None
    volume: MeasuredVolume | None
    density: Density | None
    sample: Sample
    water: float
    """Water that it was put into [m3]."""


def _rooms(stock: MeasuredStock) -> tuple[float, float]:
    """Most by which each end point is off where it is seen by a colour [m3]."""
    return rooms(Titration(stock.acid.normality, stock.first.value, stock.second.value), stock.water)


def stock_entries(stock: MeasuredStock, by: Sensitivity) -> list[Entry]:
    """Every input with its spread, for one of the mass fractions.

    Args:
        stock: what was measured.
        by: how the mass fraction changes with each input.
    """
    alkali, sample, limits = stock.alkali, stock.sample, stock.limits
    found = _of_titration(stock, by)
    if sample.volume:
        volume, density = sample.volume, sample.density
        damped = by.mass * sample.damping
        found += (
            Entry("sample_volume", volume, part_of(stock.volume), damped * density, ML),
            Entry("density", density, _density_part(stock), damped * volume, KG_L),
        )
    else:
        found.append(Entry("sample_mass", sample.mass, part_of(stock.mass), by.mass, G))
        found += scale_entry(limits, by.mass)
    by_hydroxide, by_carbonate = by.hydroxide_molar_mass, by.carbonate_molar_mass
    if by_hydroxide:
        found.append(Entry("hydroxide_molar_mass", ALKALI[alkali], molar_mass_part(alkali), by_hydroxide, G_MOL))
    if by_carbonate:
        part = molar_mass_part(alkali, carbonate=True)
        found.append(Entry("carbonate_molar_mass", CARBONATE[alkali], part, by_carbonate, G_MOL))
    return found


def _of_titration(stock: MeasuredStock, by: Sensitivity) -> list[Entry]:
    """The acid and the readings, each of which is off by where its colour turns too."""
    acid, limits, first, second = stock.acid, stock.limits, stock.first, stock.second
    seen = detection_part(limits)
    first_off, second_off = (rectangular(one) for one in _rooms(stock))
    to_molarity = by.normality * acid.normality / acid.molarity
    return [
        Entry("acid_molarity", acid.molarity, acid.part, to_molarity, MOL_L),
        temperature_entry(acid, by.normality),
        Entry("first_end_point", first.value, reading_part(first, limits), by.first, ML),
        Entry("first_end_point_detection", 0.0, seen, by.first, ML),
        Entry("first_end_point_colour", 0.0, first_off, by.first, ML),
        Entry("second_end_point", second.value, reading_part(second, limits), by.second, ML),
        Entry("second_end_point_detection", 0.0, seen, by.second, ML),
        Entry("second_end_point_colour", 0.0, second_off, by.second, ML),
    ]


def blur_of(stock: MeasuredStock, by: Sensitivity) -> tuple[float, float]:
    """Most by which carbonate lets the first end point be seen early or late, and what that makes of a fraction.

    Args:
        stock: what was measured.
        by: how the mass fraction changes with each input.

    Returns:
        Its share of the acid up to there, and the 95 % half-width of the mass fraction by it alone.
    """
    room, _ = _rooms(stock)
    return room / stock.first.value, coverage_half_width(combine([(by.first, rectangular(room))]))


def half_width_of(stock: MeasuredStock, by: Sensitivity) -> float:
    """95 % half-width of one of the mass fractions."""
    return coverage_half_width(combine([(one.sensitivity, one.part) for one in stock_entries(stock, by)]))


def _density_part(stock: MeasuredStock) -> Part:
    """Spread of a density: its own, else that of the model."""
    if stock.density is not None:
        return part_of(stock.density)
    return normal(stock.sample.density_half_width / NORMAL_95)


def density_of(stock: MeasuredStock) -> DensityFigure:
    """The density of a sample by volume, with its interval."""
    return DensityFigure.around(stock.sample.density, coverage_half_width(combine([(1.0, _density_part(stock))])))


def molarity_of(stock: MeasuredStock, titration: Titration) -> MolarityFigure:
    """Hydroxide per volume of a sample by volume; the density has no part in it."""
    volume = stock.sample.volume
    value, per = hydroxide_amount(titration) / volume, titration.normality / volume
    by = Sensitivity(value / titration.normality, 2 * per, -per, 0.0, 0.0, 0.0)
    parts = [(one.sensitivity, one.part) for one in _of_titration(stock, by)]
    parts.append((value / volume, part_of(stock.volume)))
    return MolarityFigure.around(value, coverage_half_width(combine(parts)))
