"""How well the need of a batch for alkali is known, and what its superfat can really be.

A saponification value is known as limits, a purity likewise, and a scale shows steps. This module carries
them to the two questions that matter: between which limits does the superfat really lie, and how likely is
it that free alkali is left?

The same fat on two lines has one true saponification value, whatever it is, so its errors add up linearly;
different fats err independently. To split a line in two changes nothing but the number of weighings.

References:
    .. [1] JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1.2 (independent inputs)
       and 5.2.2 (correlated inputs).
    .. [2] E. C. Fieller, Some problems in interval estimation, J. R. Stat. Soc. B 16 (1954) 175-185 (limits
       of a ratio; cited from memory).
"""

import math
from collections.abc import Hashable, Iterable, Sequence
from functools import cached_property
from typing import Final, NamedTuple

from service.chemistry import molar_masses
from service.chemistry.errors import OutOfRange
from service.chemistry.saponification import hydroxide_amount, superfat
from service.chemistry.uncertainty import (
    EXACT,
    Combined,
    Part,
    combine,
    coverage_half_width,
    interval,
    net_weighing,
    probability_below,
)

_WORST_KNOWN_ALKALI: Final = 0.5
"""Half-width of the interval of the alkali, over the alkali, beyond which a superfat says nothing [-] (assumed)."""

_ROUNDING: Final = 1e-12
"""Share of the need below which a difference is one of rounding: without any spread, it would decide all [-]
(numerical)."""


class FatLine(NamedTuple):
    """A fat as it stands in a batch.

    Attributes:
        fat: what the saponification value belongs to. Lines of the same fat share one true value, so their
            errors add up; lines of different fats err independently.
        mass: net mass [kg].
        saponification_value: best estimate: the middle, where limits are known [kg KOH per kg].
        saponification_value_part: its uncertainty [kg KOH per kg].
        mass_part: uncertainty of the mass beside the steps of the scale [kg].
    """

    fat: Hashable
    mass: float
    saponification_value: float
    saponification_value_part: Part = EXACT
    mass_part: Part = EXACT


class Reagent(NamedTuple):
    """An alkali or an acid as it is weighed, from a bag or from a stock.

    Attributes:
        reagent: what the content belongs to. Lines of the same reagent share one true content.
        mass: net mass as weighed [kg].
        content: hydroxide that one mass of it brings (alkali) or takes (acid) [mol/kg].
        content_part: uncertainty of the content, as that of a purity or strength [mol/kg].
        mass_part: uncertainty of the mass beside the steps of the scale [kg].
    """

    reagent: Hashable
    mass: float
    content: float
    content_part: Part = EXACT
    mass_part: Part = EXACT


class SaponificationBudget:
    """What a batch needs and what it leaves; made by `saponification_budget`.

    Intervals hold 95 %. They and the probability are reckoned when they are first asked for.

    Attributes:
        need: hydroxide that the fats can take [mol].
        need_combined: its combined uncertainty [mol].
        acid: hydroxide that acids take [mol].
        alkali: hydroxide delivered [mol].
        superfat: share of the fats' need left unmet, best estimate.
    """

    def __init__(
        self, need: tuple[float, Combined], alkali: tuple[float, Combined], acid: tuple[float, Combined]
    ) -> None:
        self.need, self.need_combined = need
        self.alkali, alkali_combined = alkali
        self.acid, self._acid_combined = acid
        self._for_fats = self.alkali - self.acid
        left = superfat(self.alkali, self.acid, self.need)
        self._even = abs(left) <= _ROUNDING
        self.superfat = 0.0 if self._even else left
        self._for_fats_combined = _together((alkali_combined, self._acid_combined)) if self.acid else alkali_combined

    @property
    def need_interval(self) -> tuple[float, float]:
        """Ends of the interval of the need [mol]."""
        return interval(self.need, self.need_combined)

    @property
    def alkali_needed(self) -> tuple[float, float]:
        """Ends of the interval of the alkali that really leaves this superfat [mol]."""
        met = 1.0 - self.superfat
        return interval(self.alkali, combine(((met, self.need_combined), (1.0, self._acid_combined))))

    @property
    def excess(self) -> float:
        """Alkali beyond what fats and acids can take [mol]; below 0 there is none, and they could take that much."""
        return 0.0 if self._even else self._for_fats - self.need

    @property
    def excess_interval(self) -> tuple[float, float]:
        """Ends of the interval of the excess [mol]."""
        return interval(self.excess, _together((self.need_combined, self._for_fats_combined)))

    @cached_property
    def superfat_interval(self) -> tuple[float, float]:
        """Ends of the interval of the superfat, which holds the best estimate though that be rounded to nought."""
        return min(1.0 - self._met_limit(-1.0), self.superfat), max(1.0 - self._met_limit(1.0), self.superfat)

    @cached_property
    def free_alkali_probability(self) -> float:
        """Probability that the alkali exceeds what fats and acids can take."""
        return probability_below(0.0, -self.excess, _together((self.need_combined, self._for_fats_combined)))

    def check(self) -> None:
        """Refuse figures so uncertain that nothing can be said of the superfat.

        Raises:
            OutOfRange: acids take all the alkali, or what is left of it, or the need, could be nought.
        """
        if self.superfat >= 1.0:
            raise OutOfRange("alkali", self.alkali, self.acid, math.inf, "acids take all the alkali there is")
        if coverage_half_width(self._for_fats_combined) > _WORST_KNOWN_ALKALI * self._for_fats:
            why = "what is left for the fats is known to no better than half"
            raise OutOfRange("alkali", self.alkali, self.acid, math.inf, why)
        least = self.need - self.balance_half_width(
            1.0 - self.superfat
        )  # of all rounds of _met_limit the first is the widest
        if not least > 0.0:
            raise OutOfRange("need", least, 0.0, math.inf, "so uncertain that it could be nought")

    def balance_half_width(self, met: float) -> float:
        """95 % half-width of the need less the alkali for the fats over a share that is to be met [mol].

        Args:
            met: the share, above 0: 1 less the superfat that is wanted [-].
        """
        need, for_fats = self.need_combined, self._for_fats_combined
        spread = math.hypot(need[0], for_fats[0] / met)
        return coverage_half_width(Combined(spread, max(need[1], for_fats[1] / met)))

    def _met_limit(self, side: float) -> float:
        """Limit 1 / r of the share that is met, where need - r * for_fats is half of its interval away from nought.

        The first round is the first-order interval of the ratio r. Only the alkali's part of the width depends on
        r, so further rounds change little, and fast less: each is at most 0.6 of the one before, since the alkali is
        known to better than half.
        """
        met = 1.0 - self.superfat
        for _ in range(100):
            previous, met = met, self._for_fats / (self.need + side * self.balance_half_width(met))
            if abs(met - previous) <= 1e-12 * met or not self._for_fats_combined[0]:
                break
        return met


def need_contributions(fats: Iterable[FatLine], scale_division: float = 0.0) -> tuple[float, dict[Hashable, Combined]]:
    """Hydroxide that the fats need, and what each fat contributes to its uncertainty [mol].

    Args:
        fats: the lines of the batch.
        scale_division: step of the scale on which each line was weighed; 0 where it need not count [kg].

    Raises:
        OutOfRange: if a mass or a saponification value is outside its range.
    """
    step = net_weighing(scale_division) if scale_division else EXACT
    need = 0.0
    found: dict[Hashable, _Contribution] = {}
    for fat, mass, saponification_value, value_part, mass_part in fats:
        if value_part[1] > saponification_value:
            raise OutOfRange(
                "saponification_value_part",
                value_part[1],
                0.0,
                saponification_value,
                "the lower limit of a saponification value is not negative",
            )
        need += hydroxide_amount(mass, saponification_value)
        contribution = found.get(fat)
        if contribution is None:
            contribution = found[fat] = _Contribution()
        contribution.shares(mass / molar_masses.KOH, value_part)
        contribution.adds(saponification_value / molar_masses.KOH, mass_part)
        contribution.adds(saponification_value / molar_masses.KOH, step)
    return need, {fat: contribution.combined() for fat, contribution in found.items()}


class _Contribution:
    """What lines of the same fat or reagent contribute together.

    Their content is one quantity, so its errors add up; their weighings err independently.
    """

    __slots__ = ("half_width", "uncertainty", "variance", "widest")

    def __init__(self) -> None:
        self.uncertainty = self.half_width = self.variance = self.widest = 0.0

    def shares(self, sensitivity: float, part: Part) -> None:
        """Take in one more line's share of the common quantity; sensitivities are not negative here."""
        self.uncertainty += sensitivity * part[0]
        self.half_width += sensitivity * part[1]

    def adds(self, sensitivity: float, part: Part) -> None:
        """Take in an independent quantity."""
        if part[0]:
            contribution = sensitivity * part[0]
            self.variance += contribution * contribution
            self.widest = max(self.widest, sensitivity * part[1])

    def combined(self) -> Combined:
        """All of it together."""
        if not self.variance:
            return Combined(self.uncertainty, self.half_width)
        total = math.sqrt(self.uncertainty * self.uncertainty + self.variance)
        return Combined(total, max(self.half_width, self.widest))


def reagent_amount(reagents: Iterable[Reagent], scale_division: float = 0.0) -> tuple[float, Combined]:
    """Hydroxide that alkalis bring, or acids take, and its combined uncertainty [mol].

    Args:
        reagents: what was weighed.
        scale_division: step of the scale on which each was weighed; 0 where it need not count [kg].

    Raises:
        OutOfRange: if a mass or a content is negative or not finite.
    """
    step = net_weighing(scale_division) if scale_division else EXACT
    amount = 0.0
    found: dict[Hashable, _Contribution] = {}
    for reagent, mass, content, content_part, mass_part in reagents:
        _check("mass", mass, "a mass is finite and not negative")
        _check("content", content, "a content is finite and not negative")
        amount += mass * content
        contribution = found.get(reagent)
        if contribution is None:
            contribution = found[reagent] = _Contribution()
        contribution.shares(mass, content_part)
        contribution.adds(content, mass_part)
        contribution.adds(content, step)
    return amount, _together([contribution.combined() for contribution in found.values()])


def _together(independent: Sequence[Combined]) -> Combined:
    """The uncertainty of a sum of independent amounts."""
    if len(independent) == 1:
        return independent[0]
    return combine([(1.0, one) for one in independent])


def saponification_budget(
    fats: Sequence[FatLine],
    alkalis: Sequence[Reagent],
    acids: Sequence[Reagent] = (),
    scale_division: float = 0.0,
) -> SaponificationBudget:
    """What a batch needs, what it gets, and what that leaves, with its uncertainty.

    With N the hydroxide that the fats can really take and E the alkali that acids leave for them, the
    superfat is s = 1 - E / N. The limits of the ratio r = N / E, of which s = 1 - 1 / r is an exact and
    rising function, are those at which N - r E is as likely as 2.5 % to lie below, or above, nought [2]_.
    So the interval covers as much as that of N - r E does, however wide it is, and its lower end is below 0
    exactly where free alkali is more likely than 2.5 %.

    Args:
        fats: the lines of the batch, with a need above 0 in all.
        alkalis: the alkali delivered, as weighed.
        acids: what takes alkali beside the fats.
        scale_division: step of the scale on which every line was weighed; 0 where it need not count [kg].

    Raises:
        OutOfRange: if a line is outside its range, if the acids leave no alkali, if the alkali left for the fats
            is known to no better than half, or if the need for alkali could be nought.
    """
    need, by_fat = need_contributions(fats, scale_division)
    budget = SaponificationBudget(
        (need, _together(list(by_fat.values()))),
        reagent_amount(alkalis, scale_division),
        reagent_amount(acids, scale_division) if acids else (0.0, Combined(0.0, 0.0)),
    )
    budget.check()
    return budget


def _check(quantity: str, value: float, reason: str) -> None:
    if not 0.0 <= value < math.inf:
        raise OutOfRange(quantity, value, 0.0, math.inf, reason)
