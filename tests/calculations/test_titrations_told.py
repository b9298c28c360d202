"""What a titration of stock says in words is what its figures say."""

import math
import re
from typing import Any

import pytest

from tests.calculations.asking import ask, cautions, fault, message_of
from tests.calculations.caution_cases_of_titrations import T, pipetted, stock
from tests.calculations.figures import NAOH, NORMAL_95
from tests.calculations.quantities import half_width, normal
from tests.calculations.test_steps import redone


def _percents(message: str) -> list[str]:
    return re.findall(r"([\d.]+) %", message)


def _measured(**more: Any) -> dict[str, Any]:
    """A pipetted stock of which every input is known to a normal spread."""
    spreads = {
        "sample_volume": normal(1.35, 0.002, "mL"),
        "acid_temperature": "20 °C",
        "end_point_uncertainty": "0.02 mL",
        "first_end_point": normal(25.0, 0.03, "mL"),
        "second_end_point": normal(25.1, 0.05, "mL"),
    }
    return pipetted(**spreads | more)


def test_the_molarity_of_a_pipetted_stock_by_hand() -> None:
    """c (2 V1 - V2) / V, by the law of propagation (JCGM 100:2008, 5.1.2).

    The colours: 7.6 % of 0.1 mL, and 0.125 mmol/L in 125.1 mL of water and acid, each as a rectangle.
    """
    told = ask(T, _measured())["molarity"]
    acid, volume, left = 1.0, 1.35, 2 * 25.0 - 25.1
    value = acid * left / volume
    assert told["value"] == pytest.approx(value, rel=1e-9)
    spread = math.hypot(
        value * 0.001,
        *(2 * acid / volume * one for one in (0.03, 0.02)),
        *(acid / volume * one for one in (0.05, 0.02)),
        *(acid / volume * one / math.sqrt(3) for one in (2 * 0.0076, 0.1251 * 0.125)),
        value / volume * 0.002,
    )
    assert half_width(told) == pytest.approx(NORMAL_95 * spread, rel=1e-4)


def test_a_density_that_is_given_keeps_its_interval() -> None:
    told = ask(T, _measured(density=normal(1.52, 0.002, "kg/L")))["density"]
    assert told["value"] == pytest.approx(1.52)
    assert half_width(told) == pytest.approx(NORMAL_95 * 0.002, rel=1e-4)


def test_strength_is_known_as_well_as_what_it_is_drawn_by_and_oxide_as_total_alkali() -> None:
    answer = ask(T, stock(second="26 mL"))
    total, oxide = answer["total_alkali_fraction"], answer["oxide_fraction"]
    assert half_width(oxide) / oxide["value"] == pytest.approx(half_width(total) / total["value"], rel=1e-9)
    assert oxide["value"] == pytest.approx(total["value"] * 61.97854 / 2 / NAOH, rel=1e-5)


@pytest.mark.parametrize("second", ["25.02 mL", "25.1 mL"])
def test_carbonate_that_cannot_be_told_from_none_is_told_with_its_interval(second: str) -> None:
    answer = ask(T, stock(second=second))
    carbonate = answer["carbonate_mass_fraction"]
    assert half_width(carbonate) > carbonate["value"]
    told = re.search(r"none: ([\d.]+) % Na2CO3, give or take ([\d.]+) perc", message_of(answer, "below-detection"))
    assert told is not None
    assert float(told[1]) == round(100 * carbonate["value"], 2)
    assert float(told[2]) == pytest.approx(100 * half_width(carbonate), abs=0.0051)


def test_carbonate_taken_up_is_told_with_the_hydroxide_that_it_took() -> None:
    answer = ask(T, stock(second="26 mL"))
    message = message_of(answer, "carbonate-taken-up")
    w, total = answer["strength"]["mass_fraction"]["value"], answer["total_alkali_fraction"]["value"]
    assert message.startswith(f"{round(100 * answer['carbonate_mass_fraction']['value'], 2):g} % Na2CO3")
    assert f"taken {round(100 * (total - w), 2):g} % NaOH" in message
    assert f"more than the {round(3 * total, 2):g} % that fresh solid may bring (3 % of" in message


@pytest.mark.parametrize("tolerance", ["0.5 mL", "1 mL"])
def test_a_strength_hardly_known_is_told_with_its_interval(tolerance: str) -> None:
    answer = ask(T, stock("5 mL", "5.02 mL", sample_mass=normal(0.41, 0.001, "g"), burette_tolerance=tolerance))
    w = answer["strength"]["mass_fraction"]
    told = float(_percents(message_of(answer, "strength-hardly-known"))[0])
    assert told == pytest.approx(100 * half_width(w) / w["value"], abs=0.06)
    fine = ask(T, stock())["strength"]["mass_fraction"]
    assert half_width(fine) < 0.02 * fine["value"]
    assert "strength-hardly-known" not in cautions(ask(T, stock()))


def test_a_strength_that_carbonate_blurs_is_told_what_does_not_mend_it() -> None:
    """7.6 % of 4.7 mmol are 0.36 mL of normal acid, twice that of 12.5 mL, and 95 % of it as a rectangle: 5.4 %."""
    fine, coarse = (stock("17.2 mL", "21.9 mL", burette_tolerance=one) for one in ("0.005 mL", "2 mL"))
    told = {code: one["message"] for code, one in cautions(ask(T, fine)).items()}
    assert "no finer burette mends it" in told["strength-hardly-known"]
    assert told["end-points-blurred"].startswith("42.9 % of the alkali is carbonate")
    assert "whatever the burette: to 95 % the strength is open by 5.4 % of itself" in told["end-points-blurred"]
    assert "20 to 40 mL of acid, a finer burette" in message_of(ask(T, coarse), "strength-hardly-known")


def test_the_second_colour_is_late_by_what_the_water_that_is_told_takes() -> None:
    """0.125 mmol/L in 250 mL of water and 25.08 mL of normal acid, as a rectangle."""
    told = {
        line["input"]: line["standard_uncertainty"]["value"]
        for line in ask(T, stock(water_volume="250 mL"))["budget"]
        if line["distribution"] == "rectangular"
    }
    assert told["second_end_point_colour"] == pytest.approx(0.125 * 0.27508 / math.sqrt(3), rel=1e-6)


@pytest.mark.parametrize(("second", "is_due"), [("26.6 mL", False), ("26.7 mL", True)])
def test_end_points_are_blurred_from_a_hundredth_of_the_strength(second: str, *, is_due: bool) -> None:
    """1.6 and 1.7 mL beside 23.4 and 23.3 mL of hydroxide: 2 x 0.95 x 7.6 % of them are 0.99 and 1.05 % of those."""
    assert ("end-points-blurred" in cautions(ask(T, stock("25 mL", second)))) is is_due


def test_a_strength_known_to_no_more_than_itself_says_so() -> None:
    answer = ask(T, stock("1 mL", "1.02 mL", sample_mass=normal(0.082, 0.001, "g"), burette_tolerance="1 mL"))
    w = answer["strength"]["mass_fraction"]
    assert w["low"] == 0 or half_width(w) >= w["value"]
    assert "known to 100 % and more" in message_of(answer, "strength-hardly-known")


@pytest.mark.parametrize(("t", "severity"), [("40 °C", "caution"), ("59 °C", "caution"), ("60 °C", "danger")])
def test_a_hot_sample_is_a_danger_from_where_glass_may_crack(t: str, severity: str) -> None:
    assert cautions(ask(T, pipetted(temperature=t)))["glass-may-crack"]["severity"] == severity
    assert "glass-may-crack" not in cautions(ask(T, pipetted(temperature="39 °C")))


def test_a_density_of_another_stock_is_told_beside_that_of_the_strength() -> None:
    """50 % NaOH has 1.5253 g/mL at 20 °C (CRC Handbook, 102nd ed. 2021)."""
    answer = ask(T, pipetted(density="1.6 kg/L"))
    message = message_of(answer, "density-contradicts")
    found = re.search(r"stock of ([\d.]+) % NaOH weighs about ([\d.]+) kg/L .* and 1\.6 kg/L was given", message)
    assert found is not None, message
    assert float(found[1]) == pytest.approx(100 * answer["strength"]["mass_fraction"]["value"], abs=0.06)
    w = answer["strength"]["mass_fraction"]["value"] + answer["carbonate_mass_fraction"]["value"]
    due = ask("concentration", {"alkali": "NaOH", "strength": {"mass_fraction": w}})["density"]["value"]
    assert float(found[2]) == pytest.approx(due, abs=6e-4)


@pytest.mark.parametrize(("off", "is_due"), [(0.971, False), (0.968, True), (1.029, False), (1.032, True)])
def test_a_density_may_be_off_by_what_warmth_and_hydrometers_make_of_it(off: float, *, is_due: bool) -> None:
    """By 3 %: the strength that is found goes with the density given, and its density with that."""

    def due(given: float) -> float:
        found = ask(T, pipetted(density=f"{given!r} kg/L"))
        w = found["strength"]["mass_fraction"]["value"] + found["carbonate_mass_fraction"]["value"]
        return float(ask("concentration", {"alkali": "NaOH", "strength": {"mass_fraction": w}})["density"]["value"])

    given = 1.5
    for _ in range(30):
        given += 0.5 * (off * due(given) - given)
    assert given / due(given) == pytest.approx(off, abs=1e-4)
    assert ("density-contradicts" in cautions(ask(T, pipetted(density=f"{given!r} kg/L")))) is is_due


@pytest.mark.parametrize(("alkali", "most"), [("NaOH", 0.03), ("KOH", 0.035)])
def test_carbonate_is_taken_up_from_what_fresh_solid_may_bring(alkali: str, most: float) -> None:
    """Of total alkali, by USP-NF and JECFA; what the second end point adds is half of it."""
    hydroxide, carbonate = {"NaOH": (39.997, 105.988), "KOH": (56.105, 138.205)}[alkali]
    for share, is_due in ((0.97 * most, False), (1.03 * most, True)):
        molar_share = share * 2 * hydroxide / carbonate  # of the protons, all from the alkali
        first = 25 - 25 * molar_share / 2
        found = ask(T, stock(f"{first!r} mL", "25 mL", alkali=alkali, sample_mass="4 g"))
        told = found["carbonate_mass_fraction"]["value"] / found["total_alkali_fraction"]["value"]
        assert told == pytest.approx(share, rel=1e-4)
        assert ("carbonate-taken-up" in cautions(found)) is is_due


def test_carbonate_that_cannot_be_told_from_none_is_not_said_to_settle() -> None:
    vague = cautions(ask(T, stock(second="25.3 mL", burette_tolerance="0.5 mL")))
    assert "below-detection" in vague
    assert "carbonate-settles" not in vague
    fine = cautions(ask(T, stock(second="25.3 mL")))
    assert "below-detection" not in fine
    assert "carbonate-settles" in fine


def test_carbonate_of_a_strong_stock_is_told_as_it_is_answered() -> None:
    answer = ask(T, stock(second="26 mL"))
    share = 100 * answer["carbonate_mass_fraction"]["value"]
    assert f"of the {round(share, 2):g} % found" in message_of(answer, "carbonate-settles")
    assert round(share, 2) != round(share, 1)


def test_the_steps_end_in_total_alkali_its_oxide_and_the_draw_factor() -> None:
    answer = ask(T, stock(second="26 mL"), explain=True)
    told = {one["name"]: one for one in answer["steps"]}
    for name, member in (("total alkali fraction", "total_alkali_fraction"), ("oxide fraction", "oxide_fraction")):
        assert redone(told[name]) == pytest.approx(answer[member]["value"])
    assert redone(told["draw factor"]) == pytest.approx(1 / answer["strength"]["mass_fraction"]["value"])


@pytest.mark.parametrize(
    ("first", "second", "text"),
    [("25 mL", "50 mL", "all of it is carbonate"), ("20 mL", "50 mL", "there is bicarbonate beside the carbonate")],
)
def test_what_two_end_points_without_hydroxide_tell_is_said(first: str, second: str, text: str) -> None:
    found = fault(T, stock(first, second), 422)
    assert found.pointer == "/first_end_point"
    assert text in found.detail


@pytest.mark.parametrize(
    ("by", "request_"), [("/sample_mass", stock()), ("/sample_volume", pipetted(density="1.5 kg/L"))]
)
def test_too_much_alkali_is_refused_at_the_sample_that_was_given(by: str, request_: dict[str, Any]) -> None:
    for more, code in (({"acid_protons": 3}, "contradiction"), ({"acid_molarity": "1.6 mol/L"}, "beyond-solubility")):
        found = fault(T, request_ | more, 422)
        assert (found.pointer, found.code) == (by, code)


def test_a_weighed_sample_is_told_to_be_surer_where_the_density_is_found_by_the_strength_alone() -> None:
    assert "stock-by-weight-only" in cautions(ask(T, pipetted()))
    assert "stock-by-weight-only" not in cautions(ask(T, pipetted(density="1.52 kg/L")))
    assert "stock-by-weight-only" not in cautions(ask(T, stock()))


def test_more_carbonate_than_water_holds_is_sediment_of_soda_and_dissolves_in_potash() -> None:
    """A third of the water and carbonate is Na2CO3 at most; of K2CO3 water holds half (from memory)."""
    share = ("41 mL", "59 mL")
    assert "some was sediment" in message_of(ask(T, stock(*share, sample_mass="6.4 g")), "carbonate-settles")
    assert "carbonate-settles" not in cautions(ask(T, stock(*share, sample_mass="6.4 g", alkali="KOH")))
