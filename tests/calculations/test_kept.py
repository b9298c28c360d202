"""What is kept of a stock between requests shows in nothing but speed."""

from service.calculations.stock import stocks
from tests.calculations.asking import ask

BATCH = {
    "alkalis": [{"alkali": "NaOH", "mass": "138.6 g"}],
    "stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}, "temperature": "11 °C"}],
}


def test_a_stock_drawn_from_again_gives_the_same_answer() -> None:
    stocks.known_stock.cache_clear()
    first = ask("liquid-split", BATCH)
    assert ask("liquid-split", BATCH) == first
    assert stocks.known_stock.cache_info().hits
    codes = [one["code"] for one in first["cautions"]]
    assert codes.count("crystals-in-solution") == 1
