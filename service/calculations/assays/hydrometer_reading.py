"""What a hydrometer shows: its scale, the step of it, and the waters that it compares with."""

from typing import Annotated, ClassVar, Final, NamedTuple

from msgspec import Meta

from service.calculations.shared.given import Density
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import ExactlyOne, NeverWith, Rule, Ruled
from service.calculations.stock.solutions import MODULUS_REASON, USUAL_MODULUS
from service.chemistry import hydrometer, water
from service.chemistry.uncertainty import EXACT, Part, combine, rectangular

SPECIFIC_GRAVITY_STEPS: Final = (1e-4, 0.05)
DEGREE_STEPS: Final = (0.05, 5.0)
"""Steps that scales have [-, degrees]: workshops' of 0.001 to 0.02, or of 0.1 to 2 degrees, with room to either side
(from memory)."""


class HydrometerReading(Ruled, kw_only=True):
    """What the hydrometer shows, on the one scale that it has."""

    density: Annotated[Density, Meta(description="A scale of density.", examples=["1.525 g/mL"])] | None = None
    specific_gravity: (
        Annotated[
            float,
            Meta(ge=0.7, le=2.0, description="A scale of specific gravity, as 60/60 °F or 20/4 °C.", examples=[1.53]),
        ]
        | None
    ) = None
    degrees_baume: (
        Annotated[float, Meta(ge=0, le=70, description="Degrees Baumé, heavier than water.", examples=[50])] | None
    ) = None
    degrees_twaddell: Annotated[float, Meta(ge=0, le=200, description="Degrees Twaddell.", examples=[105])] | None = (
        None
    )
    division: (
        Annotated[
            float,
            Meta(
                gt=0,
                le=5,
                description="Step of that scale, in its own degrees (0.05 to 5) or as specific gravity (0.0001 to "
                "0.05); read to half of it, and the scale true to one. Of a density give limits or an uncertainty.",
                examples=[0.5],
            ),
        ]
        | None
    ) = None

    rules: ClassVar[tuple[Rule, ...]] = (
        ExactlyOne(("density", "specific_gravity", "degrees_baume", "degrees_twaddell")),
        NeverWith(
            "division",
            ("density",),
            "a density carries its own spread",
            "give the density with low and high, or with its uncertainty",
        ),
    )


class Waters(NamedTuple):
    """What a scale holds for [°C]."""

    reference: float
    """Temperature of the instrument."""
    water: float
    """Temperature of the water that it compares with."""


class Read(NamedTuple):
    """A reading as specific gravity, and how well it is known."""

    gravity: float
    part: Part


class Found(NamedTuple):
    """What a reading tells."""

    rho: float
    """Density at the temperature of the liquid [kg/m3]."""
    w: float
    """Mass fraction of hydroxide [-]."""
    carbonate: float
    """Mass fraction of carbonate that was told [-]."""
    over: float
    """Mass fraction of hydroxide that the carbonate was counted as [-]."""


def read_scale(asked: HydrometerReading, modulus: float | None, waters: Waters, notes: Notes) -> Read:
    """The reading as specific gravity against the water of its scale.

    Args:
        asked: what the hydrometer shows.
        modulus: of a Baumé scale; None for the usual one.
        waters: what the scale holds for.
        notes: where faults and assumptions go.

    Raises:
        Refusal: a modulus without degrees Baumé, or a step that no such scale has.
    """
    if modulus is not None and asked.degrees_baume is None:
        raise notes.refuse(
            "/baume_modulus", "contradiction", "a modulus belongs to degrees Baumé alone", "leave baume_modulus out"
        )
    if asked.density is not None:
        of_water = water.density(waters.water)
        return Read(asked.density.value / of_water, Part(*(width / of_water for width in part_of(asked.density))))
    spread = _spread(asked, notes)
    if asked.degrees_baume is not None:
        known = USUAL_MODULUS if modulus is None else modulus
        if modulus is None:
            notes.assume("/baume_modulus", f"{USUAL_MODULUS:g}", MODULUS_REASON)
        gravity = hydrometer.specific_gravity_from_degrees_baume(asked.degrees_baume, known)
        return Read(gravity, Part(*(width * gravity**2 / known for width in spread)))
    if asked.degrees_twaddell is not None:
        gravity = hydrometer.specific_gravity_from_degrees_twaddell(asked.degrees_twaddell)
        return Read(gravity, Part(*(width / 200 for width in spread)))
    if asked.specific_gravity is None:
        raise TypeError(asked)  # one of them is due, and the rules of the request see to it
    return Read(asked.specific_gravity, spread)


def _spread(asked: HydrometerReading, notes: Notes) -> Part:
    """How well the scale is read and made, in its own degrees.

    Hydrometers are made true to one step of their scale, and read to half of one (ISO 649-1, from memory).

    Raises:
        Refusal: a step that no such scale has.
    """
    if asked.division is None:
        return EXACT
    by_gravity = asked.specific_gravity is not None
    least, most = SPECIFIC_GRAVITY_STEPS if by_gravity else DEGREE_STEPS
    if not least <= asked.division <= most:
        scale = "specific gravity" if by_gravity else "degrees"
        raise notes.refuse(
            "/reading/division",
            "out-of-range",
            f"no scale of {scale} has steps of {asked.division:g}; they are {least:g} to {most:g}",
            "give the step between two marks, as specific gravity" if by_gravity else "give the degrees between marks",
        )
    return Part(*combine([(1.0, rectangular(asked.division / 2)), (1.0, rectangular(asked.division))]))
