"""What is told by its volume: its mass goes with its strength, and errs with the densities that told that strength."""

from typing import Any, Final

import pytest

from service.chemistry.density import density
from tests.calculations.asking import Answer, ask

STRENGTH: Final = {"mass_fraction": {"low": 0.40, "high": 0.44, "unit": "1"}}
LITRES: Final = {"alkali": "NaOH", "volume": "10 L", "temperature": "20 °C"}


def relative(figure: Answer) -> float:
    return float((figure["high"] - figure["low"]) / (2 * figure["value"]))


def test_the_mass_of_a_volume_goes_with_its_strength() -> None:
    """95 % of a rectangle whose ends are the densities of 40 and 44 %, and a quarter of a per cent of the model."""
    mass = ask("stock-dilution", {"solutions": [{**LITRES, "strength": STRENGTH}]})["solution"]["mass"]
    rectangle = (density("NaOH", 0.44, 20.0) - density("NaOH", 0.40, 20.0)) / (2 * density("NaOH", 0.42, 20.0))
    assert 0.95 * rectangle < relative(mass) < 0.95 * rectangle + 0.0025


def test_the_volume_that_was_given_stays_exact() -> None:
    solution = ask("stock-dilution", {"solutions": [{**LITRES, "strength": STRENGTH}]})["solution"]
    assert solution["volume"]["value"] == pytest.approx(10_000)
    assert relative(solution["volume"]) < 1e-4 if "low" in solution["volume"] else True


def test_a_litre_of_a_molarity_holds_that_amount() -> None:
    """However dense it is: only the molarity's own spread is left."""
    fat = {"name": "a fat", "mass": "1 kg", "saponification_value": {"value": 190, "unit": "mg/g"}}

    def superfat(molarity: Any) -> Answer:
        strength = {"molarity": molarity, "temperature": "20 °C"}
        told = ask(
            "superfat-check", {"fats": [fat], "stock_draws": [{**LITRES, "volume": "0.3 L", "strength": strength}]}
        )
        return dict(told["superfat"])

    exact, spread = superfat("10 mol/L"), superfat({"value": 10, "uncertainty": 0.1, "unit": "mol/L"})
    assert exact["high"] - exact["low"] < 1e-9
    assert spread["high"] - spread["low"] == pytest.approx(2 * 1.96 * 0.01 * (1 - spread["value"]), rel=0.01)


@pytest.mark.parametrize("member", ["mass_as_supplied", "water_mass"])
def test_a_volume_that_is_there_already_leaves_the_amounts_of_a_mixing_open(member: str) -> None:
    def half(existing: Answer) -> float:
        request = {
            "solid": {"alkali": "NaOH"},
            "strength": {"mass_fraction": 0.45},
            "solution_mass": "40 kg",
            "peak_limit": "70 °C",
            "existing_stock": {"alkali": "NaOH", "strength": STRENGTH, "temperature": "20 °C", **existing},
        }
        told = ask("stock-mixing/ice", request)[member]
        return float(told["high"] - told["low"])

    weighed = half({"mass": {"value": 10 * density("NaOH", 0.42, 20.0) / 1e3, "unit": "kg"}})
    assert abs(half({"volume": "10 L"}) / weighed - 1) > 0.05


def test_water_that_went_is_as_uncertain_as_the_mass_that_was_filled_in() -> None:
    request = {"solution": {**LITRES, "strength": STRENGTH}, "mass_now": "14 kg"}
    told = ask("stock-assay/evaporation", request)["water_change"]
    mass = ask("stock-dilution", {"solutions": [{**LITRES, "strength": STRENGTH}]})["solution"]["mass"]
    assert told["high"] - told["low"] == pytest.approx(mass["high"] - mass["low"])


def test_the_hydroxide_of_a_molarity_is_exact_in_a_mixture_too() -> None:
    """Only the mass that it comes with is open, by what the densities are."""
    water = {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": 0}, "temperature": "20 °C"}
    strength = {"molarity": "14 mol/L", "temperature": "20 °C"}
    told = ask("stock-dilution", {"solutions": [{**LITRES, "strength": strength}, water]})["solution"]
    assert relative(told["strength"]["mass_fraction"]) == pytest.approx(relative(told["mass"]), rel=0.01)


def test_the_volume_of_a_mixture_goes_with_how_warm_it_gets() -> None:
    """At 20 °C it is known better than at the temperature that the heats of diluting leave it."""
    water = {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": 0}, "temperature": "60 °C"}
    told = ask("stock-dilution", {"solutions": [{**LITRES, "strength": {"degrees_baume": 45}}, water]})
    assert relative(told["solution"]["volume"]) > 1.05 * relative(told["cool_volume"])
