"""What a list of ingredients is made of: a batch as it was put in, or as it is in the finished bar."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final, Literal

from service.calculations.orders.batch_content import Content
from service.calculations.orders.batch_made import Weighed
from service.calculations.orders.label_laws import Law
from service.calculations.orders.label_list import Material
from service.calculations.orders.recipe import Recipe, RecipeFat
from service.calculations.orders.recipe_reading import Addition
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes
from service.chemistry import molar_masses
from service.chemistry.soap_yield import SoapOf
from service.reference import reference_data
from service.reference.label_names import LABEL_NAMES, LabelName

GIVEN: Final = "as-given"
MEMORY: Final = "memory"
_NONE: Final = LabelName("", "", "", "", "")


class Names:
    """What each thing of a recipe is called on a label; a name that nothing tells is a fault in the notes."""

    def __init__(self, recipe: Recipe, law: Law, notes: Notes) -> None:
        self._recipe = recipe
        self._law = law
        self._notes = notes
        self.fats = [(at, one) for at, one in enumerate(recipe.fats) if one.amount > 0]

    def fat(self, at: int, given: RecipeFat) -> tuple[str, str]:
        """Name of a fat as put in, and how well it is known."""
        if given.inci_name is not None:
            return given.inci_name, GIVEN
        known = self.put_in(given.fat or "")
        return (known, MEMORY) if known else self._unknown(given.fat or given.name or "", f"fats/{at}", "inci_name")

    def put_in(self, identifier: str) -> str:
        """Name of an entry of the catalogue as it is put in; empty where none is known."""
        known = LABEL_NAMES.get(identifier, _NONE)
        return (known.us_name if self._law.us_names else "") or known.inci_name

    def soap(self, at: int, given: RecipeFat, alkali: AlkaliName) -> tuple[str, str]:
        """Name of the salt of a fat, and how well it is known."""
        if given.soap_inci_name is not None:
            return given.soap_inci_name, GIVEN
        known = LABEL_NAMES.get(given.fat or "", _NONE)
        name = known.sodium_salt if alkali == "NaOH" else known.potassium_salt
        if name:
            return name, known.salt_evidence
        return self._unknown(f"the soap of {given.fat or given.name}", f"fats/{at}", "soap_inci_name")

    def liquid(self, identifier: str) -> tuple[str, str]:
        """Name of a liquid, and how well it is known."""
        lines = [(at, one) for at, one in enumerate(self._recipe.liquids or ()) if one.liquid == identifier]
        for _, one in lines:
            if one.inci_name is not None:
                return one.inci_name, GIVEN
        known = self.put_in(identifier)
        at = lines[0][0] if lines else 0
        return (known, MEMORY) if known else self._unknown(identifier, f"liquids/{at}", "inci_name")

    def addition(self, one: Addition) -> tuple[str, str]:
        """Name of an addition, and how well it is known."""
        if one.given.inci_name is not None:
            return one.given.inci_name, GIVEN
        if one.given.kind == "fragrance":
            return self._law.fragrance, GIVEN
        return self._unknown(one.given.material, f"additions/{one.place}", "inci_name")

    def _unknown(self, what: str, at: str, member: str) -> tuple[str, str]:
        self._notes.fault(
            f"/recipe/{at}/{member}",
            "inci-name-needed",
            f"no name for a list of ingredients is known of {what[:60]}",
            f"give {member}, as the supplier or the nomenclature states it",
        )
        return what, MEMORY


def as_put_in(weighed: Weighed, names: Names, law: Law) -> list[Material]:
    """What was put in: fats, pure hydroxide, water of every origin, liquids, acids, additions.

    Args:
        weighed: the batch.
        names: what each is called.
        law: whose words for water and fragrance are taken.
    """
    found = [
        Material(*_told(names.fat(at, given), one.mass))
        for (at, given), one in zip(names.fats, weighed.fats, strict=True)
    ]
    water = weighed.dissolving_water
    for drawn in weighed.drawn:
        found.append(_material(LABEL_NAMES[drawn.alkali].inci_name, drawn.alkali_mass))
        if drawn.from_stock:
            water += drawn.reagent.mass - drawn.alkali_mass
    for liquid in weighed.liquids:
        if liquid.liquid.is_water:
            water += liquid.mass
        else:
            found.append(Material(*_told(names.liquid(liquid.liquid.id), liquid.mass)))
    for acid in weighed.acids:
        content = reference_data().acids[str(acid.reagent)].content
        found.append(_material(names.put_in(str(acid.reagent)), acid.mass * content))
        water += acid.mass * (1 - content)
    found += _additions(weighed.additions, names)
    return [*found, _material(law.water, water)]


def as_present(content: Content, names: Names, law: Law, mass: float) -> list[Material]:
    """What is in the bars once all has reacted and they have dried to a mass.

    Of a milk or a juice it is what is not water, with the alkali that its fat and its acid took.

    Args:
        content: what the batch consists of.
        names: what each is called.
        law: whose words for water and fragrance are taken.
        mass: of all bars together when they are sold [kg].
    """
    weighed, reacted = content.weighed, content.reacted
    shares = _alkali_shares(weighed)
    found: list[Material] = []
    for (at, given), one, became in zip(names.fats, weighed.fats, reacted.fats[: len(weighed.fats)], strict=True):
        for alkali, share in shares.items():
            heavier = (molar_masses.ALKALI[alkali] - content.mean_molar_mass) * _taken(one.mass, became, content)
            found.append(Material(*_told(names.soap(at, given, alkali), share * (became.soap + heavier))))
        if became.fat > 0:
            found.append(Material(*_told(names.fat(at, given), became.fat)))
    found += _dry_liquids(content, names)
    found += _salts_of_acids(content, shares)
    found.append(_material(LABEL_NAMES["glycerol"].inci_name, content.glycerol))
    found += _additions(weighed.additions, names, dry=True)
    for alkali, share in shares.items():
        left = reacted.alkali_left * share * molar_masses.ALKALI[alkali]
        found.append(_material(LABEL_NAMES[alkali].inci_name, left))
    minerals = sum([one.mass * (1 - one.liquid.water) for one in weighed.liquids if one.liquid.is_water])
    return [*found, _material(law.water, max(0.0, mass - content.dry_mass) + minerals)]


def _told(name: tuple[str, str], mass: float) -> tuple[str, float, Literal["ingredient"], str]:
    return name[0], mass, "ingredient", name[1]


def _material(name: str, mass: float) -> Material:
    return Material(name, mass, "ingredient", MEMORY)


def _additions(additions: Sequence[Addition], names: Names, *, dry: bool = False) -> Iterator[Material]:
    """Additions with their allergens, which are named beside them."""
    for one in additions:
        water = one.given.water_share
        mass = one.mass * (1 - water.value) if dry and water is not None else one.mass
        name, evidence = names.addition(one)
        yield Material(name, mass, "colour" if one.given.kind == "colour" else "ingredient", evidence)
        for allergen in one.given.allergens or ():
            yield Material(allergen.inci_name, one.mass * allergen.share.value, "allergen", GIVEN)


def _alkali_shares(weighed: Weighed) -> dict[AlkaliName, float]:
    """Share of each hydroxide in all of it, by moles."""
    amounts: dict[AlkaliName, float] = {}
    for one in weighed.drawn:
        amounts[one.alkali] = amounts.get(one.alkali, 0.0) + one.amount
    total = sum(amounts.values())
    return {alkali: amount / total for alkali, amount in amounts.items()}


def _taken(mass: float, became: SoapOf, content: Content) -> float:
    """Hydroxide that a fat took [mol], by what it became."""
    return (became.soap + became.glycerol + became.water + became.fat - mass) / content.mean_molar_mass


def _dry_liquids(content: Content, names: Names) -> Iterator[Material]:
    """Of each liquid what is not water, with what its fat and its acid took up, less what they set free."""
    takers = iter(content.reacted.fats[len(content.weighed.fats) :])
    for one in content.weighed.liquids:
        mass = one.mass * (1 - one.liquid.water)
        if one.fat_line is not None:
            became = next(takers)
            mass += became.soap + became.fat - one.fat_line.mass
        mass += one.mass * one.liquid.acid_per_mass * (content.mean_molar_mass - molar_masses.WATER)
        if not one.liquid.is_water:
            yield Material(*_told(names.liquid(one.liquid.id), mass))


def _salts_of_acids(content: Content, shares: Mapping[AlkaliName, float]) -> Iterator[Material]:
    known = reference_data().acids
    for one in content.weighed.acids:
        identifier = str(one.reagent)
        name = LABEL_NAMES[identifier]
        dry, amount = one.mass * known[identifier].content, one.mass * one.content
        for alkali, share in shares.items():
            salt = share * (dry + amount * (molar_masses.ALKALI[alkali] - molar_masses.WATER))
            yield _material(name.sodium_salt if alkali == "NaOH" else name.potassium_salt, salt)
