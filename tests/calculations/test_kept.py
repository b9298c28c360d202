"""What is kept between requests shows in nothing but speed."""

from service.calculations import concentration, stocks
from tests.calculations.asking import ask

SOLUTION = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}, "temperature": "21 °C"}
BATCH = {
    "alkalis": [{"alkali": "NaOH", "mass": "138.6 g"}],
    "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}, "temperature": "11 °C"}],
}


def test_a_solution_asked_for_again_is_told_in_the_units_and_digits_of_each_request() -> None:
    first = ask("concentration", SOLUTION)
    us = ask("concentration", SOLUTION, units="us")
    short = ask("concentration", SOLUTION, digits=3)
    assert us["density"]["unit"] == "lb/gal"
    assert us["boiling_point"]["value"] == first["boiling_point"]["value"] * 1.8 + 32
    assert short["density"]["value"] == float(f"{first['density']['value']:.3g}")
    assert ask("concentration", SOLUTION) == first
    concentration._known.cache_clear()
    assert ask("concentration", SOLUTION, units="us") == us


def test_answers_to_the_same_solution_do_not_share_what_is_their_own() -> None:
    marked = ask("concentration", SOLUTION | {"reference": "jug 1"}, explain=True)
    plain = ask("concentration", SOLUTION)
    assert marked["reference"] == "jug 1"
    assert marked["steps"]
    assert not {"reference", "steps"} & plain.keys()


def test_a_solution_is_told_apart_by_everything_that_bears_on_it() -> None:
    others = (
        SOLUTION | {"temperature": "22 °C"},
        SOLUTION | {"alkali": "KOH"},
        SOLUTION | {"strength": {"mass_fraction": "50 %", "uncertainty": "0.5 %"}},
        SOLUTION | {"strength": {"mass_fraction": {"low": 49.5, "high": 50.5, "unit": "%"}}},
        SOLUTION | {"strength": {"water_ratio": "1:1"}},
    )
    told = [ask("concentration", one) for one in (SOLUTION, *others)]
    for index, one in enumerate(told[:-1]):
        assert all(one != other for other in told[index + 1 : -1])
    assert told[-1]["mass_fraction"] == told[0]["mass_fraction"]


def test_a_stock_drawn_from_again_gives_the_same_answer() -> None:
    stocks.known_stock.cache_clear()
    first = ask("liquid-split", BATCH)
    assert ask("liquid-split", BATCH) == first
    assert stocks.known_stock.cache_info().hits
    codes = [one["code"] for one in first["cautions"]]
    assert codes.count("crystals-in-solution") == 1
