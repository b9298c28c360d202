"""The properties of a solution that follow from its strength, and how well each is known."""

from typing import Final, NamedTuple

from service.calculations.shared.messages import AlkaliName
from service.calculations.stock.solutions import SOLUBILITY
from service.chemistry import density, enthalpy, molar_masses, vapour_pressure
from service.chemistry import strength as forms
from service.chemistry.hydrometer import degrees_baume_from_specific_gravity, degrees_twaddell_from_specific_gravity

DILUTE: Final = 1e-5
"""Mass fraction up to which a solution counts as water, which has no water ratio."""
STEP: Final = 1e-7
"""Step in mass fraction by which a property's sensitivity is found."""
MOST_HYDROXIDE: Final = 0.99
"""Mass fraction at which the interval of an uncertain strength is cut off: a molality has no end at 1."""
HEAT_CAPACITY_SPREAD: Final = 0.03
"""Relative 95 % half-width of the heat capacity [-] (assumed: the disagreement of good sources for strong NaOH)."""


class Properties(NamedTuple):
    """A number for each property, in SI: its value, its slope against the mass fraction, or its half-width."""

    mass_fraction: float
    water_ratio: float
    """0 for water, which has none."""
    mole_fraction: float
    molality: float
    molarity: float
    mass_concentration: float
    density: float
    specific_gravity: float
    degrees_baume: float
    degrees_twaddell: float
    oxide_fraction: float
    boiling_point: float
    heat_capacity: float
    water_vapour_pressure: float


class Conditions(NamedTuple):
    """What the properties hold for, beside the strength."""

    temperature: float
    """°C."""
    reference: float
    """Temperature of solution and water in the specific gravity [°C]."""
    modulus: float
    """Baumé modulus."""


def properties(alkali: AlkaliName, w: float, at: Conditions) -> Properties:
    """The values.

    Args:
        alkali: the hydroxide.
        w: its mass fraction [-], up to the solubility that requests are held to.
        at: temperatures, 0 to 100 °C, and the Baumé modulus, 140 to 150.
    """
    t = at.temperature
    rho = density.density(alkali, w, t)
    gravity = forms.specific_gravity_from_mass_fraction(alkali, w, at.reference)
    concentration = w * rho
    return Properties(
        mass_fraction=w,
        water_ratio=(1.0 - w) / w if w > DILUTE else 0.0,
        mole_fraction=forms.mole_fraction_from_mass_fraction(alkali, w),
        molality=forms.molality_from_mass_fraction(alkali, w),
        molarity=concentration / molar_masses.ALKALI[alkali],
        mass_concentration=concentration,
        density=rho,
        specific_gravity=gravity,
        degrees_baume=degrees_baume_from_specific_gravity(gravity, at.modulus),
        degrees_twaddell=degrees_twaddell_from_specific_gravity(gravity),
        oxide_fraction=forms.oxide_fraction_from_mass_fraction(alkali, w),
        boiling_point=vapour_pressure.boiling_point(alkali, w),
        heat_capacity=enthalpy.heat_capacity(alkali, w, t),
        water_vapour_pressure=vapour_pressure.water_vapour_pressure(alkali, w, t),
    )


def slopes(alkali: AlkaliName, best: Properties, at: Conditions) -> Properties:
    """How each value changes with the mass fraction, found by a small step inwards.

    Args:
        alkali: the hydroxide.
        best: the values.
        at: what they hold for.
    """
    w = best.mass_fraction
    step = STEP if w < SOLUBILITY[alkali] / 2 else -STEP
    beside = properties(alkali, w + step, at)
    return Properties._make([(b - a) / step for a, b in zip(best, beside, strict=True)])


def definitions(alkali: AlkaliName, w: float, half_width: float) -> dict[str, tuple[float, float]]:
    """Lower and upper ends of what follows from the strength by definition alone.

    Each rises or falls with the mass fraction all the way, so the ends of its interval are those of the mass
    fraction's: a slope would miss them where it changes much, as that of the water ratio of a weak solution does.

    Args:
        alkali: the hydroxide.
        w: its mass fraction [-].
        half_width: 95 % half-width of the mass fraction [-].
    """
    weak, strong = max(0.0, w - half_width), min(MOST_HYDROXIDE, w + half_width)
    found = {
        "mole_fraction": tuple(forms.mole_fraction_from_mass_fraction(alkali, end) for end in (weak, strong)),
        "molality": tuple(forms.molality_from_mass_fraction(alkali, end) for end in (weak, strong)),
        "oxide_fraction": tuple(forms.oxide_fraction_from_mass_fraction(alkali, end) for end in (weak, strong)),
        "water_ratio": tuple((1.0 - end) / end for end in (strong, max(weak, DILUTE))),
    }
    return {name: (low, high) for name, (low, high) in found.items()}


def half_widths(alkali: AlkaliName, best: Properties, at: Conditions) -> Properties:
    """95 % half-widths that the models leave where the strength is exact; what is a definition has none.

    Args:
        alkali: the hydroxide.
        best: the values.
        at: what they hold for.
    """
    w, t = best.mass_fraction, at.temperature
    rho = density.relative_half_width(alkali, w, t) * best.density
    gravity = density.relative_half_width(alkali, w, at.reference) * best.specific_gravity
    return Properties(
        mass_fraction=0.0,
        water_ratio=0.0,
        mole_fraction=0.0,
        molality=0.0,
        molarity=w * rho / molar_masses.ALKALI[alkali],
        mass_concentration=w * rho,
        density=rho,
        specific_gravity=gravity,
        degrees_baume=gravity * at.modulus / best.specific_gravity**2,
        degrees_twaddell=200.0 * gravity,
        oxide_fraction=0.0,
        boiling_point=vapour_pressure.boiling_point_half_width(alkali, w),
        heat_capacity=HEAT_CAPACITY_SPREAD * best.heat_capacity,
        water_vapour_pressure=vapour_pressure.water_vapour_pressure_half_width(alkali, w, t),
    )
