"""The superfat of a split whose fats are known by their alkali alone: as uncertain as that alkali is said to be."""

import pytest

from service.calculations.batch.liquid_split import calculate
from tests.calculations.asking import Answer, ask

TESTED = (calculate,)
"""What these tests are of: mutants of its modules meet them first."""
FATS = [{"fat": "olive-oil", "mass": "700 g"}, {"fat": "coconut-oil", "mass": "300 g"}]
HALF = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}


def split(alkalis: object, **more: object) -> Answer:
    return ask("liquid-split", {"alkalis": alkalis, "stocks": [HALF], "superfat": "5 %", **more})


def needed(*alkalis: dict[str, object]) -> list[object]:
    """What saponification answers, sent on as it is."""
    answer = ask("saponification", {"fats": FATS, "superfat": "5 %", "alkalis": list(alkalis)})
    found: list[object] = answer["alkalis"]
    return found


def test_the_interval_of_the_alkali_carries_that_of_the_fats_into_the_superfat() -> None:
    """The same fats, named, and known by the interval of the alkali they need: the fats' rectangles are then told as
    a normal of the same 95 %, which moves the ends by a little."""
    alkalis = needed({"alkali": "NaOH"})
    told, named = split(alkalis)["superfat"], split(alkalis, fats=FATS)["superfat"]
    assert told["value"] == pytest.approx(named["value"], abs=1e-12)
    assert told["low"] == pytest.approx(named["low"], abs=2e-4)
    assert told["high"] == pytest.approx(named["high"], abs=2e-4)
    assert told["high"] - told["low"] > 0.03


def test_two_alkalis_err_together_with_their_fats() -> None:
    both = needed({"alkali": "NaOH", "mole_share": 0.5}, {"alkali": "KOH", "mole_share": 0.5, "purity": "90 %"})
    one, two = split(needed({"alkali": "NaOH"}))["superfat"], split(both)["superfat"]
    assert two["low"] == pytest.approx(one["low"], abs=1e-9)
    assert two["high"] == pytest.approx(one["high"], abs=1e-9)


def test_the_spread_of_the_stock_comes_on_top() -> None:
    alkalis = needed({"alkali": "NaOH"})
    uncertain = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %", "uncertainty": "0.5 %"}}
    wide = ask("liquid-split", {"alkalis": alkalis, "stocks": [uncertain], "superfat": "5 %"})["superfat"]
    narrow = split(alkalis)["superfat"]
    # 0.5 % of 50 % is 1 % of the alkali, 0.95 % of the need, for one standard uncertainty
    half = (narrow["high"] - narrow["low"]) / 2
    assert (wide["high"] - wide["low"]) / 2 == pytest.approx((half**2 + (1.96 * 0.0095) ** 2) ** 0.5, rel=0.01)


def test_alkali_without_an_interval_tells_no_interval_of_the_superfat() -> None:
    """The stock's spread alone would be too narrow, since the fats are known as ranges."""
    uncertain = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %", "uncertainty": "0.5 %"}}
    request = {"alkalis": [{"alkali": "NaOH", "mass": "100 g"}], "stocks": [uncertain], "superfat": "5 %"}
    assert ask("liquid-split", request)["superfat"] == {"value": pytest.approx(0.05), "unit": "1"}
