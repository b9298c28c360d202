"""The audit, against sources of our own that answer as OSV and npm's registry do: with data, without, or not at all.

Forms of the answers: the schema of OSV 1.x, and what npm's bulk endpoint of advisories returns (both from memory, and
read by the real pip-audit and npm, which refuse others).
"""

import gzip
import json
import shutil
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest

from deploy.supply.locked import ALL, pins
from tests.supply.needed import ROOT, tools

Hits = dict[tuple[str, str], str]
"""Identifiers of advisories, by name and version."""

CONTROLS: Hits = {("jinja2", "2.10"): "OSV-OLD-1", ("lodash", "4.17.4"): "GHSA-old-old-0001"}


@contextmanager
def source(hits: Hits) -> Iterator[str]:
    """A source that knows of these advisories, while the context lasts."""

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            raw = self.rfile.read(int(self.headers["Content-Length"]))
            asked = json.loads(gzip.decompress(raw) if self.headers.get("Content-Encoding") == "gzip" else raw)
            body = json.dumps(self.osv(asked) if self.path == "/v1/query" else self.npm(asked)).encode()
            self.send_response(200)
            self.send_header("Content-Type", "application/json")
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        @staticmethod
        def osv(asked: dict[str, Any]) -> dict[str, Any]:
            name = asked["package"]["name"]
            known = hits.get((name, asked["version"]))
            package = {"name": name, "ecosystem": "PyPI"}
            one = {"id": known, "summary": "An invented fault.", "affected": [{"package": package}]}
            return {"vulns": [one]} if known else {}

        @staticmethod
        def npm(asked: dict[str, list[str]]) -> dict[str, Any]:
            return {
                name: [
                    {
                        "id": 1,
                        "url": f"https://advisories.example/{hits[name, version]}",
                        "title": "An invented fault.",
                        "severity": "high",
                        "vulnerable_versions": version,
                    }
                    for version in versions
                    if (name, version) in hits
                ]
                for name, versions in asked.items()
                if any((name, version) in hits for version in versions)
            }

        def log_message(self, *words: object) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        server.server_close()


def audit(address: str, folder: Path, accepted: str = "[accepted]\n") -> tuple[int, str]:
    """Exit code of the audit that asks this source, and what it prints."""
    file = folder / "accepted.toml"
    file.write_text(accepted, encoding="utf-8")
    words = ["-m", "deploy.supply.audit", "--osv-url", f"{address}/v1/query", "--accepted", str(file)]
    keys = {"PATH": f"{Path(shutil.which('npm') or '/').parent}:/usr/bin:/bin", "HOME": str(folder)}
    settings = {
        "npm_config_registry": address + "/",
        "npm_config_cache": str(folder / "npm"),
        "NO_PROXY": "127.0.0.1",
        "npm_config_fetch_retries": "0",
    }
    done = subprocess.run([tools(), *words], cwd=ROOT, env=keys | settings, capture_output=True, text=True, check=False)
    assert not done.stderr, done.stderr
    return done.returncode, done.stdout


@pytest.fixture(autouse=True)
def _node() -> None:
    tools()
    if shutil.which("npm") is None:
        pytest.skip("npm is not installed")


def versions(name: str) -> list[str]:
    """The versions of a package that are locked to run."""
    return [pin.version for pin in pins(ALL) if pin.name == name]


def test_nothing_known_is_told_so(tmp_path: Path) -> None:
    with source(CONTROLS) as address:
        code, told = audit(address, tmp_path)
    assert code == 0, told
    assert "No advisory is known of packages of Python." in told
    assert "No advisory is known of packages of npm." in told


def test_advisories_of_what_is_locked_fail_and_can_be_accepted(tmp_path: Path) -> None:
    numpy, swagger = versions("numpy"), versions("swagger-ui-bundle-v2")
    assert len(numpy) > 1, "numpy is no longer locked for several Pythons: take another package"
    ours: Hits = {("numpy", one): f"OSV-{one}" for one in numpy}
    with source(CONTROLS | ours | {("swagger-ui-dist", swagger[0]): "GHSA-new-new-0002"}) as address:
        code, told = audit(address, tmp_path)
        assert code == 1, told
        for one in numpy:
            assert f"KNOWN: numpy {one}: OSV-{one}" in told
        assert "KNOWN: swagger-ui-dist" in told
        assert "GHSA-new-new-0002" in told
        assert "jinja2 2.10" not in told, "a control is not among what is locked"
        assert "lodash" not in told
        reasons = [f'"OSV-{one}" = "not used"' for one in numpy] + ['GHSA-new-new-0002 = "waits for a mend"']
        code, told = audit(address, tmp_path, "\n".join(["[accepted]", *reasons]))
        assert code == 0, told
        assert told.count("ACCEPTED: numpy") == len(numpy)
        assert "waits for a mend" in told


def test_source_that_answers_without_data_is_not_taken_for_good_news(tmp_path: Path) -> None:
    with source({}) as address:
        code, told = audit(address, tmp_path)
    assert code == 3, told
    assert told.count("NOT ASKED") == 2
    assert "No advisory is known" not in told


def test_source_that_is_away_is_told_so(tmp_path: Path) -> None:
    with source({}) as address:
        pass
    code, told = audit(address, tmp_path)
    assert code == 3, told
    assert told.count("NOT ASKED") == 2


def test_advisory_counts_more_than_data_that_are_missing(tmp_path: Path) -> None:
    ours: Hits = {("swagger-ui-dist", versions("swagger-ui-bundle-v2")[0]): "GHSA-new-new-0002"}
    with source({("lodash", "4.17.4"): "GHSA-old-old-0001"} | ours) as address:
        code, told = audit(address, tmp_path)
    assert code == 1, told
    assert "NOT ASKED: no data on advisories of packages of Python" in told
