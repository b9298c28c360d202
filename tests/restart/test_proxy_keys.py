"""No key gets into what nginx writes down, wherever in a request a caller has put it."""

import json
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final, NamedTuple

import pytest

from service.http.operation.keys import new_key
from tests.restart.exchanges import ask
from tests.restart.running_proxy import SHIPPED, Proxy, proxy
from tests.restart.running_service import HOST, started

KEY, HASH = new_key()
WRITTEN: Final = frozenset(
    {
        *("time_iso8601", "remote_addr", "request_method", "told_path", "status", "body_bytes_sent", "request_time"),
        *("told_id", "upstream_status", "upstream_response_time", "upstream_cache_status", "limit_req_status"),
        "limit_conn_status",
    }
)
"""Variables that may stand in the access log: none of them is as the caller sent it, but for what the maps let pass."""


class Misplaced(NamedTuple):
    """A request with a key where it does not belong, and the path that is told of it."""

    path: str
    headers: tuple[tuple[str, str], ...] = ()
    told: str = "/"


MISPLACED: Final = {
    "as the request id": Misplaced("/v1/fats", (("X-Request-Id", KEY),), "/v1/fats"),
    "after an ampersand": Misplaced(f"/v1/fats&key={KEY}"),
    "after a slash": Misplaced(f"/v1/fats/key={KEY}"),
    "after an encoded question mark": Misplaced(f"/v1/fats%3Fkey={KEY}"),
    "as the whole path": Misplaced(f"/{KEY}"),
    "as the request id beside a good key": Misplaced(f"/v1/fats?key={KEY}", (("X-Request-Id", KEY),), "/v1/fats"),
    "encoded": Misplaced(f"/v1/fats%3fkey%3D{KEY.replace('-', '%2D', 1)}"),
    "encoded twice": Misplaced(f"/v1/fats%253Fkey%253D{KEY.removeprefix('lyestock-')}"),
    "in the query of the page before": Misplaced("/v1/fats", (("Referer", f"http://x/?key={KEY}"),), "/v1/fats"),
    "as the program's name": Misplaced("/v1/fats", (("User-Agent", KEY),), "/v1/fats"),
}


@pytest.fixture(scope="module")
def keyed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Proxy]:
    """nginx before a service that asks for a key."""
    folder = tmp_path_factory.mktemp("keyed")
    with (
        started(folder, LYESTOCK_TRUSTED_PROXIES=HOST, LYESTOCK_KEY_HASHES=HASH) as service,
        proxy(folder, service.port) as front,
    ):
        yield front


@pytest.mark.parametrize("where", MISPLACED)
def test_a_key_in_the_wrong_place_is_not_written_down(keyed: Proxy, where: str) -> None:
    before = len(keyed.log.splitlines())
    asked = MISPLACED[where]
    found = ask(keyed.port, "GET", asked.path, None, asked.headers)
    if "?" in asked.path:
        assert found.status == 200
    time.sleep(0.2)
    [line] = keyed.log.splitlines()[before:]
    told = json.loads(line)
    assert told["path"] == asked.told
    assert told["request_id"] == found.headers["x-request-id"]
    assert KEY not in found.headers["x-request-id"]
    assert_nowhere(keyed.folder)


def assert_nowhere(folder: Path) -> None:
    """No file of nginx or of the service holds the key, and not what follows its beginning either."""
    secret = KEY.removeprefix("lyestock-").encode()
    assert len(secret) == 43
    files = [one for one in sorted(folder.rglob("*")) if one.is_file()]
    assert any(one.name == "lyestock.log" for one in files)
    assert [one.name for one in files if secret in one.read_bytes()] == []


def test_paths_and_ids_without_a_key_are_told_as_they_are(keyed: Proxy) -> None:
    for path, told in (
        ("/v1/fats/turkey?key=x", "/v1/fats/turkey"),
        ("/v1/monkey-business", "/v1/monkey-business"),
        (f"/v1/values/density?note=lyestock-1&key={KEY}", "/v1/values/density"),
    ):
        found = ask(keyed.port, "GET", path, None, [("X-Request-Id", "order-17.key")])
        time.sleep(0.2)
        last = json.loads(keyed.log.splitlines()[-1])
        assert (last["path"], last["request_id"]) == (told, "order-17.key")
        assert found.headers["x-request-id"] == "order-17.key"


def test_the_log_is_made_of_what_may_be_written_alone() -> None:
    text = SHIPPED.read_text(encoding="utf-8")
    form = text.partition("log_format lyestock")[2].partition(";")[0]
    variables = set(form.split("$")[1:])
    names = {"".join(c if c.isalnum() or c == "_" else " " for c in one).split()[0] for one in variables}
    assert len(names) >= 10
    assert names <= WRITTEN
    assert len([line for line in text.splitlines() if line.lstrip().startswith("log_format ")]) == 1
