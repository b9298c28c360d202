"""POST /v1/superfat-check: the superfat a batch really has, from what was weighed, and what mends it."""

from collections.abc import Sequence
from typing import Annotated, ClassVar, Final

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.batch.acids import AcidLine, weighed_acids
from service.calculations.batch.fat_notes import SURELY
from service.calculations.batch.fat_yields import free_alkali, risk
from service.calculations.batch.fats import KnownFat, catalogue_fat, weighed_fats
from service.calculations.batch.superfat_check_examples import EXAMPLES
from service.calculations.batch.superfat_mending import Mending, alkali_to_add, fat_to_add
from service.calculations.batch.superfat_notes import caution_check, caution_mending, explain_check, explain_mending
from service.calculations.batch.superfat_weighed import (
    Batch,
    Drawn,
    LiquidWeighed,
    SolidWeighed,
    read_draws,
    read_liquids,
    read_solids,
)
from service.calculations.batch.usual import division_or_none, superfat_or_usual
from service.calculations.registry import Calculation
from service.calculations.shared.given import PlainMass, Superfat
from service.calculations.shared.identifiers import SHELF
from service.calculations.shared.messages import (
    MOST_LIQUIDS,
    Alkali,
    AlkaliName,
    Answer,
    FatLines,
    Identifier,
    Request,
    Solution,
)
from service.calculations.shared.notes import Notes
from service.calculations.shared.rules import AtLeastOne, Rule
from service.calculations.shared.told import FractionFigure, MassFigure
from service.chemistry.errors import OutOfRange
from service.chemistry.saponification_budget import saponification_budget


class SuperfatCheckRequest(Request, kw_only=True):
    """What was really weighed for a batch."""

    fats: FatLines
    stock_draws: (
        Annotated[
            list[Solution],
            Meta(min_length=1, max_length=MOST_LIQUIDS, description="The stock that went in, draw by draw."),
        ]
        | None
    ) = None
    solids: (
        Annotated[
            list[SolidWeighed],
            Meta(min_length=1, max_length=MOST_LIQUIDS, description="Solid alkali that was dissolved for the batch."),
        ]
        | None
    ) = None
    liquids: (
        Annotated[
            list[LiquidWeighed],
            Meta(max_length=MOST_LIQUIDS, description="Other liquids; their fat and their acid count."),
        ]
        | None
    ) = None
    acids: Annotated[list[AcidLine], Meta(max_length=MOST_LIQUIDS, description="Acids that went in.")] | None = None
    wanted_superfat: (
        Annotated[Superfat, Meta(description="Superfat to mend the batch to; default 5 %.", examples=["5 %"])] | None
    ) = None
    mend_with: (
        Annotated[
            Identifier,
            Meta(
                description="Fat to add where there is too little; default more of the batch's own, in their shares.",
                examples=["olive-oil"],
                extra={SHELF: "fats"},
            ),
        ]
        | None
    ) = None
    scale_division: (
        Annotated[
            PlainMass,
            Meta(
                description="Step of the scale that everything was weighed on; it widens the intervals. Default: none.",
                examples=["1 g"],
            ),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (AtLeastOne(("stock_draws", "solids")),)


class AlkaliWeighed(Struct, frozen=True, kw_only=True):
    """An alkali of the batch, all of it."""

    alkali: Alkali
    mass: Annotated[MassFigure, Meta(description="Pure hydroxide in all that was weighed of it.")]


class StockToAdd(Struct, frozen=True, kw_only=True):
    """More of a stock that was drawn."""

    alkali: Alkali
    mass: Annotated[MassFigure, Meta(description="How much more of it.")]
    alkali_mass: Annotated[MassFigure, Meta(description="The pure hydroxide in that.")]


class SolidToAdd(Struct, frozen=True, kw_only=True):
    """More of a solid that was weighed."""

    alkali: Alkali
    mass_as_supplied: Annotated[MassFigure, Meta(description="How much more of it, from the same bag.")]
    alkali_mass: Annotated[MassFigure, Meta(description="The pure hydroxide in that.")]


class SuperfatCheckAnswer(Answer):
    """The superfat that was really made, and what mends it."""

    superfat: Annotated[
        FractionFigure,
        Meta(
            description="Share of the fats' need for alkali that is left unmet; below 0 alkali is free. The interval: "
            "what the spread of fats, strengths and weighings leaves open."
        ),
    ]
    free_alkali: Annotated[
        MassFigure,
        Meta(
            description="Pure hydroxide that nothing takes, in the alkalis' shares; 0 with an interval of no width "
            "where none is free at either end, which is a bound."
        ),
    ]
    free_alkali_probability: Annotated[
        FractionFigure,
        Meta(description="Probability that alkali is free; with wax taking none where that is the worse."),
    ]
    alkali_weighed: Annotated[list[AlkaliWeighed], Meta(description="The pure alkali in what was weighed, by kind.")]
    acid_demand: Annotated[MassFigure, Meta(description="Pure alkali that acids take, those of liquids among them.")]
    wanted_superfat: Annotated[FractionFigure, Meta(description="The superfat that the batch is mended to.")]
    fat_to_add: (
        Annotated[
            MassFigure,
            Meta(description="Fat that raises the superfat to the wanted one; left out where it is as high already."),
        ]
        | UnsetType
    ) = UNSET
    stock_to_add: (
        Annotated[
            list[StockToAdd],
            Meta(
                description="Stock that lowers the superfat to the wanted one, in the shares it was drawn in; left out "
                "where it is as low already, where solid alkali alone was weighed, or where alkali is likelier free "
                "than not, since wax may take none."
            ),
        ]
        | UnsetType
    ) = UNSET
    solid_to_add: (
        Annotated[
            list[SolidToAdd],
            Meta(description="The same of solid alkali, dissolved first, where no stock was drawn."),
        ]
        | UnsetType
    ) = UNSET


def calculate(request: SuperfatCheckRequest, notes: Notes) -> SuperfatCheckAnswer:
    """The superfat that was really made, and what mends it."""
    fats = weighed_fats(request.fats, notes)
    draws = read_draws(request.stock_draws or (), notes)
    solids = read_solids(request.solids or (), notes)
    liquids = read_liquids(request.liquids or (), notes)
    acids = weighed_acids(request.acids or (), notes)
    own = _own_fat(request, notes)
    notes.stop_at_faults()
    wanted = superfat_or_usual(request.wanted_superfat, "/wanted_superfat", notes)
    division = division_or_none(request.scale_division, notes)

    batch = Batch(fats, [*draws, *solids], liquids, acids, division)
    _check_acids(batch, notes)
    try:
        budget = saponification_budget(batch.lines, *batch.reagents)
    except OutOfRange:
        raise notes.refuse(
            "/fats",
            "contradiction",
            "fats, alkali and acids fit so badly, or are known so badly, that no superfat can be told",
            "compare the masses, their units and their limits",
        ) from None
    worst = risk(fats, batch.reagents, budget, batch.beside)
    more_fat = fat_to_add(batch, budget, wanted, own)
    added = draws or solids
    # where wax leaves it likelier than not that alkali is free already, more of it is no mending
    more_alkali = None if worst.free_alkali_probability >= SURELY else alkali_to_add(batch, added, budget, wanted)
    more = (more_fat, None if more_alkali is None else more_alkali[0])
    caution_check(batch, budget, worst, wanted, notes)
    caution_mending(budget, worst, wanted, more, notes, added=added, division=division)
    if more_fat is not None and own is None:
        notes.assume("/mend_with", "the batch's own fats, in their shares", "what is at hand, and it keeps the recipe")
    if notes.explain:
        explain_check(batch, budget, notes)
        explain_mending(budget, wanted, more, notes, added=added)
    mean_molar_mass = sum(one.alkali_mass for one in batch.drawn) / budget.alkali
    free = free_alkali(fats, batch.reagents, budget, batch.beside)
    return SuperfatCheckAnswer(
        superfat=FractionFigure(budget.superfat, worst.lowest_superfat, budget.superfat_interval[1]),
        free_alkali=MassFigure(*(amount * mean_molar_mass for amount in free)),
        free_alkali_probability=FractionFigure(worst.free_alkali_probability),
        alkali_weighed=_by_kind(batch.drawn),
        acid_demand=MassFigure(budget.acid * mean_molar_mass),
        wanted_superfat=FractionFigure(wanted),
        fat_to_add=UNSET if more_fat is None else MassFigure(more_fat.mass, *more_fat.ends),
        stock_to_add=_stock(draws, more_alkali) if more_alkali is not None and draws else UNSET,
        solid_to_add=_solid(solids, more_alkali) if more_alkali is not None and not draws else UNSET,
    )


def _check_acids(batch: Batch, notes: Notes) -> None:
    """Refuse acids that leave no alkali: there is no soap of which a superfat could be told.

    Raises:
        Refusal: they take as much as was weighed, or more.
    """
    brought = sum(one.amount for one in batch.drawn)
    _, acids, _ = batch.reagents
    taken = sum(one.mass * one.content for one in acids)
    if taken >= brought:
        raise notes.refuse(
            "/acids" if batch.own_acids else "/liquids",
            "contradiction",
            f"the acids take {taken:.4g} mol of alkali, and {brought:.4g} mol were weighed: none is left for the fats",
            "check the masses and units of acids and alkali; if right, no soap comes of it without more alkali",
        )


def _own_fat(request: SuperfatCheckRequest, notes: Notes) -> KnownFat | None:
    if request.mend_with is None:
        return None
    try:
        found = catalogue_fat(request.mend_with)
    except KeyError:
        notes.unknown("fats", request.mend_with, "/mend_with")
        return None
    if found.hardly_saponified:
        notes.fault(
            "/mend_with",
            "contradiction",
            f"alkali in water hardly saponifies {found.label}, so it takes up none that is free",
            "use a fat or an oil",
        )
    return found


def _by_kind(drawn: Sequence[Drawn]) -> list[AlkaliWeighed]:
    kinds: tuple[AlkaliName, ...] = ("NaOH", "KOH")
    masses = {kind: sum(one.alkali_mass for one in drawn if one.alkali == kind) for kind in kinds}
    return [AlkaliWeighed(alkali=kind, mass=MassFigure(mass)) for kind, mass in masses.items() if mass]


def _more(one: Drawn, more: tuple[Mending, float]) -> tuple[MassFigure, MassFigure]:
    """More of what was weighed, with its interval, and the pure hydroxide in it."""
    mending, share = more
    mass = one.reagent.mass * share
    low, high = (end / mending.mass for end in mending.ends)
    return MassFigure(mass, mass * low, mass * high), MassFigure(mass * one.content)


def _stock(draws: list[Drawn], more: tuple[Mending, float]) -> list[StockToAdd]:
    told = [(one.alkali, *_more(one, more)) for one in draws]
    return [StockToAdd(alkali=alkali, mass=mass, alkali_mass=pure) for alkali, mass, pure in told]


def _solid(solids: list[Drawn], more: tuple[Mending, float]) -> list[SolidToAdd]:
    told = [(one.alkali, *_more(one, more)) for one in solids]
    return [SolidToAdd(alkali=alkali, mass_as_supplied=mass, alkali_mass=pure) for alkali, mass, pure in told]


CALCULATION: Final = Calculation(
    name="superfat-check",
    summary="The superfat a batch really has, and what mends it",
    description=(
        "For the moment when a jug was misread or a bottle ran empty: from the fats, the stock and the solids that "
        "were really weighed, the superfat the batch has, the alkali that is left free where there is too much, and "
        "the fat or the stock that makes the superfat the wanted one. The fat and the acid of other liquids count.\n\n"
        "Superfat is the share of the fats' need for alkali that is left unmet; the alkali that acids take is counted "
        "off first, as in `saponification`. Below 0 it tells free alkali.\n\n"
        "Not an assay: it knows what was weighed, not what was spilled, and a soap with free alkali is told by "
        "titration. Range: stocks of NaOH to 52 %, of KOH to 50 %.\n\n"
        "Sources: saponification values by the sources that the catalogue names (ISO 3657, definition); spread by "
        "JCGM 100:2008; what mends a batch is common practice."
    ),
    request=SuperfatCheckRequest,
    answer=SuperfatCheckAnswer,
    calculate=calculate,
    examples=EXAMPLES,
)
