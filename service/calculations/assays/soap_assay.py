"""POST /v1/soap-assay: the free alkali of a finished soap by titration, and the acid that a batch of it takes."""

from typing import Annotated, ClassVar, Final, Literal, NoReturn, TypeVar

from msgspec import UNSET, Meta, UnsetType

from service.calculations.assays.soap_assay_notes import (
    Batch,
    SoapTitration,
    caution_soap,
    explain_soap,
    told_from_none,
)
from service.calculations.assays.titration_budget import (
    G_MOL,
    ML,
    MOL_L,
    Budget,
    Entry,
    G,
    budget_of,
    explain_spread,
)
from service.calculations.assays.titration_readings import (
    Acid,
    Limits,
    TitrationRequest,
    acid_of,
    caution_exact,
    detection_part,
    limits_of,
    reading_part,
    scale_entry,
    temperature_entry,
)
from service.calculations.batch.acids import hydroxide_per_mass
from service.calculations.registry import Calculation, Example
from service.calculations.shared.given import Mass, MeasuredVolume, TitrantMolarity
from service.calculations.shared.identifiers import SHELF
from service.calculations.shared.messages import Answer, Identifier
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import OnlyWith, Rule, Ruled
from service.calculations.shared.told import FractionFigure, MassFigure, Told
from service.chemistry.molar_masses import ALKALI, KOH
from service.chemistry.titration import free_alkali_amount, molar_mass_part, normality
from service.chemistry.uncertainty import combine, coverage_half_width
from service.reference import reference_data

Figure = TypeVar("Figure", bound=Told)
LAST_BITS: Final = 1e-15
USUAL_ACID: Final = "citric-acid-anhydrous"

MOST_SAPONIFIABLE: Final = 0.265
"""Highest saponification value of coconut oil [kg KOH/kg] (seen-reprint: Codex Alimentarius CXS 210-1999, 248 to 265
mg/g)."""


class BackTitration(Ruled, kw_only=True):
    """The alkali that took what was left of an excess of acid."""

    molarity: Annotated[
        TitrantMolarity, Meta(description="Amount of NaOH or KOH per volume, at 20 °C.", examples=["0.1 mol/L"])
    ]
    volume: Annotated[MeasuredVolume, Meta(description="Its volume to the end point.", examples=["18.2 mL"])]


class SoapAssayRequest(TitrationRequest, kw_only=True):
    """A sample of soap, and the acid that its free alkali took."""

    sample_mass: Annotated[Mass, Meta(description="Mass of soap that was titrated.", examples=["10 g"])]
    acid_volume: Annotated[
        MeasuredVolume,
        Meta(
            description="Acid to the end point (free-caustic), or the whole excess put in (total-free).",
            examples=["1.25 mL"],
        ),
    ]
    back_titration: (
        Annotated[BackTitration, Meta(description="What took the excess of acid; due with total-free alone.")] | None
    ) = None
    method: Annotated[
        Literal["free-caustic", "total-free"],
        Meta(
            description="`free-caustic`: hydroxide alone, titrated in neutral ethanol (ISO 456). `total-free`: "
            "hydroxide and carbonate, by an excess of acid and back titration (ISO 684).",
            examples=["free-caustic"],
        ),
    ]
    batch_mass: (
        Annotated[Mass, Meta(description="Mass of the batch that is to be neutralised.", examples=["12 kg"])] | None
    ) = None
    acid: (
        Annotated[
            Identifier,
            Meta(
                description="Acid of the catalogue to neutralise with; default citric-acid-anhydrous.",
                examples=[USUAL_ACID],
                extra={SHELF: "acids"},
            ),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (OnlyWith("acid", ("batch_mass",)),)


class SoapAssayAnswer(Answer):
    """The free alkali of a soap."""

    free_alkali: Annotated[
        FractionFigure, Meta(description="Mass of alkali per mass of soap, as NaOH or KOH, whichever was asked with.")
    ]
    budget: Budget
    batch_free_alkali: (
        Annotated[MassFigure, Meta(description="Free alkali in the whole batch, as that hydroxide.")] | UnsetType
    ) = UNSET
    acid_to_neutralise: (
        Annotated[
            MassFigure,
            Meta(
                description="Mass of the acid, as weighed, that takes it all. Begin with the lower end. Left out "
                "where the free alkali cannot be told from none."
            ),
        ]
        | UnsetType
    ) = UNSET


def calculate(request: SoapAssayRequest, notes: Notes) -> SoapAssayAnswer:
    """The free alkali of a soap, by titration."""
    alkali = request.alkali
    _check_method(request, notes)
    batch = _batch(request, notes)
    acid = acid_of(request, notes)
    notes.stop_at_faults()
    if acid is None:
        raise TypeError(acid)  # what makes it missing is a fault, and faults have stopped us
    titration = _titration(request, acid)
    amount = free_alkali_amount(titration.put_in, titration.taken_back)
    share = amount * ALKALI[alkali] / titration.sample_mass
    _check_share(request, titration, share, notes)
    back = request.back_titration
    readings = (request.acid_volume,) if back is None else (request.acid_volume, back.volume)
    limits = limits_of(request, readings, notes)
    entries = _entries(request, titration, limits, share)
    combined, budget = budget_of(entries)
    half_width = coverage_half_width(combined)
    if share < -half_width - LAST_BITS:
        _refuse_taken_back(titration, notes)
    caution_exact(
        [
            ("acid_molarity", request.acid_molarity),
            ("sample_mass", request.sample_mass),
            ("back_titration_molarity", None if back is None else back.molarity),
        ],
        limits,
        notes,
    )
    neutralised = batch is not None and told_from_none(share, half_width)
    if neutralised and request.acid is None:
        notes.assume("/acid", USUAL_ACID, "weak, solid and of known content; its salt may stay in the soap")
    caution_soap(alkali, request.method, (share, half_width), batch, notes)
    if notes.explain:
        explain_soap(alkali, titration, (amount, share), (batch, neutralised), notes)
        explain_spread("the free alkali", entries, combined, notes)
    free_alkali = _at_least_none(FractionFigure, share, half_width)
    if batch is None:
        return SoapAssayAnswer(free_alkali=free_alkali, budget=budget)
    spread = combine([(batch.mass, combined), (share, part_of(request.batch_mass))])
    in_batch, half = share * batch.mass, coverage_half_width(spread)
    per_alkali = batch.acid_per_alkali
    return SoapAssayAnswer(
        free_alkali=free_alkali,
        budget=budget,
        batch_free_alkali=_at_least_none(MassFigure, in_batch, half),
        acid_to_neutralise=MassFigure.around(in_batch * per_alkali, half * per_alkali) if neutralised else UNSET,
    )


def _at_least_none(kind: type[Figure], value: float, half_width: float) -> Figure:
    """A figure with its interval; one that comes out below nothing, within the spread, is nothing."""
    if value >= 0:
        return kind.around(value, half_width)
    return kind(0.0, 0.0, max(0.0, value + half_width))


def _refuse_taken_back(titration: SoapTitration, notes: Notes) -> NoReturn:
    """Refuse what takes more alkali than acid was put in, beyond what the readings are known to."""
    raise notes.refuse(
        "/back_titration",
        "contradiction",
        f"more alkali was titrated back ({titration.taken_back * 1000:.4g} mmol) than acid was put in "
        f"({titration.put_in * 1000:.4g} mmol)",
        "check molarities, protons and volumes; a soap that takes alkali holds free fatty acid, and none is free",
    )


def _check_method(request: SoapAssayRequest, notes: Notes) -> None:
    """Refuse readings that do not belong to the method."""
    back = request.back_titration
    if request.method == "free-caustic" and back is not None:
        notes.fault(
            "/back_titration",
            "contradiction",
            "free caustic is titrated with acid up to the end point, and nothing is titrated back",
            "leave back_titration out, or give the method 'total-free'",
        )
    if request.method == "total-free" and back is None:
        notes.fault(
            "/back_titration",
            "contradiction",
            "total free alkali is found by an excess of acid, and how much of it was left over is missing",
            "give molarity and volume of the alkali that was titrated back, or the method 'free-caustic'",
        )


def _batch(request: SoapAssayRequest, notes: Notes) -> Batch | None:
    """The batch to neutralise, where one is given; none where its acid is not known, which is a fault."""
    if request.batch_mass is None:
        return None
    name = request.acid or USUAL_ACID
    try:
        takes = hydroxide_per_mass(name)
    except KeyError:
        notes.unknown("acids", name, "/acid")
        return None
    acid = reference_data().acids[name]
    per_alkali = 1 / (ALKALI[request.alkali] * takes)
    return Batch(request.batch_mass.value, acid.name, takes, per_alkali, poisonous="poison" in acid.note)


def _titration(request: SoapAssayRequest, acid: Acid) -> SoapTitration:
    back = request.back_titration
    volume, mass = request.acid_volume.value, request.sample_mass.value
    if back is None:
        return SoapTitration(mass, acid, volume)
    molarity = back.molarity.value
    return SoapTitration(mass, acid, volume, molarity, normality(molarity, 1, acid.temperature), back.volume.value)


def _check_share(request: SoapAssayRequest, titration: SoapTitration, share: float, notes: Notes) -> None:
    """Refuse what no soap holds."""
    alkali = request.alkali
    need = MOST_SAPONIFIABLE * ALKALI[alkali] / KOH
    most = need / (1 + need)
    if share > most:
        told = f"{percent(share)} free {alkali}" if share <= 1 else f"more free {alkali} than there is soap"
        raise notes.refuse(
            "/sample_mass",
            "contradiction",
            f"that would be {told}, and a batter of coconut oil without water holds "
            f"{percent(most)} before any of it has reacted",
            "check the mass of the sample, its unit, and molarity and protons of the acid",
        )


def _entries(request: SoapAssayRequest, titration: SoapTitration, limits: Limits, share: float) -> list[Entry]:
    """Every input with its spread."""
    alkali, acid, back = request.alkali, titration.acid, request.back_titration
    of_amount = ALKALI[alkali] / titration.sample_mass
    by_acid, by_mass = acid.normality * of_amount, -share / titration.sample_mass
    to_molarity = titration.put_in / acid.molarity * of_amount
    found = [
        Entry("acid_molarity", acid.molarity, acid.part, to_molarity, MOL_L),
        # Both titrants have the temperature of the room: what they tell expands alike.
        temperature_entry(acid, share / acid.normality),
        Entry("acid_volume", titration.acid_volume, reading_part(request.acid_volume, limits), by_acid, ML),
    ]
    by_end_point = by_acid
    if back is not None:
        by_end_point = -titration.base_normality * of_amount
        to_molarity = -titration.taken_back / titration.base_molarity * of_amount
        volume = titration.base_volume
        found += (
            Entry("back_titration_molarity", titration.base_molarity, part_of(back.molarity), to_molarity, MOL_L),
            Entry("back_titration_volume", volume, reading_part(back.volume, limits), by_end_point, ML),
        )
    amount = titration.put_in - titration.taken_back
    return [
        *found,
        Entry("end_point_detection", 0.0, detection_part(limits), by_end_point, ML),
        Entry("sample_mass", titration.sample_mass, part_of(request.sample_mass), by_mass, G),
        *scale_entry(limits, by_mass),
        Entry("hydroxide_molar_mass", ALKALI[alkali], molar_mass_part(alkali), amount / titration.sample_mass, G_MOL),
    ]


CALCULATION: Final = Calculation(
    name="soap-assay",
    summary="Free alkali of a soap by titration",
    description=(
        "For a finished soap, before it is used or sold, and for a batch that came out caustic. `free-caustic` (ISO "
        "456): the soap is dissolved in neutral ethanol and titrated with acid to phenolphthalein; carbonate does not "
        "count. `total-free` (ISO 684): an excess of acid is boiled with the soap in ethanol, and what is left of it "
        "is titrated back with alkali; carbonate counts. Answers the free alkali with its uncertainty budget, and for "
        "a batch the acid of the catalogue that takes it, where any free alkali can be told from none.\n\n"
        "Range: up to what an unreacted batter holds. ISO 456 titrates potassium soaps after barium chloride, and ISO "
        "684 is not for soaps with silicate or other alkaline builders. The acid's volume is counted after the solvent "
        "was neutralised, or less a blank. Not an assay of free fat, nor a permission to sell.\n\n"
        "Sources: ISO 456:1973 and ISO 684 (their abstracts were read, the procedures are from memory); budget by JCGM "
        "100:2008 and EURACHEM/CITAC CG 4 (2012), examples A2 and A3; atomic weights of IUPAC/CIAAW 2021. No limit of "
        "free alkali was read in a standard's own table."
    ),
    request=SoapAssayRequest,
    answer=SoapAssayAnswer,
    calculate=calculate,
    examples=(
        Example(
            "cured-bar",
            "A cured bar in ethanol (invented)",
            {
                "reference": "invented batch 12",
                "alkali": "NaOH",
                "sample_mass": "10 g",
                "scale_division": "0.01 g",
                "acid_molarity": {"value": 0.1, "uncertainty": 0.0002, "unit": "mol/L"},
                "acid_volume": "0.85 mL",
                "burette_tolerance": "0.02 mL",
                "method": "free-caustic",
            },
        ),
        Example(
            "caustic-batch",
            "A caustic batch of potassium soap, and the acid that it takes (invented)",
            {
                "alkali": "KOH",
                "sample_mass": {"value": 5.02, "uncertainty": 0.01, "unit": "g"},
                "acid_molarity": {"value": 0.25, "uncertainty": 0.0005, "unit": "mol/L"},
                "acid_protons": 2,
                "acid_volume": {"value": 10, "uncertainty": 0.01, "unit": "mL"},
                "back_titration": {
                    "molarity": {"value": 0.5, "uncertainty": 0.001, "unit": "mol/L"},
                    "volume": "8.4 mL",
                },
                "method": "total-free",
                "batch_mass": "12 kg",
            },
        ),
        Example(
            "published-equivalent",
            "Normal acid on 10 g of soap, by the equivalent of a specification",
            {
                "alkali": "NaOH",
                "sample_mass": "10 g",
                "acid_molarity": "1 mol/L",
                "acid_volume": "1 mL",
                "acid_temperature": "20 °C",
                "method": "free-caustic",
            },
            "Published: each millilitre of normal acid takes 40.00 mg of NaOH (JECFA, specification of sodium "
            "hydroxide, INS 524), which is 0.4 % of 10 g. No published titration of a soap with all its figures was "
            "found; the readings are invented.",
        ),
    ),
)
