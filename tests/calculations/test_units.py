"""Units: their definitions are those of pint, exactly, and pint is read without what it would bring along."""

import subprocess
import sys
from decimal import Decimal
from importlib.util import module_from_spec, spec_from_file_location
from typing import Any

import pint
import pytest

from service.calculations.shared import unit_definitions, units
from service.calculations.shared.unit_definitions import DEFINITIONS, registry
from service.calculations.shared.units import Kind

NAMES = [name for line in DEFINITIONS.split("\n") if (name := line.partition(" ")[0]) and not name.endswith("-")]


@pytest.fixture(scope="module")
def known() -> Any:
    """All that pint knows."""
    return pint.UnitRegistry(non_int_type=Decimal)


@pytest.mark.parametrize("name", NAMES)
def test_a_definition_is_that_of_pint(known: Any, name: str) -> None:
    ours, theirs = (one.Quantity(Decimal(1), name).to_root_units() for one in (registry(), known))
    assert f"{ours.magnitude:.24e}" == f"{theirs.magnitude:.24e}"  # pint divides, and rounds in the 28th digit
    assert dict(ours.unit_items()) == dict(theirs.unit_items())


def test_every_unit_is_the_same_by_all_that_pint_knows(known: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(unit_definitions, "registry", lambda: known)
    spec = spec_from_file_location("units_by_pint", str(units.__file__))
    assert spec is not None
    assert spec.loader is not None
    theirs = module_from_spec(spec)
    spec.loader.exec_module(theirs)
    kinds = {name: one for name, one in vars(units).items() if isinstance(one, Kind)}
    assert len(kinds) > 20
    for name, kind in kinds.items():
        assert tuple(getattr(theirs, name)) == tuple(kind)


def test_pint_is_loaded_without_numpy_which_can_be_loaded_later() -> None:
    say = (
        "import sys; import service.calculations.shared.units;"
        "print(sorted(name for name in sys.modules if name.partition('.')[0] in {'numpy', 'scipy', 'uncertainties'}));"
        "import numpy; print(numpy.array([1]).sum())"
    )
    done = subprocess.run([sys.executable, "-c", say], capture_output=True, text=True, check=True)
    assert done.stdout.split("\n")[:2] == ["[]", "1"]


def test_what_is_loaded_already_stays() -> None:
    before = dict(sys.modules)
    registry()
    assert {name for name in before if sys.modules.get(name) is not before[name]} == set()
    assert not [name for name, module in sys.modules.items() if module is None and name not in before]
