"""Rates: a bucket for each caller, told in headers, and refused with the time to wait."""

import pytest

from service.http.app import create_app
from service.http.operation import guard
from service.http.operation.keys import new_key
from service.http.operation.rates import WINDOW, Rates, household
from service.http.operation.settings import Settings
from tests.asgi import Caller

STRENGTH = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}


def test_a_full_bucket_gives_its_quota_at_once_and_then_one_a_step() -> None:
    rates = Rates("address", 6)
    at_once = [rates.take("a", 100.0) for _ in range(8)]
    assert [one.left for one in at_once] == [5, 4, 3, 2, 1, 0, 0, 0]
    assert [one.wait for one in at_once[:6]] == [0.0] * 6
    assert at_once[6].wait == at_once[7].wait == pytest.approx(10.0)
    assert rates.take("a", 109.9).wait == pytest.approx(0.1)
    assert rates.take("a", 110.0).wait == 0.0
    assert rates.take("b", 110.0).left == 5


def test_no_window_of_a_minute_lets_more_through_than_twice_the_quota_and_in_the_long_run_the_quota() -> None:
    """A bucket may be full at the beginning of a minute and be filled once more within it, never more."""
    rates = Rates("address", 60)
    let = [now / 10 for now in range(0, 6000) if not rates.take("a", now / 10).wait]
    assert len(let) == 60 + 599
    assert max(sum(1 for one in let if start <= one < start + WINDOW) for start in let) <= 120


def test_a_bucket_is_full_again_after_a_minute() -> None:
    rates = Rates("address", 3)
    for _ in range(3):
        rates.take("a", 0.0)
    assert rates.take("a", WINDOW + 1e-6).left == 2


def test_the_longest_forgotten_go_first_and_memory_is_bounded() -> None:
    rates = Rates("address", 2, most=3)
    for who in "abcab":
        rates.take(who, 0.0)
    rates.take("d", 0.0)
    assert rates.take("c", 0.0).left == 1  # forgotten: its bucket is full again
    assert rates.take("b", 0.0).wait > 0


@pytest.mark.parametrize(
    ("address", "one"),
    [
        ("192.0.2.7", "192.0.2.7"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"),
        ("2001:db8:1:2::9", "2001:db8:1:2::/64"),
        ("fe80::1%eth0", "fe80::/64"),
        ("::ffff:192.0.2.7", "192.0.2.7"),
        ("no:address", "no:address"),
        ("", ""),
    ],
)
def test_who_has_one_address_of_a_network_has_all_of_it(address: str, one: str) -> None:
    assert household(address) == one


def test_too_much_is_refused_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    now = 0.0
    monkeypatch.setattr(guard, "monotonic", lambda: now)
    call = Caller(create_app(settings=Settings(rate_per_address=2)))
    first = call("POST", "/v1/concentration", STRENGTH)
    assert first.status == 200
    assert first.headers["ratelimit-policy"] == '"address";q=2;w=60'
    assert first.headers["ratelimit"] == '"address";r=1;t=30'
    assert call("GET", "/nowhere").status == 404
    third = call("POST", "/v1/concentration", STRENGTH)
    assert third.status == 429
    assert (third.headers["retry-after"], third.headers["ratelimit"]) == ("30", '"address";r=0;t=60')
    told = third.json()
    assert told["type"] == "/problems/too-many-requests"
    assert "Wait 30 s" in told["detail"]
    cell = call("GET", "/v1/values/density?alkali=NaOH&strength=50%25&errors=inline")
    assert (cell.status, cell.body[:18]) == (200, b"Error: More was as")
    assert call("GET", "/health/ready").status == 200
    assert call("GET", "/health/other").status == 429
    assert {"RateLimit", "RateLimit-Policy"} <= {*third.headers["access-control-expose-headers"].split(", ")}
    now = 30.0
    assert call("POST", "/v1/concentration", STRENGTH).status == 200


def test_a_key_has_its_own_rate_and_a_wrong_one_counts_for_the_address() -> None:
    key, digest = new_key()
    call = Caller(create_app(settings=Settings(key_hashes=(digest,), rate_per_address=2, rate_per_key=3)))
    good, bad = [("authorization", f"Bearer {key}")], [("authorization", "Bearer no")]
    assert [call("GET", "/v1/alkalis", headers=bad).status for _ in range(3)] == [401, 401, 429]
    replies = [call("GET", "/v1/alkalis", headers=good) for _ in range(4)]
    assert [one.status for one in replies] == [200, 200, 200, 429]
    assert replies[0].headers["ratelimit-policy"] == '"key";q=3;w=60'
    assert "with this key" in replies[3].detail(429)
