"""Stocks that are drawn from, that have stood, and that an assay found unfit: what is said agrees with the figures."""

import re
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.calculations.shared.cautions import Caution
from service.calculations.shared.given import Duration
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes
from service.calculations.shared.standing_cautions import WASTE
from service.calculations.shared.told import FractionFigure
from service.calculations.stock import label as labels
from service.calculations.stock.draw_factor import WEAKEST, draw_factor
from service.calculations.stock.label import caution_off_label
from service.calculations.stock.stock_age import caution_age
from service.calculations.stock.stocks import known_stock, weigh_it
from service.calculations.stock.unfit import caution_carbonated, caution_no_stock, caution_unfit_soap
from service.chemistry import density, freezing

ALKALIS: Final[tuple[AlkaliName, ...]] = ("NaOH", "KOH")
INCH: Final = 0.0254
POUND: Final = 0.45359237
"""m and kg (international yard and pound agreement, 1959; US gallon 231 in3, NIST SP 811, 2008, B.8)."""
FLUID_OUNCE: Final = 231 * INCH**3 / 128


def only(notes: Notes, code: str) -> Caution | None:
    """The caution of a code, where there is one."""
    found = [one for one in notes.cautions if one.code == code]
    assert len(found) <= 1
    return found[0] if found else None


def shares(message: str) -> list[float]:
    """The shares that a message tells."""
    return [float(one) for one in re.findall(r"(\d+(?:\.\d+)?) %", message)]


# Drawing


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize(("w", "t"), [(0.5, 20.0), (0.5, 60.0), (0.3, 20.0), (0.3, 80.0), (0.45, 35.0)])
def test_a_fluid_ounce_of_a_stock_is_as_much_too_heavy_as_is_said(alkali: AlkaliName, w: float, t: float) -> None:
    stock = known_stock(alkali, w, t)
    assert stock.density == density.density(alkali, w, t)
    heavier = stock.density * FLUID_OUNCE / (POUND / 16) - 1
    assert stock.overdose == f"{100 * heavier:.0f} %"
    assert stock.overdose in weigh_it(stock.overdose).message
    assert stock.boiling_point > 100


def test_below_all_densities_a_stock_is_as_heavy_as_the_coldest_of_them() -> None:
    cold = known_stock("KOH", 0.3, -5.0)
    assert cold.density is None
    assert cold.overdose == known_stock("KOH", 0.3, 0.0).overdose


def test_stocks_that_are_alike_are_told_once() -> None:
    assert weigh_it("59 %", "59 %").message == weigh_it("59 %").message
    assert "59 % and 31 % too much" in weigh_it("59 %", "31 %").message


@pytest.mark.parametrize(("alkali", "w"), [("NaOH", 0.5), ("NaOH", 0.3), ("KOH", 0.5)])
def test_crystals_are_told_as_surely_as_the_first_solid_is_known(alkali: AlkaliName, w: float) -> None:
    first = freezing.first_solid(alkali, w)
    assert known_stock(alkali, w, first.high).crystals is None
    assert known_stock(alkali, w, first.high + 0.01).crystals is None
    for t, sure in ((first.high - 1e-6, False), (first.low, False), (first.low - 1e-6, True), (first.low - 5, True)):
        crystals = known_stock(alkali, w, t).crystals
        assert crystals is not None
        assert ("stock holds crystals" in crystals.message) == sure
        assert ("may hold crystals" in crystals.message) != sure
        told, begins = re.findall(r"(-?\d+(?:\.\d+)?) °C", crystals.message)
        assert float(told) == pytest.approx(t, abs=0.0501)
        assert float(begins) == pytest.approx(first.temperature, abs=0.0501)
        assert all(len(one.partition(".")[2]) <= 1 for one in (told, begins))


# Draw factor


@given(st.floats(0.01, 0.9), st.floats(0, 0.5), st.floats(0, 0.5))
def test_a_draw_factor_is_what_a_strength_is_turned_round(w: float, below: float, above: float) -> None:
    factor = draw_factor(FractionFigure(w, w * (1 - below), w * (1 + above)))
    assert factor.value * w == pytest.approx(1)
    assert factor.low is not None
    assert factor.high is not None
    assert factor.low * w * (1 + above) == pytest.approx(1)
    assert factor.high * max(w * (1 - below), WEAKEST) == pytest.approx(1)
    assert draw_factor(FractionFigure(w)).low is None


@pytest.mark.parametrize("w", [0.5, 0.01, 1e-4])
def test_a_draw_factor_stays_finite_where_there_may_be_nothing(w: float) -> None:
    factor = draw_factor(FractionFigure(w, 0.0, 2 * w))
    assert factor.high is not None
    assert factor.value <= factor.high < float("inf")
    assert factor.high == pytest.approx(1000) or w < 1e-3  # water to a tenth of a per cent by any hydrometer


# Age


@pytest.mark.parametrize(
    ("days", "grave"), [(None, None), (29.9, None), (30, "note"), (59.9, "note"), (60, "caution"), (400, "caution")]
)
def test_a_stock_is_old_after_the_months_that_are_told(days: float | None, grave: str | None) -> None:
    notes = Notes()
    caution_age(None if days is None else Duration(days * 86400), "This tells its strength.", notes)
    told = only(notes, "stock-old")
    assert (told.severity if told else None) == grave
    assert told is None or f"stood for {days:.0f} days" in told.message
    assert told is None or "one to two months" in told.message


# Unfit


@pytest.mark.parametrize(("strength", "slips"), [(0.0, True), (0.0099, True), (0.01, False), (0.3, False)])
def test_what_is_no_stock_is_a_slip(strength: float, slips: bool) -> None:
    notes = Notes()
    caution_no_stock("NaOH", strength, "the dilution", notes)
    told = only(notes, "slip-likely")
    assert (told is not None) == slips
    assert told is None or shares(told.message) == [pytest.approx(strength * 100)]


@pytest.mark.parametrize(
    ("strength", "half_width", "unfit"),
    [(0.875, 0.025, False), (0.875, 0.02, True), (0.875, 0.03, False), (0.89, 0.0, True), (0.91, 0.0, False)],
)
def test_a_stock_is_carbonated_beyond_the_tenth_that_is_told(strength: float, half_width: float, unfit: bool) -> None:
    notes = Notes()
    caution_carbonated("NaOH", strength, (1.0, half_width), notes)
    told = only(notes, "not-for-use")
    assert (told is not None) == unfit
    assert (WASTE in notes.cautions) == unfit
    if told is not None:
        assert shares(told.message)[0] == pytest.approx(100 * (1 - strength))
        assert ": 10 %;" in told.basis


SODA_OF_POTASH: Final = 39.997 / 56.105
"""Of the molar masses (IUPAC 2021, abridged)."""


@pytest.mark.parametrize("alkali", ALKALIS)
@pytest.mark.parametrize(
    ("share", "half_width", "severity"),
    [
        (0.0009, 0.0, None),
        (0.00105, 0.0, "caution"),
        (0.003, 0.0021, None),
        (0.0049, 0.001, "caution"),
        (0.00501, 0.001, "danger"),
        (0.0199, 0.019, None),
        (0.0199, 0.001, "danger"),
        (0.0201, 0.02, "burns"),
        (0.3, 0.0, "burns"),
    ],
)
def test_a_soap_is_unfit_by_its_free_alkali_told_as_soda(
    alkali: AlkaliName, share: float, half_width: float, severity: str | None
) -> None:
    """Skin Corr. 1B from 2 % and Skin Irrit. 2 from 0.5 % NaOH (Regulation (EC) 1272/2008, Annex VI, from memory)."""
    as_told = 1.0 if alkali == "NaOH" else 1 / SODA_OF_POTASH
    notes = Notes()
    caution_unfit_soap(alkali, (share * as_told, half_width * as_told), notes)
    told = only(notes, "not-for-use")
    assert (told is None) == (severity is None)
    assert (WASTE in notes.cautions) == (severity == "burns")
    if told is not None:
        assert ("burns like lye" in told.message) == (severity == "burns")
        assert told.severity == ("danger" if severity == "burns" else severity)
        least = share if severity == "burns" else share - half_width
        assert shares(told.message)[0] == pytest.approx(least * 100, abs=0.00501)


def test_what_the_standards_allow_is_let_pass_and_what_corrodes_is_not() -> None:
    for free, count in ((0.001, 0), (0.02, 2)):
        notes = Notes()
        caution_unfit_soap("NaOH", (free, 0.0), notes)
        assert len(notes.cautions) == count


# Labels


def of_label(strength: float, half_width: float, label: float | None) -> list[Caution]:
    notes = Notes()
    caution_off_label((strength, half_width), label, notes)
    return notes.cautions


@pytest.mark.parametrize("label", [0.5, 0.3])
@pytest.mark.parametrize("off", [-0.3, -0.21, -0.1, -0.06, -0.04, -0.01, 0.01, 0.04, 0.051, 0.06, 0.1, 0.21, 0.3])
@pytest.mark.parametrize("half_width", [0.0, 0.005])
def test_a_stock_off_its_label_is_told_with_the_superfat_that_is_left(
    label: float, off: float, half_width: float
) -> None:
    """A batch for 5 % superfat takes 95 % of the alkali of its fats, by the label."""
    (told,) = of_label(label * (1 + off), half_width * label, label)
    left = 1 - 0.95 * (1 + off)
    assert f"{abs(off) * 100:.3g} % {'stronger' if off > 0 else 'weaker'} than its label" in told.message
    numbers = shares(told.message)
    assert numbers[1:3] == [pytest.approx(label * (1 + off) * 100, abs=0.0051), pytest.approx(label * 100)]
    assert numbers[4] == pytest.approx(abs(left) * 100, abs=0.0501)
    assert ("more alkali than its fats take" in told.message) == (1 - 0.95 * (1 + off + half_width) < 0 < off)
    beyond = abs(off) - half_width > 0.05
    assert ("No ageing explains that" in told.message) == (abs(off) >= 0.2)
    assert (told.code == "not-for-use") == (beyond or (off > 0 and 0.95 * (1 + off + half_width) > 1))
    assert (told.severity == "danger") == (off > 0 and (beyond or 0.95 * (1 + off + half_width) > 1))


def test_a_stock_as_strong_as_its_label_is_not_told_of() -> None:
    assert of_label(0.5, 0.0, 0.5) == of_label(0.5, 0.01, 0.5) == of_label(0.505, 0.006, 0.5) == []
    assert of_label(0.4, 0.0, None) == []
    assert labels.SUPERFAT == labels.OFF_LABEL  # such a deviation takes the usual superfat away


@pytest.mark.parametrize(("strength", "severity"), [(0.5, "caution"), (0.52, "caution"), (0.53, "danger")])
def test_a_coarse_assay_is_told_with_what_it_may_leave(strength: float, severity: str) -> None:
    (told,) = of_label(strength, 0.05, 0.5)
    assert (told.code, told.severity) == ("free-alkali-possible", severity)
    kept, least = (1 - 0.95 * share / 0.5 for share in (strength, strength + 0.05))
    numbers = shares(told.message)
    assert numbers[0] == 50.0
    assert numbers[2] == pytest.approx(abs(kept) * 100, abs=0.0501)
    assert numbers[3] == pytest.approx(abs(least) * 100, abs=0.0501)


def test_what_a_message_would_round_to_nothing_is_told_as_less_than_the_least() -> None:
    (told,) = of_label(0.5001, 0.0, 0.5)
    assert told.message.startswith("The stock is less than 0.1 % stronger")
