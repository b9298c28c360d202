"""The benchmark runs, and every server in it gives the answers of the calculations: no speed is asserted."""

import json
import sys
from functools import _lru_cache_wrapper
from importlib.util import find_spec
from typing import Any

import msgspec
import pytest

from service.calculations.registry import calculations
from service.calculations.shared.rendering import renderer
from tests.benchmarks.bodies import NAMES, RING, Walk, ring
from tests.benchmarks.bulk import FORMATS, beside, costs
from tests.benchmarks.every import Every, cost, part, realistic
from tests.benchmarks.every import table as table_of_costs
from tests.benchmarks.inside import inside
from tests.benchmarks.load import Load, load
from tests.benchmarks.logs import counting, counting_by_library, in_process, telling
from tests.benchmarks.report import table
from tests.benchmarks.results import Watch
from tests.benchmarks.servers import ask, server

SECONDS = 0.05


def answer(name: str, body: bytes) -> Any:
    return json.loads(renderer()(calculations()[name].run(body)))


@pytest.mark.parametrize("name", NAMES)
def test_requests_of_a_ring_all_differ_and_so_do_their_answers(name: str) -> None:
    bodies = ring(name)
    unmarked = {json.dumps({**json.loads(body), "reference": None}) for body in bodies}
    assert len(unmarked) == len(bodies) == RING
    told = {json.dumps({**answer(name, body), "reference": None}) for body in bodies[:100]}
    assert len(told) == 100


def test_none_comes_back_before_all_others_were_asked() -> None:
    walk = Walk([b"a", b"b", b"c"])
    assert walk.take(2) == [b"a", b"b"]
    assert walk.ahead() == [b"c", b"a", b"b"]
    assert walk.rounds == 0
    walk.on(5)
    assert (walk.take(1), walk.rounds) == ([b"b"], 2)


def test_ring_is_longer_than_anything_the_service_keeps() -> None:
    kept = [
        kept.cache_info().maxsize or 0
        for name, module in list(sys.modules.items())
        if name.startswith("service.")
        for kept in vars(module).values()
        if isinstance(kept, _lru_cache_wrapper)
    ]
    assert kept, "no cache was found, so none too long would be either"
    assert max(kept) * 2 <= RING


@pytest.mark.parametrize("which", ["floor", "ours", "silent", "peer"])
def test_server_answers_what_the_calculation_gives(which: str) -> None:
    if which == "peer" and find_spec("fastapi") is None:
        pytest.skip("FastAPI is not installed here; python -m tests.benchmarks --smoke installs and compares it")
    with server(which) as running:
        for name in NAMES:
            bodies = ring(name, 3)
            asked = bodies[:1] if which == "floor" else bodies  # the floor answers the first, whatever is asked
            for body in asked:
                status, told = ask(running.port, name, body)
                assert (status, json.loads(told)) == (200, answer(name, body))
            found = load(running, name, bodies, SECONDS, own=True)
            assert found.failures == 0
            assert found.rate > 0
            assert 0 < found.p50 <= found.p99


def test_load_counts_answers_other_than_200() -> None:
    with server("ours") as running:
        assert load(running, NAMES[0], [b"{}"], SECONDS, own=True).failures > 0


def test_tables_hold_ratios_and_microseconds() -> None:
    one, two = Load(100, 1.0, 0, 2.0, 4.0, 30.0), Load(400, 2.0, 0, 1.0, 1.0, 15.0)
    told = table({NAMES[0]: {"ours": [one, one], "floor": [two, one]}}, {NAMES[0]: inside(NAMES[0], 1)})
    assert "| 0.75 (0.50 to 1.00) | 0.75 (0.50 to 1.00) | 1.50, 2.50 | not measured |" in told


def test_cost_of_counting_and_of_the_log_is_measured() -> None:
    assert all(counting(shared) > 0 for shared in (False, True))
    assert counting_by_library() > 0
    assert all(cost > 0 for cost in telling())
    assert len(in_process("concentration", turns=5, requests=5)) == 3


def test_every_calculation_is_measured_by_requests_that_it_computes() -> None:
    bodies = realistic("concentration", 30)
    assert len(set(bodies)) > 10
    found = cost("concentration", bodies, 1)
    assert found.requests == len(bodies)
    assert 0 < found.median <= found.most
    assert "| `concentration` | " in table_of_costs({"concentration": found})
    kept = msgspec.json.decode(msgspec.json.encode(Every(Watch().machine(), {"concentration": found})), type=Every)
    assert kept.costs == {"concentration": found}
    assert table_of_costs(kept.costs) in part(kept)


def test_many_items_are_measured_in_every_format() -> None:
    found = costs(counts=(5,), rounds=1, least=5)
    assert [(one.taken, one.answered) for one in found] == list(FORMATS)
    assert all(one.bulk > 0 and one.alone > 0 for one in found)
    with server("ours") as running:
        assert beside(running, Walk(ring("liquid-split", 2000)), count=50, ahead=3).answered > 0
