"""What must add up when a stock has stood."""

from typing import Any

import pytest

from service.calculations.shared.given import Mass, PlainMass

Request = dict[str, Any]
Answer = dict[str, Any]


def standing_stock(request: Request, answer: Answer) -> None:
    now, change = answer["mass"]["value"], answer["water_change"]["value"]
    told = answer["strength"]["mass_fraction"]
    assert answer["draw_factor"]["value"] * told["value"] == pytest.approx(1.0, rel=1e-9)
    assert answer["water_to_add"]["value"] == pytest.approx(max(0.0, -change), rel=1e-9, abs=1e-9 * now)
    if "mass" in request["solution"]:
        drawn = sum(Mass.read(one).value for one in request.get("drawn_masses", ())) * 1000
        filled = PlainMass.read(request["solution"]["mass"]).value * 1000
        assert now == pytest.approx(filled - drawn + change, rel=1e-9, abs=1e-9 * filled)
