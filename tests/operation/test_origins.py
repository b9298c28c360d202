"""Pages of other origins: any may call while no keys are set, named ones where they are (Fetch Standard, 3.2)."""

from service.http.app import create_app
from service.http.operation.keys import new_key
from service.http.operation.settings import Settings
from tests.asgi import Caller

_, HASH = new_key()


def test_any_origin_may_call_while_no_keys_are_set() -> None:
    call = Caller(create_app())
    reply = call("GET", "/health/live", headers=[("origin", "https://any.example")])
    assert reply.headers["access-control-allow-origin"] == "*"
    assert "access-control-allow-credentials" not in reply.headers
    allowed = call("OPTIONS", "/v1/concentration").headers["access-control-allow-headers"].split(", ")
    assert {"Authorization", "Content-Type", "X-Request-Id"} <= set(allowed)


def test_no_origin_may_call_where_keys_are_set_and_none_is_named() -> None:
    call = Caller(create_app(settings=Settings(key_hashes=(HASH,))))
    for method in ("GET", "OPTIONS"):
        reply = call(method, "/health/live", headers=[("origin", "https://any.example")])
        assert "access-control-allow-origin" not in reply.headers


def test_named_origins_alone_may_call() -> None:
    call = Caller(create_app(settings=Settings(allowed_origins=("https://shop.example",))))
    named = call("GET", "/v1/alkalis", headers=[("origin", "https://shop.example")])
    assert named.headers["access-control-allow-origin"] == "https://shop.example"
    assert "Origin" in named.headers["vary"]
    for origin in ("https://shop.example.evil", "http://shop.example", "null", "*"):
        other = call("GET", "/v1/alkalis", headers=[("origin", origin)])
        assert "access-control-allow-origin" not in other.headers
        assert "Origin" in other.headers["vary"]
