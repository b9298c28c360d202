"""Requests that draw out each caution of mixing stock, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, C, Case, L, batch, solution

M: Final = "stock-mixing"


def mixing(solid: str = "1 kg", water: str = "1 kg", t: str = "20 °C", **more: Any) -> dict[str, Any]:
    """Pure NaOH into water; more members, a solid of its own among them, take the place of these."""
    pure = {"alkali": "NaOH", "mass_as_supplied": solid, "purity": 1}
    return {"solid": pure, "water": {"mass": water, "temperature": t}, **more}


def flakes(water: str = "1 kg", **more: Any) -> dict[str, Any]:
    """A kilogram of KOH flakes into water."""
    solid = {"alkali": "KOH", "mass_as_supplied": "1 kg", "purity": "90 %", **more}
    return {"solid": solid, "water": {"mass": water}}


def held_stock(stock: str, water: str | None = "20 °C") -> dict[str, Any]:
    """A little solid into 45 % stock, with water beside it or without."""
    existing = {"alkali": "NaOH", "mass": "2 kg", "strength": {"mass_fraction": "45 %"}, "temperature": stock}
    request = {"solid": {"alkali": "NaOH", "mass_as_supplied": "10 g", "purity": 1}, "existing_stock": existing}
    return request if water is None else request | {"water": {"mass": "3 kg", "temperature": water}}


def held(material: str, *, solid: str = "1 kg", water: str = "1 kg", **more: Any) -> dict[str, Any]:
    """A mixing in a vessel."""
    return mixing(solid, water, vessel={"material": material, **more})


COOL: Final = {"solid": "0.05 kg", "water": "3 kg"}
"""Little solid in much water: it warms by some kelvins."""
ICED: Final = mixing(water="0.4 kg", ice={"mass": "0.6 kg"})
MELTED: Final = mixing(water="0.4 kg", ice={"mass": "0.6 kg", "melted_share": 1})
MUCH_ICE: Final = mixing("0.05 kg", water="0.1 kg", ice={"mass": "1 kg"})

CASES: Final[list[tuple[str, Case]]] = [
    ("alkali-burns", Case(M, mixing(), solution("0.4 %"), "danger", "29 CFR 1910.133", "goggles", C)),
    ("rinse-with-water", Case(M, mixing(), solution("0.4 %"), "caution", "Fact Sheet 1706", "15 min", C)),
    ("local-codes-first", Case(M, mixing(), solution("0.4 %"), "caution", PRACTICE, "safety data sheet", C)),
    ("solid-into-water", Case(M, mixing(), batch(), "danger", PRACTICE, "Never pour water onto solid", L)),
    ("caustic-mist", Case(M, mixing(water="4 kg"), mixing(**COOL), "caution", "29 CFR 1910.1000", "2 mg/m3")),
    ("caustic-mist", Case(M, mixing(t="60 °C"), None, "danger", "29 CFR 1910.1000", "°F)")),
    ("caustic-mist", Case(M, flakes("3 kg", moisture="9 %"), None, "caution", "of KOH", "2 mg/m3")),
    ("local-boiling", Case(M, mixing(water="4 kg"), mixing(**COOL), "caution", "chemistry", "25 °C (77 °F)")),
    # Within 10 K, and where it boils, other cautions say so.
    ("local-boiling", Case(M, mixing(t="10 °C"), mixing(), "caution", "chemistry", "stir")),
    ("boiling-margin-small", Case(M, mixing(), mixing(t="10 °C"), "danger", "chemistry", "altitude")),
    ("boils", Case(M, mixing(t="60 °C"), mixing(), "danger", "chemistry", "throw caustic out")),
    ("cake-under-ice", Case(M, ICED, MELTED, "danger", PRACTICE, "600 g (1.32 lb) of ice")),
    ("ice-left", Case(M, MUCH_ICE, ICED, "caution", "chemistry", "of ice")),
    (
        "ice-path-beyond-data",
        Case(M, mixing(water="0.1 kg", ice={"mass": "0.9 kg"}), mixing(), "note", "reference data", "colder"),
    ),
    ("close-when-cool", Case(M, mixing(water="4 kg"), mixing(**COOL), "danger", "chemistry", "capped")),
    ("metals-attacked", Case(M, mixing(), solution(), "caution", "Dow Chemical", "galvanised", C)),
    # 2 of 100 and 1.9 of 100 kg
    (
        "keep-from-children",
        Case(M, mixing("2 kg", "98 kg"), mixing("1.9 kg", "98.1 kg"), "caution", "16 CFR 1700.14", "never keep"),
    ),
    ("store-closed", Case(M, mixing("2 kg", "98 kg"), mixing("1.9 kg", "98.1 kg"), "note", "Dow Chemical", "closed")),
    (
        "caustic-waste",
        Case(M, mixing("0.11 kg", "100 kg"), mixing("0.09 kg", "100 kg"), "note", "40 CFR 261.22", "pH 12.5"),
    ),
    ("crystals-in-solution", Case(M, mixing(), mixing(water="4 kg"), "note", "reference data", "store it warmer")),
    (
        "crystals-in-solution",
        Case(M, held_stock("2 °C", water=None), mixing(water="4 kg"), "caution", "reference data", "existing stock"),
    ),
    ("water-warms-stock", Case(M, held_stock("135 °C"), held_stock("20 °C"), "danger", "chemistry", "boil at once")),
    # Water as hot as the stock: 80 °C and the heat of diluting come to the boiling point where they meet.
    ("water-warms-stock", Case(M, held_stock("80 °C", "80 °C"), None, "danger", "chemistry", "boil at once")),
    ("heat-lost-unknown", Case(M, mixing(), mixing(duration="20 min"), "note", PRACTICE, "tenth")),
    ("moisture-assumed", Case(M, flakes(), flakes(moisture="9 %"), "caution", "USP-NF", "10 %")),
    ("beyond-source-range", Case(M, flakes("0.8 kg"), flakes("1.2 kg"), "danger", "reference data", "upper end")),
    ("vessel-not-given", Case(M, mixing(), held("nickel"), "caution", "reference data", "60 °C (140 °F), from memory")),
    ("vessel-not-given", Case(M, mixing(), mixing(**COOL), "caution", "reference data", "give vessel")),
    (
        "vessel-closed",
        Case(M, held("nickel", lid=True), held("nickel", lid=False), "danger", "chemistry", "lid off"),
    ),
    (
        "vessel-closed",
        Case(M, held("nickel", lid=True), held("nickel", lid=True, **COOL), "danger", "chemistry", "°F)"),
    ),
    # No heat to speak of, but hydrogen in a closed vessel
    (
        "vessel-closed",
        Case(M, held("aluminium", lid=True, **COOL), held("aluminium", **COOL), "danger", "chemistry", "hydrogen"),
    ),
    (
        "vessel-too-small",
        Case(M, held("nickel", volume="1.4 L"), held("nickel", volume="2 L"), "danger", "chemistry", "1.4 L"),
    ),
    ("vessel-limit-unknown", Case(M, held("nickel"), held("hdpe"), "caution", "reference data", "nickel 200")),
    (
        "vessel-limit-exceeded",
        Case(M, held("hdpe"), held("hdpe", **COOL), "danger", "reference data", "60 °C (140 °F): it may soften"),
    ),
    ("vessel-limit-exceeded", Case(M, held("stainless-steel"), None, "danger", "reference data", "70 °C (158 °F)")),
    (
        "vessel-limit-near",
        Case(
            M,
            held("hdpe", solid="0.6 kg", water="4 kg"),
            held("hdpe", **COOL),
            "caution",
            PRACTICE,
            "use more ice or colder water",
        ),
    ),
    (
        "vessel-limit-near",
        Case(M, held("hdpe", solid="0.6 kg", water="4 kg"), held("hdpe"), "caution", PRACTICE, "60 °C (140 °F)"),
    ),
    (
        "vessel-limit-from-memory",
        Case(M, held("hdpe", **COOL), held("stainless-steel", **COOL), "note", "reference data", "60 °C (140 °F)"),
    ),
    (
        "vessel-limit-from-memory",
        Case(M, held("polypropylene"), held("polypropylene", maximum_temperature="60 °C"), "caution", "", "its maker"),
    ),
    *(
        ("vessel-unsuitable", Case(M, held(material), held("hdpe"), "danger", "reference data", text))
        for material, text in (
            ("aluminium", "hydrogen"),
            ("zinc", "hydrogen"),
            ("tin", "hydrogen"),
            ("galvanised-steel", "zinc"),
            ("brass", "Brass"),
            ("copper", "Attacked"),
            ("pet", "PET"),
            ("polycarbonate", "Polycarbonate"),
            ("glass-soda-lime", "Etched"),
        )
    ),
    *(
        ("vessel-unsuitable", Case(M, held(material), held("nickel"), "caution", "reference data", text))
        for material, text in (("carbon-steel", "iron"), ("pvc", "30 %"), ("glass-borosilicate", "Etched"))
    ),
    *(
        ("hydrogen", Case(M, held(material), held("brass"), "danger", "Dow Chemical", "ignites"))
        for material in ("aluminium", "zinc", "tin", "galvanised-steel")
    ),
    *(
        ("glass-may-crack", Case(M, held(glass), held(glass, **COOL), severity, "from memory", "40 K (72 °F)"))
        for glass, severity in (("glass-soda-lime", "danger"), ("glass-borosilicate", "caution"))
    ),
    ("glass-may-crack", Case(M, held("glass-soda-lime"), held("pet"), "danger", "from memory", "Soda-lime glass")),
]
