"""Asks for known advisories of everything that is locked, by pip-audit and npm audit.

Both tools end well, too, where the source of the data answers without having them. So each source is first asked for an
old version that is known to be hit: one that knows nothing of it is taken as not reached, and is asked no further.
"""

import argparse
import json
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final, NamedTuple

from packaging.version import Version

from deploy.supply.licences import JUDGED
from deploy.supply.locked import CORE, ROOT, pins

NONE_KNOWN: Final = 0
KNOWN: Final = 1
NOT_REACHED: Final = 3
"""Exit codes."""

ACCEPTED: Final = ROOT / "deploy/supply/accepted.toml"
PYTHON_CONTROL: Final = ("jinja2", "2.10")
"""Hit by CVE-2019-10906 (from memory), among others."""
NODE_CONTROL: Final = ("lodash", "4.17.4")
"""Hit by CVE-2018-3721 (from memory), among others."""
PATIENCE: Final = 600
"""Seconds one tool may take."""


class Advisory(NamedTuple):
    """One known advisory of one locked package."""

    package: str
    names: frozenset[str]
    told: str


class NotReached(Exception):  # noqa: N818 - no fault of the program
    """A source of data that gave none, and what it gave in their place."""


def locked_for_python() -> list[tuple[str, str]]:
    """Name and version of every package of Python that any lock file names, whatever system it is meant for."""
    files = [*ROOT.glob("deploy/**/requirements*.txt"), *ROOT.glob("tests/**/requirements*.txt")]
    return sorted({(str(pin.name), pin.version) for file in files for pin in pins(file)})


def _last_line(text: str) -> str:
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    return lines[-1][:200] if lines else "no word"


def ask_pip_audit(packages: list[tuple[str, str]], source: list[str]) -> Iterator[Advisory]:
    """What a source knows of packages of Python.

    Raises:
        NotReached: it does not answer, or does not know one of them.
    """
    while packages:
        # The tool takes each name but once; what is locked in two versions is asked in a further round.
        round_ = dict(reversed(packages))
        packages = [one for one in packages if round_[one[0]] != one[1]]
        with tempfile.NamedTemporaryFile("w", suffix=".txt") as file:
            file.write("".join(f"{name}=={version}\n" for name, version in round_.items()))
            file.flush()
            words = ["--requirement", file.name, "--no-deps", "--disable-pip", "--format", "json", "--aliases", "on"]
            run = [sys.executable, "-m", "pip_audit", *words, "--desc", "on", "--progress-spinner", "off", *source]
            done = subprocess.run(run, capture_output=True, text=True, timeout=PATIENCE, check=False)  # noqa: S603
        try:
            told: list[dict[str, Any]] = json.loads(done.stdout)["dependencies"]
        except (ValueError, KeyError):
            raise NotReached(_last_line(done.stderr)) from None
        unknown = [one for one in told if "vulns" not in one]
        if unknown or len(told) != len(round_):
            raise NotReached(unknown[0]["skip_reason"] if unknown else "it did not tell of every package")
        for one in told:
            for hit in one["vulns"]:
                names = frozenset((hit["id"], *hit.get("aliases", ())))
                mend = ", ".join(hit["fix_versions"]) or "no version yet"
                summary = " ".join(hit.get("description", "").split())[:160]
                yield Advisory(f"{one['name']} {one['version']}", names, f"{summary} (mended in: {mend})")


def ask_npm_audit(folder: Path) -> Iterator[Advisory]:
    """What the registry of npm knows of what a lock file names.

    Raises:
        NotReached: it does not answer, or npm is not installed.
    """
    npm = shutil.which("npm")
    if npm is None:
        raise NotReached("npm is not installed")
    run = [npm, "audit", "--json", "--package-lock-only", "--ignore-scripts"]
    done = subprocess.run(run, cwd=folder, capture_output=True, text=True, timeout=PATIENCE, check=False)  # noqa: S603
    try:
        told: dict[str, Any] = json.loads(done.stdout)
    except ValueError:
        raise NotReached(_last_line(done.stderr)) from None
    if "vulnerabilities" not in told:
        raise NotReached(str(told.get("message") or told.get("error") or "its answer is not understood")[:200])
    for name, one in told["vulnerabilities"].items():
        for hit in one["via"]:
            if isinstance(hit, dict):  # else it is hit only because of another that is told itself
                names = frozenset((str(hit["source"]), hit["url"].rsplit("/", 1)[-1]))
                yield Advisory(f"{name} {hit['range']}", names, f"{hit['title']} ({hit['severity']}, {hit['url']})")


def python_advisories(sources: list[list[str]]) -> list[Advisory]:
    """What the first source that has data knows of what is locked for Python.

    Raises:
        NotReached: none has any.
    """
    refused = []
    for source in sources:
        try:
            if not list(ask_pip_audit([PYTHON_CONTROL], source)):
                raise NotReached(f"it knows of no advisory of {' '.join(PYTHON_CONTROL)}, which has some")
            return list(ask_pip_audit(locked_for_python(), source))
        except NotReached as fault:
            refused.append(f"{source[-1]}: {fault}")
    raise NotReached("; ".join(refused))


def node_advisories() -> list[Advisory]:
    """What is known of the scripts that pages are served with, and of what callers' tests take from npm.

    Raises:
        NotReached: the registry has no data.
    """
    bundle = "swagger-ui-bundle-v2"
    version = next(Version(pin.version).base_version for pin in pins(CORE) if pin.name == bundle)
    scripts = tomllib.loads(JUDGED.read_text(encoding="utf-8"))["scripts"][bundle]["npm"]
    control, old = NODE_CONTROL
    wanted = {scripts: version, control: old}
    lock = {
        "name": "asked",
        "lockfileVersion": 3,
        "packages": {
            "": {"name": "asked", "dependencies": wanted},
            **{f"node_modules/{name}": {"version": locked} for name, locked in wanted.items()},
        },
    }
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "package.json").write_text(json.dumps({"name": "asked", "dependencies": wanted}), encoding="utf-8")
        Path(folder, "package-lock.json").write_text(json.dumps(lock), encoding="utf-8")
        told = list(ask_npm_audit(Path(folder)))
    served = [one for one in told if one.package.split()[0] != control]
    if len(served) == len(told):
        raise NotReached(f"it knows of no advisory of {control} {old}, which has some")
    return served + list(ask_npm_audit(ROOT / "deploy/callers/clients"))


def main() -> int:
    """Ask both, tell what is known, and what could not be asked."""
    parser = argparse.ArgumentParser(prog="deploy/supply/audit", description=__doc__.splitlines()[0])
    parser.add_argument("--osv-url", help="ask this source, in the form of OSV, in place of PyPI and osv.dev")
    parser.add_argument("--accepted", type=Path, default=ACCEPTED, help="advisories that hold nothing back (TOML)")
    said = parser.parse_args()
    own = ["--vulnerability-service", "osv", "--osv-url", said.osv_url]
    sources = [own] if said.osv_url else [["--vulnerability-service", "pypi"], ["--vulnerability-service", "osv"]]
    accepted: dict[str, str] = tomllib.loads(said.accepted.read_text(encoding="utf-8"))["accepted"]

    known, missing = [], False
    for kind, ask in (("Python", lambda: python_advisories(sources)), ("npm", node_advisories)):
        try:
            found = ask()
        except NotReached as fault:
            print(f"NOT ASKED: no data on advisories of packages of {kind} could be reached: {fault}.")
            missing = True
            continue
        for one in found:
            reason = next((accepted[name] for name in sorted(one.names) if name in accepted), None)
            names = ", ".join(sorted(one.names))
            print(f"{'KNOWN' if reason is None else 'ACCEPTED'}: {one.package}: {names}: {reason or one.told}")
            known += [one] if reason is None else []
        if not found:
            print(f"No advisory is known of packages of {kind}.")
    if known:
        return KNOWN
    return NOT_REACHED if missing else NONE_KNOWN


if __name__ == "__main__":
    sys.exit(main())
