"""Drives a headless LibreOffice Calc; run by the Python that has its module `uno`, never imported by the tests.

A job comes as JSON on standard input, what the cells then hold goes out as JSON on standard output:
{"workbook": path, "locale": "de-DE" or "", "type": {"Recipe.B8": "700,5"}, "macro": "Module.Sub" or "",
 "arguments": [...], "read": ["Recipe.B32"], "save": [path]}

What is under "type" is put in as if it were typed, in the locale. An alarm ends what hangs: a compile error of Basic
opens a dialog that nobody sees.
"""

import contextlib
import json
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time
from typing import Any
from xml.sax.saxutils import escape

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

ALARM = 90
"""Seconds for the whole job."""
FILTERS = {
    ".fods": "OpenDocument Spreadsheet Flat XML",
    ".ods": "calc8",
    ".xlsx": "Calc MS Excel 2007 XML",
}


def named(name: str, value: Any) -> Any:
    """A property as the office takes it."""
    made = PropertyValue()
    made.Name, made.Value = name, value
    return made


def write_profile(profile: pathlib.Path, trusted: str, locale: str) -> None:
    """What a person sets once: a folder that is trusted to update links and run macros, and the locale."""
    security = (
        '<item oor:path="/org.openoffice.Office.Common/Security/Scripting"><prop oor:name="SecureURL" oor:op="fuse">'
        f"<value><it>{escape(trusted)}</it></value></prop></item>"
    )
    language = (
        '<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse">'
        f"<value>{locale}</value></prop></item>"
    )
    user = profile / "user"
    user.mkdir(parents=True)
    (user / "registrymodifications.xcu").write_text(
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<oor:items xmlns:oor="http://openoffice.org/2001/registry">'
        f"{security}{language if locale else ''}</oor:items>\n",
        encoding="utf-8",
    )


def connect(pipe: str) -> Any:
    """The office, once it listens; the alarm ends the waiting."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    while True:
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except NoConnectException:
            time.sleep(0.1)


def cell_at(document: Any, address: str) -> Any:
    """A cell by sheet and address."""
    sheet, _, place = address.partition(".")
    return document.Sheets.getByName(sheet).getCellRangeByName(place)


def work(job: dict[str, Any], desktop: Any) -> dict[str, Any]:
    """Open, type, run, read and save."""
    source = pathlib.Path(job["workbook"]).resolve()
    document = desktop.loadComponentFromURL(
        source.as_uri(),
        "_blank",
        0,
        (named("Hidden", True), named("UpdateDocMode", 3), named("MacroExecutionMode", 4)),
    )
    for address, text in job.get("type", {}).items():
        cell_at(document, address).FormulaLocal = text
    returned = None
    if job.get("macro"):
        place = f"vnd.sun.star.script:Standard.{job['macro']}?language=Basic&location=document"
        returned = document.getScriptProvider().getScript(place).invoke(tuple(job.get("arguments", ())), (), ())[0]
    cells = {}
    for address in job["read"]:
        cell = cell_at(document, address)
        cells[address] = {"text": cell.String, "value": cell.Value, "error": cell.getError()}
    for target in job.get("save", ()):
        path = pathlib.Path(target).resolve()
        document.storeToURL(path.as_uri(), (named("FilterName", FILTERS[path.suffix]),))
    document.close(True)
    return {"cells": cells, "returned": returned}


def main() -> None:
    """One job."""
    signal.alarm(ALARM + 15)
    job = json.load(sys.stdin)
    with tempfile.TemporaryDirectory(prefix="calc-") as folder:
        profile = pathlib.Path(folder) / "profile"
        write_profile(profile, pathlib.Path(job["workbook"]).resolve().parent.as_uri(), job.get("locale", ""))
        pipe = f"calc{os.getpid()}"
        # The office is ended from outside: while this process waits for it, no signal reaches Python.
        words = [
            "timeout",
            "--kill-after=5",
            str(ALARM),
            "soffice",
            "--headless",
            "--norestore",
            "--nodefault",
            "--nologo",
        ]
        words += [f"-env:UserInstallation={profile.as_uri()}", f"--accept=pipe,name={pipe};urp;"]
        office = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
        try:
            context = connect(pipe)
            desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
            json.dump(work(job, desktop), sys.stdout)
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(office.pid, signal.SIGKILL)
            office.wait(10)


main()
