"""What pouring says beside its numbers, and its steps, each compared with the answer, with a bound or a balance."""

import re
from typing import Any

import pytest

from tests.calculations.asking import Answer, ask, assumed, cautions, fault, message_of, refusal
from tests.calculations.caution_cases_of_dilution import ICE, WATER, D, poured, solution


def pour(*solutions: dict[str, Any], explain: bool = False, **more: Any) -> Answer:
    return ask(D, poured(*solutions, **more), explain=explain)


def by_steps(answer: Answer) -> dict[str, float]:
    return {one["name"]: one["result"]["value"] for one in answer["steps"]}


def doubtful(w: float, uncertainty: float, mass: str = "1 kg", **more: Any) -> dict[str, Any]:
    return solution({"value": w, "uncertainty": uncertainty, "unit": "1"}, mass, **more)


@pytest.mark.parametrize("frozen", [True, False])
def test_the_steps_of_pouring_lead_to_its_heat_its_temperature_and_its_volume(frozen: bool) -> None:
    third = solution(0, "300 g", state="ice", temperature="-5 °C") if frozen else solution(0, "300 g")
    answer = pour(third, solution("20 %"), solution("50 %"), explain=True)
    told = by_steps(answer)
    parts = ["ice 1" if frozen else "water 1", "solution 2", "solution 3"]
    brought = [f"heat of {one}" if one[0] in "iw" else f"heat of the {one}" for one in parts]
    assert set(brought) <= told.keys()
    assert sum(told[one] for one in brought) == pytest.approx(told["heat of the whole"])
    assert told["temperature of the whole"] == pytest.approx(answer["solution"]["temperature"]["value"])
    assert told["heat released"] == pytest.approx(answer["heat_released"]["value"])
    assert told["strength of the whole"] == pytest.approx(answer["solution"]["strength"]["mass_fraction"]["value"])
    assert told["boiling margin"] == pytest.approx(answer["boiling_margin"]["value"])
    assert ("change of volume" in told) == ("volume_change" in answer) == (not frozen)
    if not frozen:
        assert 1000 * told["change of volume"] == pytest.approx(answer["volume_change"]["value"])


def test_one_solution_alone_has_no_change_of_volume_to_explain() -> None:
    assert "change of volume" not in by_steps(pour(solution("30 %"), explain=True))


@pytest.mark.parametrize(
    "uncertain",
    [
        doubtful(0.4, 0.002),
        solution({"low": 38, "high": 42, "unit": "%"}),
        {"alkali": "NaOH", "volume": "1 L", "strength": {"mass_fraction": "40 %"}},
        {"alkali": "NaOH", "volume": "1 L", "strength": {"mass_fraction": {"low": 38, "high": 42, "unit": "%"}}},
        solution("40 %") | {"strength": {"density": {"value": 1.43, "uncertainty": 0.002, "unit": "kg/L"}}},
    ],
)
def test_a_half_width_of_strengths_alone_is_explained_by_a_factor_of_coverage(uncertain: dict[str, Any]) -> None:
    """95 % of a normal are 1.96 standard uncertainties, of a rectangle 1.645 (JCGM 100:2008, 4.3 and table G.1).

    Volumes and densities leave more open than the strengths that the step names, and it is not told then.
    """
    answer = pour(uncertain, WATER, explain=True)
    (step,) = [one for one in answer["steps"] if one["name"] == "half-width of the strength"] or [None]
    by_strength = "mass" in uncertain and "mass_fraction" in uncertain["strength"]
    assert (step is not None) == by_strength
    if step is not None:
        assert 1.64 < step["inputs"]["k"]["value"] < 1.961


BOILING = (solution(temperature="130 °C"), solution(0, temperature="80 °C"))
NEAR = (solution(temperature="100 °C"), solution("5 %", temperature="50 °C"))


@pytest.mark.parametrize(("lines", "code"), [(BOILING, "boils"), (NEAR, "boiling-margin-small")])
def test_the_strength_and_the_distance_of_the_words_are_those_of_the_answer(
    lines: tuple[dict[str, Any], ...], code: str
) -> None:
    answer = pour(*lines)
    told = message_of(answer, code)
    found = re.match(r"Where they meet as (\d+) %", told)
    assert found is not None, told
    nearest = 100 * answer["nearest_boiling_strength"]["mass_fraction"]["value"]
    assert float(found[1]) == pytest.approx(nearest, abs=0.51)
    if code == "boiling-margin-small":
        within = re.search(r"within ([\d.]+) K \(([\d.]+) °F\)", told)
        assert within is not None, told
        assert float(within[1]) == pytest.approx(answer["boiling_margin"]["value"], abs=0.051)
        assert float(within[2]) == pytest.approx(1.8 * answer["boiling_margin"]["value"], abs=0.051)


@pytest.mark.parametrize(("mass", "t"), [("1 kg", "50 °C"), ("9 kg", "50 °C"), ("1 kg", "20 °C"), ("200 g", "30 °C")])
def test_what_is_hotter_on_the_way_is_told_with_the_temperature_that_it_comes_to(mass: str, t: str) -> None:
    answer = pour(solution(temperature=t), solution(0, mass, temperature=t))
    told = message_of(answer, "water-warms-stock")
    peak, whole = answer["peak_temperature"]["value"], answer["solution"]["temperature"]["value"]
    assert ("on the way" in told) == (peak > whole + 1)
    assert f"comes to {whole:.0f} °C" in told
    if "on the way" in told:
        assert f"with up to {peak:.0f} °C" in told


def test_hot_is_what_is_hotter_than_plastic_stands() -> None:
    """Polyethylene is rated to 60 °C, and a stock of 60 °C is not more than that."""
    for t, hot in (("60 °C", False), ("60.5 °C", True)):
        answer = pour(solution("20 %", temperature=t))
        assert ("vessel-not-given" in cautions(answer)) is hot
        closed = pour(solution("20 %", temperature=t), vessel={"material": "nickel", "lid": True})
        assert ("vessel-closed" in cautions(closed)) is hot


@pytest.mark.parametrize("w", [0.5, 1, 5])
def test_whatever_comes_to_less_than_nought_degrees_is_told_to_be_an_estimate(w: float) -> None:
    answer = pour(solution(f"{w} %", temperature="1 °C"), ICE)
    assert answer["solution"]["temperature"]["value"] < 0
    assert "ice-path-beyond-data" in cautions(answer)


@pytest.mark.parametrize("above", [-3.0, -0.3, 0.3, 3.0])
def test_crystals_are_told_of_what_is_not_surely_liquid_with_where_they_begin(above: float) -> None:
    """A temperature that is hardly known, about where 45 % NaOH sets."""
    lines = [doubtful(0.45, 0.004, temperature="{} °C"), doubtful(0.449, 0.004, temperature="{} °C")]
    sets = pour(solution("45 %"))["first_solid_temperature"]

    def at(t: float) -> Answer:
        return pour(*(one | {"temperature": one["temperature"].format(repr(t))} for one in lines))

    answer = at(sets["high"] + above)
    told = [one["message"] for one in answer["cautions"] if "what it comes to can set" in one["message"]]
    assert bool(told) == (not answer["fully_liquid"])
    first = answer["first_solid_temperature"]["value"]
    for one in told:
        assert f"from {first:.1f} °C" in one


def test_a_light_strong_stock_is_poured_into_the_heavy_weak_one() -> None:
    told = message_of(pour(solution("50 %"), solution("10 %", "9 kg")), "strong-into-weak")
    assert "strong solution (50 %) slowly into the weaker solution (10 %)" in told
    heavy = message_of(pour(solution("50 %", "9 kg"), solution("10 %")), "strong-into-weak")
    assert "strong solution (50 %) slowly into the weaker solution (10 %)" in heavy


def test_no_change_of_volume_is_told_where_ice_went_in_that_has_melted() -> None:
    """Ice takes a tenth more room than its water, which no density of a solution tells."""
    answer = pour(solution("50 %", "5 kg", temperature="30 °C"), solution(0, "200 g", state="ice"))
    assert "ice_left" not in answer or answer["ice_left"]["value"] == 0
    assert "volume_change" not in answer
    assert "volume" in answer["solution"]


def test_the_less_the_strengths_are_known_the_wider_is_the_temperature_to_both_sides() -> None:
    narrow, wide = (
        pour(doubtful(0.3, half, temperature="30 °C"), doubtful(0.3001, half, temperature="30 °C"))["solution"]
        for half in (0.002, 0.01)
    )
    exact = pour(solution(0.3, temperature="30 °C"), solution(0.3001, temperature="30 °C"))["solution"]
    for end in ("low", "high"):
        apart = [abs(one["temperature"].get(end, 30.0) - one["temperature"]["value"]) for one in (exact, narrow, wide)]
        assert apart == sorted(apart)


def test_defaults_of_what_is_poured_are_told_with_their_reasons() -> None:
    answer = pour(solution(), ICE, WATER)
    told = {one["pointer"]: one for one in answer["assumed"]}
    assert "room" in str(told["/solutions/0/temperature"])
    assert "cautious" in str(told["/solutions/1/temperature"])
    assert told["/solutions/1/temperature"]["value"] == "0 °C"
    assert told["/solutions/2/state"]["value"] == "liquid"
    assert not {"/solutions/0/state", "/solutions/1/state"} & told.keys()
    given = pour(solution(temperature="25 °C"), solution(0, state="liquid", temperature="25 °C"))
    assert not [at for at in assumed(given) if at.startswith("/solutions/")]


def test_water_of_two_names_alone_keeps_the_first() -> None:
    told = pour(WATER, solution(0, temperature="50 °C") | {"alkali": "KOH"})["solution"]
    assert told["alkali"] == "NaOH"


def test_only_water_is_ice() -> None:
    found = fault(D, poured(solution("10 %", state="ice", temperature="-5 °C"), WATER), 422)
    assert (found.pointer, found.code) == ("/solutions/0/state", "contradiction")
    assert "only water" in found.detail


def test_as_many_solutions_are_poured_as_the_refusal_of_more_names() -> None:
    assert pour(*[solution("10 %", "1 g")] * 50)["solution"]["mass"]["value"] == pytest.approx(50)
    (found,) = refusal(D, poured(*[solution("10 %", "1 g")] * 51)).faults
    assert found.pointer == "/solutions"
    assert "50" in found.detail + found.mend


def test_glass_that_is_warmed_is_told_by_how_much() -> None:
    answer = pour(solution(temperature="60 °C"), solution(0), vessel={"material": "glass-borosilicate"})
    found = re.search(r"heats it by up to (\d+) K", message_of(answer, "glass-may-crack"))
    assert found is not None
    assert float(found[1]) == pytest.approx(answer["peak_temperature"]["high"] - 20, abs=0.51)
