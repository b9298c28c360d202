"""What must add up when a hydrometer is read."""

from typing import Any

import pytest

from service.calculations.shared.given import MeasuredTemperature

Request = dict[str, Any]
Answer = dict[str, Any]


def hydrometer_reading(request: Request, answer: Answer) -> None:
    w = answer["strength"]["mass_fraction"]["value"]
    assert answer["draw_factor"]["value"] * w == pytest.approx(1.0, rel=1e-9)
    t = MeasuredTemperature.read(request["temperature"]).value
    here, at_20 = answer["density"]["value"], answer["density_at_20"]["value"]
    assert (here < at_20) == (t > 20) or here == pytest.approx(at_20, rel=1e-6)
