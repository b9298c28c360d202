"""Like poured into like: the values tell of no difference, and the strengths may have one all the same."""

from typing import Final

import pytest

from service.calculations.mixing.poured import Pour
from service.calculations.mixing.pouring import Pouring
from service.calculations.shared.messages import AlkaliName
from service.chemistry.blending import Part
from service.chemistry.meeting import meet
from service.chemistry.uncertainty import Combined
from tests.calculations.asking import Answer, ask

KNOWN: Final = {"alkali": "NaOH", "mass": "10 kg", "temperature": "30 °C"}


def poured(*strengths: Answer) -> Answer:
    return ask("stock-dilution", {"solutions": [{**KNOWN, "strength": one} for one in strengths]})


def spread(w: float, uncertainty: float) -> Answer:
    return {"mass_fraction": {"value": w, "uncertainty": uncertainty, "unit": "1"}}


def exact(w: float) -> Answer:
    return {"mass_fraction": w}


@pytest.mark.parametrize("apart", [0.01, 0.02])
def test_the_interval_holds_what_two_strengths_that_look_alike_give_off(apart: float) -> None:
    """Both are 30 %, and one standard uncertainty to either side of it in truth, so that both must be held."""
    told = poured(spread(0.3, apart / 2), spread(0.3001, apart / 2))
    true = poured(exact(0.3 - apart / 2), exact(0.3 + apart / 2))
    for name in ("heat_released", "peak_temperature"):
        assert told[name]["low"] <= true[name]["value"] <= told[name]["high"]
    assert told["heat_released"]["high"] > true["heat_released"]["value"]
    told_t, true_t = (one["solution"]["temperature"] for one in (told, true))
    assert told_t["low"] <= true_t["value"] <= told_t["high"]


def test_one_stock_in_two_vessels_gives_off_nothing() -> None:
    """Its strength errs once: however little it is known, both have the same."""
    told = poured(spread(0.3, 0.01), spread(0.3, 0.01))
    assert told["heat_released"].keys() == {"value", "unit"}
    assert abs(told["heat_released"]["value"]) < 1e-6


def test_strengths_far_apart_are_as_uncertain_as_their_slopes_say() -> None:
    """What bends is a small part there: the upper side is longer by less than a tenth."""
    heat = poured(spread(0.5, 0.002), exact(0.1))["heat_released"]
    assert heat["value"] - heat["low"] <= heat["high"] - heat["value"] < 1.1 * (heat["value"] - heat["low"])


def test_volumes_of_what_looks_alike_may_come_to_less() -> None:
    """Volumes were given and are known; the mixture of 29 and 31 % is denser than the mean of both."""
    litres = {"alkali": "NaOH", "volume": "3 L", "temperature": "20 °C"}

    def told(*strengths: Answer) -> Answer:
        answer = ask("stock-dilution", {"solutions": [{**litres, "strength": one} for one in strengths]})
        return dict(answer["solution"]["volume"])

    wide, true = told(spread(0.3, 0.01), spread(0.3001, 0.01)), told(exact(0.29), exact(0.31))
    assert true["value"] < told(exact(0.3), exact(0.3001))["value"]
    assert wide["low"] < true["value"] < wide["high"]


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize(("strength", "t"), [(0.15, 20.0), (0.28, 27.6), (0.35, 60.0), (0.45, 60.0)])
@pytest.mark.parametrize("spread", [0.001, 0.008])
def test_the_upper_end_of_a_peak_is_the_highest_upper_end_on_the_way(
    alkali: AlkaliName, strength: float, t: float, spread: float
) -> None:
    """Near a warm stock the rise goes with a s - b s**2: a steeper one is highest farther from it, and gains."""
    stock = Pour(Part(1.0, strength, t), Combined(spread, 0.0))
    pouring = Pouring(alkali, [stock, Pour(Part(0.4, 0.0, 20.0), Combined(0.0, 0.0))])
    parts = [one.part for one in pouring.pours]
    on_the_way = [meet(alkali, parts, 0, 1, share / 100.0) for share in range(1, 100)]
    value, low, high = pouring.peak
    assert low <= value <= high
    assert max(one.temperature + pouring.half_width_at(one) for one in on_the_way) < high + 0.03
