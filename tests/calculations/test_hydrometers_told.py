"""What is said of a hydrometer's reading is what its figures say, whichever scale it has."""

import math
import re
from typing import Any, Final

import pytest

from tests.calculations.asking import ask, assumed, cautions, fault, message_of
from tests.calculations.figures import NORMAL_95
from tests.calculations.quantities import half_width, normal

H: Final = "stock-assay/hydrometer"


def _percents(message: str) -> list[str]:
    return re.findall(r"([\d.]+) %", message)


def _float(reading: dict[str, Any], t: Any = "20 °C", **more: Any) -> dict[str, Any]:
    return ask(H, {"alkali": "NaOH", "reading": reading, "temperature": t, **more})


def test_the_same_reading_and_step_on_three_scales_tell_the_same() -> None:
    """By the definitions of the scales: Twaddell 200 (s - 1), Baumé 145 - 145 / s, with its slope 145 / s²."""
    s, step = 1.45, 0.005
    answers = [
        _float({"specific_gravity": s, "division": step}),
        _float({"degrees_twaddell": 200 * (s - 1), "division": 200 * step}),
        _float({"degrees_baume": 145 - 145 / s, "division": 145 * step / s**2}),
    ]
    for member in ("low", "value", "high"):
        told = [one["strength"]["mass_fraction"][member] for one in answers]
        assert told == pytest.approx([told[0]] * 3, rel=1e-9)
        told = [one["density"][member] for one in answers]
        assert told == pytest.approx([told[0]] * 3, rel=1e-9)


def test_a_modulus_that_is_assumed_is_told_and_makes_no_difference() -> None:
    unsaid, said = _float({"degrees_baume": 45}), _float({"degrees_baume": 45}, baume_modulus=145)
    assert assumed(unsaid)["/baume_modulus"] == "145"
    assert "/baume_modulus" not in assumed(said)
    assert unsaid["strength"] == said["strength"]


@pytest.mark.parametrize(
    ("scale", "value", "steps", "unit"),
    [
        ("specific_gravity", 1.5, (0.0001, 0.05), "as specific gravity"),
        ("degrees_baume", 48, (0.05, 5.0), "the degrees between marks"),
        ("degrees_twaddell", 100, (0.05, 5.0), "the degrees between marks"),
    ],
)
def test_the_steps_that_a_refusal_names_are_taken(
    scale: str, value: float, steps: tuple[float, float], unit: str
) -> None:
    found = fault(
        H,
        {"alkali": "NaOH", "reading": {scale: value, "division": 0.99 * steps[0]}, "temperature": "20 °C"},
        422,
    )
    assert found.detail.endswith(f"they are {steps[0]:g} to {steps[1]:g}")
    assert unit in found.mend
    for step in steps:
        assert "low" in _float({scale: value, "division": step})["density"]


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_what_carbonate_reads_as_is_told_as_it_is_answered(alkali: str) -> None:
    request = {"alkali": alkali, "reading": {"density": "1.2 g/mL"}, "temperature": "20 °C"}
    answer = ask(H, request | {"carbonate_mass_fraction": "1.234 %"})
    told = re.findall(r"([\d.]+) % \w+ reads as ([\d.]+) %", message_of(answer, "hydrometer-counts-all"))
    assert told == [("1.23", f"{round(100 * answer['carbonate_reads_as']['value'], 2):g}")]


@pytest.mark.parametrize(("rho", "beyond"), [("1.05 kg/L", False), ("1.2 kg/L", False), ("1.5 kg/L", True)])
def test_what_a_point_of_carbonate_would_read_as_is_what_one_does(rho: str, beyond: bool) -> None:
    """The densities of carbonate reach to 21 % (Laliberté 2009); beyond, they are drawn out, and so it is said."""
    message = message_of(_float({"density": rho}), "hydrometer-counts-all")
    (told,) = re.findall(r"reads here as ([\d.]+) of", message)
    one = _float({"density": rho}, carbonate_mass_fraction="1 %")["carbonate_reads_as"]["value"]
    assert float(told) == pytest.approx(100 * one, abs=0.051)
    assert ("drawn out beyond the data" in message) is beyond


@pytest.mark.parametrize(
    ("reading", "t", "more", "lacking"),
    [
        ({"degrees_baume": 48}, "20 °C", {}, "reading, temperature"),
        ({"degrees_baume": 48, "division": 0.5}, "20 °C", {}, "temperature"),
        ({"degrees_baume": 48}, normal(20, 0.5, "°C"), {}, "reading"),
        ({"density": "1.2 kg/L"}, normal(20, 0.5, "°C"), {}, "reading"),
        ({"density": normal(1.2, 0.001, "kg/L")}, normal(20, 0.5, "°C"), {}, None),
        (
            {"density": normal(1.2, 0.001, "kg/L")},
            normal(20, 0.5, "°C"),
            {"carbonate_mass_fraction": "1 %"},
            "carbonate mass fraction",
        ),
    ],
)
def test_what_of_a_reading_came_without_a_spread_is_named(
    reading: dict[str, Any], t: object, more: dict[str, Any], lacking: str | None
) -> None:
    answer = _float(reading, t, **more)
    if lacking is None:
        assert "budget-incomplete" not in cautions(answer)
    else:
        assert f"is given: {lacking}. " in message_of(answer, "budget-incomplete")


def test_a_reading_that_hardly_tells_is_told_with_its_interval() -> None:
    coarse = _float({"degrees_baume": 12, "division": 2})
    w = coarse["strength"]["mass_fraction"]
    (told,) = _percents(message_of(coarse, "strength-hardly-known"))
    assert float(told) == pytest.approx(100 * half_width(w) / w["value"], abs=0.06)
    weak = _float({"degrees_baume": 2, "division": 5})
    assert "known to 100 % and more" in message_of(weak, "strength-hardly-known")
    fine = _float({"degrees_baume": 48, "division": 0.1})
    assert half_width(fine["strength"]["mass_fraction"]) < 0.02 * fine["strength"]["mass_fraction"]["value"]
    assert "strength-hardly-known" not in cautions(fine)


@pytest.mark.parametrize(("t", "given"), [("60 °C", True), ("59 °C", False)])
def test_cold_glass_may_crack_from_sixty_degrees_on(t: str, given: bool) -> None:
    assert ("glass-may-crack" in cautions(_float({"density": "1.45 kg/L"}, t))) is given


@pytest.mark.parametrize("carbonate", [None, "2 %"])
def test_the_steps_of_a_reading_lead_back_to_its_density(carbonate: str | None) -> None:
    request: dict[str, Any] = {"alkali": "NaOH", "reading": {"specific_gravity": 1.2}, "temperature": "31 °C"}
    answer = ask(H, request | ({} if carbonate is None else {"carbonate_mass_fraction": carbonate}), explain=True)
    steps = {one["name"]: one for one in answer["steps"]}
    rho = steps["density at the temperature of the liquid"]["result"]["value"]
    assert rho == pytest.approx(answer["density"]["value"])
    back = steps["density" if carbonate is None else "density with carbonate"]
    assert back["result"]["value"] == pytest.approx(rho, rel=1e-6)
    assert steps["draw factor"]["inputs"]["strength"]["value"] == pytest.approx(
        answer["strength"]["mass_fraction"]["value"]
    )
    if carbonate is not None:
        alone = steps["density, were all that is dissolved hydroxide"]["result"]["value"]
        assert back["inputs"]["alone"]["value"] == pytest.approx(alone)
        (water,) = [one for name, one in steps.items() if name.startswith("density of water")]
        assert back["inputs"]["water"]["value"] == pytest.approx(water["result"]["value"], rel=1e-9)
        reads = steps["what the carbonate reads as"]["result"]["value"]
        assert reads == pytest.approx(answer["carbonate_reads_as"]["value"])


def test_a_reading_of_no_caustic_is_refused_with_its_density() -> None:
    for gravity, pointer in ((0.999, "no more than water"), (1.0, "hardly more than water")):
        found = fault(H, {"alkali": "NaOH", "reading": {"specific_gravity": gravity}, "temperature": "20 °C"}, 422)
        assert pointer in found.detail
        (told,) = re.findall(r"that is ([\d.]+) kg/L", found.detail)
        assert float(told) == pytest.approx(gravity * 0.999, abs=1.2e-3)  # water of 60 °F has 0.9990 kg/L (IAPWS)


def test_the_interval_of_what_carbonate_reads_as_holds_that_of_the_carbonate() -> None:
    """By the slope: twice the uncertainty of a carbonate known to little is twice the width."""
    narrow, wide = (
        half_width(
            _float({"density": "1.2 kg/L"}, carbonate_mass_fraction=normal(0.02, one, "1"))["carbonate_reads_as"]
        )
        for one in (0.004, 0.008)
    )
    reads = _float({"density": "1.2 kg/L"}, carbonate_mass_fraction="2 %")["carbonate_reads_as"]
    own = half_width(reads)
    by_carbonate = NORMAL_95 * 0.004 * reads["value"] / 0.02
    assert narrow == pytest.approx(math.hypot(own, by_carbonate), rel=1e-3)
    assert wide == pytest.approx(math.hypot(own, 2 * by_carbonate), rel=1e-3)
    assert 0 < own < 0.3 * reads["value"]
