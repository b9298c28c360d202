"""What must add up in a cooling: heat and ice, the curve, and the coefficient that says the same as the time."""

import math
from typing import Any

from service.calculations.shared.given import Temperature

Request = dict[str, Any]
Answer = dict[str, Any]
MELTING = 333.43
"""kJ/kg, of ice at 0 °C (IAPWS-95 and ice Ih)."""


def stock_cooling(request: Request, answer: Answer) -> None:
    """The curve falls from start to target, and never passes what it comes to rest at."""
    from tests.contract.balances import same  # noqa: PLC0415 - the table of all balances imports this module

    path = answer["path"]
    times, temperatures = ([one[member]["value"] for one in path] for member in ("time", "temperature"))
    assert times == sorted(times)
    assert temperatures == sorted(temperatures, reverse=True)
    same(times[-1], answer["time"]["value"], "time at the end of the way")
    same(temperatures[-1], Temperature.read(request["target_temperature"]).value, "the target")
    rest = answer["resting_temperature"]["value"]
    assert temperatures[-1] > rest
    heat = answer["heat_given_off"]["value"]
    capacity = heat * 1000 / (temperatures[0] - temperatures[-1])
    assert heat > 0
    assert ("ice_melted" in answer) == (request["surroundings"]["medium"] == "ice-bath")
    if "ice_melted" in answer:
        assert abs(answer["ice_melted"]["value"] * MELTING / 1000 / heat - 1) < 1e-3
    baths = [one.get("bath_temperature", {}).get("value") for one in path]
    assert (baths[0] is None) == (request["surroundings"].get("bath_mass") is None)
    if baths[0] is not None:
        assert baths == sorted(baths)
        assert baths[-1] < rest < temperatures[-1]
    elif request.get("readings") is None:
        newton = capacity / (times[-1] * 3600) * math.log((temperatures[0] - rest) / (temperatures[-1] - rest))
        same(answer["heat_loss_coefficient"]["value"], newton, "Newton's coefficient", of=newton * 1e3)
