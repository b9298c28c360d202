"""Headers and bodies that are not meant, and what is said of them; numbers that are none never leave."""

import json
import logging

import pytest

from service.calculations.shared.messages import Answer
from service.calculations.shared.rendering import renderer
from service.calculations.shared.told import NotFinite
from service.http.app import create_app
from tests.asgi import Caller
from tests.http.conftest import EXAMPLES, HALF

BODY = json.dumps(HALF).encode()
JSON = ("content-type", "application/json")
SEND = "Send Content-Type: application/json."
LEAVE = "Leave it out, or put format=json into the address."


@pytest.mark.parametrize(
    ("said", "told"),
    [
        (["text/plain"], "is text/plain"),
        (["application/vnd.example+json"], "is application/vnd.example+json"),
        (["application/problem+json"], "is application/problem+json"),
        (["application/json; charset=utf-16"], "is application/json; charset=utf-16"),
        (["application/json; charset=utf-8; charset=utf-16"], "is application/json; charset=utf-8; charset=utf-16"),
        (["application/json, text/plain"], "is application/json, text/plain"),
        (["text/json"], "is text/json"),
        (["ä" * 200], "is " + "?" * 60),
        ([""], "is missing"),
        ([], "is missing"),
        (["application/json", "text/plain"], "stands twice"),
        (["text/plain", "application/json"], "stands twice"),
        (["application/json; charset=utf-8", "application/json"], "stands twice"),
    ],
    ids=str,
)
def test_a_body_of_another_type_is_refused_word_for_word(call: Caller, said: list[str], told: str) -> None:
    reply = call("POST", "/v1/part", BODY, [("content-type", one) for one in said])
    assert reply.detail(415) == f"Content-Type {told}. {SEND}"
    assert reply.headers["accept"] == "application/json"


@pytest.mark.parametrize(
    "said", [["application/json", "application/json"], ['application/json; charset="UTF-8"'], ["application/json;"]]
)
def test_json_in_utf_8_is_taken_however_it_is_said(call: Caller, said: list[str]) -> None:
    assert call("POST", "/v1/part", BODY, [("content-type", one) for one in said]).status == 200


@pytest.mark.parametrize("coding", ["gzip", "br, gzip", "GZIP"])
def test_a_compressed_body_is_refused_word_for_word(call: Caller, coding: str) -> None:
    reply = call("POST", "/v1/part", BODY, [JSON, ("content-encoding", coding)])
    assert reply.detail(415) == f"The body is compressed ({coding}). Send it as it is, without Content-Encoding."


@pytest.mark.parametrize(
    ("accept", "shown"),
    [
        ("application/problem+json", "application/problem+json"),
        ("application/json;q=0", "application/json;q=0"),
        ("*/*;q=0", "*/*;q=0"),
        ("text/csv", "text/csv"),
        (",,,", ",,,"),
        ("*", "*"),
        ("a/b," * 4000, ("a/b," * 15)),
        ("\x1b[31m", "?[31m"),
    ],
    ids=lambda value: value[:20].replace("\x1b", "ESC"),
)
def test_an_accept_that_leaves_json_out_is_refused_word_for_word(call: Caller, accept: str, shown: str) -> None:
    reply = call("POST", "/v1/part", BODY, [JSON, ("accept", accept)])
    assert reply.detail(406) == f"Accept is {shown}, which leaves out application/json. {LEAVE}"


def test_a_wrong_content_type_and_a_wrong_accept_are_told_together(call: Caller) -> None:
    reply = call("POST", "/v1/part", BODY, [("content-type", "text/csv"), ("accept", "text/csv")])
    told = reply.detail(415)
    assert "Content-Type is text/csv" in told
    assert "Accept is text/csv" in told


@pytest.mark.parametrize(
    ("body", "told", "mend"),
    [
        (b"", "the body is empty", "send a JSON object; /docs shows one for each calculation"),
        (BODY.decode().encode("utf-16"), "the body is in UTF-16, not in UTF-8", "send the body as UTF-8"),
        (BODY.decode().encode("utf-16-le"), "the body is in UTF-16, not in UTF-8", "send the body as UTF-8"),
        (BODY.decode().encode("utf-16-be"), "the body is in UTF-16, not in UTF-8", "send the body as UTF-8"),
        (BODY.decode().encode("utf-32"), "the body is in UTF-32, not in UTF-8", "send the body as UTF-8"),
        (
            b'{"mass": "1 kg\xb0"}',
            'byte 14 is not UTF-8, after \'{"mass": "1 kg\'',
            "send the body as UTF-8, not in the Windows or Latin code",
        ),
        (
            b'{"reference": "\\ud800"}',
            "a text holds half of a surrogate pair",
            "write the character itself, or both halves: \\ud83d\\ude00",
        ),
        (
            b'{"mass": "1 kg"',
            "the JSON ends too early",
            "close every bracket and quote, and check Content-Length",
        ),
        (
            b'{"mass": 170 g}',
            "the body is not JSON: expected ',' or '}' at byte 13, near '{\"mass\": 170 g}'",
            'put a number and its unit into quotes: "170.1 g"',
        ),
        (
            b"{'mass': 1}",
            "the body is not JSON: object keys must be strings at byte 1, near \"{'mass': 1}\"",
            'put names and texts in straight double quotes: "..."',
        ),
        (
            b'{"share": NaN}',
            "the body is not JSON: invalid character at byte 10, near '{\"share\": NaN}'",
            "give a number, or leave the member out",
        ),
        (
            b'{"share": True}',
            "the body is not JSON: invalid character at byte 10, near '{\"share\": True}'",
            "write true, false or null",
        ),
        (
            b'{"share": 0.5,}',
            "the body is not JSON: trailing comma in object at byte 14, near '{\"share\": 0.5,}'",
            "take the last comma away",
        ),
        (
            b"// a recipe\n{}",
            "the body is not JSON: invalid character at byte 0, near '// a recip'",
            "leave comments out: JSON has none",
        ),
        (
            b"<mass>1</mass>",
            "the body is not JSON: invalid character at byte 0, near '<mass>1</m'",
            'send JSON, as in {"member": "text"}, and no XML or HTML',
        ),
        (
            b'{"share": 1e999}',
            "a number of the body is out of range, near '{\"share\": 1e999'",
            "give a number that a scale can show",
        ),
        (
            b'{"x":' * 2000 + b"1" + b"}" * 2000,
            "the body is nested too deeply",
            "take brackets away: no request needs more than ten levels",
        ),
    ],
    ids=lambda value: value[:16].hex() if isinstance(value, bytes) else None,
)
def test_a_body_that_is_no_json_is_told_word_for_word(call: Caller, body: bytes, told: str, mend: str) -> None:
    reply = call("POST", "/v1/part", body, [JSON])
    assert reply.status == 400
    assert reply.json()["errors"] == [{"code": "malformed-json", "detail": told, "mend": mend, "pointer": ""}]


def test_a_hundred_thousand_brackets_are_refused(call: Caller) -> None:
    reply = call("POST", "/v1/part", b"[" * 100_000, [JSON])
    assert (reply.status, reply.codes) == (400, ["too-many"])


# Numbers that are none


class BareAnswer(Answer, kw_only=True):
    """An answer with a number that no figure holds."""

    share: float


@pytest.mark.parametrize("number", [float("inf"), float("-inf"), float("nan")])
def test_a_bare_number_that_is_none_never_leaves_as_null(number: float) -> None:
    """JSON has no infinity, and an encoder would write null in its place: a number hidden, not a fault told."""
    write = renderer()
    assert json.loads(write(BareAnswer(share=0.5, reference="null")))["share"] == 0.5
    with pytest.raises(NotFinite):
        write(BareAnswer(share=number, reference="null"))


@pytest.mark.parametrize("query", ["", "?units=us", "?digits=3", "?explain=true"])
def test_an_infinite_number_is_a_failure_that_is_logged(
    call: Caller, query: str, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.ERROR, "lyestock"):
        reply = call("POST", f"/v1/endless{query}", HALF)
    assert reply.status == 500
    assert reply.json()["type"] == "/problems/internal"
    assert b"null" not in reply.body
    assert "NotFinite" in caplog.text


# Pages


def test_every_page_of_a_problem_says_what_it_means_shows_one_and_how_to_mend_it() -> None:
    call = Caller(create_app())
    for part in call("GET", "/problems").body.decode().split("href='/problems/")[1:]:
        page = call("GET", f"/problems/{part.partition(chr(39))[0]}").body.decode()
        assert "<h2>How to mend it</h2><p>" in page
        assert "<h2>Example</h2><pre>{" in page
        assert "&quot;detail&quot;" in page


def test_the_example_of_the_fixture_is_answered(call: Caller) -> None:
    assert call("POST", "/v1/part", EXAMPLES[0].request).status == 200
