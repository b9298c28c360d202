"""Schemas and linters from outside judge the files of deploy/, and see faults that are put into them."""

import subprocess
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import pytest

from tests.deployment.manifests import COMPOSE, DEPLOY, DOCKERFILE, KUBERNETES, UNIT
from tests.deployment.needed import checker, needs

RESOURCES: Final = sorted(file for file in KUBERNETES.glob("*.yaml") if file.name != "kustomization.yaml")
MOST_EXPOSED: Final = 1.5
"""Of 10, by systemd-analyze; 1.2 was seen with systemd 252, and other versions weigh somewhat differently."""


def _run(command: Sequence[str]) -> tuple[int, str]:
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=120, cwd=DEPLOY)
    return done.returncode, done.stdout + done.stderr


def _changed(file: Path, folder: Path, was: str, becomes: str) -> str:
    """The path of a copy in which one place is changed."""
    text = file.read_text(encoding="utf-8")
    assert text.count(was) >= 1, f"{was!r} is not in {file}"
    changed = folder / file.name
    changed.write_text(text.replace(was, becomes, 1), encoding="utf-8")
    return str(changed)


def hadolint(file: str) -> list[str]:
    return [checker("hadolint"), "--no-color", "--config", str(DEPLOY / "container/hadolint.yaml"), file]


def kubernetes(*files: str) -> list[str]:
    return [checker("kubernetes-validate"), "--strict", *files]


def compose_schema(file: str) -> list[str]:
    return [checker("check-jsonschema"), "--builtin-schema", "vendor.compose-spec", file]


def yamllint(*files: str) -> list[str]:
    return [checker("yamllint"), "--strict", "--config-file", str(DEPLOY / "yamllint.yaml"), *files]


def test_the_image_file_is_clean() -> None:
    assert _run(hadolint(str(DOCKERFILE))) == (0, "")


@pytest.mark.parametrize(
    ("was", "becomes", "rule"),
    [
        ("USER 65532:65532", "USER root", "DL3002"),
        ('ENTRYPOINT ["/opt/lyestock/bin/python", "/opt/lyestock/start.py"]', "ENTRYPOINT python -m service", "DL3025"),
        ("COPY pyproject.toml", "ADD pyproject.toml", "DL3020"),
        ("WORKDIR /source", "WORKDIR source", "DL3000"),
    ],
)
def test_faults_of_the_image_file_are_seen(tmp_path: Path, was: str, becomes: str, rule: str) -> None:
    code, told = _run(hadolint(_changed(DOCKERFILE, tmp_path, was, becomes)))
    assert code == 1
    assert rule in told


def test_the_resources_keep_to_the_schemas_of_kubernetes() -> None:
    code, told = _run(kubernetes(*map(str, RESOURCES)))
    assert code == 0, told
    assert "WARN" not in told  # a kind it has no schema for
    assert told.count("passed") >= len(RESOURCES)


@pytest.mark.parametrize(
    ("name", "was", "becomes"),
    [
        ("deployment", "readOnlyRootFilesystem:", "readonlyRootFilesystem:"),
        ("deployment", "containerPort: 8765", "containerPort: http"),
        ("scaling", "minReplicas: 2", "minReplicas: two"),
        ("disruption", "maxUnavailable: 1", "maxUnavailable: [1]"),
        ("network", "podSelector: {}", "podSelectors: {}"),
        ("ingress", "pathType: Prefix", "type: Prefix"),
    ],
)
def test_faults_of_the_resources_are_seen(tmp_path: Path, name: str, was: str, becomes: str) -> None:
    code, told = _run(kubernetes(_changed(KUBERNETES / f"{name}.yaml", tmp_path, was, becomes)))
    assert code != 0, told


def test_the_compose_file_keeps_to_its_schema(tmp_path: Path) -> None:
    code, told = _run(compose_schema(str(COMPOSE)))
    assert code == 0, told
    code, told = _run(compose_schema(_changed(COMPOSE, tmp_path, "read_only:", "readonly:")))
    assert code == 1, told


def test_all_yaml_is_tidy(tmp_path: Path) -> None:
    assert _run(yamllint(str(DEPLOY))) == (0, "")
    # Two keys of one name: the former would be lost without a word.
    code, told = _run(yamllint(_changed(COMPOSE, tmp_path, "    read_only: true\n", "    read_only: true\n" * 2)))
    assert code == 1
    assert "duplication of key" in told


def _unit(folder: Path, was: str = "[Unit]", becomes: str = "[Unit]") -> str:
    """A copy of the unit whose program is there: systemd-analyze looks for it."""
    changed = Path(_changed(UNIT, folder, was, becomes))
    text = changed.read_text(encoding="utf-8")
    assert text.count("=/opt/lyestock/bin/") == 2
    text = text.replace("=/opt/lyestock/bin/lyestock", "=/bin/true").replace("=/opt/lyestock/bin/python", "=/bin/true")
    changed.write_text(text, encoding="utf-8")
    return str(changed)


def test_systemd_understands_the_unit(tmp_path: Path) -> None:
    needs("systemd-analyze")
    assert _run(["systemd-analyze", "verify", "--man=no", _unit(tmp_path)]) == (0, "")


@pytest.mark.parametrize(
    ("was", "becomes"), [("ProtectClock=", "ProtectClocks="), ("KillMode=mixed", "KillMode=some"), ("=exec", "=runs")]
)
def test_faults_of_the_unit_are_seen(tmp_path: Path, was: str, becomes: str) -> None:
    needs("systemd-analyze")
    code, told = _run(["systemd-analyze", "verify", "--man=no", _unit(tmp_path, was, becomes)])
    assert code != 0 or told != ""


def test_the_unit_exposes_little(tmp_path: Path) -> None:
    needs("systemd-analyze")
    judge = ["systemd-analyze", "security", "--offline=yes", "--no-pager", f"--threshold={round(MOST_EXPOSED * 10)}"]
    code, told = _run([*judge, _unit(tmp_path)])
    assert code == 0, told
    bare = "SystemCallFilter=@system-service\nSystemCallFilter=~@privileged @resources\n"
    code, told = _run([*judge, _unit(tmp_path, bare, "")])
    assert code != 0, told
