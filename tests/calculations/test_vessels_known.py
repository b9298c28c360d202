"""What is known of a vessel: its limit for each strength, whose figure that is, and how full it gets."""

import re
from typing import Any, Final

import pytest

from service.calculations.mixing.vessel_notes import CLOSE_TO_LIMIT, PLASTIC_LIMIT, ROOM_FOR_FOAM, SUDDEN
from service.calculations.mixing.vessels import ROUND_UP, STRONGEST, KnownVessel, find_vessel
from service.calculations.shared.given import Temperature
from service.calculations.shared.messages import Vessel
from service.calculations.shared.notes import Notes
from service.calculations.stock.solutions import SOLUBILITY
from service.chemistry.density import HIGHEST_TEMPERATURE, density
from service.reference import reference_data
from tests.calculations.asking import ask, cautions, message_of

M: Final = "stock-mixing"


def _vessel(material: str, limit: float | None = None) -> KnownVessel:
    own = None if limit is None else Temperature(limit)
    found = find_vessel(Vessel(material=material, maximum_temperature=own), Notes())
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("material", "strength", "limit"),
    [
        ("stainless-steel", 0.1, 80.0),
        ("stainless-steel", 0.4, 80.0),
        ("stainless-steel", 0.404, 80.0),
        ("stainless-steel", 0.406, 70.0),
        ("stainless-steel", 0.5, 70.0),
        ("stainless-steel", 0.52, 70.0),
        ("stainless-steel", 0.53, None),
        ("hdpe", 0.52, 60.0),
        ("hdpe", 0.6, None),
        ("carbon-steel", 0.51, 50.0),
        ("pvc", 0.3, 66.0),
        ("pvc", 0.31, None),
        ("pvc", 0.52, None),
        ("nickel", 0.3, None),
    ],
)
def test_a_limit_holds_up_to_the_strength_it_is_stated_for_and_the_last_for_all_stocks(
    material: str, strength: float, limit: float | None
) -> None:
    """Figures of `vessel_materials.toml` with their sources there; that of PVC is stated for 30 % and no more."""
    known = _vessel(material)
    assert known.limit(strength) == limit
    assert (known.catalogue_limit(strength) is None) is (limit is None)
    assert _vessel(material, 33.0).limit(strength) == 33.0


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_the_last_limit_is_taken_for_the_strongest_stock_there_is(alkali: Any) -> None:
    assert SOLUBILITY[alkali] <= STRONGEST + ROUND_UP
    for material in reference_data().vessel_materials.values():
        if material.limits and material.limits[-1].strength >= STRONGEST:
            assert _vessel(material.id).limit(SOLUBILITY[alkali]) == material.limits[-1].temperature.low


@pytest.mark.parametrize("w", [0.1, 0.35, 0.5, 0.52])
@pytest.mark.parametrize("material", sorted(reference_data().vessel_materials))
def test_a_limit_is_from_memory_where_its_own_record_says_so_and_never_where_its_maker_states_one(
    material: str, w: float
) -> None:
    known = _vessel(material)
    records = [one for one in known.material.limits if one.temperature.low == known.limit(w)]
    assert known.limit_is_recalled(w) is any(one.temperature.evidence == "memory" for one in records)
    assert _vessel(material, 60.0).limit_is_recalled(w) is False


def _mixed(t: str, material: str = "hdpe", **more: Any) -> dict[str, dict[str, str]]:
    """A gram of solid into a stock, so that it is hardly hotter than that."""
    stock = {"alkali": "NaOH", "mass": "2 kg", "strength": {"mass_fraction": "30 %"}, "temperature": t}
    solid = {"alkali": "NaOH", "mass_as_supplied": "1 g", "purity": 1}
    vessel = {"material": material, "volume": "5 L"} | more
    return cautions(ask(M, {"solid": solid, "existing_stock": stock, "vessel": vessel}))


@pytest.mark.parametrize(("t", "severity"), [("30 °C", "note"), ("48 °C", "note"), ("52 °C", "caution")])
def test_a_limit_from_memory_is_a_caution_where_it_is_near(t: str, severity: str) -> None:
    assert 60 - CLOSE_TO_LIMIT == 50
    told = _mixed(t)
    assert told["vessel-limit-from-memory"]["severity"] == severity
    assert ("vessel-limit-near" in told) is (severity == "caution")


@pytest.mark.parametrize(("t", "closed"), [("55 °C", False), ("62 °C", True)])
def test_a_lid_on_stock_that_steams_is_told(t: str, *, closed: bool) -> None:
    assert 55 < PLASTIC_LIMIT < 62
    assert ("vessel-closed" in _mixed(t, "nickel", lid=True)) is closed


def test_what_boils_off_takes_room_before_it_leaves() -> None:
    """2 kg of 50 % that boil: all of it, as dense as 50 % is as hot."""
    vessel = {"material": "nickel", "volume": "1.4 L"}
    solid = {"alkali": "NaOH", "mass_as_supplied": "1 kg", "purity": 1, "temperature": "20 °C"}
    answer = ask(M, {"solid": solid, "water": {"mass": "1 kg", "temperature": "90 °C"}, "vessel": vessel})
    steam = answer["water_boiled_off"]["value"] / 1e3
    assert steam > 0.02
    found = re.search(r"takes ([\d.]+) L", message_of(answer, "vessel-too-small"))
    assert found is not None
    hot = min(answer["peak_temperature"]["value"], HIGHEST_TEMPERATURE["NaOH"])
    volume = 2.0 / density("NaOH", 0.5, hot) * 1e3
    assert float(found[1]) == pytest.approx(volume, rel=7e-3)
    assert steam / 2.0 > 0.01  # which a volume to three figures tells


@pytest.mark.parametrize(("more", "given"), [(0.99, True), (1.01, False)])
def test_a_tenth_is_left_for_foam(more: float, *, given: bool) -> None:
    stock = {"alkali": "NaOH", "mass": "2 kg", "strength": {"mass_fraction": "30 %"}, "temperature": "30 °C"}
    solid = {"alkali": "NaOH", "mass_as_supplied": "1 g", "purity": 1}
    litres = 2.001 / density("NaOH", 0.3, 30.0) * 1e3 / ROOM_FOR_FOAM * more
    vessel = {"material": "nickel", "volume": f"{litres!r} L"}
    told = cautions(ask(M, {"solid": solid, "existing_stock": stock, "vessel": vessel}))
    assert ("vessel-too-small" in told) is given


@pytest.mark.parametrize(("mass", "given"), [("50 g", False), ("150 g", False), ("160 g", True), ("400 g", True)])
def test_glass_that_is_heated_by_more_than_it_is_rated_to_may_crack(mass: str, *, given: bool) -> None:
    """From the coldest of its way to the upper end of its peak."""
    solid = {"alkali": "NaOH", "mass_as_supplied": mass, "purity": 1}
    water = {"mass": "1 kg", "temperature": "30 °C"}
    told = ask(M, {"solid": solid, "vessel": {"material": "glass-soda-lime"}, "water": water})
    coldest = min(one["temperature"]["value"] for one in told["path"] if "temperature" in one)
    rise = told["peak_temperature"]["high"] - coldest
    assert (rise > SUDDEN) is ("glass-may-crack" in cautions(told))
    assert (rise > SUDDEN) is given
