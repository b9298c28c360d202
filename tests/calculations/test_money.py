"""Money: decimal texts, lines that add up to the last digit, halves to even; and the cost of a batch by hand."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.orders.money import cost_of, minor_unit, share_of, total_of
from service.reference.currencies import CURRENCIES
from tests.calculations.asking import ask, assumed, cautions, fault, refusal
from tests.calculations.test_batch_sheet import ALKALI, NAME, SHEET, recipe


def price(material: str, amount: Any = "5.00", currency: str = "EUR", **more: Any) -> dict[str, Any]:
    return {"material": material, "price": {"amount": amount, "currency": currency, **more}}


def told(*prices: dict[str, Any], **more: Any) -> dict[str, Any]:
    return ask(NAME, SHEET | {"prices": list(prices)} | more)


@pytest.mark.parametrize(
    ("mass", "amount", "per", "currency", "due"),
    [
        (0.333333, "12.00", 1.0, "EUR", "4.00"),  # 3.999996
        (1.0, "0.125", 1.0, "EUR", "0.12"),  # halves to even
        (1.0, "0.135", 1.0, "EUR", "0.14"),
        (1.0, "2.5", 1.0, "JPY", "2"),
        (1.0, "3.5", 1.0, "JPY", "4"),
        (0.25, "1.0005", 1.0, "KWD", "0.250"),  # 0.250125
        (0.1 + 0.2, "10", 1.0, "USD", "3.00"),  # no binary fraction between
        (2.0, "62.00", 25.0, "EUR", "4.96"),
    ],
)
def test_a_line_is_rounded_once_to_the_minor_unit(
    mass: float, amount: str, per: float, currency: str, due: str
) -> None:
    """By hand, in decimals; minor units by ISO 4217."""
    assert str(cost_of(mass, amount, per, currency)) == due


@given(
    masses=st.lists(st.floats(1e-6, 1e4), min_size=1, max_size=30),
    amount=st.decimals("0.0001", "9999", places=4, allow_nan=False),
    currency=st.sampled_from(sorted(CURRENCIES)),
)
def test_a_total_is_the_exact_sum_of_its_lines_in_any_order(
    masses: list[float], amount: Decimal, currency: str
) -> None:
    lines = [cost_of(mass, str(amount), 1.0, currency) for mass in masses]
    total = total_of(lines, currency)
    assert total == sum(lines) == total_of(reversed(lines), currency)
    assert abs(total - Decimal(sum(masses)) * amount) <= len(lines) * (minor_unit(currency) / 2 + amount / 1000000)
    assert abs(share_of(total, 7, currency) * 7 - total) <= minor_unit(currency) * 4


def test_a_batch_costs_what_its_lines_cost() -> None:
    """By hand: 1 kg of oil at 4.20, 128.68 g of NaOH at 3.00 per kg (0.386), water unpriced; 4.59 over 10 bars."""
    answer = told(
        price("own oil", "4.20"),
        price("NaOH", "75.00", per="25 kg"),
        scale_to={"fat_mass": "1 kg", "bar_mass": "138 g"},
    )
    assert [one["cost"]["amount"] for one in answer["cost"]["lines"]] == ["4.20", "0.39"]
    assert answer["cost"]["lines"][1]["mass"]["value"] == pytest.approx(ALKALI)
    assert answer["cost"]["total"] == {"amount": "4.59", "currency": "EUR"}
    assert answer["cost"]["by_bar"] == {"amount": "0.46", "currency": "EUR"}
    assert answer["cost"]["without_price"] == ["distilled-water"]
    assert "price-missing" not in cautions(answer)
    assert assumed(answer)["/prices"] == "NaOH for NaOH-stock"


def test_a_stock_that_has_a_price_is_priced_as_stock() -> None:
    answer = told(price("NaOH-stock", "1.00"), price("NaOH", "100.00"))
    assert answer["cost"]["lines"][0]["cost"]["amount"] == "0.26"  # 257.4 g
    assert cautions(answer)["price-missing"]["severity"] == "note"


REFUSED: list[tuple[list[dict[str, Any]], str, str]] = [
    ([price("own oil"), price("NaOH", currency="USD")], "/prices/1/price/currency", "two-currencies"),
    ([price("own oil", currency="EUX")], "/prices/0/price/currency", "unknown-identifier"),
    ([price("own oil"), price("own oil")], "/prices/1/material", "contradiction"),
    ([price("owl oil")], "/prices/0/material", "unknown-identifier"),
]


@pytest.mark.parametrize(("prices", "pointer", "code"), REFUSED)
def test_prices_that_do_not_fit_are_refused(prices: list[dict[str, Any]], pointer: str, code: str) -> None:
    found = fault(NAME, SHEET | {"prices": prices}, 422)
    assert (found.pointer, found.code) == (pointer, code)


@pytest.mark.parametrize("amount", [12.5, "-1", "1,50", "1e3", "", "12.", "1.1234567", " 5"])
def test_money_that_is_no_plain_decimal_text_is_refused(amount: Any) -> None:
    refused = refusal(NAME, SHEET | {"prices": [price("own oil", amount)]})
    assert refused.status == 400
    assert refused.faults[0].pointer == "/prices/0/price/amount"


def test_the_order_of_prices_decides_nothing() -> None:
    first, second = price("own oil", "4.20"), price("NaOH", "3")
    assert told(first, second)["cost"] == told(second, first)["cost"]


def test_a_price_of_the_solid_serves_what_is_weighed_as_a_solid() -> None:
    answer = ask(
        NAME, {"recipe": recipe()["recipe"], "scale_to": {"fat_mass": "1 kg"}, "prices": [price("NaOH", "10")]}
    )
    assert answer["cost"]["total"]["amount"] == "1.29"  # 128.68 g
