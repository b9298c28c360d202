"""Requests that draw out each caution of a stock that cools, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, C, Case, solution

K: Final = "stock-cooling"


def cooling(
    t: object = "80 °C",
    to: object = "35 °C",
    w: object = "50 %",
    *,
    alkali: str = "NaOH",
    vessel: dict[str, Any] | None = None,
    around: dict[str, Any] | None = None,
    **more: Any,
) -> dict[str, Any]:
    """Stock of 5 kg in a pot of stainless steel, on the bench."""
    pot = {"material": "stainless-steel", "diameter": "18 cm", "height": "25 cm", "mass": "1 kg", "lid": True}
    stock: dict[str, Any] = {"alkali": alkali, "mass": "5 kg", "strength": {"mass_fraction": w}}
    return {
        "solution": stock | ({} if t is None else {"temperature": t}),
        "vessel": pot if vessel is None else pot | vessel,
        "surroundings": {"medium": "still-air", "temperature": "20 °C"} if around is None else around,
        "target_temperature": to,
        **more,
    }


def bath(medium: str = "water-bath", **more: Any) -> dict[str, Any]:
    """What a vessel stands in."""
    return {"medium": medium} | ({"temperature": "15 °C"} if medium == "water-bath" else {}) | more


def readings(*temperatures: object, apart: int = 30) -> list[dict[str, Any]]:
    """Readings at equal times."""
    return [{"time": f"{apart * i} min", "temperature": t} for i, t in enumerate(temperatures)]


GLASS: Final = {"material": "glass-borosilicate"}

CASES: Final[list[tuple[str, Case]]] = [
    ("cooling-unstirred", Case(K, cooling(), solution(), "caution", PRACTICE, "layers", C)),
    ("hot-vessel", Case(K, cooling(), cooling("47 °C"), "danger", "ISO 13732-1", "heat-proof gloves")),
    (
        "caustic-mist",
        Case(K, cooling(vessel={"lid": False}), cooling("49 °C", vessel={"lid": False}), "caution", "1910", "steams"),
    ),
    (
        "caustic-mist",
        Case(
            K, cooling(vessel={"lid": False}, around={"medium": "moving-air"}), cooling(), "caution", "1910", "not over"
        ),
    ),
    ("uncovered-while-cooling", Case(K, cooling(vessel={"lid": False}), cooling(), "caution", "chemistry", "loosely")),
    (
        "uncovered-while-cooling",
        Case(K, cooling("45 °C", vessel={"lid": False}), cooling("45 °C"), "note", "chemistry", "carbon dioxide"),
    ),
    ("close-when-cool", Case(K, cooling(), cooling(vessel={"lid": False}), "danger", "chemistry", "13 %")),
    ("stock-hot", Case(K, cooling(to="45 °C"), cooling(), "caution", PRACTICE, "45 °C (113 °F)")),
    ("stock-hot", Case(K, cooling("110 °C", "91 °C"), cooling(), "danger", PRACTICE, "too hot")),
    ("boiling-margin-small", Case(K, cooling("138 °C"), cooling("120 °C"), "danger", "chemistry", "altitude")),
    ("bath-into-stock", Case(K, cooling(around=bath()), cooling(), "danger", "chemistry", "rim well above")),
    ("bath-warms", Case(K, cooling(around=bath()), cooling(), "caution", "chemistry", "let it run")),
    (
        "bath-warms",
        Case(K, cooling(around=bath(bath_mass="40 kg")), cooling(), "note", "chemistry", "The bath itself warms"),
    ),
    ("ice-bath-melts", Case(K, cooling(around=bath("ice-bath")), cooling(), "caution", "chemistry", " lb) of ice")),
    (
        "beyond-source-range",
        Case(K, cooling(around=bath()), cooling("60 °C", around=bath()), "note", "reference data", "viscosity"),
    ),
    (
        "target-not-sure",
        Case(
            K,
            cooling(to="43.9 °C", around=bath(bath_mass="5 kg")),
            cooling(to="50 °C", around=bath(bath_mass="5 kg")),
            "caution",
            "chemistry",
            "no ends",
        ),
    ),
    (
        "glass-may-crack",
        Case(K, cooling(vessel=GLASS, around=bath()), cooling(vessel=GLASS), "caution", "from memory", "65 K"),
    ),
    (
        "glass-may-crack",
        Case(
            K,
            cooling(vessel={"material": "glass-soda-lime"}, around=bath()),
            cooling("50 °C", vessel=GLASS, around=bath()),
            "danger",
            "from memory",
            "air first",
        ),
    ),
    (
        "vessel-unsuitable",
        Case(K, cooling(vessel={"material": "aluminium"}), cooling(), "danger", "reference data", "no vessel"),
    ),
    ("vessel-unsuitable", Case(K, cooling(vessel=GLASS), cooling(), "caution", "reference data", "with limits")),
    ("hydrogen", Case(K, cooling(vessel={"material": "aluminium"}), cooling(), "danger", "Dow", "Never close it")),
    ("vessel-limit-exceeded", Case(K, cooling(), cooling("60 °C"), "danger", "reference data", "gives way")),
    ("vessel-limit-near", Case(K, cooling("65 °C"), cooling("59 °C"), "caution", PRACTICE, "within 5 K")),
    (
        "vessel-limit-unknown",
        Case(K, cooling(vessel={"material": "nickel"}), cooling(), "caution", "reference data", "nickel"),
    ),
    (
        "vessel-limit-from-memory",
        Case(K, cooling("45 °C", vessel={"material": "hdpe"}), cooling(), "note", "reference data", "from memory"),
    ),
    (
        "crystallises-in-store",
        Case(K, cooling(around=bath("ice-bath")), cooling(), "caution", "reference data", "first at the wall"),
    ),
    (
        "crystals-in-solution",
        Case(
            K,
            cooling(to="13 °C", around=bath("ice-bath")),
            cooling(to="16 °C", around=bath("ice-bath")),
            "caution",
            "reference data",
            "may hold crystals",
        ),
    ),
    (
        "figure-from-memory",
        Case(
            K,
            cooling(w="45 %", alkali="KOH", to="-20 °C", around={"medium": "still-air", "temperature": "-38 °C"}),
            cooling(w="45 %", alkali="KOH"),
            "note",
            "reference data",
            "memory",
        ),
    ),
    (
        "coefficient-extrapolated",
        Case(
            K,
            cooling(readings=readings("80 °C", "70 °C", "62 °C")),
            cooling(to="62 °C", readings=readings("80 °C", "70 °C", "62 °C")),
            "caution",
            "Bergman",
            "another reading",
        ),
    ),
    (
        "time-from-last-reading",
        Case(
            K,
            cooling(None, readings=readings("80 °C", "70 °C", "62 °C")),
            cooling(readings=readings("80 °C", "70 °C", "62 °C")),
            "note",
            "JCGM 100",
            "take it twice",
        ),
    ),
    ("metals-attacked", Case(K, cooling(), solution(), "caution", "Dow Chemical", "aluminium", C)),
]
