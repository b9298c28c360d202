"""Where parts meet: the worst of all proportions, against a row of them, against pouring in two parts, and with ice."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import blending, enthalpy, vapour_pressure
from service.chemistry.blending import Part, blend, part_enthalpy
from service.chemistry.dilution import dilute
from service.chemistry.meeting import hottest, upper_edge
from service.chemistry.molar_masses import Alkali

ALKALIS: tuple[Alkali, ...] = ("NaOH", "KOH")
PARTS = st.builds(Part, st.floats(0.01, 100.0), st.floats(0.0, 0.5), st.floats(0.0, 90.0), st.just(False))


@pytest.mark.parametrize(("t", "water"), [(25.0, 25.0), (60.0, 20.0), (80.0, 80.0), (120.0, 10.0)])
@pytest.mark.parametrize("alkali", ALKALIS)
def test_the_worst_proportion_is_at_least_as_bad_as_the_worst_of_a_row_of_them(
    alkali: Alkali, t: float, water: float
) -> None:
    """`dilute` seeks in proportions of two, this in strengths of any parts: two ways to one answer."""
    if alkali == "KOH" and t > 110:
        return
    tried = dilute(alkali, (1.0, 0.5, t), (99.0, water))
    found = hottest(alkali, [Part(1.0, 0.5, t), Part(1.0, 0.0, water)])
    assert found.boiling_margin == pytest.approx(tried.boiling_margin, abs=0.02)
    if tried.hottest < 100:  # `dilute` does not cap
        assert found.temperature == pytest.approx(tried.hottest, abs=0.02)


@pytest.mark.parametrize(
    ("alkali", "strong", "weak"),
    [
        ("NaOH", (0.526, 128.7), (0.0, 84.0)),
        ("NaOH", (0.42, 200.0), (0.527, 59.7)),
        ("NaOH", (0.112, 119.6), (0.5, 36.5)),
        ("KOH", (0.14, 200.0), (0.276, 16.1)),
        ("KOH", (0.5, 60.0), (0.49, 30.0)),
        ("NaOH", (0.3, 25.0), (0.0, 95.0)),
    ],
)
def test_the_worst_is_that_of_five_hundred_proportions_of_two_parts(
    alkali: Alkali, strong: tuple[float, float], weak: tuple[float, float]
) -> None:
    """Balance of masses and enthalpies for each proportion; what boils over some of them is hottest where it ends."""
    one, other = Part(1.0, *strong), Part(1.0, *weak)
    found = hottest(alkali, [one, other])
    highest, least = -1e9, 1e9
    for i in range(501):
        share = i / 500
        w = share * strong[0] + (1.0 - share) * weak[0]
        heat = share * part_enthalpy(alkali, one) + (1.0 - share) * part_enthalpy(alkali, other)
        t = enthalpy.at_strength(alkali, w).temperature(heat)
        boiling = vapour_pressure.boiling_point(alkali, w)
        highest = max(highest, min(t, boiling))
        least = min(least, boiling - vapour_pressure.boiling_point_half_width(alkali, w) - t)
    assert least - 0.3 <= found.boiling_margin <= least + 0.005  # a point tried may lie between two of these
    assert highest - 0.005 <= found.temperature <= highest + 0.1


@given(st.lists(PARTS, min_size=2, max_size=4), st.lists(st.floats(0.0, 1.0), min_size=4, max_size=4))
def test_no_mixture_of_all_is_hotter_or_nearer_to_boiling_than_what_is_told(
    parts: list[Part], shares: list[float]
) -> None:
    taken = [one._replace(mass=share + 1e-6) for one, share in zip(parts, shares, strict=False)]
    worst = hottest("NaOH", parts)
    whole = blending.amounts_of(taken)
    heat = sum(one.mass * part_enthalpy("NaOH", one) for one in taken)
    liquid = enthalpy.at_strength("NaOH", whole.strength)
    t = liquid.temperature(heat / whole.total)
    boiling = vapour_pressure.boiling_point("NaOH", whole.strength)
    low = boiling - vapour_pressure.boiling_point_half_width("NaOH", whole.strength)
    assert low - t >= worst.boiling_margin - 0.02
    assert min(t, boiling) <= worst.temperature + 0.02


def test_the_upper_edge_holds_the_hottest_of_each_strength_and_nothing_below_a_line() -> None:
    points = [(0.0, 0.0, 0), (0.2, -5.0, 1), (0.2, 3.0, 2), (0.3, 1.0, 3), (0.5, 4.0, 4), (0.4, 3.0, 5)]
    for order in itertools.islice(itertools.permutations(points), 0, 720, 37):
        assert [i for *_, i in upper_edge(order)] == [0, 2, 4]


@pytest.mark.parametrize(("w", "rise"), [(0.5, 0.9), (0.3, 0.0)])
def test_a_little_ice_warms_strong_stock_and_cools_weak_stock(w: float, rise: float) -> None:
    """Diluting 50 % gives off a little more heat than melting takes up: the balance with 5 % of ice says so too."""
    iced = hottest("NaOH", [Part(1.0, w, 30.0), Part(5.0, 0.0, -5.0, ice=True)])
    assert iced.temperature == pytest.approx(30.0 + rise, abs=0.05)
    whole = blend("NaOH", [Part(1.0, w, 30.0), Part(0.05, 0.0, -5.0, ice=True)]).state.temperature
    assert whole is not None
    assert (whole > 30.0) == (rise > 0)
