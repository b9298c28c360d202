"""Requests that cannot be read: every fault at once, each at its place, with its mending."""

import pytest

from service.calculations.shared.faults import FAULT_CODES
from tests.calculations.asking import ask, fault, refusal

NAMES = ("saponification", "liquid-split", "concentration")
FATS = [{"fat": "olive-oil", "mass": "1 kg"}]


def faults(name: str, request: object) -> dict[str, str]:
    """Code of each fault by its pointer."""
    refused = refusal(name, request)
    assert refused.status == 400
    return {str(one.pointer): one.code for one in refused.faults}


# All at once


def test_all_faults_of_a_request_are_told_at_once_and_in_place() -> None:
    request = {
        "fats": [
            {"fat": "olive-oil", "mass": "6 fl oz"},
            {"fat": "coconut-oil", "mass": 300},
            {"name": "own", "mass": "1 kg", "saponification_value": "190 g"},
            {"fat": "castor-oil"},
        ],
        "superfat": "5",
        "super_fat": "5 %",
        "alkalis": [{"alkali": "NaHO"}, {"alkali": "KOH", "purity": "0.9 %"}],
        "acids": {"acid": "citric-acid-anhydrous"},
        "reference": 7,
    }
    assert faults("saponification", request) == {
        "/fats/0/mass": "volume-for-mass",
        "/fats/1/mass": "bare-number",
        "/fats/2/saponification_value": "wrong-kind-of-unit",
        "/fats/3/mass": "missing-member",
        "/superfat": "percent-missing",
        "/super_fat": "unknown-member",
        "/alkalis/0/alkali": "not-one-of",
        "/alkalis/1/purity": "out-of-range",
        "/acids": "wrong-type",
        "/reference": "not-text",
    }


def test_every_fault_says_what_is_wrong_and_how_to_mend_it() -> None:
    request = {"fats": [{"fat": "olive-oil", "mass": "6 fl oz", "superfat": 1}], "superfat": 5, "alkalis": []}
    for one in refusal("saponification", request).faults:
        assert one.code in FAULT_CODES
        assert one.detail
        assert one.mend
        assert isinstance(one.pointer, str)


def test_deep_places_are_pointed_at() -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": {"value": "100", "unit": "g"}}],
        "stocks": [
            {"alkali": "NaOH", "strength": {"as_mixed": {"mass_as_supplied": "1 kg", "water_mass": "1 L"}}},
        ],
        "total_liquid": {"final_strength": {"mass_fraction": {"value": 30, "unit": "g"}}},
    }
    assert faults("liquid-split", request) == {
        "/alkalis/0/mass/value": "wrong-type",
        "/stocks/0/strength/as_mixed/water_mass": "volume-for-mass",
        "/total_liquid/final_strength/mass_fraction/unit": "wrong-kind-of-unit",
    }


def test_pointers_escape_what_rfc_6901_escapes() -> None:
    found = fault("saponification", {"fats": FATS, "a/b~c": 1}, 400)
    assert found.pointer == "/a~1b~0c"


def test_no_more_than_a_hundred_faults_are_told() -> None:
    request = {"fats": [{"fat": "olive-oil", "mass": 1} for _ in range(150)]}
    assert len(refusal("saponification", request).faults) == 100


# Members


def test_an_unknown_member_is_told_with_what_may_be_meant() -> None:
    found = fault("saponification", {"fats": FATS, "super_fat": "5 %"}, 400)
    assert (found.pointer, found.code) == ("/super_fat", "unknown-member")
    assert "did you mean 'superfat'" in found.detail
    assert "superfat" in found.mend


def test_a_missing_member_is_told_by_its_name() -> None:
    assert faults("liquid-split", {}) == {"/alkalis": "missing-member"}


def test_a_member_that_is_null_counts_as_not_given() -> None:
    assert ask("saponification", {"fats": FATS, "superfat": None}) == ask("saponification", {"fats": FATS})


@pytest.mark.parametrize(
    ("request_", "pointer", "code"),
    [
        ({"fats": []}, "/fats", "too-few"),
        ({"fats": FATS * 201}, "/fats", "too-many"),
        ({"fats": FATS, "alkalis": [{"alkali": "NaOH"}] * 3}, "/alkalis", "too-many"),
        ({"fats": FATS, "reference": "x" * 201}, "/reference", "too-long"),
        ({"fats": [{"fat": "", "mass": "1 kg"}]}, "/fats/0/fat", "too-few"),
        ({"fats": "olive-oil"}, "/fats", "wrong-type"),
        ({"fats": ["olive-oil"]}, "/fats/0", "wrong-type"),
        ({"fats": FATS, "alkalis": [{"alkali": True}]}, "/alkalis/0/alkali", "not-one-of"),
        ({"fats": FATS, "alkalis": [{"alkali": "naoh"}]}, "/alkalis/0/alkali", "not-one-of"),
    ],
)
def test_what_has_not_the_due_form_is_told_where_it_stands(request_: object, pointer: str, code: str) -> None:
    found = fault("saponification", request_, 400)
    assert (found.pointer, found.code) == (pointer, code)


@pytest.mark.parametrize(
    ("strength", "pointer", "code"),
    [
        ({"degrees_baume": "50"}, "/strength/degrees_baume", "wrong-type"),
        ({"degrees_baume": True}, "/strength/degrees_baume", "wrong-type"),
        ({"degrees_baume": 90}, "/strength/degrees_baume", "out-of-range"),
        ({"degrees_baume": 50, "baume_modulus": 14.5}, "/strength/baume_modulus", "out-of-range"),
        ({"mass_fraction": 50}, "/strength/mass_fraction", "percent-missing"),
        ({"mass_fraction": "50"}, "/strength/mass_fraction", "percent-missing"),
        ({"molarity": "19 mol/kg"}, "/strength/molarity", "wrong-kind-of-unit"),
        ({"molarity": 19}, "/strength/molarity", "bare-number"),
        ({"water_ratio": "2"}, "/strength/water_ratio", "unreadable-quantity"),
        ({"mass_fraction": "0,5 %"}, "/strength/mass_fraction", "decimal-comma"),
        ({"density": "1.5 kg/L", "temperature": "60"}, "/strength/temperature", "bare-number"),
    ],
)
def test_a_faulty_strength_is_told_at_its_member(strength: object, pointer: str, code: str) -> None:
    found = fault("concentration", {"alkali": "NaOH", "strength": strength}, 400)
    assert (found.pointer, found.code) == (pointer, code)


# Rules between members


@pytest.mark.parametrize(
    ("fat", "pointer", "code", "text"),
    [
        ({"mass": "1 kg"}, "/fats/0", "choose-one", "none of them is given"),
        ({"fat": "olive-oil", "name": "x", "mass": "1 kg"}, "/fats/0", "choose-one", "fat and name are given"),
        ({"name": "x", "mass": "1 kg"}, "/fats/0/saponification_value", "missing-member", "saponification_value"),
        (
            {"fat": "olive-oil", "mass": "1 kg", "iodine_value": "80 g/100g"},
            "/fats/0/iodine_value",
            "choose-one",
            "name",
        ),
    ],
)
def test_members_that_exclude_or_need_each_other_are_told(fat: object, pointer: str, code: str, text: str) -> None:
    found = fault("saponification", {"fats": [fat]}, 400)
    assert (found.pointer, found.code) == (pointer, code)
    assert text in found.detail


@pytest.mark.parametrize(
    ("strength", "pointer"),
    [
        ({}, "/strength"),
        ({"mass_fraction": "50 %", "molality": "25 mol/kg"}, "/strength"),
        ({"mass_fraction": "50 %", "baume_modulus": 145}, "/strength/baume_modulus"),
        ({"mass_fraction": "50 %", "reference_temperature": "60 °F"}, "/strength/reference_temperature"),
    ],
)
def test_a_strength_is_said_in_exactly_one_form(strength: object, pointer: str) -> None:
    found = fault("concentration", {"alkali": "NaOH", "strength": strength}, 400)
    assert (found.pointer, found.code) == (pointer, "choose-one")


@pytest.mark.parametrize(
    ("total", "pointer", "code"),
    [
        ({"water_ratio": "2:1", "mass": "200 g"}, "/total_liquid", "choose-one"),
        ({}, "/total_liquid", "choose-one"),
        ({"liquid_to_fat_ratio": "30 %"}, "/total_liquid/fat_mass", "missing-member"),
    ],
)
def test_a_total_liquid_is_said_in_exactly_one_way(total: object, pointer: str, code: str) -> None:
    request = {"alkalis": [{"alkali": "NaOH", "mass": "1 kg"}], "stocks": [], "total_liquid": total}
    found = fault("liquid-split", request, 400)
    assert (found.pointer, found.code) == (pointer, code)


def test_a_rule_is_checked_beside_other_faults() -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "100"}],
        "stocks": [{"alkali": "NaOH", "strength": {}}],
        "liquids": [{"liquid": "goat-milk"}, {"liquid": "beer", "share": 0.5, "mass": "5 g"}],
    }
    assert faults("liquid-split", request) == {
        "/alkalis/0/mass": "bare-number",
        "/stocks/0/strength": "choose-one",
        "/liquids/0": "choose-one",
        "/liquids/1": "choose-one",
    }


@pytest.mark.parametrize("rest", [False, 1, "yes"])
def test_the_rest_is_true_or_left_out(rest: object) -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": "1 kg"}],
        "stocks": [],
        "total_liquid": {"water_ratio": 2},
        "liquids": [{"liquid": "goat-milk", "rest": rest}],
    }
    found = fault("liquid-split", request, 400)
    assert (found.pointer, found.code) == ("/liquids/0/rest", "not-one-of")
    assert found.mend == "write true, or leave it out"


def test_a_rest_that_is_right_is_no_fault_beside_one_that_is() -> None:
    request = {
        "alkalis": [{"alkali": "NaOH", "mass": 1}],
        "stocks": [],
        "total_liquid": {"water_ratio": 2},
        "liquids": [{"liquid": "goat-milk", "rest": True}],
    }
    assert faults("liquid-split", request) == {"/alkalis/0/mass": "bare-number"}


# Not JSON


@pytest.mark.parametrize(
    ("body", "text"),
    [
        (b"", "empty"),
        (b" \r\n\t ", "empty"),
        (b"{", "ends too early"),
        (b'{"fats": [1,]}', "trailing comma"),
        (b"{} {}", "trailing"),
        (b"fats=olive-oil", "not JSON"),
        (b'{"superfat": NaN}', "not JSON"),
        (b'{"superfat": 1e999}', "out of range"),
        (b'{"reference": "\xff"}', "byte 15 is not UTF-8"),
        (b'{"reference": "\xed\xa0\x80"}', "not UTF-8"),
        (b'{"reference": "\\ud800"}', "surrogate"),
        (b"[" * 50_000, "nested too deeply"),
        (b'{"fats":' * 5_000 + b"1" + b"}" * 5_000, "nested too deeply"),
    ],
    ids=str,
)
@pytest.mark.parametrize("name", NAMES)
def test_what_is_not_json_is_told_once_with_its_reason(name: str, body: bytes, text: str) -> None:
    found = fault(name, body, 400)
    assert (found.pointer, found.code) == ("", "malformed-json")
    assert text in found.detail
    assert found.mend


@pytest.mark.parametrize("body", [b"null", b"[]", b'"fats"', b"5", b"true"])
@pytest.mark.parametrize("name", NAMES)
def test_json_that_is_no_object_is_told(name: str, body: bytes) -> None:
    found = fault(name, body, 400)
    assert (found.pointer, found.code) == ("", "wrong-type")


def test_a_member_given_twice_is_refused() -> None:
    body = b'{"fats": [{"fat": "olive-oil", "mass": "1 kg"}], "superfat": "8 %", "superfat": "0 %"}'
    found = fault("saponification", body, 400)
    assert (found.pointer, found.code) == ("/superfat", "repeated-member")


@pytest.mark.parametrize("colon", [b"\\u003a", b"\\u003A"])
def test_a_member_given_twice_is_refused_though_an_escaped_colon_makes_up_for_it(colon: bytes) -> None:
    body = b'{"fats": [{"fat": "olive-oil", "mass": "1 kg"}], "superfat": "8 %", "superfat": "0 %", "reference": "a' + (
        colon + b'"}'
    )
    assert fault("saponification", body, 400).pointer == "/superfat"


@pytest.mark.parametrize("number", [b"0,05", b".05"])
def test_a_number_that_json_does_not_know_is_shown_with_what_stands_round_it(number: bytes) -> None:
    """Macros write these: a decimal comma, and no digit before the point."""
    body = b'{"fats": [{"fat": "olive-oil", "mass": "1 kg"}], "superfat": ' + number + b"}"
    found = refusal("saponification", body).faults[0]
    assert "superfat" in found.detail
    assert "0.05" in found.mend


# Whole numbers


def ice_for_bags(count: str) -> bytes:
    """A request as it is written, with what is to be a whole number."""
    return b"""{"solid": {"alkali": "NaOH", "bags": {"count": %s, "mass": "25 kg"}},
    "strength": {"mass_fraction": "50 %%"}, "peak_limit": "60 degC"}""" % count.encode()


@pytest.mark.parametrize("nine", ["9.0", "9e0", "0.9e1"])
def test_a_whole_number_may_be_written_in_any_way_that_json_has(nine: str) -> None:
    assert ask("stock-mixing/ice", ice_for_bags(nine)) == ask("stock-mixing/ice", ice_for_bags("9"))


@pytest.mark.parametrize("number", ["9.5", "1e300", "-9.0", '"9"', "true"])
def test_what_is_no_whole_number_within_bounds_is_refused(number: str) -> None:
    assert list(faults("stock-mixing/ice", ice_for_bags(number))) == ["/solid/bags/count"]
