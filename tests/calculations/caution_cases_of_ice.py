"""Requests that draw out each caution of a mixing with ice, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import Case

I: Final = "stock-mixing/ice"  # noqa: E741 - as the other calculations are named in these tables


def iced(limit: str, **more: Any) -> dict[str, Any]:
    """10 kg of 50 % stock."""
    return {
        "solid": {"alkali": "NaOH"} | more.pop("solid", {}),
        "strength": {"mass_fraction": "50 %"},
        "solution_mass": "10 kg",
        "peak_limit": limit,
    } | more


HOT: Final = {"water_temperature": "90 °C", "solid": {"temperature": "60 °C"}}

CASES: Final[list[tuple[str, Case]]] = [
    ("ice-too-little", Case(I, iced("30 °C"), iced("70 °C"), "danger", "chemistry", "portions, with waiting to")),
    ("ice-too-little", Case(I, iced("22 °C"), None, "danger", "chemistry", "does not do either")),
    ("limit-above-boiling", Case(I, iced("149 °C", **HOT), iced("90 °C", **HOT), "caution", "chemistry", "just below")),
]
