"""A catalogue that is made anew: what it finds by source and evidence, and the units and digits that it tells."""

from collections.abc import Iterator
from typing import Any, Final

import msgspec
import pytest

from service.calculations.catalogue.catalogue_collections import (
    COLLECTIONS,
    USUAL,
    Catalogue,
    Collection,
    Selection,
    catalogue,
)
from service.calculations.catalogue.catalogue_figures import Style
from service.reference import reference_data

ALL = pytest.mark.parametrize("collection", COLLECTIONS, ids=lambda one: one.path)
METRIC: Final = {"°C", "kg/L", "mg/g", "g/100g"}


def parts(node: Any) -> Iterator[dict[str, Any]]:
    """Every object within an entry as JSON has it."""
    if isinstance(node, dict):
        yield node
        for one in node.values():
            yield from parts(one)
    elif isinstance(node, list | tuple):
        for one in node:
            yield from parts(one)


def told(made: Catalogue, collection: Collection, style: Style = USUAL) -> dict[str, list[dict[str, Any]]]:
    """The objects within each entry, by its identifier."""
    return {
        identifier: list(parts(msgspec.to_builtins(made.entry(collection, identifier, style))))
        for identifier in collection.records(reference_data())
    }


@ALL
def test_an_entry_is_found_by_whatever_its_figures_cite(collection: Collection) -> None:
    made = Catalogue(reference_data())
    citing = {
        identifier: [(one["source"], one["evidence"]) for one in inside if {"source", "evidence"} <= one.keys()]
        for identifier, inside in told(made, collection).items()
    }
    assert collection.cites == any(citing.values())
    for member, place in (("source", 0), ("evidence", 1)):
        for word in {*made.sources, *(pair[place] for pairs in citing.values() for pair in pairs)}:
            due = [identifier for identifier, pairs in citing.items() if word in {pair[place] for pair in pairs}]
            assert made.select(collection, Selection(**{member: word})) == due


@ALL
def test_entries_come_in_the_units_and_digits_asked_for(collection: Collection) -> None:
    usual, pounds = (told(catalogue(), collection, style) for style in (USUAL, Style(units="us")))
    assert usual.keys() == pounds.keys()
    for identifier, inside in usual.items():
        units = [(one.get("unit"), other.get("unit")) for one, other in zip(inside, pounds[identifier], strict=True)]
        assert all(unit != "°F" and (unit != "°C" or other == "°F") for unit, other in units)
        assert all(unit != "lb/gal" and (unit != "kg/L" or other == "lb/gal") for unit, other in units)
    for inside in told(catalogue(), collection, Style(digits=2)).values():
        figures = [one[end] for one in inside for end in ("value", "low", "high") if "unit" in one and end in one]
        assert all(figure == float(f"{figure:.1e}") for figure in figures)


def test_each_way_of_telling_a_figure_makes_a_difference() -> None:
    """Or the units and digits of all entries could be right by chance."""
    inside = [one for collection in COLLECTIONS for each in told(catalogue(), collection).values() for one in each]
    assert {one["unit"] for one in inside if "unit" in one} >= METRIC
    assert any(one["value"] != float(f"{one['value']:.1e}") for one in inside if "unit" in one and "value" in one)
