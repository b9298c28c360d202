"""What is alike but for rounding is answered alike, however the rounding fell."""

import pytest

from tests.calculations.asking import ask

CUP = 8.333333333333335


@pytest.mark.parametrize("off", [-2e-12, -1e-13, 1e-13, 2e-12])
@pytest.mark.parametrize("strength", [0.02, 0.3, 0.5])
def test_peak_of_what_is_alike_does_not_go_by_which_is_the_stronger_by_rounding(strength: float, off: float) -> None:
    def high(more: float) -> float:
        by_density = {"mass_fraction": {"value": strength + more, "uncertainty": 0.002, "unit": "1"}}
        exactly = {"mass_fraction": {"value": strength, "unit": "1"}}
        solutions = [{"alkali": "NaOH", "strength": one, "volume": f"{CUP} mL"} for one in (by_density, exactly)]
        found = ask("stock-dilution", {"solutions": solutions}, digits=15)["peak_temperature"]["high"]
        assert isinstance(found, float)
        return found

    assert high(off) == pytest.approx(high(0.0), abs=1e-7)


@pytest.mark.parametrize("mass", ["120 kg", "4232.875433949649 oz", "264.55471462185307 lb", "119.99999999999999 kg"])
@pytest.mark.parametrize("change", ["0 kg", "-6.9e-51 kg", "-6.9e-45 mg"])
def test_nothing_gone_leaves_a_strength_without_an_interval(mass: str, change: str) -> None:
    body = {
        "solution": {"alkali": "NaOH", "mass": mass, "strength": {"mass_fraction": 0.44381407014380525}},
        "drawn_masses": ["10.26 kg", "17292529.875548493 mg", "0.017195324929277674 t", "846.5750867899299 oz"],
        "mass_change": change,
    }
    answer = ask("stock-assay/evaporation", body, digits=17)
    assert answer["strength"]["mass_fraction"] == {"value": pytest.approx(0.44381407014380525, rel=1e-15), "unit": "1"}
    assert set(answer["draw_factor"]) == {"value", "unit"}
