"""A hydrometer in a stock: against the strengths that concentration reads, by hand, and what cannot be."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import density, water
from tests.calculations.asking import ask, cautions, fault

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

    # Half a step of 2 degrees is 0.005 of specific gravity, 95 % of which are about 0.5 % of strength
    assert width(coarse) > width(fine) + 0.004
    assert "low" not in fine["density"]
    assert coarse["density"]["high"] - coarse["density"]["low"] == pytest.approx(2 * 0.95 * 0.005, rel=2e-2)


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
    ],
)
def test_what_cannot_be_is_refused(more: dict[str, Any], pointer: str, code: str) -> None:
    request = {"alkali": "NaOH", "reading": {"density": "1.5 kg/L"}, "temperature": "20 °C"} | more
    found = fault(NAME, request, 422)
    assert (found.pointer, found.code) == (pointer, code)


def test_a_division_of_a_density_is_refused_with_the_mending() -> None:
    request = {"alkali": "NaOH", "reading": {"density": "1.5 kg/L", "division": 0.1}, "temperature": "20 °C"}
    assert "low and high" in fault(NAME, request, 400).mend
