"""Quantities as they are given: what is read, what is refused, and how the refusal reads."""

import math
from fractions import Fraction as Exact

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.calculations.shared import units
from service.calculations.shared.faults import Faulty
from service.calculations.shared.given import (
    Density,
    Fraction,
    Mass,
    Purity,
    Ratio,
    SaponificationValue,
    Superfat,
    Temperature,
    Volume,
)
from service.calculations.shared.reading import Given
from service.calculations.shared.told import MassFigure, TemperatureFigure, figure

# International yard and pound agreement 1959: lb = 0.45359237 kg, in = 25.4 mm. US gallon = 231 in3.
# UK Weights and Measures Act 1985: gallon = 4.54609 L. NIST SP 811 (2008), appendix B.8, lists the same.
INCH = Exact(254, 10000)
DEFINITIONS = [
    (Mass, "lb", Exact(45359237, 10**8)),
    (Mass, "oz", Exact(45359237, 10**8) / 16),
    (Mass, "g", Exact(1, 1000)),
    (Mass, "mg", Exact(1, 10**6)),
    (Mass, "t", Exact(1000)),
    (Volume, "in3", INCH**3),
    (Volume, "gal", 231 * INCH**3),
    (Volume, "qt", 231 * INCH**3 / 4),
    (Volume, "fl_oz", 231 * INCH**3 / 128),
    (Volume, "imp_gal", Exact(454609, 10**8)),
    (Volume, "imp_fl_oz", Exact(454609, 10**8) / 160),
    (Volume, "L", Exact(1, 1000)),
    (Volume, "cm3", Exact(1, 10**6)),
    (Density, "lb/gal", Exact(45359237, 10**8) / (231 * INCH**3)),
    (Density, "g/cm3", Exact(1000)),
]


@pytest.mark.parametrize(("kind", "unit", "factor"), DEFINITIONS, ids=[row[1] for row in DEFINITIONS])
def test_unit_factors_are_those_of_their_definitions(kind: type[Given], unit: str, factor: Exact) -> None:
    assert kind.kind.units[unit].scale == float(factor)


@pytest.mark.parametrize(
    ("code", "unit"),
    [
        ("GRM", "g"),
        ("KGM", "kg"),
        ("MGM", "mg"),
        ("TNE", "t"),
        ("ONZ", "oz"),
        ("LBR", "lb"),
        ("MLT", "mL"),
        ("LTR", "L"),
        ("OZA", "fl_oz"),
        ("GLL", "gal"),
        ("CEL", "°C"),
        ("FAH", "°F"),
        ("KEL", "K"),
    ],
)
def test_codes_of_un_cefact_recommendation_20_are_read(code: str, unit: str) -> None:
    """UN/CEFACT Recommendation No. 20, Codes for Units of Measure Used in International Trade."""
    kind = units.kind_of_unit(code)
    assert kind is not None
    assert kind.units[code] is kind.units[unit]


@pytest.mark.parametrize(
    ("kind", "said", "value"),
    [
        (Mass, "170.1 g", 0.1701),
        (Mass, "170.1g", 0.1701),
        (Mass, " 6  oz ", 0.17009713875),
        (Mass, "1.5e3 g", 1.5),
        (Mass, ".5 kg", 0.5),
        (Mass, "5. lbs", 2.26796185),
        (Mass, {"value": 170.1, "unit": "g"}, 0.1701),
        (Mass, {"value": 6, "unit": "ONZ"}, 0.17009713875),
        (Volume, "20 US gal", 0.07570823568),
        (Temperature, "68 °F", 20.0),
        (Temperature, "-4 F", -20.0),
        (Temperature, "293.15 K", 20.0),
        (Fraction, "5 %", 0.05),
        (Fraction, "5pct", 0.05),
        (Fraction, 0.05, 0.05),
        (Fraction, 1, 1.0),
        (Fraction, {"value": 5, "unit": "%"}, 0.05),
        (Ratio, "2:1", 2.0),
        (Ratio, "1.3 : 1", 1.3),
        (Ratio, 2, 2.0),
        (SaponificationValue, "190 mg KOH/g", 0.190),
    ],
)
def test_usual_spellings_are_read(kind: type[Given], said: object, value: float) -> None:
    assert kind.read(said).value == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    ("kind", "said", "code", "text"),
    [
        (Mass, 170.1, "bare-number", "write the unit with it, as in '170.1 g'"),
        (Mass, "170.1", "bare-number", "has no unit"),
        (Mass, "6 fl oz", "volume-for-mass", "59 % too much alkali"),
        (Mass, "6 OZA", "volume-for-mass", "weigh it"),
        (Mass, "6 mL", "volume-for-mass", "weigh it"),
        (Mass, "6 °C", "wrong-kind-of-unit", "a mass is due"),
        (Mass, "1,5 kg", "decimal-comma", "write '1.5 kg'"),
        (Mass, "5 ML", "volume-for-mass", "weigh it"),
        (Mass, "5 G", "unknown-unit", "write '5 g'"),
        (Mass, "5 mcg", "unknown-unit", "use one of g, kg"),
        (Mass, "-5 g", "out-of-range", "above nothing"),
        (Mass, "0 g", "out-of-range", "leave the line out"),
        (Mass, "1e9 kg", "out-of-range", "check the number"),
        (Mass, "nan g", "unreadable-quantity", "170.1 g"),
        (Mass, "inf g", "unreadable-quantity", "170.1 g"),
        (Mass, "9**9**9 g", "unreadable-quantity", "170.1 g"),
        (Mass, "1_000 g", "unreadable-quantity", "write '1000 g'"),
        (Mass, "5 g + 3 kg", "unknown-unit", "use one of"),
        (Mass, "9" * 5000 + " g", "unreadable-quantity", "170.1 g"),
        (Mass, True, "wrong-type", "true or false"),
        (Mass, None, "wrong-type", "null"),
        (Mass, [], "wrong-type", "a list"),
        (Mass, {}, "choose-one", "value and unit"),
        (Mass, {"value": 1}, "choose-one", "value and unit"),
        (Mass, {"value": "1", "unit": "g"}, "wrong-type", "without quotes"),
        (Mass, {"value": 1, "unit": "fl oz"}, "volume-for-mass", "weigh it"),
        (Mass, {"value": 1, "unit": 5}, "wrong-type", "a unit is a text"),
        (Mass, {"value": 1, "units": "g"}, "unknown-member", "did you mean 'unit'"),
        (Mass, {"low": 2, "high": 1, "unit": "g"}, "out-of-range", "exchange"),
        (Mass, {"value": 1, "uncertainty": -1, "unit": "g"}, "out-of-range", "not negative"),
        (Mass, {"value": 10**400, "unit": "g"}, "out-of-range", "too large"),
        (Temperature, "-300 °C", "out-of-range", "nothing is colder"),
        (Temperature, "5 delta_degF", "unknown-unit", "use one of °C"),
        (Fraction, 5, "percent-missing", "write '5 %'"),
        (Fraction, "5", "percent-missing", "write '5 %'"),
        (Fraction, "0.05", "percent-missing", "without quotes"),
        (Fraction, "150 %", "out-of-range", "0 % to 100 %"),
        (Superfat, "60 %", "out-of-range", "0 % to 50 %"),
        (Superfat, 0.95, "out-of-range", "give at most 50 %"),
        (Purity, "0.98 %", "out-of-range", "write '98 %'"),
        (Ratio, "2", "unreadable-quantity", "write '2:1'"),
        (Ratio, "2:0", "out-of-range", "no alkali"),
        (Ratio, "-2:1", "out-of-range", "outside"),
        (SaponificationValue, "0.5 mg/g", "out-of-range", "outside 1 mg/g"),
        (SaponificationValue, 190, "bare-number", "mg/g"),
    ],
)
def test_what_is_not_plain_is_refused_with_its_mending(kind: type[Given], said: object, code: str, text: str) -> None:
    with pytest.raises(Faulty) as refused:
        kind.read(said)
    assert refused.value.code == code
    assert text in f"{refused.value.detail}; {refused.value.mend}"


@pytest.mark.parametrize("unit", ["g", "lb", "t", "kg"])
@pytest.mark.parametrize("spread", [5e-324, 1e-308, 1e-200])
def test_a_spread_too_small_to_reckon_with_is_none_in_every_unit(unit: str, spread: float) -> None:
    measured = Mass.read({"value": 1, "uncertainty": spread, "unit": unit})
    between = Mass.read({"value": 1e-12, "low": 1e-12, "high": 1e-12 + spread, "unit": "t"})
    for one in (measured, between):
        assert one.part is not None
        assert one.part.standard_uncertainty == 0.0


def test_limits_too_close_to_reckon_with_leave_no_spread() -> None:
    for unit in ("1", "%"):
        limits = Fraction.read({"low": 0, "high": 1e-200, "unit": unit})
        assert limits.part is not None
        assert limits.part.standard_uncertainty == limits.part.rectangular_half_width == 0.0


def test_limits_are_a_rectangle_and_an_uncertainty_is_normal() -> None:
    limits = Mass.read({"low": 98, "high": 102, "unit": "g"})
    assert limits.value == pytest.approx(0.1)
    assert limits.part is not None
    assert limits.part.rectangular_half_width == pytest.approx(0.002)
    assert limits.part.standard_uncertainty == pytest.approx(0.002 / math.sqrt(3))
    measured = Mass.read({"value": 100, "uncertainty": 1000, "unit": "g"})
    assert measured.value == pytest.approx(0.1)
    assert measured.part is not None
    assert measured.part.standard_uncertainty == pytest.approx(1.0)
    assert measured.part.rectangular_half_width == 0


@pytest.mark.parametrize("kind", [Superfat, Temperature, Volume])
def test_a_spread_that_would_not_count_is_refused_not_dropped(kind: type[Given]) -> None:
    unit = kind.kind.metric.symbol
    for spread in ({"low": 0.1, "high": 0.2}, {"value": 0.1, "uncertainty": 0.01}):
        with pytest.raises(Faulty) as refused:
            kind.read({**spread, "unit": unit})
        assert "would not count" in refused.value.detail
    answered = kind.read({"value": 0.15, "low": 0.1, "high": 0.2, "unit": unit})
    assert answered.part is None


def test_an_interval_as_answered_is_read_back_as_the_interval_it_is() -> None:
    read = Mass.read({"value": 100, "low": 98.04, "high": 101.96, "unit": "g"})
    assert read.part is not None
    assert read.part.standard_uncertainty == pytest.approx(0.001, rel=1e-4)


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=200) | st.floats() | st.integers() | st.none() | st.booleans())
@pytest.mark.parametrize("kind", [Mass, Temperature, Fraction, Ratio])
def test_anything_is_read_as_a_finite_number_or_refused(kind: type[Given], said: object) -> None:
    try:
        value = kind.read(said).value
    except Faulty as refused:
        mended = bool(refused.detail and refused.mend)
    else:
        low, high = kind.limits()
        mended = low <= value <= high
    assert mended


@settings(max_examples=300, deadline=None)
@given(st.floats(min_value=1e-5, max_value=1e9))
def test_every_decimal_a_program_writes_is_read(number: float) -> None:
    assert Mass.read(f"{number!r} g").value == number / 1000


@settings(max_examples=300, deadline=None)
@given(st.floats(min_value=1e-3, max_value=1e5), st.sampled_from(["g", "kg", "oz", "lb", "t"]))
def test_a_mass_comes_back_as_it_went_in(number: float, unit: str) -> None:
    read = Mass.read({"value": number, "unit": unit})
    assert figure(MassFigure(read.value), Mass.kind.units[unit]).value == pytest.approx(number, rel=1e-15)


@settings(max_examples=100, deadline=None)
@given(st.floats(min_value=-100, max_value=500))
def test_a_temperature_comes_back_as_it_went_in(number: float) -> None:
    read = Temperature.read({"value": number, "unit": "°F"})
    assert figure(TemperatureFigure(read.value), Temperature.kind.us).value == pytest.approx(number, abs=1e-12)
