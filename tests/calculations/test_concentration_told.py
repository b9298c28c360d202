"""What a concentration says beside its numbers is what the numbers say: crystals, boiling, sources and steps."""

import math
from typing import Final

import pytest

from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes
from service.calculations.stock.concentration import CALCULATION
from service.calculations.stock.concentration_notes import caution_concentration
from service.calculations.stock.solution_properties import DILUTE
from service.calculations.stock.solution_steps import powers
from service.chemistry import density, vapour_pressure, viscosity
from service.chemistry.freezing import FirstSolid
from service.reference.records import Evidence
from tests.calculations.asking import Answer, ask
from tests.calculations.figures import NORMAL_95

C: Final = CALCULATION.name


def _told(
    t: float, w: float = 0.3, alkali: AlkaliName = "NaOH", boiling: float = 117.0, evidence: Evidence = "seen-primary"
) -> dict[str, str]:
    """Messages by code, of a solution that may set from 8.02 to 12.06 °C and does at 9.54 °C."""
    notes = Notes()
    first = FirstSolid(9.54, 8.02, 12.06, "NaOH·H2O", "sodium hydroxide monohydrate", evidence)
    caution_concentration(alkali, w, t, notes, first=first, boiling=boiling)
    return {one.code: one.message for one in notes.cautions}


def _asked(w: object, t: str = "20 °C", alkali: AlkaliName = "NaOH", *, explain: bool = False) -> Answer:
    return ask(C, {"alkali": alkali, "strength": {"mass_fraction": w}, "temperature": t}, explain=explain)


@pytest.mark.parametrize(
    ("t", "sure"), [(8.01, True), (8.02, True), (8.03, False), (11.26, False), (12.06, False), (12.07, None)]
)
def test_crystals_are_told_as_surely_as_they_are_known(t: float, sure: bool | None) -> None:
    message = _told(t).get("crystals-in-solution")
    assert (message is None) is (sure is None)
    if message is not None:
        assert message.startswith(f"At {t:.1f} °C ({1.8 * t + 32:.1f} °F)".replace(".0 ", " "))
        assert ("it holds solid" in message, "it may hold solid" in message) == (sure, not sure)
        assert "from 9.5 °C (49.2 °F)" in message


@pytest.mark.parametrize(
    ("t", "boils"), [(116.76, True), (116.5, True), (116.48, False), (90.0, False), (119.24, True)]
)
def test_what_is_half_a_kelvin_from_boiling_boils(t: float, boils: bool) -> None:
    message = _told(t).get("boils")
    assert (message is not None) is boils
    if message is not None:
        assert message.startswith(f"At {t:.1f} °C ({1.8 * t + 32:.1f} °F) it boils")
        assert "(117 °C (242.6 °F) at 1 atm)" in message
    assert "(117.3 °C (243.1 °F) at 1 atm)" in _told(118.0, boiling=117.26)["boils"]


def test_only_a_first_solid_from_memory_is_told_as_that() -> None:
    for evidence, given in (("memory", True), ("mixed", True), ("seen-primary", False)):
        assert ("figure-from-memory" in _told(50.0, evidence=evidence)) is given  # type: ignore[arg-type]


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize(("w", "t"), [(0.2, 20.0), (0.4, 1.0), (0.49, 1.0), (0.2, 99.0), (0.49, 20.0), (0.5, 80.0)])
def test_what_lies_beyond_its_source_is_named_and_nothing_else(alkali: AlkaliName, w: float, t: float) -> None:
    boiling = vapour_pressure.boiling_point(alkali, w)
    beyond = [
        *(["density"] if not density.in_source_range(alkali, w, t) else []),
        *(["boiling point"] if not vapour_pressure.in_source_range(alkali, w, boiling) else []),
        *(["vapour pressure"] if not vapour_pressure.in_source_range(alkali, w, t) else []),
    ]
    message = _told(t, w, alkali, boiling).get("beyond-source-range")
    assert (message is None) is (not beyond)
    assert message is None or message.endswith(f" states: {', '.join(beyond)}.")


def test_a_water_ratio_is_told_of_what_is_no_water() -> None:
    for w, given in ((0.0, False), (DILUTE, False), (1.01 * DILUTE, True)):
        answer = _asked(w)
        assert ("water_ratio" in answer) is given
        if given:
            assert answer["water_ratio"]["value"] == pytest.approx((1 - w) / w)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
@pytest.mark.parametrize("w", [0.1, 0.3])
def test_an_interval_of_viscosity_widens_as_another_strength_would_move_it(alkali: AlkaliName, w: float) -> None:
    """An exact strength leaves the model's share of the value; one that is not, what it moves the logarithm by too."""
    exact = _asked(w, alkali=alkali)["viscosity"]
    model = viscosity.RELATIVE_HALF_WIDTH
    assert exact["high"] - exact["value"] == pytest.approx(model * exact["value"])
    open_ = _asked({"value": w, "uncertainty": 0.01, "unit": "1"}, alkali=alkali)["viscosity"]
    assert open_["value"] == exact["value"]
    slope = math.log(_asked(w + 1e-4, alkali=alkali)["viscosity"]["value"] / exact["value"]) / 1e-4
    steep = math.hypot(NORMAL_95 * 0.01 * slope, model)
    assert math.log(open_["high"] / open_["value"]) == pytest.approx(steep, rel=1e-2)
    assert math.log(open_["value"] / open_["low"]) == pytest.approx(steep, rel=1e-2)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_water_that_may_hold_alkali_is_not_asked_for_less_than_none(alkali: AlkaliName) -> None:
    water = _asked(0.0, alkali=alkali)["viscosity"]
    perhaps = _asked({"value": 0.0, "uncertainty": 0.001, "unit": "1"}, alkali=alkali)["viscosity"]
    assert perhaps["value"] == water["value"]
    assert perhaps["low"] < perhaps["value"] < water["high"] < perhaps["high"]


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_the_steps_of_a_concentration_lead_to_its_scales(alkali: AlkaliName) -> None:
    answer = _asked("30 %", "31 °C", alkali, explain=True)
    steps = {one["name"]: one for one in answer["steps"]}
    at_scale, water = steps["density at 15.56 °C"]["result"], steps["density of water at 15.56 °C"]["result"]
    gravity = steps["specific gravity"]
    assert gravity["inputs"]["density"]["value"] == pytest.approx(at_scale["value"])
    assert gravity["inputs"]["density_of_water"]["value"] == pytest.approx(water["value"])
    assert gravity["result"]["value"] == pytest.approx(at_scale["value"] / water["value"])
    assert gravity["result"]["value"] == pytest.approx(answer["specific_gravity"]["value"])
    assert water["value"] == pytest.approx(0.99901, abs=1e-5)  # kg/L at 60 °F (Kell 1975)
    assert steps["molarity"]["inputs"]["density"]["value"] == pytest.approx(steps["density"]["result"]["value"])


def test_a_polynomial_is_written_as_a_person_writes_it() -> None:
    assert powers(["a", "b", "c", "d"], "x") == "a + b * x + c * x**2 + d * x**3"
    assert powers(["B", "C"], "x", 1) == "B * x + C * x**2"
