"""The whole application: calculations, pages and problems, put together."""

from collections.abc import Mapping
from functools import partial
from typing import Any, cast

from litestar import Litestar, Request, Response
from litestar.exceptions import HTTPException

from service.calculations.catalogue.catalogue_collections import catalogue
from service.calculations.registry import Calculation, calculations
from service.calculations.shared.faults import Refusal
from service.calculations.values.value import Value
from service.calculations.values.value_registry import values
from service.http.addresses import BASE, BULK, VALUES, nothing_at
from service.http.beside import Later
from service.http.bulk import bulk_endpoint
from service.http.bulk_pace import Pace
from service.http.calculation_query import NAMES
from service.http.catalogue import catalogue_handlers, served_collections
from service.http.endpoint import endpoint, failed
from service.http.metrics import OTHER, Metrics, metrics_page
from service.http.operation.life_cycle import LifeCycle
from service.http.operation.log_lines import LINES
from service.http.operation.settings import DEFAULTS, Settings
from service.http.outer import Outer
from service.http.pages import handlers
from service.http.parameters import TAKES_PARAMETERS, stray_parameters
from service.http.problems import (
    BY_STATUS,
    INTERNAL,
    INVALID_REQUEST,
    KINDS,
    METHOD_NOT_ALLOWED,
    NOT_FOUND,
    PROBLEM_JSON,
    Trouble,
    path_of,
    refused,
)
from service.http.values import value_endpoint
from service.http.wire import PROBLEM, App, Scope
from service.reference import reference_data


def create_app(known: Mapping[str, Calculation[Any, Any]] | None = None, settings: Settings = DEFAULTS) -> Outer:
    """The ASGI application of the service.

    Args:
        known: the calculations to serve by their names; all there are where it is not given.
        settings: what the operator says.
    """
    served = calculations() if known is None else known
    data_version = reference_data().version

    found = values() if known is None else {}
    metrics = Metrics(
        [*served, *(VALUES + name for name in found), *(BULK + name for name in served)], data_version, settings.build
    )
    summaries = {name: calculation.summary for name, calculation in served.items()}
    life = LifeCycle(metrics)
    litestar = Litestar(
        [
            *handlers(Later(partial(_contract, served, found)), summaries, data_version, settings),
            *catalogue_handlers(served_collections(catalogue())),
            metrics_page(metrics),
        ],
        openapi_config=None,
        logging_config=None,
        exception_handlers={Trouble: _on_trouble, HTTPException: _on_http, Exception: _on_any},
        before_request=_refuse_query,
        on_startup=[life.begin],
        on_shutdown=[life.end],
    )
    metrics.know_pages(route.path_format for route in litestar.routes)
    endpoints = {
        BASE + name: (name, endpoint(calculation, data_version, metrics.calculation(name), settings))
        for name, calculation in served.items()
    }
    endpoints |= {
        BASE + VALUES + name: (VALUES + name, value_endpoint(value, data_version, metrics.calculation(VALUES + name)))
        for name, value in found.items()
    }
    pace = Pace()
    endpoints |= {
        BASE + BULK + name: (
            BULK + name,
            bulk_endpoint(calculation, data_version, metrics.calculation(BULK + name), pace, settings),
        )
        for name, calculation in served.items()
    }
    pages = (route.path for route in litestar.routes if "{" not in route.path)
    litestar.state.addresses = (*endpoints, *pages, *(kind.uri for kind in KINDS.values()))
    lines = LINES if settings.log == "json" else None
    return Outer(endpoints, cast("App", litestar), metrics, litestar.state.addresses, settings=settings, lines=lines)


def _contract(known: Mapping[str, Calculation[Any, Any]], single: Mapping[str, Value]) -> bytes:
    """The contract, for which every example is reckoned: that takes longer than all else at a start."""
    from service.http.contract import contract  # noqa: PLC0415 - most processes never tell it

    return contract(known, single)


async def _refuse_query(request: Request[Any, Any, Any]) -> None:
    """A parameter that a page does not take is refused like everywhere, not passed over.

    A page that takes parameters says so in its `opt`, and checks them itself. This is a coroutine, since Litestar calls
    a plain function in a thread, which the page then waits for.
    """
    query = request.scope["query_string"]
    if query and not request.route_handler.opt.get(TAKES_PARAMETERS, False):
        faults = stray_parameters(query, NAMES)
        if faults:
            raise refused(Refusal(400, faults))


def _on_trouble(request: Request[Any, Any, Any], trouble: Exception) -> Response[bytes]:
    """What the pages refuse."""
    if not isinstance(trouble, Trouble):  # pragma: no cover - Litestar asks by type
        raise trouble
    scope = cast("Scope", request.scope)
    scope[PROBLEM] = trouble.kind.name
    headers = {name.decode(): value.decode() for name, value in trouble.headers}
    return Response(
        trouble.document(path_of(scope)),
        status_code=trouble.kind.status,
        media_type=PROBLEM_JSON,
        headers=headers,
    )


def _on_http(request: Request[Any, Any, Any], error: Exception) -> Response[bytes]:
    """What Litestar refuses itself: no such path, no such method, an invalid Host."""
    if not isinstance(error, HTTPException):  # pragma: no cover - Litestar asks by type
        raise error
    if error.status_code >= INTERNAL.status:
        return _on_any(request, error)
    kind = BY_STATUS.get(error.status_code, INVALID_REQUEST)
    headers = [(name.lower().encode(), value.encode()) for name, value in (error.headers or {}).items()]
    if kind is METHOD_NOT_ALLOWED:
        allowed = ", ".join(sorted((error.headers or {})["allow"].split(", ")))  # Litestar's order is by chance
        headers = [(b"allow", allowed.encode())]
        detail = f"{request.scope['method'][:20]} is not known here; {allowed} are. Pages are read with GET."
    elif kind is NOT_FOUND:
        return _on_trouble(request, nothing_at(request.scope["path"], request.app.state.addresses))
    elif kind is INVALID_REQUEST:
        detail = str(error.detail)[:200]
    else:
        detail = kind.example
    return _on_trouble(request, Trouble(kind, detail, headers=headers))


def _on_any(request: Request[Any, Any, Any], _: Exception) -> Response[bytes]:
    """A fault of the service."""
    request.scope.setdefault("path_template", OTHER)  # what is no page's path is not for the log
    return _on_trouble(request, failed(cast("Scope", request.scope)))
