"""Alkalis of a request: which, in what shares, and how pure."""

from collections.abc import Sequence
from typing import Annotated, ClassVar, Final, NamedTuple

from msgspec import Meta

from service.calculations.shared.given import Purity, Share
from service.calculations.shared.messages import Alkali, AlkaliName, PurityGiven
from service.calculations.shared.notes import Notes, missed
from service.calculations.shared.reading import part_of
from service.calculations.shared.rules import AtMostOne, Rule, Ruled
from service.chemistry import molar_masses
from service.chemistry.saponification import mole_shares_from_mass_shares
from service.chemistry.saponification_budget import Reagent
from service.chemistry.uncertainty import EXACT, Part

SUM_TOLERANCE: Final = 1e-6
"""How far shares may miss the whole before they are refused; what rounding leaves is scaled away."""

PURITY_REASON: Final = "solid NaOH is reckoned as pure unless its purity is given; technical beads hold 97 to 99 %"


class AlkaliShare(Ruled, kw_only=True):
    """An alkali and its share in all the alkali, by moles or by mass of pure hydroxide."""

    alkali: Alkali
    mole_share: Annotated[Share, Meta(description="Its share of all hydroxide by moles.", examples=["60 %"])] | None = (
        None
    )
    mass_share: (
        Annotated[Share, Meta(description="Its share of all pure alkali by mass.", examples=["60 %"])] | None
    ) = None
    purity: PurityGiven | None = None

    rules: ClassVar[tuple[Rule, ...]] = (AtMostOne(("mole_share", "mass_share")),)


AlkaliShares = Annotated[
    list[AlkaliShare],
    Meta(min_length=1, max_length=2, description="The alkalis and their shares; default NaOH alone."),
]


class UsedAlkali(NamedTuple):
    """An alkali that a batch uses."""

    alkali: AlkaliName
    mole_share: float
    purity: float | None
    """Mass fraction of hydroxide in the solid; None where it was due and not given."""
    purity_part: Part

    @property
    def molar_mass(self) -> float:
        """Molar mass of the hydroxide [kg/mol]."""
        return molar_masses.ALKALI[self.alkali]

    def reagent(self, pure_mass: float) -> Reagent:
        """What is weighed to bring a mass of pure hydroxide."""
        if self.purity is None:
            return Reagent(self.alkali, pure_mass, 1 / self.molar_mass)
        return Reagent(
            self.alkali,
            pure_mass / self.purity,
            self.purity / self.molar_mass,
            Part(*(width / self.molar_mass for width in self.purity_part)),
        )


def used_alkalis(given: Sequence[AlkaliShare] | None, notes: Notes, at: str = "/alkalis") -> list[UsedAlkali]:
    """The alkalis of a batch with their shares by moles; NaOH alone where none are given.

    Faults and assumptions go into the notes.
    """
    if given is None:
        notes.assume(at, "NaOH alone", "bars are made with NaOH")
        given = [AlkaliShare(alkali="NaOH")]
    names = [one.alkali for one in given]
    if len(set(names)) < len(names):
        notes.fault(at, "contradiction", f"{names[0]} is listed twice", "put it on one line")
        return []
    shares = _mole_shares(given, notes, at)
    return [
        UsedAlkali(one.alkali, share, *purity_of(one.alkali, one.purity, notes, f"{at}/{index}/purity"))
        for index, (one, share) in enumerate(zip(given, shares, strict=False))
        if share > 0
    ]


def _mole_shares(given: Sequence[AlkaliShare], notes: Notes, at: str) -> list[float]:
    by_moles = [one.mole_share.value for one in given if one.mole_share is not None]
    by_mass = [one.mass_share.value for one in given if one.mass_share is not None]
    if len(given) == 1 and not by_moles and not by_mass:
        return [1.0]
    if len(by_moles) != len(given) and len(by_mass) != len(given):
        notes.fault(
            at,
            "does-not-add-up",
            "some alkalis have a share by moles, some by mass, or some none",
            "give every alkali mole_share, or every alkali mass_share",
        )
        return []
    shares = by_moles or by_mass
    total = sum(shares)
    if abs(total - 1) > SUM_TOLERANCE:
        notes.fault(
            at,
            "does-not-add-up",
            f"the shares of the alkalis add up to {total * 100:.6g} %{missed(total)}",
            "mend them to add up to 100 %",
        )
        return []
    shares = [share / total for share in shares]
    if by_moles:
        return shares
    converted = mole_shares_from_mass_shares({one.alkali: share for one, share in zip(given, shares, strict=True)})
    return [converted[one.alkali] for one in given]


def purity_of(alkali: AlkaliName, purity: Purity | None, notes: Notes, at: str) -> tuple[float | None, Part]:
    """Purity of a solid alkali and its spread; None for KOH where it is not given."""
    if purity is not None:
        return purity.value, part_of(purity)
    if alkali == "NaOH":
        notes.assume(at, "100 %", PURITY_REASON)
        return 1.0, EXACT
    return None, EXACT
