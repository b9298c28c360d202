"""Lists the parts of what is deployed (SBOM), as CycloneDX JSON.

`python -m deploy.supply.sbom ENVIRONMENT FILE` asks cyclonedx-py for what is installed in an environment, and completes
it by what that cannot know: the version of the service, and the scripts from npm that a package of Python carries. The
same environment gives the same bytes: there is neither a time nor a random number in it.
"""

import argparse
import json
import subprocess
import sys
import tomllib
from importlib.metadata import distributions
from pathlib import Path
from typing import Any, Final

from cyclonedx.schema import OutputFormat, SchemaVersion
from cyclonedx.validation import make_schemabased_validator
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from deploy.supply.licences import JUDGED, site
from deploy.supply.locked import ROOT

VERSION: Final = SchemaVersion.V1_6


def made(environment: Path) -> dict[str, Any]:
    """The parts of an environment in which the service is installed.

    Raises:
        LookupError: the service, or something it carries, is not installed there.
    """
    words = ["environment", str(environment), "--pyproject", "pyproject.toml", "--mc-type", "application"]
    words += ["--output-reproducible", "--spec-version", VERSION.to_version(), "--output-format", "JSON"]
    words += ["--no-validate"]  # it is validated when it is complete
    # Run by its module, so that it is found wherever the environment of the tools lies.
    run = [sys.executable, "-m", "cyclonedx_py", *words]
    told: dict[str, Any] = json.loads(subprocess.run(run, cwd=ROOT, check=True, capture_output=True).stdout)  # noqa: S603
    found = {canonicalize_name(one.name): one for one in distributions(path=[str(site(environment))])}
    if "lyestock" not in found:
        raise LookupError(f"The service is not installed in {environment}.")
    root = told["metadata"]["component"]
    root["version"] = found["lyestock"].version
    parts = {canonicalize_name(one["name"]): one for one in told["components"]}
    depends = {one["ref"]: one for one in told["dependencies"]}
    # The tool counts every extra; only that of pictures is deployed.
    asked = [Requirement(one) for one in found["lyestock"].requires or ()]
    meant = [one for one in asked if one.marker is None or one.marker.evaluate({"extra": "pictures"})]
    direct = {canonicalize_name(one.name) for one in meant}
    depends[root["bom-ref"]]["dependsOn"] = sorted(parts[name]["bom-ref"] for name in direct if name in parts)
    for name, scripts in tomllib.loads(JUDGED.read_text(encoding="utf-8"))["scripts"].items():
        version = next(site(environment).glob(scripts["folder"])).name.rsplit("-", 1)[-1]
        purl = f"pkg:npm/{scripts['npm']}@{version}"
        licence = [{"license": {"id": scripts["means"]}}]
        part = {"bom-ref": purl, "name": scripts["npm"], "purl": purl, "type": "library", "version": version}
        parts[canonicalize_name(name)]["components"] = [part | {"licenses": licence}]
        told["dependencies"].append({"ref": purl})
        holder = depends[parts[canonicalize_name(name)]["bom-ref"]]
        holder["dependsOn"] = sorted([*holder.get("dependsOn", ()), purl])
    told["dependencies"].sort(key=lambda one: one["ref"])
    return told


def faults(document: str) -> str | None:
    """What the schema of CycloneDX, by its own library, objects to; none where it is valid."""
    fault = make_schemabased_validator(OutputFormat.JSON, VERSION).validate_str(document)
    return None if fault is None else str(fault)


def main() -> int:
    """Write the list, if it is valid."""
    parser = argparse.ArgumentParser(prog="deploy/supply/sbom", description=__doc__.splitlines()[0])
    parser.add_argument("environment", type=Path, help="environment in which the service is installed")
    parser.add_argument("file", type=Path, help="file to write")
    said = parser.parse_args()
    document = json.dumps(made(said.environment), indent=2, sort_keys=True, ensure_ascii=False) + "\n"
    fault = faults(document)
    if fault is not None:
        print(f"The list of parts is not valid: {fault}", file=sys.stderr)
        return 1
    said.file.write_text(document, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
