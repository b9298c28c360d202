"""Fats of a request: looked up in the catalogue, or taken from one's own certificate of analysis."""

from collections.abc import Hashable, Sequence
from functools import cache
from math import fsum
from typing import Any, Final, NamedTuple

from service.calculations.shared.messages import FatLine
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.reading import part_of
from service.calculations.shared.repeats import pointer
from service.chemistry import fatty_acids, saponification_budget
from service.chemistry.fatty_acids import Spread
from service.chemistry.saponification import hydroxide_amount
from service.chemistry.uncertainty import EXACT, Combined, Part, coverage_half_width, rectangular
from service.reference import Fat, FatKind, reference_data

LOOKS_LIKE_NAOH: Final = (0.110, 0.165)
"""Saponification values [kg/kg] that no common fat has, but that 150 to 230 mg KOH/g become as mg NaOH/g."""
HIGHEST_OF_FATS: Final = 0.270
"""Saponification value [kg/kg] (assumed: coconut oil reaches 265 mg/g, CXS 210-1999, and only short-chain acids and
their fats lie above)."""


class KnownFat(NamedTuple):
    """What a calculation needs to know of a fat, whatever its origin."""

    label: str
    key: Hashable
    """What its saponification value belongs to: lines of the same fat err together."""
    kind: FatKind
    saponification_value: float
    saponification_part: Part
    saponification_half_width: float
    """Of its 95 % interval."""
    iodine_value: float | None
    iodine_part: Part
    acids: tuple[Spread, ...] | None
    acid_fraction: float
    """Mass of fatty acids from one mass of the fat."""
    hardly_saponified: bool
    source: str
    evidence: str


class WeighedFat:
    """A fat and its mass.

    Attributes:
        fat: the fat.
        mass: its mass [kg].
        need: hydroxide that it takes [mol].
        line: the line as the chemistry reckons with it.
    """

    __slots__ = ("fat", "line", "mass", "need")

    def __init__(self, fat: KnownFat, mass: float, mass_part: Part) -> None:
        self.fat = fat
        self.mass = mass
        self.need = hydroxide_amount(mass, fat.saponification_value)
        self.line = saponification_budget.FatLine(
            fat.key, mass, fat.saponification_value, fat.saponification_part, mass_part
        )


@cache
def catalogue_fat(identifier: str) -> KnownFat:
    """A fat of the catalogue.

    Raises:
        KeyError: there is none of that name.
    """
    data = reference_data()
    fat = data.fats[identifier]
    value = fat.saponification_value
    acids, fraction = None, 1.0
    if fat.fatty_acids is not None:
        acids = fatty_acids.spreads(fat.fatty_acids.shares)
        if fat.kind == "triglyceride":
            fraction = fatty_acids.acid_mass_fraction({one.code: one.middle for one in acids}, data.fatty_acids)
    iodine, iodine_part = _iodine_value(fat, acids)
    spread = rectangular(value.half_width)
    return KnownFat(
        identifier,
        identifier,
        fat.kind,
        value.middle,
        spread,
        coverage_half_width(Combined(*spread)),
        iodine,
        iodine_part,
        acids,
        fraction,
        fat.hardly_saponified,
        value.source,
        value.evidence,
    )


def _iodine_value(fat: Fat, acids: tuple[fatty_acids.Spread, ...] | None) -> tuple[float | None, Part]:
    """The printed limits; where none are printed, what the fatty acids give."""
    if fat.iodine_value is not None:
        return fat.iodine_value.middle, rectangular(fat.iodine_value.half_width)
    if acids is None or fat.kind != "triglyceride":
        return None, EXACT
    return iodine_value_by_acids(acids), EXACT


def iodine_value_by_acids(acids: Sequence[Spread]) -> float:
    """What the fatty acids of a triglyceride give [kg/kg].

    Args:
        acids: its acids.
    """
    return fatty_acids.iodine_value({one.code: one.middle for one in acids}, reference_data().fatty_acids)


def _own_fat(line: FatLine, notes: Notes, at: str) -> KnownFat | None:
    value = line.saponification_value
    if value is None or line.name is None:  # the rules of FatLine leave no such line
        return None
    _caution_value(line.name, value.value, notes)
    if value.part is None:
        notes.caution(
            "saponification-value-taken-as-exact",
            f"The saponification value of {line.name} carries no spread in the intervals; give its limits (low, high) "
            "or its standard uncertainty.",
        )
    known = reference_data().fatty_acids
    acids, fraction = None, 1.0
    iodine = None if line.iodine_value is None else line.iodine_value.value
    if line.fatty_acids:
        strange = [code for code in line.fatty_acids if code not in known]
        for code in strange:
            notes.unknown("fatty acids", code, pointer(f"{at}/fatty_acids", code))
        total = fsum(share.value for share in line.fatty_acids.values())
        if not 0.8 <= total <= 1.02:
            notes.fault(
                f"{at}/fatty_acids",
                "does-not-add-up",
                f"the fatty acids add up to {percent(total)}, and all of them are due",
                "give every acid of the certificate; 80 % to 102 % is taken, and scaled to the whole",
            )
        if strange or not 0.8 <= total <= 1.02:
            return None
        # In the order of the catalogue: members of JSON have none, and it must not decide which lines are one lot.
        shares = {code: line.fatty_acids[code].value for code in known if code in line.fatty_acids}
        acids = fatty_acids.spreads({code: (share, share) for code, share in shares.items()})
        fraction = fatty_acids.acid_mass_fraction(shares, known)
        if iodine is None:
            iodine = fatty_acids.iodine_value(shares, known)
    spread, iodine_part = part_of(value), part_of(line.iodine_value)
    return KnownFat(
        line.name,
        _lot((line.name, value.value, spread, iodine, iodine_part, acids)),
        "triglyceride",
        value.value,
        spread,
        coverage_half_width(Combined(*spread)),
        iodine,
        iodine_part,
        acids,
        fraction,
        hardly_saponified=False,
        source="certificate of analysis, as given",
        evidence="as-given",
    )


def _lot(said: Any) -> Hashable:
    """What tells own fats apart, rounded: 23.8 % and 0.238 are one lot, though they may differ in the last bit."""
    if isinstance(said, tuple):
        return tuple(map(_lot, said))
    return float(f"{said:.9g}") if isinstance(said, float) else said


def _caution_value(name: str, value: float, notes: Notes) -> None:
    """A saponification value that no common fat has is most often a slip."""
    said = f"{name}: {value * 1000:.4g} mg/g is"
    if LOOKS_LIKE_NAOH[0] <= value <= LOOKS_LIKE_NAOH[1]:
        notes.caution(
            "saponification-value-unusual",
            f"{said} below every common fat and looks like mg NaOH per g; saponification values are mg KOH per g, "
            "1.403 times as much. The soap would keep far too much fat.",
        )
    elif value < LOOKS_LIKE_NAOH[0]:
        notes.caution(
            "saponification-value-unusual",
            f"{said} below every fat. A wax may be so low, but it gives no glycerol, and alkali in water hardly "
            "saponifies it; else check the certificate.",
        )
    elif value > HIGHEST_OF_FATS:
        notes.caution(
            "saponification-value-unusual",
            f"{said} above every common fat (coconut oil reaches 265): check the certificate, for with too high a "
            "value caustic is left in the soap.",
            "danger",
        )


def weighed_fats(lines: Sequence[FatLine], notes: Notes, at: str = "/fats") -> list[WeighedFat]:
    """The fats of a request; faults and cautions go into the notes.

    Args:
        lines: as the request has them.
        notes: where faults and cautions are collected; call `stop_at_faults` after all lists are looked up.
        at: pointer of the list.
    """
    found = []
    for index, line in enumerate(lines):
        if line.fat is None:
            fat = _own_fat(line, notes, f"{at}/{index}")
        else:
            try:
                fat = catalogue_fat(line.fat)
            except KeyError:
                notes.unknown("fats", line.fat, f"{at}/{index}/fat")
                continue
        if fat is not None:
            found.append(WeighedFat(fat, line.mass.value, part_of(line.mass)))
    return found
