"""What is uncertain in a request reaches every figure that goes with it: at the ends of the input lie those of it."""

from typing import Any, Final

import pytest

from tests.calculations.asking import Answer, ask

LOW, HIGH = 0.38, 0.44
LIMITS: Final = {"mass_fraction": {"low": LOW, "high": HIGH, "unit": "1"}}
POT: Final = {"material": "hdpe", "mass": "1 kg", "diameter": "30 cm", "height": "40 cm", "lid": True}


def within(told: Answer, member: str) -> tuple[float, float, float]:
    figure = told[member]
    return figure["low"], figure["value"], figure["high"]


def cooling(strength: Any, **more: Any) -> Answer:
    solution = {"alkali": "NaOH", "mass": "12 kg", "strength": strength, "temperature": "70 °C"} | more.pop(
        "solution", {}
    )
    return ask(
        "stock-cooling",
        {
            "solution": {name: one for name, one in solution.items() if one is not None},
            "vessel": POT,
            "surroundings": {"medium": "still-air", "temperature": "20 °C"},
            "target_temperature": "38 °C",
            **more,
        },
    )


def warming(strength: Any) -> Answer:
    solution = {"alkali": "NaOH", "mass": "12 kg", "strength": strength, "temperature": "20 °C"}
    return ask(
        "stock-warming",
        {
            "solution": solution,
            "vessel": POT,
            "heater_power": "1 kW",
            "target_temperature": "40 °C",
            "ambient": "20 °C",
        },
    )


@pytest.mark.parametrize("asked", [cooling, warming])
@pytest.mark.parametrize("member", ["boiling_point", "first_solid_temperature"])
def test_where_a_stock_boils_and_sets_goes_with_its_strength(asked: Any, member: str) -> None:
    low, _, high = within(asked(LIMITS), member)
    for w in (LOW + 0.002, HIGH - 0.002):
        assert low < within(asked({"mass_fraction": w}), member)[1] < high


def test_how_thick_a_solution_is_goes_with_its_strength_and_further_upwards() -> None:
    def told(strength: Any) -> Answer:
        return ask("concentration", {"alkali": "NaOH", "strength": strength, "temperature": "25 °C"})

    low, value, high = within(told(LIMITS), "viscosity")
    for w in (LOW + 0.002, HIGH - 0.002):
        assert low < within(told({"mass_fraction": w}), "viscosity")[1] < high
    assert high - value > value - low


def test_the_alkali_of_a_fat_goes_with_its_mass() -> None:
    """10 g in 1 kg beside a value that is exact: a hundredth, 1.96 times."""
    fat = {"name": "a fat", "saponification_value": {"value": 190, "unit": "mg/g"}}
    fat["mass"] = {"value": 1, "uncertainty": 0.01, "unit": "kg"}
    (line,) = ask("saponification", {"fats": [fat]})["contributions"]
    assert line["alkali_mass"]["high"] / line["alkali_mass"]["value"] == pytest.approx(1.0196, rel=1e-4)


def test_what_carbonate_reads_as_goes_with_the_carbonate() -> None:
    def told(carbonate: Any) -> Answer:
        reading = {"alkali": "NaOH", "reading": {"density": "1.3 kg/L"}, "temperature": "20 °C"}
        return ask("stock-assay/hydrometer", {**reading, "carbonate_mass_fraction": carbonate})

    low, _, high = within(told({"value": 0.01, "uncertainty": 0.002, "unit": "1"}), "carbonate_reads_as")
    for carbonate in (0.0065, 0.0135):
        assert low < within(told(carbonate), "carbonate_reads_as")[1] < high


def test_where_a_stock_loses_water_goes_with_its_strength() -> None:
    def told(strength: Any) -> Answer:
        solution = {"alkali": "NaOH", "mass": "10 kg", "strength": strength}
        return ask("stock-assay/evaporation", {"solution": solution, "mass_change": "0 g", "relative_humidity": 0.5})

    low, _, high = within(told(LIMITS), "loses_water_from")
    for w in (LOW + 0.002, HIGH - 0.002):
        assert low < within(told({"mass_fraction": w}), "loses_water_from")[1] < high


def test_the_heat_given_off_goes_with_the_reading_that_it_starts_from() -> None:
    def told(last: float, uncertainty: float) -> Answer:
        end = {"value": last, "uncertainty": uncertainty, "unit": "°C"}
        first = {"value": 70, "uncertainty": 0.1, "unit": "°C"}
        readings = [{"time": "0 min", "temperature": first}, {"time": "60 min", "temperature": end}]
        return cooling({"mass_fraction": 0.2}, solution={"temperature": None}, readings=readings)

    low, _, high = within(told(50, 2.0), "heat_given_off")
    for last in (47.0, 53.0):
        assert low < within(told(last, 0.1), "heat_given_off")[1] < high
