"""Makes a module of the chemistry anew, so that what it reckons when it is imported is seen by a test."""

import importlib.util
from types import ModuleType


def made_anew(name: str) -> ModuleType:
    """A second copy of `service.chemistry.<name>`; the first stays as it is."""
    spec = importlib.util.find_spec(f"service.chemistry.{name}")
    assert spec
    assert spec.loader
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
    return made
