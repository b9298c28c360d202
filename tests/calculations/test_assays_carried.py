"""Intervals and words of assays: each spread is carried as the result itself moves, each figure is told as it is."""

import math
import re
from typing import Any, Final

import pytest

from service.chemistry import vapour_pressure, water
from tests.calculations.asking import Answer, ask, cautions, fault, message_of
from tests.calculations.caution_cases_of_titrations import A, soap
from tests.calculations.figures import NORMAL_95
from tests.calculations.quantities import half_width, normal

E: Final = "stock-assay/evaporation"
H: Final = "stock-assay/hydrometer"
ROOM: Final = {"ambient": "20 °C"}


def _stood(w: object = "30 %", **more: Any) -> Answer:
    strength = w if isinstance(w, dict) else {"mass_fraction": w}
    return ask(E, {"solution": {"alkali": "NaOH", "mass": "10 kg", "strength": strength}} | more)


def _float(reading: dict[str, Any], t: Any = "20 °C", **more: Any) -> Answer:
    return ask(H, {"alkali": "NaOH", "reading": reading, "temperature": t, **more})


# Stocks that stood.


def test_what_got_weaker_is_told_as_so_much_weaker_and_no_less() -> None:
    (told,) = re.findall(r"is (\S+) % weaker", message_of(_stood(mass_now="10.5 kg"), "stock-got-weaker"))
    assert float(told) == pytest.approx(100 * (1 - 10 / 10.5), abs=0.051)


def test_a_draw_not_well_known_moves_the_strength_as_another_draw_would() -> None:
    """A loss that was weighed for itself: the draws only count by what they left for it to come from."""
    lost = {"mass_change": "-1 kg"}
    known = _stood(drawn_masses=["3 kg"], **lost)["strength"]["mass_fraction"]
    guessed = _stood(drawn_masses=[{"low": 2.9, "high": 3.1, "unit": "kg"}], **lost)["strength"]["mass_fraction"]
    less, more = (_stood(drawn_masses=[one], **lost)["strength"]["mass_fraction"] for one in ("2.9 kg", "3.1 kg"))
    moved = 0.95 * (more["value"] - less["value"]) / 2  # 95 % of a rectangle
    assert moved > 0
    assert guessed["high"] - known["high"] == pytest.approx(moved, rel=0.01)


def test_the_spreads_of_the_draws_are_those_of_the_water() -> None:
    draws = [normal(3, 0.005, "kg"), normal(1, 0.012, "kg")]
    change = _stood(drawn_masses=draws, mass_now="5.9 kg")["water_change"]
    assert half_width(change) == pytest.approx(NORMAL_95 * 13, rel=1e-3)  # g: the root of 5² and 12²


def test_the_water_to_add_spans_that_it_went_before_the_first_draw_or_after_the_last() -> None:
    """Either end makes the strength as filled again: what is left, at its strength, with that water."""
    answer = _stood(drawn_masses=["4 kg"], mass_now="5.5 kg")
    back, strength = answer["water_to_add"], answer["strength"]["mass_fraction"]
    for end in ("low", "high"):
        assert 5.5 * strength[end] / (5.5 + back[end] / 1000) == pytest.approx(0.3)
    assert back["value"] == back["high"] == pytest.approx(500)
    assert back["low"] == pytest.approx(500 * 5.5 / 9.5)


@pytest.mark.parametrize("humidity", ["40 %", "70 %"])
def test_the_ends_of_where_it_dries_are_those_of_the_vapour_pressure(humidity: str) -> None:
    told = _stood("45 %", mass_change="0 g", relative_humidity=humidity, **ROOM)["loses_water_from"]
    air = float(humidity.partition(" ")[0]) / 100 * water.saturation_pressure(20.0)
    for end, side in (("low", 1), ("high", -1)):
        over = vapour_pressure.water_vapour_pressure("NaOH", 0.45, told[end])
        spread = vapour_pressure.water_vapour_pressure_half_width("NaOH", 0.45, told[end])
        assert over + side * spread == pytest.approx(air, rel=1e-6)


def test_a_strength_known_to_a_hair_moves_where_it_dries_by_a_hair() -> None:
    air = {"mass_change": "0 g", "relative_humidity": "40 %", **ROOM}
    exact = _stood("45 %", **air)["loses_water_from"]
    nearly = _stood({"mass_fraction": normal(0.45, 1e-5, "1")}, **air)["loses_water_from"]
    for end in ("low", "high"):
        assert nearly[end] == pytest.approx(exact[end], abs=0.01)


def test_where_it_dries_is_left_out_beyond_a_hundred_degrees() -> None:
    """Air of 95 °C that is all but saturated is damper than the vapour over strong stock at 100 °C."""
    air = {"ambient": "95 °C", "relative_humidity": "99 %"}
    assert "loses_water_from" not in _stood("45 %", mass_change="0 g", **air)
    assert 95 < _stood("5 %", mass_change="0 g", **air)["loses_water_from"]["value"] < 100


def test_what_cannot_have_dried_is_told_with_the_temperature_of_the_air() -> None:
    frost, cold, cool = (
        message_of(_stood("45 %", mass_now="9.5 kg", ambient=t), "change-contradicts-air")
        for t in ("-5 °C", "0.4 °C", "12 °C")
    )
    assert cold.startswith("At 0 °C (33 °F)")
    assert frost.startswith("At 0 °C (32 °F)")  # vapour pressures are known from there on
    assert cool.startswith("At 12 °C")


def test_a_gain_contradicts_air_that_is_drier_than_the_stock_by_more_than_the_spread_of_its_vapour() -> None:
    """Of both strengths the one it was filled with takes up more."""
    at = 20.0
    full = water.saturation_pressure(at)
    over = vapour_pressure.water_vapour_pressure("NaOH", 0.1, at)
    spread = vapour_pressure.water_vapour_pressure_half_width("NaOH", 0.1, at)
    for widths, given in ((0.97, False), (1.03, True)):
        humidity = (over - widths * spread) / full
        answer = _stood("10 %", mass_now="10.3 kg", relative_humidity=humidity, **ROOM)
        assert ("change-contradicts-air" in cautions(answer)) is given


def test_the_humidity_that_a_gain_contradicts_is_told() -> None:
    answer = _stood("10 %", mass_now="10.3 kg", relative_humidity="43 %", **ROOM)
    assert "in air of 43 % humidity" in message_of(answer, "change-contradicts-air")


# Soap.


@pytest.mark.parametrize("back", [None, "8 mL"])
def test_what_is_proportional_to_a_molar_mass_moves_with_it(back: str | None) -> None:
    """Free alkali is an amount times a molar mass over a mass: one per cent more of that is one per cent more."""
    more = (
        {}
        if back is None
        else {"method": "total-free", "back_titration": {"molarity": normal(0.1, 0.0001, "mol/L"), "volume": back}}
    )
    answer = ask(A, soap("10 mL", **more))
    budget = {one["input"]: one for one in answer["budget"]}
    share = answer["free_alkali"]["value"]
    for name, power in (("hydroxide_molar_mass", 1), ("sample_mass", -1)):
        line = budget[name]
        assert line["value"]["value"] * line["sensitivity"]["value"] == pytest.approx(power * share)
    assert budget["end_point_detection"]["value"]["value"] == 0  # a correction that is not made


def test_ethanol_boils_with_an_excess_of_acid_and_is_warmed_without() -> None:
    """ISO 684 boils the soap with the acid under reflux; ISO 456 dissolves it and titrates (abstracts)."""
    back = {"molarity": normal(0.1, 0.0001, "mol/L"), "volume": "8 mL"}
    total = ask(A, soap("10 mL", method="total-free", back_titration=back))
    caustic = ask(A, soap("2 mL"))
    assert "boils under a reflux condenser, with acid in it" in message_of(total, "ethanol-ignites")
    assert "reflux" not in message_of(caustic, "ethanol-ignites")
    assert "is warmed with the soap" in message_of(caustic, "ethanol-ignites")


@pytest.mark.parametrize("taken", ["1.37 mL", "2.03 mL", "3.77 mL"])
def test_so_much_free_alkali_is_told_to_a_thousandth_of_a_per_cent(taken: str) -> None:
    answer = ask(A, soap(taken))
    (told,) = re.findall(r"up to ([\d.]+) % as NaOH", message_of(answer, "free-alkali-in-soap"))
    assert float(told) == round(100 * answer["free_alkali"]["high"], 3)


# Hydrometers.


@pytest.mark.parametrize("carbonate", ["2 %", "6 %"])
def test_the_spread_of_what_carbonate_reads_as_is_part_of_that_of_the_strength(carbonate: str) -> None:
    without = _float({"density": "1.2 g/mL"})["strength"]["mass_fraction"]
    beside = _float({"density": "1.2 g/mL"}, carbonate_mass_fraction=carbonate)
    reads = beside["carbonate_reads_as"]
    strength = beside["strength"]["mass_fraction"]
    assert half_width(strength) == pytest.approx(math.hypot(half_width(without), half_width(reads)), rel=0.02)
    assert 0.03 < half_width(reads) / reads["value"] < 0.1  # Laliberté's own figures come out within 3 %


def test_a_temperature_not_well_known_moves_the_strength_as_another_temperature_would() -> None:
    rho = {"density": "1.45 g/mL"}
    exact, guessed = (_float(rho, t)["strength"]["mass_fraction"] for t in ("40 °C", normal(40, 3, "°C")))
    cold, hot = (_float(rho, t)["strength"]["mass_fraction"]["value"] for t in ("39 °C", "41 °C"))
    moved = NORMAL_95 * 3 * (hot - cold) / 2
    assert half_width(guessed) == pytest.approx(math.hypot(half_width(exact), moved), rel=0.01)


def test_a_density_at_its_own_temperature_is_refused_as_it_was_read() -> None:
    for read in ("0.95", "0.985"):
        request = {"alkali": "NaOH", "reading": {"density": f"{read} g/mL"}, "temperature": "20 °C"}
        assert f"that is {float(read):.4f} kg/L, no more than water" in fault(H, request, 422).detail
