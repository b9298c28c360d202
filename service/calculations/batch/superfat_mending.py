"""What mends a superfat: the fat, or the stock, that makes it the wanted one."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from service.calculations.batch.fats import KnownFat
from service.calculations.batch.superfat_weighed import Batch, Drawn
from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.saponification import alkali_amount
from service.chemistry.saponification_budget import FatLine, SaponificationBudget, saponification_budget

AS_WANTED: Final = 1e-9
"""Distance of two superfats that counts as rounding."""


class Mending(NamedTuple):
    """How much to add, and how well that is known.

    Attributes:
        amount: hydroxide that what is added takes, or brings [mol].
        half_width: 95 % half-width of that amount [mol].
        per_amount: mass of what is added for each mole [kg/mol].
    """

    amount: float
    half_width: float
    per_amount: float

    @property
    def mass(self) -> float:
        """What is added [kg]."""
        return self.amount * self.per_amount

    @property
    def ends(self) -> tuple[float, float]:
        """Ends of the interval of that mass [kg]; nothing at the least."""
        return (
            max(0.0, self.amount - self.half_width) * self.per_amount,
            (self.amount + self.half_width) * self.per_amount,
        )


def fat_to_add(batch: Batch, budget: SaponificationBudget, wanted: float, own: KnownFat | None) -> Mending | None:
    """The fat that raises the superfat to the wanted one; None where it is as high already, or nothing can be told.

    With E the alkali that acids leave for the fats and s the wanted superfat, the fats must take E / (1 - s) in all.

    Args:
        batch: what was weighed.
        budget: what the batch leaves.
        wanted: superfat, at most 0.5.
        own: the fat to add; None for more of the batch's own, in their shares, wax left out.
    """
    met = 1.0 - wanted
    amount = (budget.alkali - budget.acid) / met - budget.need
    if amount <= AS_WANTED * budget.need:
        return None
    if own is not None:
        per_amount = molar_masses.KOH / own.saponification_value
        added = [FatLine(own.key, amount * per_amount, own.saponification_value, own.saponification_part)]
    else:
        taking = [one for one in batch.fats if not one.fat.hardly_saponified]
        need = sum(one.need for one in taking)
        if not need:
            return None
        per_amount = sum(one.mass for one in taking) / need
        added = [
            FatLine(one.fat.key, one.mass * amount / need, one.fat.saponification_value, one.fat.saponification_part)
            for one in taking
        ]
    try:
        mended = saponification_budget([*batch.lines, *added], *batch.reagents)
    except OutOfRange:
        return None
    return Mending(amount, mended.balance_half_width(met), per_amount)


def alkali_to_add(
    batch: Batch, drawn: Sequence[Drawn], budget: SaponificationBudget, wanted: float
) -> tuple[Mending, float] | None:
    """The alkali that lowers the superfat to the wanted one, and what share of that already weighed it is.

    None where the superfat is as low already, or nothing can be told.

    Args:
        batch: what was weighed.
        drawn: the alkali to add more of, in the shares it was weighed in.
        budget: what the batch leaves.
        wanted: superfat, at most 0.5.
    """
    alkalis, acids, division = batch.reagents
    met = 1.0 - wanted
    amount = alkali_amount(budget.need, wanted, budget.acid) - budget.alkali
    if amount <= AS_WANTED * budget.need:
        return None
    brought = sum(one.amount for one in drawn)
    added = [one.reagent._replace(mass=one.reagent.mass * amount / brought) for one in drawn]
    try:
        mended = saponification_budget(batch.lines, [*alkalis, *added], acids, division)
    except OutOfRange:
        return None
    per_amount = sum(one.reagent.mass for one in drawn) / brought
    return Mending(amount, met * mended.balance_half_width(met), per_amount), amount / brought
