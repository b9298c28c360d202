"""Liquids of a request: looked up in the catalogue, where they go and why."""

from collections.abc import Iterator
from functools import cache, lru_cache
from typing import Final, NamedTuple

from service.calculations.batch.fats import KnownFat, catalogue_fat
from service.calculations.shared.cautions import Caution, caution
from service.calculations.shared.notes import Notes, percent
from service.chemistry.uncertainty import EXACT, Part, rectangular
from service.reference import Liquid, reference_data

TRACE: Final = 0.005
"""Mass fraction of sugar, fat or acid below which it is no reason of its own."""
PROTEIN_TRACE: Final = 0.001
SOLIDS_TRACE: Final = 0.002
"""Mass fraction of all that is not water below which a liquid is plain water."""


class KnownLiquid(NamedTuple):
    """What a calculation needs to know of a liquid."""

    id: str
    name: str
    water: float
    fat: float
    acid_per_mass: float
    """Hydroxide that one mass of it takes [mol/kg]."""
    acid_part: Part
    """Its spread [mol/kg]."""
    density: float | None
    fat_like: KnownFat | None
    is_water: bool
    acid_evidence: str | None
    reason: str
    """Why it goes where it goes."""
    holds_sugar: bool
    """Sugars or dextrins, most of which reduce."""
    cautions: tuple[Caution, ...]
    """What else to know of it, however much is taken."""

    def counted(self, *, whole: bool) -> float:
        """What one mass of it counts as liquid."""
        return 1.0 if whole else self.water


@cache
def catalogue_liquid(identifier: str) -> KnownLiquid:
    """A liquid of the catalogue.

    Raises:
        KeyError: there is none of that name.
    """
    liquid = reference_data().liquids[identifier]
    water, fat = liquid.water.middle, liquid.fat.middle
    sugars = liquid.sugars.middle if liquid.sugars is not None else liquid.carbohydrate.middle
    alcohol = 0.0 if liquid.alcohol is None else liquid.alcohol.middle
    acidity = 0.0 if liquid.acidity is None else liquid.acidity.mass_fraction.middle
    is_water = water >= 1 - SOLIDS_TRACE
    reasons = []
    if sugars >= TRACE:
        reasons.append("its sugars brown and scorch in strong caustic")
    elif liquid.carbohydrate.middle >= TRACE:
        reasons.append("its carbohydrates brown in strong caustic")
    if liquid.protein.middle >= PROTEIN_TRACE and not is_water:
        reasons.append("its proteins scorch and smell in strong caustic")
    if fat >= TRACE:
        reasons.append("its fat saponifies there")
    if alcohol >= TRACE:
        reasons.append("its alcohol boils off in hot caustic")
    if acidity >= TRACE:
        reasons.append("its acid heats the caustic and takes alkali")
    if is_water:
        reason = "plain water may go either way; with the fats it does not warm the stock"
    elif reasons:
        reason = "; ".join(reasons)
    else:
        reason = "what is dissolved in it browns in strong caustic"
    return KnownLiquid(
        identifier,
        liquid.name,
        water,
        fat,
        *_acid_per_mass(liquid),
        None if liquid.density is None else liquid.density.middle,
        None if liquid.fat_like is None else catalogue_fat(liquid.fat_like),
        is_water,
        None if liquid.acidity is None else liquid.acidity.mass_fraction.evidence,
        reason,
        max(sugars, liquid.carbohydrate.middle) >= TRACE,
        tuple(_cautions(liquid, alcohol)),
    )


@lru_cache(maxsize=128)
def carbon_monoxide(*identifiers: str) -> Caution:
    """What to know of liquids that hold sugar, all of them in one sentence; recipes come back with the same ones."""
    *most, last = [identifier.replace("-", " ") for identifier in identifiers]
    names = f"{', '.join(most)} or {last}" if most else last
    return caution(
        "carbon-monoxide",
        f"Never put {names} into a closed container of caustic: reducing sugars and caustic give carbon monoxide.",
    )


def _cautions(liquid: Liquid, alcohol: float) -> Iterator[Caution]:
    """What to know of a liquid.

    Args:
        liquid: the liquid.
        alcohol: mass fraction of alcohol in it.
    """
    if alcohol:
        yield caution(
            "alcohol-in-batch",
            f"{liquid.name.capitalize()} holds {percent(alcohol)} of alcohol: boil it off where no flame can "
            "light its vapour, and let it go flat and cold before it is used.",
        )
    if liquid.acid_unknown:
        yield caution(
            "acid-unknown",
            f"{liquid.name.capitalize()} is sour, and how sour is not known: what its acid takes is left out.",
        )


def _acid_per_mass(liquid: Liquid) -> tuple[float, Part]:
    """Acidity is told as the acid itself, not as its commercial solution."""
    if liquid.acidity is None:
        return 0.0, EXACT
    acid = reference_data().acids[liquid.acidity.acid]
    amount, fraction = acid.protons / acid.molar_mass, liquid.acidity.mass_fraction
    return fraction.middle * amount, rectangular(fraction.half_width * amount)


def find_liquid(identifier: str, notes: Notes, at: str) -> KnownLiquid | None:
    """A liquid of the catalogue; an unknown one is a fault in the notes."""
    try:
        return catalogue_liquid(identifier)
    except KeyError:
        notes.unknown("liquids", identifier, at)
        return None
