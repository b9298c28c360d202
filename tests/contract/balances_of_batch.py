"""What must add up in a batch before it reacts."""

import math
from typing import Any

import pytest

from service.calculations.batch.blend_reading import content_of
from service.calculations.shared.given import Fraction, Mass, PlainMass

Request = dict[str, Any]
Answer = dict[str, Any]


def batch_temperature(request: Request, answer: Answer) -> None:
    """Masses, the hydroxide of the thinned stock, the ends of the interval, and what is told of which request."""
    liquids = request.get("liquids") or []
    stock = request["stock"]
    held = [Mass.read(one["mass"]).value for one in liquids]
    if stock.get("mass") is not None:
        drawn = PlainMass.read(stock["mass"]).value
        fats = math.fsum(Mass.read(one["mass"]).value for one in request["fats"])
        assert answer["mass"]["value"] == pytest.approx(1000 * math.fsum([fats, drawn, *held]), rel=1e-9)
        if stock["strength"].get("mass_fraction") is not None:
            water = math.fsum(mass * content_of(one["liquid"]).water for mass, one in zip(held, liquids, strict=True))
            hydroxide = drawn * Fraction.read(stock["strength"]["mass_fraction"]).value
            assert answer["diluted_strength"]["value"] * (drawn + water) == pytest.approx(hydroxide, rel=1e-9)
    warm = request.get("fats_temperature") is not None or any(
        one.get("temperature") is not None for one in request["fats"]
    )
    assert ("temperature" in answer) == ("dilution_rise" in answer) == warm
    assert ("fats_temperature_needed" in answer) == (request.get("wanted_temperature") is not None)
    rise = answer["reaction_rise"]
    assert 0 <= rise["low"] <= rise["value"] <= rise["high"]
    if warm:
        t = answer["temperature"]
        assert t["low"] <= t["value"] <= t["high"]
        assert (answer["dilution_rise"]["value"] > 1e-9) <= (answer["dilution_heat"]["value"] > 0)
    for one in answer["solid_fats"]:
        ends = [one[name]["value"] for name in ("melts_from", "melts_to") if name in one]
        assert ends
        assert ends == sorted(ends)
        assert one["fat"] not in answer["melting_unknown"]
