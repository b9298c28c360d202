"""Prices and amounts of money: decimal texts in, decimal texts out, and no binary fraction between.

A mass is rounded to a milligram before it is priced, and a line to the currency's minor unit, halves to even; sums are
exact sums of such lines. So the same request has the same amounts, and lines add up to their total to the last digit.
"""

from collections.abc import Iterable
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from typing import Annotated, Final

from msgspec import Meta, Struct

from service.calculations.shared.given import PlainMass
from service.calculations.shared.identifiers import FORM
from service.calculations.shared.rules import Ruled
from service.reference.currencies import CURRENCIES

_MILLIGRAM: Final = Decimal("0.000001")
_NOISE: Final = Decimal("1e-9")

AmountText = Annotated[
    str,
    Meta(
        pattern=r"^[0-9]{1,12}(\.[0-9]{1,6})?$",
        description="A decimal number as a text, with a point, without a sign: money is not a binary fraction.",
        examples=["12.50"],
        extra={FORM: 'write it as a text with a point and without a sign, as in "12.50"'},
    ),
]
Currency = Annotated[
    str,
    Meta(
        pattern=r"^[A-Z]{3}$",
        description="Its code by ISO 4217.",
        examples=["EUR", "USD"],
        extra={FORM: 'write its code by ISO 4217, as in "EUR"'},
    ),
]


class Price(Ruled, kw_only=True):
    """What a mass of something costs."""

    amount: AmountText
    currency: Currency
    per: Annotated[PlainMass, Meta(description="For how much; default 1 kg.", examples=["1 kg"])] | None = None


class Amount(Struct, frozen=True, kw_only=True):
    """An amount of money."""

    amount: Annotated[str, Meta(description="A decimal number as a text.", examples=["12.50"])]
    currency: Annotated[str, Meta(description="Its code by ISO 4217.", examples=["EUR"])]


def minor_unit(currency: str) -> Decimal:
    """The least amount of a currency that is known.

    Args:
        currency: its code.
    """
    return Decimal(1).scaleb(-CURRENCIES[currency])


def cost_of(mass: float, amount: str, per: float, currency: str) -> Decimal:
    """What a mass costs, rounded to the minor unit, halves to even.

    Args:
        mass: of it, rounded to a milligram first [kg].
        amount: of money, for `per`.
        per: mass that the amount is for [kg].
        currency: code of one that is known.
    """
    return _rounded(_exact(mass) * Fraction(amount) / _exact(per), currency)


def total_of(amounts: Iterable[Decimal], currency: str) -> Decimal:
    """The exact sum of rounded amounts.

    Args:
        amounts: each rounded to the minor unit.
        currency: its code.
    """
    return _rounded(sum(map(Fraction, amounts), Fraction()), currency)


def share_of(total: Decimal, count: int, currency: str) -> Decimal:
    """An amount for one of several, rounded to the minor unit, halves to even.

    Args:
        total: for all of them.
        count: how many there are, above 0.
        currency: its code.
    """
    return _rounded(Fraction(total) / count, currency)


def told(amount: Decimal, currency: str) -> Amount:
    """An amount as it is answered.

    Args:
        amount: rounded to the minor unit.
        currency: its code.
    """
    return Amount(amount=f"{amount:f}", currency=currency)


def _exact(mass: float) -> Fraction:
    """A mass to the milligram [kg]; what is less, as it is. No last bit decides where a half goes."""
    exact = Decimal(repr(mass))
    rounded = exact.quantize(_NOISE, ROUND_HALF_EVEN).quantize(_MILLIGRAM, ROUND_HALF_EVEN)
    return Fraction(rounded or exact)


def _rounded(amount: Fraction, currency: str) -> Decimal:
    """To the minor unit, halves to even, as fractions are: no digits of a quotient are cut off before."""
    unit = minor_unit(currency)
    return Decimal(f"{round(amount / Fraction(unit))}E{unit.as_tuple().exponent}")
