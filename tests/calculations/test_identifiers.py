"""Identifiers that the catalogue does not have: what is offered in their place is there."""

import re
from typing import get_args

import pytest

from service.calculations.shared.faults import Faulty
from service.calculations.shared.identifiers import ShelfName, shelf, unknown
from service.reference import reference_data

SHELVES: tuple[ShelfName, ...] = get_args(ShelfName)
CERTIFICATE = "name and saponification_value of a certificate"


def offered(fault: Faulty) -> list[str]:
    return re.findall(r"'([^']*)'", fault.mend)


def test_every_shelf_holds_what_the_reference_data_have() -> None:
    data = reference_data()
    everything = (data.fats, data.liquids, data.acids, data.vessel_materials, data.fatty_acids)
    assert [shelf(name) for name in SHELVES] == list(everything)


@pytest.mark.parametrize("name", ["", "fat", "Fats", "waxes"])
def test_there_is_no_other_shelf(name: str) -> None:
    with pytest.raises(KeyError):
        shelf(name)


@pytest.mark.parametrize("name", SHELVES)
def test_a_slip_in_the_case_of_letters_leads_to_the_one_entry_that_is_meant(name: ShelfName) -> None:
    for identifier in list(shelf(name))[:10]:
        other = identifier.lower() if name == "fatty acids" else identifier.upper().replace("-", " ")
        fault = unknown(name, other)
        assert fault.code == "unknown-identifier"
        assert offered(fault) == [identifier]
        assert f"did you mean {identifier!r}" in fault.detail
        assert (CERTIFICATE in fault.mend) == (name == "fats")


def test_a_fat_is_known_by_words_of_its_name_and_a_fatty_acid_by_its_spelling_alone() -> None:
    """C18:1 and C18:2 share the words of their shorthand, and are not one another."""
    assert "maize-oil" in unknown("fats", "corn oil").detail
    assert offered(unknown("fatty acids", "c18:1")) == ["C18:1"]


def test_where_several_may_be_meant_the_caller_chooses() -> None:
    fault = unknown("fats", "palm")
    several = re.findall(r"'([^']*)'", fault.detail.partition("did you mean")[2])
    assert len(several) > 1
    assert set(several) <= set(shelf("fats"))
    assert fault.mend == "write the one that is meant"


@pytest.mark.parametrize("name", SHELVES)
def test_where_nothing_is_alike_the_mending_says_where_to_look(name: ShelfName) -> None:
    fault = unknown(name, "qqqqqqqq")
    assert "did you mean" not in fault.detail
    if name in {"fats", "liquids"}:
        assert f"/v1/{name} lists them" in fault.mend
    elif name == "fatty acids":
        assert set(offered(fault)) < set(shelf(name))
    else:
        assert all(identifier in fault.mend for identifier in shelf(name))
    assert (CERTIFICATE in fault.mend) == (name == "fats")
