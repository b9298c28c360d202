"""What must add up when solutions are poured together, and when a stock is brought to another strength."""

import math
from typing import Any

import pytest

from service.calculations.shared.given import Fraction, PlainMass, Temperature

Request = dict[str, Any]
Answer = dict[str, Any]


def stock_dilution(request: Request, answer: Answer) -> None:
    """Masses and hydroxide, the highest temperature, and the side of the margin."""
    whole = answer["solution"]["mass"]["value"]
    steam = answer["water_boiled_off"]["value"] if "water_boiled_off" in answer else 0.0
    lines = request["solutions"]
    if all(one.get("mass") is not None for one in lines):
        poured = math.fsum(PlainMass.read(one["mass"]).value for one in lines) * 1000
        assert whole + steam == pytest.approx(poured, rel=1e-9), "what is poured"
        if all(one["strength"].get("mass_fraction") is not None for one in lines):
            hydroxide = math.fsum(
                1000 * PlainMass.read(one["mass"]).value * Fraction.read(one["strength"]["mass_fraction"]).value
                for one in lines
            )
            held = whole * answer["solution"]["strength"]["mass_fraction"]["value"]
            assert held == pytest.approx(hydroxide, rel=1e-9, abs=1e-12), "hydroxide of the whole"
    hottest = answer["peak_temperature"]["value"]
    assert hottest >= answer["solution"]["temperature"]["value"] - 1e-9
    given = [Temperature.read(one["temperature"]).value for one in lines if one.get("temperature") is not None]
    assert all(hottest >= t - 1e-6 for t in given), "the warmest of what is poured"
    assert answer["boils"] == (answer["boiling_margin"]["value"] <= 0)
    assert answer["ice_left"]["value"] <= whole
    assert not (answer["fully_liquid"] and answer["ice_left"]["value"])


def stock_adjustment(request: Request, answer: Answer) -> None:
    """The mass and the hydroxide afterwards, and that both ways of drawing take the same hydroxide."""
    after = answer["solution"]
    added = answer["add"]["mass"]["value"]
    if request["solution"].get("mass") is not None and not answer["boils"]:
        present = PlainMass.read(request["solution"]["mass"]).value * 1000
        assert after["mass"]["value"] == pytest.approx(present + added, rel=1e-9), "the stock and what is added"
    target = 1 / answer["target_draw_factor"]["value"]
    if not answer["boils"]:
        assert after["strength"]["mass_fraction"]["value"] == pytest.approx(target, rel=1e-9), "the wanted strength"
    drawn = answer["draw_factor"]["value"] * answer["present_strength"]["mass_fraction"]["value"]
    assert drawn == pytest.approx(1, rel=1e-9), "hydroxide of a draw"
    correction = answer["draw_correction"]["value"] * answer["target_draw_factor"]["value"]
    assert correction == pytest.approx(answer["draw_factor"]["value"], rel=1e-9), "the corrected draw"
    assert (answer["add"]["what"] == "nothing") == (added == 0)
