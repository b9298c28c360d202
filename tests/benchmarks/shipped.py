"""What the shipped manifests and the proxy's file allow, read from deploy/."""

from typing import Any, Final, NamedTuple

import yaml

from tests.benchmarks.environments import ROOT

_UNITS: Final = {"Ki": 2**10, "Mi": 2**20, "Gi": 2**30}
_KUBERNETES: Final = ROOT / "deploy" / "kubernetes"


class Shipped(NamedTuple):
    """What the manifests and the proxy's file allow."""

    cpu: float
    """Cores that a copy of the service asks for."""
    memory: float
    """MiB that a copy asks for."""
    memory_most: float
    """MiB that a copy may have."""
    workers: int
    least: int
    """Copies that the autoscaler keeps at least."""
    most: int
    """Copies that it makes at most."""
    aimed: float
    """Share of the asked-for cores that the autoscaler aims at."""
    proxies: int
    proxy_cpu: float
    """Cores that a proxy asks for."""
    proxy_workers: int
    together: int
    """Requests that each proxy has in hand at once, at most."""
    per_address: float
    """Requests per second of one address, at each proxy."""


def _read(name: str) -> list[Any]:
    return list(yaml.safe_load_all((_KUBERNETES / name).read_text("utf-8")))


def _mib(text: str) -> float:
    return float(text[:-2]) * _UNITS[text[-2:]] / 2**20


def _cores(text: str) -> float:
    return float(text[:-1]) / 1000 if text.endswith("m") else float(text)


def _said(text: str, before: str, after: str) -> str:
    """What the proxy's file says between two texts."""
    _, found, rest = text.partition(before)
    if not found:
        raise ValueError(f"the proxy's configuration has no {before!r}")
    return rest.partition(after)[0].strip()


def shipped() -> Shipped:
    """What the shipped files say."""
    container = _read("deployment.yaml")[0]["spec"]["template"]["spec"]["containers"][0]
    scaling, proxy = _read("scaling.yaml")[0]["spec"], _read("proxy.yaml")[0]["spec"]
    asked = container["resources"]["requests"]
    told = _read("proxy-config.yaml")[0]["data"]["nginx.conf"]
    return Shipped(
        cpu=_cores(asked["cpu"]),
        memory=_mib(asked["memory"]),
        memory_most=_mib(container["resources"]["limits"]["memory"]),
        workers=int(_read("settings.yaml")[0]["data"]["LYESTOCK_WORKERS"]),
        least=scaling["minReplicas"],
        most=scaling["maxReplicas"],
        aimed=scaling["metrics"][0]["resource"]["target"]["averageUtilization"] / 100,
        proxies=proxy["replicas"],
        proxy_cpu=_cores(proxy["template"]["spec"]["containers"][0]["resources"]["requests"]["cpu"]),
        proxy_workers=int(_said(told, "worker_processes ", ";")),
        together=int(_said(told, "limit_conn together ", ";")),
        per_address=float(_said(told, "zone=asking:16m rate=", "r/s")),
    )
