"""A caller of an ASGI application, without a server and without a client library."""

import asyncio
import json
from collections.abc import Coroutine, Iterable, Mapping
from typing import Any, NamedTuple
from urllib.parse import unquote

from service.http.wire import App, Message, Receive, Scope


class Reply(NamedTuple):
    status: int
    headers: dict[str, str]
    body: bytes

    def json(self) -> Any:
        return json.loads(self.body)

    def detail(self, status: int) -> str:
        """What is wrong, of a problem that has this status."""
        assert self.status == status
        assert self.headers["content-type"] == "application/problem+json"
        told: str = self.json()["detail"]
        return told

    @property
    def codes(self) -> list[str]:
        return [error["code"] for error in self.json().get("errors", ())]


class Caller:
    """Calls an application; a list of bytes is sent as a body in chunks, without Content-Length."""

    def __init__(self, app: App) -> None:
        self._app = app

    def __call__(
        self,
        method: str,
        address: str,
        body: bytes | list[bytes] | Mapping[str, Any] | None = None,
        headers: Iterable[tuple[str, str]] = (),
    ) -> Reply:
        said = list(headers)
        if isinstance(body, Mapping):
            body = json.dumps(body).encode()
            if not any(name == "content-type" for name, _ in said):
                said.append(("content-type", "application/json"))
        if isinstance(body, bytes):
            said.append(("content-length", str(len(body))))
        chunks = body if isinstance(body, list) else [body or b""]
        path, _, query = address.partition("?")
        return self._run(self._exchange(self._scope(method, path, path.encode(), query.encode(), said), chunks))

    def raw(
        self,
        method: str,
        path: bytes,
        query: bytes,
        headers: Iterable[tuple[bytes, bytes]] = (),
        body: bytes = b"",
    ) -> Reply:
        """A call as bytes from the line: the path is decoded as a server does it."""
        decoded = unquote(path.decode("latin-1") if not path.isascii() else path.decode())
        scope = self._scope(method, decoded, path, query, ())
        scope["headers"] = list(headers)
        return self._run(self._exchange(scope, [body]))

    def _scope(
        self, method: str, path: str, raw_path: bytes, query: bytes, headers: Iterable[tuple[str, str]]
    ) -> dict[str, Any]:
        return {
            "type": "http",
            "asgi": {"version": "3.0", "spec_version": "2.3"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": path,
            "raw_path": raw_path,
            "query_string": query,
            "root_path": "",
            "headers": [(name.encode(), value.encode("latin-1")) for name, value in headers],
            "client": ("127.0.0.1", 50000),
            "server": ("127.0.0.1", 8765),
            "state": {},
        }

    def _run(self, exchange: Coroutine[Any, Any, Reply]) -> Reply:
        return asyncio.run(exchange)

    async def _exchange(self, scope: Scope, chunks: list[bytes]) -> Reply:
        left = [{"type": "http.request", "body": chunk, "more_body": True} for chunk in chunks]
        left[-1]["more_body"] = False
        sent: list[Message] = []
        answered = asyncio.Event()

        async def receive() -> Message:
            if left:
                return left.pop(0)
            await answered.wait()
            return {"type": "http.disconnect"}

        async def send(message: Message) -> None:
            sent.append(message)
            if message["type"] == "http.response.body" and not message.get("more_body", False):
                answered.set()

        await self._app(scope, receive, send)
        start, *rest = sent
        headers = {name.decode(): value.decode("latin-1") for name, value in start["headers"]}
        assert len(headers) == len(start["headers"]), "a header stands twice"
        return Reply(start["status"], headers, b"".join(part.get("body", b"") for part in rest))


def scope_of(path: str, query: str = "", *headers: tuple[bytes, bytes], method: str = "POST") -> Scope:
    """A request whose body and reader a test plays itself."""
    return {
        "type": "http",
        "method": method,
        "path": path,
        "raw_path": path.encode(),
        "query_string": query.encode(),
        "headers": [(b"content-type", b"application/json"), *headers],
        "http_version": "1.1",
    }


def once(body: bytes, gone: asyncio.Event | None = None) -> Receive:
    """A caller that sends its body whole, and leaves when `gone` is set."""
    left = [body]

    async def receive() -> Message:
        if left:
            return {"type": "http.request", "body": left.pop(), "more_body": False}
        await (gone or asyncio.Event()).wait()
        return {"type": "http.disconnect"}

    return receive
