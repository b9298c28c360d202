"""Parameters that several values take, and how a request is made of those that are given."""

from typing import Any, Final, get_args

from service.calculations.shared.given import Purity, Temperature
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.reading import Given
from service.calculations.values.value import FatList, Input, Parameters, StrengthForm, quantity

ALKALI: Final = Input("alkali", "The hydroxide. Default NaOH.", "NaOH", get_args(AlkaliName))
FATS: Final = Input(
    "fats",
    "Fats of the catalogue, each with its mass: identifier and mass with a colon between them, semicolons between "
    "the fats.",
    "olive-oil:500 g;coconut-oil:250 g",
    FatList,
    required=True,
)
STRENGTH: Final = Input(
    "strength",
    "Strength of the stock: a mass fraction, or one of its other forms and a quantity with a colon between them, as in "
    "`molality:25 mol/kg` or `degrees_baume:50`; `1:1` is alkali and water in equal masses.",
    "50 %",
    StrengthForm,
    required=True,
)
PURITY: Final = Input("purity", "Hydroxide in the solid by mass. Default 100 % of NaOH.", "99 %", Purity)
TEMPERATURE: Final = Input("temperature", "Of the solution. Default 20 °C.", "20 °C", Temperature)


def alkali(given: Parameters) -> str:
    """The hydroxide, NaOH where nothing is said.

    Args:
        given: the parameters.
    """
    return given.get("alkali", "").strip() or "NaOH"


def with_given(given: Parameters, **kinds: type[Given]) -> dict[str, Any]:
    """Quantities of a request that have the names of parameters, those that are given.

    Args:
        given: the parameters.
        kinds: of the quantities.
    """
    return {name: quantity(given[name], kind) for name, kind in kinds.items() if name in given}
