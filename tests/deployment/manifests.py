"""The files of deploy/, read."""

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import yaml

ROOT: Final = Path(__file__).resolve().parents[2]
DEPLOY: Final = ROOT / "deploy"
KUBERNETES: Final = DEPLOY / "kubernetes"
DOCKERFILE: Final = DEPLOY / "container/Dockerfile"
COMPOSE: Final = DEPLOY / "compose.yaml"
UNIT: Final = DEPLOY / "systemd/lyestock.service"
ENVIRONMENT: Final = DEPLOY / "systemd/lyestock.env"
NGINX: Final = DEPLOY / "container/nginx.conf"
"""nginx's file for containers."""

Document = Mapping[str, Any]


def resources() -> Iterator[Document]:
    """Every resource of Kubernetes, the kustomization not among them."""
    for file in sorted(KUBERNETES.glob("*.yaml")):
        if file.name != "kustomization.yaml":
            yield from yaml.safe_load_all(file.read_text(encoding="utf-8"))


def resource(kind: str, name: str) -> Document:
    """The one resource of this kind and name."""
    [found] = [one for one in resources() if (one["kind"], one["metadata"]["name"]) == (kind, name)]
    return found


def container(deployment: str) -> Document:
    """The only container of a deployment."""
    [found] = resource("Deployment", deployment)["spec"]["template"]["spec"]["containers"]
    one: Document = found
    return one


def compose() -> Document:
    """The services of the compose file."""
    document: Document = yaml.safe_load(COMPOSE.read_text(encoding="utf-8"))
    return document


def dockerfile() -> list[tuple[str, str]]:
    """Instructions and what they say, lines put together."""
    text = re.sub(r"^\s*#.*\n", "", DOCKERFILE.read_text(encoding="utf-8"), flags=re.MULTILINE)
    lines = re.sub(r"\\\n\s*", "", text).splitlines()
    return [(line.split(None, 1)[0], line.split(None, 1)[1]) for line in lines if line.strip()]


def unit() -> dict[str, list[str]]:
    """What the systemd unit says, by name, in order."""
    told: dict[str, list[str]] = {}
    for line in UNIT.read_text(encoding="utf-8").splitlines():
        if "=" in line and not line.startswith("#"):
            name, value = line.split("=", 1)
            told.setdefault(name, []).append(value)
    return told


def image_environment() -> dict[str, str]:
    """Variables that the image sets for good."""
    said = " ".join(rest for word, rest in dockerfile()[_last_stage() :] if word == "ENV")
    return dict(part.split("=", 1) for part in said.split())


def _last_stage() -> int:
    return max(place for place, (word, _) in enumerate(dockerfile()) if word == "FROM")


def environments() -> dict[str, dict[str, str]]:
    """Variables of the service, by the place that sets them, as the service would see them."""
    image = {name: value for name, value in image_environment().items() if "$" not in value}
    composed = dict(compose()["services"]["lyestock"]["environment"])
    composed["LYESTOCK_KEY_HASHES"] = _example_hash()
    cluster = dict(resource("ConfigMap", "lyestock-settings")["data"])
    for entry in container("lyestock")["env"]:
        assert entry["valueFrom"]["secretKeyRef"] == {"name": "lyestock-keys", "key": "hashes"}
        cluster[entry["name"]] = _example_hash()
    machine = with_key(ENVIRONMENT.read_text(encoding="utf-8"), _example_hash()).splitlines()
    # What a place sets stands over what the image sets.
    return {"image": image, "compose": image | composed, "kubernetes": image | cluster, "systemd": _assigned(machine)}


def with_key(environment: str, digest: str) -> str:
    """The file of the unit's settings with the hash of a key, which it needs before it is used."""
    assert environment.count("LYESTOCK_KEY_HASHES=\n") == 1
    return environment.replace("LYESTOCK_KEY_HASHES=\n", f"LYESTOCK_KEY_HASHES={digest}\n")


def _assigned(lines: list[str]) -> dict[str, str]:
    return dict(line.split("=", 1) for line in lines if line and not line.startswith("#"))


def _example_hash() -> str:
    hashes: str = resource("Secret", "lyestock-keys")["stringData"]["hashes"]
    return hashes
