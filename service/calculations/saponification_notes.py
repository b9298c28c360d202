"""What saponification says beside its numbers: cautions of fats, purity and free alkali, and its steps."""

from collections.abc import Sequence
from typing import Final

from service.calculations.alkalis import UsedAlkali, caution_burns
from service.calculations.fats import (
    WeighedFat,
    caution_fats,
    caution_free_alkali,
    caution_idle_alkali,
    glycerol,
)
from service.calculations.notes import Notes, percent
from service.calculations.standing_cautions import SOLID_INTO_WATER
from service.chemistry import molar_masses
from service.chemistry.saponification import hydroxide_amount
from service.chemistry.saponification_budget import Reagent, SaponificationBudget
from service.chemistry.uncertainty import coverage_factor, coverage_half_width

SELDOM_MEANT: Final = 0.25


def caution_saponification(
    fats: Sequence[WeighedFat], alkalis: Sequence[UsedAlkali], budget: SaponificationBudget, notes: Notes
) -> None:
    """Everything the person at the bench should know of this batch."""
    caution_burns(notes)
    notes.cautions.append(SOLID_INTO_WATER)
    notes.assume("/fats", "no free fatty acids in the fats", "the glycerol is that of neutral fats")
    _caution_purity(alkalis, notes)
    if budget.superfat >= SELDOM_MEANT:
        notes.caution(
            "superfat-high",
            f"A superfat of {percent(budget.superfat)} is seldom meant (usual are 3 to 8 %): 0.5 is half of it, and "
            "'0.5 %' is not.",
        )
    caution_free_alkali(budget, notes)
    caution_fats(fats, notes)
    caution_idle_alkali(fats, budget, notes)


def _caution_purity(alkalis: Sequence[UsedAlkali], notes: Notes) -> None:
    for one in alkalis:
        if one.purity is None:
            notes.caution(
                "purity-missing",
                "Solid KOH holds about a tenth of water, so mass_as_supplied is left out: give purity from the "
                "certificate. The mass is of pure KOH; a stock may be drawn for it as it is.",
            )
        elif not one.purity_part.standard_uncertainty:
            notes.caution(
                "purity-taken-as-exact",
                f"The purity of {one.alkali}, {percent(one.purity, 2)}, carries no spread in the intervals; "
                "give the limits of its certificate as low and high.",
            )


def _explain_need(
    fats: Sequence[WeighedFat], acids: Sequence[Reagent], budget: SaponificationBudget, notes: Notes
) -> None:
    for weighed in fats:
        fat = weighed.fat
        notes.step(
            f"hydroxide for {fat.label}",
            "mass * saponification_value / 1000 / molar_mass_koh",
            {
                "mass": (weighed.mass * 1000, "g"),
                "saponification_value": (fat.saponification_value * 1000, "mg/g"),
                "molar_mass_koh": (molar_masses.KOH * 1000, "g/mol"),
            },
            (hydroxide_amount(weighed.mass, fat.saponification_value), "mol"),
            f"ISO 3657 (definition); value from {fat.source}",
        )
    for acid in acids:
        notes.step(
            f"hydroxide for {acid.reagent}",
            "mass * takes",
            {"mass": (acid.mass * 1000, "g"), "takes": (acid.content / 1000, "mol/g")},
            (acid.mass * acid.content, "mol"),
            "protons over molar mass, times the content of what is weighed",
        )
    notes.step(
        "hydroxide in all",
        "(1 - superfat) * need + acids",
        {"need": (budget.need, "mol"), "superfat": (budget.superfat, "1"), "acids": (budget.acid, "mol")},
        (budget.alkali, "mol"),
        "superfat by alkali discount; acids are neutralised in full",
    )


def _explain_alkalis(alkalis: Sequence[UsedAlkali], budget: SaponificationBudget, notes: Notes) -> None:
    for one in alkalis:
        pure = budget.alkali * one.mole_share * one.molar_mass * 1000
        notes.step(
            f"mass of {one.alkali}",
            "hydroxide * mole_share * molar_mass",
            {
                "hydroxide": (budget.alkali, "mol"),
                "mole_share": (one.mole_share, "1"),
                "molar_mass": (one.molar_mass * 1000, "g/mol"),
            },
            (pure, "g"),
            "abridged standard atomic weights (IUPAC/CIAAW)",
        )
        if one.purity is not None:
            notes.step(
                f"{one.alkali} as supplied",
                "mass / purity",
                {"mass": (pure, "g"), "purity": (one.purity, "1")},
                (pure / one.purity, "g"),
                "definition of purity",
            )


def _explain_results(fats: Sequence[WeighedFat], budget: SaponificationBudget, notes: Notes) -> None:
    mass = glycerol(fats, budget.alkali - budget.acid)
    if mass:
        notes.step(
            "glycerol",
            "esters / 3 * molar_mass",
            {
                "esters": (3 * mass / molar_masses.GLYCEROL, "mol"),
                "molar_mass": (molar_masses.GLYCEROL * 1000, "g/mol"),
            },
            (mass * 1000, "g"),
            "one glycerol from three ester groups that alkali has saponified",
        )
    combined = budget.need_combined
    notes.step(
        "interval of the need",
        "coverage_factor * standard_uncertainty",
        {
            "coverage_factor": (coverage_factor(combined), "1"),
            "standard_uncertainty": (combined.standard_uncertainty, "mol"),
        },
        (coverage_half_width(combined), "mol"),
        "JCGM 100:2008, 5.1.2; limits are rectangular (4.3.7); the factor is 1.65 for one rectangle, 1.96 for a normal",
    )


def explain_saponification(
    fats: Sequence[WeighedFat],
    alkalis: Sequence[UsedAlkali],
    acids: Sequence[Reagent],
    budget: SaponificationBudget,
    notes: Notes,
) -> None:
    """The steps, so that a person can redo them by hand."""
    _explain_need(fats, acids, budget, notes)
    _explain_alkalis(alkalis, budget, notes)
    _explain_results(fats, budget, notes)
