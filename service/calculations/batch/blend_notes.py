"""What the temperature of a batch says beside its numbers: cautions of heat, milk, solid fats, ice and the reaction."""

from math import inf
from typing import Final

from service.calculations.batch.blend_runs import Ends, Runs
from service.calculations.batch.liquids import carbon_monoxide
from service.calculations.batch.melting import SolidFat, melting_figure
from service.calculations.batch.saponification_notes import SELDOM_MEANT
from service.calculations.shared.cautions import degrees
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.standing_cautions import HANDLING, METALS
from service.calculations.shared.thresholds import above
from service.calculations.stock.stock_heat import FLASHES, HOT
from service.calculations.stock.stocks import known_stock
from service.chemistry.batch_blend import HEAT_OF_FUSION
from service.chemistry.errors import OutOfRange

USUAL: Final = (29.0, 35.0)
"""Temperatures [°C] at which fats and stock are usually mixed (common practice)."""
MILK_LIMIT: Final = 38.0
"""Temperature [°C] at or below which batches with milk stay (common practice)."""
BOILS: Final = 100.0
"""Temperature [°C] at which a batch boils once its alkali is used up, taken as that of water at 1 atm: soap raises it
little, and by how much was not read anywhere."""
WARMS: Final = 2.0
"""Rise [K] by thinning the stock below which nothing is said of it."""
ACID_WARMS: Final = 1.0
"""Rise [K] by the liquids' acids from which a word is due."""
MANY: Final = 100.0
"""Times the alkali that fats can take from which no figure is told."""
LONGEST_NAME: Final = 46
"""Characters of a fat's name in a message; what the catalogue has is shorter."""
NAMES: Final = 3
"""Fats named in a message at most; the answer lists all."""


def caution_blend(
    runs: Runs,
    told: tuple[Ends | None, Ends | None],
    reaction: tuple[Ends, float],
    solid: tuple[list[SolidFat], list[str]],
    notes: Notes,
) -> None:
    """Everything the person who stirs them together should know.

    Args:
        runs: the batch.
        told: its temperature, and how warm the fats must be, each where it is told [°C].
        reaction: rise by saponifying [K], and the temperature it starts from [°C].
        solid: fats that are not liquid, and those of which that is not known.
        notes: where the cautions go.
    """
    notes.tell(*HANDLING, METALS)
    found, needed = told
    rise, t = reaction
    end = _highest(runs, found, needed, t)
    _boiling(runs, found, needed, notes)
    _boiling_over(t, rise, notes)
    _stock(runs, notes)
    _band(runs, t, end, notes)
    _thinning(runs, found, t, notes)
    _alkali(runs, notes)
    _fats(runs, (t, found is None), needed, solid, notes)
    _liquids(runs, found, notes)
    notes.caution(
        "reaction-heat-rough",
        f"Saponifying would add {degrees(rise.low, apart=True)} to {degrees(rise.high, apart=True)} were no heat lost; "
        "bowl and mould lose much of it. That is an order of magnitude to think of insulation and cooling by, and no "
        "limit of safety.",
    )


def _highest(runs: Runs, found: Ends | None, needed: Ends | None, t: float) -> float:
    """The most that the batch may come to, also where the fats are as warm as they must be [°C]."""
    if found is not None:
        return found.high
    if needed is None:
        return t
    try:
        return runs.with_fats(needed.value).temperature.high
    except OutOfRange:  # so cold that its lower end would freeze
        return t


def _boiling(runs: Runs, found: Ends | None, needed: Ends | None, notes: Notes) -> None:
    if found is not None and runs.boils:
        notes.caution(
            "boils",
            f"It can come to {degrees(found.high)}, where its water boils and throws caustic and hot fat out. Let "
            "stock and fats cool first.",
        )
    if needed is not None and needed.value >= FLASHES:
        notes.caution(
            "fats-hot",
            f"The fats would have to be at {degrees(needed.value)} for the temperature wanted, where they make the "
            "water of stock and liquids flash into steam and throw out caustic and hot fat. Ask for a cooler batch, or "
            "use warmer liquids.",
        )
    hottest = max([one.temperature for one in runs.blend.fats], default=0.0)
    if hottest >= FLASHES:
        notes.caution(
            "fats-hot",
            f"Fats of {degrees(hottest)} make the water of stock and liquids flash into steam and throw out caustic "
            f"and hot fat. Let them cool to {degrees(HOT)} or as far as they stay liquid.",
        )


def _boiling_over(t: float, rise: Ends, notes: Notes) -> None:
    """Say so where the reaction has heat enough to boil the batch.

    Args:
        t: temperature that it starts from [°C].
        rise: by saponifying [K].
        notes: where the caution goes.
    """
    if rise.value and above(t + rise.value, BOILS):
        notes.caution(
            "batch-may-boil-over",
            f"From {degrees(t)} on saponifying has heat enough, about {degrees(rise.value, apart=True)}, to boil the "
            f"batch: hot caustic soap then foams over the rim. Begin at {degrees(USUAL[0])} to {degrees(USUAL[1])}, "
            "leave room for foam, do not insulate it, and stay by it with goggles on.",
        )


def _stock(runs: Runs, notes: Notes) -> None:
    stock, alkali = runs.blend.stock, runs.blend.alkali
    t = stock.temperature
    if t > HOT:
        cool = f"Let it cool to {degrees(HOT)} or less before it meets fats, milk or other liquids."
        if t >= FLASHES:
            cool = f"Water in fats and liquids boils where it meets it, and throws caustic out. {cool}"
        notes.caution("stock-hot", f"The {alkali} stock is at {degrees(t)}. {cool}", "danger" if t >= FLASHES else None)
    crystals = known_stock(alkali, stock.mass_fraction, t).crystals
    if crystals is not None:
        notes.tell(crystals)


def _band(runs: Runs, t: float, end: float, notes: Notes) -> None:
    milky = [one for one in runs.liquids if one.milky]
    if milky and end > MILK_LIMIT:
        names = ", ".join(dict.fromkeys(one.liquid.id.replace("-", " ") for one in milky))[:80]
        reach = "comes to" if t > MILK_LIMIT else "can come to"
        colder = "Use" if all(one.content.ice for one in milky) else "Freeze it, use"
        notes.caution(
            "milk-too-warm",
            f"With {names} a batch stays at or below {degrees(MILK_LIMIT)}, and this one {reach} "
            f"{degrees(t if t > MILK_LIMIT else end)}: milk browns and smells in warm caustic. {colder} cooler fats or "
            "stock, and pour slowly.",
        )
    low, high = USUAL
    if not low - 0.5 <= t <= high + 0.5:  # to the degree that is told
        notes.caution(
            "batch-temperature-unusual",
            f"Fats and stock are usually mixed at {degrees(low)} to {degrees(high)}; this batch has {degrees(t)}. "
            + ("Cooler ones thicken before they react." if t < low else "Warmer ones go faster, and leave less time."),
        )


def _thinning(runs: Runs, found: Ends | None, t: float, notes: Notes) -> None:
    if runs.acid_heat / runs.blend.capacity(t, 1.0) >= ACID_WARMS:
        notes.caution(
            "acid-heats-caustic",
            f"The acid of the liquids gives off about {runs.acid_heat / 1000:.2g} kJ with caustic, at once; the value "
            "counts it. Stir it into the fats first, and pour the stock slowly.",
        )
    if found is None:
        rise = runs.dilution_heat.value / runs.blend.capacity(t, 1.0) if runs.blend.water else 0.0
        counted = "which is counted"
    else:
        none, every = runs.uncapped
        rise, counted = every - none, "once all has met"
    if rise >= WARMS:
        notes.caution(
            "water-warms-stock",
            f"The liquids' water thins the stock to {percent(runs.blend.thinned)}, and that alone adds "
            f"{degrees(rise, 1, apart=True)}, {counted}. Stir the liquids into the fats, pour the stock slowly, and "
            "never pour a liquid into the stock: where they meet it is hotter yet.",
        )


def _alkali(runs: Runs, notes: Notes) -> None:
    takers = runs.takers
    left = takers.alkali - takers.acid
    if left > takers.need:
        much = f"{left / takers.need:.3g} times" if left < MANY * takers.need else "many times"
        notes.caution(
            "free-alkali-left",
            f"The stock brings {much} the alkali that the fats can take: such a soap burns skin. Compare the draw with "
            "`liquid-split`; `superfat-check` tells what mends it.",
        )
    elif left < (1 - SELDOM_MEANT) * takers.need:
        notes.caution(
            "superfat-high",
            f"The stock leaves {percent(1 - left / takers.need)} of the fats as they are: compare the draw, and its "
            "strength, with what was meant; `superfat-check` tells more.",
        )


def _fats(
    runs: Runs,
    batch: tuple[float, bool],
    needed: Ends | None,
    solid: tuple[list[SolidFat], list[str]],
    notes: Notes,
) -> None:
    """What is not liquid in the batch, in its pots, or at the temperature that is reckoned for the fats.

    Args:
        runs: the batch.
        batch: its temperature [°C], and whether that is the one wanted and not one reckoned.
        needed: how warm the fats must be, where that is told [°C].
        solid: fats that are not liquid, and those of which that is not known.
        notes: where the cautions go.
    """
    (t, wanted), (not_liquid, unknown) = batch, solid
    if not_liquid:
        notes.caution(
            "fats-not-liquid",
            f"At {'the wanted ' if wanted else ''}{degrees(t)} these are not liquid: "
            f"{_some([f'{one.fat}{_range(one.fat)}' for one in not_liquid])}. "
            "They thicken the batch as if it had reacted, or leave grains; in a blend they may melt a little lower.",
        )
    if runs.set_fats:
        names = list(dict.fromkeys(name for name, _ in runs.set_fats))
        notes.caution(
            "fats-set",
            f"At the temperature given these had set, wholly or in part: {_some(sorted(names))}. The "
            "heat that melts them is left out, but for the lower end, which counts up to "
            f"{HEAT_OF_FUSION / 1000:.0f} kJ/kg. Melt them first, and give the temperature they then have.",
        )
    hardest = max([_melts_to(one.fat.key) for one in runs.fats], default=-inf)
    if needed is not None and needed.value < hardest:
        notes.caution(
            "fats-not-liquid",
            f"The fats would have to be at {degrees(needed.value)} for the temperature wanted. Not all are liquid "
            f"then, though reckoned so (the hardest melts at {degrees(hardest)}): use a cooler stock or cooler "
            "liquids, so that the fats may be warmer, or ask for a warmer batch.",
        )
    if unknown:
        notes.caution(
            "melting-unknown",
            f"Where these melt is not known here, and they are not told as solid: {_some(unknown)}. Look whether they "
            "are clear.",
        )


def _some(names: list[str]) -> str:
    """The first of some names, cut to what a message holds."""
    shown = ", ".join(one if len(one) <= LONGEST_NAME else f"{one[:LONGEST_NAME]}..." for one in names[:NAMES])
    return f"{shown} and {len(names) - NAMES} more" if len(names) > NAMES else shown


def _range(identifier: str) -> str:
    """Where a fat melts, as the end of its name."""
    figure = melting_figure(identifier)
    if figure is None:
        return ""
    if figure.low == -inf:
        return f" (to {degrees(figure.high)})"
    if figure.high == inf:
        return f" (from {degrees(figure.low)})"
    return f" (melts to {degrees(figure.high)})"


def _melts_to(key: object) -> float:
    figure = melting_figure(key) if isinstance(key, str) else None
    if figure is None:
        return -inf
    return figure.low if figure.high == inf else figure.high


def _liquids(runs: Runs, found: Ends | None, notes: Notes) -> None:
    for one in runs.liquids:
        notes.tell(*one.liquid.cautions)
    sugary = dict.fromkeys([one.liquid.id for one in runs.liquids if one.liquid.holds_sugar])
    if sugary:
        notes.tell(carbon_monoxide(*sugary))
    if runs.held_back:
        notes.caution(
            "thawing-heat-rough",
            "What is dissolved in a frozen liquid keeps a part of its water from freezing. The value takes all of it "
            "for ice, and the upper end counts what may not be; half-thawed ones melt less and cool less.",
            basis="ideal depression of the freezing point; composition in the catalogue",
        )
    if found is not None and runs.ice_left:
        notes.caution(
            "ice-left",
            f"Only the heat of thinning the stock melts the last {weight(runs.ice_left)} of ice: fats set around it. "
            "Thaw the liquids further, or use warmer fats.",
        )
