"""The list of parts names what is installed and nothing else, is valid, and is the same bytes every time."""

import json
import subprocess
from pathlib import Path
from typing import Any

from deploy.supply.locked import ALL, pins
from tests.supply.conftest import Built
from tests.supply.needed import ROOT, tools

JUDGE = """
import json, sys
from cyclonedx.schema import OutputFormat, SchemaVersion
from cyclonedx.validation import make_schemabased_validator
judge = make_schemabased_validator(OutputFormat.JSON, SchemaVersion.V1_6)
print(json.dumps([judge.validate_str(one) is None for one in json.load(sys.stdin)]))
"""


def valid(*documents: str) -> list[bool]:
    """Whether the library of CycloneDX takes each document, by the schema of version 1.6."""
    words = [tools(), "-c", JUDGE]
    done = subprocess.run(words, input=json.dumps(documents), capture_output=True, text=True, check=True, timeout=60)
    told: list[bool] = json.loads(done.stdout)
    return told


def test_parts_are_what_is_locked_and_what_that_carries(built: Built) -> None:
    told: dict[str, Any] = json.loads(built.parts.read_text(encoding="utf-8"))
    purls = {one["purl"] for one in told["components"]}
    assert purls == {f"pkg:pypi/{pin.name}@{pin.version}" for pin in pins(ALL) if pin.meant_for()}
    root = told["metadata"]["component"]
    assert (root["name"], root["version"]) == ("lyestock", built.wheel.name.split("-")[1])
    by_purl = {one["purl"]: one for one in told["components"]}
    bundle = next(one for purl, one in by_purl.items() if purl.startswith("pkg:pypi/swagger-ui-bundle-v2@"))
    scripts = [one["purl"] for one in bundle["components"]]
    assert scripts == [f"pkg:npm/swagger-ui-dist@{bundle['version']}"]

    refs = {one["bom-ref"] for one in (*told["components"], *bundle["components"], root)}
    depends = {one["ref"]: one.get("dependsOn", []) for one in told["dependencies"]}
    assert set(depends) == refs
    direct = {one.split("==")[0].lower().replace("_", "-") for one in depends[root["bom-ref"]]}
    assert {"litestar", "matplotlib", "msgspec", "uvicorn"} <= direct
    assert not {"numpy", "pytest"} & direct, "those are for tests alone"
    reached, open_ = set(), [root["bom-ref"]]
    while open_:
        ref = open_.pop()
        if ref not in reached:
            reached.add(ref)
            open_ += depends[ref]
    assert reached == refs, "every part is there because of another"


def test_list_is_valid_and_a_broken_one_is_not(built: Built) -> None:
    text = built.parts.read_text(encoding="utf-8")
    broken = json.loads(text)
    del broken["components"][0]["name"]
    assert valid(text, json.dumps(broken)) == [True, False]


def test_same_environment_gives_the_same_bytes(built: Built, tmp_path: Path) -> None:
    again = tmp_path / "again.json"
    words = [tools(), "-m", "deploy.supply.sbom", str(built.environment), str(again)]
    subprocess.run(words, cwd=ROOT, check=True, timeout=60)
    assert again.read_bytes() == built.parts.read_bytes()
    told = json.loads(again.read_bytes())
    assert "serialNumber" not in told
    assert "timestamp" not in told["metadata"]
    assert str(ROOT) not in again.read_text(encoding="utf-8")
    assert str(built.folder) not in again.read_text(encoding="utf-8")


def test_sums_are_those_of_the_files(built: Built) -> None:
    done = subprocess.run(["sha256sum", "--check", "--strict", "SHA256SUMS"], cwd=built.folder, check=False)
    assert done.returncode == 0
    lines = (built.folder / "SHA256SUMS").read_text(encoding="utf-8").splitlines()
    assert len(lines) == 3
