"""Texts that are no quantity: what is said of them, word for word, and that what is offered can be read."""

import re
from typing import Final

import pytest

from service.calculations.shared import loose_units, misread, units
from service.calculations.shared.faults import Faulty
from service.calculations.shared.given import (
    GIVEN,
    Density,
    Duration,
    Fraction,
    Length,
    LiquidRatio,
    Mass,
    MassChange,
    MeasuredVolume,
    Purity,
    Ratio,
    Speed,
    Superfat,
    Temperature,
    TimeRead,
    TitrantMolarity,
)
from service.calculations.shared.reading import Given

OF_DAY: Final = "is a time of day, and a time counted from any start is due"


def counted(minutes: str) -> str:
    return f"write '{minutes} min', counted from midnight, and on past the next, or count from the first reading"


READ_AS: Final[list[tuple[type[Given], object, str, str]]] = [
    # clocks
    (TimeRead, "14:30", f"'14:30' {OF_DAY}", counted("870")),
    (TimeRead, "14:30:30", f"'14:30:30' {OF_DAY}", counted("870.5")),
    (TimeRead, "2:30 pm", f"'2:30 pm' {OF_DAY}", counted("870")),
    (TimeRead, "12:30 a.m.", f"'12:30 a.m.' {OF_DAY}", counted("30")),
    (TimeRead, "9 am", f"'9 am' {OF_DAY}", counted("540")),
    (TimeRead, "14h30", f"'14h30' {OF_DAY}", counted("870")),
    (TimeRead, "14.30 Uhr", f"'14.30 Uhr' {OF_DAY}", counted("870")),
    (TimeRead, "0:00", f"'0:00' {OF_DAY}", counted("0")),
    (TimeRead, "2026-01-05T14:30:00Z", f"'2026-01-05T14:30:00Z' {OF_DAY}", counted("870")),
    (TimeRead, "36:30", "'36:30' is written as a clock shows it", "write '2190 min' or '2190 s', as is meant"),
    (TimeRead, "13:30 pm", "'13:30 pm' cannot be read as a time", "write it as in '10 min'"),
    (TimeRead, "14:75", "'14:75' cannot be read as a time", "write it as in '10 min'"),
    (Duration, "1:30", "'1:30' is written as a clock shows it", "write '90 min' or '90 s', as is meant"),
    (Duration, "1:30:00", "'1:30:00' is written as a clock shows it", "write '90 min'"),
    (Duration, "2:05 h", "'2:05 h' is written as a clock shows it", "write '125 min'"),
    (Duration, "2:05 min", "'2:05 min' is written as a clock shows it", "write '125 s'"),
    (Duration, "1h30", "'1h30' is written as a clock shows it", "write '90 min'"),
    (Duration, "6 pm", "'6 pm' is a time of day, and a length of time is due", "write how long it is, as in '90 min'"),
    (Length, "1:30", "'1:30' cannot be read as a length", "write it as in '30 cm'"),
    (Duration, "0:00", "'0:00' cannot be read as a time", "write it as in '10 min'"),
    # digits and marks
    (Mass, "1,5 kg", "'1,5 kg' has a comma", "write '1.5 kg'"),
    (Mass, "1,500 kg", "'1,500 kg' has a comma", "write '1.500 kg' or '1500 kg', as is meant"),
    (Mass, "1.000,5 kg", "'1.000,5 kg' has a comma", "write '1000.5 kg'"),
    (Mass, "1,000.5 kg", "'1,000.5 kg' has marks between its digits", "write '1000.5 kg'"),
    (Mass, "1.000.000 g", "'1.000.000 g' has marks between its digits", "write '1000000 g'"),
    (Mass, "1_000 g", "'1_000 g' has marks between its digits", "write '1000 g'"),
    (Mass, "1 000 g", "'1 000 g' has marks between its digits", "write '1000 g'"),
    (Mass, "1'000 g", '"1\'000 g" has marks between its digits', "write '1000 g'"),
    (Mass, "½ lb", "'½ lb' is not written in plain digits and blanks", "write '0.5 lb'"),
    (Mass, "1½ lb", "'1½ lb' is not written in plain digits and blanks", "write '1.5 lb'"),
    (Mass, "1 1/2 lb", "'1 1/2 lb' is written as a fraction", "write '1.5 lb'"),
    (Mass, "٣ g", "'٣ g' is not written in plain digits and blanks", "write '3 g'"),
    (Mass, "１２ g", "'１２ g' is not written in plain digits and blanks", "write '12 g'"),
    (Mass, "5\u2009g", "'5\\u2009g' is not written in plain digits and blanks", "write '5 g'"),
    (Mass, "0x10 g", "'0x10 g' is not a decimal number", "write plain digits, as in '170.1 g'"),
    (Mass, "5-6 g", "'5-6 g' is a range, and one figure is due", "write one, as in '5.5 g'"),
    (Mass, "inf g", "'inf g' is not a number", "give a number, as in '170.1 g'"),
    (Mass, "nan g", "'nan g' is not a number", "give a number, as in '170.1 g'"),
    (Mass, "9**9**9 g", "'9**9**9 g' cannot be read as a mass", "write it as in '170.1 g'"),
    (Mass, "", "the text is empty, and a mass is due", "write it as in '170.1 g'"),
    (Ratio, "2,5:1", "'2,5:1' cannot be read as a ratio of water to alkali", "write '2.5:1'"),
    (Ratio, "٢:١", "'٢:١' cannot be read as a ratio of water to alkali", "write '2:1'"),
    (Ratio, "2", "'2' is one number in quotes", "write '2:1', or 2 without quotes"),
    # units
    (Mass, 12, "12 has no unit", "write the unit with it, as in '12 g' or '12 oz'"),
    (Mass, "1e5", "1e5 has no unit", "write the unit with it, as in '170.1 g'"),
    (Mass, 10**400, f"1{'0' * 23}... has no unit", "write the unit with it, as in '170.1 g'"),
    (Temperature, 60, "60 has no unit", "write the unit with it, as in '60 °C' or '60 °F'"),
    (Density, 1525, "1525 has no unit", "write the unit with it, as in '1525 kg/m3'"),
    (Mass, "5 G", "'G' is not a unit of mass (did you mean 'g'?)", "write '5 g'"),
    (Mass, {"value": 5, "unit": "g "}, "'g ' is not a unit of mass (did you mean 'g'?)", "write g"),
    (Mass, "5 Mg", "'Mg' is a megagram, which is 1 t, and may be meant for mg", "write t or mg, as is meant"),
    (Mass, "5 ug", "'ug' is not a unit of mass", "use one of g, kg, mg, t, oz, lb"),
    (Mass, "2 lb 3 oz", "'2 lb 3 oz' has two units, and one is due", "write '35 oz'"),
    (Mass, "2lb3oz", "'2lb3oz' has two units, and one is due", "write '35 oz'"),
    (Length, "5 ft 3 in", "'5 ft 3 in' has two units, and one is due", "write '63 in'"),
    (Temperature, "20 c", "'c' is not a unit of temperature (did you mean '°C'?)", "write '20 °C'"),
    (Temperature, "20 ºC", "'20 ºC' is not written in plain digits and blanks", "write '20 °C'"),
    (Mass, "6 °C", "'°C' is a unit of temperature, and a mass is due", "write it as in '170.1 g'"),
    # units in haste
    (
        Temperature,
        "70 degrees F",
        "'degrees F' is not a unit of temperature (did you mean '°F'?)",
        "write '70 °F'",
    ),
    (Temperature, "70 °f", "'°f' is not a unit of temperature (did you mean '°F'?)", "write '70 °F'"),
    (Temperature, "70 º F", "'70 º F' is not written in plain digits and blanks", "write '70 °F'"),
    (Temperature, "70 degrees", "'degrees' does not say of which scale", "write '70 °C' or '70 °F', as is meant"),
    (Temperature, "1500 °", "'°' does not say of which scale", "write '1500 °F', as is meant"),
    (
        Mass,
        "700gr",
        "'gr' is a gram to some, and a grain (0.0648 g) to others",
        "write '700 g', if grams are meant",
    ),
    (
        Mass,
        {"value": 7, "unit": "grs."},
        "'grs.' is a gram to some, and a grain (0.0648 g) to others",
        "write g, if grams are meant",
    ),
    (Mass, "500 gms", "'gms' is not a unit of mass (did you mean 'g'?)", "write '500 g'"),
    (Mass, {"value": 5, "unit": "kgs"}, "'kgs' is not a unit of mass (did you mean 'kg'?)", "write kg"),
    (MassChange, "-500 gms", "'gms' is not a unit of change of mass (did you mean 'g'?)", "write '-500 g'"),
    (Mass, "16 oz wt", "'oz wt' is not a unit of mass (did you mean 'oz'?)", "write '16 oz'"),
    (Mass, "5 dag", "'dag' is not a unit of mass", "write '50 g'"),
    (MeasuredVolume, "25 mls", "'mls' is not a unit of volume (did you mean 'mL'?)", "write '25 mL'"),
    (MeasuredVolume, "2.50 cl", "'cl' is not a unit of volume", "write '25 mL'"),
    (Duration, "2 wks", "'wks' is not a unit of time", "write '14 d'"),
    (Length, "30 centimetres", "'centimetres' is not a unit of length (did you mean 'cm'?)", "write '30 cm'"),
    (Length, "5'3\"", "'5\\'3\"' is not one number and one unit", "write '63 in'"),
    (Density, "1.525 g per mL", "'g per mL' is not a unit of density (did you mean 'g/mL'?)", "write '1.525 g/mL'"),
    (Fraction, "50 % w/w", "'% w/w' is not a unit of fraction (did you mean '%'?)", "write '50 %'"),
    (TitrantMolarity, "100 mM", "'mM' is not a unit of molarity", "write '0.1 mol/L'"),
    (Speed, "2 m/sec", "'m/sec' is not a unit of speed (did you mean 'm/s'?)", "write '2 m/s'"),
    # amounts in words
    (MeasuredVolume, "1 litre and a half", "'1 litre and a half' is not one number and one unit", "write '1.5 L'"),
    (Mass, "2 and a quarter kgs", "'2 and a quarter kgs' is not one number and one unit", "write '2.25 kg'"),
    (Mass, "half a pound", "'half a pound' is not one number and one unit", "write '0.5 lb'"),
    (Duration, "an hour", "'an hour' is not one number and one unit", "write '1 h'"),
    (Temperature, "about 20 degrees C", "'about 20 degrees C' is not one number and one unit", "write '20 °C'"),
    (Mass, "1 Lbs. & 4 ozs", "'1 Lbs. & 4 ozs' has two units, and one is due", "write '20 oz'"),
    # ranges
    (Mass, "1e308 g", "1e308 g is outside 1 µg to 100 000 t", "check the number and its unit"),
    (Mass, {"value": 1e308, "unit": "g"}, "1e308 is outside 1 µg to 100 000 t", "check the number and its unit"),
    (Mass, "-0.0 g", "-0.0 g is outside 1 µg to 100 000 t", "give a mass above nothing, or leave the line out"),
    (Mass, "5e-324 g", "5e-324 g is outside 1 µg to 100 000 t", "give a mass above nothing, or leave the line out"),
    (
        Temperature,
        "-300 °C",
        "-300 °C is outside -273.15 °C to 1000 °C",
        "check the sign and the unit: nothing is colder than -273.15 °C",
    ),
    (Superfat, 0.95, "0.95 is outside 0 % to 50 %", "give at most 50 %"),
    (Purity, "0.98 %", "0.98 % is outside 50 % to 100 %", "write '98 %', if that is meant"),
    (LiquidRatio, 38, "38 is outside 0.000001:1 to 20:1", "write water to alkali by mass, as in '2:1' or 2.0"),
    (
        Ratio,
        10**400,
        f"1{'0' * 23}... is outside 0.000001:1 to 1 000 000:1",
        "write water to alkali by mass, as in '2:1' or 2.0",
    ),
    (Fraction, -(10**400), f"-1{'0' * 22}... is outside 0 % to 100 %", "give at least 0 %"),
    # per cent
    (Fraction, 5, "5 is more than the whole", "write '5 %', or the fraction of 1 that is meant"),
    (Superfat, 60, "60 is more than the whole", "give at most 50 %, as in '5 %', or a fraction of 1"),
    (Fraction, "5", "'5' does not say whether it is per cent", "write '5 %'"),
    (Fraction, "0.05", "'0.05' does not say whether it is per cent", "write '5 %', or the number 0.05 without quotes"),
    (Fraction, "1,5", "'1,5' has a comma", "write '1.5 %'"),
    (Fraction, "1/20", "'1/20' is written as a fraction", "write '5 %'"),
]


def refused(kind: type[Given], said: object) -> Faulty:
    with pytest.raises(Faulty) as fault:
        kind.read(said)
    return fault.value


@pytest.mark.parametrize(
    ("kind", "said", "detail", "mend"), READ_AS, ids=[f"{row[0].__name__}-{str(row[1])[:20]}" for row in READ_AS]
)
def test_what_cannot_be_read_is_told_word_for_word(kind: type[Given], said: object, detail: str, mend: str) -> None:
    fault = refused(kind, said)
    assert (fault.detail, fault.mend) == (detail, mend)


@pytest.mark.parametrize(("kind", "said", "mend"), [(row[0], row[1], row[3]) for row in READ_AS])
def test_whatever_a_mending_offers_in_quotes_can_be_read(kind: type[Given], said: object, mend: str) -> None:
    offered = re.findall(r"'([^']*)'", mend)
    for text in offered:
        low, high = kind.limits()
        assert low <= kind.read(text).value <= high


@pytest.mark.parametrize("kind", [one for one in GIVEN if one.kind.name != "ratio"], ids=lambda kind: kind.__name__)
def test_the_range_that_is_told_is_the_range_that_is_taken(kind: type[Given]) -> None:
    low, high = kind.limits()
    told = misread.range_text(kind.kind, kind.low, kind.high).replace(" 000", "000").replace("µg", "mg").split(" to ")
    numbers = []
    for text in told:
        match = units.QUANTITY_TEXT.fullmatch(text.replace("11 574", "11574"))
        assert match is not None, text
        numbers.append(kind.kind.units[match[2]].to_si(float(match[1])))
    thousandth = 1e-3 if "µg" in misread.range_text(kind.kind, kind.low, kind.high) else 1.0
    assert numbers[0] * thousandth == pytest.approx(low, rel=1e-6, abs=1e-12)
    assert numbers[1] == pytest.approx(high, rel=1e-4)  # 1e9 s are a little more than 11 574 d


@pytest.mark.parametrize("kind", [Ratio, LiquidRatio])
def test_the_range_of_a_ratio_is_the_range_that_is_taken(kind: type[Given]) -> None:
    told = misread.range_text(kind.kind, kind.low, kind.high).replace(" 000", "000").split(" to ")
    assert [kind.read(text).value for text in told] == pytest.approx(list(kind.limits()))


@pytest.mark.parametrize("length", [10, 61, 161, 100_000])
@pytest.mark.parametrize("letter", ["1", "9.", "1,", " ", "g", "½", "٣", "-", "e", "1 1/", "\u2009", ":"])
def test_any_length_of_anything_is_refused_shortly_or_read(letter: str, length: int) -> None:
    text = (letter * length)[:length]
    for kind in (Mass, Fraction, Ratio, TimeRead):
        fault = None
        try:
            kind.read(text)
        except Faulty as found:
            fault = found
        assert fault is None or max(len(fault.detail), len(fault.mend)) <= 240


def test_a_number_of_more_digits_than_a_message_shows_is_refused_like_any() -> None:
    """Cutting it may leave half an exponent."""
    said = f"0.{'1' * 36}e-12"
    assert refused(Fraction, said).code == "percent-missing"
    assert refused(Ratio, said).code == "unreadable-quantity"


@pytest.mark.parametrize("said", ["6 Fl Oz", "6 Fl. Oz.", "25 mls", "1 Litre", {"value": 1, "unit": "US fluid ounce"}])
def test_a_volume_for_a_mass_is_told_as_one_however_it_is_spelt(said: object) -> None:
    """Ounces of volume taken for ounces of mass are the costliest slip there is."""
    assert refused(Mass, said).code == "volume-for-mass"


@pytest.mark.parametrize("said", ["2 cups", "1 cup(s)", "3 US cups", "2 Tbsp.", "1 teaspoon", "4 drops", "0.5 pints"])
def test_a_measure_of_the_kitchen_is_told_as_a_volume(said: str) -> None:
    """A US cup is 236.6 mL (NIST Handbook 44, App. C), that of US labels 240 mL (21 CFR 101.9(b)(5)); from memory."""
    assert refused(Mass, said).code == "volume-for-mass"
    for spelling in (said, {"value": 1, "unit": said.split(maxsplit=1)[1]}):
        assert refused(MeasuredVolume, spelling).mend == "measure it, and write it in mL"


def test_a_unit_of_many_is_told_with_how_many_it_is() -> None:
    """A stone is 14 lb: Weights and Measures Act 1985, Schedule 1, Part V; from memory."""
    assert refused(Mass, "3 stone").mend == "write '42 lb'"
    assert refused(Mass, {"value": 3, "unit": "stones"}).mend == "write it in lb: one is 14 lb"


@pytest.mark.parametrize("said", ["1 ton", "2 cups", "1 pint", "5 mcg", "1.5 SG", "1 N", "100 % w/v", "10 hp"])
def test_what_means_different_amounts_to_different_people_gets_no_number(said: str) -> None:
    for kind in (Mass, MeasuredVolume, Density, Fraction, TitrantMolarity):
        fault = refused(kind, said)
        assert f"'{said.split(maxsplit=1)[0]} " not in fault.mend


@pytest.mark.parametrize("kind", list(units.READ), ids=lambda kind: kind.name)
def test_every_loose_spelling_leads_to_a_unit_that_is_taken(kind: units.Kind) -> None:
    for word in ("", " ", "s", ".", "°", "xyz", "deg", *kind.units):
        meant = loose_units.unit_meant(kind, word)
        assert meant is None or meant.symbol in kind.units
    for word, unit in kind.units.items():
        if unit.symbol not in {"1"}:
            found = loose_units.unit_meant(kind, word.upper())
            assert found is None or kind.units[found.symbol] is unit
