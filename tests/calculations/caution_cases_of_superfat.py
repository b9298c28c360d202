"""Requests that draw out each caution of a superfat check, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, Case

K: Final = "superfat-check"
LOTS: Final = {"name": "own oil", "mass": "1 kg", "saponification_value": {"low": 184, "high": 196, "unit": "mg/g"}}


def checked(draw: str, **more: Any) -> dict[str, Any]:
    """1 kg of oil, which takes 135.5 g of NaOH, and a draw from a 50 % stock."""
    stock = {"alkali": "NaOH", "mass": draw, "strength": {"mass_fraction": "50 %"}}
    return {"fats": [LOTS], "stock_draws": [stock]} | more


CASES: Final[list[tuple[str, Case]]] = [
    ("free-alkali-left", Case(K, checked("300 g"), checked("257 g"), "danger", "chemistry", "10.7 % more alkali")),
    ("free-alkali-left", Case(K, checked("272 g"), checked("261 g"), "danger", "chemistry", "probably (56 %)")),
    ("free-alkali-left", Case(K, checked("3 kg"), None, "danger", "chemistry", "11.1 times")),
    ("superfat-within-spread", Case(K, checked("262 g"), checked("220 g"), "note", "JCGM 100", "the wanted 5 %")),
    ("alkali-added-late", Case(K, checked("220 g"), checked("300 g"), "caution", PRACTICE, "come down to 5 %")),
    (
        "alkali-added-late",
        Case(K, checked("220 g", wanted_superfat="1 %"), None, "danger", PRACTICE, "come down to 1 %"),
    ),
    ("slip-likely", Case(K, checked("2.57 kg"), checked("257 g"), "caution", "chemistry", "one place too far right")),
    (
        "slip-likely",
        Case(K, checked("128.5 g"), checked("200 g"), "caution", "chemistry", "128 g (4.54 oz) of stock are lacking"),
    ),
    ("superfat-high", Case(K, checked("150 g"), checked("257 g"), "caution", PRACTICE, "44.6 % of the fats")),
]
