"""Requests that draw out each caution of a production plan, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, Case
from tests.calculations.caution_cases_of_sheets import PRICES, N, sheet

P: Final = "production-plan"
OIL: Final = {"name": "own oil", "saponification_value": "190 mg/g", "share": 1}
OLIVE: Final = {
    "A": {"recipe": {"fats": [{"fat": "olive-oil", "share": 1}]}, "batch": {"fat_mass": "1 kg"}, "bars": 10}
}
TANK: Final = {"material": "hdpe", "volume": "20 L", "lid": False}


def plan(superfat: str = "5 %", **more: Any) -> dict[str, Any]:
    """Thirty bars of an oil, ten of them in a batch of a kilogram."""
    recipe = {"fats": [OIL], "superfat": superfat}
    article = {"recipe": recipe, "batch": {"fat_mass": "1 kg"}, "bars": 10}
    return {"recipes": {"A": article}, "orders": [{"sku": "A", "quantity": 30}]} | more


def refilled(limit: str, **more: Any) -> dict[str, Any]:
    """The same, the tank being empty."""
    stock = {"alkali": "NaOH", "mass": "0 kg", "strength": {"mass_fraction": "50 %"}, "vessel": TANK}
    return plan(stocks=[stock | {"remixing": {"peak_limit": limit, "purity": "99 %"}}], **more)


CASES: Final[list[tuple[str, Case]]] = [
    ("sheet-for-each-batch", Case(P, plan(), sheet(), "note", PRACTICE, "batch-sheet", N)),
    ("free-alkali-possible", Case(P, plan("0 %"), plan(), "danger", "JCGM 100", "A. Such soap burns")),
    ("ice-too-little", Case(P, refilled("30 °C"), refilled("70 °C"), "danger", "chemistry", "with waiting")),
    (
        "materials-not-taken",
        Case(P, plan(materials=[{"material": "clay"}], recipes=OLIVE), plan(), "note", "materials", "shelf: clay."),
    ),
    (
        "materials-not-taken",
        Case(
            P,
            plan(materials=[{"material": "Own oil"}]),
            plan(materials=[{"material": "own oil"}]),
            "caution",
            "materials",
            "Own oil (did you mean 'own oil'?)",
        ),
    ),
    (
        "price-missing",
        Case(
            P,
            plan(materials=[{"material": "NaOH", "price": PRICES[0]["price"]}]),
            plan(),
            "note",
            "prices",
            "own oil",
        ),
    ),
]
