"""POST /v1/paste-dilution: the water that thins a potassium soap paste to a wanted content of soap."""

from math import hypot
from typing import Annotated, ClassVar, Final, TypeVar

from msgspec import UNSET, Meta, UnsetType

from service.calculations.batch.paste_batch import Held, PasteBatch, held, paste_part
from service.calculations.batch.paste_notes import caution_paste, explain_paste
from service.calculations.registry import Calculation, Example
from service.calculations.shared.given import Fraction, Mass, Share
from service.calculations.shared.messages import Answer, Request
from service.calculations.shared.notes import Notes, at_least, percent
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import ExactlyOne, Rule
from service.calculations.shared.told import FractionFigure, MassFigure, Told
from service.chemistry.soap_paste import water_to_thin
from service.chemistry.uncertainty import combine, coverage_half_width

Figure = TypeVar("Figure", bound=Told)
LEAST_SHARE: Final = 0.001
"""Soap below which a paste, or what it is thinned to, is none."""


class PasteDilutionRequest(Request, kw_only=True):
    """A paste, what it holds, and what it is to hold."""

    paste_mass: Annotated[Mass, Meta(description="The paste, without its vessel.", examples=["1.2 kg"])]
    soap_share: (
        Annotated[Fraction, Meta(description="Anhydrous soap per mass of paste, where it is known.", examples=["40 %"])]
        | None
    ) = None
    batch: Annotated[PasteBatch, Meta(description="The batch it came from, where that is known.")] | None = None
    wanted_soap_share: Annotated[Share, Meta(description="Anhydrous soap per mass of thinned soap.", examples=["20 %"])]

    rules: ClassVar[tuple[Rule, ...]] = (ExactlyOne(("soap_share", "batch")),)


class PasteDilutionAnswer(Answer):
    """The water to add, and what that makes."""

    water_to_add: Annotated[MassFigure, Meta(description="Water that thins the paste to the wanted content.")]
    mass: Annotated[MassFigure, Meta(description="Of the thinned soap.")]
    soap_share: Annotated[FractionFigure, Meta(description="Anhydrous soap in it, as wanted.")]
    paste_soap_share: Annotated[
        FractionFigure, Meta(description="Anhydrous soap in the paste: alkali salts of fatty acids, without glycerol.")
    ]
    glycerol_share: (
        Annotated[FractionFigure, Meta(description="Glycerol in the thinned soap; left out without the batch.")]
        | UnsetType
    ) = UNSET
    fat_share: (
        Annotated[FractionFigure, Meta(description="Fat in it that found no alkali; left out without the batch.")]
        | UnsetType
    ) = UNSET
    free_alkali_share: (
        Annotated[FractionFigure, Meta(description="Hydroxide in it that found no fat; left out without the batch.")]
        | UnsetType
    ) = UNSET
    water_evaporated: (
        Annotated[MassFigure, Meta(description="Water that the paste has lost since; left out without the batch.")]
        | UnsetType
    ) = UNSET


def calculate(request: PasteDilutionRequest, notes: Notes) -> PasteDilutionAnswer:
    """The water that thins a potassium soap paste."""
    paste, wanted = request.paste_mass.value, request.wanted_soap_share.value
    if wanted < LEAST_SHARE:
        notes.fault("/wanted_soap_share", "out-of-range", "a soap without soap is none", "give 0.1 % at least")
    notes.stop_at_faults()
    found: Held | None = None
    if request.batch is not None:
        found = held(request.batch, request.paste_mass, notes)
        share, by_weighing = found.parts.soap / paste, paste_part(request.paste_mass)
        sides = found.parts.soap - found.lowest.soap, found.highest.soap - found.parts.soap
        share_halves = _sides([(side / paste, share / paste * by_weighing) for side in sides])
        water_halves = _sides([(side / wanted, by_weighing) for side in sides])
        mass_halves = sides[0] / wanted, sides[1] / wanted
    elif request.soap_share is not None:
        share, share_half, water_half, mass_half = _told(request, wanted)
        share_halves, water_halves = (share_half, share_half), (water_half, water_half)
        mass_halves = mass_half, mass_half
        if share < LEAST_SHARE:
            notes.fault("/soap_share", "out-of-range", "a paste without soap is none", "give 0.1 % at least")
    else:
        raise TypeError(request)  # one of them is due, and the rules of the request see to it
    notes.stop_at_faults()
    water = water_to_thin(paste, share, wanted)
    if water < 0:
        raise notes.refuse(
            "/wanted_soap_share",
            "contradiction",
            f"the paste holds {percent(share)} of soap, and {percent(wanted)} are wanted: it would have to lose "
            f"{at_least(-water)} of water",
            "ask for a smaller share, or let the paste dry and weigh it again",
        )
    mass = paste + water
    caution_paste(request, found, notes)
    if notes.explain:
        explain_paste(paste, share, wanted, found, notes)
    return PasteDilutionAnswer(
        water_to_add=_between(MassFigure, water, water_halves),
        mass=_between(MassFigure, mass, mass_halves),
        soap_share=FractionFigure(wanted),
        paste_soap_share=_between(FractionFigure, share, share_halves),
        glycerol_share=UNSET if found is None else _part(found, 1, mass),
        fat_share=UNSET if found is None else _part(found, 2, mass),
        free_alkali_share=UNSET if found is None else _part(found, 3, mass),
        water_evaporated=UNSET if found is None else MassFigure.around(found.evaporated, found.evaporated_half_width),
    )


def _sides(parts: list[tuple[float, float]]) -> tuple[float, float]:
    """What two independent spreads bring to the lower and to the upper side."""
    (low, high) = (hypot(*one) for one in parts)
    return low, high


def _between(kind: type[Figure], value: float, halves: tuple[float, float]) -> Figure:
    """A value with unequal sides of its interval, cut to what there can be; none where nothing is uncertain."""
    if not any(halves):
        return kind(value)
    return kind(value, min(value, max(kind.least, value - halves[0])), max(value, min(kind.most, value + halves[1])))


def _part(found: Held, place: int, mass: float) -> FractionFigure:
    """A part of the thinned soap."""
    value, low, high = (one[place] / mass for one in (found.parts, found.lowest, found.highest))
    return _between(FractionFigure, value, (value - low, high - value))


def _told(request: PasteDilutionRequest, wanted: float) -> tuple[float, float, float, float]:
    """Share of soap that is told, its half-width, and those of the water and of the mass that follow."""
    if request.soap_share is None:
        raise TypeError(request)
    share, part, paste = request.soap_share.value, part_of(request.soap_share), request.paste_mass.value
    weighing = part_of(request.paste_mass)
    water = combine([(paste / wanted, part), (share / wanted - 1, weighing)])
    mass = combine([(paste / wanted, part), (share / wanted, weighing)])
    own = coverage_half_width(combine([(1.0, part)]))
    return share, own, coverage_half_width(water), coverage_half_width(mass)


CALCULATION: Final = Calculation(
    name="paste-dilution",
    summary="Water that thins a potassium soap paste",
    description=(
        "For making liquid soap from paste: the water to add for a wanted content of soap, from the paste's own "
        "content or from the batch it came from. Then also the glycerol, the fat and the alkali that are left in it, "
        "and the water that cooking drove off.\n\n"
        "Soap is the anhydrous alkali salt of the fatty acids; glycerol and unsaponified fat are not counted as soap. "
        "All that can react is taken to have reacted, and what has gone from the batch to be water. Waxes that alkali "
        "in water hardly saponifies count as no soap.\n\n"
        "Not for thickness, clarity or preservation: those are found by trial, and by a qualified assessor. Sources: "
        "conservation of mass; saponification values by the sources that the catalogue names."
    ),
    request=PasteDilutionRequest,
    answer=PasteDilutionAnswer,
    calculate=calculate,
    examples=(
        Example(
            "from-its-batch",
            "A paste of sunflower and coconut oil, cooked until some water had gone (invented)",
            {
                "reference": "invented paste 2",
                "paste_mass": "1.85 kg",
                "batch": {
                    "fats": [{"fat": "sunflower-oil", "mass": "700 g"}, {"fat": "coconut-oil", "mass": "300 g"}],
                    "alkalis": [{"alkali": "KOH", "mass": "202 g"}],
                    "water_mass": "700 g",
                    "acids": [{"acid": "citric-acid-anhydrous", "mass": "5 g"}],
                },
                "wanted_soap_share": "25 %",
            },
        ),
        Example(
            "by-its-content",
            "A bought paste by the content on its certificate (invented)",
            {
                "paste_mass": {"value": 10, "uncertainty": 0.02, "unit": "lb"},
                "soap_share": {"low": 0.39, "high": 0.42, "unit": "1"},
                "wanted_soap_share": "20 %",
            },
        ),
        Example(
            "potassium-stearate",
            "One mole of stearic acid and one of KOH, in as much water as soap",
            {
                "paste_mass": "645.148 g",
                "batch": {
                    "fats": [{"fat": "stearic-acid-pure", "mass": "284.484 g"}],
                    "alkalis": [{"alkali": "KOH", "mass": "56.105 g"}],
                    "water_mass": "304.559 g",
                },
                "wanted_soap_share": "25 %",
            },
            "Published: potassium stearate, C18H35KO2, has 322.574 g/mol by the abridged standard atomic weights "
            "(IUPAC/CIAAW 2021), half of the mass of this paste.",
        ),
    ),
)
