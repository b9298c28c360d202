"""Steps of a pouring are numbered as what is poured is, and what is surely liquid is so by its lower end."""

import re
from typing import Any

import pytest

from service.calculations.mixing.stock_dilution import CALCULATION
from tests.calculations.asking import ask
from tests.calculations.caution_cases_of_dilution import D, poured, solution
from tests.calculations.test_steps import redone


@pytest.mark.parametrize("count", [2, 3, 4])
def test_every_part_has_its_own_number_in_every_step(count: int) -> None:
    """From 1, as in the names of the steps: `solution 1` brings h1, of m1 and w1."""
    lines = [solution(f"{10 * number + 5} %", f"{number} kg") for number in range(1, count + 1)]
    steps = {one["name"]: one for one in ask(D, poured(*lines), explain=True)["steps"]}
    for name in ("strength of the whole", "heat of the whole", "heat released", "change of volume"):
        step = steps[name]
        numbers = {int(found[1]) for one in step["inputs"] if (found := re.fullmatch(r"[a-z](\d)", one))}
        assert numbers == set(range(1, count + 1)), name
        assert redone(step) == pytest.approx(step["result"]["value"], rel=1e-9)
    for number in range(1, count + 1):
        assert f"heat of the solution {number}" in steps
        assert steps["strength of the whole"]["inputs"][f"m{number}"]["value"] == number


def _hardly_known(w: float, t: float) -> dict[str, Any]:
    known = {"value": w, "uncertainty": 0.01, "unit": "1"}
    return solution(known, temperature={"value": t, "unit": "°C"})


def test_what_is_surely_liquid_is_so_at_the_lower_end_of_its_temperature() -> None:
    """What looks alike may differ, and warms then: the upper room is wider than the lower, which alone counts here."""

    def at(t: float) -> dict[str, Any]:
        return ask(D, poured(_hardly_known(0.45, t), _hardly_known(0.449, t)))

    first = at(20.0)
    told, sets = first["solution"]["temperature"], first["first_solid_temperature"]["high"]
    below, above = told["value"] - told["low"], told["high"] - told["value"]
    assert above > below + 0.1
    between = at(20.0 + sets + 0.5 * (below + above) - told["value"])
    assert between["fully_liquid"]
    assert between["solution"]["temperature"]["low"] > sets
    assert not at(20.0 + sets + below - 0.1 - told["value"])["fully_liquid"]


def test_the_published_heat_of_dilution_is_that_of_its_example() -> None:
    """From 28.87 to 42.51 kJ for a mole of NaOH (Felder and Rousseau, table B.11; from memory)."""
    (example,) = [one for one in CALCULATION.examples if one.name == "published-heat-of-dilution"]
    answer = ask(D, example.request)
    assert answer["heat_released"]["value"] == pytest.approx(42.51 - 28.87, rel=0.03)
    strength = answer["solution"]["strength"]["mass_fraction"]["value"]
    assert strength == pytest.approx(39.997 / (39.997 + 10 * 18.015), rel=1e-4)
