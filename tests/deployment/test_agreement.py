"""The ways to deploy agree with the service's own settings and pages, and with one another."""

import json
import re
import runpy
import subprocess
from pathlib import Path
from types import SimpleNamespace
from typing import Any, Final

import pytest
import yaml

from service import __version__
from tests.deployment.manifests import (
    COMPOSE,
    DEPLOY,
    ENVIRONMENT,
    KUBERNETES,
    NGINX,
    ROOT,
    compose,
    container,
    dockerfile,
    environments,
    image_environment,
    resource,
    resources,
    unit,
)
from tests.deployment.needed import needs

proxy_files: Final = SimpleNamespace(**runpy.run_path(str(DEPLOY / "container/proxy_files.py")))

READING: Final = "service.http.operation.settings_reading"
WHY: Final = "this version takes no settings from outside"
MARGIN: Final = 10
"""Seconds that a place leaves beyond drain_seconds; the service cuts off what is left after five."""


def _settings(place: str) -> Any:
    return pytest.importorskip(READING, reason=WHY).read_settings(environments()[place])


@pytest.mark.parametrize("place", ["image", "compose", "kubernetes", "systemd"])
def test_the_service_takes_the_settings_of(place: str) -> None:
    # read_settings refuses unknown names, values that do not fit, and settings that are at odds.
    settings = _settings(place)
    assert settings.port == 8765
    if place != "image":
        assert settings.public
        assert settings.key_hashes
        assert not settings.open_to_all
        assert settings.trusted_proxies


@pytest.mark.parametrize("place", ["compose", "kubernetes", "systemd"])
@pytest.mark.parametrize("hashes", ["", None])
def test_for_strangers_it_does_not_start_without_keys_of(place: str, hashes: str | None) -> None:
    reading = pytest.importorskip(READING, reason=WHY)
    environment = environments()[place]
    del environment["LYESTOCK_KEY_HASHES"]
    if hashes is not None:
        environment["LYESTOCK_KEY_HASHES"] = hashes
    with pytest.raises(reading.SettingsError, match="no keys are set"):
        reading.read_settings(environment)
    assert reading.read_settings({**environment, "LYESTOCK_OPEN_TO_ALL": "true"}).open_to_all


def test_no_place_is_shipped_with_a_key() -> None:
    assert "LYESTOCK_KEY_HASHES=\n" in ENVIRONMENT.read_text(encoding="utf-8")
    assert compose()["services"]["lyestock"]["environment"]["LYESTOCK_KEY_HASHES"].startswith("${LYESTOCK_KEY_HASHES:?")
    assert "keys.example.yaml" not in (KUBERNETES / "kustomization.yaml").read_text(encoding="utf-8").split("- ", 1)[1]


@pytest.mark.parametrize("place", ["image", "compose", "kubernetes"])
def test_it_listens_on_all_addresses_in_a_container_alone(place: str) -> None:
    assert _settings(place).host == "0.0.0.0"  # noqa: S104 - the container's own network decides
    assert _settings("systemd").host == "127.0.0.1"


def test_every_variable_that_is_named_anywhere_is_a_setting() -> None:
    reading = pytest.importorskip(READING, reason=WHY)
    known = {reading.PREFIX + name.upper() for name in reading.FIELDS} | {reading.FILE}
    named = {
        (str(file.relative_to(ROOT)), word)
        for file in DEPLOY.rglob("*")
        if file.is_file() and file.suffix not in {".fods", ".txt"} and "__pycache__" not in file.parts
        for word in re.findall(r"\bLYESTOCK_[A-Z_]+", file.read_text(encoding="utf-8"))
    }
    assert len(named) > 10
    assert {(file, word) for file, word in named if word not in known} == set()


def test_a_cluster_puts_no_variables_of_its_own_among_the_settings() -> None:
    # For a Service named lyestock the kubelet would set LYESTOCK_PORT=tcp://10.0.0.1:8765.
    for name in ("lyestock", "lyestock-proxy"):
        assert resource("Deployment", name)["spec"]["template"]["spec"]["enableServiceLinks"] is False


def test_all_agree_on_the_port() -> None:
    assert image_environment()["LYESTOCK_PORT"] == "8765"
    assert ("EXPOSE", "8765") in dockerfile()
    assert container("lyestock")["ports"] == [{"name": "http", "containerPort": 8765}]
    for name, port in (("lyestock", 8765), ("lyestock-proxy", 8080)):
        [told] = resource("Service", name)["spec"]["ports"]
        assert told == {"name": "http", "port": port, "targetPort": "http"}
    [path] = resource("Ingress", "lyestock")["spec"]["rules"][0]["http"]["paths"]
    assert path["backend"]["service"] == {"name": "lyestock-proxy", "port": {"name": "http"}}
    assert container("lyestock-proxy")["ports"] == [{"name": "http", "containerPort": 8080}]
    assert compose()["services"]["proxy"]["ports"] == ["8080:8080"]


def test_nginx_agrees_with_those_around_it() -> None:
    composed = NGINX.read_text(encoding="utf-8")
    clustered: str = resource("ConfigMap", "lyestock-proxy")["data"]["nginx.conf"]
    folders = {path.split(":")[0] for path in compose()["services"]["proxy"]["tmpfs"]}
    mounts = {mount["mountPath"] for mount in container("lyestock-proxy")["volumeMounts"]} - {"/etc/nginx/nginx.conf"}
    assert folders == mounts == {"/tmp", "/var/cache/nginx"}  # noqa: S108 - within containers
    for told in (composed, clustered):
        assert re.findall(r"^\s*listen\s+(?:\S*:)?(\d+)", told, re.MULTILINE) == ["8080"]
        assert set(re.findall(r"^\s*server\s+([\w.-]+:\d+)", told, re.MULTILINE)) == {"lyestock:8765"}
        written = re.findall(r"^\s*(?:pid|\w+_log|\w+_temp_path|proxy_cache_path)\s+([^\s;]+)", told, re.MULTILINE)
        assert len(written) >= 5
        assert [path for path in written if not path.startswith((*folders, "/dev/std", "/dev/null"))] == []
    assert "set_real_ip_from" not in composed
    believed = re.findall(r"^\s*set_real_ip_from\s+([^;]+);", clustered, re.MULTILINE)
    assert believed == [resource("ConfigMap", "lyestock-settings")["data"]["LYESTOCK_TRUSTED_PROXIES"]]


def test_the_files_of_nginx_are_made_of_the_one_of_the_proxy() -> None:
    if not proxy_files.SOURCE.exists():
        pytest.skip("this version has no deploy/proxy/nginx.conf")
    told = proxy_files.SOURCE.read_text(encoding="utf-8")
    again = "python deploy/container/proxy_files.py makes it anew"
    assert proxy_files.COMPOSED.read_text(encoding="utf-8") == proxy_files.composed(told), again
    assert proxy_files.CLUSTERED.read_text(encoding="utf-8") == proxy_files.clustered(told), again
    # YAML gives the same lines back.
    assert resource("ConfigMap", "lyestock-proxy")["data"]["nginx.conf"].replace(
        proxy_files.REAL_ADDRESS, ""
    ) == proxy_files.composed(told).removeprefix(proxy_files.HEAD)


@pytest.mark.parametrize("where", ["compose", "kubernetes"])
def test_nginx_itself_takes(where: str, tmp_path: Path) -> None:
    needs("nginx")
    told = NGINX.read_text(encoding="utf-8")
    if where == "kubernetes":
        told = resource("ConfigMap", "lyestock-proxy")["data"]["nginx.conf"]
    # It looks for the service and for its folders, which are not here.
    for was, becomes in (
        ("lyestock:8765", "127.0.0.1:8765"),
        ("pid /tmp/", f"pid {tmp_path}/"),
        ("/var/cache/nginx", str(tmp_path)),
    ):
        assert was in told
        told = told.replace(was, becomes)
    file = tmp_path / "nginx.conf"
    file.write_text(told, encoding="utf-8")
    done = subprocess.run(["nginx", "-t", "-c", str(file)], capture_output=True, text=True, check=False, timeout=30)
    assert done.returncode == 0, done.stderr


def test_probes_ask_for_pages_that_are_there() -> None:
    pages = json.loads((ROOT / "openapi/openapi.json").read_bytes())["paths"]
    probes = {
        name: container("lyestock")[name]["httpGet"] for name in ("startupProbe", "livenessProbe", "readinessProbe")
    }
    assert {name: probe["path"] for name, probe in probes.items()} == {
        "startupProbe": "/health/live",
        "livenessProbe": "/health/live",
        "readinessProbe": "/health/ready",
    }
    assert {probe["path"] for probe in probes.values()} <= set(pages)
    assert {probe["port"] for probe in probes.values()} == {"http"}
    assert '"/health/ready"' in (DEPLOY / "container/probe.py").read_text(encoding="utf-8")


def test_the_probe_of_compose_is_that_of_the_image() -> None:
    [told] = [rest for word, rest in dockerfile() if word == "HEALTHCHECK"]
    options, words = told.split("CMD ")
    health = dict(compose()["services"]["lyestock"]["healthcheck"])
    assert ["CMD", *yaml.safe_load(words)] == health.pop("test")
    assert dict(part.removeprefix("--").split("=") for part in options.split()) == {
        name.replace("_", "-"): str(value) for name, value in health.items()
    }


@pytest.mark.parametrize("place", ["compose", "kubernetes", "systemd"])
def test_what_is_served_may_be_finished(place: str) -> None:
    drain = _settings(place).drain_seconds
    pod = resource("Deployment", "lyestock")["spec"]["template"]["spec"]
    sleep = pod["containers"][0]["lifecycle"]["preStop"]["sleep"]["seconds"]
    given = {
        "compose": _seconds(compose()["services"]["lyestock"]["stop_grace_period"]),
        "kubernetes": pod["terminationGracePeriodSeconds"] - sleep,
        "systemd": int(unit()["TimeoutStopSec"][0]),
    }
    assert given[place] >= drain + MARGIN


def test_others_have_heard_before_a_pod_stops_serving() -> None:
    pod = container("lyestock")
    unready = pod["readinessProbe"]["periodSeconds"]
    assert pod["lifecycle"]["preStop"]["sleep"]["seconds"] > unready


def test_the_proxy_outlasts_the_service() -> None:
    services = compose()["services"]
    assert _seconds(services["proxy"]["stop_grace_period"]) > _seconds(services["lyestock"]["stop_grace_period"])
    pods = {
        name: resource("Deployment", name)["spec"]["template"]["spec"]["terminationGracePeriodSeconds"]
        for name in ("lyestock", "lyestock-proxy")
    }
    assert pods["lyestock-proxy"] > pods["lyestock"]


def _seconds(text: str) -> int:
    assert text.endswith("s")
    return int(text[:-1])


def test_a_version_is_named_everywhere_and_is_that_of_the_service() -> None:
    ours = f"lyestock:{__version__}"
    assert compose()["services"]["lyestock"]["image"] == ours
    assert container("lyestock")["image"] == f"registry.example/{ours}"
    assert ours in compose()["services"]["lyestock"]["environment"]["LYESTOCK_KEY_HASHES"]


def test_no_image_floats() -> None:
    images = [service["image"] for service in compose()["services"].values()]
    images += [container(name)["image"] for name in ("lyestock", "lyestock-proxy")]
    images += [rest.split("=", 1)[1] for word, rest in dockerfile() if word == "ARG" and rest.startswith("BASE")]
    assert len(images) == 5
    for image in images:
        assert re.fullmatch(r"[\w./-]+:\d+\.\d+\.\d+[\w.-]*", image), image
    files = [*KUBERNETES.glob("*.yaml"), COMPOSE, DEPLOY / "container/Dockerfile", DEPLOY / "container/try"]
    assert [file.name for file in files if re.search(r":latest\b", file.read_text(encoding="utf-8"))] == []


def test_kustomize_takes_every_file_but_the_example() -> None:
    listed = yaml.safe_load((KUBERNETES / "kustomization.yaml").read_text(encoding="utf-8"))["resources"]
    there = {file.name for file in KUBERNETES.glob("*.yaml")} - {"kustomization.yaml", "keys.example.yaml"}
    assert sorted(listed) == sorted(there)
    assert {one["metadata"].get("namespace") for one in resources() if one["kind"] != "Namespace"} == {"lyestock"}
