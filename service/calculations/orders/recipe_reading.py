"""A recipe read: what one kilogram of its fats goes with. All that follows is in proportion to the fats."""

from collections.abc import Sequence, Set
from typing import Final, Literal, NamedTuple, TypeVar

from msgspec.structs import replace

from service.calculations.batch.acids import AcidLine, weighed_acids
from service.calculations.batch.alkalis import SUM_TOLERANCE, UsedAlkali, used_alkalis
from service.calculations.batch.fats import WeighedFat, weighed_fats
from service.calculations.batch.liquids import catalogue_liquid
from service.calculations.batch.split import Line, Source, Total
from service.calculations.batch.split_reading import (
    WATER,
    AlkaliMass,
    LiquidLine,
    TotalLiquid,
    read_lines,
    read_sources,
    read_total,
)
from service.calculations.batch.usual import superfat_or_usual
from service.calculations.orders.moved import RECIPE, take_over, within
from service.calculations.orders.recipe import (
    Recipe,
    RecipeAcid,
    RecipeAddition,
    RecipeFat,
    RecipeLiquid,
    RecipeTotalLiquid,
)
from service.calculations.shared.given import Mass, PlainMass, Purity
from service.calculations.shared.messages import AlkaliName, FatLine, Solution, Stock
from service.calculations.shared.notes import Notes, missed
from service.chemistry.saponification import alkali_amount
from service.chemistry.saponification_budget import Reagent
from service.reference import reference_data

FatLineKind = TypeVar("FatLineKind", bound=FatLine)

MOST_PER_FAT: Final = 20.0
"""Of a mass in a recipe, per mass of fats: more of it is a slip of a unit."""


class Addition(NamedTuple):
    """Something else that goes into a batch."""

    given: RecipeAddition
    place: int
    """In the recipe."""
    mass: float
    goes_into: Literal["fats", "trace"]


def is_article(of: object) -> bool:
    """Whether something that is weighed is itself a soap with an SKU, and no material.

    Args:
        of: what is weighed.
    """
    return isinstance(of, Addition) and of.given.sku is not None


class ReadRecipe(NamedTuple):
    """What one kilogram of fats goes with; masses in kg."""

    fats: list[WeighedFat]
    """Those of which there is any."""
    superfat: float
    alkalis: list[UsedAlkali]
    sources: list[Source]
    """The alkalis that fats and acids need, each with its stock or as a solid."""
    acids: list[Reagent]
    lines: list[Line]
    total: Total
    additions: list[Addition]
    counts_whole: bool
    compensates: bool


def read_recipe(recipe: Recipe, stocks: Sequence[Solution], notes: Notes) -> ReadRecipe:
    """What one kilogram of a recipe's fats goes with.

    Faults are told below `/recipe` and `/stocks`.

    Args:
        recipe: as the request has it.
        stocks: as the request has them; nothing is asked of how much there is.
        notes: where cautions, assumptions and faults go.

    Raises:
        Refusal: of the recipe no batch can be made.
    """
    with within(notes, RECIPE):
        return _read(recipe, stocks, notes)


def _read(recipe: Recipe, stocks: Sequence[Solution], notes: Notes) -> ReadRecipe:
    written = _written_mass(recipe.fats, notes)
    fats = weighed_fats(_fat_lines(recipe.fats, written), notes)
    superfat = superfat_or_usual(recipe.superfat, "/superfat", notes)
    drawn = {one.alkali for one in stocks}
    alkalis = _alkalis(recipe, drawn, notes)
    acids = weighed_acids(_acid_lines(recipe.acids or (), written, notes), notes)
    additions = _additions(recipe.additions or (), written, notes)
    liquids = None if recipe.liquids is None else _liquid_lines(recipe.liquids, written, notes)
    wanted = None if recipe.total_liquid is None else _total_liquid(recipe.total_liquid, written, notes)
    if drawn.isdisjoint([one.alkali for one in alkalis]):
        liquids = _into_the_solid(liquids, wanted, notes)
    lines = read_lines(liquids, wanted, notes)
    notes.stop_at_faults()
    fats = [one for one in fats if one.mass > 0]
    amount = alkali_amount(sum([one.need for one in fats]), superfat, sum([one.mass * one.content for one in acids]))
    sources = read_sources(
        [_alkali_mass(one, amount, drawn) for one in alkalis],
        [Stock(alkali=one.alkali, strength=one.strength, temperature=one.temperature) for one in stocks],
        notes,
    )
    total = read_total(wanted, liquids, sources, notes)
    notes.stop_at_faults()
    if recipe.count_liquids_as is None and any(not one.liquid.is_water for one in lines):
        notes.assume("/count_liquids_as", "whole", "usual in the trade: milk counts as if it were water")
    if recipe.compensate is None and any(one.liquid.acid_per_mass for one in lines):
        notes.assume("/compensate", "false", "what the liquids' acid takes is told, not added")
    return ReadRecipe(
        fats,
        superfat,
        alkalis,
        sources,
        [one for one in acids if one.mass > 0],
        lines,
        total,
        additions,
        recipe.count_liquids_as != "water_content",
        recipe.compensate is True,
    )


def _written_mass(fats: Sequence[RecipeFat], notes: Notes) -> float | None:
    """Mass of all the fats as the recipe is written [kg]; None where they have shares."""
    shares = [one.share.value for one in fats if one.share is not None]
    if not shares:
        return sum(one.mass.value for one in fats if one.mass is not None)
    total = sum(shares)
    if len(shares) < len(fats):
        notes.fault(
            "/fats",
            "does-not-add-up",
            "some fats have a share, and some a mass",
            "give every fat a share, or every fat a mass",
        )
    elif abs(total - 1) > SUM_TOLERANCE:
        notes.fault(
            "/fats",
            "does-not-add-up",
            f"the shares of the fats add up to {total * 100:.6g} %{missed(total)}",
            "mend them to add up to 100 %",
        )
    return None


def _fat_lines(fats: Sequence[RecipeFat], written: float | None) -> list[FatLine]:
    total = sum(one.amount for one in fats) if written is None else written
    return [fat_line(FatLine, one, one.amount / total if total else 0.0) for one in fats]


def fat_line(kind: type[FatLineKind], one: RecipeFat, mass: float) -> FatLineKind:
    """A fat of a recipe as another calculation takes it, with its certificate.

    Args:
        kind: of the line.
        one: the fat.
        mass: of it [kg].
    """
    return kind(
        fat=one.fat,
        name=one.name,
        mass=Mass(mass),
        saponification_value=one.saponification_value,
        iodine_value=one.iodine_value,
        fatty_acids=one.fatty_acids,
    )


def _alkalis(recipe: Recipe, drawn: Set[AlkaliName], notes: Notes) -> list[UsedAlkali]:
    """The alkalis; what is assumed of a solid is told only of one that is weighed as a solid."""
    told = Notes()
    found = used_alkalis(recipe.alkalis, told)
    places = [f"/alkalis/{index}" for index, one in enumerate(recipe.alkalis or ()) if one.alkali not in drawn]
    if recipe.alkalis is None:
        places = ["/alkalis"] if "NaOH" not in drawn else []
        notes.assumed += [one for one in told.assumed if one.pointer == "/alkalis"]
        told.assumed = [one for one in told.assumed if one.pointer != "/alkalis"]
    take_over(told, notes, (), assumed=places)
    for index, one in enumerate(found):
        if one.purity is None and one.alkali not in drawn:
            notes.fault(
                f"/alkalis/{index}/purity",
                "purity-needed",
                "solid KOH holds about a tenth of water, so its purity must be known",
                "give the purity of the certificate, as in '90 %', or give the stock it is drawn from",
            )
    return found


def _alkali_mass(one: UsedAlkali, amount: float, drawn: Set[AlkaliName]) -> AlkaliMass:
    """What a kilogram of the fats needs of an alkali, as the split reads it."""
    mass = Mass(amount * one.mole_share * one.molar_mass)
    if one.alkali in drawn or one.purity is None:
        return AlkaliMass(alkali=one.alkali, mass=mass)
    return AlkaliMass(alkali=one.alkali, mass=mass, purity=Purity(one.purity, one.purity_part))


def _per_fat(told: RecipeAcid | RecipeAddition | RecipeLiquid, written: float | None, notes: Notes, at: str) -> float:
    """Mass per mass of fats of a line that has a use level, or a mass of the recipe as it is written."""
    if told.use_level is not None:
        return told.use_level.value
    return 0.0 if told.mass is None else _scaled(told.mass, written, notes, f"{at}/mass")


def _scaled(mass: PlainMass, written: float | None, notes: Notes, at: str) -> float:
    """A mass of the recipe as it is written, per mass of fats."""
    if written is None:
        notes.fault(
            at,
            "contradiction",
            "the fats have shares, so that nothing says for how much fat this mass is meant",
            "give use_level, per mass of all the fats, or give the fats their masses too",
        )
        return 0.0
    ratio = mass.value / written
    if ratio > MOST_PER_FAT:
        notes.fault(
            at,
            "out-of-range",
            f"this is {ratio:.3g} times the mass of all the fats",
            "check the number and its unit against the masses of the fats",
        )
        return 0.0
    return ratio


def _acid_lines(given: Sequence[RecipeAcid], written: float | None, notes: Notes) -> list[AcidLine]:
    return [
        AcidLine(acid=one.acid, mass=Mass(_per_fat(one, written, notes, f"/acids/{index}")))
        for index, one in enumerate(given)
    ]


def _additions(given: Sequence[RecipeAddition], written: float | None, notes: Notes) -> list[Addition]:
    found = []
    for index, one in enumerate(given):
        at = f"/additions/{index}"
        mass = _per_fat(one, written, notes, at)
        if one.goes_into is None:
            notes.assume(f"{at}/goes_into", "trace", "the usual moment for what is not a fat (common practice)")
        if one.water_share is None:
            notes.assume(f"{at}/water_share", "0 %", "what is stirred in is taken as dry")
        if one.density is None:
            notes.assume(f"{at}/density", "1.7 kg/L, within 0.8 kg/L", "from fragrance oils to salts and clays")
        if mass > 0:
            found.append(Addition(one, index, mass, one.goes_into or "trace"))
    return found


def _liquid_lines(given: Sequence[RecipeLiquid], written: float | None, notes: Notes) -> list[LiquidLine]:
    found = []
    for index, one in enumerate(given):
        fixed = one.use_level is not None or one.mass is not None
        found.append(
            LiquidLine(
                liquid=one.liquid,
                share=one.share,
                mass=PlainMass(_per_fat(one, written, notes, f"/liquids/{index}")) if fixed else None,
                rest=one.rest,
                add_to=one.add_to,
            )
        )
    return found


def _into_the_solid(
    liquids: list[LiquidLine] | None, wanted: TotalLiquid | None, notes: Notes
) -> list[LiquidLine] | None:
    """The liquids where no stock is: plain water not told to go elsewhere is what the alkali is dissolved in."""
    why = "the solid alkali is dissolved in it, and gets less hot the more there is"
    if liquids is None:
        if wanted is None:
            return None
        notes.assume("/liquids", f"{WATER} for all of it, to dissolve the alkali in", why)
        return [LiquidLine(liquid=WATER, rest=True, add_to="stock")]
    found = list(liquids)
    for index, one in enumerate(liquids):
        known = one.liquid in reference_data().liquids
        if one.add_to is None and known and catalogue_liquid(one.liquid).is_water:
            notes.assume(f"/liquids/{index}/add_to", "stock", why)
            found[index] = replace(one, add_to="stock")
    return found


def _total_liquid(given: RecipeTotalLiquid, written: float | None, notes: Notes) -> TotalLiquid:
    """The total liquid of a kilogram of fats, as the split reads it."""
    if given.liquid_to_fat_ratio is not None:
        return TotalLiquid(liquid_to_fat_ratio=given.liquid_to_fat_ratio, fat_mass=PlainMass(1.0))
    if given.mass is not None:
        return TotalLiquid(mass=PlainMass(_scaled(given.mass, written, notes, "/total_liquid/mass")))
    return TotalLiquid(water_ratio=given.water_ratio, final_strength=given.final_strength)
