"""The committed list of licences is that of what is deployed, and nothing unknown gets onto it."""

import re
import subprocess
from pathlib import Path

import pytest

from deploy.supply.locked import ALL, pins
from tests.supply.conftest import Built
from tests.supply.needed import ROOT, tools

JUDGED = (ROOT / "deploy/supply/judged.toml").read_text(encoding="utf-8")


def check(environment: Path, judged: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Compare the committed list with an environment, by these judgements."""
    file = folder / "judged.toml"
    file.write_text(judged, encoding="utf-8")
    words = ["-m", "deploy.supply.licences", str(environment), "--check", "--judged", str(file)]
    return subprocess.run([tools(), *words], cwd=ROOT, capture_output=True, text=True, check=False, timeout=60)


def test_list_is_current_and_names_every_locked_version(built: Built, tmp_path: Path) -> None:
    done = check(built.environment, JUDGED, tmp_path)
    assert done.returncode == 0, done.stderr
    listed = (ROOT / "deploy/supply/licences.md").read_text(encoding="utf-8")
    for pin in pins(ALL):
        assert re.search(rf"^\| {pin.name} \|[^|]*\b{re.escape(pin.version)} [^|]*\|", listed, re.M), pin


@pytest.mark.parametrize(
    ("taken", "put", "told"),
    [
        ('"MPL-2.0" = ', '"MPL-1.0" = ', "certifi: MPL-2.0 is not among the licences judged"),
        ('"FTL" = ', '"FTL-none" = ', "FTL OR GPL-2.0-or-later is not among the licences judged"),
        ("[read.jinja2]", "[read.jinja3]", "Jinja2: its metadata say 'License :: OSI Approved :: BSD License'"),
        ('says = "BSD 3-Clause License"', 'says = "BSD"', "contourpy: its metadata said 'BSD' when it was read"),
        ("libtiff = ", "libtiffs = ", "pillow: nobody read the licence of its library libtiff"),
        ('[record."BaKoMa Fonts"]', '[record."Fonts"]', "of 'BaKoMa Fonts' it says 'BaKoMa Fonts Licence'"),
        ("[read.colorama]", "[read.other]", "colorama: it is locked but not installed"),
        ('"LGPL-2.1-or-later" = ', '"LGPL-2.0" = ', "libquadmath: LGPL-2.1-or-later is not among"),
        (
            '"GPL-3.0-or-later WITH GCC-exception-3.1" = ',
            '"GPL-3.0-or-later" = ',
            "GPL-3.0-or-later WITH GCC-exception-3.1 is not among the licences judged",
        ),
    ],
)
def test_unknown_and_unjudged_licences_are_refused(
    taken: str, put: str, told: str, built: Built, tmp_path: Path
) -> None:
    assert taken in JUDGED
    done = check(built.environment, JUDGED.replace(taken, put), tmp_path)
    assert done.returncode == 1
    assert told in done.stderr


def test_texts_of_licences_are_deployed(built: Built) -> None:
    """Nearly all ask for one thing: that their text stays. It lies in each package's folder of metadata."""
    folders = sorted(built.environment.glob("lib/python3*/site-packages/*.dist-info"))
    without = [
        one.name
        for one in folders
        if not any(re.search("licen[cs]e|copying", file.name, re.I) for file in one.rglob("*") if file.is_file())
    ]
    assert without == [f"lyestock-{built.wheel.name.split('-')[1]}.dist-info"]
