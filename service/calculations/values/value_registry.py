"""The values there are: the VALUES of each module of this package."""

import pkgutil
from functools import cache
from importlib import import_module

from service.calculations.values.value import Value


@cache
def values() -> dict[str, Value]:
    """Every value by its name."""
    package = import_module("service.calculations.values")
    found = {}
    for info in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
        for value in getattr(import_module(info.name), "VALUES", ()):
            found[value.name] = value
    return dict(sorted(found.items()))
