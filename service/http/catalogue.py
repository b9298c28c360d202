"""The catalogue over HTTP: lists and single entries, as JSON and as CSV, with entity tags.

The same request gets the same bytes, so an answer may be kept by anyone who passes it on; its entity tag depends on
its address, its format and bytes, and the versions of the service and of the data.
"""

from functools import cache
from typing import Any, Final, NamedTuple
from urllib.parse import urlencode

import msgspec
from litestar import Request, Response, route
from litestar.handlers import HTTPRouteHandler
from litestar.params import FromPath

from service.calculations.catalogue.catalogue_collections import COLLECTIONS, Catalogue, Collection
from service.calculations.catalogue.catalogue_entries import Entry
from service.calculations.catalogue.catalogue_figures import Style
from service.calculations.shared.faults import Fault, Refusal, meant, nearest_entries
from service.calculations.shared.rendering import UnitSystem
from service.http.addresses import BASE
from service.http.catalogue_query import CSV, MEDIA, Wishes, parameters, read_wishes
from service.http.catalogue_table import Column, columns, table
from service.http.negotiation import JSON, answer_media
from service.http.pages import READ
from service.http.parameters import TAKES_PARAMETERS
from service.http.problems import NOT_FOUND, Trouble, refused
from service.http.tags import CACHE_CONTROL, entity_tag, has_tag

_CONTENT_TYPE: Final = {JSON: JSON, CSV: "text/csv; header=present"}
"""Litestar adds the charset to types of text."""


class Content(NamedTuple):
    """An answer, before its headers."""

    body: bytes
    links: str = ""


class ServedCollection:
    """One collection, ready to be answered."""

    def __init__(self, catalogue: Catalogue, collection: Collection) -> None:
        self.collection = collection
        self.version = catalogue.version
        self.of_list = parameters(collection, catalogue, of_list=True)
        self.of_entry = parameters(collection, catalogue, of_list=False)
        self.catalogue = catalogue
        self._labels = catalogue.labels(collection)

        @cache
        def columns_in(units: UnitSystem) -> tuple[Column, ...]:
            return columns(catalogue.entries(collection, Style(units)))

        self._columns = columns_in

    def page(self, wishes: Wishes, given: dict[str, str], media: str) -> Content:
        """The entries that are wanted."""
        chosen = self.catalogue.select(self.collection, wishes.selection)
        shown = chosen[wishes.offset : wishes.offset + wishes.limit]
        items = [self._entry(identifier, wishes) for identifier in shown]
        links = self._links(wishes, given, len(chosen))
        if media == CSV:
            return Content(self._table(items, wishes), links)
        document = {"items": items, "total": len(chosen), "limit": wishes.limit, "offset": wishes.offset}
        return Content(msgspec.json.encode(document | self._always(wishes)), links)

    def entry(self, identifier: str, wishes: Wishes, media: str) -> Content:
        """One entry, which there is."""
        entry = self._entry(identifier, wishes)
        if media == CSV:
            return Content(self._table([entry], wishes))
        return Content(msgspec.json.encode(msgspec.to_builtins(entry) | self._always(wishes)))

    def check(self, identifier: str) -> None:
        """Look whether there is an entry.

        Raises:
            Trouble: 404, there is none.
        """
        if identifier not in self._labels:
            one = self.collection.one.replace("-", " ")
            hint = meant(nearest_entries(identifier, self._labels))
            at = BASE + self.collection.path
            raise Trouble(NOT_FOUND, f"The catalogue has no {one} {identifier[:60]!r}{hint}. {at} lists all there are.")

    def _entry(self, identifier: str, wishes: Wishes) -> Entry:
        return self.catalogue.entry(self.collection, identifier, wishes.style)

    def _always(self, wishes: Wishes) -> dict[str, str]:
        """What every JSON answer holds."""
        mark = {} if wishes.reference is None else {"reference": wishes.reference}
        return {"data_version": self.version, **mark}

    def _table(self, entries: list[Entry], wishes: Wishes) -> bytes:
        """Entries as a table, whose columns are those of the whole collection."""
        mark = [] if wishes.reference is None else [("reference", wishes.reference)]
        return table(entries, self._columns(wishes.style.units), wishes.decimal, mark)

    def _links(self, wishes: Wishes, given: dict[str, str], total: int) -> str:
        """The header Link (RFC 8288): the pages before and after, the first and the last; empty where all fits."""
        limit, offset = wishes.limit, wishes.offset
        if offset == 0 and total <= limit:
            return ""
        last = max(0, total - 1) // limit * limit
        pages = {"first": 0, "last": last}
        if offset > 0:
            pages["prev"] = min(max(0, offset - limit), last)
        if offset + limit < total:
            pages["next"] = offset + limit
        return ", ".join(
            f'<{BASE}{self.collection.path}?{urlencode(given | {"limit": limit, "offset": start})}>; rel="{name}"'
            for name, start in pages.items()
        )


def served_collections(catalogue: Catalogue) -> tuple[ServedCollection, ...]:
    """Every collection of a catalogue."""
    return tuple(ServedCollection(catalogue, collection) for collection in COLLECTIONS)


def catalogue_handlers(known: tuple[ServedCollection, ...]) -> list[HTTPRouteHandler]:
    """The handlers of all lists and entries.

    Args:
        known: the collections.
    """
    return [handler for served in known for handler in _handlers(served)]


def _handlers(served: ServedCollection) -> tuple[HTTPRouteHandler, HTTPRouteHandler]:
    path = BASE + served.collection.path

    @route(path, http_method=READ, opt={TAKES_PARAMETERS: True})
    async def entries(request: Request[Any, Any, Any]) -> Response[bytes]:
        wishes, given, faults = read_wishes(request.scope["query_string"], served.of_list, served.collection.filtered)
        media = _media(request, wishes, faults)
        return _answer(request, served, media, served.page(wishes, given, media))

    @route(path + "/{identifier:str}", http_method=READ, opt={TAKES_PARAMETERS: True})
    async def entry(request: Request[Any, Any, Any], identifier: FromPath[str]) -> Response[bytes]:
        served.check(identifier)
        wishes, _, faults = read_wishes(request.scope["query_string"], served.of_entry, None)
        media = _media(request, wishes, faults)
        return _answer(request, served, media, served.entry(identifier, wishes, media))

    return entries, entry


def _media(request: Request[Any, Any, Any], wishes: Wishes, faults: list[Fault]) -> str:
    """The media type to answer in.

    Raises:
        Trouble: 400 with every fault of the query, or 406.
    """
    if faults:
        raise refused(Refusal(400, faults))
    return answer_media(wishes.format, request.headers.getall("accept", []), MEDIA)


def _answer(request: Request[Any, Any, Any], served: ServedCollection, media: str, content: Content) -> Response[bytes]:
    """The answer with its headers, or 304 where the caller has it already."""
    tag = entity_tag(request.scope["path"], request.scope["query_string"], media, served.version, content.body)
    headers = {
        "etag": tag,
        "cache-control": CACHE_CONTROL,
        "vary": "Accept",
        "data-version": served.version,
        **({"link": content.links} if content.links else {}),
    }
    if has_tag(request.headers.getall("if-none-match", []), tag):
        return Response(b"", status_code=304, headers=headers, media_type=_CONTENT_TYPE[media])
    return Response(content.body, headers=headers, media_type=_CONTENT_TYPE[media])
