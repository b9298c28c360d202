"""What must add up in a warming: the heater's energy is what was taken up and what was lost."""

from typing import Any

from service.calculations.shared.given import Duration, Efficiency, Power, Temperature

Request = dict[str, Any]
Answer = dict[str, Any]


def stock_warming(request: Request, answer: Answer) -> None:
    """Energies, powers and the way up."""
    from tests.contract.balances import ROUNDING, same  # noqa: PLC0415 - the table of all balances imports this module

    power = Power.read(request["heater_power"]).value
    said = request.get("efficiency")
    efficiency = 1.0 if said is None else Efficiency.read(said).value
    energy, time = answer["energy"]["value"], answer["time"]["value"]
    same(energy, power * time * 3.6, "energy drawn")
    taken, lost = answer["heat_taken_up"]["value"], answer["heat_lost"]["value"]
    same(taken + lost, energy * efficiency, "heat taken up and lost")
    assert 0 <= answer["thawing_heat"]["value"] <= taken * (1 + ROUNDING)
    path = answer["path"]
    times, temperatures = ([one[member]["value"] for one in path] for member in ("time", "temperature"))
    assert times == sorted(times)
    assert temperatures == sorted(temperatures)
    same(times[-1], time, "time at the end of the way")
    same(temperatures[-1], Temperature.read(request["target_temperature"]).value, "the target")
    solids = [one["solid_share"]["value"] for one in path if "solid_share" in one]  # not known of potash
    assert solids == sorted(solids, reverse=True)
    hold = answer.get("hold")
    assert (hold is None) == (request.get("hold_time") is None)
    if hold is not None:
        same(hold["time"]["value"], Duration.read(request["hold_time"]).value / 3600, "time of holding")
        same(hold["energy"]["value"], hold["duty"]["value"] * power * hold["time"]["value"] * 3.6, "energy of holding")
        same(hold["duty"]["value"] * power, answer["power_to_hold"]["value"], "power to hold")
    steady = answer.get("steady_temperature")
    if steady is not None:
        assert steady["value"] > temperatures[-1]
