"""Requests that draw out each caution of pouring and adjusting, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, Case

D: Final = "stock-dilution"
A: Final = "stock-adjustment"


def solution(w: object = "50 %", mass: str = "1 kg", **more: Any) -> dict[str, Any]:
    """NaOH of a strength; 0 is water."""
    return {"alkali": "NaOH", "mass": mass, "strength": {"mass_fraction": w}, **more}


def poured(*solutions: dict[str, Any], **more: Any) -> dict[str, Any]:
    """Solutions poured together."""
    return {"solutions": list(solutions), **more}


def adjusted(present: object, target: str, t: str = "20 °C", **more: Any) -> dict[str, Any]:
    """A stock brought to another strength."""
    stock = solution(present, "10 kg", temperature=t)
    return {"solution": stock, "target_strength": {"mass_fraction": target}, **more}


def adding(w: object) -> dict[str, Any]:
    """40 % stock brought to 50 % by a solution, of which there is enough."""
    return adjusted("40 %", "50 %") | {"with": {"alkali": "NaOH", "strength": {"mass_fraction": w}}}


WATER: Final = solution(0)
ICE: Final = solution(0, state="ice")
WARM: Final = poured(solution(temperature="50 °C"), WATER)
DOUBTFUL: Final = {"value": 50.2, "uncertainty": 0.3, "unit": "%"}
SURE: Final = {"value": 52, "uncertainty": 0.1, "unit": "%"}

CASES: Final[list[tuple[str, Case]]] = [
    ("strong-into-weak", Case(D, poured(solution(), WATER), poured(solution()), "caution", PRACTICE, "cold water")),
    (
        "strong-into-weak",
        Case(D, poured(solution(), solution("30 %")), poured(solution(), solution("49 %")), "caution", "", "(30 %)"),
    ),
    ("assay-after-mixing", Case(D, poured(solution(), WATER), poured(solution()), "note", PRACTICE, "new strength")),
    (
        "assay-after-mixing",
        Case(A, adjusted("45 %", "48 %"), adjusted("45 %", "45 %"), "note", PRACTICE, "no grain is felt"),
    ),
    (
        "adjustment-within-spread",
        Case(A, adjusted(DOUBTFUL, "50 %"), adjusted(SURE, "50 %"), "caution", "JCGM", "assay it better"),
    ),
    (
        "adjustment-within-spread",
        Case(A, adjusted(DOUBTFUL, "50.2 %"), adjusted("50.2 %", "50.2 %"), "caution", "JCGM", "no more is needed"),
    ),
    (
        "adjustment-within-spread",
        Case(
            A,
            adding({"value": 50.5, "uncertainty": 0.1, "unit": "%"}),
            adding({"value": 52, "uncertainty": 0.1, "unit": "%"}),
            "caution",
            "JCGM",
            "own is known to 0.2 percentage points: it may take 329 kg",  # 1 kg over 0.5 less 0.196 %, rounded up
        ),
    ),
    (
        "adjustment-within-spread",
        Case(
            A,
            adding({"value": 50.1, "uncertainty": 0.1, "unit": "%"}),
            adding("50.1 %"),
            "caution",
            "JCGM",
            "it may not do",
        ),
    ),
    (
        "boils",
        Case(
            D,
            poured(solution(temperature="130 °C"), solution(0, temperature="80 °C")),
            WARM,
            "danger",
            "chemistry",
            "meet as",
        ),
    ),
    (
        "boiling-margin-small",
        Case(
            D, poured(solution(temperature="100 °C"), solution(0, temperature="50 °C")), WARM, "danger", "", "altitude"
        ),
    ),
    ("water-warms-stock", Case(D, poured(solution(temperature="95 °C"), WATER), None, "danger", "chemistry", "Water")),
    ("water-warms-stock", Case(D, poured(solution(temperature="95 °C"), ICE), None, "danger", "chemistry", "Ice that")),
    ("water-warms-stock", Case(D, WARM, poured(solution("5 %"), WATER), "caution", "chemistry", "Let it cool")),
    ("ice-left", Case(D, poured(solution("10 %"), ICE), WARM, "caution", "chemistry", "of ice remain")),
    ("ice-path-beyond-data", Case(D, poured(solution("10 %"), ICE), WARM, "note", "reference data", "estimate")),
    (
        "crystals-in-solution",
        Case(D, poured(solution(temperature="5 °C"), WATER), poured(solution("20 %")), "caution", "", "poured then"),
    ),
    (
        "crystals-in-solution",
        Case(A, adjusted("50 %", "48 %", "5 °C"), adjusted("25 %", "20 %"), "caution", "reference data", "poured then"),
    ),
    ("crystals-in-solution", Case(D, poured(solution()), poured(solution("20 %")), "note", "", "store it warmer")),
    (
        "stock-hot",
        Case(A, adjusted("45 %", "48 %", "100 °C"), adjusted("45 %", "48 %", "40 °C"), "danger", PRACTICE, "strewn"),
    ),
    ("caustic-mist", Case(D, WARM, poured(solution("5 %"), WATER), "caution", "29 CFR 1910.1000", "2 mg/m3")),
    ("close-when-cool", Case(D, WARM, poured(solution("5 %"), WATER), "danger", "chemistry", "capped")),
    ("vessel-not-given", Case(D, WARM, poured(solution("5 %"), WATER), "caution", "reference data", "give vessel")),
    (
        "vessel-limit-exceeded",
        Case(D, WARM | {"vessel": {"material": "hdpe"}}, WARM, "danger", "reference data", "60 °C (140 °F)"),
    ),
    (
        "vessel-limit-near",
        Case(
            A,
            adjusted("50 %", "48 %", "25 °C", vessel={"material": "hdpe"}),
            adjusted("50 %", "48 %", "25 °C"),
            "caution",
            PRACTICE,
            "take colder water, and pour slowly",
        ),
    ),
    (
        "vessel-too-small",
        Case(
            D,
            WARM | {"vessel": {"material": "hdpe", "volume": "1.6 L"}},
            WARM | {"vessel": {"material": "hdpe", "volume": "2 L"}},
            "danger",
            "chemistry",
            "1.6 L",
        ),
    ),
]
