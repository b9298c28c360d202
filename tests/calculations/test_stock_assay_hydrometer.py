"""A hydrometer in a stock: against the strengths that concentration reads, by hand, and what cannot be."""

import random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import density, water
from tests.calculations.asking import ask, assumed, cautions, fault, message_of

NAME = "stock-assay/hydrometer"


def read(reading: dict[str, Any], t: str = "20 °C", **more: Any) -> dict[str, Any]:
    return ask(NAME, {"alkali": "NaOH", "reading": reading, "temperature": t} | more)


def strength(answer: dict[str, Any]) -> float:
    return float(answer["strength"]["mass_fraction"]["value"])


@given(
    st.sampled_from(["NaOH", "KOH"]),
    st.floats(0.02, 0.49),
    st.floats(5.0, 95.0),
    st.sampled_from(["density", "specific_gravity", "degrees_baume", "degrees_twaddell"]),
)
def test_a_float_in_a_known_stock_tells_its_strength(alkali: Any, w: float, t: float, scale: str) -> None:
    reference = 15.0
    # What the float shows: the density of the liquid, less what the warm glass displaces more (ISO 649-1, from memory).
    shown = density.density(alkali, w, t) * (1 + 25e-6 * (t - reference))
    gravity = shown / water.density(reference)
    readings: dict[str, Any] = {
        "density": f"{shown!r} kg/m3",
        "specific_gravity": gravity,
        "degrees_baume": 145 - 145 / gravity,
        "degrees_twaddell": 200 * (gravity - 1),
    }
    request = {
        "alkali": alkali,
        "reading": {scale: readings[scale]},
        "temperature": f"{t!r} °C",
        "reference_temperature": f"{reference} °C",
    }
    if gravity < 1 or (scale == "degrees_baume" and readings[scale] < 0):
        return  # hot and weak: lighter than the water the scale begins at
    answer = ask(NAME, request)
    assert strength(answer) == pytest.approx(w, abs=1e-8)
    assert answer["density_at_20"]["value"] == pytest.approx(density.density(alkali, w, 20.0) / 1000, rel=1e-7)
    assert answer["draw_factor"]["value"] == pytest.approx(1 / w, rel=1e-6)


def test_at_the_scale_s_own_temperature_it_is_what_concentration_reads() -> None:
    told = ask("concentration", {"alkali": "NaOH", "strength": {"degrees_baume": 48.0}})
    answer = read({"degrees_baume": 48.0}, "60 °F")
    assert strength(answer) == pytest.approx(told["mass_fraction"]["value"], abs=1e-9)
    ours, theirs = answer["strength"]["mass_fraction"], told["mass_fraction"]
    assert (ours["low"], ours["high"]) == pytest.approx((theirs["low"], theirs["high"]), abs=1e-5)


def test_a_warm_stock_shows_less_than_it_holds() -> None:
    warm, cool = read({"degrees_baume": 48}, "40 °C"), read({"degrees_baume": 48}, "60 °F")
    assert strength(warm) > strength(cool) + 0.01


def test_the_step_of_the_scale_widens_the_interval() -> None:
    fine, coarse = read({"degrees_twaddell": 100}), read({"degrees_twaddell": 100, "division": 2})

    def width(answer: dict[str, Any]) -> float:
        told = answer["strength"]["mass_fraction"]
        return float(told["high"] - told["low"])

    # A step of 2 degrees is 0.010 of specific gravity; read to half of it and made true to one (ISO 649-1, from
    # memory): rectangles of 0.005 and 0.010, of which 20 000 sums drawn at random cover 95 % within about 0.0117
    draws = random.Random(1)  # noqa: S311
    errors = sorted(abs(draws.uniform(-0.005, 0.005) + draws.uniform(-0.01, 0.01)) for _ in range(20000))
    assert width(coarse) > width(fine) + 0.010
    assert "low" not in fine["density"]
    told = coarse["density"]["high"] - coarse["density"]["low"]
    assert told == pytest.approx(2 * errors[19000] * water.density(15.556) / 1000, rel=2e-2)


def test_a_european_scale_has_another_modulus() -> None:
    usual, rational = read({"degrees_baume": 48}), read({"degrees_baume": 48}, baume_modulus=144.3)
    assert strength(rational) > strength(usual)


def test_cautions_of_cold_and_hot_stocks() -> None:
    assert "crystals-in-solution" in cautions(read({"density": "1.53 kg/L"}, "5 °C"))
    assert "crystals-in-solution" not in cautions(read({"density": "1.53 kg/L"}, "25 °C"))
    assert "glass-may-crack" in cautions(read({"density": "1.48 kg/L"}, "70 °C"))
    assert "glass-may-crack" not in cautions(read({"density": "1.48 kg/L"}, "30 °C"))


@pytest.mark.parametrize(
    ("more", "pointer", "code"),
    [
        ({"reading": {"density": "0.99 kg/L"}}, "/reading", "contradiction"),
        ({"reading": {"specific_gravity": 0.999}}, "/reading", "contradiction"),
        ({"reading": {"density": "1.7 kg/L"}}, "/reading", "beyond-solubility"),
        ({"reading": {"density": "9 kg/L"}}, "/reading", "beyond-data"),
        ({"temperature": "140 °C"}, "/temperature", "beyond-data"),
        ({"temperature": "-5 °C"}, "/temperature", "beyond-data"),
        ({"reference_temperature": "-5 °C"}, "/reference_temperature", "beyond-data"),
        ({"baume_modulus": 145}, "/baume_modulus", "contradiction"),
        ({"water_reference_temperature": "4 °C"}, "/water_reference_temperature", "contradiction"),
        (
            {"reading": {"specific_gravity": 1.5}, "water_reference_temperature": "-4 °C"},
            "/water_reference_temperature",
            "beyond-data",
        ),
        ({"reading": {"specific_gravity": 1.5, "division": 0.5}}, "/reading/division", "out-of-range"),
        ({"reading": {"degrees_baume": 48, "division": 0.001}}, "/reading/division", "out-of-range"),
        ({"reading": {"degrees_twaddell": 100, "division": 0.01}}, "/reading/division", "out-of-range"),
        (
            {"reading": {"density": "1.02 kg/L"}, "carbonate_mass_fraction": "5 %"},
            "/carbonate_mass_fraction",
            "contradiction",
        ),
        ({"carbonate_mass_fraction": "60 %"}, "/carbonate_mass_fraction", "beyond-solubility"),
    ],
)
def test_what_cannot_be_is_refused(more: dict[str, Any], pointer: str, code: str) -> None:
    request = {"alkali": "NaOH", "reading": {"density": "1.5 kg/L"}, "temperature": "20 °C"} | more
    found = fault(NAME, request, 422)
    assert (found.pointer, found.code) == (pointer, code)


def test_a_division_of_a_density_is_refused_with_the_mending() -> None:
    request = {"alkali": "NaOH", "reading": {"density": "1.5 kg/L", "division": 0.1}, "temperature": "20 °C"}
    assert "low and high" in fault(NAME, request, 400).mend


def test_a_scale_of_20_over_4_reads_lower_than_one_of_20_over_20() -> None:
    alike = read({"specific_gravity": 1.525}, reference_temperature="20 °C")
    apart = read({"specific_gravity": 1.525}, reference_temperature="20 °C", water_reference_temperature="4 °C")
    # Water has 0.99820 g/mL at 20 °C and 0.99997 at 4 °C (IAPWS, from memory)
    assert apart["density"]["value"] == pytest.approx(1.525 * 0.99997, abs=2e-5)
    assert alike["density"]["value"] == pytest.approx(1.525 * 0.99820, abs=2e-5)
    # 1.525 * 0.00177 g/mL, and a point is 0.0095 g/mL between 40 and 50 % (CRC and Perry: 1.4299, 1.5253): 0.28 points
    assert strength(apart) - strength(alike) == pytest.approx(0.0028, abs=0.0004)
    assert assumed(alike)["/water_reference_temperature"] == "20 °C"
    assert "/water_reference_temperature" not in assumed(apart)


@pytest.mark.parametrize(
    "reading",
    [{"specific_gravity": 1.5, "division": 0.02}, {"specific_gravity": 1.5, "division": 0.001}]
    + [{"degrees_baume": 48, "division": step} for step in (0.1, 2)]
    + [{"degrees_twaddell": 100, "division": step} for step in (0.1, 2)],
)
def test_the_steps_of_workshop_scales_are_taken(reading: dict[str, Any]) -> None:
    assert "low" in read(reading)["density"]


def test_an_uncertain_temperature_widens_the_interval_as_the_strength_moves() -> None:
    exact = read({"degrees_baume": 48}, "30 °C")["strength"]["mass_fraction"]
    spread = ask(
        NAME,
        {
            "alkali": "NaOH",
            "reading": {"degrees_baume": 48},
            "temperature": {"low": 20, "high": 40, "unit": "°C"},
        },
    )["strength"]["mass_fraction"]
    ends = [strength(read({"degrees_baume": 48}, t)) for t in ("20 °C", "40 °C")]
    moved = 0.95 * (ends[1] - ends[0]) / 2  # 95 % of a rectangle
    half, own = (spread["high"] - spread["low"]) / 2, (exact["high"] - exact["low"]) / 2
    assert spread["value"] == pytest.approx(exact["value"], abs=1e-12)
    assert max(moved, own) < half < moved + own


@pytest.mark.parametrize(("alkali", "name"), [("NaOH", "Na2CO3"), ("KOH", "K2CO3")])
def test_carbonate_that_is_told_is_taken_off(alkali: str, name: str) -> None:
    base = {"alkali": alkali, "reading": {"density": "1.2 g/mL"}, "temperature": "20 °C"}
    without, beside = ask(NAME, base), ask(NAME, base | {"carbonate_mass_fraction": "2 %"})
    over = beside["carbonate_reads_as"]["value"]
    assert strength(without) - strength(beside) == pytest.approx(over, abs=1e-12)
    assert 0.018 < over < 0.022
    assert "carbonate_reads_as" not in without
    assert f"{name} reads as" in message_of(beside, "hydrometer-counts-all")
    assert f"Each percentage point of dissolved {name} reads here as 1.0 of {alkali}." in (
        message_of(without, "hydrometer-counts-all")
    )


def test_what_came_without_a_spread_is_told() -> None:
    assert "reading, temperature" in message_of(read({"degrees_baume": 48}), "budget-incomplete")
    whole = {
        "alkali": "NaOH",
        "reading": {"degrees_baume": 48, "division": 0.5},
        "temperature": {"value": 20, "uncertainty": 0.5, "unit": "°C"},
    }
    assert "budget-incomplete" not in cautions(ask(NAME, whole))
