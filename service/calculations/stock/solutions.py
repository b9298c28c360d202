"""Strength of a solution in any of its forms, read into a mass fraction of hydroxide."""

from collections.abc import Callable
from math import sqrt
from typing import Final, NamedTuple

from msgspec import UNSET

from service.calculations.batch.alkalis import purity_of
from service.calculations.shared.messages import AlkaliName, Strength
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.reading import NORMAL_95, Given, part_of
from service.chemistry import density
from service.chemistry import strength as forms
from service.chemistry.errors import OutOfRange
from service.chemistry.ranges import ROUNDING
from service.chemistry.uncertainty import EXACT, Combined, Part, combine, normal

ROOM: Final = 20.0
"""Temperature taken where none is given [°C]."""
COLDEST: Final = 0.0
HOTTEST: Final = 100.0
"""Temperatures [°C] that properties are known for, and that a density or an amount per volume may hold for."""
SIXTY_FAHRENHEIT: Final = forms.SIXTY_FAHRENHEIT

BY_DENSITY: Final = frozenset({"molarity", "mass_concentration", "density", "degrees_baume", "degrees_twaddell"})
"""Forms that are read through the density model."""
HYDROMETER_REASON: Final = "hydrometers are marked at 60/60 °F"
USUAL_MODULUS: Final = 145.0
MODULUS_REASON: Final = "the modulus in use in the USA; older European scales differ"

SOLUBILITY: Final[dict[AlkaliName, float]] = {"NaOH": 0.52, "KOH": 0.50}
"""Strongest solutions reckoned with [-]: NaOH saturates at 52.2 % and 20 °C (seen-secondary: Great Soviet
Encyclopedia, English text); for KOH, which dissolves to 52.8 %, the data of the models end at 50 %."""

SOLUBILITY_REASON: Final[dict[AlkaliName, str]] = {
    "NaOH": "NaOH is saturated at 52 % at 20 °C, and what is stronger sets solid",
    "KOH": "the data for KOH end at 50 %, near its saturation",
}


class Found(NamedTuple):
    """A strength as mass fraction of hydroxide, and its spread."""

    mass_fraction: float
    spread: Combined
    by_density: float = 0.0
    """How it goes with the model of densities, by which it was told: what it changes by where all solutions are denser
    by one standard uncertainty; the spread holds it."""

    @property
    def own(self) -> Combined:
        """Its spread without that of the model of densities."""
        total, widest = self.spread
        return Combined(sqrt(max(0.0, total * total - self.by_density * self.by_density)), widest)


def mass_fraction(
    strength: Strength, alkali: AlkaliName, notes: Notes, at: str, *, lowest: float = 0.0
) -> Found | None:
    """The mass fraction that a strength means; None where that is a fault, which goes into the notes.

    Args:
        strength: as the request has it.
        alkali: its hydroxide.
        notes: where faults and assumptions go.
        at: pointer of the strength.
        lowest: lowest mass fraction that makes sense here.
    """
    if strength.mass_fraction is not None and strength.uncertainty is None:
        given = strength.mass_fraction
        found = Found(given.value, Combined(*part_of(given)))
    else:
        _check_temperatures(strength, notes, at)
        if any(fault.pointer is not UNSET and fault.pointer.startswith(f"{at}/") for fault in notes.faults):
            return None
        try:
            read = _read(strength, alkali, notes, at)
        except OutOfRange as error:
            notes.fault(
                at,
                "beyond-solubility" if error.value > error.high else "beyond-data",
                f"no {alkali} solution reckoned with has {_said(strength)}",
                f"check the number, its unit and its temperature; {SOLUBILITY_REASON[alkali]}",
            )
            return None
        if read is None:
            return None
        found = read
    top = SOLUBILITY[alkali]
    if found.mass_fraction > top + ROUNDING:
        notes.fault(
            at,
            "beyond-solubility",
            f"{percent(found.mass_fraction, 4)} {alkali} is too strong: {SOLUBILITY_REASON[alkali]}",
            f"give at most {percent(top, 0)}",
        )
        return None
    if found.mass_fraction < lowest:
        weak = f"a solution of {found.mass_fraction * 100:.3g} % is too weak to reckon with here"
        notes.fault(
            at,
            "out-of-range",
            weak if found.mass_fraction > 0 else "a solution without hydroxide is none to reckon with",
            f"give at least {lowest * 100:g} %" if found.mass_fraction > 0 else "give a strength above 0",
        )
        return None
    return found


def _said(strength: Strength) -> str:
    """The form and the figure as they were given."""
    form = strength.form
    given = getattr(strength, form)
    said = given.said if isinstance(given, Given) else given
    if isinstance(said, dict):
        said = " ".join(str(said[name]) for name in ("value", "unit") if name in said)
    return f"a {form.replace('_', ' ')} of {str(said)[:40]}"


def _check_temperatures(strength: Strength, notes: Notes, at: str) -> None:
    for name in ("temperature", "reference_temperature"):
        given = getattr(strength, name)
        if given is not None and not COLDEST <= given.value <= HOTTEST:
            notes.fault(
                f"{at}/{name}",
                "beyond-data",
                f"{given.value:.4g} °C is outside {COLDEST:g} to {HOTTEST:g} °C, where densities are known",
                "give the temperature that the figure holds for",
            )


def _read(strength: Strength, alkali: AlkaliName, notes: Notes, at: str) -> Found | None:
    form = strength.form
    if form == "as_mixed":
        return _as_mixed(strength, alkali, notes, at)
    given = getattr(strength, form)
    convert = _converter(form, strength, alkali, notes, at)
    value = given.value if isinstance(given, Given) else float(given)
    found = convert(value)
    parts: list[tuple[float, Part]] = []
    spread = part_of(given) if isinstance(given, Given) else EXACT
    if spread.standard_uncertainty:
        step = max(abs(value) * 1e-6, 1e-12)
        parts.append(((convert(value + step) - convert(value - step)) / (2 * step), spread))
    by_density = 0.0
    if form in BY_DENSITY and found > 0:
        by_density = _by_density(form, strength, alkali, found)
        parts.append((by_density, normal(1.0)))
    if strength.uncertainty is not None:
        parts.append((1.0, Part(strength.uncertainty.value)))
    return Found(found, combine(parts), by_density)


def _by_density(form: str, strength: Strength, alkali: AlkaliName, w: float) -> float:
    """What a strength that was told by a density changes by where solutions are denser by a standard uncertainty."""
    t = ROOM if strength.temperature is None else strength.temperature.value
    if form in {"degrees_baume", "degrees_twaddell"}:
        given = strength.reference_temperature
        t = SIXTY_FAHRENHEIT if given is None else given.value
    low, high = max(0.0, w - 1e-4), min(SOLUBILITY[alkali], w + 1e-4)
    if high <= low:
        return 0.0
    slope = (density.density(alkali, high, t) - density.density(alkali, low, t)) / (high - low)
    half_width = density.density_half_width(alkali, w, t)
    if form in {"molarity", "mass_concentration"}:  # w density is given: a heavier solution is a weaker one
        return -half_width * w / (density.density(alkali, w, t) + w * slope) / NORMAL_95
    return -half_width / slope / NORMAL_95


def _converter(form: str, strength: Strength, alkali: AlkaliName, notes: Notes, at: str) -> Callable[[float], float]:
    """The function from this form to the mass fraction."""
    if form == "mass_fraction":
        return float
    if form in {"water_ratio", "mole_fraction", "molality", "oxide_fraction"}:
        function = getattr(forms, f"mass_fraction_from_{form}")
        if form == "water_ratio":
            return lambda value: float(function(value))
        return lambda value: float(function(alkali, value))
    if form in {"molarity", "mass_concentration", "density"}:
        t = ROOM
        if strength.temperature is None:
            notes.assume(f"{at}/temperature", "20 °C", "a density or an amount per volume holds at one temperature")
        else:
            t = strength.temperature.value
        function = getattr(forms, f"mass_fraction_from_{form}")
        return lambda value: float(function(alkali, value, t))
    reference = SIXTY_FAHRENHEIT
    if strength.reference_temperature is None:
        notes.assume(f"{at}/reference_temperature", "60 °F", HYDROMETER_REASON)
    else:
        reference = strength.reference_temperature.value
    if form == "degrees_twaddell":
        return lambda value: forms.mass_fraction_from_degrees_twaddell(alkali, value, reference)
    modulus = USUAL_MODULUS
    if strength.baume_modulus is None:
        notes.assume(f"{at}/baume_modulus", f"{USUAL_MODULUS:g}", MODULUS_REASON)
    else:
        modulus = strength.baume_modulus
    return lambda value: forms.mass_fraction_from_degrees_baume(alkali, value, modulus, reference)


def _as_mixed(strength: Strength, alkali: AlkaliName, notes: Notes, at: str) -> Found | None:
    mixed = strength.as_mixed
    if mixed is None:
        return None
    purity, purity_part = purity_of(alkali, mixed.purity, notes, f"{at}/as_mixed/purity")
    if purity is None:
        notes.fault(
            f"{at}/as_mixed/purity",
            "purity-needed",
            "solid KOH holds about a tenth of water, so its purity must be known",
            "give the purity of the certificate, as in '90 %'",
        )
        return None
    if mixed.moisture is not None and purity + mixed.moisture.value > 1 + ROUNDING:
        notes.fault(
            f"{at}/as_mixed/moisture",
            "contradiction",
            "hydroxide and water are more than the whole solid",
            "compare purity and moisture with the certificate",
        )
        return None
    solid, water = mixed.mass_as_supplied, mixed.water_mass
    total = solid.value + water.value
    value = forms.mass_fraction_from_as_mixed(solid.value, water.value, purity)
    parts = [
        (solid.value / total, purity_part),
        (purity * water.value / total**2, part_of(solid)),
        (-value / total, part_of(water)),
    ]
    if strength.uncertainty is not None:
        parts.append((1.0, Part(strength.uncertainty.value)))
    return Found(value, combine(parts))
