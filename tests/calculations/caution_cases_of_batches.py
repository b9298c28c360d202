"""Requests that draw out each caution of a batch's temperature, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, Case, S, recipe

B: Final = "batch-temperature"
MILK: Final = {"liquid": "goat-milk", "mass": "130 g", "temperature": "5 °C"}
OIL: Final = {"fat": "olive-oil", "mass": "1 kg"}


def warm(t: str = "36 °C", *liquids: dict[str, Any], **more: Any) -> dict[str, Any]:
    """1 kg of olive oil, and the draw for it from a 50 % stock of 22 °C."""
    stock = {"alkali": "NaOH", "mass": "257 g", "strength": {"mass_fraction": "50 %"}, "temperature": "22 °C"}
    return {"fats": [OIL], "fats_temperature": t, "stock": stock, "liquids": list(liquids)} | more


SHEA: Final = [OIL | {"mass": "800 g"}, {"fat": "shea-butter", "mass": "200 g"}]
HOT: Final = {"alkali": "NaOH", "mass": "257 g", "strength": {"mass_fraction": "50 %"}, "temperature": "135 °C"}
FROZEN: Final = MILK | {"temperature": "-18 °C", "frozen": True}
CASES: Final[list[tuple[str, Case]]] = [
    # 128.5 g of NaOH are 3.2 mol with 52 kJ each, over 2.9 kJ/K of batch: 58 K
    ("batch-may-boil-over", Case(B, warm("60 °C"), warm("44 °C"), "danger", "esterification", "about 58 K (105 °F)")),
    ("batch-temperature-unusual", Case(B, warm("50 °C"), warm(), "note", PRACTICE, "usually mixed")),
    ("batch-temperature-unusual", Case(B, warm("25 °C"), None, "note", PRACTICE, "Cooler")),
    ("fats-hot", Case(B, warm("95 °C"), warm("85 °C"), "danger", "chemistry", "flash into steam")),
    ("fats-not-liquid", Case(B, warm(fats=SHEA), warm("50 °C", fats=SHEA), "caution", "reference data", "shea-butter")),
    ("fats-set", Case(B, warm(fats=SHEA), warm("45 °C", fats=SHEA), "caution", "from memory", "150 kJ/kg")),
    (
        "melting-unknown",
        Case(B, warm(fats=[OIL | {"fat": "sunflower-oil"}]), warm(), "note", "reference data", "sunflower-oil"),
    ),
    ("milk-too-warm", Case(B, warm("45 °C", MILK), warm("25 °C", MILK), "caution", PRACTICE, "38 °C")),
    ("reaction-heat-rough", Case(B, warm(), recipe(), "note", "esterification", "order of magnitude", S)),
    ("free-alkali-left", Case(B, warm(fats=[OIL | {"mass": "500 g"}]), warm(), "danger", "chemistry", "times")),
    ("superfat-high", Case(B, warm(fats=[OIL | {"mass": "2 kg"}]), warm(), "caution", PRACTICE, "leaves")),
    ("water-warms-stock", Case(B, warm("30 °C", MILK), warm(), "caution", "chemistry", "that alone adds")),
    ("thawing-heat-rough", Case(B, warm("45 °C", FROZEN), warm("45 °C", MILK), "note", "ideal", "upper end")),
    (
        "acid-heats-caustic",
        Case(
            B,
            warm("30 °C", MILK | {"liquid": "lemon-juice"}),
            warm("30 °C", MILK),
            "caution",
            "chemistry",
            "counts it",
        ),
    ),
    ("ice-left", Case(B, warm("22 °C", FROZEN | {"mass": "260 g"}), warm(), "caution", "chemistry", "last")),
    ("boils", Case(B, warm("140 °C", MILK, stock=HOT), warm("80 °C", MILK), "danger", "chemistry", "boils")),
]
