"""What is wrong with a body that is not JSON, said to a person who has it before them.

The decoder says at which byte it stopped; what stands there tells most slips apart.
"""

import json
import re
from typing import Final

from service.calculations.shared.faults import Fault, quoted

_LARGE: Final = re.compile(rb"[eE]\+?\d{3,9}")
"""Exponent of a number that no machine holds."""
_BYTE: Final = re.compile(r"\(byte (\d+)\)")
_MARKS: Final = (
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)
"""How a text in another encoding begins, the longer marks first."""

_NUMBER: Final = (
    "write numbers in plain digits, as in 0.05: a decimal point with a digit before and after it, no + and no leading 0"
)
_QUANTITY: Final = 'put a number and its unit into quotes: "170.1 g"'
_QUOTES: Final = 'put names and texts in straight double quotes: "..."'
_ESCAPES: Final = "write line ends and tabs in texts as \\n and \\t, and a backslash as two"
_REASONS: Final = (
    ("trailing comma", "take the last comma away"),
    ("trailing characters", "send one JSON object alone, and nothing after it"),
    ("escape", _ESCAPES),
    ("expected ':'", "put a colon between the name of a member and its value"),
)
"""Words of the decoder that say enough."""
_SLIPS: Final = (
    (re.compile(r"[+-]?(?:NaN|Infinity|inf)\b", re.IGNORECASE), "give a number, or leave the member out"),
    (re.compile(r"(?:True|False|None|undefined)\b"), "write true, false or null"),
    (re.compile(r"[‘’“”„«»'`]"), _QUOTES),
    (re.compile(r"//|/\*|#"), "leave comments out: JSON has none"),
    (re.compile(r"[-+.*/\d]"), _NUMBER),
    (re.compile(r"<"), 'send JSON, as in {"member": "text"}, and no XML or HTML'),
    (re.compile(r"[A-Za-z_]"), _QUOTES),
)
"""What stands where the decoder stopped, and how to mend it; the first that fits."""


def not_json(body: bytes, message: str) -> Fault:
    """The fault of a body that is not JSON.

    Args:
        body: the body.
        message: what the decoder said of it.
    """
    detail, mend = _said(body, message)
    return Fault("malformed-json", detail, mend, "")


def _said(body: bytes, message: str) -> tuple[str, str]:
    if not body.strip():
        return "the body is empty", "send a JSON object; /docs shows one for each calculation"
    other = encoding(body)
    if other is not None:
        return f"the body is in {other}, not in UTF-8", "send the body as UTF-8"
    try:
        text = body.decode()
    except UnicodeDecodeError as error:
        before = body[max(0, error.start - 20) : error.start].decode(errors="ignore")
        return (
            f"byte {error.start} is not UTF-8, after {quoted(before)}",
            "send the body as UTF-8, not in the Windows or Latin code",
        )
    if "truncated" in message:
        return _truncated(text)
    place = _BYTE.search(message)
    reason = _BYTE.sub("", message.removeprefix("JSON is malformed: ")).strip()
    if "out of range" in reason:
        large = _LARGE.search(body)
        near = "" if large is None else body[max(0, large.start() - 20) : large.end()].decode(errors="ignore")
        where = f", near {quoted(near)}" if near else ""
        return f"a number of the body is out of range{where}", "give a number that a scale can show"
    if place is None:
        return f"the body is not JSON: {reason[:100]}", "check it with any JSON tool"
    at = int(place.group(1))
    near = body[max(0, at - 20) : at + 10].decode(errors="ignore")
    return f"the body is not JSON: {reason[:80]} at byte {at}, near {quoted(near)}", _mend(body, at, reason)


def encoding(body: bytes) -> str | None:
    """The encoding of a body that is not UTF-8, by its mark or by the zeros between its letters.

    Args:
        body: the body, or how it begins.
    """
    for mark, name in _MARKS:
        if body.startswith(mark):
            return name
    zeros = body[:8].count(0)
    return None if zeros < 3 else "UTF-32" if zeros > 4 else "UTF-16"


def _truncated(text: str) -> tuple[str, str]:
    """The decoder takes half a surrogate pair for an end that comes too early."""
    try:
        json.loads(text)
    except (ValueError, RecursionError):
        return "the JSON ends too early", "close every bracket and quote, and check Content-Length"
    return "a text holds half of a surrogate pair", "write the character itself, or both halves: \\ud83d\\ude00"


def _mend(body: bytes, at: int, reason: str) -> str:
    """How to mend what stands where the decoder stopped."""
    for word, mend in _REASONS:
        if word in reason:
            return mend
    line = body[max(0, at - 40) : at].decode(errors="ignore")
    here = body[at : at + 12].decode(errors="ignore")
    if here and here[0] < " " and here[0] != "\0":
        return _ESCAPES
    if re.search(r"\d,\s*$", line) and here[:1].isdigit():
        return f"{_NUMBER}; a comma only parts members"
    if "expected" in reason:
        if not re.search(r"[\d.]\s*$", line) or here[:1] in {";", '"', "{", "["}:
            return "put a comma between two members, and a backslash before a quote within a text"
        return _QUANTITY if re.match(r"[%°A-Za-wyz]", here) else _NUMBER
    start = re.split(r"[\s:,\[{]", line)[-1]
    for slip, mend in _SLIPS:
        if slip.match(start + here):
            return mend
    return _NUMBER if re.search(r"\d$", line) else "check brackets, commas and quotes with any JSON tool"
