"""The assay of a stock by titration: by hand, by mass and by volume, its budget, and what is passed on."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.shared.faults import Refusal
from service.chemistry import density, water
from service.chemistry.molar_masses import KOH, NAOH, POTASSIUM_CARBONATE, SODIUM_CARBONATE
from tests.calculations.asking import Answer, ask, assumed, cautions, fault
from tests.calculations.caution_cases_of_titrations import T, pipetted, stock

DRAWS = 200_000


def value(answer: Answer, member: str) -> float:
    return float(answer[member]["value"])


def strength(answer: Answer) -> dict[str, float]:
    found: dict[str, float] = answer["strength"]["mass_fraction"]
    return found


def lines(answer: Answer) -> dict[str, dict[str, Any]]:
    return {one["input"]: one for one in answer["budget"]}


def test_a_weighed_sample_by_hand() -> None:
    """25 mL and 25.4 mL of normal acid: 24.6 mmol of NaOH and 0.4 mmol of Na2CO3 in 2.05 g."""
    answer = ask(T, stock("25 mL", "25.4 mL"))
    assert strength(answer)["value"] == pytest.approx(24.6e-3 * NAOH / 2.05e-3)
    assert value(answer, "carbonate_mass_fraction") == pytest.approx(0.4e-3 * SODIUM_CARBONATE / 2.05e-3)
    assert value(answer, "total_alkali_fraction") == pytest.approx(25.4e-3 * NAOH / 2.05e-3)
    assert value(answer, "oxide_fraction") == pytest.approx(25.4e-3 * 61.97854e-3 / 2 / 2.05e-3)
    assert value(answer, "draw_factor") == pytest.approx(2.05e-3 / (24.6e-3 * NAOH))
    assert "density" not in answer
    assert "molarity" not in answer


def test_two_protons_are_worth_two_volumes() -> None:
    half = {"value": 0.5, "uncertainty": 0.0005, "unit": "mol/L"}
    assert strength(ask(T, stock(acid_molarity=half, acid_protons=2))) == strength(ask(T, stock(acid_protons=1)))


def test_potash_carries_its_own_carbonate() -> None:
    answer = ask(T, stock("25 mL", "25.4 mL", alkali="KOH", sample_mass="3 g"))
    assert strength(answer)["value"] == pytest.approx(24.6e-3 * KOH / 3e-3)
    assert value(answer, "carbonate_mass_fraction") == pytest.approx(0.4e-3 * POTASSIUM_CARBONATE / 3e-3)


def test_a_sample_by_volume_is_the_weighed_one_of_the_density_that_is_answered() -> None:
    answer = ask(T, pipetted(temperature="25 °C"))
    rho = value(answer, "density")
    w, carbonate = strength(answer)["value"], value(answer, "carbonate_mass_fraction")
    assert rho * 1000 == pytest.approx(density.density("NaOH", w + carbonate, 25.0))
    again = ask(T, stock(sample_mass={"value": 1.35 * rho, "unit": "g"}))
    assert strength(again)["value"] == pytest.approx(w)
    assert value(answer, "molarity") == pytest.approx(24.92e-3 / 1.35e-3)


def test_a_density_that_is_given_is_taken() -> None:
    answer = ask(T, pipetted(density="1.5 kg/L"))
    assert value(answer, "density") == pytest.approx(1.5)
    assert "low" not in answer["density"]
    assert strength(answer)["value"] == pytest.approx(24.92e-3 * NAOH / (1.35 * 1.5e-3))


def test_a_warm_sample_is_lighter_and_stronger_by_mass() -> None:
    cool, warm = (strength(ask(T, pipetted(temperature=t)))["value"] for t in ("10 °C", "40 °C"))
    assert 1.01 < warm / cool < 1.03


def test_warm_acid_holds_less_in_each_volume() -> None:
    at_label, warm = (strength(ask(T, stock(acid_temperature=t)))["value"] for t in ("20 °C", "30 °C"))
    assert warm / at_label == pytest.approx(water.density(30.0) / water.density(20.0))


def test_a_known_temperature_of_the_acid_brings_no_uncertainty() -> None:
    assert lines(ask(T, stock()))["acid_temperature"]["distribution"] == "rectangular"
    assert lines(ask(T, stock(acid_temperature="20 °C")))["acid_temperature"]["share"]["value"] == 0


def test_the_budget_holds_every_input_of_a_weighed_and_of_a_pipetted_sample() -> None:
    always = {
        *("acid_molarity", "acid_temperature", "first_end_point", "first_end_point_detection", "second_end_point"),
        *("second_end_point_detection", "hydroxide_molar_mass", "first_end_point_colour", "second_end_point_colour"),
    }
    weighed = lines(ask(T, stock(scale_division="0.001 g")))
    assert weighed.keys() == always | {"sample_mass", "scale_division"}
    measured = lines(ask(T, pipetted()))
    assert measured.keys() == always | {"sample_volume", "density", "carbonate_molar_mass"}


def test_the_budget_by_hand() -> None:
    """Sensitivities of w = c (2 V1 - V2) M / m, and the spreads as they were given or assumed."""
    answer = ask(T, stock("25 mL", "25.4 mL"))
    w, budget = strength(answer)["value"], lines(answer)
    per_volume = 1.0 * NAOH * 1000 / 1000 / 2.05  # 1/mL
    assert budget["first_end_point"]["sensitivity"] == {"value": pytest.approx(2 * per_volume), "unit": "1/mL"}
    assert budget["second_end_point"]["sensitivity"]["value"] == pytest.approx(-per_volume)
    assert budget["acid_molarity"]["sensitivity"]["value"] == pytest.approx(w)
    assert budget["sample_mass"]["sensitivity"]["value"] == pytest.approx(-w / 2.05)
    assert budget["hydroxide_molar_mass"]["sensitivity"]["value"] == pytest.approx(w / (NAOH * 1000))
    assert budget["first_end_point"]["standard_uncertainty"]["value"] == pytest.approx(0.1 / math.sqrt(3))
    assert budget["first_end_point_detection"]["standard_uncertainty"]["value"] == pytest.approx(0.03)
    assert budget["sample_mass"]["standard_uncertainty"] == {"value": pytest.approx(0.001), "unit": "g"}
    assert budget["acid_molarity"]["standard_uncertainty"] == {"value": pytest.approx(0.001), "unit": "mol/L"}
    assert [budget[name]["distribution"] for name in ("first_end_point", "acid_molarity")] == ["rectangular", "normal"]
    contributions = [one["contribution"]["value"] for one in answer["budget"]]
    by_hand = math.hypot(
        *(2 * per_volume * one for one in (0.1 / math.sqrt(3), 0.03)),
        *(per_volume * one for one in (0.1 / math.sqrt(3), 0.03)),
        # colours: 7.6 % of 0.4 mL, and 0.125 mmol/L in 125.4 mL of water and acid
        *(per_volume * one / math.sqrt(3) for one in (2 * 0.076 * 0.4, 0.125 * 0.1254)),
        *(w * 0.001, w / 2.05 * 0.001, w * 2.07e-4 * 4 / math.sqrt(3)),
    )
    assert math.hypot(*contributions) == pytest.approx(by_hand, rel=1e-4)


def test_molar_masses_of_the_budget_have_the_limits_of_the_abridged_atomic_weights() -> None:
    """C 12.011 ± 0.002, O 15.999 ± 0.001 and H 1.0080 ± 0.0002; sodium's is below a millionth.

    Source: T. Prohaska et al., Standard atomic weights of the elements 2021, Pure Appl. Chem. 94 (2022), table 3.
    """
    budget = lines(ask(T, pipetted()))
    for name, half_width in (("carbonate_molar_mass", 0.002 + 3 * 0.001), ("hydroxide_molar_mass", 0.001 + 0.0002)):
        found = budget[name]["standard_uncertainty"]
        assert found == {"value": pytest.approx(half_width / math.sqrt(3), rel=1e-3), "unit": "g/mol"}


def test_readings_with_a_spread_of_their_own_need_no_burette() -> None:
    own = {"value": 25, "uncertainty": 0.02, "unit": "mL"}
    later = {"low": 25.05, "high": 25.11, "unit": "mL"}
    answer = ask(T, stock(own, later))  # type: ignore[arg-type]
    assert "/burette_tolerance" not in assumed(answer)
    assert lines(answer)["first_end_point"]["standard_uncertainty"]["value"] == pytest.approx(0.02)
    assert lines(answer)["second_end_point"]["distribution"] == "rectangular"


def test_the_budget_is_in_metric_units_and_in_full_whatever_is_asked() -> None:
    request = stock()
    plain, us = ask(T, request)["budget"], ask(T, request, units="us", digits=3)["budget"]
    for one, other in zip(plain, us, strict=True):
        for member in ("value", "standard_uncertainty", "sensitivity"):
            assert one[member] == other[member]


def drawn(rng: np.random.Generator, line: dict[str, Any]) -> Any:
    """Draws of an input as its line of the budget tells it."""
    middle, spread = line["value"]["value"], line["standard_uncertainty"]["value"]
    if line["distribution"] == "normal":
        return rng.normal(middle, spread, DRAWS)
    if line["distribution"] == "triangular":
        return rng.triangular(middle - spread * 6**0.5, middle, middle + spread * 6**0.5, DRAWS)
    return rng.uniform(middle - spread * 3**0.5, middle + spread * 3**0.5, DRAWS)


def read(draw: dict[str, Any], end_point: str) -> Any:
    """Draws of an end point: the burette, the eye, and where the colour turns."""
    return draw[end_point] + draw[f"{end_point}_detection"] + draw[f"{end_point}_colour"]


@pytest.mark.parametrize(
    "request_",
    [
        stock("25 mL", "25.4 mL", scale_division="0.01 g"),
        stock("25 mL", "25.4 mL", burette_tolerance="0.3 mL", end_point_uncertainty="0.01 mL"),
        stock("25 mL", "28 mL"),
        stock("25 mL", "25.4 mL", acid_molarity={"low": 0.98, "high": 1.02, "unit": "mol/L"}),
    ],
    ids=["coarse scale", "coarse burette", "much carbonate", "acid by limits"],
)
def test_the_intervals_cover_what_whole_distributions_give(request_: dict[str, Any]) -> None:
    """Monte Carlo by JCGM 101:2008: ours covers 94 to 97 % of the draws, for each of the figures."""
    answer = ask(T, request_)
    rng, by = np.random.default_rng(7), lines(answer)
    draw = {name: drawn(rng, line) for name, line in by.items()}
    first, second = read(draw, "first_end_point"), read(draw, "second_end_point")
    mass = draw["sample_mass"] + (draw["scale_division"] - 0.01 if "scale_division" in draw else 0.0)
    molarity = draw["acid_molarity"] * (1 - 2.07e-4 * (draw["acid_temperature"] - 20))
    for figure, sample in (
        (strength(answer), molarity * (2 * first - second) * draw["hydroxide_molar_mass"] / 1000 / mass),
        (answer["carbonate_mass_fraction"], molarity * (second - first) * SODIUM_CARBONATE / mass),
        (answer["total_alkali_fraction"], molarity * second * NAOH / mass),
    ):
        if figure["low"] > 0:
            covered = np.mean((figure["low"] <= sample) & (sample <= figure["high"]))
            assert 0.94 < covered < 0.97


def test_the_interval_of_a_pipetted_sample_covers_what_whole_distributions_give() -> None:
    """Each draw finds its own density; the density model errs by a factor of its own."""
    request = pipetted(sample_volume={"low": 1.33, "high": 1.37, "unit": "mL"})
    answer = ask(T, request)
    rng, by = np.random.default_rng(8), lines(answer)
    draw = {name: drawn(rng, line)[:4000] for name, line in by.items()}
    factor = draw["density"] / by["density"]["value"]["value"]
    first, second = read(draw, "first_end_point"), read(draw, "second_end_point")
    acid = draw["acid_molarity"] * (1 - 2.07e-4 * (draw["acid_temperature"] - 20)) / 1000
    hydroxide, carbonate = acid * (2 * first - second) * NAOH, acid * (second - first) * SODIUM_CARBONATE
    grid = np.linspace(0.3, 0.55, 500)
    per_volume = grid * np.array([density.density("NaOH", w, 20.0) for w in grid])
    concentration = (hydroxide + carbonate) / (draw["sample_volume"] / 1e6) / factor
    total = np.interp(concentration, per_volume, grid)
    sample = total * hydroxide / (hydroxide + carbonate)
    told = strength(answer)
    assert 0.935 < np.mean((told["low"] <= sample) & (sample <= told["high"])) < 0.975
    molarity = answer["molarity"]
    moles = hydroxide / NAOH / draw["sample_volume"] * 1000
    assert 0.935 < np.mean((molarity["low"] <= moles) & (moles <= molarity["high"])) < 0.975


def test_the_strength_found_is_drawn_by() -> None:
    answer = ask(T, stock())
    split = {
        "alkalis": [{"alkali": "NaOH", "mass": "100 g"}],
        "stocks": [{"alkali": "NaOH", "strength": answer["strength"]}],
    }
    mass = ask("liquid-split", split)["stock_draws"][0]["mass"]
    assert mass["value"] == pytest.approx(100 * value(answer, "draw_factor"))
    assert mass["low"] < mass["value"] < mass["high"]


def test_acid_so_weak_that_it_misleads_gets_a_word_more() -> None:
    weak = stock(acid_molarity={"value": 0.1, "uncertainty": 0.0001, "unit": "mol/L"}, sample_mass="0.21 g")
    told = [one["message"] for one in ask(T, weak)["cautions"] if one["code"] == "end-points-indistinct"]
    assert len(told) == 2
    assert "0.1 mol/L" in told[1]
    assert sum(one["code"] == "end-points-indistinct" for one in ask(T, stock())["cautions"]) == 1


def test_potash_keeps_its_carbonate_dissolved_and_may_bring_more() -> None:
    """K2CO3 dissolves well in strong KOH, and USP-NF lets 3.5 % pass where soda may bring 3 %."""
    told = cautions(ask(T, stock("25 mL", "25.3 mL", alkali="KOH", sample_mass="3 g")))
    assert "carbonate-settles" not in told
    three_and_a_quarter = {"first": "25 mL", "second": f"{25 / (1 - 0.0325 * KOH / POTASSIUM_CARBONATE)!r} mL"}
    assert "carbonate-taken-up" not in cautions(ask(T, stock(**three_and_a_quarter, alkali="KOH", sample_mass="3.1 g")))


@pytest.mark.parametrize(
    ("request_", "pointer"),
    [
        (stock("25.2 mL", "25.1 mL"), "/second_end_point"),
        (stock("12 mL", "25.1 mL"), "/first_end_point"),
        (stock(sample_mass="1.5 g"), "/sample_mass"),
        (stock(sample_mass="1 g"), "/sample_mass"),
        (pipetted(sample_volume="1 mL"), "/sample_volume"),
        (pipetted(density="1 kg/L"), "/sample_volume"),
        (stock("20 mL", "38 mL", sample_mass="3 g"), "/first_end_point"),
        (stock(acid_temperature="-5 °C"), "/acid_temperature"),
        (pipetted(temperature="101 °C"), "/temperature"),
    ],
)
def test_readings_that_no_stock_gives_are_refused_where_they_stand(request_: dict[str, Any], pointer: str) -> None:
    refused = fault(T, request_, 422)
    assert refused.pointer == pointer


def answered(request: dict[str, Any]) -> dict[str, float] | None:
    """The strength that is answered; None where the request is refused as making no sense."""
    try:
        return strength(ask(T, request))
    except Refusal as refused:
        if refused.status != 422:
            raise
        return None


@pytest.mark.parametrize(
    ("mass", "volume"), [("1e-6 g", "1e-6 mL"), ("1e5 t", "1 mL"), ("1e5 t", "9e10 mL"), ("1 g", "1e-6 mL")]
)
def test_the_least_and_the_most_there_can_be_are_answered_or_refused(mass: str, volume: str) -> None:
    told = answered(stock(volume, volume, sample_mass=mass))
    assert told is None or 0 < told["value"] < 1


@given(st.floats(1e-3, 60.0), st.floats(1e-3, 60.0), st.floats(0.01, 20.0), st.floats(0.01, 1e3), st.booleans())
def test_any_readings_are_answered_with_finite_figures_or_refused(
    first: float, second: float, molarity: float, sample: float, weighed: bool
) -> None:
    request: dict[str, Any] = {
        "alkali": "NaOH" if sample < 5 else "KOH",
        "acid_molarity": f"{molarity!r} mol/L",
        "first_end_point": f"{first!r} mL",
        "second_end_point": f"{second!r} mL",
        "sample_mass" if weighed else "sample_volume": f"{sample!r} {'g' if weighed else 'mL'}",
    }
    told = answered(request)
    assert told is None or 0 <= told["low"] < told["value"] < told["high"] <= 1


def test_the_draw_factor_ends_at_the_ends_of_the_strength() -> None:
    answer = ask(T, stock(burette_tolerance="2 mL"))
    strength, factor = answer["strength"]["mass_fraction"], answer["draw_factor"]
    assert factor["low"] == pytest.approx(1 / strength["high"], rel=1e-9)
    assert factor["high"] == pytest.approx(1 / strength["low"], rel=1e-9)
    assert factor["high"] - factor["value"] > 1.1 * (factor["value"] - factor["low"])


@pytest.mark.parametrize("word", ["N", "eq/L"])
def test_a_normality_is_told_apart_from_a_molarity(word: str) -> None:
    found = fault(T, stock(acid_molarity=f"1 {word}", acid_protons=2), 400)
    assert "normality" in found.detail
    assert "0.5 mol/L" in found.mend
