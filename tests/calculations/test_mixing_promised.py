"""What a mixing promises beside its words: hazards by strength and heat, spreads of its contents, and its links."""

from types import SimpleNamespace
from typing import Any, Final, cast

import pytest

from service.calculations.mixing.ice_spreads import least_ice
from service.calculations.mixing.mixing_contents import CARBONATE_LIMIT, Solid, read_solid
from service.calculations.mixing.mixing_links import links_from_stock
from service.calculations.mixing.mixing_notes import LOCAL_BOILING, STEAMS
from service.calculations.mixing.mixing_runs import LIGHTEST, Runs
from service.calculations.mixing.stock_mixing import CALCULATION
from service.calculations.mixing.stock_mixing_ice import CALCULATION as ICED
from service.calculations.mixing.vessel_notes import ROOM_FOR_FOAM
from service.calculations.shared.given import PlainMass, Purity
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import NORMAL_95
from service.chemistry.freezing import first_solid
from service.chemistry.vapour_pressure import water_vapour_pressure
from tests.calculations.asking import Answer, ask, assumed, cautions

M: Final = CALCULATION.name
I: Final = ICED.name  # noqa: E741 - as the other calculations are named
SOLID: Final[dict[str, Any]] = {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": 1, "temperature": "20 °C"}


def mixed(solid: dict[str, Any] | None = None, **contents: object) -> Answer:
    return ask(M, {"solid": SOLID | (solid or {}), **contents})


def water(mass: str = "1 kg", t: str = "20 °C") -> dict[str, str]:
    return {"mass": mass, "temperature": t}


def heel(strength: object, t: str = "20 °C", **more: object) -> dict[str, Any]:
    return {"alkali": "NaOH", "strength": {"mass_fraction": strength}, "temperature": t} | more


@pytest.mark.parametrize(("t", "given"), [("24 °C", False), ("26 °C", True), ("45 °C", True)])
def test_solid_may_boil_where_it_lies_in_liquid_of_25_degrees(t: str, *, given: bool) -> None:
    told = cautions(mixed({"mass_as_supplied": "1 g"}, existing_stock=heel("10 %", t, mass="2 kg")))
    assert ("local-boiling" in told) is given
    assert LOCAL_BOILING < STEAMS


@pytest.mark.parametrize(("mass", "given"), [("0.5 g", False), ("0.9 g", False), ("1.1 g", True), ("500 g", True)])
def test_what_is_hazardous_waste_is_told_from_a_thousandth_on(mass: str, *, given: bool) -> None:
    told = cautions(mixed({"mass_as_supplied": mass}, water=water("1 kg")))
    assert any("waste" in one for one in told) is given


@pytest.mark.parametrize(("alkali", "recalled"), [("NaOH", False), ("KOH", True)])
def test_the_limit_of_caustic_in_air_is_that_of_its_alkali(alkali: str, *, recalled: bool) -> None:
    solid = {"alkali": alkali, "purity": "90 %", "mass_as_supplied": "500 g"}
    told = cautions(mixed(solid, water=water("1 kg")))["caustic-mist"]
    assert ("KOH" in told["basis"]) is recalled


@pytest.mark.parametrize(("t", "with_water", "given"), [("95 °C", True, True), ("95 °C", False, False)])
def test_water_boils_where_it_meets_a_hot_stock(t: str, *, with_water: bool, given: bool) -> None:
    more: dict[str, Any] = {"water": water("10 g", "5 °C")} if with_water else {}
    told = cautions(mixed({"mass_as_supplied": "1 g"}, existing_stock=heel("5 %", t, mass="2 kg"), **more))
    assert ("water-warms-stock" in told) is given


def test_stock_that_comes_near_to_boiling_with_its_water_is_told_though_it_is_no_hotter_than_flashing() -> None:
    told = cautions(
        mixed({"mass_as_supplied": "1 g"}, existing_stock=heel("50 %", "89 °C", mass="2 kg"), water=water(t="89 °C"))
    )
    assert "water-warms-stock" in told
    cold = cautions(mixed({"mass_as_supplied": "1 g"}, existing_stock=heel("50 %", mass="2 kg"), water=water()))
    assert "water-warms-stock" not in cold


@pytest.mark.parametrize(("ice", "left"), [("10 g", False), ("950 g", True)])
def test_ice_is_told_to_remain_where_some_does(ice: str, *, left: bool) -> None:
    solid = {"mass_as_supplied": "5 g"}
    answer = mixed(solid, water=water("1 kg", "25 °C"), ice={"mass": ice})
    assert (answer["ice_left"]["value"] > 0) is left
    assert ("ice-left" in cautions(answer)) is left


def test_crystals_of_an_existing_stock_are_told_to_a_tenth_and_as_surely_as_they_are() -> None:
    sets = ask("stock-dilution", {"solutions": [heel("50 %", mass="1 kg")]})["first_solid_temperature"]
    for t, word in ((sets["low"] - 0.44, "holds"), (0.5 * (sets["low"] + sets["high"]), "may hold")):
        told = mixed({"mass_as_supplied": "1 g"}, existing_stock=heel("50 %", f"{t!r} °C", mass="2 kg"))
        (one,) = [one["message"] for one in told["cautions"] if "the existing stock" in one["message"]]
        assert one.startswith(f"At {t:.1f} °C")
        assert f"the existing stock {word} crystals" in one


def test_a_mixing_within_the_data_is_not_told_to_be_beyond_them() -> None:
    for solid in ({}, {"purity": {"value": 0.97, "uncertainty": 0.005, "unit": "1"}}):
        assert "beyond-source-range" not in cautions(mixed(solid, water=water("2 kg")))


def test_how_far_the_whole_is_from_boiling_is_a_difference_and_what_a_vessel_takes_up_is_of_its_mass() -> None:
    answer = mixed(water=water("4 kg"), vessel={"material": "nickel"})
    margin = answer["boiling_margin"]["value"]
    told = cautions(answer)
    assert f"stays {margin:.0f} K ({1.8 * margin:.0f} °F) below" in told["local-boiling"]["message"]
    assert "what the vessel takes up" not in told["heat-lost-unknown"]["message"]
    heavy = cautions(mixed(water=water("4 kg"), vessel={"material": "nickel", "mass": "1 kg"}))
    assert "what the vessel takes up" in heavy["heat-lost-unknown"]["message"]
    assert LIGHTEST == 1000.0  # of water, than which no mixing is lighter
    assert Runs.__doc__


def test_a_stock_by_volume_leaves_as_much_of_the_mass_open_as_it_does_by_itself() -> None:
    stock = heel({"low": 28, "high": 32, "unit": "%"}, volume="2 L")
    alone = ask("stock-dilution", {"solutions": [stock]})["solution"]["mass"]
    told = mixed({"mass_as_supplied": "100 g"}, existing_stock=stock)["mass"]
    assert told["high"] - told["value"] == pytest.approx(alone["high"] - alone["value"], rel=1e-6)


@pytest.mark.parametrize("half", [0.0, 0.01, 0.05])
@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_the_purest_and_driest_solid_holds_no_more_than_itself(alkali: Any, half: float) -> None:
    notes = Notes()
    purity = 0.98 if alkali == "NaOH" else 0.9
    asked = Solid(alkali=alkali, mass_as_supplied=PlainMass(1.0), purity=Purity(purity))
    plain = read_solid(asked, 20.0, notes)
    assert plain is not None
    body = {"alkali": alkali, "purity": {"low": purity - half, "high": min(1.0, purity + half), "unit": "1"}}
    told = mixed(body if half else {"alkali": alkali, "purity": purity}, water=water("3 kg"))
    assert told["peak_temperature"]["high"] >= told["peak_temperature"]["value"]
    hottest = plain.hottest
    assert hottest.purity + hottest.moisture <= 1.0 + 1e-12
    if alkali == "KOH":
        assert hottest.purity + hottest.moisture + CARBONATE_LIMIT == pytest.approx(1.0)


def test_a_purity_that_may_be_more_than_all_ends_at_all() -> None:
    """99.5 ± 1.96 % and 99.5 to 100 % have the same purest solid, and so the same upper end of the peak, nearly."""
    asked = {"value": 0.995, "uncertainty": 0.01, "unit": "1"}
    wide = mixed({"purity": asked}, water=water("4 kg"))["peak_temperature"]
    pure = mixed({"purity": 1}, water=water("4 kg"))["peak_temperature"]
    assert wide["high"] == pytest.approx(pure["high"], abs=0.02)


def test_a_stock_mixed_is_led_to_what_can_be_asked_of_it() -> None:
    links = links_from_stock("afterwards")
    assert {one.to for one in links} == {"stock-cooling", "concentration", "liquid-split"}
    assert all("afterwards" in one.description for one in links)


@pytest.mark.parametrize("name", [M, I])
def test_whoever_mixes_is_told_to_guard_skin_and_eyes(name: str) -> None:
    request: dict[str, Any] = {"solid": SOLID, "water": water("3 kg")}
    if name == I:
        request = {"solid": SOLID, "strength": {"mass_fraction": "30 %"}, "peak_limit": "80 °C"}
    assert {"alkali-burns", "rinse-with-water"} <= cautions(ask(name, request)).keys()


def test_an_open_purity_leaves_the_least_ice_lower_than_the_data_alone() -> None:
    def low(purity: Any) -> tuple[float, float]:
        request = {
            "solid": {"alkali": "NaOH", "purity": purity},
            "strength": {"mass_fraction": "45 %"},
            "solution_mass": "20 kg",
            "peak_limit": "70 °C",
        }
        told = ask(I, request)["ice_mass"]
        return told["value"], told["low"]

    sure, unsure = low(0.95), low({"value": 0.95, "uncertainty": 0.02, "unit": "1"})
    assert unsure[0] > sure[0]
    assert unsure[1] < sure[1] - 1.0
    assert least_ice.__doc__
    assert NORMAL_95 > 1.9


@pytest.mark.parametrize("limit", ["30 °C", "70 °C"])
def test_a_vessel_is_filled_to_nine_tenths_as_hot_as_it_gets(limit: str) -> None:
    """Also where no ice keeps the limit, and it gets hotter than that and takes more room."""
    request = {
        "solid": {"alkali": "NaOH", "purity": 1},
        "strength": {"mass_fraction": "50 %"},
        "vessel": {"material": "nickel", "volume": "20 L"},
        "peak_limit": limit,
    }
    answer = ask(I, request)
    assert answer["reachable"] is (limit == "70 °C")
    filled = answer["fill_volume"]["value"] / {"L": 20.0, "mL": 2e4}[answer["fill_volume"]["unit"]]
    assert 0.98 * ROOM_FOR_FOAM < filled < ROOM_FOR_FOAM * (1 + 1e-4)


def test_the_strength_of_a_peak_on_ice_is_that_which_freezes_there() -> None:
    """Of the liquid between the ice, and not of all there is."""
    stock = heel("50 %", "25 °C", mass="1 kg")
    request = {"solid": SOLID | {"mass_as_supplied": "50 g"}, "ice": {"mass": "5 kg"}, "existing_stock": stock}
    answer = ask(M, request, explain=True)
    (step,) = [one for one in answer["steps"] if one["name"] == "peak temperature"]
    strength, peak = step["inputs"]["strength"]["value"], answer["peak_temperature"]["value"]
    assert strength > 1.5 * 0.5 / 6.0
    assert first_solid("NaOH", strength).temperature == pytest.approx(peak, abs=0.05)


@pytest.mark.parametrize("t", [20.0, 50.0, 90.0])
def test_a_liquid_of_unknown_strength_between_ice_is_taken_to_have_the_vapour_of_water(t: float) -> None:
    """No caustic of any strength has more."""
    runs = SimpleNamespace(solid=SimpleNamespace(alkali="NaOH"))
    point = SimpleNamespace(liquid_mass_fraction=None, temperature=t)
    told = Runs._vapour_pressure(cast("Any", runs), cast("Any", point), 0.0)
    assert told == water_vapour_pressure("NaOH", 0.0, t)
    assert all(told > water_vapour_pressure("NaOH", w, t) for w in (0.01, 0.1, 0.3, 0.5))


@pytest.mark.parametrize(("alkali", "purity"), [("NaOH", 1), ("KOH", "90 %")])
def test_what_a_mixing_fills_is_its_mass_by_the_density_of_what_it_is(alkali: str, purity: object) -> None:
    told = mixed({"alkali": alkali, "purity": purity}, water=water("3 kg"))
    for volume, t in (("volume", 20.0), ("hot_volume", told["path"][-1]["temperature"]["value"])):
        stock = {"alkali": alkali, "strength": {"mass_fraction": told["strength"]["mass_fraction"]["value"]}}
        density = ask("concentration", stock | {"temperature": f"{t!r} °C"})["density"]
        filled = told["mass"]["value"] / density["value"]  # both in grams, of millilitres
        assert told[volume]["value"] == pytest.approx(filled, rel=1e-3)


def test_a_room_that_is_not_told_is_one_of_20_degrees_and_said_to_be() -> None:
    by_default, told = mixed(water=water()), mixed(water=water(), ambient="20 °C")
    assert assumed(by_default)["/ambient"] == "20 °C"
    assert "/ambient" not in assumed(told)
    assert by_default["peak_temperature"] == told["peak_temperature"]
