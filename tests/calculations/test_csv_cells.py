"""Cells of CSV: texts that a spreadsheet would run are guarded and can be had back, numbers stay as they are."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.orders.csv_lines import Line, csv_text
from service.calculations.shared.csv_cells import FORMULA, had_back, harmless
from tests.calculations.test_production_plan import ARTICLE, told


def read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


@pytest.mark.parametrize("sku", ["=1+1", "+44", "-100", "@sum", "\uff1d1", "'-100"])
def test_an_sku_that_begins_with_a_sign_is_guarded_in_csv_and_stands_as_sent_in_json(sku: str) -> None:
    shelf = [{"material": "own oil", "sku": sku, "description": sku}]
    answer = told((sku, 10, None), recipes={sku: ARTICLE}, materials=shelf)
    line = next(one for one in answer["materials"] if one["material"] == "own oil")
    assert (line["sku"], line["description"], line["needed_for"]) == (sku, sku, [sku])
    for text in (answer["material_lines"], answer["purchase_lines"]):
        cells = next(one for one in read(text) if one["sku"] == f"'{sku}")
        assert (cells["description"], cells["needed_for"]) == (f"'{sku}", f"'{sku}")
        assert had_back(cells["sku"]) == sku
        assert (cells["quantity"], cells["unit_code"]) == ("1.000", "KGM")


@given(st.text(st.sampled_from("'=+-@a1 \t\uff0d"), max_size=6))
def test_taking_one_apostrophe_off_gives_every_text_back(text: str) -> None:
    assert not harmless(text).startswith(FORMULA)
    assert had_back(harmless(text)) == text


def test_quantities_and_codes_are_never_altered() -> None:
    assert csv_text([Line("-1", "a", "0.500", "KGM", "b")]).endswith("\r\n'-1,a,0.500,KGM,b\r\n")
