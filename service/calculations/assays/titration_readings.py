"""What every titration is told: the acid, its readings and their limits, with what is assumed of each."""

from typing import Annotated, ClassVar, Final, NamedTuple

from msgspec import Meta

from service.calculations.assays.titration_budget import CELSIUS, BudgetInput, Entry, G
from service.calculations.shared.given import MeasuredVolume, PlainMass, Temperature, TitrantMolarity, Volume
from service.calculations.shared.messages import Alkali, Request
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import Given, part_of
from service.calculations.shared.rules import Rule
from service.chemistry.titration import COLDEST_ACID, HOTTEST_ACID, LABELLED_AT, expansion, normality
from service.chemistry.uncertainty import EXACT, Part, net_weighing, normal, rectangular

ROOM_FOR_TEMPERATURE: Final = 4.0
"""Half-width of the temperature of an acid that nobody measured [K] (seen-secondary: EURACHEM/CITAC CG 4,
2012, examples A2 and A3)."""
BURETTE: Final = 0.1 / 1e6
"""Limit of error of a 50 mL burette of class B [m3] (ISO 385, from memory; class A: 0.05 mL)."""
DETECTION: Final = 0.03 / 1e6
"""Standard uncertainty with which an end point is seen [m3] (seen-secondary: EURACHEM/CITAC CG 4, 2012, example A3)."""


class TitrationRequest(Request, kw_only=True):
    """What a titration with acid is told by."""

    alkali: Alkali
    acid_molarity: Annotated[
        TitrantMolarity,
        Meta(description="Amount of acid per volume, as its label or its standardisation says, at 20 °C."),
    ]
    acid_protons: (
        Annotated[
            float,  # JSON has no whole numbers of their own: 1.0 is one
            Meta(
                ge=1,
                le=3,
                multiple_of=1,
                description="Protons that each molecule of the acid gives: 1 (hydrochloric acid, the default), 2 "
                "(sulfuric acid).",
                examples=[1, 2],
            ),
        ]
        | None
    ) = None
    burette_tolerance: (
        Annotated[
            Volume,
            Meta(
                description="Limit of error of a reading, to either side, where the reading has no spread of its own. "
                "Default 0.1 mL, a 50 mL burette of class B (ISO 385).",
                examples=["0.05 mL"],
            ),
        ]
        | None
    ) = None
    end_point_uncertainty: (
        Annotated[
            Volume,
            Meta(
                description="Standard uncertainty with which each end point is seen. Default 0.03 mL.",
                examples=["0.03 mL"],
            ),
        ]
        | None
    ) = None
    acid_temperature: (
        Annotated[
            Temperature,
            Meta(description="Of the acid when it was delivered, 5 to 40 °C. Default 20 °C, with room of 4 K."),
        ]
        | None
    ) = None
    scale_division: (
        Annotated[
            PlainMass,
            Meta(
                description="Step of the scale that the sample was weighed on; it widens the intervals. Default: none.",
                examples=["0.001 g"],
            ),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = ()


class Acid(NamedTuple):
    """The acid as it was delivered."""

    molarity: float
    """As labelled [mol/m3]."""
    part: Part
    protons: int
    temperature: float
    """[°C]"""
    temperature_part: Part
    normality: float
    """Protons for each volume delivered [mol/m3]."""


class Limits(NamedTuple):
    """How well readings are known that say nothing of it themselves."""

    burette: float
    """Limit of error of a reading [m3]."""
    detection: float
    """Standard uncertainty of an end point [m3]."""
    division: float
    """Step of the scale [kg]."""


def acid_of(request: TitrationRequest, notes: Notes) -> Acid | None:
    """The acid of a request; None where its temperature is a fault, which goes into the notes."""
    protons = request.acid_protons
    if protons is None:
        notes.assume("/acid_protons", "1", "hydrochloric acid is the usual one")
        protons = 1
    t, part = LABELLED_AT, EXACT
    if request.acid_temperature is None:
        notes.assume(
            "/acid_temperature", "20 °C, give or take 4 K", "volumetric solutions are labelled at 20 °C; CG 4, A2"
        )
        part = rectangular(ROOM_FOR_TEMPERATURE)
    else:
        t = request.acid_temperature.value
        if not COLDEST_ACID <= t <= HOTTEST_ACID:
            notes.fault(
                "/acid_temperature",
                "beyond-data",
                f"{t:.4g} °C is outside {COLDEST_ACID:g} to {HOTTEST_ACID:g} °C, where burettes are read",
                "give the temperature of the acid in the burette",
            )
            return None
    molarity = request.acid_molarity
    whole = int(protons)
    return Acid(molarity.value, part_of(molarity), whole, t, part, normality(molarity.value, whole, t))


def limits_of(request: TitrationRequest, readings: tuple[Given, ...], notes: Notes, *, weighed: bool = True) -> Limits:
    """The limits of the readings, with the usual ones where none are given.

    Args:
        request: the request.
        readings: its readings; the tolerance of the burette counts for those without a spread of their own.
        notes: where what is assumed goes.
        weighed: whether the sample was weighed.
    """
    burette, detection, division = BURETTE, DETECTION, 0.0
    if request.burette_tolerance is not None:
        burette = request.burette_tolerance.value
    elif any(one.part is None for one in readings):
        notes.assume("/burette_tolerance", "0.1 mL", "a 50 mL burette of class B (ISO 385, from memory)")
    if request.end_point_uncertainty is not None:
        detection = request.end_point_uncertainty.value
    else:
        notes.assume("/end_point_uncertainty", "0.03 mL", "by eye (EURACHEM/CITAC CG 4, 2012, example A3)")
    if request.scale_division is not None:
        division = request.scale_division.value
    elif weighed:
        notes.assume("/scale_division", "a scale without steps", "masses are taken as they are given")
    return Limits(burette, detection, division)


def reading_part(reading: MeasuredVolume, limits: Limits) -> Part:
    """Spread of a reading: its own, else the limits of the burette."""
    return rectangular(limits.burette) if reading.part is None else reading.part


def detection_part(limits: Limits) -> Part:
    """Spread of where an end point is seen."""
    return normal(limits.detection)


def scale_entry(limits: Limits, sensitivity: float) -> list[Entry]:
    """The steps of the scale as an input; none where the scale has no steps."""
    if not limits.division:
        return []
    return [Entry("scale_division", limits.division, net_weighing(limits.division), sensitivity, G)]


def temperature_entry(acid: Acid, change_with_normality: float) -> Entry:
    """The temperature of the acid as an input: a warmer one holds less in each volume.

    Args:
        acid: the acid.
        change_with_normality: of the result for each unit of the normality [m3/mol].
    """
    sensitivity = -change_with_normality * acid.normality * expansion(acid.temperature)
    return Entry("acid_temperature", acid.temperature, acid.temperature_part, sensitivity, CELSIUS)


def caution_exact(inputs: list[tuple[BudgetInput, Given | None]], limits: Limits, notes: Notes) -> None:
    """Say which inputs came without a spread, so that the interval lacks theirs.

    Args:
        inputs: inputs for which no spread is assumed, and what was given of them.
        limits: the limits of the readings; steps of the scale are a spread of the mass.
        notes: where the caution goes.
    """
    lacking = [
        name.replace("_", " ")
        for name, given in inputs
        if given is not None and given.part is None and not (name == "sample_mass" and limits.division)
    ]
    if lacking:
        notes.caution(
            "budget-incomplete",
            f"Taken as exact, since no spread is given: {', '.join(lacking)}. The interval is too narrow by what they "
            "bring: give an uncertainty or limits, as the certificate of the acid and the step of the scale have them.",
        )
