"""Requests that draw out each caution of saponification, splits and strengths, and requests close by that do not."""

from typing import Any, NamedTuple

PRACTICE = "common practice"


class Case(NamedTuple):
    """A request that draws a caution out, one like it that does not, and what the caution must say."""

    name: str
    request: dict[str, Any]
    without: dict[str, Any] | None
    severity: str
    basis: str
    text: str
    elsewhere: str = ""
    """Calculation that `without` is asked of, where it is another."""


def oil(value: object = "190 mg/g", **more: object) -> dict[str, Any]:
    whole = {"iodine_value": "80 g/100g", "fatty_acids": {"C18:1": 1}}
    return {"name": "own oil", "mass": "1000 g", "saponification_value": value, **whole, **more}


def recipe(*fats: dict[str, Any], **more: object) -> dict[str, Any]:
    return {"fats": list(fats or (oil(),)), "superfat": "5 %", **more}


def batch(
    liquid: str | None = None, mass: str = "128.676 g", temperature: str = "20 °C", **more: Any
) -> dict[str, Any]:
    stock = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}, "temperature": temperature}
    request: dict[str, Any] = {"alkalis": [{"alkali": "NaOH", "mass": mass}], "stocks": [stock]}
    if liquid is not None:
        request |= {"total_liquid": {"water_ratio": "2:1"}, "liquids": [{"liquid": liquid, "rest": True}]}
    return request | more


def solution(w: str = "50 %", t: str = "20 °C", alkali: str = "NaOH") -> dict[str, Any]:
    return {"alkali": alkali, "strength": {"mass_fraction": w}, "temperature": t}


LIMITS = {"low": 185, "high": 195, "unit": "mg/g"}
SPREAD = [{"alkali": "NaOH", "purity": {"low": 0.97, "high": 0.99, "unit": "1"}}]
KOH = [{"alkali": "KOH", "purity": "90 %"}]
BEADS = [{"alkali": "NaOH", "mass": "100 g"}]
FLAKES = [{"alkali": "KOH", "mass": "100 g"}]
S, L, C = "saponification", "liquid-split", "concentration"
TWO_TO_ONE = {"total_liquid": {"water_ratio": "2:1"}}
CITRIC = [{"acid": "citric-acid-anhydrous", "mass": "20 g"}]
TO_STOCK = {"liquids": [{"liquid": "distilled-water", "rest": True, "add_to": "stock"}]}

CASES: list[tuple[str, Case]] = [
    ("dissolving-heats", Case(L, batch(stocks=[]), batch(), "danger", "chemistry", "close to boiling")),
    ("saponification-value-taken-as-exact", Case(S, recipe(), recipe(oil(LIMITS)), "note", "reference data", "spread")),
    (
        "superfat-high",
        Case(S, recipe(superfat=0.5), recipe(superfat="24 %"), "caution", "common practice", "seldom meant"),
    ),
    (
        "acid-unknown",
        Case(L, batch("pomegranate-juice"), batch("lemon-juice"), "caution", "reference data", "not known"),
    ),
    ("boils", Case(C, solution("0 %", "100 °C"), solution("0 %", "90 °C"), "caution", "chemistry", "1 atm")),
    (
        "composition-from-memory",
        Case(
            S,
            recipe({"fat": "castor-oil", "mass": "1 kg"}),
            recipe({"fat": "palm-oil", "mass": "1 kg"}),
            "note",
            "",
            "fatty acids of castor oil",
        ),
    ),
    ("acid-takes-alkali", Case(L, batch("cider-vinegar"), batch("distilled-water"), "caution", "chemistry", "3.4")),
    (
        "acid-takes-alkali",
        Case(L, batch("cider-vinegar", compensate=True), None, "note", "chemistry", "added"),
    ),
    # 20 g of citric acid, 192.1 g/mol with three protons, at about 56 kJ/mol (from memory): 17.5 kJ
    (
        "acid-heats-caustic",
        Case(S, recipe(acids=CITRIC), recipe(), "caution", "56 kJ/mol of protons, from memory", "about 17 kJ"),
    ),
    ("acid-heats-caustic", Case(L, batch(acids=CITRIC), batch("lemon-juice"), "caution", "chemistry", "Never put")),
    # 29 to 38 °C are usual where stock meets fats (common practice)
    (
        "stock-hot",
        Case(L, batch(temperature="39 °C"), batch(temperature="38 °C"), "caution", PRACTICE, "39 °C (102 °F)"),
    ),
    ("stock-hot", Case(L, batch("goat-milk", temperature="110 °C"), None, "danger", PRACTICE, "throws caustic out")),
    ("alcohol-in-batch", Case(L, batch("beer"), batch("goat-milk"), "caution", PRACTICE, "boil")),
    ("alkali-burns", Case(S, recipe(), None, "danger", "1272/2008", "goggles")),
    ("alkali-burns", Case(L, batch(), None, "danger", "29 CFR 1910.133", "eye wash")),
    # Regulation (EC) 1272/2008, Annex VI: irritant from 0.5 %, 1B from 2 %, 1A from 5 %
    ("alkali-burns", Case(C, solution("0.5 %"), solution("0.49 %"), "caution", "011-002-00-6", "From 0.5 % NaOH")),
    ("alkali-burns", Case(C, solution("2 %"), None, "danger", "011-002-00-6", "From 2 % NaOH")),
    ("alkali-burns", Case(C, solution("5 %", alkali="KOH"), None, "danger", "from memory", "From 5 % KOH")),
    ("rinse-with-water", Case(S, recipe(), solution(), "caution", "Z358.1 (15 min)", "No vinegar", C)),
    ("local-codes-first", Case(C, solution("0.5 %"), solution("0.49 %"), "caution", PRACTICE, "Local codes, licensed")),
    ("solid-into-water", Case(L, batch(stocks=[]), batch(), "danger", PRACTICE, "Never pour water")),
    ("solid-into-water", Case(S, recipe(), None, "danger", PRACTICE, "cold water")),
    ("caustic-mist", Case(L, batch(stocks=[]), batch(), "caution", "29 CFR 1910.1000", "2 mg/m3")),
    ("metals-attacked", Case(L, batch(), recipe(), "caution", "Dow Chemical", "aluminium, zinc", S)),
    ("keep-from-children", Case(C, solution("2 %"), solution("1.9 %"), "caution", "16 CFR 1700.14", "from 2 %")),
    # 40.00 and 56.11 g/mol against 44.01: 2 * 40.00 / 44.01 = 1.82, 2 * 56.11 / 44.01 = 2.55
    ("store-closed", Case(C, solution("2 %"), solution("1.9 %"), "note", "Dow Chemical", "1.8 g of NaOH or 2.5 g")),
    # 50 g of water lost from 1 kg of 50 % leave 500 / 950 = 52.6 %: all of a superfat of 5 %
    ("store-closed", Case(L, batch(), batch(stocks=[]), "note", "Dow Chemical", "makes it stronger")),
    (
        "aqueous-alkali-hardly-saponifies",
        Case(
            S,
            recipe({"fat": "jojoba-oil", "mass": "10 g"}, {"fat": "olive-oil", "mass": "990 g"}),
            recipe({"fat": "olive-oil", "mass": "990 g"}),
            "caution",
            "British Pharmaceutical Codex 1911",
            "",
        ),
    ),
    (
        "aqueous-alkali-hardly-saponifies",
        Case(
            S,
            recipe({"fat": "wool-fat", "mass": "300 g"}, {"fat": "olive-oil", "mass": "700 g"}),
            None,
            "danger",
            "Ph. Eur.",
            "free alkali",
        ),
    ),
    (
        "beyond-source-range",
        Case(C, solution(t="5 °C"), solution("30 %", "40 °C"), "note", "Olsson, Jernqvist & Aly 1997", "range"),
    ),
    ("carbon-monoxide", Case(L, batch("goat-milk"), batch("distilled-water"), "danger", "Dow Chemical", "closed")),
    (
        "composition-incomplete",
        Case(S, recipe({"fat": "beeswax", "mass": "1 g"}), recipe(), "note", "reference data", "known"),
    ),
    (
        "crystals-in-solution",
        Case(L, batch(temperature="10 °C"), batch(), "caution", "reference data", "Warm"),
    ),
    ("crystals-in-solution", Case(C, solution(t="12 °C"), solution(), "caution", "reference data", "dihydrate")),
    (
        "fat-note",
        Case(
            S,
            recipe({"fat": "linseed-oil", "mass": "1 kg"}),
            recipe({"fat": "olive-oil", "mass": "1 kg"}),
            "note",
            "reference data",
            "linseed oil",
        ),
    ),
    (
        "fat-note",
        Case(
            S,
            recipe({"fat": "almond-oil", "mass": "1 kg"}),
            recipe({"fat": "walnut-oil", "mass": "1 kg"}),
            "note",
            "reference data",
            "100.3 g/100 g, and 95 to 100 are printed",
        ),
    ),
    (
        "figure-from-memory",
        Case(
            S,
            recipe({"fat": "emu-oil", "mass": "1 kg"}),
            recipe({"fat": "olive-oil", "mass": "1 kg"}),
            "caution",
            "handbooks-recalled",
            "190 to 200 mg/g",
        ),
    ),
    ("figure-from-memory", Case(C, solution("30.8 %", alkali="KOH"), solution(), "note", "reference data", "memory")),
    (
        "figure-limits-assumed",
        Case(
            S,
            recipe({"fat": "kokum-butter", "mass": "1 kg"}),
            recipe({"fat": "olive-oil", "mass": "1 kg"}),
            "note",
            "simmons-appleton-1908",
            "3 %",
        ),
    ),
    # 188.1 of 185 to 195 mg/g are met at 1 %: 31 %; at 3.5 % 183.35: none
    (
        "free-alkali-possible",
        Case(S, recipe(oil(LIMITS), superfat="1 %"), recipe(oil(LIMITS), superfat="3.5 %"), "danger", "JCGM 100", "31"),
    ),
    # 185.25 of 185 to 195 mg/g are met at 2.5 %: 2.5 %
    (
        "free-alkali-possible",
        Case(S, recipe(oil(LIMITS), superfat="2.5 %"), None, "caution", "JCGM 100", "do not use"),
    ),
    # A certificate without limits says nothing of free alkali; olive oil alone has 184 to 196 mg/g (CXS 33-1981).
    ("free-alkali-possible", Case(S, recipe(superfat="2.9 %"), recipe(superfat="3 %"), "caution", PRACTICE, "2.9 %")),
    ("free-alkali-possible", Case(L, batch(superfat="1 %"), batch(superfat="5 %"), "caution", PRACTICE, "little room")),
    ("free-alkali-possible", Case(L, batch(fats=[oil()], mass="150 g"), batch(fats=[oil()]), "danger", "JCGM 100", "")),
    ("liquid-brings-fat", Case(L, batch("goat-milk"), batch("distilled-water"), "note", "chemistry", "5.33 g")),
    ("liquid-counted-whole", Case(L, batch("goat-milk"), batch("distilled-water"), "note", PRACTICE, "1.87:1")),
    ("property-missing", Case(C, solution(t="90 °C"), solution(), "note", "Laliberté 2009", "viscosity")),
    (
        "purity-missing",
        Case(S, recipe(alkalis=[{"alkali": "KOH"}]), recipe(alkalis=KOH), "caution", PRACTICE, "certificate"),
    ),
    (
        "purity-missing",
        Case(L, batch(alkalis=BEADS + FLAKES), batch(alkalis=BEADS), "caution", PRACTICE, "purity"),
    ),
    ("purity-taken-as-exact", Case(S, recipe(alkalis=KOH), recipe(alkalis=SPREAD), "note", "", "low and high")),
    (
        "saponification-value-unusual",
        Case(S, recipe(oil("135 mg/g")), recipe(oil("170 mg/g")), "caution", "chemistry", "NaOH"),
    ),
    ("stock-by-weight-only", Case(L, batch(), batch(stocks=[]), "caution", PRACTICE, "59 %")),
    (
        "superfat-contradicts",
        Case(
            L,
            batch(fats=[oil()], superfat="5 %", mass="150 g"),
            batch(fats=[oil()], superfat="5 %"),
            "danger",
            "chemistry",
            "more",
        ),
    ),
    (
        "superfat-contradicts",
        Case(L, batch(fats=[oil()], superfat="5 %", mass="120 g"), None, "caution", "chemistry", "less"),
    ),
    (
        "water-ratio",
        Case(L, batch("goat-milk"), recipe(), "note", PRACTICE, "2 parts of liquid to one of alkali: usual", S),
    ),
    (
        "water-warms-stock",
        Case(L, batch("distilled-water") | TO_STOCK, batch("distilled-water"), "caution", "chemistry", "cool"),
    ),
    # 50 % of 140 °C and 20 °C water make 33.3 % of 125 °C, and that boils at 121 °C (Olsson 1997)
    (
        "water-warms-stock",
        Case(L, batch(temperature="140 °C") | TO_STOCK | TWO_TO_ONE, None, "danger", "chemistry", "boil at once"),
    ),
    (
        "wax-or-resin",
        Case(
            S,
            recipe({"fat": "rosin", "mass": "1 g"}),
            recipe({"fat": "olive-oil", "mass": "1 g"}),
            "caution",
            "chemistry",
            "no glycerol",
        ),
    ),
]
