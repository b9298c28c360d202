"""What can be known of settings only on the machine that is to serve by them.

unresolvable   whether the host is an address at all
unusable       whether host and port can be listened on now
cautions       what an operator should know before others do
"""

import errno
import socket
from collections.abc import Iterator
from contextlib import suppress
from ipaddress import ip_address
from typing import Any, Final

from service.http.operation.settings import Settings
from service.http.operation.settings_reading import Wrong

FILES_BESIDE: Final = 100
"""Files that a process may have open beside the connections of its callers: it has some twenty when it starts."""
_MENDS: Final = {
    errno.EADDRINUSE: "end what listens there, or choose another port (LYESTOCK_PORT, --port; 0 takes a free one)",
    errno.EACCES: "choose a port from 1024 on (LYESTOCK_PORT, --port), or put a proxy before it",
    errno.EADDRNOTAVAIL: "write an address that this machine has (LYESTOCK_HOST, --host)",
}


def unresolvable(settings: Settings) -> list[Wrong]:
    """What is wrong with the host where it is no address and no name of one."""
    _, wrong = _places(settings)
    return wrong


def unusable(settings: Settings) -> list[Wrong]:
    """What is wrong with host and port where they cannot be listened on; whoever serves does that right after."""
    places, wrong = _places(settings)
    for family, kind, protocol, _, address in places:
        try:
            with socket.socket(family, kind, protocol) as tried:
                tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
                if family == socket.AF_INET6:
                    tried.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, 1)
                tried.bind(address)
        except OSError as error:
            if error.errno == errno.EAFNOSUPPORT and len(places) > 1:
                continue  # a machine without IPv6 serves by what it has
            name = "host" if error.errno in {errno.EADDRNOTAVAIL, errno.EAFNOSUPPORT} else "port"
            why = (error.strerror or str(error)).lower()
            mend = _MENDS.get(error.errno or 0, "choose others (LYESTOCK_HOST, LYESTOCK_PORT)")
            return [Wrong(name, f"{address[0]} port {address[1]} cannot be listened on ({why})", mend)]
    return wrong


def cautions(settings: Settings) -> Iterator[str]:
    """What is allowed, and may still not be what was meant."""
    guarded = settings.public or (settings.key_hashes and settings.address_rate)
    if not guarded and not _is_this_machine(settings.host):
        yield (
            f"LYESTOCK_HOST is {settings.host}: other machines can ask this service, and keys and rates do not guard "
            "it as they do a public one. If strangers can reach it, set LYESTOCK_PUBLIC=true; else set "
            "LYESTOCK_HOST=127.0.0.1, or let a firewall say who may."
        )
    needed = settings.most_concurrent + FILES_BESIDE
    files = _most_files()
    if files is not None and files < needed:
        yield (
            f"A process may have {files} files open here, and LYESTOCK_MOST_CONCURRENT={settings.most_concurrent} "
            f"needs {needed} or more: beyond them callers are cut off without a word. Raise the limit (ulimit -n, "
            "LimitNOFILE), or lower LYESTOCK_MOST_CONCURRENT."
        )


def _places(settings: Settings) -> tuple[list[Any], list[Wrong]]:
    try:
        found = socket.getaddrinfo(settings.host, settings.port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
    except (OSError, UnicodeError) as error:
        why = getattr(error, "strerror", None) or str(error)
        mend = (
            "write an address or a name of this machine, such as 127.0.0.1, or 0.0.0.0 for all it has (LYESTOCK_HOST)"
        )
        return [], [Wrong("host", f"{settings.host!r} is no address that is known here ({why})", mend)]
    return found, []


def _is_this_machine(host: str) -> bool:
    with suppress(ValueError):
        return ip_address(host).is_loopback
    return host.lower() == "localhost"


def _most_files() -> int | None:
    try:
        import resource  # noqa: PLC0415 - Windows has none
    except ImportError:
        return None
    soft, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
    return None if soft == resource.RLIM_INFINITY else soft
