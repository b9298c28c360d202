"""Examples A1 to A3 of QUAM (source in quam.py) come out to the printed digits.

The headline figures are rows of saponification_validation.py; here stand the contributions and the variants.
"""

import pytest

from service.chemistry.uncertainty import normal
from tests.reference_cases import quam


@pytest.mark.parametrize(("quantity", "printed", "digit"), quam.A2_CONTRIBUTIONS)
def test_each_input_of_a2_contributes_as_printed(quantity: str, printed: float, digit: float) -> None:
    _, _, contributions = quam.a2()
    assert contributions[quantity] == pytest.approx(printed, abs=digit / 2)


def test_a3_with_the_repeatability_of_a_mean_of_three_prints_as_0_10139_16() -> None:
    value, combined, _ = quam.a3(repeatability=quam.MEAN_OF_THREE)
    assert (round(value, 5), round(combined.standard_uncertainty, 5)) == (0.10139, 0.00016)


def test_a3_prints_as_0_10139_18() -> None:
    value, combined, _ = quam.a3()
    assert (round(value, 5), round(combined.standard_uncertainty, 5)) == (0.10139, 0.00018)


def test_a3_with_indicator_bias_prints_as_0_10132_31() -> None:
    value, combined, _ = quam.a3(repeatability=quam.MEAN_OF_THREE, bias=normal(0.03))
    assert (round(value, 5), round(combined.standard_uncertainty, 5)) == (0.10132, 0.00031)


def test_the_widest_rectangle_of_a2_is_half_the_triangle_of_the_burette() -> None:
    value, combined, _ = quam.a2()
    assert combined.widest_rectangular == pytest.approx(value * 0.015 / 18.64)
