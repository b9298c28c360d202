"""The steps of a batch sheet: how much fat, how much alkali and liquid, and what comes of it."""

from typing import Final, NamedTuple

from service.calculations.batch.split_notes import explain_split
from service.calculations.batch.superfat_notes import explain_check
from service.calculations.batch.superfat_weighed import Batch
from service.calculations.orders.batch_content import Content
from service.calculations.orders.batch_made import Made, Weighed, as_weighed
from service.calculations.orders.recipe import ScaleTo
from service.calculations.shared.notes import Notes
from service.chemistry.saponification_budget import SaponificationBudget

BALANCE: Final = "mass balance; everything in a batch is in proportion to its fats"


class Reckoned(NamedTuple):
    """What the steps end in."""

    budget: SaponificationBudget
    content: Content
    density: float
    """Of the batter [kg/m3]."""
    moisture: float | None
    division: float


def explain_sheet(to: ScaleTo, made: Made, weighed: Weighed, reckoned: Reckoned, notes: Notes) -> None:
    """Write the steps down.

    Args:
        to: what the batch is scaled to.
        made: the batch.
        weighed: the same as the scale shows it.
        reckoned: what the steps end in.
        notes: where they go.
    """
    exact = as_weighed(made.weighings)
    _explain_scale(to, made, reckoned.density, notes)
    need = sum(one.need for one in exact.fats)
    acid = sum(one.mass * one.content for one in exact.acids)
    notes.step(
        "hydroxide for the recipe",
        "(1 - superfat) * need + acids",
        {"need": (need, "mol"), "superfat": (made.recipe.superfat, "1"), "acids": (acid, "mol")},
        (made.split.needed_amount, "mol"),
        "superfat by alkali discount; acids are neutralised in full",
    )
    explain_split(made.split, None, notes)
    batch = Batch(weighed.fats, weighed.drawn, weighed.liquids, weighed.acids, reckoned.division)
    explain_check(batch, reckoned.budget, notes)
    _explain_content(reckoned, notes)


def _explain_scale(to: ScaleTo, made: Made, density: float, notes: Notes) -> None:
    fats = (made.fat_mass * 1000, "g")
    per_fat = (made.mass / made.fat_mass, "1")
    if to.stock_draw is not None:
        draw = to.stock_draw.value
        notes.step(
            "fats for the draw",
            "draw / draw_per_fat",
            {"draw": (draw * 1000, "g"), "draw_per_fat": (draw / made.fat_mass, "1")},
            fats,
            BALANCE,
        )
    elif to.mould_volume is not None:
        volume = to.mould_volume.value
        notes.step(
            "fats for the moulds",
            "volume * density / batter_per_fat",
            {
                "volume": (volume * 1e6, "mL"),
                "density": (made.mass / volume / 1000, "g/mL"),
                "batter_per_fat": per_fat,
            },
            fats,
            f"{BALANCE}; density before rounding, {density / 1000:.4g} g/mL after it",
        )
    elif to.fat_mass is None:
        notes.step(
            "fats for the batter",
            "batter / batter_per_fat",
            {"batter": (made.mass * 1000, "g"), "batter_per_fat": per_fat},
            fats,
            BALANCE,
        )


def _explain_content(reckoned: Reckoned, notes: Notes) -> None:
    content = reckoned.content
    notes.step(
        "water of the batch",
        "poured + neutralised",
        {"poured": (content.water_in * 1000, "g"), "neutralised": (content.reacted.water * 1000, "g")},
        (content.water * 1000, "g"),
        "what is poured in, and 1 mol for each mole of acid that alkali neutralises",
    )
    if reckoned.moisture is not None:
        notes.step(
            "mass when sold",
            "(batter - water) / (1 - moisture)",
            {
                "batter": (content.mass * 1000, "g"),
                "water": (content.water * 1000, "g"),
                "moisture": (reckoned.moisture, "1"),
            },
            (content.mass_at(reckoned.moisture) * 1000, "g"),
            "nothing but water dries off",
        )
