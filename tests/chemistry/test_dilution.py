"""Pouring water into a caustic solution."""

from collections.abc import Callable

import pytest

from service.chemistry import dilution, enthalpy, water
from service.chemistry.blending import Part, blend
from service.chemistry.dilution import dilute
from service.chemistry.errors import OutOfRange
from service.chemistry.meeting import distance_to_boiling
from service.chemistry.molar_masses import Alkali
from service.chemistry.vapour_pressure import boiling_point, boiling_point_half_width
from tests.chemistry.refusing import hold_to_ends


@pytest.mark.parametrize(
    ("w", "t"), [(0.45, 39.8), (0.40, 50.5), (1 / 3, 57.8), (0.30, 58.5), (0.25, 56.7), (0.20, 52.1), (0.10, 38.6)]
)
def test_half_strength_caustic_soda_and_water_of_25_degrees_come_to_what_another_evaluation_found(
    w: float, t: float
) -> None:
    """The same heats (Parker 1965; Olsson, Jernqvist & Aly 1997) evaluated by another program, rounded to 0.1 K."""
    assert dilute("NaOH", (1.0, 0.5, 25.0), (0.5 / w - 1.0, 25.0)).temperature == pytest.approx(t, abs=0.06)


@pytest.mark.parametrize(("alkali", "w", "t"), [("NaOH", 0.5, 60.0), ("KOH", 0.45, 30.0)])
def test_enthalpies_balance(alkali: Alkali, w: float, t: float) -> None:
    found = dilute(alkali, (2.0, w, t), (1.5, 12.0))
    before = 2.0 * enthalpy.enthalpy(alkali, w, t) + 1.5 * water.enthalpy(12.0)
    assert 3.5 * enthalpy.enthalpy(alkali, 2.0 * w / 3.5, found.temperature) == pytest.approx(before, rel=1e-9)


def test_on_the_way_to_a_weak_solution_it_gets_hotter_than_it_ends() -> None:
    """The highest is that of 30 %."""
    found = dilute("NaOH", (1.0, 0.5, 25.0), (4.0, 25.0))
    assert found.temperature < 45.0
    assert found.hottest == pytest.approx(58.5, abs=0.1)
    assert dilute("NaOH", (1.0, 0.5, 90.0), (4.0, 10.0)).hottest >= 90.0


def test_the_margin_is_that_of_the_worst_proportion_and_counts_to_the_low_end_of_the_boiling_point() -> None:
    little, much = (dilute("NaOH", (1.0, 0.5, 80.0), (mass, 80.0)) for mass in (0.1, 3.0))
    assert little.boiling_margin == much.boiling_margin < 5.0
    hot = dilute("NaOH", (1.0, 0.5, 140.0), (1.0, 20.0))
    assert hot.boiling_margin < boiling_point("NaOH", 0.5) - boiling_point_half_width("NaOH", 0.5) - 140.0 + 1e-9


@pytest.mark.parametrize(
    ("stock", "poured"),
    [((1.0, 0.6, 20.0), (1.0, 20.0)), ((1.0, 0.5, -30.0), (1.0, 20.0)), ((1.0, 0.5, 20.0), (1.0, -1.0))],
)
def test_what_no_data_reach_is_refused(stock: tuple[float, float, float], poured: tuple[float, float]) -> None:
    with pytest.raises(OutOfRange):
        dilute("NaOH", stock, poured)


@pytest.mark.parametrize(
    ("alkali", "w", "t", "poured"), [("NaOH", 0.10, 1.0, 99.0), ("KOH", 0.50, 25.0, 95.0), ("KOH", 0.05, 5.0, 97.0)]
)
def test_hot_water_poured_onto_cool_solution_is_at_least_as_near_to_boiling_as_by_itself(
    alkali: Alkali, w: float, t: float, poured: float
) -> None:
    """Water boils at 100 °C at 1 atm (BIPM, International Temperature Scale of 1990: at 99.974 °C)."""
    assert dilute(alkali, (1.0, w, t), (1.0, poured)).boiling_margin <= 100.0 - poured


@pytest.mark.parametrize(
    ("alkali", "stock", "poured"),
    [
        ("NaOH", (1.0, 0.538, 106.2), (1.0, 71.2)),
        ("NaOH", (1.0, 0.305, 99.8), (0.55, 93.5)),
        ("KOH", (1.0, 0.466, 76.7), (1.6, 22.6)),
        ("KOH", (1.0, 0.403, 63.1), (4.8, 89.0)),
        ("KOH", (1.0, 0.05, 5.0), (1.0, 97.0)),
    ],
)
def test_what_is_told_is_that_of_the_worst_of_three_hundred_proportions(
    alkali: Alkali, stock: tuple[float, float, float], poured: tuple[float, float]
) -> None:
    found = dilute(alkali, stock, poured)
    nearest, hottest = 1e9, max(stock[2], poured[1])
    for i in range(1, 300):
        share = i / 300  # of water
        made = dilute(alkali, stock, (stock[0] * share / (1.0 - share), poured[1])).temperature
        w = stock[1] * (1.0 - share)
        nearest = min(nearest, boiling_point(alkali, w) - boiling_point_half_width(alkali, w) - made)
        if share < poured[0] / (stock[0] + poured[0]):
            hottest = max(hottest, made)
    assert found.boiling_margin <= nearest + 0.02
    assert found.hottest == pytest.approx(hottest, abs=0.02)


@pytest.mark.parametrize(
    ("quantity", "of", "low", "high"),
    [
        ("mass", lambda mass: dilute("NaOH", (mass, 0.3, 20.0), (1.0, 20.0)), 1e-12, 1e9),
        ("water", lambda mass: dilute("NaOH", (1.0, 0.3, 20.0), (mass, 20.0)), 1e-12, 1e9),
        ("temperature", lambda t: dilute("NaOH", (1.0, 0.3, t), (1.0, 20.0)), -28.0, 200.0),
        ("water_temperature", lambda t: dilute("NaOH", (1.0, 0.3, 20.0), (1.0, t)), 0.0, 100.0),
        ("mass_fraction", lambda w: dilute("NaOH", (1.0, w, 20.0), (1.0, 20.0)), 0.0, 0.55),
        ("mass_fraction", lambda w: dilute("KOH", (1.0, w, 20.0), (1.0, 20.0)), 0.0, 0.50),
    ],
)
def test_ranges_hold_to_their_ends_and_no_further(
    quantity: str, of: Callable[[float], object], low: float, high: float
) -> None:
    hold_to_ends(quantity, of, low, high)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize(("w", "t", "poured"), [(0.5, 20.0, 20.0), (0.4, 60.0, 15.0), (0.1, 10.0, 70.0)])
def test_the_hottest_lies_on_the_way_from_the_solution_to_the_whole(
    alkali: Alkali, w: float, t: float, poured: float
) -> None:
    """The more water has been poured, the more of the way is gone: it gets no less, and holds what both had before."""
    before = max(t, poured)
    for water_mass in (0.01, 0.1, 0.5, 1.0, 3.0, 20.0):
        found = dilute(alkali, (1.0, w, t), (water_mass, poured))
        assert found.hottest >= max(t, poured, found.temperature, before - 1e-9)
        before = found.hottest
        mixed = blend(alkali, [Part(1.0, w, t), Part(water_mass, 0.0, poured)]).state.temperature
        assert found.temperature == pytest.approx(mixed, abs=1e-6)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_a_little_water_leaves_the_hottest_where_it_has_come_to(alkali: Alkali) -> None:
    """Strong solution warms as it is diluted, until the peak: before it, the whole is the hottest there has been."""
    little, much = (dilute(alkali, (1.0, 0.5, 25.0), (mass, 25.0)) for mass in (0.1, 9.0))
    assert little.hottest == little.temperature < much.hottest
    assert much.temperature < much.hottest


@pytest.mark.parametrize(
    ("alkali", "stock", "poured"),
    [
        ("NaOH", (0.5, 140.0), 60.0),
        ("KOH", (0.5, 120.0), 60.0),
        ("NaOH", (0.3, 25.0), 60.0),
        ("NaOH", (0.3, 105.0), 5.0),
        ("KOH", (0.2, 98.0), 2.0),
        ("NaOH", (0.05, 5.0), 98.0),
    ],
)
def test_the_margin_does_not_depend_on_how_much_there_is_of_both(
    alkali: Alkali, stock: tuple[float, float], poured: float
) -> None:
    """Every proportion occurs where they meet, and either by itself, of which the nearer tells at most."""
    masses = (0.01, 0.2, 1.0, 5.0, 20.0, 50.0)
    margins = {dilute(alkali, (mass, *stock), (1.0, poured)).boiling_margin for mass in masses}
    assert max(margins) - min(margins) < 0.02
    for w, t in (stock, (0.0, poured)):
        by_itself = boiling_point(alkali, w) - boiling_point_half_width(alkali, w) - t
        assert max(margins) <= by_itself + 1e-9


def test_what_was_found_for_256_stocks_is_kept_and_no_more_lest_memory_grow(monkeypatch: pytest.MonkeyPatch) -> None:
    """A stock that is asked for again, in whatever mass, costs one look at the whole."""
    looked: list[float] = []

    def counted(alkali: Alkali, w: float, t: float) -> float:
        looked.append(w)
        return distance_to_boiling(alkali, w, t)

    monkeypatch.setattr(dilution, "distance_to_boiling", counted)
    stocks = [(1.0, 0.2 + 0.001 * i, 31.25) for i in range(257)]
    for again in (False, True):
        looked.clear()
        for stock in stocks[:256]:
            dilute("NaOH", stock, (1.0, 11.75))
        assert (len(looked) == 256) == again
    for stock in (stocks[256], stocks[0]):
        looked.clear()
        dilute("NaOH", stock, (2.0, 11.75))
        assert len(looked) > 1
