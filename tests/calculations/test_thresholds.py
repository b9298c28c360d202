"""What stands on a threshold of temperature or strength is cautioned, however its unit was said."""

from typing import Any

import pytest

from service.chemistry.freezing import first_solid
from tests.calculations.asking import ask, refusal
from tests.calculations.caution_cases_of_cooling import GLASS, K, bath, cooling
from tests.calculations.caution_cases_of_warming import W, warming

BESIDE_50 = ["50 °C", "122 °F", "323.15 K", {"value": 122.00000000000001, "unit": "°F"}]
BESIDE_50 += [{"value": t, "unit": "°C"} for t in (49.99999999999999, 50.00000000000001)]
BESIDE_38 = ["38 °C", "100.4 °F", "311.15 K", {"value": 38.00000000000001, "unit": "°C"}]
BESIDE_55 = ["55 °C", "131 °F", "328.15 K", {"value": 54.99999999999999, "unit": "°C"}]


def _told(answer: dict[str, Any]) -> dict[str, str]:
    return {one["code"]: one["severity"] for one in answer["cautions"]}


@pytest.mark.parametrize("t", BESIDE_50)
def test_a_cooling_from_where_caustic_steams_is_cautioned_in_every_unit(t: object) -> None:
    told = _told(ask(K, cooling(t, vessel={"lid": False, "material": "hdpe"})))
    assert told["caustic-mist"] == "caution"
    assert told["uncovered-while-cooling"] == "caution"
    assert told["vessel-limit-near"] == "caution"  # of 60 °C, by 10 K
    assert told["vessel-limit-from-memory"] == "caution"


@pytest.mark.parametrize("t", BESIDE_55)
def test_glass_in_a_bath_colder_by_all_that_it_stands_is_cautioned_in_every_unit(t: object) -> None:
    assert "glass-may-crack" in _told(ask(K, cooling(t, vessel=GLASS, around=bath())))


@pytest.mark.parametrize("t", BESIDE_38)
def test_a_stock_of_what_it_is_told_to_cool_to_is_not_too_hot_in_any_unit(t: object) -> None:
    assert "stock-hot" not in _told(ask(K, cooling(to=t)))
    assert "stock-hot" not in _told(ask(W, warming(to=t)))


@pytest.mark.parametrize("t", BESIDE_50)
def test_a_warming_to_where_caustic_steams_is_cautioned_in_every_unit(t: object) -> None:
    told = _told(ask(W, warming(to=t)))
    assert told["caustic-mist"] == "caution"
    assert told["vessel-closed"] == "danger"
    assert told["vessel-limit-near"] == "caution"


@pytest.mark.parametrize("t", ["60 °C", "140 °F", "333.15 K", {"value": 60.00000000000001, "unit": "°C"}])
def test_a_stock_at_the_limit_of_its_vessel_is_near_it_and_not_beyond(t: object) -> None:
    told = _told(ask(K, cooling(t, vessel={"material": "hdpe"})))
    assert "vessel-limit-near" in told
    assert "vessel-limit-exceeded" not in told


@pytest.mark.parametrize("t", ["60 °C", "140 °F", "333.15 K"])
def test_what_is_at_the_limit_of_its_vessel_is_not_told_as_within_nothing_of_it(t: str) -> None:
    stock = {"alkali": "NaOH", "mass": "1 kg", "strength": {"mass_fraction": "50 %"}, "temperature": t}
    asked = [
        (K, cooling(t, vessel={"material": "hdpe"})),
        (W, warming(to=t)),
        ("stock-dilution", {"solutions": [stock, stock], "vessel": {"material": "hdpe"}}),
    ]
    for name, request in asked:
        (told,) = [one["message"] for one in ask(name, request)["cautions"] if one["code"] == "vessel-limit-near"]
        assert "at the limit of high-density polyethylene (HDPE), 60 °C (140 °F)" in told, name


def test_pouring_liquids_together_is_not_told_of_solid_at_the_wall() -> None:
    stock = {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": "50 %"}, "temperature": "25 °C"}
    asked = {"solution": stock, "target_strength": {"mass_fraction": "48 %"}}
    for vessel, code in (
        ({"material": "hdpe"}, "vessel-limit-near"),
        (
            {"material": "hdpe", "maximum_temperature": "46 °C"},
            "vessel-limit-exceeded",
        ),
    ):
        answer = ask("stock-adjustment", asked | {"vessel": vessel})
        (told,) = [one["message"] for one in answer["cautions"] if one["code"] == code]
        assert "solid" not in told
        assert "stages" not in told


LIQUID = first_solid("NaOH", 0.5).high


@pytest.mark.parametrize(("t", "unit"), [(LIQUID, "°C"), (LIQUID * 1.8 + 32, "°F"), (LIQUID + 273.15, "K")])
@pytest.mark.parametrize("rounding", [0.0, -1e-13])
def test_where_a_stock_is_sure_to_stay_liquid_no_crystals_are_cautioned_in_any_unit(
    t: float, unit: str, rounding: float
) -> None:
    said = {"value": t + rounding, "unit": unit}
    assert "crystals-in-solution" not in _told(ask(K, cooling(to=said, around=bath("ice-bath"))))
    assert "crystallises-in-store" not in _told(ask(W, warming(ambient=said)))


def test_what_a_refusal_names_as_sure_to_stay_liquid_draws_no_caution() -> None:
    (told,) = refusal(K, cooling(to="8 °C", around=bath("ice-bath"))).faults
    assert told.mend.startswith("give 14.4 °C or more")  # of 14.302 °C, and not what is nearest
    assert "crystals-in-solution" not in _told(ask(K, cooling(to="14.4 °C", around=bath("ice-bath"))))


def test_what_is_below_a_threshold_by_more_than_rounding_is_not_cautioned() -> None:
    told = _told(ask(K, cooling({"value": 49.9999, "unit": "°C"}, vessel={"lid": False})))
    assert "caustic-mist" not in told
    assert told["uncovered-while-cooling"] == "note"


WATER_BESIDE = {"alkali": "NaOH", "volume": "1 mL", "strength": {"mass_fraction": {"value": 0, "unit": "1"}}}
THINNED = "5 mL"
"""Of what a strength is told of; the cautions do not go with it."""


@pytest.mark.parametrize("strength", [0.005, 0.02, 0.05, 0.001])
@pytest.mark.parametrize("beside", [1.0, 1.0 - 1e-13, 1.0 + 1e-13])
def test_a_strength_at_a_limit_of_its_class_is_cautioned_beside_it_too(strength: float, beside: float) -> None:
    """A density in lb/gal leaves some 1e-14 of the strength; the limits are those of Regulation (EC) 1272/2008."""
    said = {"mass_fraction": {"value": beside * strength, "unit": "1"}}
    stock: dict[str, Any] = {"alkali": "NaOH", "volume": THINNED, "strength": said}
    at: dict[str, Any] = {
        "alkali": "NaOH",
        "volume": THINNED,
        "strength": {"mass_fraction": {"value": strength, "unit": "1"}},
    }
    asked: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
        ("stock-dilution", {"solutions": [stock]}, {"solutions": [at]}),
        ("stock-dilution", {"solutions": [stock, WATER_BESIDE]}, {"solutions": [at, WATER_BESIDE]}),
        (
            "concentration",
            {"alkali": "NaOH", "strength": stock["strength"]},
            {"alkali": "NaOH", "strength": at["strength"]},
        ),
    ]
    for name, one, other in asked:
        assert _told(ask(name, one)) == _told(ask(name, other))


@pytest.mark.parametrize(
    "strength",
    [
        {"temperature": {"unit": "°F", "value": 50.0}, "density": {"unit": "lb/gal", "value": 8.534385148371728}},
        {"temperature": "10.0 C", "density": "1.0226448816757667 g/cm3"},
    ],
)
def test_two_per_cent_told_by_a_density_are_kept_from_children(strength: dict[str, Any]) -> None:
    told = _told(ask("stock-dilution", {"solutions": [{"alkali": "NaOH", "volume": THINNED, "strength": strength}]}))
    assert {"keep-from-children", "store-closed"} <= told.keys()
