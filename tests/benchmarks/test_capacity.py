"""What many callers take follows from what was measured and from the shipped files."""

import pytest

from tests.benchmarks.capacity import Flow, Shipped, ceilings, files, first, shipped
from tests.benchmarks.front import lifted
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
    assert sorted(found.values()) == pytest.approx([28_000, 80_000, 80_000, 125_000, 20_480_000])
    assert first(split._replace(service_us=200), TOLD) == ("processor of 8 copies, a core for each worker", 40_000)
    assert first(split._replace(answered=1e6), TOLD)[0].startswith("network")
    assert first(split._replace(ms=1e3), TOLD) == ("requests in hand, 1024 a proxy", 2048)
    kept = split._replace(service_us=0)
    assert first(kept, TOLD) == ("processor of 2 proxies with 2 workers each", 80_000)


def test_the_page_says_what_a_thousand_and_a_hundred_thousand_take() -> None:
    (told,) = files().values()
    assert "## 1 000 a second" in told
    assert "## 100 000 a second" in told
    assert "kept by nginx | not asked |" in told


def test_only_the_limits_of_an_address_are_lifted() -> None:
    text = SHIPPED.read_text("utf-8")
    changed = [one for one in zip(text.splitlines(), lifted(text).splitlines(), strict=True) if one[0] != one[1]]
    assert 3 <= len(changed) <= 8
    assert all("limit_req" in before or "limit_conn lines" in before for before, _ in changed)
    with pytest.raises(RuntimeError, match="has no"):
        lifted(text.replace("rate=40r/s", "rate=41r/s"))
