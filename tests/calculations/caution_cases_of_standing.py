"""Requests that draw out the cautions of a stock that has stood, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, Case

V: Final = "stock-assay/evaporation"


def stood(now: str, **more: Any) -> dict[str, Any]:
    """10 kg of 45 % stock, and what is left of it."""
    filled = {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": "45 %"}}
    return {"solution": filled, "mass_now": now} | more


CASES: Final[list[tuple[str, Case]]] = [
    ("stock-got-stronger", Case(V, stood("9.9 kg"), stood("10 kg"), "caution", "chemistry", "1 % stronger")),
    ("stock-got-stronger", Case(V, stood("9.5 kg"), None, "danger", "chemistry", "500 g (1.1 lb) of water")),
    (
        "change-contradicts-air",
        Case(V, stood("9.5 kg"), stood("9.5 kg", relative_humidity="5 %"), "caution", "chemistry", "spilled"),
    ),
    ("stock-got-weaker", Case(V, stood("10.3 kg"), stood("10 kg"), "caution", "chemistry", "2.9 % weaker")),
    ("stock-old", Case(V, stood("10 kg", age="70 d"), None, "caution", PRACTICE, "70 days")),
    ("stock-old", Case(V, stood("10 kg", age="40 d"), stood("10 kg", age="20 d"), "note", PRACTICE, "40 days")),
]
