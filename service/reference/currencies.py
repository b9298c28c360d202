"""Currencies by their code, with the digits of the minor unit."""

from typing import Final

from service.reference.tables import read

CURRENCIES: Final[dict[str, int]] = {row["code"]: int(row["minor_digits"]) for row in read("currencies.csv").rows}
"""Decimals of an amount, by ISO 4217 code."""
