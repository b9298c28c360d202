"""Solutions, water and ice poured together: by hand, in any order, cut in parts, and by simulation."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.chemistry import density, enthalpy, vapour_pressure
from service.chemistry.blending import Part, blend
from service.chemistry.dilution import dilute
from tests.calculations.asking import ask, cautions, fault, message_of, refusal
from tests.calculations.caution_cases_of_dilution import ICE, WATER, poured, solution

D = "stock-dilution"
RUNS = 4000
quick = settings(max_examples=60, deadline=None, derandomize=True)


def pour(*solutions: dict[str, Any], **more: Any) -> dict[str, Any]:
    return ask(D, poured(*solutions, **more))


def test_equal_masses_of_half_strength_stock_and_water_make_a_quarter_and_warm_as_the_balance_says() -> None:
    answer = pour(solution(temperature="25 °C"), solution(0, temperature="25 °C"))
    told = answer["solution"]
    assert told["alkali"] == "NaOH"
    assert told["mass"]["value"] == 2000.0
    assert told["strength"]["mass_fraction"]["value"] == pytest.approx(0.25)
    t = told["temperature"]["value"]
    # h = w q + I: at 25 °C only the heats of solution count
    assert enthalpy.enthalpy("NaOH", 0.25, t) == pytest.approx(enthalpy.enthalpy("NaOH", 0.5, 25.0) / 2, rel=1e-9)
    released = 0.5 * (enthalpy.heat_of_solution("NaOH", 0.5) - enthalpy.heat_of_solution("NaOH", 0.25))
    assert answer["heat_released"]["value"] == pytest.approx(released / 1000)
    before = 1000 / density.density("NaOH", 0.5, 25.0) + 1000 / density.density("NaOH", 0.0, 25.0)
    volume = 2000 / density.density("NaOH", 0.25, t)
    assert told["volume"]["value"] == pytest.approx(volume * 1000)
    assert answer["volume_change"]["value"] == pytest.approx((volume - before) * 1000)
    assert answer["cool_volume"]["value"] == pytest.approx(2e6 / density.density("NaOH", 0.25, 20.0))


def test_a_volume_means_the_mass_by_its_density_and_leaves_the_mass_open_by_that_of_the_density() -> None:
    stock = {"alkali": "NaOH", "volume": "1 L", "strength": {"mass_fraction": "50 %"}, "temperature": "30 °C"}
    told = pour(stock, solution(0))["solution"]
    rho = density.density("NaOH", 0.5, 30.0)
    assert told["mass"]["value"] == pytest.approx(1000 + rho)
    half = rho * density.relative_half_width("NaOH", 0.5, 30.0)
    assert told["mass"]["high"] - told["mass"]["value"] == pytest.approx(half)
    w = told["strength"]["mass_fraction"]
    assert w["high"] - w["value"] == pytest.approx((0.5 - w["value"]) * half / (1000 + rho))


def test_the_margin_and_the_peak_are_those_of_the_worst_proportion() -> None:
    """`dilute` tries twenty proportions of the same two."""
    answer = pour(solution(temperature="60 °C"), solution(0, "9 kg", temperature="20 °C"))
    tried = dilute("NaOH", (1.0, 0.5, 60.0), (9.0, 20.0))
    assert answer["peak_temperature"]["value"] == pytest.approx(tried.hottest, abs=0.3)
    assert answer["peak_temperature"]["value"] > answer["solution"]["temperature"]["value"] + 40
    # the upper end of the temperature counts on top of the lower end of the boiling point
    assert tried.boiling_margin - 4 < answer["boiling_margin"]["value"] < tried.boiling_margin
    w = answer["nearest_boiling_strength"]["mass_fraction"]["value"]
    assert 0.15 < w < 0.4


def test_what_holds_for_a_little_holds_for_much_since_the_order_is_not_known() -> None:
    little, much = (pour(solution(temperature="70 °C"), solution(0, mass))["boiling_margin"] for mass in ("1 g", "9 t"))
    assert little["value"] == pytest.approx(much["value"], abs=1e-9)


def test_one_solution_alone_stays_as_it_is() -> None:
    answer = pour(solution("40 %", temperature="33 °C"))
    assert answer["solution"]["temperature"] == {"value": pytest.approx(33.0), "unit": "°C"}
    assert answer["peak_temperature"]["value"] == pytest.approx(33.0)
    assert answer["heat_released"]["value"] == pytest.approx(0, abs=1e-9)
    assert answer["volume_change"]["value"] == 0
    boiling = vapour_pressure.boiling_point("NaOH", 0.4) - vapour_pressure.boiling_point_half_width("NaOH", 0.4)
    assert answer["boiling_margin"]["value"] == pytest.approx(boiling - 33.0)


def test_ice_that_is_left_leaves_volumes_out_and_says_so() -> None:
    answer = pour(solution("10 %"), ICE)
    assert 0 < answer["ice_left"]["value"] < 1000
    assert answer["solution"]["temperature"]["value"] < -2
    assert not answer["fully_liquid"]
    assert {"volume", "volume_change", "cool_volume"}.isdisjoint(answer | answer["solution"])


def test_ice_alone_stays_ice() -> None:
    answer = pour(solution(0, state="ice", temperature="-8 °C"))
    assert answer["ice_left"]["value"] == pytest.approx(1000)
    assert answer["solution"]["temperature"]["value"] == pytest.approx(-8)
    assert not answer["boils"]


def test_water_alone_tells_nothing_of_caustic() -> None:
    assert not cautions(pour(WATER, solution(0, temperature="80 °C"))).keys() & {"alkali-burns", "strong-into-weak"}


def test_hot_parts_that_boil_together_give_off_steam_and_end_at_their_boiling_point() -> None:
    answer = pour(solution(temperature="140 °C"), solution(0, temperature="95 °C"))
    assert answer["boils"]
    steam = answer["water_boiled_off"]["value"]
    assert steam > 0
    told = answer["solution"]
    assert told["mass"]["value"] + steam == pytest.approx(2000)
    w = told["strength"]["mass_fraction"]["value"]
    assert told["temperature"]["value"] == pytest.approx(vapour_pressure.boiling_point("NaOH", w))
    assert answer["peak_temperature"]["value"] >= told["temperature"]["value"]


def test_solid_koh_and_naoh_never_meet_here_but_water_of_either_name_is_water() -> None:
    assert fault(D, poured(solution(), solution("20 %") | {"alkali": "KOH"}), 422).code == "contradiction"
    told = pour(solution(0) | {"alkali": "KOH"}, solution())["solution"]
    assert told["alkali"] == "NaOH"


def test_the_answer_can_be_sent_on_as_a_solution() -> None:
    told = pour(solution(), WATER)["solution"]
    sent = {name: told[name] for name in ("alkali", "mass", "strength", "temperature")}
    again = pour(sent)["solution"]
    assert again["mass"]["value"] == pytest.approx(told["mass"]["value"])
    assert again["temperature"]["value"] == pytest.approx(told["temperature"]["value"])


LINES = st.lists(
    st.tuples(st.floats(0.1, 50), st.floats(0, 0.48), st.floats(2, 90)).map(
        lambda one: solution(one[1], f"{one[0]!r} kg", temperature=f"{one[2]!r} °C")
    ),
    min_size=2,
    max_size=5,
)


@quick
@given(LINES, st.randoms(use_true_random=False))
def test_any_order_of_the_lines_gets_the_same_answer(lines: list[dict[str, Any]], chance: Any) -> None:
    other = lines[:]
    chance.shuffle(other)
    one, two = pour(*lines), pour(*other)
    assert {k: v for k, v in one.items() if k not in {"assumed", "cautions"}} == {
        k: v for k, v in two.items() if k not in {"assumed", "cautions"}
    }


@quick
@given(LINES, st.floats(0.05, 0.95))
def test_a_line_cut_in_two_is_the_same_stock(lines: list[dict[str, Any]], share: float) -> None:
    first = lines[0] | {"strength": {"mass_fraction": {"value": 0.3, "uncertainty": 0.004, "unit": "1"}}}
    mass = float(first["mass"].split()[0])
    halves = [first | {"mass": f"{part!r} kg"} for part in (share * mass, mass - share * mass)]
    whole, cut = pour(first, *lines[1:]), pour(*halves, *lines[1:])
    for member in ("mass", "temperature"):
        for end in whole["solution"][member].keys() - {"unit"}:
            assert cut["solution"][member][end] == pytest.approx(whole["solution"][member][end], rel=1e-7, abs=1e-6)
    for end in ("value", "low", "high"):
        told = (one["solution"]["strength"]["mass_fraction"][end] for one in (whole, cut))
        assert next(told) == pytest.approx(next(told), rel=1e-9)
    assert cut["boiling_margin"]["value"] == pytest.approx(whole["boiling_margin"]["value"], abs=1e-6)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("ice", [False, True])
def test_the_interval_that_strengths_leave_is_that_of_a_monte_carlo_run(alkali: Any, ice: bool) -> None:
    """JCGM 101: each strength drawn by itself, one a rectangle; the heats of the data stay as they are."""
    rng = np.random.default_rng(31)
    third = Part(0.8, 0.0, -5.0, ice=True) if ice else Part(0.8, 0.0, 12.0)
    strong, weak = 0.45 + rng.uniform(-0.01, 0.01, RUNS), 0.2 + rng.normal(0, 0.004, RUNS)
    found = []
    for a, b in zip(strong, weak, strict=True):
        whole = blend(alkali, [Part(2.0, a, 30.0), Part(1.0, b, 18.0), third])
        found.append((whole.mass_fraction, whole.state.temperature, whole.heat_released / 1000))
    low, high = np.quantile(np.array(found, dtype=float), (0.025, 0.975), axis=0)
    run = (high - low) / 2

    def asked(*spreads: dict[str, float]) -> dict[str, Any]:
        lines = [
            {"alkali": alkali, "mass": mass, "strength": {"mass_fraction": spread | {"unit": "1"}}, "temperature": t}
            for mass, spread, t in zip(("2 kg", "1 kg"), spreads, ("30 °C", "18 °C"), strict=True)
        ]
        water = {"alkali": alkali, "mass": "0.8 kg", "strength": {"mass_fraction": 0}}
        water |= {"state": "ice", "temperature": "-5 °C"} if ice else {"temperature": "12 °C"}
        return ask(D, {"solutions": [*lines, water]})

    told = asked({"low": 0.44, "high": 0.46}, {"value": 0.2, "uncertainty": 0.004})
    plain = asked({"value": 0.45}, {"value": 0.2})

    def half(answer: dict[str, Any], member: str) -> float:
        figure = answer["solution"]["temperature"] if member == "temperature" else answer["heat_released"]
        return float(figure["high"] - figure["low"]) / 2

    w = told["solution"]["strength"]["mass_fraction"]
    assert w["high"] - w["value"] == pytest.approx(run[0], rel=0.05)
    for place, member in ((1, "temperature"), (2, "heat")):
        of_strengths = (half(told, member) ** 2 - half(plain, member) ** 2) ** 0.5
        assert of_strengths == pytest.approx(run[place], rel=0.06), member


@pytest.mark.parametrize("mass", ["0.001 mg", "40000 t"])
def test_any_amount_there_can_be_is_reckoned(mass: str) -> None:
    answer = pour(solution(mass=mass), solution("20 %", mass=mass))
    assert answer["solution"]["strength"]["mass_fraction"]["value"] == pytest.approx(0.35)


@pytest.mark.parametrize("w", [0.52, 1e-6])
@pytest.mark.parametrize("t", ["-25 °C", "0 °C", "99 °C"])
def test_the_ends_of_strength_and_temperature_are_answered_or_refused(w: float, t: str) -> None:
    request = poured(solution(w, temperature=t), solution(0))
    if t == "-25 °C" and w < 0.5:
        assert pour(solution(w, temperature=t), solution(0))["ice_left"]["value"] >= 0
        return
    assert ask(D, request)["solution"]["mass"]["value"] == pytest.approx(2000)


def test_more_than_anything_that_is_poured_is_refused() -> None:
    one = fault(D, poured(solution(mass="60000 t"), solution("20 %", mass="60000 t")), 422)
    assert one.code == "out-of-range"


def test_colder_than_any_data_is_refused() -> None:
    assert refusal(D, poured(solution(temperature="-29 °C"))).faults[0].code == "beyond-data"


@pytest.mark.parametrize("water", [[], [solution(0, temperature="25 °C")]])
def test_of_two_stocks_alike_but_for_rounding_the_less_known_one_sets_the_margin(water: list[dict[str, Any]]) -> None:
    """Whichever of them rounding puts nearer: which stock meets the water there is not known."""
    doubtful = solution({"value": 50, "uncertainty": 0.3, "unit": "%"}, temperature="60 °C")
    margins = [
        pour(doubtful, solution(w, temperature="60 °C"), *water)["boiling_margin"]["value"]
        for w in (0.5, 0.5 - 6e-17, 0.5 + 1.2e-16, 0.5 + 1e-11)
    ]
    assert margins == pytest.approx([margins[0]] * 4, abs=1e-6)
    exact = pour(solution(temperature="60 °C"), *water)["boiling_margin"]["value"]
    assert exact - margins[0] > 0.1


def test_a_part_that_is_hardly_known_may_be_nearer_to_boiling_than_one_that_is_hotter() -> None:
    hot, doubtful = (
        solution("45 %", temperature="80 °C"),
        solution({"value": 45, "uncertainty": 1.5, "unit": "%"}, temperature="79.9 °C"),
    )
    alone = pour(doubtful)["boiling_margin"]["value"]
    assert alone < pour(hot)["boiling_margin"]["value"]
    assert pour(hot, doubtful)["boiling_margin"]["value"] == pytest.approx(alone, abs=1e-9)


def test_the_steps_tell_the_margin_that_is_answered_where_a_doubtful_part_sets_it() -> None:
    doubtful = solution({"value": 45, "uncertainty": 1.5, "unit": "%"}, temperature="79.9 °C")
    answer = ask(D, poured(solution("45 %", temperature="80 °C"), doubtful), explain=True)
    step = next(one for one in answer["steps"] if one["name"] == "boiling margin")
    values = {name: one["value"] for name, one in step["inputs"].items()}
    told = values["boiling_point"] - values["half_width"] - values["temperature"] - values["half_width_of_temperature"]
    assert told == pytest.approx(answer["boiling_margin"]["value"], abs=1e-9)


def test_the_order_of_pouring_is_told_as_grave_as_the_heat_is() -> None:
    cold = cautions(pour(solution(temperature="25 °C"), solution(0, temperature="12 °C")))["strong-into-weak"]
    assert "boils" not in cold["message"]
    assert "cold water" in cold["message"]
    hot = cautions(pour(solution(temperature="100 °C"), solution(0, temperature="60 °C")))["strong-into-weak"]
    assert "boils and spatters" in hot["message"]
    assert "into the water" in hot["message"]
    # 10 % NaOH and water take up heat (Silvester & Pitzer 1978), and nothing spatters
    assert "strong-into-weak" not in cautions(pour(solution("10 %"), solution(0, "9 kg")))
    tank = cautions(pour(solution("51.4 %", "40 kg"), solution(0)))["strong-into-weak"]
    assert "A tank that gets only a little" in tank["message"]


def test_what_stays_as_cool_as_it_was_is_not_told_to_cool() -> None:
    drop = cautions(pour(solution(0, "10 kg"), solution("50 %", "1 g")))["water-warms-stock"]
    assert "Let it cool" not in drop["message"]
    assert "though the whole comes to 20 °C" in drop["message"]
    frozen = pour(solution("50 %", "10 kg", temperature="20 °C"), solution(0, "6 kg", state="ice"))
    assert frozen["solution"]["temperature"]["value"] < 10
    assert "water-warms-stock" not in cautions(frozen)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("strength", ["top", {"value": 0.0, "uncertainty": 0.002, "unit": "1"}])
def test_the_strongest_stock_there_are_data_of_is_answered(alkali: str, strength: str | dict[str, Any]) -> None:
    """KOH to 50 %, NaOH to 52 %: a slope was taken past where its heats end."""
    top = {"NaOH": 0.52, "KOH": 0.5}[alkali]
    w = top if isinstance(strength, str) else strength | {"value": top}
    stock = {"alkali": alkali, "mass": "1 kg", "strength": {"mass_fraction": w}, "temperature": "30 °C"}
    assert pour(stock)["solution"]["temperature"]["value"] == pytest.approx(30.0)
    warmer = stock | {"temperature": "40 °C"}
    assert pour(stock, warmer)["solution"]["temperature"]["value"] == pytest.approx(35.0, abs=0.1)
    weaker = stock | {"strength": {"mass_fraction": top - 1e-9}}
    assert pour(weaker)["solution"]["strength"]


def test_a_spread_too_small_to_square_has_its_step() -> None:
    doubtful = solution({"value": 42, "uncertainty": 1e-271, "unit": "%"})
    assert ask(D, poured(doubtful, WATER), explain=True)["steps"]


def test_the_word_on_the_order_is_never_too_long() -> None:
    hot = [solution("51.4 %", "40 kg", temperature="110 °C"), solution("10.3 %", "1 kg", temperature="85 °C")]
    message = message_of(pour(*hot), "strong-into-weak")
    assert "tank" in message
    assert "spatters" in message
    assert len(message) <= 320


@pytest.mark.parametrize(("alkali", "t"), [("NaOH", "-10 °C"), ("KOH", "130 °C"), ("NaOH", "0 °C"), ("KOH", "0 °C")])
def test_one_solution_has_its_steps_where_no_density_reaches(alkali: str, t: str) -> None:
    alone = {"alkali": alkali, "mass": "1 kg", "strength": {"mass_fraction": 0.45}, "temperature": t}
    answer = ask(D, poured(alone), explain=True)
    assert answer["solution"]["temperature"]["value"] == float(t.partition(" ")[0])
    assert ("volume" in answer["solution"]) == (t == "0 °C")


def test_solutions_of_0_degrees_have_their_volume() -> None:
    """A balance misses 0 °C by some 1e-27, below which no density is known."""
    for w in ("30 %", "50 %", "52 %"):
        for mass in ("1 mg", "1 kg", "100 t"):
            told = pour(solution(w, mass, temperature="0 °C"), solution(w, mass, temperature="0 °C"))["solution"]
            assert told["temperature"]["value"] == 0
            assert "volume" in told
