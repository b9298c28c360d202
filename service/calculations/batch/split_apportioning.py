"""Divides the liquid of a batch between what the stock brings and what is added beside it."""

from math import ceil
from typing import Final

from service.calculations.batch.split import Added, Line, Source, Split, Total
from service.calculations.shared.faults import Refusal
from service.calculations.shared.notes import Notes, grams
from service.chemistry.liquid_split import LEAST_WATER_RATIO, Portion, Shortfall, apportion
from service.chemistry.ranges import ROUNDING

MOST_ROUNDS: Final = 200


def split_liquid(
    needed: list[Source], lines: list[Line], total: Total, notes: Notes, *, whole: bool, compensate: bool
) -> Split:
    """Divide the liquid between stock and additions.

    Args:
        needed: the alkalis as they are needed.
        lines: the liquids asked for.
        total: the liquid wanted.
        notes: where faults go.
        whole: whether a gram of any liquid counts as a gram.
        compensate: whether what the liquids' acid takes is added to the alkali.

    Raises:
        Refusal: what is wanted cannot be had.
    """
    split = Split(needed, needed, _added(needed, lines, total, notes, whole=whole), counts_whole=whole)
    if not compensate:
        return split
    # More alkali asks for more liquid, which may bring more acid: a few rounds settle it.
    for _ in range(MOST_ROUNDS):
        grown = [one.grown(1 + split.acid_amount / split.needed_amount) for one in needed]
        following = Split(needed, grown, _added(grown, lines, total, notes, whole=whole), counts_whole=whole)
        settled = abs(following.amount - split.amount) <= 1e-14 * split.amount
        split = following
        if settled:
            return split
    raise notes.refuse(
        "/compensate",
        "contradiction",
        "the acid of the liquids asks for more alkali than the liquids can follow",
        "take less of the sour liquid",
    )


def _added(sources: list[Source], lines: list[Line], total: Total, notes: Notes, *, whole: bool) -> list[Added]:
    """The liquids to add, by what the stock leaves of the total."""
    alkali = sum([one.mass for one in sources])
    own = sum([one.own_water for one in sources])
    portions = [Portion(line.liquid.counted(whole=whole), line.mass, line.share) for line in lines]
    if total.mass is None and total.ratio is None:
        wanted = own + sum([(portion.mass or 0.0) * portion.counted for portion in portions])
    else:
        wanted = total.mass if total.mass is not None else (total.ratio or 0.0) * alkali
    _check_wanted(sources, wanted / alkali, own / alkali, notes)
    left = wanted - own
    if left <= ROUNDING * wanted:
        if all(line.mass is None for line in lines):
            return []
        left = max(0.0, left)
    masses = apportion(left, portions)
    if isinstance(masses, Shortfall):
        raise _does_not_add_up(masses, notes)
    return [Added(line.liquid, mass, line.add_to) for line, mass in zip(lines, masses, strict=True) if mass > 0]


def _check_wanted(sources: list[Source], ratio: float, lowest: float, notes: Notes) -> None:
    if ratio < LEAST_WATER_RATIO * (1 - ROUNDING):
        raise notes.refuse(
            "/total_liquid",
            "too-little-water",
            f"{ratio:.4g} parts of liquid to one of alkali are too little: alkali needs its own mass of water",
            "ask for a total liquid of 1:1 or more",
        )
    if ratio < lowest * (1 - ROUNDING):
        stock = any(one.strength is not None for one in sources)
        what = "the stock alone brings" if stock else "dissolving the alkali alone takes"
        raise notes.refuse(
            "/total_liquid",
            "stock-too-weak",
            f"{what} {lowest:.4g} parts of water to one of alkali, and {ratio:.4g} are wanted",
            f"ask for {_up(lowest)}:1 or more{', or use a stronger stock' if stock else ''}",
        )


def _up(ratio: float) -> str:
    """A ratio rounded up, so that it can be asked for."""
    return f"{ceil(ratio * 1000) / 1000:g}"


def _does_not_add_up(short: Shortfall, notes: Notes) -> Refusal:
    wanted, found = short.wanted, short.found
    gap = f"{grams(abs(found - wanted))} {'are missing' if found < wanted else 'are too much'}"
    return notes.refuse(
        "/liquids",
        "does-not-add-up",
        f"the liquids make {grams(found)} as they are counted, and {grams(wanted)} are to be added: {gap}",
        "let one liquid take the rest (rest: true), or make the shares add up to 100 %"
        if short.lacks_rest and found < wanted
        else "make the fixed masses or the shares smaller",
    )
