"""Named examples of the contract whose figures are published: answered as their sources say.

An uncertain answer agrees with its source where the two overlap: our 95 % interval, and the published figure within
what the source states of it, half a unit of its last digit where it states nothing. Nothing is tuned here.
"""

from typing import Any, Final, NamedTuple

import pytest

from service.calculations.registry import calculations
from tests.contract.documents import POSTS, answer_examples


class Published(NamedTuple):
    """A published figure beside the member of an example's answer that must agree with it."""

    path: str
    example: str
    pointer: str
    value: float
    unit: str
    tolerance: float
    """What the source states of its figure, or half a unit of its last digit."""
    deviation: float
    """Of ours from the published one, relative; written down so that a change is seen."""


PUBLISHED: Final = (
    # IUPAC/CIAAW 2021, abridged: 0.95 mol of glycerol, 2.85 mol of NaOH; the acid value of tristearin to 0.01 of 188.80
    Published("batch-sheet", "published-molar-masses", "glycerol_mass", 87.489, "g", 4.7e-3, 0.0),
    Published("batch-sheet", "published-molar-masses", "weigh_list/1/mass", 284.98, "g", 0.0152, 0.0),
    # Felder & Rousseau, table B.11 (from memory): 42.51 less 28.87 kJ/mol, each printed to 0.01
    Published("batch-temperature", "published-heat-of-dilution", "dilution_heat", 13.64, "kJ", 0.01, -0.0090),
    # As that of batch-sheet: 2.85 mol of NaOH in a 40 % stock
    Published("production-plan", "published-molar-masses", "batches/0/stock_draws/0/mass", 284.98, "g", 0.0152, 0.0),
    # Simmons and Appleton 1908, ch. V: coconut oil and lye, both at 75 °F (23.89 °C), printed to 1 °F
    Published("batch-temperature", "published-coconut-1908", "temperature", 23.889, "°C", 0.28, 0.0),
    # International Critical Tables 3 (1928) 79, as printed in Perry's Chemical Engineers' Handbook (from memory)
    Published("concentration", "handbook-fifty-per-cent", "density", 1.5253, "kg/L", 5e-5, -0.0016),
    # Dow Chemical, caustic soda product page: "about 145 °C"
    Published("concentration", "handbook-fifty-per-cent", "boiling_point", 145.0, "°C", 0.5, 0.0095),
    # CRC Handbook of Chemistry and Physics, 102nd ed. (2021), Concentrative Properties of Aqueous Solutions
    Published("concentration", "handbook-thirty-per-cent", "density", 1.3277, "kg/L", 5e-5, -0.0018),
    Published("concentration", "handbook-thirty-per-cent", "viscosity", 13.517, "mPa s", 5e-4, -0.0182),
    # Simmons and Appleton 1908, Appendix C: 46.545 % at 100 degrees Twaddell; 100 g / 0.46545
    Published("liquid-split", "handbook-hundred-twaddell", "stock_draws/0/mass", 214.846, "g", 2.5e-3, -0.0091),
    # Simmons and Appleton 1908, ch. X: 6.65 mL of normal alkali (56.105 g of KOH a litre), printed to 0.01 mL
    Published("saponification", "published-titration", "alkalis/0/mass", 0.37310, "g", 2.8e-4, -0.0001),
    # JECFA, INS 524: 40.00 mg of NaOH and 106.0 mg of Na2CO3 for each millilitre of normal acid; 1980 and 53 mg in 4 g
    Published("stock-assay/titration", "published-equivalents", "total_alkali_fraction", 0.4950, "1", 1.3e-4, -0.0001),
    Published(
        "stock-assay/titration", "published-equivalents", "carbonate_mass_fraction", 0.01325, "1", 1.3e-5, -0.0001
    ),
    # The same for soap: 40.00 mg of NaOH in 10 g
    Published("soap-assay", "published-equivalent", "free_alkali", 0.004000, "1", 1e-6, -0.0001),
    # Felder & Rousseau, table B.11 (from memory): 42.51 less 28.87 kJ/mol, each printed to 0.01
    Published("stock-dilution", "published-heat-of-dilution", "heat_released", 13.64, "kJ", 0.01, -0.0090),
    # Simmons and Appleton 1908, Appendix C: 46.545 % at 100 degrees Twaddell
    Published("stock-adjustment", "published-draw", "draw_factor", 2.14846, "1", 2.5e-5, -0.0091),
    # As that of stock-mixing: Parker 1965, and Felder & Rousseau, table B.11 (from memory)
    Published("stock-mixing/ice", "published-heat-of-solution", "heat_released", 304.9, "kJ", 0.1, 0.0018),
    # IUPAC/CIAAW 2021, abridged: C18H35KO2 is 322.574 g/mol; the acid's value is printed to 0.01 of 197.22 mg/g
    Published("paste-dilution", "potassium-stearate", "paste_soap_share", 0.5, "1", 1.3e-5, 0.0),
    # CRC Handbook, 102nd ed. (2021), Concentrative Properties: 30 % NaOH has 1.3277 g/mL at 20 °C
    Published("stock-assay/hydrometer", "handbook-thirty-per-cent", "strength/mass_fraction", 0.30, "1", 5e-5, 0.0074),
    # Steam tables (IAPWS R7-97, from memory): dew point at 20 °C and 50 %, 9.3 °C; 1 % NaOH adds less than 0.2 K
    Published("stock-assay/evaporation", "handbook-dew-point", "loses_water_from", 9.3, "°C", 0.05, 0.0095),
    # Dow Chemical, caustic soda product page: 200 Pa over 50 % NaOH at 20 °C: in balance with such air
    Published("stock-assay/evaporation", "published-vapour-pressure", "loses_water_from", 20.0, "°C", 0.05, 0.1292),
    # Simmons and Appleton 1908, ch. X: the fat takes 6.65 of 13.30 mL of normal alkali, printed to 0.01 mL
    Published("superfat-check", "published-titration", "free_alkali", 0.37310, "g", 2.8e-4, 0.0001),
    # Parker 1965, -44.51 kJ/mol, and Felder & Rousseau, table B.11 (from memory), 14.02 kJ/mol; 10 mol
    # IAPWS R6-95(2018), 0.101325 MPa: 167.24 kJ/kg from 20 to 60 °C; the release states 0.1 % of the heat capacity
    Published("stock-warming", "published-heat-of-water", "heat_taken_up", 1672.4, "kJ", 1.7, -0.0002),
    # Zill, exercises 3.1 (from memory): 3.06 min; a stock's heat capacity is not constant, as the book's is
    Published("stock-cooling", "published-newton-cooling", "time", 0.0510, "h", 8.4e-5, -0.0133),
    Published("stock-mixing", "published-heat-of-solution", "heat_released", 304.9, "kJ", 0.1, 0.0018),
)


def figure_at(answer: Any, pointer: str) -> dict[str, Any]:
    for step in pointer.split("/"):
        answer = answer[int(step)] if isinstance(answer, list) else answer[step]
    assert isinstance(answer, dict)
    return answer


@pytest.mark.parametrize("published", PUBLISHED, ids=lambda one: f"{one.example} {one.pointer}")
def test_example_agrees_with_its_published_figure(published: Published) -> None:
    answer = answer_examples(f"/v1/{published.path}")[published.example]
    ours = figure_at(answer, published.pointer)
    assert ours["unit"] == published.unit
    low, high = ours.get("low", ours["value"]), ours.get("high", ours["value"])
    assert low <= published.value + published.tolerance
    assert published.value - published.tolerance <= high
    assert ours["value"] / published.value - 1 == pytest.approx(published.deviation, abs=1e-4)


def test_every_calculation_has_a_published_example_and_every_published_example_is_compared() -> None:
    compared = {(one.path, one.example) for one in PUBLISHED}
    marked = {
        (name, example.name)
        for name, calculation in calculations().items()
        for example in calculation.examples
        if example.source
    }
    assert compared == marked
    assert {f"/v1/{path}" for path, _ in compared} == POSTS.keys()
