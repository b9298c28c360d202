"""Which fats of a batch are not liquid at a temperature, by the melting ranges of the catalogue."""

from collections.abc import Iterable, Sequence
from functools import cache
from math import inf
from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from service.calculations.batch.fats import WeighedFat
from service.calculations.shared.told import MassFigure, TemperatureFigure
from service.chemistry.batch_blend import Melting
from service.reference import Figure, reference_data


class SolidFat(Struct, frozen=True, kw_only=True):
    """A fat that is not liquid at the temperature of the batch."""

    fat: Annotated[str, Meta(description="Its identifier.", examples=["shea-butter"])]
    mass: Annotated[MassFigure, Meta(description="All of it in the batch.")]
    state: Annotated[
        Literal["solid", "partly-solid", "may-be-solid"],
        Meta(
            description="Whether the batch lies below its melting range, within it, or above the least melting point "
            "that is known of it, where no highest is."
        ),
    ]
    melts_from: (
        Annotated[TemperatureFigure, Meta(description="Where it begins to melt; left out where that is not known.")]
        | UnsetType
    ) = UNSET
    melts_to: (
        Annotated[TemperatureFigure, Meta(description="Where all has melted; left out where that is not known.")]
        | UnsetType
    ) = UNSET
    source: Annotated[str, Meta(description="Key of the source of the melting range.", examples=["codex-cxs-325r"])]


@cache
def melting_figure(identifier: str) -> Figure | None:
    """The melting range of a fat of the catalogue; one with an open end where there is no other, None where none is.

    Raises:
        KeyError: there is no fat of that name.
    """
    fat = reference_data().fats[identifier]
    if fat.melting is not None:
        return fat.melting
    return next((figure for name, figure in fat.other_figures if name == "melting"), None)


def _known(fats: Iterable[WeighedFat]) -> dict[str, float]:
    """Masses of the fats of the catalogue, by identifier; what is alike is one fat, in whatever order."""
    masses: dict[str, list[float]] = {}
    for one in fats:
        if isinstance(one.fat.key, str):
            masses.setdefault(one.fat.key, []).append(one.mass)
    return {key: sum(sorted(masses[key])) for key in sorted(masses)}


def solid_fats(fats: Sequence[WeighedFat], t: float) -> list[SolidFat]:
    """The fats that are not liquid at a temperature, the hardest first.

    Args:
        fats: the fats.
        t: temperature [°C].
    """
    found = []
    for identifier, mass in _known(fats).items():
        figure = melting_figure(identifier)
        if figure is None or t >= figure.high:
            continue
        if t < figure.low:
            state: Literal["solid", "partly-solid", "may-be-solid"] = "solid"
        else:
            state = "partly-solid" if figure.high < inf and figure.low > -inf else "may-be-solid"
        found.append(
            SolidFat(
                fat=identifier,
                mass=MassFigure(mass),
                state=state,
                melts_from=UNSET if figure.low == -inf else TemperatureFigure(figure.low),
                melts_to=UNSET if figure.high == inf else TemperatureFigure(figure.high),
                source=figure.source,
            )
        )
    return sorted(found, key=lambda one: (-_hardness(one), one.fat))


def _hardness(one: SolidFat) -> float:
    end = one.melts_from if one.melts_to is UNSET else one.melts_to
    return end.value if isinstance(end, TemperatureFigure) else 0.0


def unknown_melting(fats: Sequence[WeighedFat]) -> list[str]:
    """Names of the fats whose melting range is not known, each once."""
    names = {one.fat.label for one in fats if not isinstance(one.fat.key, str) or melting_figure(one.fat.key) is None}
    return sorted(names)


def set_fats(fats: Sequence[WeighedFat], temperatures: Sequence[float]) -> list[tuple[str, Melting]]:
    """The fats that are not wholly liquid at their own temperature, with the widest way in which they may melt.

    Args:
        fats: the fats.
        temperatures: of each [°C].
    """
    found = []
    for one, t in zip(fats, temperatures, strict=True):
        figure = melting_figure(one.fat.key) if isinstance(one.fat.key, str) else None
        if figure is None or t >= figure.high or (figure.high == inf and t >= figure.low):
            continue
        low = t if figure.low == -inf else figure.low
        high = low if figure.high == inf else figure.high
        found.append((one.fat.label, Melting(one.mass, t, low, high)))
    return found
