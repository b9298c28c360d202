"""What assays found is told to the digits that count, with the steps to it, and at the ends of all data."""

import re
from math import hypot

import pytest

from service.calculations.assays import stock_assay_titration, stock_assay_titration_notes
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes
from service.calculations.stock.label import caution_off_label
from service.calculations.stock.solution_properties import Conditions, properties, slopes
from service.calculations.stock.solutions import SOLUBILITY
from service.calculations.stock.told_solution import KnownSolution, model_spread
from service.calculations.stock.unfit import caution_no_stock, caution_unfit_soap
from service.chemistry import density
from service.chemistry.molar_masses import ALKALI, CARBONATE
from tests.calculations.asking import ask, assumed, cautions, message_of
from tests.calculations.caution_cases_of_titrations import pipetted, stock

T = stock_assay_titration.CALCULATION.name


def _message(notes: Notes, code: str) -> str:
    (found,) = [one.message for one in notes.cautions if one.code == code]
    return found


# Titrations of stock


def test_a_titration_of_next_to_nothing_is_likelier_a_slip() -> None:
    """0.1 mmol of hydroxide in 2.05 g are 0.2 % of NaOH, and nobody keeps that as a stock."""
    weak = stock("0.1 mL", "0.1 mL", acid_molarity={"value": 1, "uncertainty": 0.001, "unit": "mol/L"})
    assert "is no stock" in message_of(ask(T, weak), "slip-likely")
    assert "slip-likely" not in cautions(ask(T, stock()))


@pytest.mark.parametrize("request_", [stock(), pipetted(), pipetted(density="1.52 kg/L")])
def test_a_temperature_is_assumed_only_of_a_volume_without_a_density(request_: dict[str, object]) -> None:
    told = assumed(ask(T, request_))
    assert ("/temperature" in told) is ("sample_volume" in request_ and "density" not in request_)


def test_every_titration_says_how_a_stock_is_sampled() -> None:
    for request_ in (stock(), stock("15 mL", "15.3 mL", alkali="KOH"), pipetted()):
        assert "stirred before each draw" in message_of(ask(T, request_), "sample-clear-and-mixed")


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_the_steps_of_a_titration_part_hydroxide_from_carbonate(alkali: AlkaliName) -> None:
    """Phenolphthalein takes hydroxide and half of the carbonate, methyl orange all (ASTM E291, from memory)."""
    answer = ask(T, stock("15 mL", "15.3 mL", alkali=alkali), explain=True)
    steps = {one["name"]: one for one in answer["steps"]}
    normality = steps["normality of the acid"]["result"]["value"]
    hydroxide, carbonate = (steps[name]["result"]["value"] for name in ("hydroxide", "carbonate"))
    assert hydroxide + carbonate == pytest.approx(normality * 0.015)
    assert hydroxide + 2 * carbonate == pytest.approx(normality * 0.0153)
    for name, amount, molar_mass, figure in (
        ("strength", hydroxide, ALKALI[alkali], answer["strength"]["mass_fraction"]),
        ("carbonate mass fraction", carbonate, CARBONATE[alkali], answer["carbonate_mass_fraction"]),
    ):
        assert steps[name]["inputs"]["amount"]["value"] == pytest.approx(amount)
        assert steps[name]["result"]["value"] == pytest.approx(figure["value"])
        assert figure["value"] == pytest.approx(amount * molar_mass / 0.00205)
    assert stock_assay_titration_notes.CARBONATE_NAME[alkali] == f"{'Na' if alkali == 'NaOH' else 'K'}2CO3"


# Figures of cautions


@pytest.mark.parametrize("w", [0.001234, 0.004567, 0.009876])
def test_what_is_no_stock_is_told_to_a_hundredth_of_a_per_cent(w: float) -> None:
    notes = Notes()
    caution_no_stock("NaOH", w, "all", notes)
    assert float(_message(notes, "slip-likely").partition(" %")[0]) == round(100 * w, 2)


@pytest.mark.parametrize("free", [0.023456, 0.056789])
def test_what_burns_is_told_to_a_hundredth_of_a_per_cent(free: float) -> None:
    notes = Notes()
    caution_unfit_soap("NaOH", (free, 0.0), notes)
    assert float(_message(notes, "not-for-use").partition(" %")[0]) == round(100 * free, 2)


@pytest.mark.parametrize("label", [0.456789, 0.51234])
def test_a_label_is_told_to_a_hundredth_of_a_per_cent(label: float) -> None:
    notes = Notes()
    caution_off_label((label, 0.1 * label), label, notes)
    told = re.findall(r"label \(([\d.]+) %\)", _message(notes, "free-alkali-possible"))
    assert [float(one) for one in told] == [round(100 * label, 2)]


@pytest.mark.parametrize(("found", "label"), [(0.4, 0.5), (0.32, 0.4), (0.36, 0.3), (0.48, 0.4), (0.24, 0.2)])
def test_a_fifth_beside_the_label_is_what_no_ageing_explains(found: float, label: float) -> None:
    """However the quotient of the two is rounded."""
    for strength, due in ((found, True), (found + 0.01 * (label - found), False)):
        notes = Notes()
        caution_off_label((strength, 0.0), label, notes)
        assert ("No ageing explains that" in _message(notes, "not-for-use")) is due


# The ends of the data


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("apart", [0.0, 1e-8, 5e-8])
def test_slopes_just_below_all_that_dissolves_need_nothing_beyond(alkali: AlkaliName, apart: float) -> None:
    at, w = Conditions(25.0, 15.6, 145.0), SOLUBILITY[alkali] - apart
    found = slopes(alkali, properties(alkali, w, at), at)
    weaker = density.density(alkali, w - 1e-4, 25.0)
    assert found.density == pytest.approx((density.density(alkali, w, 25.0) - weaker) / 1e-4, rel=1e-2)


@pytest.mark.parametrize(("alkali", "hottest"), [("NaOH", 150.0), ("KOH", 120.0)])
def test_the_hottest_solution_has_a_volume_as_open_as_its_temperature(alkali: AlkaliName, hottest: float) -> None:
    """The data of densities end there, and none is asked for beyond."""
    known = KnownSolution(alkali, 2.0, 0.3, hottest, temperature_rooms=(2.0, 2.0))
    told = known.volume_at(hottest)
    volume, colder = (2.0 / density.density(alkali, 0.3, t) for t in (hottest, hottest - 2.0))
    model = volume * model_spread(alkali, 0.3, hottest)
    assert told.high - told.value == pytest.approx(hypot(volume - colder, model), rel=0.03)  # type: ignore[union-attr,operator]
