"""What is said of a stock that stood is what its figures say."""

import math
from typing import Any, Final

import pytest

from tests.calculations.asking import ask, assumed, cautions, fault, message_of

E: Final = "stock-assay/evaporation"


def _stood(**more: Any) -> dict[str, Any]:
    filled = {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": "45 %"}}
    return {"solution": filled} | more


@pytest.mark.parametrize(
    ("now", "severity"),
    [("9.953 kg", None), ("9.948 kg", "caution"), ("9.763 kg", "caution"), ("9.752 kg", "danger")],
)
def test_a_change_is_worth_a_word_from_half_a_point_of_superfat_on(now: str, severity: str | None) -> None:
    """10 over 9.95 kg is 0.5 % more, and over 9.756 kg it is 2.5 %."""
    found = cautions(ask(E, _stood(mass_now=now))).get("stock-got-stronger")
    assert (None if found is None else found["severity"]) == severity


@pytest.mark.parametrize(("now", "given"), [("10.045 kg", False), ("10.055 kg", True)])
def test_water_taken_up_is_told_with_how_much_weaker_it_got(now: str, given: bool) -> None:
    answer = ask(E, _stood(mass_now=now))
    assert ("stock-got-weaker" in cautions(answer)) is given
    if given:
        assert "0.5 % weaker" in message_of(answer, "stock-got-weaker")
        assert "55 g" in message_of(answer, "stock-got-weaker")


def test_a_contradiction_of_the_air_is_told_only_of_a_change_that_counts() -> None:
    dry = {"relative_humidity": "60 %", "ambient": "20 °C"}
    much, little = (ask(E, _stood(mass_now=now, **dry)) for now in ("9.94 kg", "9.96 kg"))
    assert "change-contradicts-air" in cautions(much)
    assert "change-contradicts-air" not in cautions(little)


def test_the_steps_of_a_stock_that_stood_lead_to_its_strength() -> None:
    answer = ask(E, _stood(drawn_masses=["3 kg", "1 kg"], mass_now="5.9 kg"), explain=True)
    steps = {one["name"]: one for one in answer["steps"]}
    told = answer["strength"]["mass_fraction"]
    late, early = (steps[f"strength now, drawn {when} the change"]["result"]["value"] for when in ("before", "after"))
    assert late == pytest.approx(told["value"]) == pytest.approx(0.45 * 6 / 5.9)
    assert early == pytest.approx(0.45 * 10 / 9.9)
    change = steps["water lost or taken up"]
    assert change["result"]["value"] == pytest.approx(answer["water_change"]["value"]) == pytest.approx(-100)
    assert [change["inputs"][name]["value"] for name in ("filled", "drawn", "now")] == pytest.approx([1e4, 4e3, 5.9e3])


def test_what_an_open_mixing_loses_is_half_of_the_most_there_can_be() -> None:
    hot = {"diameter": "20 cm", "duration": "20 min", "temperature": "80 °C"}
    answer = ask(E, _stood(mass_change="0 g", open_mixing=hot))
    assert answer["mixing_loss"]["value"] == pytest.approx(answer["mixing_loss"]["high"] / 2)
    assert answer["mixing_loss"]["low"] == 0
    assert assumed(answer)["/ambient"] == "20 °C"
    at_20 = ask(E, _stood(mass_change="0 g", open_mixing=hot, ambient="20 °C"))
    assert answer["mixing_loss"] == at_20["mixing_loss"]
    assert "/ambient" not in assumed(at_20)


def test_a_stock_of_all_that_dissolves_may_have_stood_without_a_change() -> None:
    full = {"solution": {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": "52 %"}}}
    assert ask(E, full | {"mass_now": "10 kg"})["strength"]["mass_fraction"]["value"] == pytest.approx(0.52)
    assert fault(E, full | {"mass_now": "9.99 kg"}, 422).code == "beyond-solubility"


def test_a_stock_by_its_volume_is_that_of_its_mass() -> None:
    """40 % NaOH has 1.4299 g/mL at 20 °C (CRC Handbook, 102nd ed. 2021)."""
    by_volume = {"alkali": "NaOH", "volume": "10 L", "strength": {"mass_fraction": "40 %"}}
    answer = ask(E, {"solution": by_volume, "mass_change": "0 g"})
    assert answer["mass"]["value"] == pytest.approx(14299, rel=1e-3)
    assert assumed(answer)["/solution/temperature"] == "20 °C"
    told = ask(E, {"solution": by_volume | {"temperature": "20 °C"}, "mass_change": "0 g"})
    assert told["mass"] == answer["mass"]
    assert "/solution/temperature" not in assumed(told)


def test_where_a_stock_loses_water_lies_higher_the_stronger_it_is_and_the_damper_the_air() -> None:
    def found(w: str, humidity: str) -> dict[str, float]:
        filled = {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": w}}
        told: dict[str, float] = ask(
            E, {"solution": filled, "mass_change": "0 g", "relative_humidity": humidity, "ambient": "20 °C"}
        )["loses_water_from"]
        return told

    weak, strong, damp = found("30 %", "40 %"), found("45 %", "40 %"), found("45 %", "60 %")
    assert weak["value"] < strong["value"] < damp["value"]
    for one in (weak, strong, damp):
        assert one["low"] < one["value"] < one["high"]
        assert one["high"] - one["low"] < 5


def test_a_spread_of_the_strength_widens_where_it_loses_water_to_either_side() -> None:
    """By the slope: what a stock as strong as its ends would dry from, beside the data's own spread."""

    def found(strength: dict[str, Any]) -> dict[str, float]:
        filled = {"alkali": "NaOH", "mass": "10 kg", "strength": strength}
        told: dict[str, float] = ask(
            E, {"solution": filled, "mass_change": "0 g", "relative_humidity": "40 %", "ambient": "20 °C"}
        )["loses_water_from"]
        return told

    sure = found({"mass_fraction": "45 %"})
    unsure = found({"mass_fraction": {"value": 0.45, "low": 0.43, "high": 0.47, "unit": "1"}})
    weak, strong = (found({"mass_fraction": w})["value"] for w in ("43 %", "47 %"))
    assert unsure["value"] == sure["value"]
    for end, other in (("low", weak), ("high", strong)):
        own, moved = abs(sure[end] - sure["value"]), abs(other - sure["value"])
        assert abs(unsure[end] - sure["value"]) == pytest.approx(math.hypot(own, 0.95 * moved), rel=0.06)
