"""The steps of a saponification: what is needed, what is weighed, what it gives, and how well all that is known."""

from collections.abc import Hashable, Sequence
from math import hypot, sqrt
from typing import Final

from service.calculations.batch.alkalis import UsedAlkali
from service.calculations.batch.fat_yields import glycerol
from service.calculations.batch.fats import WeighedFat
from service.calculations.shared.notes import Notes
from service.chemistry import molar_masses
from service.chemistry.saponification import hydroxide_amount
from service.chemistry.saponification_budget import (
    FatLine,
    Reagent,
    SaponificationBudget,
    need_contributions,
    reagent_amount,
)
from service.chemistry.uncertainty import Combined, combine, coverage_factor, coverage_half_width, probability_below

Weighed = tuple[Sequence[Reagent], Sequence[Reagent], float]
"""Alkalis, acids, and the step of the scale."""

COVERAGE: Final = (
    "JCGM 100:2008, G.1.4: the factor covers 95 % of the widest rectangle and a normal for all the rest; 1.65 for one "
    "rectangle, 1.96 for a normal"
)
FIELLER: Final = "Fieller, J. R. Stat. Soc. B 16 (1954) 175-185: limits of a ratio"
NARROW: Final = 1e-3
"""Ratio of a rectangle and a normal below which one of them does not show."""


def explain_saponification(
    fats: Sequence[WeighedFat],
    alkalis: Sequence[UsedAlkali],
    weighed: Weighed,
    budget: SaponificationBudget,
    notes: Notes,
) -> None:
    """Write the steps down."""
    _explain_need(fats, weighed[1], budget, notes)
    _explain_alkalis(alkalis, budget, notes)
    _explain_results(fats, budget, notes)
    _explain_blend(fats, budget, notes)
    lines = [one.line for one in fats]
    left = budget.alkali - budget.acid
    explain_spread(lines, weighed, (budget.need, left), "", notes)
    explain_idle_wax(fats, (), weighed, left, notes)


def explain_idle_wax(
    fats: Sequence[WeighedFat], beside: Sequence[FatLine], weighed: Weighed, left: float, notes: Notes
) -> None:
    """The spread once more with wax taking no alkali, where there is wax and something beside it.

    Args:
        fats: the fats.
        beside: lines of fats that come from elsewhere, as those of liquids.
        weighed: alkalis, acids and the scale's division.
        left: alkali that acids leave for the fats [mol].
        notes: where the steps go.
    """
    taking = [one.line for one in fats if not one.fat.hardly_saponified]
    others = [*taking, *beside]
    if others and len(taking) < len(fats):
        need = sum(hydroxide_amount(one.mass, one.saponification_value) for one in others)
        explain_spread(others, weighed, (need, left), ", wax taking none", notes)


def _explain_need(
    fats: Sequence[WeighedFat], acids: Sequence[Reagent], budget: SaponificationBudget, notes: Notes
) -> None:
    explain_takers(fats, acids, notes)
    notes.step(
        "hydroxide in all",
        "(1 - superfat) * need + acids",
        {"need": (budget.need, "mol"), "superfat": (budget.superfat, "1"), "acids": (budget.acid, "mol")},
        (budget.alkali, "mol"),
        "superfat by alkali discount; acids are neutralised in full",
    )


def explain_takers(fats: Sequence[WeighedFat], acids: Sequence[Reagent], notes: Notes) -> None:
    """What each fat and each acid takes."""
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


def _explain_blend(fats: Sequence[WeighedFat], budget: SaponificationBudget, notes: Notes) -> None:
    mass = sum(one.mass for one in fats)
    notes.step(
        "saponification value of the blend",
        "1000 * need * molar_mass_koh / mass",
        {
            "need": (budget.need, "mol"),
            "molar_mass_koh": (molar_masses.KOH * 1000, "g/mol"),
            "mass": (mass * 1000, "g"),
        },
        (budget.need * molar_masses.KOH / mass * 1000, "mg/g"),
        "ISO 3657 (definition)",
    )
    values = [one.fat.iodine_value for one in fats]
    if None in values:
        return
    masses = {f"mass{place}": (one.mass * 1000, "g") for place, one in enumerate(fats, start=1)}
    inputs = {f"value{place}": ((value or 0.0) * 100, "g/100g") for place, value in enumerate(values, start=1)}
    sums = " + ".join(f"mass{place} * value{place}" for place in range(1, len(fats) + 1))
    total = sum(one.mass * (one.fat.iodine_value or 0.0) for one in fats)
    notes.step(
        "iodine value of the blend",
        f"({sums}) / ({' + '.join(masses)})",
        masses | inputs,
        (total / mass * 100, "g/100g"),
        "mean by mass; values of the catalogue or the certificates, in the order of the fats",
    )


def explain_spread(
    lines: Sequence[FatLine], weighed: Weighed, amounts: tuple[float, float], when: str, notes: Notes
) -> None:
    """How well need and alkali are known, and what that leaves open of the superfat."""
    alkalis, acids, division = weighed
    needed, left = amounts
    _, by_fat = need_contributions(lines, division)
    need = _explain_by_fat(lines, by_fat, when, notes)
    alkali, acid = reagent_amount(alkalis, division)[1], reagent_amount(acids, division)[1]
    for_fats = combine(((1.0, alkali), (1.0, acid)))
    notes.step(
        f"standard uncertainty of the alkali for the fats{when}",
        "sqrt(alkali**2 + acid**2)",
        {"alkali": (alkali[0], "mol"), "acid": (acid[0], "mol")},
        (for_fats[0], "mol"),
        "spread of purity, strength and acidity, and the steps of the scale",
    )
    met = left / needed
    wanted = combine(((met, need), (1.0, acid)))
    notes.step(
        f"half-width of the alkali{when}",
        "coverage_factor * sqrt((met * need)**2 + acid**2)",
        {
            "coverage_factor": (coverage_factor(wanted), "1"),
            "met": (met, "1"),
            "need": (need[0], "mol"),
            "acid": (acid[0], "mol"),
        },
        (coverage_half_width(wanted), "mol"),
        COVERAGE,
    )
    for side, name in ((-1.0, "lower"), (1.0, "upper")):
        _explain_end((needed, need), (left, for_fats), (side, f"{name} end of the superfat{when}"), notes)
    short = needed - left
    if abs(short) <= 1e-12 * needed:
        short = 0.0
    _explain_probability(short, combine(((1.0, need), (1.0, for_fats))), when, notes)


def _explain_by_fat(lines: Sequence[FatLine], by_fat: dict[Hashable, Combined], when: str, notes: Notes) -> Combined:
    """Each fat's part, and all together."""
    parts = {}
    for place, (fat, combined) in enumerate(by_fat.items(), start=1):
        own = [one for one in lines if one.fat == fat]
        mass = sum(one.mass for one in own)
        value = own[0].saponification_value_part[0]
        shared = mass * value / molar_masses.KOH
        label = fat if isinstance(fat, str) else fat[0] if isinstance(fat, tuple) else place
        notes.step(
            f"standard uncertainty of the need of {label}{when}",
            "sqrt((mass * value / 1000 / molar_mass_koh)**2 + weighing**2)",
            {
                "mass": (mass * 1000, "g"),
                "value": (value * 1000, "mg/g"),
                "molar_mass_koh": (molar_masses.KOH * 1000, "g/mol"),
                "weighing": (sqrt(max(0.0, combined[0] ** 2 - shared**2)), "mol"),
            },
            (combined[0], "mol"),
            "JCGM 100:2008, 4.3.7 (limits: half-width over the root of 3) and 5.1.2",
        )
        parts[f"fat{place}"] = (combined[0], "mol")
    total = combine([(1.0, one) for one in by_fat.values()])
    notes.step(
        f"standard uncertainty of the need{when}",
        f"sqrt({' + '.join(f'{name}**2' for name in parts)})",
        parts,
        (total[0], "mol"),
        "JCGM 100:2008, 5.1.2: fats err independently",
    )
    notes.step(
        f"interval of the need{when}",
        "coverage_factor * standard_uncertainty",
        {"coverage_factor": (coverage_factor(total), "1"), "standard_uncertainty": (total[0], "mol")},
        (coverage_half_width(total), "mol"),
        COVERAGE,
    )
    return total


def _explain_end(
    need: tuple[float, Combined], alkali: tuple[float, Combined], end: tuple[float, str], notes: Notes
) -> None:
    """One end of the interval of the superfat, whose width depends on the end itself."""
    side, name = end
    (needed, spread), (left, for_fats) = need, alkali
    met = left / needed
    for _ in range(100):
        width = Combined(hypot(spread[0], for_fats[0] / met), max(spread[1], for_fats[1] / met))
        met = left / (needed + side * coverage_half_width(width))
    notes.step(
        f"half-width for the {name}",
        "coverage_factor * sqrt(need**2 + (alkali / met)**2)",
        {
            "coverage_factor": (coverage_factor(width), "1"),
            "need": (spread[0], "mol"),
            "alkali": (for_fats[0], "mol"),
            "met": (met, "1"),
        },
        (coverage_half_width(width), "mol"),
        f"{FIELLER}; met is 1 less this end. {COVERAGE}",
    )
    notes.step(
        name,
        f"1 - alkali / (need {'+' if side > 0 else '-'} half_width)",
        {"alkali": (left, "mol"), "need": (needed, "mol"), "half_width": (coverage_half_width(width), "mol")},
        (1 - met, "1"),
        FIELLER,
    )


def _explain_probability(short: float, balance: Combined, when: str, notes: Notes) -> None:
    """How likely the alkali is more than fats and acids can take."""
    total, half_width = balance
    name = f"probability of free alkali{when}"
    source = "JCGM 100:2008: rectangle and normal together; short is what the fats could take beyond the alkali"
    if total <= 0:
        return
    rest = sqrt(max(0.0, total * total - half_width * half_width / 3))
    if half_width <= NARROW * rest:
        result = probability_below(0.0, short, balance)
        inputs = {"short": (short, "mol"), "standard_uncertainty": (total, "mol")}
        notes.step(name, "erfc(short / (standard_uncertainty * sqrt(2))) / 2", inputs, (result, "1"), source)
        return
    result = probability_below(0.0, short, balance)
    if rest <= NARROW**2 * half_width:
        inputs = {"short": (short, "mol"), "half_width": (half_width, "mol")}
        notes.step(name, "min(1, max(0, (1 - short / half_width) / 2))", inputs, (result, "1"), source)
        return
    notes.step(
        f"normal part of the balance{when}",
        "sqrt(standard_uncertainty**2 - half_width**2 / 3)",
        {"standard_uncertainty": (total, "mol"), "half_width": (half_width, "mol")},
        (rest, "mol"),
        "what is left beside the widest rectangle",
    )
    upper, lower = (half_width - short) / rest, (-half_width - short) / rest
    notes.step(
        name,
        f"max(0, rest / (2 * half_width) * ({_integral('upper')} - ({_integral('lower')})))",
        {
            "rest": (rest, "mol"),
            "half_width": (half_width, "mol"),
            "upper": (upper, "1"),
            "lower": (lower, "1"),
        },
        (result, "1"),
        f"{source}; upper and lower are (half_width - short) / rest and (-half_width - short) / rest",
    )


def _integral(name: str) -> str:
    """The integral of the normal distribution function."""
    return f"{name} / 2 * erfc(-{name} / sqrt(2)) + exp(-{name}**2 / 2) / sqrt(6.283185307179586)"
