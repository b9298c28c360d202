"""What a concentration says beside its numbers: cautions of crystals, boiling and data, and its steps."""

from typing import Final

from service.calculations.shared.cautions import degrees
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes
from service.calculations.stock.solution_properties import Conditions
from service.calculations.stock.solution_steps import explain_boiling_point, explain_density, explain_water_density
from service.chemistry import density, molar_masses, vapour_pressure, water
from service.chemistry import strength as forms
from service.chemistry.freezing import FirstSolid

BOILS_WITHIN: Final = 0.5
"""Distance [K] from the boiling point at which a solution counts as boiling."""


def caution_concentration(
    alkali: AlkaliName, w: float, t: float, notes: Notes, *, first: FirstSolid, boiling: float
) -> None:
    """Everything that whoever handles the solution, or trusts the figures, should know.

    Args:
        alkali: its hydroxide.
        w: mass fraction of hydroxide [-].
        t: its temperature [°C].
        notes: where the cautions go.
        first: the first solid of it.
        boiling: its boiling point [°C].
    """
    if t <= first.high:
        notes.caution(
            "crystals-in-solution",
            f"At {degrees(t, 1)} {'it holds' if t <= first.low else 'it may hold'} solid ({first.name}, from "
            f"{degrees(first.temperature, 1)}): warm and stir it before any is drawn. The properties are those of the "
            "liquid without crystals.",
        )
    if t >= boiling - BOILS_WITHIN:
        notes.caution(
            "boils",
            f"At {degrees(t, 1)} it boils, or is about to ({degrees(boiling, 1)} at 1 atm): the properties are "
            "those of a liquid that does not.",
            "caution",
        )
    if first.evidence in {"memory", "mixed"}:
        notes.caution(
            "figure-from-memory", "The temperature of the first solid rests on figures from memory here.", "note"
        )
    beyond = [
        name
        for name, inside in (
            ("density", density.in_source_range(alkali, w, t)),
            ("boiling point", vapour_pressure.in_source_range(alkali, w, boiling)),
            ("vapour pressure", vapour_pressure.in_source_range(alkali, w, t)),
        )
        if not inside
    ]
    if beyond:
        notes.caution(
            "beyond-source-range",
            f"Beyond the range that the source of the figure states: {', '.join(beyond)}.",
            "note",
            "Olsson, Jernqvist & Aly 1997 (NaOH); Laliberté 2009 and Balej 1985 (KOH)",
        )


def explain_concentration(alkali: AlkaliName, w: float, at: Conditions, notes: Notes) -> None:
    """The steps, so that a person can redo them by hand."""
    t, reference, modulus = at
    molar_mass = molar_masses.ALKALI[alkali] * 1000
    rho = density.density(alkali, w, t)
    notes.step(
        "molality",
        "1000 * w / (molar_mass * (1 - w))",
        {"w": (w, "1"), "molar_mass": (molar_mass, "g/mol")},
        (forms.molality_from_mass_fraction(alkali, w), "mol/kg"),
        "definition",
    )
    explain_density(alkali, w, t, notes)
    notes.step(
        "molarity",
        "1000 * w * density / molar_mass",
        {"w": (w, "1"), "density": (rho / 1000, "kg/L"), "molar_mass": (molar_mass, "g/mol")},
        (forms.molarity_from_mass_fraction(alkali, w, t) / 1000, "mol/L"),
        "definition",
    )
    gravity = forms.specific_gravity_from_mass_fraction(alkali, w, reference)
    if reference != t:
        explain_density(alkali, w, reference, notes, f"density at {reference:.4g} °C")
    explain_water_density(reference, notes)
    notes.step(
        "specific gravity",
        "density / density_of_water",
        {
            "density": (density.density(alkali, w, reference) / 1000, "kg/L"),
            "density_of_water": (water.density(reference) / 1000, "kg/L"),
        },
        (gravity, "1"),
        f"both at {reference:.4g} °C; water by Kell 1975",
    )
    notes.step(
        "degrees Baumé",
        "modulus - modulus / specific_gravity",
        {"modulus": (modulus, "1"), "specific_gravity": (gravity, "1")},
        (forms.degrees_baume_from_mass_fraction(alkali, w, modulus, reference), "1"),
        "scale for liquids heavier than water; modulus 145 in the USA",
    )
    explain_boiling_point(alkali, w, notes)
