"""The bare floor: an application that reads and writes the same JSON with msgspec, without calculating."""

from collections.abc import Callable
from typing import Final

import msgspec

from service.calculations.registry import Calculation, calculations
from service.calculations.shared.rendering import renderer
from service.http.wire import App, Receive, Scope, Send
from tests.benchmarks.bodies import NAMES, ring
from tests.benchmarks.shapes import plain_struct

Pair = tuple[Callable[[bytes], object], object]


def pair(calculation: Calculation[object, object]) -> Pair:  # type: ignore[type-var]
    """The decoder of a calculation's requests, and an answer as plain structs."""
    body = ring(calculation.name)[0]
    answer = renderer()(calculation.run(body))
    told = msgspec.json.decode(answer, type=plain_struct(calculation.answer))
    return msgspec.json.Decoder(plain_struct(calculation.request)).decode, told


def create_app() -> App:
    """The application."""
    known = calculations()
    pairs: Final = {f"/v1/{name}": pair(known[name]) for name in NAMES}
    encode: Final = msgspec.json.Encoder().encode

    async def serve(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            while True:
                message = await receive()
                await send({"type": f"{message['type']}.complete"})
                if message["type"] == "lifespan.shutdown":
                    return
        decode, told = pairs[scope["path"]]
        body = b""
        while True:
            message = await receive()
            body += message.get("body", b"")
            if not message.get("more_body"):
                break
        decode(body)
        answer = encode(told)
        await send(
            {
                "type": "http.response.start",
                "status": 200,
                "headers": [(b"content-type", b"application/json"), (b"content-length", b"%d" % len(answer))],
            }
        )
        await send({"type": "http.response.body", "body": answer})

    return serve
