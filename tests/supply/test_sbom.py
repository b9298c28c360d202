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
from deploy.supply.sbom import faults
print(json.dumps([faults(json.dumps(one)) for one in json.load(sys.stdin)]))
"""


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


def test_list_that_breaks_the_schema_is_not_written(built: Built) -> None:
    """The build validates its list, and stops where that fails; here the judge is seen to refuse."""
    told: dict[str, Any] = json.loads(built.parts.read_text(encoding="utf-8"))
    part = told["components"][0]
    few = told | {"components": [part], "dependencies": []}
    nameless = few | {"components": [{name: one for name, one in part.items() if name != "name"}]}
    timed = few | {"metadata": {"timestamp": "yesterday"}}
    words = [tools(), "-c", JUDGE]
    given = json.dumps([few, nameless, timed])
    done = subprocess.run(words, cwd=ROOT, input=given, capture_output=True, text=True, check=True, timeout=60)
    good, *bad = json.loads(done.stdout)
    assert good is None
    assert len(bad) == 2
    assert "name" in bad[0]
    assert "yesterday" in bad[1]


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
