"""Requests that draw out each caution of a batch sheet, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, Case

N: Final = "batch-sheet"
STOCK: Final = {"alkali": "NaOH", "mass": "5 kg", "strength": {"mass_fraction": "50 %"}}
FATS: Final = [{"fat": "olive-oil", "share": "70 %"}, {"fat": "coconut-oil", "share": "30 %"}]
SCENT: Final = {"material": "scent", "kind": "fragrance", "use_level": "3 %", "highest_share": "2 %"}


def sheet(*additions: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A kilogram of fats, a tenth of coconut oil beside olive oil, and its draw."""
    recipe = {"fats": FATS, "additions": list(additions)} if additions else {"fats": FATS}
    return {"recipe": recipe | more.pop("recipe", {}), "stocks": [STOCK], "scale_to": {"fat_mass": "1 kg"}} | more


ICE_COLD: Final = {
    "total_liquid": {"water_ratio": "5:1"},
    "liquids": [{"liquid": "distilled-water", "rest": True, "frozen": True, "temperature": "-18 °C"}],
}
PRICES: Final = [
    {"material": name, "price": {"amount": "5.00", "currency": "EUR"}} for name in ("olive-oil", "coconut-oil", "NaOH")
]
CASES: Final[list[tuple[str, Case]]] = [
    (
        "finer-scale-needed",
        Case(
            N,
            sheet(SCENT | {"use_level": "0.3 %"}, scale_division="10 g"),
            sheet(SCENT | {"use_level": "0.3 %"}, scale_division="1 g"),
            "caution",
            PRACTICE,
            "scent, 3 g (0.106 oz)",
        ),
    ),
    ("use-limit-exceeded", Case(N, sheet(SCENT), sheet(SCENT | {"use_level": "2 %"}), "danger", "supplier", "at most")),
    ("temperatures-left-out", Case(N, sheet(stocks=[]), sheet(), "note", PRACTICE, "one stock alone")),
    ("temperatures-left-out", Case(N, sheet(recipe=ICE_COLD), None, "note", PRACTICE, "wanted_temperature")),
    (
        "free-alkali-left",
        Case(N, sheet(scale_division="100 g", recipe={"superfat": 0}), sheet(), "danger", "chemistry", "do not make"),
    ),
    (
        "label-needs-assessor",
        Case(N, sheet(label_law="us-as-added"), sheet(), "note", "21 CFR 701.3", "a qualified assessor"),
    ),
    (
        "price-missing",
        Case(
            N,
            sheet(prices=PRICES[:1]),
            sheet(prices=PRICES),
            "note",
            "prices",
            "coconut-oil",
        ),
    ),
    ("superfat-high", Case(N, sheet(recipe={"superfat": "30 %"}), sheet(), "caution", PRACTICE, "seldom meant")),
    (
        "solid-into-water",
        Case(N, sheet(stocks=[]), sheet(), "danger", PRACTICE, "Never pour water onto solid"),
    ),
]
