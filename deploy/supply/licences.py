"""Lists the licence of everything that is deployed, as installed metadata tell it, and refuses what nobody judged.

`python -m deploy.supply.licences ENVIRONMENT [--check]` writes or compares `licences.md`.
"""

import argparse
import re
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import Distribution, distributions
from pathlib import Path
from typing import Any, Final, NamedTuple

from license_expression import Licensing, get_spdx_licensing
from packaging.utils import canonicalize_name

from deploy.supply.locked import ALL, CORE, ROOT, pins

LIST: Final = ROOT / "deploy/supply/licences.md"
JUDGED: Final = ROOT / "deploy/supply/judged.toml"

_SPDX: Final[Licensing] = get_spdx_licensing()
_RECORD: Final = re.compile(r"^Name: (?P<name>.+)\n(?:Files: (?P<files>.+)\n)?(?:.+\n)*?License:(?P<licence>.*)$", re.M)
"""What lies within a package, as some licence files list it."""
_LIBRARY: Final = re.compile(r"(?P<stem>lib\w+?)-+[0-9a-f]{8}[-.\d\w]*\.so[.\d]*\Z")


class Unjudged(Exception):  # noqa: N818 - not a fault of the program
    """Licences that nobody judged, or that do not permit our use: one line each."""


class Row(NamedTuple):
    """One line of the list."""

    name: str
    versions: str
    licence: str
    told: str


def site(environment: Path) -> Path:
    """The folder of an environment that holds its packages."""
    return next(environment.glob("lib/python3*/site-packages"))


def permitted(expression: str, judged: dict[str, Any]) -> bool:
    """Whether a licence expression of SPDX lets us choose nothing but licences that permit our use."""
    good = judged["permitted"]

    def holds(part: Any) -> bool:
        if part.__class__.__name__ == "AND":
            return all(map(holds, part.args))
        if part.__class__.__name__ == "OR":
            return any(map(holds, part.args))
        return str(part) in good

    return holds(_SPDX.parse(expression))


def _spdx(text: str) -> bool:
    """Whether a text is an expression that names licences of SPDX alone."""
    return bool(text) and not _SPDX.validate(text).errors


def declared(found: Distribution, judged: dict[str, Any]) -> tuple[str, str]:
    """The licence of a package, and where it is told.

    Raises:
        Unjudged: its metadata name no licence of SPDX, and nobody read it, or they have changed since.
    """
    said = found.metadata.get("License-Expression") or ""
    if _spdx(said):
        return said, "metadata"
    field = (found.metadata.get("License") or "").strip()
    classes = [one for one in found.metadata.get_all("Classifier") or () if one.startswith("License ::")]
    first = field.splitlines()[0].strip() if field else classes[0] if len(classes) == 1 else ""
    read = judged["read"].get(canonicalize_name(found.name))
    if read is not None:
        if read["says"] != first:
            raise Unjudged(f"{found.name}: its metadata said {read['says']!r} when it was read, and now {first!r}")
        return read["means"], f"read in {read['where']}"
    if _spdx(field) and "\n" not in field:
        return field, "metadata"
    if first in judged["classifiers"] and "\n" not in field:
        return judged["classifiers"][first], "metadata"
    raise Unjudged(f"{found.name}: its metadata say {first!r}, which names no licence")


def carried(found: Distribution, folder: Path, judged: dict[str, Any]) -> Iterator[Row]:
    """What lies within a package and has a licence of its own.

    Raises:
        Unjudged: something whose licence nobody read.
    """
    name = canonicalize_name(found.name)
    listed = []
    for file in found.files or ():
        if ".dist-info" not in str(file) or "LICENSE" not in file.name:
            continue
        text = Path(str(file.locate())).read_text(encoding="utf-8", errors="replace")
        for record in _RECORD.finditer(text):
            said = record["licence"].strip()
            read = judged["record"].get(record["name"])
            if read is not None and read["says"] == said:
                said = read["means"]
            elif not _spdx(said):
                raise Unjudged(f"{found.name}: of {record['name']!r} it says {said!r}, which names no licence")
            listed.append(record["files"] or "")
            yield Row(f"{name}: {record['name']}", "", said, "read in its licence file")
    stems = {pattern.rsplit("/", 1)[-1].split("*")[0] for pattern in " ".join(listed).split() if ".libs/" in pattern}
    known = judged["libraries"].get(name, {})
    for file in sorted((folder / f"{found.name.replace('-', '_')}.libs").glob("*")):
        match = _LIBRARY.match(file.name)
        stem = match["stem"] if match else file.name
        if any(stem.startswith(one) for one in stems):
            continue
        if stem not in known:
            raise Unjudged(f"{found.name}: nobody read the licence of its library {file.name}")
        yield Row(f"{name}: {stem}", "", known[stem], "read in its licence file")
    scripts = judged["scripts"].get(name)
    if scripts is not None:
        version = next(folder.glob(scripts["folder"])).name.rsplit("-", 1)[-1]
        yield Row(f"{name}: {scripts['npm']} (npm)", version, scripts["means"], f"read in {scripts['where']}")


def rows(environment: Path, judged: dict[str, Any]) -> Iterator[tuple[str, list[Row]]]:
    """The list, heading by heading.

    Raises:
        Unjudged: licences that nobody judged, or that do not permit our use.
    """
    folder = site(environment)
    installed = {canonicalize_name(one.name): one for one in distributions(path=[str(folder)])}
    core = {pin.name for pin in pins(CORE) if pin.meant_for()}
    every: dict[str, list[str]] = {}
    for pin in pins(ALL):
        every.setdefault(pin.name, []).append(pin.version)
    faults, always, pictures, elsewhere, within = [], [], [], [], []
    for name, versions in sorted(every.items()):
        told = installed.get(name)
        try:
            if told is not None:
                licence, where = declared(told, judged)
                within += carried(told, folder, judged)
            elif name in judged["read"]:
                licence, where = judged["read"][name]["means"], f"read in {judged['read'][name]['where']}"
            else:
                raise Unjudged(f"{name}: it is locked but not installed")
        except Unjudged as fault:
            faults.append(str(fault))
            continue
        part = elsewhere if told is None else always if name in core else pictures
        part.append(Row(name, " or ".join(versions), licence, where))
    faults += [
        f"{one.name}: {one.licence} is not among the licences judged to permit our use"
        for one in (*always, *pictures, *elsewhere, *within)
        if not permitted(one.licence, judged)
    ]
    if faults:
        raise Unjudged("\n".join(faults))
    yield "Always", always
    yield "Only with pictures", pictures
    yield "Only on Windows", elsewhere
    yield "Within these", within


def written(environment: Path, judged: dict[str, Any]) -> str:
    """The list as it is committed.

    Raises:
        Unjudged: licences that nobody judged, or that do not permit our use.
    """
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    own = project.get("license")
    lines = [
        "# Licences of what is deployed",
        "",
        "Made by `deploy/supply/licences` from the metadata of the locked packages, as they are installed on Linux;",
        "`judged.toml` says which licences permit our use, and what each asks. Do not edit.",
        "",
        f"Lyestock itself: {own}." if own else "Lyestock itself: `pyproject.toml` states no licence.",
    ]
    used: set[str] = set()
    for heading, part in rows(environment, judged):
        lines += ["", f"## {heading}", "", "| what | version | licence | told by |", "|---|---|---|---|"]
        lines += [f"| {one.name} | {one.versions} | {one.licence} | {one.told} |" for one in part]
        used.update(*(re.split(r"\s+(?:AND|OR)\s+", one.licence) for one in part))
    lines += ["", "## What they ask", "", "| licence | asks |", "|---|---|"]
    lines += [f"| {name} | {asks} |" for name, asks in sorted(judged["permitted"].items()) if name in used]
    return "\n".join(lines) + "\n"


def main() -> int:
    """Write the list, or compare it."""
    parser = argparse.ArgumentParser(prog="deploy/supply/licences", description=__doc__.splitlines()[0])
    parser.add_argument("environment", type=Path, help="environment with exactly what is deployed")
    parser.add_argument("--check", action="store_true", help="compare the committed list in place of writing it")
    parser.add_argument("--judged", type=Path, default=JUDGED, help="judgements (default deploy/supply/judged.toml)")
    said = parser.parse_args()
    try:
        made = written(said.environment, tomllib.loads(said.judged.read_text(encoding="utf-8")))
    except Unjudged as unjudged:
        print(f"Judge these in deploy/supply/judged.toml, or do without:\n{unjudged}", file=sys.stderr)
        return 1
    if not said.check:
        LIST.write_text(made, encoding="utf-8")
    elif LIST.read_text(encoding="utf-8") != made:
        print(f"{LIST.relative_to(ROOT)} is out of date: run deploy/supply/licences.", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
