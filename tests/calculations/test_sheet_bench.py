"""What a batch sheet tells for the bench: care of caustic, acids and waxes, stocks that lack, and its warmth."""

from typing import Any

import pytest

from service.calculations.shared.standing_cautions import HANDLING
from tests.calculations.asking import refusal
from tests.calculations.test_batch_sheet import ALKALI, NAME, OIL, SHEET, STOCK, recipe, told, weights
from tests.calculations.test_sheet_told import BOTH, POTASH

ACID: dict[str, Any] = {"acid": "citric-acid-anhydrous", "use_level": "1 %"}


def test_care_is_told_of_what_is_at_the_bench() -> None:
    wax = [OIL | {"share": 0.9}, {"fat": "beeswax", "share": 0.1}]
    alone, beside, other = told(stocks=[]), told(**BOTH), told(**recipe(fats=wax, acids=[ACID]))
    for answer, solid in ((alone, True), (beside, True), (other, False)):
        said = [one["code"] for one in answer["cautions"]]
        assert {one.message for one in HANDLING} <= {one["message"] for one in answer["cautions"]}
        assert ("solid-into-water" in said) == solid
        assert ("aqueous-alkali-hardly-saponifies" in said) == ("acid-heats-caustic" in said) == (not solid)


def test_every_stock_that_lacks_is_told_and_what_is_left_is_what_was_not_drawn() -> None:
    short = SHEET | BOTH | {"stocks": [one | {"mass": "10 g"} for one in (STOCK, POTASH)]}
    assert {one.pointer for one in refusal(NAME, short).faults} == {"/stocks/0/mass", "/stocks/1/mass"}
    (left,) = told(stocks=[STOCK | {"mass": "500 g"}])["stocks_left"]
    assert left["mass"]["value"] == pytest.approx(500 - 2 * ALKALI)


def test_a_batch_is_as_warm_as_was_wanted_and_its_acid_is_neutralised() -> None:
    """Citric acid has 192.124 g/mol (IUPAC atomic weights) and takes three of hydroxide: 10 g of it 6.246 g of NaOH."""
    answer = told(**recipe(acids=[ACID]), wanted_temperature="35 °C")
    assert answer["temperatures"]["batch"]["value"] == 35
    assert weights(answer)["NaOH-stock"] == pytest.approx(2 * (ALKALI + 30 / 192.124 * 39.997), rel=1e-4)
