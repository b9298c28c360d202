"""Requests that draw out the cautions of a hydrometer's reading, and requests close by that do not."""

from typing import Final

from tests.calculations.caution_cases import C, Case, solution

H: Final = "stock-assay/hydrometer"
READ: Final = {"alkali": "NaOH", "reading": {"degrees_twaddell": 100}, "temperature": "20 °C"}

CASES: Final[list[tuple[str, Case]]] = [
    ("hydrometer-counts-all", Case(H, READ, solution(), "caution", "chemistry", "titrated", C)),
    ("glass-may-crack", Case(H, READ | {"temperature": "65 °C"}, READ, "caution", "memory", "65 °C (149 °F)")),
]
