"""Single values of a stock: its strength in another form, its density, when it sets and when it boils."""

from typing import Any, Final, cast

from service.calculations.shared.faults import Faulty
from service.calculations.shared.given import Temperature
from service.calculations.shared.told import (
    DegreesFigure,
    DensityFigure,
    FractionFigure,
    MassConcentrationFigure,
    MolalityFigure,
    MolarityFigure,
    RatioFigure,
    TemperatureFigure,
    Told,
)
from service.calculations.shared.units import Kind
from service.calculations.values.inputs import ALKALI, STRENGTH, TEMPERATURE, alkali, with_given
from service.calculations.values.value import FORMS, Input, Parameters, Value, strength

_KINDS: Final = (
    FractionFigure.kind,
    RatioFigure.kind,
    MolalityFigure.kind,
    MolarityFigure.kind,
    MassConcentrationFigure.kind,
    DensityFigure.kind,
    DegreesFigure.kind,
)
"""Of the forms of a strength."""
_PLACES: Final = (("/alkali", "alkali"), ("/temperature", "temperature"), ("/strength", "strength"))


def _request(given: Parameters) -> dict[str, Any]:
    request = {"alkali": alkali(given), "strength": strength(given["strength"], "/strength")}
    return request | with_given(given, temperature=Temperature)


def _of(member: str, what: str) -> Any:
    """What picks a member of the answer, which may lack it."""

    def pick(answer: Any, _: Parameters) -> Told:
        told = getattr(answer, member)
        if not isinstance(told, Told):
            raise Faulty("beyond-data", f"no data reach to {what} there", "ask for a weaker or a cooler stock")
        return told

    return pick


def _concentration(name: str, summary: str, description: str, *, what: str, kind: Kind, warm: bool = True) -> Value:
    return Value(
        name=name,
        summary=summary,
        description=description,
        inputs=(STRENGTH, ALKALI, TEMPERATURE) if warm else (STRENGTH, ALKALI),
        calculation="concentration",
        request=_request,
        pick=_of(name.replace("-", "_"), what),
        kinds=(kind,),
        places=_PLACES,
    )


def _strength_request(given: Parameters) -> dict[str, Any]:
    return _request({**given, "strength": given["from"]})


def _strength(answer: Any, given: Parameters) -> Told:
    return cast("Told", _of(given["to"], "this form")(answer, given))


STRENGTH_VALUE: Final = Value(
    name="strength",
    summary="A strength in another form",
    description="The strength of a solution in another form, as `concentration` answers it.",
    inputs=(
        STRENGTH._replace(name="from"),
        Input("to", "The form that is wanted.", "degrees_baume", tuple(FORMS), required=True),
        ALKALI,
        TEMPERATURE,
    ),
    calculation="concentration",
    request=_strength_request,
    pick=_strength,
    kinds=tuple({kind.name: kind for kind in _KINDS}.values()),
    places=(("/alkali", "alkali"), ("/temperature", "temperature"), ("/strength", "from")),
)

VALUES: Final = (
    STRENGTH_VALUE,
    _concentration(
        "density",
        "Density of a stock",
        "The density of a solution at its temperature, as `concentration` answers it.",
        what="the density",
        kind=DensityFigure.kind,
    ),
    _concentration(
        "first-solid-temperature",
        "Temperature at which a stock begins to set",
        "The temperature below which the first solid comes out of a solution, as `concentration` answers it: a stock "
        "must not be stored or drawn from below it; `end=high` is the careful side.",
        what="the first solid",
        kind=TemperatureFigure.kind,
        warm=False,
    ),
    _concentration(
        "boiling-point",
        "Boiling point of a stock",
        "The boiling point of a solution at 1 atm, as `concentration` answers it; `end=low` is the careful side.",
        what="the boiling point",
        kind=TemperatureFigure.kind,
        warm=False,
    ),
)
