"""What a liquid split says beside its numbers: cautions of practice and chemistry, and its steps."""

from collections.abc import Sequence
from typing import Final

from service.calculations.batch.liquids import carbon_monoxide
from service.calculations.batch.split import Source, Split
from service.calculations.shared.cautions import degrees
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.standing_cautions import DISSOLVING, METALS, STORE
from service.calculations.stock.solutions import ROOM
from service.calculations.stock.stock_heat import caution_hot_stock, caution_warmed_stock
from service.calculations.stock.stocks import weigh_it
from service.chemistry.liquid_split import LEAST_WATER_RATIO
from service.chemistry.mixing import mix
from service.chemistry.mixing_records import Charge, Solid, Water
from service.chemistry.ranges import ROUNDING
from service.chemistry.saponification_budget import SaponificationBudget
from service.chemistry.uncertainty import combine, coverage_factor, coverage_half_width

RATIO_GUIDANCE: Final = (
    (1.1, "near 1:1, the least water there is: it sets very fast"),
    (1.35, "1.2 to 1.3:1 is taken for quicker unmoulding, less ash and fewer glycerine rivers"),
    (1.7, "between the dry 1.3:1 and the usual 2:1"),
    (1.9, "about 1.8:1 is taken where the air is humid"),
    (2.1, "usual"),
    (2.8, "somewhat more than 2:1 is taken with scents that speed up trace, such as clove or thyme"),
)
WETTER: Final = "wetter than is usual: slow to trace and to unmould, and it shrinks much as it dries"

NEARLY_BOILING: Final = 90.0
"""Peak of a mixing from which it is called close to boiling [°C]."""
WORTH_A_WORD: Final = 0.001
"""Share of the alkali from which a caution is due."""
UNKNOWN_FAT: Final = 1e-4
"""Fat of unknown kind per alkali from which a word is due."""


def caution_split(split: Split, budget: SaponificationBudget | None, notes: Notes) -> None:
    """Everything the person at the bench should know of this split."""
    notes.tell(METALS)
    if any(one.strength is None for one in split.sources):
        notes.tell(*DISSOLVING)
    _ratio(split, notes)
    caution_drawn(split.sources, notes)
    caution_warmed_stock(split, notes)
    _liquids(split, budget, notes)
    for one in split.sources:
        if one.strength is None:
            _dissolving(one, split.dissolving_water_ratio, notes)
        if one.strength is None and one.purity is None:
            notes.caution(
                "purity-missing",
                "There is no KOH stock and no purity of the solid: mass_as_supplied is left out. Give purity.",
            )


def _dissolving(source: Source, ratio: float, notes: Notes) -> None:
    """How hot it gets to dissolve dry alkali in so many times its mass of water."""
    purity = source.purity or 0.9
    solid = Solid(source.alkali, source.mass / purity, ROOM, purity)
    water = Water(source.mass * ratio, ROOM)
    hot = mix(solid, Charge(water=water), points=12, enthalpy_shift=1.0).peak_temperature
    much = "its own mass" if ratio <= LEAST_WATER_RATIO * (1 + ROUNDING) else f"{ratio:.3g} times its mass"
    what = f"Dissolving dry {source.alkali} in {much} of water"
    if hot is None:
        notes.caution("dissolving-heats", f"{what} brings it close to boiling: use more water.")
        return
    more = "use more of the water for it, ice" if ratio <= LEAST_WATER_RATIO * (1 + ROUNDING) else "use ice"
    peak = degrees(hot) + (", close to boiling" if hot >= NEARLY_BOILING else "")
    notes.caution(
        "dissolving-heats",
        f"{what} gets it up to {peak}: {more} for a part of it, and let it cool before it meets the fats.",
    )


def _ratio(split: Split, notes: Notes) -> None:
    ratio = split.counted_ratio
    text = next((text for top, text in RATIO_GUIDANCE if ratio < top), WETTER)
    notes.caution("water-ratio", f"{ratio:.3g} parts of liquid to one of alkali: {text}.")
    if split.counts_whole and ratio - split.actual_water_ratio > 0.02:
        notes.caution(
            "liquid-counted-whole",
            f"The liquids are counted whole, as {ratio:.3g}:1; the water in them makes "
            f"{split.actual_water_ratio:.3g}:1"
            + (", and alkali needs its own mass of real water to dissolve." if split.actual_water_ratio < 1 else "."),
            "danger" if split.actual_water_ratio < 1 else None,
        )


def caution_drawn(sources: Sequence[Source], notes: Notes) -> None:
    """What stocks need that are drawn from: to be weighed, closed, clear and cool.

    Args:
        sources: the alkalis; one that is weighed dry is passed over.
        notes: where the cautions go.
    """
    known = [one.stock for one in sources if one.stock is not None]
    if known:  # a stock that has dried out carries more alkali than is reckoned with
        notes.tell(weigh_it(*[one.overdose for one in known]), STORE)
    for stock in known:
        if stock.crystals is not None:
            notes.tell(stock.crystals)
    caution_hot_stock(sources, notes)


def _liquids(split: Split, budget: SaponificationBudget | None, notes: Notes) -> None:
    for one in split.added:
        notes.tell(*one.liquid.cautions)
    sugary = dict.fromkeys([one.liquid.id for one in split.added if one.liquid.holds_sugar])
    if sugary:
        notes.tell(carbon_monoxide(*sugary))
    _acids(split, notes)
    _fats(split, budget, notes)


def _acids(split: Split, notes: Notes) -> None:
    taken = split.acid_amount / split.needed_amount
    if taken < WORTH_A_WORD:
        return
    compensated = split.amount > split.needed_amount
    notes.caution(
        "acid-takes-alkali",
        f"The liquids' acid takes {percent(taken)} of the alkali"
        + (", and as much was added." if compensated else ': that raises the superfat. "compensate": true adds it.'),
        "note" if compensated else None,
    )
    recalled = [one.liquid.name for one in split.added if one.liquid.acid_evidence in {"memory", "assumed"}]
    if recalled:
        notes.caution(
            "figure-from-memory",
            f"The acidity of {', '.join(recalled)} is from memory or assumed, not verified.",
            "note",
        )


def _fats(split: Split, budget: SaponificationBudget | None, notes: Notes) -> None:
    counted = unknown = 0.0
    for one in split.added:
        if one.liquid.fat_like is None:
            unknown += one.mass * one.liquid.fat
        else:
            counted += one.mass * one.liquid.fat
    if counted:
        grams = f"The liquids bring {weight(counted)} of fat, which"
        notes.caution(
            "liquid-brings-fat",
            f"{grams} takes alkali too; the superfat counts it."
            if budget is not None
            else f"{grams} raises the superfat; give fats or superfat to see by how much.",
        )
    if unknown >= UNKNOWN_FAT * split.alkali_mass:
        notes.caution(
            "liquid-brings-fat",
            f"The liquids bring {weight(unknown)} of fat of no known saponification value, which is left out.",
        )


def explain_split(split: Split, budget: SaponificationBudget | None, notes: Notes) -> None:
    """The steps, so that a person can redo them by hand."""
    for one in split.sources:
        grams = one.mass * 1000
        if one.strength is None:
            notes.step(
                f"water to dissolve {one.alkali}",
                "mass",
                {"mass": (grams, "g")},
                (one.own_water * 1000, "g"),
                "common practice: at least its own mass",
            )
            continue
        w = one.strength.mass_fraction
        notes.step(
            f"draw of {one.alkali} stock",
            "mass / strength",
            {"mass": (grams, "g"), "strength": (w, "1")},
            (grams / w, "g"),
            "definition of mass fraction",
        )
        spread = combine(((1 / w, one.mass_part), (one.mass / w**2, one.strength.spread)))
        notes.step(
            f"half-width of the {one.alkali} draw",
            "coverage_factor * sqrt((of_mass / strength)**2 + (mass * of_strength / strength**2)**2)",
            {
                "coverage_factor": (coverage_factor(spread), "1"),
                "of_mass": (one.mass_part[0] * 1000, "g"),
                "mass": (grams, "g"),
                "strength": (w, "1"),
                "of_strength": (one.strength.spread[0], "1"),
            },
            (coverage_half_width(spread) * 1000, "g"),
            "JCGM 100:2008, 5.1.2; of_mass and of_strength are standard uncertainties",
        )
        notes.step(
            f"water in the {one.alkali} draw",
            "draw - mass",
            {"draw": (grams / w, "g"), "mass": (grams, "g")},
            (one.own_water * 1000, "g"),
            "mass balance",
        )
    notes.step(
        "liquid to add, as counted",
        "ratio * alkali - own_water",
        {
            "ratio": (split.counted_ratio, "1"),
            "alkali": (split.alkali_mass * 1000, "g"),
            "own_water": (split.own_water * 1000, "g"),
        },
        (split.counted * 1000, "g"),
        "mass balance",
    )
    for added in split.added:
        notes.step(
            f"water in {added.liquid.id}",
            "mass * water_fraction",
            {"mass": (added.mass * 1000, "g"), "water_fraction": (added.liquid.water, "1")},
            (added.mass * added.liquid.water * 1000, "g"),
            "composition in the catalogue",
        )
        if added.liquid.acid_per_mass:
            notes.step(
                f"alkali taken by {added.liquid.id}",
                "mass * acid * molar_mass",
                {
                    "mass": (added.mass * 1000, "g"),
                    "acid": (added.liquid.acid_per_mass / 1000, "mol/g"),
                    "molar_mass": (split.mean_molar_mass * 1000, "g/mol"),
                },
                (added.mass * added.liquid.acid_per_mass * split.mean_molar_mass * 1000, "g"),
                "titratable acidity in the catalogue; one mole of acid proton takes one of hydroxide",
            )
    if split.amount > split.needed_amount:
        notes.step(
            "alkali with compensation",
            "needed + acid",
            {"needed": (split.needed_amount, "mol"), "acid": (split.acid_amount, "mol")},
            (split.amount, "mol"),
            "what the liquids' acid takes is added",
        )
    if budget is not None:
        notes.step(
            "superfat",
            "1 - (alkali - acid) / need",
            {"alkali": (budget.alkali, "mol"), "acid": (budget.acid, "mol"), "need": (budget.need, "mol")},
            (budget.superfat, "1"),
            "share of the fats' need left unmet, the liquids' fat and acid counted",
        )
