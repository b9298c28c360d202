"""What a warming says of its solution, its vessel and the air beside it."""

from typing import Final

import pytest

from service.calculations.keeping.stock_warming import CALCULATION
from service.calculations.keeping.warming_losses import HUMIDITY
from service.calculations.keeping.warming_notes import STEAMS
from service.calculations.stock.solutions import SOLUBILITY
from service.chemistry.freezing import KNOTS
from tests.calculations.asking import ask, cautions
from tests.calculations.caution_cases_of_cooling import K, cooling
from tests.calculations.caution_cases_of_warming import held, warming
from tests.calculations.quantities import celsius

W: Final = CALCULATION.name
POT: Final = {"material": "stainless-steel", "diameter": "18 cm", "height": "25 cm", "mass": "1 kg", "lid": False}


@pytest.mark.parametrize(("w", "burns"), [("50 %", "From 5 % NaOH"), ("3 %", "From 2 % NaOH"), ("0 %", None)])
def test_a_warming_says_what_its_solution_does_to_skin(w: str, burns: str | None) -> None:
    """By the classes of Regulation (EC) 1272/2008, Annex VI."""
    told = cautions(ask(W, warming(w)))
    assert ("alkali-burns" in told) is (burns is not None)
    assert burns is None or burns in told["alkali-burns"]["message"]


def test_only_metal_that_caustic_eats_gives_off_hydrogen() -> None:
    for material, given in (("aluminium", True), ("hdpe", False), ("stainless-steel", False)):
        told = cautions(ask(W, held(material)))
        assert ("hydrogen" in told) is given
        assert not given or "Do not heat caustic in it" in told["hydrogen"]["message"]


def test_stock_that_is_warmed_to_where_it_steams_is_told_of_its_mist() -> None:
    assert STEAMS == 50
    assert "caustic-mist" in cautions(ask(W, warming(to="50 °C")))
    assert "caustic-mist" not in cautions(ask(W, warming(to="49 °C")))


@pytest.mark.parametrize("room", [0.0, 0.5, 1.5, 20.0])
def test_an_open_stock_hardly_warmer_than_its_room_is_held_by_what_it_loses_where_it_cools(room: float) -> None:
    """Warming and cooling reckon the air's vapour each for itself; in the cold it counts most."""
    assert HUMIDITY == 0.5
    hot = room + 2.0
    cool = cooling(celsius(hot), celsius(room + 1.0), "5 %") | {"vessel": POT}
    cool["surroundings"] = {"medium": "still-air", "temperature": celsius(room)}
    warm = warming("5 %", celsius(room), celsius(hot), ambient=celsius(room)) | {"vessel": POT}
    warm["solution"]["mass"] = "5 kg"
    held_by, lost = ask(W, warm)["power_to_hold"], ask(K, cool)["heat_loss_at_start"]
    for end in ("low", "value", "high"):
        assert held_by[end] == pytest.approx(lost[end], rel=2e-3)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_the_step_of_the_first_solid_leads_to_it_up_to_all_that_dissolves(alkali: str) -> None:
    top = SOLUBILITY[alkali]  # type: ignore[index]
    assert KNOTS[alkali][-1] > top  # type: ignore[index]
    for w in (0.0, 0.1, 0.37, top):
        answer = ask(W, warming(f"{100 * w} %", "35 °C", "45 °C", alkali=alkali), explain=True)
        (step,) = [one for one in answer["steps"] if one["name"] == "first solid"]
        given = {name: one["value"] for name, one in step["inputs"].items()}
        assert given["w0"] <= w < given["w1"]
        way = (w - given["w0"]) / (given["w1"] - given["w0"])
        assert step["result"]["value"] == pytest.approx(given["t0"] + way * (given["t1"] - given["t0"]), abs=1e-6)
        assert step["result"]["value"] == pytest.approx(answer["first_solid_temperature"]["value"], abs=1e-6)


@pytest.mark.parametrize(("target", "severity"), [("38 °C", None), ("39 °C", "caution"), ("91 °C", "danger")])
def test_stock_that_is_warmed_beyond_what_fats_and_milk_bear_is_told_so(target: str, severity: str | None) -> None:
    answer = ask(W, warming(to=target, vessel={"maximum_temperature": "120 °C"}, heater_power="3 kW"))
    told = cautions(answer).get("stock-hot")
    assert (told and told["severity"]) == severity
