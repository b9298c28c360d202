"""What an operator may set: every setting, its default and its meaning."""

from typing import Annotated, Final, Literal

from msgspec import Meta, Struct

from service.calculations.registry import LARGEST_BODY

PUBLIC_RATE: Final = 1200
"""Requests a minute and address where the service is public and nothing else is set: twenty a second, or a sheet of
four hundred cells, each asked three times."""

Texts = tuple[str, ...]
PUBLIC_CONCURRENT: Final = 64
"""Requests of one address at once where the service is public and nothing else is set: so that nobody takes all places,
and a sheet that asks for all its cells at once is served."""
Count = Annotated[int, Meta(ge=1, le=100_000)]
Rate = Annotated[int, Meta(ge=1, le=1_000_000)]


class Settings(Struct, frozen=True, kw_only=True):
    """All settings, with the defaults of a service for one's own machine."""

    host: Annotated[str, Meta(min_length=1, description="Address to listen on; the default is this machine alone.")] = (
        "127.0.0.1"
    )
    port: Annotated[int, Meta(ge=0, le=65535, description="Port to listen on; 0 takes one that is free.")] = 8765
    workers: Annotated[int, Meta(ge=1, le=64, description="Processes that serve; one a core.")] = 1
    public: Annotated[
        bool,
        Meta(
            description="Whether strangers can reach it. It then starts only with keys or with `open_to_all`, and "
            "limits the rate."
        ),
    ] = False
    open_to_all: Annotated[bool, Meta(description="That a public service is meant to ask for no key.")] = False
    docs: Annotated[bool, Meta(description="Whether it serves the page /docs.")] = True
    key_hashes: Annotated[
        Texts,
        Meta(
            description="Hashes of the keys that callers must have, as `python -m service key` prints them. Several "
            "are good at once, to change them without a break."
        ),
    ] = ()
    allowed_origins: Annotated[
        Texts,
        Meta(
            description="Origins of pages whose scripts may call, such as https://shop.example. Without it: any where "
            "no keys are set, none where they are."
        ),
    ] = ()
    trusted_proxies: Annotated[
        Texts,
        Meta(description="Addresses or networks of proxies, whose X-Forwarded-For tells the address of the caller."),
    ] = ()
    largest_body: Annotated[
        int,
        Meta(ge=1024, le=LARGEST_BODY, description="Bytes of a request; the contract lets them be fewer, not more."),
    ] = LARGEST_BODY
    largest_bulk_body: Annotated[
        int, Meta(ge=1024, le=32 << 20, description="Bytes of a plan or of many items at once, unpacked too.")
    ] = 32 << 20
    most_items: Annotated[int, Meta(ge=1, le=10_000, description="Items of one request of many.")] = 10_000
    longest_address: Annotated[
        int, Meta(ge=2048, le=60_000, description="Bytes of an address with its query; more are refused with 414.")
    ] = 8192
    largest_headers: Annotated[
        int,
        Meta(ge=4096, le=1 << 20, description="Bytes of all headers with the address; more are refused with 431."),
    ] = 16_384
    header_seconds: Annotated[
        float, Meta(gt=0, le=3600, description="Time for the headers to come; the connection is closed after it [s].")
    ] = 10.0
    request_seconds: Annotated[
        float,
        Meta(
            gt=0,
            le=3600,
            description="Time for the body to come (else 408), for an answer to begin (else 503), and for the caller "
            "to read on (else the connection is closed) [s].",
        ),
    ] = 60.0
    idle_seconds: Annotated[
        float,
        Meta(gt=0, le=3600, description="Time a connection is kept without a request; longer than a proxy's [s]."),
    ] = 75.0
    most_concurrent: Annotated[
        int, Meta(ge=1, le=100_000, description="Requests that a worker serves at once; more are refused with 503.")
    ] = 256
    concurrent_per_address: Annotated[
        Count | None,
        Meta(
            description="Requests of one address without a key that a worker serves at once; more are refused with "
            f"429. Without it: no limit, or {PUBLIC_CONCURRENT} where it is public.",
        ),
    ] = None
    bodies_together: Annotated[
        int,
        Meta(
            ge=1 << 20,
            le=1 << 40,
            description="Bytes that a worker holds of bodies of more than 64 KiB, all together; more are refused with "
            "503.",
        ),
    ] = 256 << 20
    rate_per_address: Annotated[
        Rate | None,
        Meta(
            description="Requests a minute and worker of one address without a key; more are refused with 429. "
            f"Without it: no limit, or {PUBLIC_RATE} where it is public.",
        ),
    ] = None
    rate_per_key: Annotated[
        Rate | None, Meta(description="Requests a minute and worker with one key. Without it: no limit.")
    ] = None
    drain_seconds: Annotated[
        float,
        Meta(ge=0, le=3600, description="Time to finish what is being served when it is told to end [s]."),
    ] = 20.0
    log: Annotated[Literal["json", "off"], Meta(description="Whether every request is logged, as a line of JSON.")] = (
        "json"
    )
    build: Annotated[
        str, Meta(max_length=100, description="What was built, such as a revision; /health/ready and /metrics tell it.")
    ] = ""

    @property
    def address_rate(self) -> int | None:
        """Requests a minute of one address: as set, or what is due where it is public."""
        return PUBLIC_RATE if self.rate_per_address is None and self.public else self.rate_per_address

    @property
    def address_concurrent(self) -> int | None:
        """Requests of one address at once: as set, or what is due where it is public."""
        one = self.concurrent_per_address
        return PUBLIC_CONCURRENT if one is None and self.public else one

    @property
    def any_origin(self) -> bool:
        """Whether scripts of pages of any origin may call."""
        return not self.key_hashes and not self.allowed_origins


DEFAULTS: Final = Settings()
