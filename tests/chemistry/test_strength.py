"""Every form of a strength leads back to the mass fraction, and refuses what it cannot mean."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.chemistry import density as densities
from service.chemistry import hydrometer, strength
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali

ALKALIS: list[Alkali] = ["NaOH", "KOH"]
ALKALI = st.sampled_from(ALKALIS)


@given(alkali=ALKALI, w=st.floats(1e-6, 0.999))
def test_forms_by_mass_lead_back(alkali: Alkali, w: float) -> None:
    there_and_back = [
        strength.mass_fraction_from_water_ratio(strength.water_ratio_from_mass_fraction(w)),
        strength.mass_fraction_from_mole_fraction(alkali, strength.mole_fraction_from_mass_fraction(alkali, w)),
        strength.mass_fraction_from_molality(alkali, strength.molality_from_mass_fraction(alkali, w)),
        strength.mass_fraction_from_oxide_fraction(alkali, strength.oxide_fraction_from_mass_fraction(alkali, w)),
    ]
    assert there_and_back == pytest.approx([w] * 4, rel=1e-12)


@given(alkali=ALKALI, share=st.floats(0.0, 1.0), t=st.floats(0.0, 120.0))
def test_forms_by_volume_lead_back(alkali: Alkali, share: float, t: float) -> None:
    w = share * densities.HIGHEST_MASS_FRACTION[alkali]
    there_and_back = [
        strength.mass_fraction_from_molarity(alkali, strength.molarity_from_mass_fraction(alkali, w, t), t),
        strength.mass_fraction_from_mass_concentration(
            alkali, strength.mass_concentration_from_mass_fraction(alkali, w, t), t
        ),
        strength.mass_fraction_from_density(alkali, strength.density_from_mass_fraction(alkali, w, t), t),
    ]
    assert there_and_back == pytest.approx([w] * 3, rel=1e-11, abs=1e-13)


@given(
    alkali=ALKALI,
    share=st.floats(0.0, 1.0),
    reference=st.floats(4.0, 40.0),
    modulus=st.sampled_from([144.0, 144.3, 145.0, 146.78]),
)
def test_forms_of_hydrometers_lead_back(alkali: Alkali, share: float, reference: float, modulus: float) -> None:
    w = share * densities.HIGHEST_MASS_FRACTION[alkali]
    gravity = strength.specific_gravity_from_mass_fraction(alkali, w, reference)
    baume = strength.degrees_baume_from_mass_fraction(alkali, w, modulus, reference)
    twaddell = strength.degrees_twaddell_from_mass_fraction(alkali, w, reference)
    there_and_back = [
        strength.mass_fraction_from_specific_gravity(alkali, gravity, reference),
        strength.mass_fraction_from_degrees_baume(alkali, baume, modulus, reference),
        strength.mass_fraction_from_degrees_twaddell(alkali, twaddell, reference),
    ]
    assert there_and_back == pytest.approx([w] * 3, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("alkali", ALKALIS)
def test_zero_degrees_are_water(alkali: Alkali) -> None:
    assert strength.mass_fraction_from_degrees_baume(alkali, 0.0) == 0.0
    assert strength.mass_fraction_from_degrees_twaddell(alkali, 0.0) == 0.0
    assert strength.degrees_baume_from_mass_fraction(alkali, 0.0) == 0.0


def test_hand_reckoned_forms_of_a_half_and_half_solution() -> None:
    assert strength.water_ratio_from_mass_fraction(0.5) == 1.0
    # 1/39.997 over 1/39.997 + 1/18.015
    assert strength.mole_fraction_from_mass_fraction("NaOH", 0.5) == pytest.approx(0.31055, abs=1e-5)
    assert strength.molality_from_mass_fraction("KOH", 0.5) == pytest.approx(1 / 56.105e-3, rel=1e-4)
    # 145 - 145/1.5 and 200 (1.5 - 1)
    assert hydrometer.degrees_baume_from_specific_gravity(1.5) == pytest.approx(48.3333, abs=1e-4)
    assert hydrometer.specific_gravity_from_degrees_baume(48.0, 144.0) == pytest.approx(1.5)
    assert hydrometer.degrees_twaddell_from_specific_gravity(1.5) == pytest.approx(100.0)


def test_reference_of_hydrometers_is_60_fahrenheit_unless_said() -> None:
    assert pytest.approx(15.5556, abs=1e-4) == strength.SIXTY_FAHRENHEIT
    by_default = strength.specific_gravity_from_mass_fraction("NaOH", 0.5)
    assert by_default == strength.specific_gravity_from_mass_fraction("NaOH", 0.5, (60 - 32) / 1.8)
    assert by_default != strength.specific_gravity_from_mass_fraction("NaOH", 0.5, 20.0)


def test_as_mixed_counts_the_purity_once() -> None:
    assert strength.mass_fraction_from_as_mixed(1.0, 1.0, 0.98) == 0.49
    assert strength.mass_fraction_from_as_mixed(1.0, 1.0, 0.9, 0.1) == 0.45
    assert strength.mass_fraction_from_as_mixed(2.0, 0.0) == 1.0


@given(w=st.floats(0.01, 0.6), purity=st.floats(0.6, 1.0), mass=st.floats(0.1, 1e3))
def test_as_mixed_leads_back(w: float, purity: float, mass: float) -> None:
    solid, water = strength.as_mixed_from_mass_fraction(w, purity, mass)
    assert solid + water == pytest.approx(mass)
    assert strength.mass_fraction_from_as_mixed(solid, max(water, 0.0), purity) == pytest.approx(w, rel=1e-9)


REFUSED: list[Callable[[], object]] = [
    lambda: strength.mass_fraction_from_water_ratio(-0.1),
    lambda: strength.water_ratio_from_mass_fraction(0.0),
    lambda: strength.mass_fraction_from_mole_fraction("NaOH", 1.1),
    lambda: strength.mole_fraction_from_mass_fraction("NaOH", -0.1),
    lambda: strength.mass_fraction_from_molality("NaOH", -1.0),
    lambda: strength.molality_from_mass_fraction("NaOH", 1.0),
    lambda: strength.mass_fraction_from_molarity("NaOH", 25e3, 20.0),
    lambda: strength.mass_fraction_from_mass_concentration("NaOH", -1.0, 20.0),
    lambda: strength.mass_fraction_from_mass_concentration("NaOH", 100.0, 200.0),
    lambda: strength.mass_fraction_from_specific_gravity("NaOH", 0.99),
    lambda: strength.mass_fraction_from_specific_gravity("KOH", 1.55),
    lambda: strength.mass_fraction_from_degrees_baume("NaOH", 60.0),
    lambda: strength.mass_fraction_from_degrees_baume("NaOH", 20.0, 100.0),
    lambda: strength.mass_fraction_from_degrees_baume("NaOH", -1.0),
    lambda: strength.mass_fraction_from_degrees_twaddell("NaOH", -1.0),
    lambda: hydrometer.degrees_baume_from_specific_gravity(0.9),
    lambda: hydrometer.degrees_twaddell_from_specific_gravity(0.9),
    lambda: hydrometer.specific_gravity_from_degrees_twaddell(201.0),
    lambda: strength.mass_fraction_from_oxide_fraction("NaOH", 0.78),
    lambda: strength.oxide_fraction_from_mass_fraction("NaOH", 1.1),
    lambda: strength.mass_fraction_from_as_mixed(0.0, 1.0),
    lambda: strength.mass_fraction_from_as_mixed(1.0, -1.0),
    lambda: strength.mass_fraction_from_as_mixed(1.0, 1.0, 0.95, 0.1),
    lambda: strength.mass_fraction_from_as_mixed(1.0, 1.0, 1.1),
    lambda: strength.as_mixed_from_mass_fraction(0.95, 0.9),
    lambda: strength.mass_fraction_from_molality("NaOH", math.nan),
]


@pytest.mark.parametrize("asked", REFUSED)
def test_what_cannot_be_meant_is_refused(asked: Callable[[], object]) -> None:
    with pytest.raises(OutOfRange):
        asked()


@pytest.mark.parametrize("purity", [0.0, -0.5, 1.05, math.nan])
@pytest.mark.parametrize(
    "asked",
    [
        lambda purity: strength.mass_fraction_from_as_mixed(1.0, 1.0, purity),
        lambda purity: strength.as_mixed_from_mass_fraction(0.0, purity),
    ],
)
def test_a_purity_that_cannot_be_is_told_as_such(asked: Callable[[float], object], purity: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        asked(purity)
    assert caught.value.quantity == "purity"
    assert caught.value.high == 1.0


@pytest.mark.parametrize("w", [1.05, -0.1, math.nan])
def test_more_than_all_has_no_water_ratio(w: float) -> None:
    with pytest.raises(OutOfRange, match="mass_fraction"):
        strength.water_ratio_from_mass_fraction(w)
