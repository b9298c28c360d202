"""Requests that draw out the cautions of a hydrometer's reading, and requests close by that do not."""

from typing import Final

from tests.calculations.caution_cases import C, Case, solution

H: Final = "stock-assay/hydrometer"
READ: Final = {"alkali": "NaOH", "reading": {"degrees_twaddell": 100}, "temperature": "20 °C"}
OF_46: Final = {"labelled_strength": {"mass_fraction": "46 %"}}

CASES: Final[list[tuple[str, Case]]] = [
    ("hydrometer-counts-all", Case(H, READ, solution(), "caution", "chemistry", "titrated", C)),
    ("glass-may-crack", Case(H, READ | {"temperature": "65 °C"}, READ, "caution", "memory", "65 °C (149 °F)")),
    (
        "not-for-use",
        Case(
            H,
            READ | {"labelled_strength": {"mass_fraction": "52 %"}},
            READ | {"labelled_strength": {"mass_fraction": "47 %"}},
            "caution",
            "choice",
            "weaker than its label",
        ),
    ),
    (
        "free-alkali-possible",
        Case(
            H,
            READ
            | {"reading": {"degrees_twaddell": 100, "division": 5}, "labelled_strength": {"mass_fraction": "46 %"}},
            READ | {"labelled_strength": {"mass_fraction": "46 %"}},
            "caution",
            "JCGM 100",
            "too coarse to trust the label (46 %)",
        ),
    ),
    (
        "slip-likely",
        Case(
            H, READ | {"reading": {"degrees_baume": 1.4}}, READ, "caution", "chemistry", "no stock that anybody keeps"
        ),
    ),
    (
        "strength-hardly-known",
        Case(
            H,
            READ | {"reading": {"degrees_twaddell": 100, "division": 5}},
            READ,
            "caution",
            "JCGM 100",
            "a finer scale",
        ),
    ),
    # A step of 1 degree Twaddell and a known temperature leave nothing exact
    (
        "budget-incomplete",
        Case(
            H,
            READ,
            READ
            | {
                "reading": {"degrees_twaddell": 100, "division": 1},
                "temperature": {"value": 20, "uncertainty": 0.5, "unit": "°C"},
            },
            "note",
            "JCGM 100",
            "reading, temperature",
        ),
    ),
]
