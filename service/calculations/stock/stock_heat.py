"""What the heat of a drawn stock means: water poured into it, and fats and liquids that it meets."""

from collections.abc import Sequence
from typing import Final

from service.calculations.batch.split import Source, Split
from service.calculations.shared.cautions import degrees
from service.calculations.shared.notes import Notes, weight
from service.calculations.shared.thresholds import above, beyond
from service.calculations.stock.solutions import ROOM
from service.chemistry.dilution import Dilution, dilute
from service.chemistry.errors import OutOfRange

HOT: Final = 38.0
"""Temperature [°C] above which stock is left to cool before it meets the fats (common practice: 29 to 38 °C)."""
FLASHES: Final = 90.0
"""Temperature [°C] of a stock from which water that meets it is taken to boil at once: 10 K below its boiling point,
which a weather low, altitude and the heat of diluting use up."""
CLOSE_TO_BOILING: Final = 10.0
"""Margin [K] below which a mixing counts as close to boiling; a weather low or 300 m of altitude take 1 K."""


def caution_hot_stock(sources: Sequence[Source], notes: Notes) -> None:
    """Say what hot stock can do.

    Args:
        sources: the alkalis; one that is weighed dry is passed over.
        notes: where the caution goes.
    """
    for one in sources:
        t = one.temperature
        if one.strength is None or not beyond(t, HOT):
            continue
        cool = f"Let it cool to {degrees(HOT)} or less before it meets fats, milk or other liquids."
        if above(t, FLASHES):
            cool = f"Water in fats and liquids boils where it meets it, and throws caustic out. {cool}"
        notes.caution(
            "stock-hot",
            f"The {one.alkali} stock is at {degrees(t)}. {cool}",
            "danger" if above(t, FLASHES) else None,
        )


def caution_warmed_stock(split: Split, notes: Notes) -> None:
    """Say how warm plain water makes the stock that it is poured into; of two stocks the one that gets hotter.

    Args:
        split: what is drawn and added.
        notes: where the caution goes.
    """
    plain = sum([one.mass for one in split.plain_water])
    if not plain:
        return
    found: list[tuple[Dilution, Source]] = []
    for one in split.sources:
        if one.strength is None:
            continue
        w = one.strength.mass_fraction
        try:
            found.append((dilute(one.alkali, (one.mass / w, w, one.temperature), (plain, ROOM)), one))
        except OutOfRange:  # colder than any data: it is frozen, and another caution says so
            continue
    if not found:
        return
    made, source = max(found, key=lambda pair: pair[0].hottest)
    nearest = min(one.boiling_margin for one, _ in found)
    water = f"The {weight(plain)} of plain water, at {degrees(ROOM)},"
    if nearest < CLOSE_TO_BOILING or above(source.temperature, FLASHES):
        notes.caution(
            "water-warms-stock",
            f"{water} can boil at once where it meets stock of {degrees(source.temperature)}, and throw caustic out: "
            "let the stock cool first, or add the water to the fats.",
            "danger",
        )
        return
    warm = made.temperature
    verb = "warm" if warm >= source.temperature else "bring"
    on_the_way = f", {degrees(made.hottest)} on the way" if made.hottest > max(warm, source.temperature) + 1 else ""
    notes.caution(
        "water-warms-stock",
        f"{water} {verb} the drawn stock from {degrees(source.temperature)} to about {degrees(warm)}{on_the_way}"
        f"{': let it cool before it meets the fats.' if warm > HOT else '.'}",
    )
