"""What is read with GET: the contract, its interactive page, the pages of the problems, and health.

Every page comes from the service itself and asks no other host for anything.
"""

import json
from html import escape
from typing import Any, Final

from litestar import HttpMethod, Response, route
from litestar.handlers import HTTPRouteHandler
from litestar.params import FromPath
from swagger_ui_bundle import swagger_ui_path

from service import __version__
from service.calculations.catalogue.catalogue_collections import COLLECTIONS, catalogue
from service.calculations.shared.fault_meanings import MEANINGS
from service.calculations.shared.faults import near
from service.calculations.shared.glossary import WORDS
from service.http.addresses import BASE
from service.http.beside import Later
from service.http.docs_page import ASSETS, POLICY, START, STYLE, docs_page
from service.http.negotiation import JSON
from service.http.operation.readiness import PROCESS
from service.http.operation.settings import DEFAULTS, Settings
from service.http.paper import POLICY as PLAIN_POLICY
from service.http.problem_examples import example_problems
from service.http.problems import KINDS, NOT_FOUND, PAGES, RETRY, UNAVAILABLE, ProblemKind, Trouble

HTML: Final = "text/html"
"""Litestar adds the charset to types of text."""
READ: Final = (HttpMethod.GET, HttpMethod.HEAD)

ENDING: Final = "The service is about to end: what is being served is finished. Ask another copy, or again in 1 s."

_HOUSE: Final = "Lyestock"

_LAYOUT: Final = """<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<link rel="icon" href="data:,">
<title>{tab}</title>
<style>
body {{ font: 16px/1.5 sans-serif; max-width: 46rem; margin: 2rem auto; padding: 0 1rem; }}
code, pre {{ background: #f2f2f2; padding: 0 .2em; }}
pre {{ padding: .6em; overflow: auto; }}
dt {{ margin-top: .5em; }}
</style>
<h1>{title}</h1>
{body}
<p><a href="/">Start</a> - <a href="/docs">Try it</a> - <a href="/words">Words</a> -
<a href="/problems">All problems</a></p>
</html>
"""

_OWN_ASSETS: Final = {"start.js": (START, "text/javascript"), "page.css": (STYLE, "text/css")}


def page(title: str, body: str) -> Response[bytes]:
    """A page of text. The title is escaped here, the body is HTML already."""
    tab = title if title == _HOUSE else f"{title} - {_HOUSE}"
    html = _LAYOUT.format(tab=escape(tab), title=escape(title), body=body)
    return Response(html.encode(), media_type=HTML, headers={"content-security-policy": PLAIN_POLICY})


def problem_page(kind: ProblemKind, example: Any) -> Response[bytes]:
    """The page that explains a kind of problem.

    Args:
        kind: the kind.
        example: a document of it.
    """
    codes = ""
    if kind.status in {400, 422}:
        items = "".join(
            f"<dt id='{code}'><code>{code}</code><dd>{escape(meaning)}" for code, meaning in MEANINGS.items()
        )
        codes = f"<h2>Codes of the faults</h2><dl>{items}</dl>"
    return page(
        kind.title,
        f"<p>Status {kind.status}, type <code>{kind.uri}</code></p>"
        f"<p>{escape(kind.meaning)}</p><h2>How to mend it</h2><p>{escape(kind.mend)}</p>"
        f"<h2>Example</h2><pre>{escape(json.dumps(example, indent=2))}</pre>{codes}",
    )


def problem_list() -> Response[bytes]:
    """The page that lists every kind of problem."""
    items = "".join(
        f"<dt><a href='{kind.uri}'>{kind.name}</a> ({kind.status})<dd>{escape(kind.title)}" for kind in KINDS.values()
    )
    return page("Problems", f"<p>Every problem this service answers.</p><dl>{items}</dl>")


def word_list() -> Response[bytes]:
    """The page that explains the words of the trade."""
    items = "".join(f"<dt id='{one.anchor}'><b>{escape(one.word)}</b><dd>{escape(one.meaning)}" for one in WORDS)
    return page("Words", f"<p>What the words of questions and answers mean here.</p><dl>{items}</dl>")


def front(calculations: dict[str, str]) -> Response[bytes]:
    """The first page: what there is, and where."""
    items = "".join(
        f"<dt><code>POST {BASE}{escape(name)}</code><dd>{escape(summary)}" for name, summary in calculations.items()
    )
    return page(
        _HOUSE,
        "<p>Calculations for soap workshops that work from a concentrated lye stock.</p>"
        f"<dl>{items}</dl>"
        "<p><a href='/docs'>Try it</a>, read the <a href='/openapi.json'>contract</a>, "
        "look a <a href='/words'>word</a> up, or see the <a href='/problems'>problems</a> there can be.</p>"
        f"{_identifiers()}",
    )


def _identifiers() -> str:
    """The lists of the catalogue, and the identifiers that requests use, each linked to all that is known of it."""
    parts = ["<h2>Catalogue</h2><p>Every figure with its source, as JSON or as a table for spreadsheets.</p>"]
    for collection in COLLECTIONS:
        at = BASE + collection.path
        labels = catalogue().labels(collection)
        entries = ", ".join(
            f"<a href='{at}/{escape(key)}' title='{escape(label.name)}'><code>{escape(key)}</code></a>"
            for key, label in labels.items()
        )
        parts.append(
            f"<h3><a href='{at}'>{collection.title}</a> (<a href='{at}?format=csv'>CSV</a>)</h3>"
            f"<p>{escape(collection.text)}</p>"
            f"<details><summary>{len(labels)} entries</summary><p>{entries}</p></details>"
        )
    return "".join(parts)


def handlers(
    contract: Later[bytes], calculations: dict[str, str], data_version: str, settings: Settings = DEFAULTS
) -> list[HTTPRouteHandler]:
    """The handlers of everything that is read.

    Args:
        contract: bytes of the contract, made when first read.
        calculations: summary of every calculation by its name.
        data_version: version of the reference data.
        settings: what the operator says.
    """
    examples, docs = example_problems(), docs_page(calculations)

    @route("/", http_method=READ)
    async def start() -> Response[bytes]:
        return front(calculations)

    @route("/openapi.json", http_method=READ)
    async def openapi() -> Response[bytes]:
        return Response(await contract.get(), media_type=JSON, headers={"data-version": data_version})

    @route("/docs", http_method=READ)
    async def open_docs() -> Response[bytes]:
        if not settings.docs:
            detail = "This page is switched off here. The contract, /openapi.json, tells all that it shows."
            raise Trouble(NOT_FOUND, detail)
        return Response(docs, media_type=HTML, headers={"content-security-policy": POLICY})

    @route("/docs/{name:str}", http_method=READ)
    async def asset(name: FromPath[str]) -> Response[bytes]:
        headers = {"cache-control": "public, max-age=86400"}
        if name in _OWN_ASSETS:
            text, media = _OWN_ASSETS[name]
            return Response(text.encode(), media_type=media, headers=headers)
        if name not in ASSETS:
            raise Trouble(NOT_FOUND, f"There is no such file{near(name, (*_OWN_ASSETS, *ASSETS))}. Use the page /docs.")
        return Response((swagger_ui_path / name).read_bytes(), media_type=ASSETS[name], headers=headers)

    @route("/problems", http_method=READ)
    async def problems() -> Response[bytes]:
        return problem_list()

    @route("/words", http_method=READ)
    async def words() -> Response[bytes]:
        return word_list()

    @route(PAGES + "{kind:str}", http_method=READ)
    async def problem(kind: FromPath[str]) -> Response[bytes]:
        if kind not in KINDS:
            raise Trouble(NOT_FOUND, f"There is no such kind of problem{near(kind, KINDS)}. /problems lists all.")
        return problem_page(KINDS[kind], examples[KINDS[kind]])

    @route("/health/live", http_method=READ)
    async def live() -> dict[str, str]:
        return {"status": "ok"}

    @route("/health/ready", http_method=READ)
    async def ready() -> dict[str, str]:
        if PROCESS.draining:
            raise Trouble(UNAVAILABLE, ENDING, headers=RETRY)
        return {"status": "ready", "version": __version__, "data_version": data_version, "build": settings.build}

    return [start, openapi, open_docs, asset, problems, words, problem, live, ready]
