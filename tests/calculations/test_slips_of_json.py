"""Bodies that are not JSON: what is said of each slip, and where it stands."""

import json

import msgspec
import pytest

from service.calculations.shared.not_json import encoding, not_json

TEXT = '{"fats": [{"fat": "olive-oil", "mass": "1 kg"}]}'


def said(body: bytes) -> tuple[str, str]:
    """What is told of a body, with what the decoder says of it."""
    with pytest.raises((msgspec.DecodeError, UnicodeDecodeError)) as refused:
        msgspec.json.decode(body)
    fault = not_json(body, str(refused.value))
    assert (fault.code, fault.pointer) == ("malformed-json", "")
    return fault.detail, fault.mend


# Encodings


@pytest.mark.parametrize("text", [TEXT, '{"a":1}', "[10, 20]", '{"ä": "ö"}', '{"α": 1}'])
@pytest.mark.parametrize("name", ["UTF-16", "UTF-32"])
@pytest.mark.parametrize("order", ["", "-LE", "-BE"])
def test_an_encoding_is_known_with_its_mark_and_without(text: str, name: str, order: str) -> None:
    """The zeros between the letters of ASCII with which JSON begins tell it (RFC 4627, 3)."""
    body = text.encode(name + order)
    assert encoding(body) == name
    detail, mend = said(body)
    assert detail == f"the body is in {name}, not in UTF-8"
    assert "UTF-8" in mend


@pytest.mark.parametrize("text", [TEXT, "", "{}", '{"ä": "日本"}', "\ufeff{}", "\0{}", "\0\0{}"])
def test_utf_8_is_no_other_encoding(text: str) -> None:
    assert encoding(text.encode()) is None


def test_a_byte_of_another_code_is_told_with_what_stands_before_it() -> None:
    body = '{"reference": "Müller"}'.encode("latin-1")
    detail, mend = said(body)
    assert f"byte {body.index(0xFC)} is not UTF-8" in detail
    assert '"M' in detail
    assert "Windows or Latin" in mend
    late = b'{"reference": "' + b"x" * 100 + b'\xfc"}'
    assert f"byte {late.index(0xFC)} is not UTF-8, after '{'x' * 20}'" in said(late)[0]


# Ends


@pytest.mark.parametrize("body", [b"", b" ", b"\r\n\t"])
def test_an_empty_body_is_told_as_one(body: bytes) -> None:
    assert said(body)[0] == "the body is empty"


@pytest.mark.parametrize("length", range(1, len(TEXT)))
def test_a_body_that_ends_too_early_is_told_so_wherever_it_ends(length: int) -> None:
    detail, mend = said(TEXT[:length].encode())
    assert detail == "the JSON ends too early"
    assert "Content-Length" in mend


def test_half_of_a_surrogate_pair_is_no_end() -> None:
    detail, mend = said(b'{"reference": "\\ud83d"}')
    assert "half of a surrogate pair" in detail
    assert json.loads(f'"{mend.rpartition(" ")[2]}"') == "\U0001f600"


# Numbers


def test_a_number_that_is_too_large_is_shown() -> None:
    for number in ("1e999", "-2E+400", "1e000999"):
        detail, mend = said(f'{{"superfat": {number}}}'.encode())
        assert "out of range" in detail
        assert number in detail
        assert "superfat" in detail
        assert "scale" in mend
    far = said(b'{"reference": "' + b"x" * 200 + b'", "superfat": 1e999}')[0]
    assert '"superfat": 1e999' in far
    assert "xxxxxxxxxx" not in far


@pytest.mark.parametrize("number", ["05", ".05", "0,05", "+5", "1.", "00.5", "5.e3"])
def test_a_number_that_json_does_not_know_is_mended_by_plain_digits(number: str) -> None:
    detail, mend = said(f'{{"superfat": {number}}}'.encode())
    assert "superfat" in detail
    assert "write numbers in plain digits, as in 0.05" in mend
    assert ("a comma only parts members" in mend) == ("," in number)


@pytest.mark.parametrize("quantity", ["170.1 g", "170.1g", "5 %", "20 °C", "6 oz", "1 kg"])
def test_a_quantity_without_quotes_is_mended_by_quotes(quantity: str) -> None:
    assert "into quotes" in said(f'{{"mass": {quantity}}}'.encode())[1]
    assert "into quotes" in said(f'[{{"mass": {quantity}, "a": 1}}]'.encode())[1]


# Words and marks


@pytest.mark.parametrize("word", ["NaN", "Infinity", "-Infinity", "inf", "nan", "-inf"])
def test_what_is_no_number_in_json_is_told_so(word: str) -> None:
    assert said(f'{{"superfat": {word}}}'.encode())[1] == "give a number, or leave the member out"


@pytest.mark.parametrize("word", ["True", "False", "None", "undefined"])
def test_words_of_programs_are_no_json(word: str) -> None:
    detail, mend = said(f'{{"lid": {word}}}'.encode())
    assert mend == "write true, false or null"
    assert f"{word}}}" in detail  # whole, with what ends it


@pytest.mark.parametrize(
    "body", ["{'fats': []}", "{“fats”: []}", "{fats: []}", "fats=olive-oil", '{"fat": olive}', "{«fats»: 1}"]
)
def test_texts_stand_in_straight_double_quotes(body: str) -> None:
    assert "straight double quotes" in said(body.encode())[1]


@pytest.mark.parametrize(
    ("body", "mend"),
    [
        (b'{"a": 1,}', "take the last comma away"),
        (b"[1,]", "take the last comma away"),
        (b"{} {}", "send one JSON object alone"),
        (b'{"a": 1} x', "send one JSON object alone"),
        (b'{"a" 1}', "put a colon"),
        (b'{"a": "\\x"}', "a backslash as two"),
        (b'{"a": "one\ntwo"}', "line ends and tabs"),
        (b'{"a": "one\ttwo"}', "line ends and tabs"),
        (b'{"a": 1 // one\n}', ""),
        (b'// one\n{"a": 1}', "leave comments out"),
        (b'# one\n{"a": 1}', "leave comments out"),
        (b"<a>1</a>", "no XML or HTML"),
        (b'{"a": 1 "b": 2}', "put a comma between two members"),
        (b'{"a": 1; "b": 2}', "put a comma between two members"),
        (b'{"a": {} "b": 2}', "put a comma between two members"),
        (b'{"a": [1] [2]}', "put a comma between two members"),
        (b'{"a": [1 [2]]}', "put a comma between two members"),
        (b'[{"a": 1 {"b": 2}]', "put a comma between two members"),
        (b'{"a": "one "two" three"}', "a backslash before a quote within a text"),
        (b'{"a": ?}', "with any JSON tool"),
        (b"{?}", "with any JSON tool"),
    ],
    ids=str,
)
def test_a_slip_is_told_with_its_mending(body: bytes, mend: str) -> None:
    detail, told = said(body)
    assert "the body is not JSON" in detail
    assert mend in told


@pytest.mark.parametrize("start", [0, 5, 100])
def test_the_place_is_told_with_what_stands_round_it(start: int) -> None:
    body = (" " * start + '{"fats": wrong, "superfat": 5}').encode()
    detail, _ = said(body)
    at = body.index(b"wrong")
    assert f"at byte {at}, near " in detail
    assert '"fats": wrong' in detail


def test_a_message_without_a_place_is_passed_on() -> None:
    fault = not_json(b"{}", "JSON is malformed: something new")
    assert fault.detail == "the body is not JSON: something new"
    assert fault.mend
