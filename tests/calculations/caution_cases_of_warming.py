"""Requests that draw out each caution of warming stock, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, C, Case, solution

W: Final = "stock-warming"


def warming(
    w: str = "50 %",
    t: object = "16 °C",
    to: object = "30 °C",
    *,
    alkali: str = "NaOH",
    vessel: dict[str, Any] | None = None,
    **more: Any,
) -> dict[str, Any]:
    """Stock of 50 kg in a drum, with a heater of 400 W."""
    drum = {"material": "hdpe", "volume": "60 L", "lid": True, "mass": "3 kg"}
    return {
        "solution": {"alkali": alkali, "mass": "50 kg", "strength": {"mass_fraction": w}, "temperature": t},
        "vessel": drum if vessel is None else drum | vessel,
        "heater_power": "400 W",
        "target_temperature": to,
        **more,
    }


def held(material: str, **more: Any) -> dict[str, Any]:
    """A vessel of another material."""
    return warming(vessel={"material": material, **more})


CASES: Final[list[tuple[str, Case]]] = [
    ("heater-control", Case(W, warming(), solution(), "danger", PRACTICE, "naked flame", C)),
    ("heater-sheath", Case(W, warming(), solution(), "danger", "Dow Chemical", "aluminium, zinc", C)),
    ("heater-surface-hot", Case(W, warming(), solution(), "caution", PRACTICE, "boil there", C)),
    ("heater-uncovered", Case(W, warming(), solution(), "danger", PRACTICE, "under liquid at all times", C)),
    (
        "heater-uncovered",
        Case(W, warming(vessel={"dead_volume": "40 L"}), None, "danger", PRACTICE, "do not even reach the outlet"),
    ),
    ("heater-uncovered", Case(W, warming(vessel={"dead_volume": "30 L"}), None, "danger", PRACTICE, "little more")),
    ("heater-uncovered", Case(W, warming(vessel={"dead_volume": "5 L"}), None, "caution", PRACTICE, "last 5 L")),
    (
        "heater-uncovered",
        # 32.8 L in a drum of 40 cm, 0.1257 m2: 26.1 cm
        Case(
            W,
            warming(vessel={"volume": None, "diameter": "40 cm", "height": "50 cm"}),
            None,
            "danger",
            PRACTICE,
            "26.1 cm high",
        ),
    ),
    (
        "vessel-too-small",
        Case(W, warming(vessel={"volume": "33 L"}), warming(), "danger", "chemistry", "Draw some off"),
    ),
    (
        "vessel-closed",
        Case(W, warming(), warming(vessel={"lid": False}), "caution", "chemistry", "open its vent"),
    ),
    ("vessel-closed", Case(W, warming(to="51 °C"), None, "danger", "chemistry", "may burst")),
    (
        "heater-runs-away",
        Case(W, warming(), warming(heater_power="100 W", to="25 °C"), "danger", "chemistry", "the vessel stands 60 °C"),
    ),
    ("heater-runs-away", Case(W, warming(heater_power="5 kW"), None, "danger", "chemistry", "to boil")),
    ("target-not-sure", Case(W, warming(heater_power="60 W"), warming(), "caution", "chemistry", "stronger heater")),
    (
        "crystallises-in-store",
        Case(W, warming(ambient="5 °C"), warming(ambient="15 °C"), "caution", "reference data", "never store it below"),
    ),
    ("crystallises-in-store", Case(W, warming(ambient="12 °C"), None, "caution", "reference data", "may set")),
    (
        "crystals-in-solution",
        Case(W, warming(t="8 °C"), warming(t="8 °C", crystallised=False), "caution", "reference data", "closed pipe"),
    ),
    (
        "thawing-heat-rough",
        Case(W, warming(t="8 °C"), warming(t="8 °C", crystallised=False), "note", "Pickering", "of what is told"),
    ),
    (
        "thawing-heat-rough",
        Case(W, warming(t="8 °C"), warming("10 %", "-15 °C"), "note", "Pickering", "of what is told"),
    ),
    (
        "thawing-heat-left-out",
        Case(W, warming("49 %", "-10 °C", alkali="KOH"), warming(t="8 °C"), "caution", "reference data", "is left out"),
    ),
    (
        "figure-from-memory",
        Case(W, warming("49 %", "-10 °C", alkali="KOH"), warming(t="8 °C"), "note", "reference data", "from memory"),
    ),
    ("glass-may-crack", Case(W, held("glass-borosilicate"), warming(), "caution", "from memory", "warm water")),
    ("hydrogen", Case(W, held("aluminium"), warming(), "danger", "Dow Chemical", "Do not heat")),
    ("vessel-unsuitable", Case(W, held("aluminium"), held("stainless-steel"), "danger", "", "no vessel for caustic")),
    ("vessel-limit-near", Case(W, warming(to="51 °C"), warming(to="49 °C"), "caution", PRACTICE, "60 °C")),
    ("vessel-limit-from-memory", Case(W, warming(), held("stainless-steel"), "note", "", "from memory")),
    ("vessel-limit-unknown", Case(W, held("nickel"), warming(), "caution", "", "ask its maker")),
    ("stock-hot", Case(W, warming(to="39 °C"), warming(to="38 °C"), "caution", PRACTICE, "39 °C (102 °F)")),
    ("caustic-mist", Case(W, warming(to="51 °C"), warming(to="49 °C"), "caution", "29 CFR 1910.1000", "steams")),
    (
        "boiling-margin-small",
        Case(
            W,
            warming("5 %", to="95 °C", vessel={"material": "nickel"}, heater_power="5 kW"),
            warming("5 %", to="80 °C", vessel={"material": "nickel"}, heater_power="5 kW"),
            "danger",
            "chemistry",
            "altitude",
        ),
    ),
    ("metals-attacked", Case(W, warming(), solution(), "caution", "Dow Chemical", "aluminium", C)),
]
