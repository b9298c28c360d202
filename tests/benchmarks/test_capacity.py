"""What many callers take follows from what was measured and from the shipped files."""

import pytest

from tests.benchmarks.capacity import Flow, ceilings, files, limits, telling
from tests.benchmarks.front import lifted
from tests.benchmarks.shipped import Shipped, shipped
from tests.restart.running_proxy import SHIPPED

TOLD = Shipped(
    cpu=0.5,
    memory=256,
    memory_most=1024,
    workers=1,
    least=2,
    most=8,
    aimed=0.7,
    proxies=2,
    proxy_cpu=0.1,
    proxy_workers=2,
    together=1024,
    per_address=40,
)


def test_the_shipped_files_are_read() -> None:
    told = shipped()
    assert 0 < told.cpu < 4
    assert told.memory < told.memory_most
    assert 0 < told.least < told.most
    assert 0 < told.aimed < 1
    assert all(one > 0 for one in told)


def test_the_least_limit_comes_first() -> None:
    split = Flow("a split", service_us=100, nginx_us=50, asked=250, answered=1000, ms=0.1)
    found = ceilings(split, TOLD)
    assert sorted(found.values()) == pytest.approx([28_000, 80_000, 80_000, 125_000, 6_144_000])
    assert limits(split._replace(service_us=200), TOLD)[0] == (40_000, "processor of 8 copies, a core for each worker")
    assert limits(split._replace(answered=1e6), TOLD)[0][1].startswith("network")
    rate, name = limits(split._replace(ms=1e3), TOLD)[0]
    assert rate == pytest.approx(2048 * 0.3)
    assert name == "requests in hand, 1024 a proxy"
    kept = split._replace(service_us=0)
    assert limits(kept, TOLD)[0] == (80_000, "processor of 2 proxies with 2 workers each")


def test_limits_closer_than_rounds_tell_nothing() -> None:
    split = Flow("a split", service_us=200, nginx_us=50, asked=250, answered=1000, ms=0.1)
    assert [rate for rate, _ in limits(split, TOLD)[:2]] == [40_000, 80_000]
    assert telling(split._replace(apart=0.3), TOLD)
    assert not telling(split._replace(apart=0.4), TOLD)


def test_the_page_says_what_a_thousand_and_a_hundred_thousand_take() -> None:
    (told,) = files().values()
    assert "## 1 000 a second" in told
    assert "## 100 000 a second" in told
    assert "kept by nginx | not asked |" in told
    assert "(M/M/1: 3.3 times as many" in told


def test_only_the_limits_of_an_address_are_lifted() -> None:
    text = SHIPPED.read_text("utf-8")
    changed = [one for one in zip(text.splitlines(), lifted(text).splitlines(), strict=True) if one[0] != one[1]]
    assert 3 <= len(changed) <= 8
    assert all("limit_req" in before or "limit_conn lines" in before for before, _ in changed)
    with pytest.raises(RuntimeError, match="has no"):
        lifted(text.replace("rate=40r/s", "rate=41r/s"))
