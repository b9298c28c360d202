"""A stock that has stood for long: said by every assay that is told its age (one to two months closed: common
practice, no source)."""

from typing import Any, Final

import pytest

from tests.calculations.asking import ask, cautions, message_of

ASSAYS: Final[dict[str, dict[str, Any]]] = {
    "stock-assay/titration": {
        "alkali": "NaOH",
        "sample_mass": "2.05 g",
        "acid_molarity": "1 mol/L",
        "first_end_point": "25.30 mL",
        "second_end_point": "25.45 mL",
    },
    "stock-assay/hydrometer": {"alkali": "NaOH", "reading": {"specific_gravity": 1.5}, "temperature": "20 °C"},
    "stock-assay/evaporation": {
        "solution": {"alkali": "NaOH", "mass": "10 kg", "strength": {"mass_fraction": "50 %"}},
        "mass_now": "10 kg",
    },
}


@pytest.mark.parametrize("name", ASSAYS)
@pytest.mark.parametrize(
    ("age", "severity"), [(None, None), ("29 d", None), ("30 d", "note"), ("59 d", "note"), ("60 d", "caution")]
)
def test_age_is_a_note_from_one_month_and_a_caution_from_two(name: str, age: str | None, severity: str | None) -> None:
    told = cautions(ask(name, ASSAYS[name] | ({} if age is None else {"age": age}))).get("stock-old")
    assert (told or {}).get("severity") == severity


@pytest.mark.parametrize("name", ASSAYS)
def test_an_old_stock_is_told_when_to_hand_it_over(name: str) -> None:
    message = message_of(ask(name, ASSAYS[name] | {"age": "100 d"}), "stock-old")
    assert "100 days" in message
    assert "cloudy, coloured, or holds more carbonate" in message


def test_only_a_titration_tells_the_strength_of_an_old_stock() -> None:
    said = {name: message_of(ask(name, one | {"age": "100 d"}), "stock-old") for name, one in ASSAYS.items()}
    assert "titrate it" not in said["stock-assay/titration"]
    assert "titrate it" in said["stock-assay/hydrometer"]
    assert "titrate it" in said["stock-assay/evaporation"]
