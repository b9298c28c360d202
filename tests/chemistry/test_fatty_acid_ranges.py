"""What fatty acids are refused as, and the factors of iodine values against the molar masses that they stand for."""

import math
from collections.abc import Callable

import pytest

from service.chemistry.fatty_acids import (
    CD_1C_85_FACTORS,
    Form,
    acid_mass_fraction,
    blend_composition,
    fatty_acid_molar_mass,
    iodine_value,
    iodine_value_cd_1c_85,
    normalised,
    saponification_value,
    spreads,
    triglyceride_molar_mass,
)
from service.reference.records import FattyAcid
from tests.chemistry.refusing import refused


def record(code: str) -> FattyAcid:
    """An acid by its shorthand, such as C18:1."""
    carbons, double_bonds = (int(count) for count in code.removeprefix("C").split(":"))
    return FattyAcid(code, code, "", carbons, double_bonds, fatty_acid_molar_mass(carbons, double_bonds))


ACIDS = {code: record(code) for code in ("C16:0", *CD_1C_85_FACTORS["triglyceride"])}


@pytest.mark.parametrize("code", ["C16:1", "C18:1", "C18:2", "C18:3", "C20:1", "C22:1"])
@pytest.mark.parametrize("form", ["triglyceride", "free-acid"])
def test_a_printed_factor_is_the_iodine_that_the_molar_mass_takes_up(code: str, form: Form) -> None:
    """AOCS Cd 1c-85 prints three figures, or four; the theory of a double bond for each I2 is another way to them."""
    by_factor = iodine_value_cd_1c_85({code: 1.0}, ACIDS, form)
    assert by_factor.iodine_value == pytest.approx(iodine_value({code: 1.0}, ACIDS, form), rel=1e-3)
    assert by_factor.share_without_factor == 0.0


def test_an_acid_without_double_bonds_takes_up_nothing_and_is_not_left_out() -> None:
    assert iodine_value_cd_1c_85({"C16:0": 1.0}, ACIDS) == (0.0, 0.0)


INFINITE = math.inf
REFUSED: list[tuple[str, Callable[[], object], float, float]] = [
    ("carbons", lambda: fatty_acid_molar_mass(0, 0), 1, INFINITE),
    ("double_bonds", lambda: fatty_acid_molar_mass(18, -1), 0, 8),
    ("double_bonds", lambda: fatty_acid_molar_mass(18, 9), 0, 8),
    ("double_bonds", lambda: fatty_acid_molar_mass(17, 9), 0, 8),
    ("double_bonds", lambda: fatty_acid_molar_mass(1, 1), 0, 0),
    ("hydroxyls", lambda: fatty_acid_molar_mass(18, 1, -1), 0, INFINITE),
    ("mean_acid_molar_mass", lambda: triglyceride_molar_mass(0.0), 0.0, INFINITE),
    ("mean_acid_molar_mass", lambda: triglyceride_molar_mass(INFINITE), 0.0, INFINITE),
    ("C16:0", lambda: normalised({"C16:0": -1e-9, "C18:1": 1.0}), 0.0, INFINITE),
    ("C16:0", lambda: normalised({"C16:0": INFINITE}), 0.0, INFINITE),
    ("shares", lambda: normalised({"C16:0": 0.0}), 0.0, INFINITE),
    ("shares", lambda: normalised({}), 0.0, INFINITE),
    ("C16:0", lambda: spreads({"C16:0": (0.5, 0.4)}), 0.0, 0.4),
    ("mass", lambda: blend_composition([(-1e-9, {"C16:0": (1.0, 1.0)})]), 0.0, INFINITE),
    ("mass", lambda: blend_composition([(INFINITE, {"C16:0": (1.0, 1.0)})]), 0.0, INFINITE),
    ("mass", lambda: blend_composition([(0.0, {"C16:0": (1.0, 1.0)})]), 0.0, INFINITE),
    ("unsaponifiable", lambda: saponification_value({"C16:0": 1.0}, ACIDS, -1e-9), 0.0, 0.5),
    ("unsaponifiable", lambda: saponification_value({"C16:0": 1.0}, ACIDS, 0.5 + 1e-9), 0.0, 0.5),
    ("unsaponifiable", lambda: acid_mass_fraction({"C16:0": 1.0}, ACIDS, 0.5 + 1e-9), 0.0, 0.5),
    ("unsaponifiable", lambda: iodine_value({"C16:0": 1.0}, ACIDS, "free-acid", 0.5 + 1e-9), 0.0, 0.5),
]


@pytest.mark.parametrize(("quantity", "asked", "low", "high"), REFUSED)
def test_what_no_fat_has_is_refused_with_its_name_and_its_range(
    quantity: str, asked: Callable[[], object], low: float, high: float
) -> None:
    with refused(quantity, low, high):
        asked()


def test_the_ends_of_the_ranges_are_taken() -> None:
    assert fatty_acid_molar_mass(17, 8) > fatty_acid_molar_mass(1, 0)
    assert saponification_value({"C16:0": 1.0}, ACIDS, 0.5) == pytest.approx(
        0.5 * saponification_value({"C16:0": 1.0}, ACIDS)
    )
    assert [one.middle for one in spreads({"C16:0": (0.0, 0.0), "C18:1": (0.4, 0.4)})] == [0.0, 1.0]
    assert blend_composition([(1e-9, {"C16:0": (1.0, 1.0)})])["C16:0"] == (1.0, 1.0, 1.0)
