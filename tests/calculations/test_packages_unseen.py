"""What pint would bring along is unseen for as long as pint is made ready, and no longer."""

import sys
from types import ModuleType

import pytest

from service.calculations.shared.unit_definitions import registry


def test_packages_are_as_they_were_after_a_registry_was_made(monkeypatch: pytest.MonkeyPatch) -> None:
    there = ModuleType("uncertainties")
    monkeypatch.setitem(sys.modules, "uncertainties", there)
    for name in ("babel", "dask"):
        monkeypatch.delitem(sys.modules, name, raising=False)
    made = registry()
    assert sys.modules["uncertainties"] is there
    assert not {"babel", "dask"} & sys.modules.keys()
    assert made.Quantity(1, "inch").to("centimeter").magnitude * 100 == 254
