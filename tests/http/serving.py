"""The catalogue of other reference data than those installed, served alone."""

from typing import cast

from litestar import Litestar

from service.calculations.catalogue.catalogue_collections import Catalogue
from service.http.catalogue import catalogue_handlers, served_collections
from service.http.wire import App
from service.reference import ReferenceData
from tests.asgi import Caller


def serving(data: ReferenceData) -> Caller:
    """A caller of the catalogue of some reference data."""
    handlers = catalogue_handlers(served_collections(Catalogue(data)))
    return Caller(cast("App", Litestar(handlers, openapi_config=None, logging_config=None)))
