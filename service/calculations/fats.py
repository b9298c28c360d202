"""Fats of a request: looked up in the catalogue, or taken from one's own certificate of analysis."""

from collections.abc import Hashable, Sequence
from functools import cache
from typing import Any, Final, NamedTuple

from service.calculations.cautions import Caution
from service.calculations.messages import FatLine
from service.calculations.notes import Notes, percent
from service.calculations.reading import part_of
from service.calculations.repeats import pointer
from service.chemistry import fatty_acids, saponification_budget
from service.chemistry.errors import OutOfRange
from service.chemistry.fatty_acids import Spread
from service.chemistry.saponification import glycerol_mass, hydroxide_amount
from service.chemistry.saponification_budget import Reagent, SaponificationBudget
from service.chemistry.uncertainty import EXACT, Combined, Part, coverage_half_width, rectangular
from service.reference import Fat, FatKind, reference_data

LOOKS_LIKE_NAOH: Final = (0.110, 0.165)
"""Saponification values [kg/kg] that no common fat has, but that 150 to 230 mg KOH/g become as mg NaOH/g."""
HIGHEST_OF_FATS: Final = 0.270
"""kg/kg; coconut oil reaches 265 mg/g (CXS 210-1999), and only short-chain acids and their fats lie above."""


CAUTION_FROM: Final = 0.01
"""Probability of free alkali from which a caution is due."""
DANGER_FROM: Final = 0.10
"""Probability of free alkali from which it is a danger."""
LEAST_USUAL: Final = 0.03
"""Superfat below which a word is due where the spread of the fats is not told; usual are 3 to 8 % (common practice)."""
KNOWN_TO: Final = 1e-3
"""Standard uncertainty of the need, over the need, up to which the fats count as told without a spread: no published
limits are so narrow."""


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
        limits = fat.fatty_acids.shares
        acids = fatty_acids.spreads(limits)
        if fat.kind == "triglyceride":
            middles = {code: (low + high) / 2 for code, (low, high) in limits.items()}
            fraction = fatty_acids.acid_mass_fraction(middles, data.fatty_acids)
    iodine, iodine_part = _iodine_value(fat)
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


def _iodine_value(fat: Fat) -> tuple[float | None, Part]:
    """The printed limits; where none are printed, what the fatty acids give."""
    if fat.iodine_value is not None:
        return fat.iodine_value.middle, rectangular(fat.iodine_value.half_width)
    if fat.fatty_acids is None or fat.kind != "triglyceride":
        return None, EXACT
    middles = {code: (low + high) / 2 for code, (low, high) in fat.fatty_acids.shares.items()}
    return fatty_acids.iodine_value(middles, reference_data().fatty_acids), EXACT


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
        total = sum(share.value for share in line.fatty_acids.values())
        if not 0.8 <= total <= 1.02:
            notes.fault(
                f"{at}/fatty_acids",
                "does-not-add-up",
                f"the fatty acids add up to {percent(total)}, and all of them are due",
                "give every acid of the certificate; 80 % to 102 % is taken, and scaled to the whole",
            )
        if strange or not 0.8 <= total <= 1.02:
            return None
        shares = {code: share.value for code, share in line.fatty_acids.items()}
        acids = fatty_acids.spreads({code: (share, share) for code, share in shares.items()})
        fraction = fatty_acids.acid_mass_fraction(shares, known)
        if iodine is None:
            iodine = fatty_acids.iodine_value(shares, known)
    spread = part_of(value)
    return KnownFat(
        line.name,
        _lot((line.name, value.value, spread, iodine, acids)),
        "triglyceride",
        value.value,
        spread,
        coverage_half_width(Combined(*spread)),
        iodine,
        part_of(line.iodine_value),
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


def caution_fats(fats: Sequence[WeighedFat], notes: Notes) -> None:
    """Say what the users of these fats must know."""
    for key in dict.fromkeys([weighed.fat.key for weighed in fats]):
        if isinstance(key, str):  # one's own fats have no record
            notes.cautions.extend(_cautions_of(key))


@cache
def _cautions_of(identifier: str) -> tuple[Caution, ...]:
    """What the users of a fat of the catalogue must know."""
    fat = reference_data().fats[identifier]
    notes = Notes()
    _caution_fat(fat, notes)
    return tuple(notes.cautions)


def _caution_fat(fat: Fat, notes: Notes) -> None:
    value = fat.saponification_value
    if value.evidence == "memory":
        notes.caution(
            "figure-from-memory",
            f"The saponification value of {fat.name} ({value.low * 1000:g} to {value.high * 1000:g} mg/g) is from "
            "memory and was not verified: give the value of your certificate.",
            basis=value.source,
        )
    elif "assumed" in value.note:
        notes.caution("figure-limits-assumed", f"Saponification value of {fat.name}: {value.note}.", basis=value.source)
    if fat.hardly_saponified:
        notes.caution(
            "aqueous-alkali-hardly-saponifies",
            f"Alkali in water saponifies {fat.name} hardly or slowly: what it does not take stays as free alkali.",
        )
    elif fat.kind in {"wax", "resin"}:
        notes.caution("wax-or-resin", f"{fat.name.capitalize()} is a {fat.kind}: it gives no glycerol.")
    if fat.caution:
        notes.caution("fat-note", f"Of {fat.name}: {fat.caution}")
    if fat.fatty_acids is not None and fat.fatty_acids.evidence == "memory":
        notes.caution(
            "composition-from-memory",
            f"The fatty acids of {fat.name} are from memory and were not verified.",
            "note",
            fat.fatty_acids.source,
        )


def caution_free_alkali(budget: SaponificationBudget, notes: Notes) -> None:
    """Say how likely it is that caustic is left in the soap."""
    probability = budget.free_alkali_probability
    if probability >= CAUTION_FROM:
        notes.caution(
            "free-alkali-possible",
            f"With a probability of {percent(probability, 0)} there is more alkali than the fats can take, and the "
            "soap holds free caustic, which burns: do not use or sell it. Raise the superfat, or narrow the spread "
            "with certificates of analysis.",
            "danger" if probability >= DANGER_FROM else None,
        )
    elif budget.superfat < LEAST_USUAL and budget.need_combined[0] <= KNOWN_TO * budget.need:
        notes.caution(
            "free-alkali-possible",
            f"A superfat of {percent(budget.superfat)} leaves little room, and no spread of the fats is told: lots of "
            "one fat commonly differ by some per cent, and then caustic is left in the soap. Give the limits of their "
            "saponification values, or raise the superfat.",
            basis="common practice",
        )


class Risk(NamedTuple):
    """What may be left of the superfat at worst, and how likely free alkali is."""

    lowest_superfat: float
    free_alkali_probability: float


def risk(
    fats: Sequence[WeighedFat],
    reagents: tuple[Sequence[Reagent], Sequence[Reagent], float],
    budget: SaponificationBudget,
) -> Risk:
    """The risk of a batch; where wax is among the fats, with the wax taking no alkali, if that is the worse.

    Args:
        fats: the fats.
        reagents: alkalis, acids and the scale's division, as the budget was made with.
        budget: of the batch with every fat taking alkali.
    """
    told = Risk(budget.superfat_interval[0], budget.free_alkali_probability)
    others = [weighed.line for weighed in fats if not weighed.fat.hardly_saponified]
    if len(others) == len(fats):
        return told
    if not others:
        return told._replace(free_alkali_probability=1.0)
    try:
        idle = saponification_budget.saponification_budget(others, *reagents)
    except OutOfRange:
        return told
    return Risk(
        min(told.lowest_superfat, idle.superfat_interval[0]),
        max(told.free_alkali_probability, idle.free_alkali_probability),
    )


def caution_idle_alkali(
    fats: Sequence[WeighedFat], budget: SaponificationBudget, notes: Notes, probability: float = 0.0
) -> None:
    """Say what becomes of the alkali that was meant for wax and is not taken.

    Args:
        fats: the fats.
        budget: of the batch with every fat taking alkali.
        notes: where the caution goes.
        probability: how likely free alkali is with the wax taking none, where it was reckoned.
    """
    idle = sum([weighed.need for weighed in fats if weighed.fat.hardly_saponified])
    if not idle:
        return
    others = budget.need - idle
    left = 1 - (budget.alkali - budget.acid) / others if others > 1e-9 * budget.need else None
    if left is None:
        what, certain = "all of it stays free: there is no other fat.", True
    elif left < budget.superfat:
        what, certain = f"the superfat of the other fats is {percent(left)}", left < 0
        if certain:
            what += ", that is free alkali."
        elif probability >= CAUTION_FROM:
            what += f", and with a probability of {percent(probability, 0)} free alkali is left: raise the superfat."
        else:
            what += "."
    else:
        return
    notes.caution(
        "aqueous-alkali-hardly-saponifies",
        f"If the wax takes no alkali at all, {what}",
        "danger" if certain or probability >= DANGER_FROM else None,
    )


def glycerol(fats: Sequence[WeighedFat], alkali_for_fats: float) -> float:
    """Glycerol that alkali sets free [kg].

    Free acids take alkali before any ester does; of the esters only triglycerides give glycerol.

    Args:
        fats: the fats.
        alkali_for_fats: hydroxide that is left for them [mol].
    """
    amounts = {"triglyceride": 0.0, "free": 0.0, "other": 0.0}
    for weighed in fats:
        kind = weighed.fat.kind
        group = kind if kind == "triglyceride" else "free" if kind in {"fatty-acid", "resin"} else "other"
        amounts[group] += weighed.need
    esters = amounts["triglyceride"] + amounts["other"]
    if esters <= 0:
        return 0.0
    saponified = max(0.0, alkali_for_fats - amounts["free"]) * amounts["triglyceride"] / esters
    return glycerol_mass(min(saponified, amounts["triglyceride"]))
