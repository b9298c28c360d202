"""Strengths of realistic solutions, in every form a strength can be said in."""

from collections.abc import Callable
from typing import Any, Final, NamedTuple

from hypothesis import strategies as st

from service.calculations.shared.given import (
    Density,
    Fraction,
    Mass,
    MassConcentration,
    Molality,
    Molarity,
    Purity,
    Ratio,
    Share,
    Temperature,
)
from service.calculations.shared.reading import Given
from service.calculations.stock.solutions import ROOM, SIXTY_FAHRENHEIT, SOLUBILITY, USUAL_MODULUS
from service.chemistry import strength as forms
from tests.contract.quantities import said

STRONGEST: Final[dict[str, float]] = {str(name): w for name, w in SOLUBILITY.items()}


class Form(NamedTuple):
    """A form of strength."""

    given: type[Given] | None
    """Its kind; None for a plain number."""
    value: Callable[[Any, float, float], float]
    """Its value [SI] for an alkali, a mass fraction and a temperature [°C]."""
    holds_at: str | None = None
    """Member of the temperature that it holds at."""


FORMS: Final[dict[str, Form]] = {
    "mass_fraction": Form(Fraction, lambda _, w, __: w),
    "water_ratio": Form(Ratio, lambda _, w, __: forms.water_ratio_from_mass_fraction(w)),
    "mole_fraction": Form(Fraction, lambda alkali, w, _: forms.mole_fraction_from_mass_fraction(alkali, w)),
    "molality": Form(Molality, lambda alkali, w, _: forms.molality_from_mass_fraction(alkali, w)),
    "molarity": Form(Molarity, forms.molarity_from_mass_fraction, "temperature"),
    "mass_concentration": Form(MassConcentration, forms.mass_concentration_from_mass_fraction, "temperature"),
    "density": Form(Density, forms.density_from_mass_fraction, "temperature"),
    "degrees_baume": Form(
        None,
        lambda alkali, w, t: forms.degrees_baume_from_mass_fraction(alkali, w, USUAL_MODULUS, t),
        "reference_temperature",
    ),
    "degrees_twaddell": Form(None, forms.degrees_twaddell_from_mass_fraction, "reference_temperature"),
    "oxide_fraction": Form(Fraction, lambda alkali, w, _: forms.oxide_fraction_from_mass_fraction(alkali, w)),
}
"""Every form but that of a mixture."""


@st.composite
def strengths(draw: st.DrawFn, alkali: str, low: float, high: float) -> dict[str, Any]:
    """A strength between two mass fractions, in any form."""
    w = draw(st.floats(low, high))
    name = draw(st.sampled_from([*FORMS, "as_mixed"]))
    strength: dict[str, Any] = {}
    if name == "as_mixed":
        strength["as_mixed"] = draw(_as_mixed(alkali, w))
    else:
        form = FORMS[name]
        t = SIXTY_FAHRENHEIT if form.holds_at == "reference_temperature" else ROOM
        if form.holds_at is not None and draw(st.booleans()):
            t = draw(st.floats(10.0, 40.0))
            strength[form.holds_at] = draw(said(Temperature, t))
        value = form.value(alkali, w, t)
        strength[name] = max(value, 0.0) if form.given is None else draw(said(form.given, value))
    if draw(st.integers(0, 4)) == 0:
        strength["uncertainty"] = draw(said(Share, 0.0, 0.01))
    return strength


@st.composite
def _as_mixed(draw: st.DrawFn, alkali: str, w: float) -> dict[str, Any]:
    mass = draw(st.floats(0.1, 30.0))
    purity = draw(st.floats(0.86, 0.92) if alkali == "KOH" else st.floats(0.96, 1.0))
    water = mass * (purity / w - 1)
    mixed = {"mass_as_supplied": draw(said(Mass, mass)), "water_mass": draw(said(Mass, water))}
    mixed["purity"] = draw(said(Purity, purity))
    if draw(st.booleans()):
        mixed["moisture"] = draw(said(Share, 0.0, (1 - purity) * 0.9))
    return mixed
