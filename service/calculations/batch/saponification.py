"""POST /v1/saponification: the alkali that fats need, and what it leaves of them."""

from collections.abc import Sequence
from typing import Annotated, Final

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.batch.acids import AcidLine, caution_acids, weighed_acids
from service.calculations.batch.alkalis import AlkaliShares, UsedAlkali, used_alkalis
from service.calculations.batch.fat_yields import glycerol, risk
from service.calculations.batch.fats import WeighedFat, weighed_fats
from service.calculations.batch.saponification_examples import EXAMPLES
from service.calculations.batch.saponification_notes import caution_saponification
from service.calculations.batch.saponification_steps import explain_saponification
from service.calculations.batch.usual import division_or_none, superfat_or_usual
from service.calculations.registry import Calculation, Link
from service.calculations.shared.faults import Refusal
from service.calculations.shared.given import PlainMass, Superfat
from service.calculations.shared.messages import MOST_LIQUIDS, Alkali, Answer, FatLines, Request
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.told import FractionFigure, IodineValueFigure, MassFigure, SaponificationValueFigure
from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.fatty_acids import Spread, blend_spreads
from service.chemistry.saponification import alkali_amount
from service.chemistry.saponification_budget import Reagent, SaponificationBudget, saponification_budget
from service.chemistry.uncertainty import Part, combine, coverage_half_width, net_weighing
from service.reference import reference_data


class SaponificationRequest(Request, kw_only=True):
    """Fats, and how they are to be saponified."""

    fats: FatLines
    superfat: (
        Annotated[
            Superfat,
            Meta(
                description="Share of the fats' need for alkali that is left unmet; at most 50 %, default 5 %. "
                "The alkali for acids is not reduced by it.",
                examples=["5 %"],
            ),
        ]
        | None
    ) = None
    alkalis: AlkaliShares | None = None
    acids: (
        Annotated[
            list[AcidLine],
            Meta(max_length=MOST_LIQUIDS, description="Acids that take alkali of their own, beside the fats."),
        ]
        | None
    ) = None
    scale_division: (
        Annotated[
            PlainMass,
            Meta(
                description="Step of the scale that everything is weighed on; it widens the intervals. Default: none.",
                examples=["1 g"],
            ),
        ]
        | None
    ) = None


class AlkaliNeeded(Struct, frozen=True, kw_only=True):
    """An alkali to weigh."""

    alkali: Alkali
    mass: Annotated[
        MassFigure,
        Meta(description="Pure hydroxide. The interval: what would really leave the wanted superfat."),
    ]
    mass_as_supplied: (
        Annotated[MassFigure, Meta(description="What is weighed from the bag; left out where the purity is missing.")]
        | UnsetType
    ) = UNSET


class FatContribution(Struct, frozen=True, kw_only=True):
    """What one fat asks for."""

    fat: Annotated[str, Meta(description="Its identifier, or the name given.", examples=["olive-oil"])]
    mass: Annotated[MassFigure, Meta(description="Its mass.")]
    saponification_value: Annotated[SaponificationValueFigure, Meta(description="The value reckoned with.")]
    alkali_mass: Annotated[MassFigure, Meta(description="Pure alkali for this fat, superfat taken off.")]
    source: Annotated[
        str, Meta(description="Key of the source of the saponification value.", examples=["cxs-210-1999"])
    ]
    evidence: Annotated[
        str, Meta(description="How well the value was verified.", examples=["seen-reprint", "as-given"])
    ]


class SaponificationAnswer(Answer):
    """Alkali for a batch, and what it makes of the fats."""

    alkalis: Annotated[list[AlkaliNeeded], Meta(description="The alkalis to weigh.")]
    contributions: Annotated[list[FatContribution], Meta(description="One for each line of fats, in order.")]
    acid_demand: Annotated[MassFigure, Meta(description="Pure alkali that the acids take, part of `alkalis`.")]
    superfat: Annotated[
        FractionFigure,
        Meta(description="Share of the fats' need left unmet; the interval shows what it may really be."),
    ]
    free_alkali_probability: Annotated[
        FractionFigure,
        Meta(
            description="Probability that more alkali is weighed than fats and acids can take; of wax that alkali in "
            "water hardly saponifies, with the wax taking none where that is the worse."
        ),
    ]
    glycerol_mass: Annotated[MassFigure, Meta(description="Glycerol set free; it stays in the soap.")]
    fatty_acids: Annotated[
        dict[str, FractionFigure],
        Meta(
            description="Every fatty acid in the standard shorthand, by its share of all acids by mass. Values and "
            "intervals lie within the printed limits of the fats, and the values together are 1. Acids of an own "
            "fat that do not add up to 1 are scaled to it."
        ),
    ]
    saponification_value: Annotated[SaponificationValueFigure, Meta(description="Of the blend.")]
    iodine_value: (
        Annotated[
            IodineValueFigure,
            Meta(
                description="Of the blend, by the limits that are printed for each fat, and only where there are none "
                "by its fatty acids; `fatty_acids` may give another. Left out where it is unknown for a fat."
            ),
        ]
        | UnsetType
    ) = UNSET


def calculate(request: SaponificationRequest, notes: Notes) -> SaponificationAnswer:
    """The alkali that fats need, and what it leaves of them."""
    fats = weighed_fats(request.fats, notes)
    alkalis = used_alkalis(request.alkalis, notes)
    acids = weighed_acids(request.acids or (), notes)
    notes.stop_at_faults()
    superfat = superfat_or_usual(request.superfat, "/superfat", notes)
    division = division_or_none(request.scale_division, notes)

    need = sum([fat.need for fat in fats])
    acid = sum(one.mass * one.content for one in acids)
    amount = alkali_amount(need, superfat, acid)
    mean_molar_mass = sum(one.mole_share * one.molar_mass for one in alkalis)
    reagents = [one.reagent(amount * one.mole_share * one.molar_mass) for one in alkalis]
    lines = [fat.line for fat in fats]
    try:
        budget = saponification_budget(lines, reagents, acids, division)
    except OutOfRange:
        raise _untold(division, notes) from None

    worst = risk(fats, (reagents, acids, division), budget)
    caution_saponification(fats, alkalis, budget, worst.free_alkali_probability, notes)
    caution_acids(acids, notes)
    if notes.explain:
        explain_saponification(fats, alkalis, (reagents, acids, division), budget, notes)
    mass = sum(fat.mass for fat in fats)
    return SaponificationAnswer(
        alkalis=[_needed(one, reagent, budget) for one, reagent in zip(alkalis, reagents, strict=True)],
        contributions=[_contribution(fat, 1 - superfat, mean_molar_mass, division) for fat in fats],
        acid_demand=MassFigure(acid * mean_molar_mass),
        superfat=FractionFigure(budget.superfat, worst.lowest_superfat, budget.superfat_interval[1]),
        free_alkali_probability=FractionFigure(worst.free_alkali_probability),
        glycerol_mass=MassFigure(glycerol(fats, amount - acid)),
        fatty_acids=_fatty_acids(fats, mass, notes),
        iodine_value=_iodine_value(fats, mass, notes),
        saponification_value=SaponificationValueFigure(
            budget.need * molar_masses.KOH / mass,
            *(end * molar_masses.KOH / mass for end in budget.need_interval),
        ),
    )


def _untold(division: float, notes: Notes) -> Refusal:
    """The limits are so wide that nothing can be said; most often the scale is meant for something heavier."""
    if division:
        return notes.refuse(
            "/scale_division",
            "contradiction",
            f"on a scale with steps of {weight(division)} nothing can be said of the superfat",
            "give the step of the scale that the alkali is weighed on",
        )
    return notes.refuse(
        "/fats",
        "contradiction",
        "the limits of these fats and alkalis are so wide that no superfat can be told",
        "narrow the limits, as certificates of analysis state them",
    )


def _needed(one: UsedAlkali, reagent: Reagent, budget: SaponificationBudget) -> AlkaliNeeded:
    to_mass = one.mole_share * one.molar_mass
    low, high = budget.alkali_needed
    mass = MassFigure(budget.alkali * to_mass, low * to_mass, high * to_mass)
    if one.purity is None:
        return AlkaliNeeded(alkali=one.alkali, mass=mass)
    # The need and the purity err independently; both bear on what should really be weighed.
    met = (1 - budget.superfat) * to_mass / one.purity
    spread = combine(((met, budget.need_combined), (reagent.mass / one.purity, one.purity_part)))
    return AlkaliNeeded(
        alkali=one.alkali, mass=mass, mass_as_supplied=MassFigure.around(reagent.mass, coverage_half_width(spread))
    )


def _contribution(weighed: WeighedFat, met: float, mean_molar_mass: float, division: float) -> FatContribution:
    fat = weighed.fat
    half_width = of_alkali = fat.saponification_half_width
    mass_part = weighed.line.mass_part
    if division or mass_part.standard_uncertainty:
        by_mass = fat.saponification_value / weighed.mass
        parts = [(1.0, fat.saponification_part), (by_mass, mass_part), (by_mass, net_weighing(division))]
        of_alkali = coverage_half_width(combine(parts))
    to_alkali = weighed.mass * met * mean_molar_mass / molar_masses.KOH
    return FatContribution(
        fat=fat.label,
        mass=MassFigure(weighed.mass),
        saponification_value=SaponificationValueFigure.around(fat.saponification_value, half_width),
        alkali_mass=MassFigure.around(fat.saponification_value * to_alkali, of_alkali * to_alkali),
        source=fat.source,
        evidence=fat.evidence,
    )


def _fatty_acids(fats: Sequence[WeighedFat], mass: float, notes: Notes) -> dict[str, FractionFigure]:
    together: dict[object, float] = {}
    acids: dict[object, tuple[Spread, ...]] = {}
    unknown = 0.0
    for weighed in fats:
        fat = weighed.fat
        if fat.acids is None:
            unknown += weighed.mass
        else:
            together[fat.key] = together.get(fat.key, 0.0) + weighed.mass * fat.acid_fraction
            acids[fat.key] = fat.acids
    if unknown:
        notes.caution(
            "composition-incomplete",
            "No fatty acids of these fats are known."
            if not together
            else f"The fatty acids of {percent(unknown / mass, 0)} of the fats are not known; shares are of the rest.",
        )
    if not together:
        return {}
    blend = blend_spreads([(fat_mass, acids[key]) for key, fat_mass in together.items()])
    told = {}
    for code in reference_data().fatty_acids:
        if code in blend:
            value, low, high = blend[code]
            told[code] = FractionFigure(value, low, high) if low < high else FractionFigure(value)
    return told


def _iodine_value(fats: Sequence[WeighedFat], mass: float, notes: Notes) -> IodineValueFigure | UnsetType:
    lacking = [weighed.fat.label for weighed in fats if weighed.fat.iodine_value is None]
    if lacking:
        notes.caution(
            "composition-incomplete", f"No iodine value is known for {', '.join(dict.fromkeys(lacking))[:200]}."
        )
        return UNSET
    value = sum([weighed.mass * (weighed.fat.iodine_value or 0.0) for weighed in fats]) / mass
    shared: dict[object, float] = {}
    parts: dict[object, Part] = {}
    for weighed in fats:
        fat = weighed.fat
        shared[fat.key] = shared.get(fat.key, 0.0) + weighed.mass / mass
        parts[fat.key] = fat.iodine_part
    spread = combine([(share, parts[key]) for key, share in shared.items()])
    half_width = coverage_half_width(spread)
    return (
        IodineValueFigure(value, max(0.0, value - half_width), value + half_width)
        if half_width
        else IodineValueFigure(value)
    )


CALCULATION: Final = Calculation(
    name="saponification",
    summary="Alkali that fats need",
    description=(
        "For a recipe, before anything is weighed: from fats of the catalogue or by one's own certificates, the alkali "
        "for a wanted superfat; how far the superfat can really lie from it, since saponification values are known as "
        "ranges; the probability that free alkali is left; glycerol, fatty acids and iodine value of the blend. The "
        "superfat is taken off the alkali for the fats, not off that for acids.\n\n"
        "Range: fats with saponification values from 1 to 700 mg/g; superfat to 50 %. Reckons with fats that are "
        "wholly saponified; says nothing of how fast, nor of how the soap lathers.\n\n"
        "Sources: saponification values and fatty acids by the standards that the answer names for each fat, mostly "
        "Codex Alimentarius CXS 210-1999; atomic weights of IUPAC/CIAAW 2021; intervals by JCGM 100:2008: limits that "
        "come in are rectangular distributions, intervals that go out cover 95 %."
    ),
    request=SaponificationRequest,
    answer=SaponificationAnswer,
    calculate=calculate,
    examples=EXAMPLES,
    links=(
        Link(
            "split-the-liquid",
            "liquid-split",
            "Draw the alkali from a 50 % stock and add water to 2:1.",
            {
                "alkalis": "$response.body#/alkalis",
                "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}],
                "total_liquid": {"water_ratio": "2:1"},
            },
        ),
        Link(
            "check-what-was-weighed",
            "superfat-check",
            "The superfat that these fats have with what was really weighed of the first alkali, here all of it pure.",
            {
                "fats": "$request.body#/fats",
                "solids": [
                    {
                        "alkali": "$response.body#/alkalis/0/alkali",
                        "mass_as_supplied": "$response.body#/alkalis/0/mass",
                        "purity": "100 %",
                    }
                ],
            },
        ),
    ),
)
