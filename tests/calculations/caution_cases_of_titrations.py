"""Requests that draw out each caution of titrating stock and soap, and requests close by that do not."""

from typing import Any, Final

from tests.calculations.caution_cases import PRACTICE, Case

T: Final = "stock-assay/titration"
A: Final = "soap-assay"
NORMAL: Final = {"value": 1.0, "uncertainty": 0.001, "unit": "mol/L"}


def stock(first: str = "25 mL", second: str = "25.08 mL", **more: Any) -> dict[str, Any]:
    """About 2 g of NaOH stock and normal acid, all with spreads."""
    mass = {"value": 2.05, "uncertainty": 0.001, "unit": "g"}
    whole = {"alkali": "NaOH", "acid_molarity": NORMAL, "sample_mass": mass}
    return {**whole, "first_end_point": first, "second_end_point": second, **more}


def pipetted(**more: Any) -> dict[str, Any]:
    """The same by its volume."""
    volume = {"value": 1.35, "uncertainty": 0.001, "unit": "mL"}
    request = stock(**{"sample_volume": volume, **more})
    return {name: one for name, one in request.items() if name != "sample_mass"}


def soap(taken: str = "0.5 mL", **more: Any) -> dict[str, Any]:
    """10 g of soap and tenth-normal acid, all with spreads: 1 mL is 0.04 % of NaOH."""
    tenth = {"value": 0.1, "uncertainty": 0.0001, "unit": "mol/L"}
    whole = {"alkali": "NaOH", "acid_molarity": tenth, "sample_mass": {"value": 10, "uncertainty": 0.01, "unit": "g"}}
    return {**whole, "acid_volume": taken, "method": "free-caustic", **more}


CASES: Final[list[tuple[str, Case]]] = [
    ("acid-splits-soap", Case(A, soap(batch_mass="1 kg"), soap(), "note", "chemistry", "lower end")),
    (
        "acid-splits-soap",
        Case(A, soap(batch_mass="1 kg", acid="oxalic-acid-dihydrate"), None, "danger", "chemistry", "poisonous"),
    ),
    ("acid-heats-caustic", Case(A, soap(batch_mass="1 kg"), soap(), "caution", "chemistry", "kJ")),
    ("acid-heats-caustic", Case(T, stock(), soap(), "caution", "chemistry", "boiled", elsewhere=A)),
    ("below-detection", Case(T, stock(second="25.02 mL"), stock(second="26 mL"), "note", "JCGM 100", "from none")),
    ("below-detection", Case(A, soap("0.05 mL"), soap("2 mL"), "note", "JCGM 100", "from none")),
    (
        "budget-incomplete",
        Case(T, stock(sample_mass="2.05 g"), stock(), "caution", "JCGM 100", "sample mass"),
    ),
    (
        "budget-incomplete",
        Case(T, pipetted(density="1.52 kg/L"), pipetted(), "caution", "JCGM 100", "density"),
    ),
    (
        "budget-incomplete",
        Case(
            A,
            soap(acid_molarity="0.1 mol/L"),
            soap(sample_mass="10 g", scale_division="0.01 g"),
            "caution",
            "JCGM 100",
            "acid molarity",
        ),
    ),
    ("carbonate-settles", Case(T, stock(second="25.3 mL"), stock(), "caution", "memory", "sediment")),
    (
        "carbonate-settles",
        Case(T, stock(second="25.3 mL"), stock(second="25.3 mL", sample_mass="4 g"), "caution", "memory", "clear part"),
    ),
    # 29.8 % beside 14.4 % of NaOH are more than a third of carbonate and water together; 24.2 % beside 14.3 % are not
    (
        "carbonate-settles",
        Case(
            T,
            stock("41 mL", "59 mL", sample_mass="6.4 g"),
            stock("41 mL", "57 mL", sample_mass="7 g"),
            "caution",
            "memory",
            "some was sediment",
        ),
    ),
    ("carbonate-taken-up", Case(T, stock(second="26 mL"), stock(second="25.2 mL"), "caution", "JECFA", "fresh solid")),
    (
        "density-contradicts",
        Case(T, pipetted(density="1.6 kg/L"), pipetted(density="1.49 kg/L"), "caution", "densities", "1.6 kg/L"),
    ),
    # 12.5 mmol of NaOH beside 4.7 mmol of Na2CO3, of which 7.6 % are 0.36 of 17.2 mL
    (
        "end-points-blurred",
        Case(T, stock("17.2 mL", "21.9 mL"), stock("25 mL", "25.8 mL"), "caution", "Pitzer", "2.1 % of its acid"),
    ),
    ("end-points-indistinct", Case(T, stock(), soap(), "note", "computed", "fades", elsewhere=A)),
    (
        "free-alkali-in-soap",
        Case(A, soap("1.3 mL"), soap("0.5 mL"), "caution", "from memory", "more free alkali".capitalize()),
    ),
    ("free-alkali-in-soap", Case(A, soap("14 mL"), soap("0.5 mL"), "danger", "1272/2008", "do not sell")),
    ("ethanol-ignites", Case(A, soap(), stock(), "danger", PRACTICE, "no flame", elsewhere=T)),
    ("end-points-indistinct", Case(A, soap(alkali="KOH"), soap(), "note", "ISO 456", "barium chloride")),
    (
        "glass-may-crack",
        Case(
            T,
            pipetted(temperature="45 °C"),
            pipetted(temperature="30 °C"),
            "caution",
            "memory",
            "let the closed".capitalize(),
        ),
    ),
    ("free-alkali-limits", Case(A, soap(), stock(), "note", "from memory", "0.05", elsewhere=T)),
    # A tenth of the alkali as carbonate: 25 mL and 26.7 mL tell 3.4 of 26.7 mL
    (
        "not-for-use",
        Case(T, stock(second="26.7 mL"), stock(second="26 mL"), "caution", "choice", "12.7 % of its alkali"),
    ),
    (
        "not-for-use",
        Case(T, stock(labelled_strength={"mass_fraction": "40 %"}), None, "danger", "choice", "than its label"),
    ),
    # 24.92 mmol of NaOH in 2.05 g are 48.6 %
    (
        "label-contradicts",
        Case(
            T,
            stock(labelled_strength={"mass_fraction": "47.5 %"}),
            stock(labelled_strength={"mass_fraction": "48.5 %"}),
            "caution",
            "JCGM 100",
            "2.4 % stronger than its label",
        ),
    ),
    # 2 % of NaOH are 50 mL of 0.1 mol/L for 10 g
    ("not-for-use", Case(A, soap("51 mL"), soap("2 mL"), "danger", "1272/2008", "discard this soap")),
    ("not-for-use", Case(A, soap("4 mL"), None, "caution", "GB/T 2485", "lower end")),
    ("rebatch-with-care", Case(A, soap(batch_mass="1 kg"), soap(), "danger", PRACTICE, "trained persons")),
    (
        "rebatch-with-care",
        Case(
            A,
            soap(batch_mass="1 kg"),
            soap("0.05 mL", batch_mass="1 kg"),
            "danger",
            PRACTICE,
            "trained persons",
        ),
    ),
    ("sample-clear-and-mixed", Case(T, stock(), soap(), "note", PRACTICE, "clear and colourless", elsewhere=A)),
    ("slip-likely", Case(T, stock(sample_mass="2.05 kg"), stock(), "caution", "chemistry", "the amount of the sample")),
    ("soap-still-reacts", Case(A, soap(), stock(), "note", PRACTICE, "cured", elsewhere=T)),
    ("stock-by-weight-only", Case(T, pipetted(), stock(), "note", PRACTICE, "counted as hydroxide")),
    (
        "strength-hardly-known",
        Case(T, stock(burette_tolerance="0.5 mL"), stock(), "caution", "JCGM 100", "20 to 40 mL"),
    ),
    ("tongue-is-no-assay", Case(A, soap(), stock(), "caution", PRACTICE, "tongue", elsewhere=T)),
]
