"""Acids and alkalis of a request: what heat they give, in what shares they are taken, and what is told of them."""

import re

import pytest

from service.calculations.batch.acids import AcidLine, caution_acids, weighed_acids
from service.calculations.batch.alkalis import AlkaliShare, used_alkalis
from service.calculations.batch.usual import division_or_none, superfat_or_usual
from service.calculations.shared.given import Mass, PlainMass, Purity, Share, Superfat
from service.calculations.shared.notes import Notes
from service.calculations.shared.reading import part_of
from service.chemistry.saponification_budget import Reagent
from service.chemistry.uncertainty import Part
from tests.calculations.figures import CITRIC_ACID, KOH, NAOH

CITRIC = "citric-acid-anhydrous"


def heat_told(mass: float) -> str:
    """The kJ that are told of a mass of citric acid [kg]."""
    notes = Notes()
    caution_acids([Reagent(CITRIC, mass, 3 / (CITRIC_ACID / 1000))], notes)
    (told,) = notes.cautions
    (heat,) = re.findall(r"about (\S+) kJ", told.message)
    assert isinstance(heat, str)
    return heat


@pytest.mark.parametrize(("grams", "digits"), [(1.0, 0.05), (10.7, 0.05), (20.0, 0.5), (110.0, 0.5), (1e5, 25.0)])
def test_acids_heat_caustic_by_the_heat_of_neutralisation_of_their_protons(grams: float, digits: float) -> None:
    """Citric acid has three of them in 192.12 g; about 56 kJ/mol (CRC Handbook has 55.8 for ions, from memory)."""
    assert float(heat_told(grams / 1000)) == pytest.approx(grams * 3 / CITRIC_ACID * 56, abs=digits)


def test_much_heat_is_told_without_an_exponent() -> None:
    assert heat_told(0.2).isdecimal()
    assert heat_told(100.0).isdecimal()


def test_no_acid_gives_no_heat_to_speak_of() -> None:
    notes = Notes()
    caution_acids([], notes)
    assert notes.cautions == []


def acid(name: str) -> AcidLine:
    return AcidLine(acid=name, mass=Mass(0.01))


def test_every_unknown_acid_is_told_at_its_own_place() -> None:
    notes = Notes()
    found = weighed_acids([acid("sour-salt"), acid(CITRIC), acid("bitter-salt")], notes, "/batch/acids")
    assert [one.pointer for one in notes.faults] == ["/batch/acids/0/acid", "/batch/acids/2/acid"]
    assert [one.reagent for one in found] == [CITRIC]
    assert found[0].content * CITRIC_ACID / 1000 == pytest.approx(3, rel=1e-4)
    assert found[0].mass_part == part_of(Mass(0.01))


def shared(purity: float | None = 0.9, **shares: str) -> list[AlkaliShare]:
    """Alkalis with shares that are told as "moles 0.6", "mass 0.5", or not at all."""
    lines = []
    for alkali, told in shares.items():
        form, _, number = told.partition(" ")
        share = Share(float(number)) if number else None
        lines.append(
            AlkaliShare(
                alkali="NaOH" if alkali == "NaOH" else "KOH",
                mole_share=share if form == "moles" else None,
                mass_share=share if form == "mass" else None,
                purity=None if purity is None else Purity(purity),
            )
        )
    return lines


@pytest.mark.parametrize("purity", [0.9, None])
@pytest.mark.parametrize("form", ["moles", "mass"])
def test_a_mole_of_either_alkali_is_brought_by_what_is_weighed_of_it(form: str, purity: float | None) -> None:
    """40.00 g of NaOH and 56.11 g of KOH, and a ninth more of solids that are 90 % pure."""
    found = used_alkalis(shared(purity, NaOH=f"{form} 0.5", KOH=f"{form} 0.5"), Notes())
    assert sum(one.mole_share for one in found) == pytest.approx(1)
    for one, molar_mass in zip(found, (NAOH / 1000, KOH / 1000), strict=True):
        reagent = one.reagent(molar_mass)
        assert reagent.mass * reagent.content == pytest.approx(1, rel=1e-5)
        assert reagent.mass == pytest.approx(molar_mass / (one.purity or 1.0), rel=1e-5)


def test_the_spread_of_a_purity_is_that_of_the_hydroxide_in_what_is_weighed() -> None:
    limits = [AlkaliShare(alkali="KOH", purity=Purity(0.9, Part(0.01, 0.01)))]
    (one,) = used_alkalis(limits, Notes())
    assert one.reagent(1.0).content_part == pytest.approx((0.01 / (KOH / 1000), 0.01 / (KOH / 1000)), rel=1e-5)


def test_shares_by_mass_and_by_moles_are_related_by_the_molar_masses() -> None:
    """Equal masses: 1/39.997 of soda to 1/56.105 of potash."""
    by_mass = used_alkalis(shared(NaOH="mass 0.5", KOH="mass 0.5"), Notes())
    assert [one.mole_share for one in by_mass] == [
        pytest.approx(KOH / (KOH + NAOH), rel=1e-5),
        pytest.approx(NAOH / (KOH + NAOH), rel=1e-5),
    ]
    by_moles = used_alkalis(shared(NaOH="moles 0.3", KOH="moles 0.7"), Notes())
    assert [one.mole_share for one in by_moles] == pytest.approx([0.3, 0.7])


def test_one_alkali_without_a_share_is_all_of_it() -> None:
    for given in (shared(KOH=""), shared(KOH="moles 1"), shared(KOH="mass 1")):
        notes = Notes()
        (one,) = used_alkalis(given, notes)
        assert (one.alkali, one.mole_share) == ("KOH", 1.0)
        assert notes.faults == []


@pytest.mark.parametrize(
    "given",
    [
        shared(NaOH="", KOH=""),
        shared(NaOH="moles 0.5", KOH=""),
        shared(NaOH="mass 0.5", KOH=""),
        shared(NaOH="moles 0.5", KOH="mass 0.5"),
        shared(NaOH="moles 0.5", KOH="moles 0.4"),
        shared(KOH="mass 0.9"),
    ],
)
def test_alkalis_of_which_not_all_have_a_share_that_adds_up_are_one_fault(given: list[AlkaliShare]) -> None:
    notes = Notes()
    assert used_alkalis(given, notes, "/batch/alkalis") == []
    (fault,) = notes.faults
    assert (fault.pointer, fault.code) == ("/batch/alkalis", "does-not-add-up")


def test_solid_soda_is_taken_as_pure_and_solid_potash_is_not() -> None:
    """Common practice: KOH flakes hold about a tenth of water, NaOH beads hardly any."""
    notes = Notes()
    soda, potash = used_alkalis(shared(None, NaOH="moles 0.5", KOH="moles 0.5"), notes)
    assert (soda.purity, potash.purity) == (1.0, None)
    assert [one.pointer for one in notes.assumed] == ["/alkalis/0/purity"]


def test_what_a_batch_leaves_out_is_told_as_what_was_taken() -> None:
    notes = Notes()
    taken = superfat_or_usual(None, "/batch/superfat", notes), division_or_none(None, notes)
    assert [(one.pointer, one.value) for one in notes.assumed] == [
        ("/batch/superfat", f"{taken[0] * 100:g} %"),
        ("/scale_division", "a scale without steps"),
    ]
    assert taken[1] == 0.0


def test_what_a_batch_gives_is_taken_as_it_is() -> None:
    notes = Notes()
    assert superfat_or_usual(Superfat(0.0), "/superfat", notes) == 0.0
    assert division_or_none(PlainMass(0.001), notes) == 0.001
    assert notes.assumed == []
