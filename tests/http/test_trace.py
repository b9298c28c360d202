"""The header traceparent. Rules: W3C Recommendation Trace Context, section 3.2 (from memory)."""

import pytest

from service.http.operation.trace import trace_id

TRACE = "4bf92f3577b34da6a3ce929d0e0e4736"
PARENT = "00f067aa0ba902b7"


@pytest.mark.parametrize(
    "header",
    [
        f"00-{TRACE}-{PARENT}-01",
        f"00-{TRACE}-{PARENT}-00",
        f"00-{TRACE}-{PARENT}-ff",
        f" 00-{TRACE}-{PARENT}-01\t",
        f"01-{TRACE}-{PARENT}-01",
        f"cc-{TRACE}-{PARENT}-01-what-the-future-brings",
        f"fe-{TRACE}-{PARENT}-01-",
    ],
)
def test_trace_id_of_a_valid_header_is_read(header: str) -> None:
    assert trace_id(header.encode()) == TRACE


@pytest.mark.parametrize(
    "header",
    [
        "",
        "00",
        TRACE,
        f"00-{TRACE}-{PARENT}",
        f"00-{TRACE}-{PARENT}-1",
        f"00-{TRACE}-{PARENT}-0x",
        f"00-{TRACE}-{PARENT}-01-",
        f"00-{TRACE}-{PARENT}-01-more",
        f"00-{TRACE}-{PARENT}-01more",
        f"01-{TRACE}-{PARENT}-01more",
        f"ff-{TRACE}-{PARENT}-01",
        f"0-{TRACE}-{PARENT}-01",
        f"00-{TRACE.upper()}-{PARENT}-01",
        f"00-{TRACE}-{PARENT.upper()}-01",
        f"00-{'0' * 32}-{PARENT}-01",
        f"00-{TRACE}-{'0' * 16}-01",
        f"00-{TRACE[1:]}-{PARENT}-01",
        f"00-{TRACE}0-{PARENT}-01",
        f"00_{TRACE}_{PARENT}_01",
        f"00-{TRACE}-{PARENT}-01,00-{TRACE}-{PARENT}-01",
        f"00-{TRACE}-{PARENT}-01\n",
        f"00-{TRACE[:-1]}é-{PARENT}-01",
    ],
)
def test_invalid_header_is_passed_over(header: str) -> None:
    assert trace_id(header.encode()) is None
