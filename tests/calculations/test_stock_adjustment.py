"""A stock brought to a wanted strength: by hand, there and back, beside stock-mixing, and by simulation."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.calculations.asking import ask, assumed, cautions, fault
from tests.calculations.caution_cases_of_dilution import A, D, adjusted, poured, solution

RUNS = 200_000
quick = settings(max_examples=60, deadline=None, derandomize=True)


def test_52_per_cent_is_brought_to_50_by_a_twenty_fifth_of_water() -> None:
    answer = ask(A, adjusted("52 %", "50 %"))
    assert answer["add"]["what"] == "water"
    assert answer["add"]["mass"]["value"] == pytest.approx(400)
    assert answer["solution"]["mass"]["value"] == pytest.approx(10_400)
    assert answer["solution"]["strength"]["mass_fraction"]["value"] == pytest.approx(0.5)
    assert answer["draw_factor"]["value"] == pytest.approx(1 / 0.52)
    assert answer["target_draw_factor"]["value"] == pytest.approx(2)
    assert answer["draw_correction"]["value"] == pytest.approx(0.5 / 0.52)


def test_a_weak_stock_takes_solid_by_its_purity() -> None:
    answer = ask(A, adjusted("45 %", "50 %", solid={"purity": "98 %"}))
    assert answer["add"]["what"] == "solid"
    assert answer["add"]["mass"]["value"] == pytest.approx(10_000 * 0.05 / 0.48)
    assert assumed(answer)["/with"] == "solid"
    assert "volume" not in answer["add"]


def test_another_solution_is_added_by_the_cross_of_both() -> None:
    answer = ask(A, adjusted("30 %", "40 %") | {"with": {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}})
    assert answer["add"]["what"] == "solution"
    assert answer["add"]["mass"]["value"] == pytest.approx(10_000)


def test_a_stock_as_wanted_takes_nothing_and_stays_as_it_is() -> None:
    answer = ask(A, adjusted("45 %", "45 %", "31 °C"))
    assert answer["add"]["what"] == "nothing"
    assert answer["add"]["mass"]["value"] == 0
    assert answer["solution"]["temperature"]["value"] == pytest.approx(31)
    assert answer["draw_correction"]["value"] == 1
    assert "/with" not in assumed(answer)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize(
    ("present", "target", "t"), [(0.3, 0.45, 25), (0.42, 0.48, 60), (0.2, 0.22, 15), (0.3, 0.47, 108)]
)
@pytest.mark.parametrize("vessel", [None, {"material": "stainless-steel", "mass": "3 kg", "volume": "30 L"}])
def test_solid_is_as_hot_as_stock_mixing_says(
    alkali: str, present: float, target: float, t: float, vessel: dict[str, Any] | None
) -> None:
    kind = {"purity": {"low": 0.88, "high": 0.92, "unit": "1"}, "moisture": "8 %"}
    stock = {"alkali": alkali, "mass": "10 kg", "strength": {"mass_fraction": present}, "temperature": f"{t} °C"}
    more = {} if vessel is None else {"vessel": vessel, "duration": "15 min"}
    request = {"solution": stock, "target_strength": {"mass_fraction": target}, "solid": kind, "ambient": "18 °C"}
    answer = ask(A, request | more)
    solid = kind | {"alkali": alkali, "mass_as_supplied": answer["add"]["mass"]}
    mixed = ask("stock-mixing", {"solid": solid, "existing_stock": stock, "ambient": "18 °C"} | more)
    for end in ("value", "low", "high"):
        assert answer["peak_temperature"][end] == pytest.approx(mixed["peak_temperature"][end], abs=0.01)
    assert answer["boiling_margin"]["value"] == pytest.approx(mixed["boiling_margin"]["value"], abs=0.02)
    assert answer["heat_released"]["value"] == pytest.approx(mixed["heat_released"]["value"], rel=1e-9)
    made = answer["solution"]["strength"]["mass_fraction"]["value"]
    assert made == pytest.approx(mixed["strength"]["mass_fraction"]["value"])
    steam = mixed["water_boiled_off"]["value"]
    assert (steam > 0) == (t == 108 and alkali == "KOH")
    assert made > target if steam else made == pytest.approx(target)


@pytest.mark.parametrize(
    ("target", "with_", "added"),
    [
        ("40 %", "water", solution(0, temperature="20 °C")),
        ("46 %", None, solution(0, temperature="20 °C")),
        (
            "40 %",
            {"alkali": "NaOH", "strength": {"mass_fraction": "10 %"}, "temperature": "30 °C"},
            solution("10 %", temperature="30 °C"),
        ),
        (
            "45 %",
            {"alkali": "NaOH", "strength": {"mass_fraction": 0}, "state": "ice", "temperature": "-6 °C"},
            solution(0, state="ice", temperature="-6 °C"),
        ),
    ],
)
def test_pouring_is_as_hot_as_stock_dilution_says(target: str, with_: object, added: dict[str, Any]) -> None:
    more = {} if with_ is None else {"with": with_}
    answer = ask(A, adjusted("50 %", target, "28 °C", **more))
    stock = solution("50 %", "10 kg", temperature="28 °C")
    diluted = ask(D, {"solutions": [stock, added | {"mass": answer["add"]["mass"]}]})
    for member in ("peak_temperature", "boiling_margin", "heat_released", "solution"):
        for one, other in _figures(answer[member], diluted[member]):
            assert one == pytest.approx(other, rel=1e-8, abs=1e-8)


def _figures(one: Any, other: Any) -> list[tuple[float, float]]:
    if isinstance(one, dict):
        assert one.keys() == other.keys()
        return [pair for name in one for pair in _figures(one[name], other[name])]
    return [(one, other)] if isinstance(one, float) else []


@quick
@given(st.floats(0.05, 0.5), st.floats(0.02, 0.98), st.floats(0.01, 1e4))
def test_what_is_adjusted_and_thinned_again_comes_back(present: float, share: float, mass: float) -> None:
    target = present + share * (0.51 - present)
    if target - present < 1e-4:
        return
    stock = {"alkali": "NaOH", "mass": f"{mass!r} kg", "strength": {"mass_fraction": present}}
    up = ask(A, {"solution": stock, "target_strength": {"mass_fraction": target}})
    told = {name: up["solution"][name] for name in ("alkali", "mass", "strength")}
    told["temperature"] = "20 °C"
    down = ask(A, {"solution": told, "target_strength": {"mass_fraction": present}, "with": "water"})
    assert down["solution"]["strength"]["mass_fraction"]["value"] == pytest.approx(present, rel=1e-9)
    hydroxide = down["solution"]["mass"]["value"] * present
    assert hydroxide == pytest.approx(1000 * mass * present + up["add"]["mass"]["value"], rel=1e-9)


def test_the_interval_of_the_water_is_that_of_a_monte_carlo_run() -> None:
    """JCGM 101, through the whole request: a strength by limits, a stock by volume."""
    strength = {"low": 50.6, "high": 51.4, "unit": "%"}
    stock = {"alkali": "NaOH", "volume": "10 L", "strength": {"mass_fraction": strength}, "temperature": "25 °C"}
    answer = ask(A, {"solution": stock, "target_strength": {"mass_fraction": "50 %"}})
    mass = ask(D, {"solutions": [stock]})["solution"]["mass"]
    rng = np.random.default_rng(4)
    sigma = (mass["high"] - mass["value"]) / 1.96
    w, m = rng.uniform(0.506, 0.514, RUNS), rng.normal(mass["value"], sigma, RUNS)
    low, high = np.quantile(m * (w - 0.5) / 0.5, (0.025, 0.975))
    told = answer["add"]["mass"]
    assert told["low"] == pytest.approx(low, rel=0.03)
    assert told["high"] == pytest.approx(high, rel=0.02)


def test_the_ends_of_the_draw_factor_are_those_of_the_strength() -> None:
    answer = ask(A, adjusted({"low": 48, "high": 50, "unit": "%"}, "50 %"))
    w = answer["present_strength"]["mass_fraction"]
    assert answer["draw_factor"]["high"] == pytest.approx(1 / w["low"])
    assert answer["draw_factor"]["low"] == pytest.approx(1 / w["high"])
    assert answer["draw_correction"]["high"] == pytest.approx(0.5 / w["low"])


def test_a_strength_that_is_hardly_known_has_a_finite_draw_factor() -> None:
    answer = ask(A, adjusted({"value": 0.3, "uncertainty": 0.25, "unit": "1"}, "45 %"))
    assert answer["draw_factor"]["low"] >= 0
    assert answer["draw_factor"]["high"] < 20


def test_enough_of_a_solution_is_enough() -> None:
    there = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}
    request = adjusted("30 %", "40 %") | {"with": there | {"mass": "10 kg"}}
    assert ask(A, request)["add"]["mass"]["value"] == pytest.approx(10_000)
    short = adjusted("30 %", "40 %") | {"with": there | {"volume": "5 L"}}
    assert fault(A, short, 422).code == "does-not-add-up"


@pytest.mark.parametrize("target", ["50 %", "49.9999 %", "1 %", "0.2 %"])
@pytest.mark.parametrize("mass", ["0.001 mg", "400 t"])
def test_any_amount_and_any_target_is_reckoned(target: str, mass: str) -> None:
    stock = solution("50 %", mass)
    answer = ask(A, {"solution": stock, "target_strength": {"mass_fraction": target}})
    assert answer["add"]["mass"]["value"] >= 0


def test_a_crystallised_stock_is_told_to_be_warmed_first() -> None:
    for target, more in (("48 %", {}), ("51 %", {"with": "solid"})):
        said = cautions(ask(A, adjusted("50 %", target, "6 °C", **more)))["crystals-in-solution"]
        assert "Warm and stir it" in said["message"]


def test_a_vessel_is_compared_with_what_it_can_get_hot() -> None:
    answer = ask(A, adjusted("50 %", "40 %", vessel={"material": "hdpe", "volume": "40 L"}))
    limit, margin = answer["vessel_limit"]["value"], answer["vessel_margin"]["value"]
    assert margin == pytest.approx(limit - answer["peak_temperature"]["high"])


def test_the_heat_of_solid_into_a_stock_errs_by_what_dissolves_and_by_how_far_the_stock_goes() -> None:
    """By hand, from the budget as it is stated: 25 mol that dissolve to 50 %, and 112.5 mol from 45 to 50 %.

    To 50 % hypot(0.2 + 0.5, 0.2) kJ/mol; over 5 points hypot(0.5 / 10, sqrt(2) * 0.2 / 2) kJ/mol.
    """
    heat = ask(A, adjusted("45 %", "50 %", solid={"purity": "100 %"}))["heat_released"]
    by_hand = 1000 / 39.997 * (0.7**2 + 0.2**2) ** 0.5 + 4500 / 39.997 * (0.05**2 + 0.02) ** 0.5
    assert heat["high"] - heat["value"] == pytest.approx(by_hand, rel=2e-3)


@pytest.mark.parametrize("there", ["1 L", "1.3 L", "3.111 L", "10 mL", "0.3 mL"])
@pytest.mark.parametrize(("present", "target", "w"), [("30 %", "40 %", "50 %"), ("50 %", "40 %", "30 %")])
def test_the_strength_that_is_told_to_be_reached_is_reached(present: str, target: str, w: str, there: str) -> None:
    other = {"alkali": "NaOH", "strength": {"mass_fraction": w}, "volume": there}
    mend = fault(A, adjusted(present, target) | {"with": other}, 422).mend
    if "ask for" not in mend:
        assert there == "0.3 mL"
        return
    reached = mend.partition("ask for ")[2].partition(",")[0]
    added = ask(A, adjusted(present, reached) | {"with": other})["add"]["mass"]["value"]
    assert added > 0


@pytest.mark.parametrize(("present", "target"), [(0.45, 0.5), (0.3, 0.48), (0.1, 0.45)])
def test_the_ends_of_a_stock_that_is_hardly_known_are_those_of_stock_mixing(present: float, target: float) -> None:
    strength = {"value": present, "uncertainty": 0.004, "unit": "1"}
    stock = {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": strength}, "temperature": "25 °C"}
    answer = ask(A, {"solution": stock, "target_strength": {"mass_fraction": target}, "ambient": "20 °C"})
    solid = {"alkali": "NaOH", "mass_as_supplied": answer["add"]["mass"]["value"], "temperature": "20 °C"}
    solid["mass_as_supplied"] = f"{solid['mass_as_supplied']!r} g"
    mixed = ask("stock-mixing", {"solid": solid, "existing_stock": stock, "ambient": "20 °C"})
    for end in ("value", "low", "high"):
        assert answer["peak_temperature"][end] == pytest.approx(mixed["peak_temperature"][end], abs=0.01)
    assert answer["boiling_margin"]["value"] == pytest.approx(mixed["boiling_margin"]["value"], abs=0.05)


def test_a_stock_that_boils_down_past_where_freezing_points_are_known_is_answered() -> None:
    stock = {"alkali": "KOH", "mass": "1 kg", "strength": {"mass_fraction": "0.1 %"}, "temperature": "80 °C"}
    answer = ask(A, {"solution": stock, "target_strength": {"mass_fraction": "50 %"}, "solid": {"purity": "100 %"}})
    assert answer["boils"]
    assert answer["solution"]["strength"]["mass_fraction"]["value"] > 0.528
    assert cautions(answer)["beyond-source-range"]["severity"] == "danger"


def test_what_mends_a_refusal_can_be_said_in_the_request() -> None:
    stock = solution("50 %", "10 kg", temperature="20 °C")
    cold = poured(stock, solution(0, temperature="-5 °C"))
    assert fault(D, cold, 422).mend == "give state, as ice, or mend the number"
    assert ask(D, poured(stock, solution(0, temperature="-5 °C", state="ice")))
    melted = poured(stock, solution(0, temperature="5 °C", state="ice"))
    assert fault(D, melted, 422).mend == "give 0 °C or less, or leave state out"
    assert ask(D, poured(stock, solution(0, temperature="5 °C")))
    frozen = fault(A, adjusted("50 %", "48 %", water_temperature="-5 °C"), 422)
    assert (frozen.pointer, frozen.mend) == ("/water_temperature", "give 0 °C or more, or describe ice under with")
    ice = {"alkali": "NaOH", "strength": {"mass_fraction": 0}, "state": "ice", "temperature": "-5 °C"}
    assert ask(A, adjusted("50 %", "48 %") | {"with": ice})
    weak = fault(A, adjusted("50 %", "0.05 %"), 422)
    assert (weak.detail, weak.mend) == ("a solution of 0.05 % is too weak to reckon with here", "give at least 0.1 %")
    assert ask(A, adjusted("50 %", "0.1 %"))
