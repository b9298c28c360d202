"""What must add up when a stock is mixed with ice."""

from typing import Any

import pytest

Request = dict[str, Any]
Answer = dict[str, Any]


def ice_mixing(request: Request, answer: Answer) -> None:
    added = sum(answer[name]["value"] for name in ("mass_as_supplied", "ice_mass", "water_mass"))
    whole = answer["mass"]["value"]
    if request.get("existing_stock") is not None:
        assert added < whole
    else:
        assert added == pytest.approx(whole, rel=1e-9)
    if not answer["boiling_margin"]["value"] <= 0:
        assert answer["fill_volume"]["value"] > 0
    assert answer["reachable"] == ("stages" not in answer)
    assert answer["reachable"] == ("heat_to_remove" not in answer)
    if not answer["reachable"]:
        assert answer["water_mass"]["value"] == pytest.approx(0, abs=1e-9 * whole)
        portions = sum(one["mass_as_supplied"]["value"] for one in answer["stages"])
        assert not answer["stages"] or portions == pytest.approx(answer["mass_as_supplied"]["value"], rel=1e-3)
    if "headspace" in answer:
        assert answer["headspace"]["value"] >= 0
