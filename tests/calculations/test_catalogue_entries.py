"""Entries of the catalogue: they say what the reference data say, in any unit, and are found by it."""

import json
import math
from pathlib import Path
from typing import Any, Final

import msgspec
import pytest
from jsonschema_rs import Draft202012Validator
from msgspec import UNSET

from service.calculations.catalogue import catalogue_entries, catalogue_making
from service.calculations.catalogue.catalogue_collections import (
    COLLECTIONS,
    FATS,
    FATTY_ACIDS,
    USUAL,
    Collection,
    Selection,
    catalogue,
)
from service.calculations.catalogue.catalogue_figures import (
    CitedFraction,
    CitedTemperature,
    Style,
    cited,
    optional,
    other,
    plain_share,
    share,
    single,
)
from service.calculations.shared.told import NotFinite
from service.reference import reference_data
from service.reference.records import Figure

PUBLISHED: Final = json.loads((Path(__file__).parents[2] / "openapi" / "openapi.json").read_text("utf-8"))
ALL = pytest.mark.parametrize("collection", COLLECTIONS, ids=lambda one: one.path)
SHAPES: Final = {name for name in vars(catalogue_entries) if name.endswith("Entry")}
SI: Final = {"mg/g": 1e-3, "g/100g": 1e-2, "1": 1.0, "kg/L": 1e3, "g/mol": 1e-3, "kJ/(kg K)": 1e3, "W/(m K)": 1.0}
"""SI value of one of each unit (SI Brochure, 9th edition, BIPM 2019)."""
POUND_PER_GALLON: Final = 0.45359237 / 3.785411784e-3
"""kg/m3 (NIST SP 811, 2008, B.8)."""


def si(number: float, unit: str) -> float:
    """A number in SI, by the definition of its unit."""
    if unit in {"°C", "°F"}:
        return number if unit == "°C" else (number - 32) / 1.8
    return number * (POUND_PER_GALLON if unit == "lb/gal" else SI[unit])


def same(told: Any, record: Any) -> None:
    """That a figure of an entry is one of the reference data."""
    assert si(told["value"], told["unit"]) == pytest.approx(record.middle, rel=1e-12, abs=1e-12)
    assert si(told["low"], told["unit"]) == pytest.approx(record.low, rel=1e-12, abs=1e-12)
    assert si(told["high"], told["unit"]) == pytest.approx(record.high, rel=1e-12, abs=1e-12)
    assert (told["source"], told["evidence"], told.get("note", "")) == (record.source, record.evidence, record.note)


def shown(collection: Collection, identifier: str, style: Style = USUAL) -> dict[str, Any]:
    """An entry as JSON has it."""
    told = json.loads(msgspec.json.encode(catalogue().entry(collection, identifier, style)))
    assert isinstance(told, dict)
    return told


@ALL
@pytest.mark.parametrize("style", [USUAL, Style(units="us"), Style(digits=3)], ids=str)
def test_every_entry_is_one_by_the_published_contract(collection: Collection, style: Style) -> None:
    schemas = PUBLISHED["components"]["schemas"]
    assert collection.shape.__name__ in SHAPES
    schema = Draft202012Validator({**schemas[collection.shape.__name__], "components": {"schemas": schemas}})
    entries = catalogue().entries(collection, style)
    assert [one.id for one in entries] == list(collection.records(reference_data()))
    for one in entries:
        schema.validate(json.loads(msgspec.json.encode(one)))


@ALL
@pytest.mark.parametrize("style", [USUAL, Style(units="us")], ids=str)
def test_an_entry_says_what_the_reference_data_say(collection: Collection, style: Style) -> None:
    for identifier, record in collection.records(reference_data()).items():
        told = shown(collection, identifier, style)
        assert told["id"] == identifier
        for name in collection.shape.__struct_fields__:
            said = getattr(record, name, None)
            if isinstance(said, Figure):
                same(told[name], said)
            elif isinstance(said, str | bool | int) and said != "":
                assert told[name] == said, name
            elif said is None or said == "":
                assert name == "id" or name not in told, name


@pytest.mark.parametrize("style", [USUAL, Style(units="us")], ids=str)
def test_a_fat_tells_its_acids_and_what_others_say_of_it(style: Style) -> None:
    for identifier, record in reference_data().fats.items():
        told = shown(FATS, identifier, style)
        others = told.get("other_figures", [])
        assert ("fatty_acids" in told) == (record.fatty_acids is not None)
        if record.fatty_acids is not None:
            acids = told["fatty_acids"]
            assert (acids["form"] == "limits") == record.fatty_acids.is_range
            assert (acids["source"], acids["evidence"]) == (record.fatty_acids.source, record.fatty_acids.evidence)
            assert acids.get("note", "") == record.fatty_acids.note
            assert list(acids["shares"]) == list(record.fatty_acids.shares)
            for acid, (low, high) in record.fatty_acids.shares.items():
                ends = acids["shares"][acid]
                assert (ends["low"], ends["high"]) == (pytest.approx(low), pytest.approx(high))
            assert all(one["low"] <= one["value"] <= one["high"] for one in acids["shares"].values())
        for one, (name, figure) in zip(others, record.other_figures, strict=True):
            assert one["property"] == name
            assert (one["source"], one["evidence"], one.get("note", "")) == (
                figure.source,
                figure.evidence,
                figure.note,
            )
            for end in ("low", "high"):
                open_end = math.isinf(getattr(figure, end))
                assert (end in one) != open_end
                assert open_end or si(one[end], one["unit"]) == pytest.approx(getattr(figure, end), abs=1e-9)
            assert ("value" in one) == ("low" in one and "high" in one)


def test_single_values_of_other_collections_are_told_with_their_source() -> None:
    data = reference_data()
    for path, records in (("acids", data.acids), ("fatty-acids", data.fatty_acids)):
        (collection,) = (one for one in COLLECTIONS if one.path == path)
        for identifier, record in records.items():
            told = shown(collection, identifier)["molar_mass"]
            assert told["value"] == told["low"] == told["high"]
            assert si(told["value"], told["unit"]) == pytest.approx(record.molar_mass)
            assert (told["source"], told["evidence"]) == (record.source, record.evidence)
    (alkalis,) = (one for one in COLLECTIONS if one.path == "alkalis")
    for identifier, alkali in data.alkalis.items():
        told = shown(alkalis, identifier)
        assert ("default_purity" in told) == (alkali.default_purity is not None)
        assert told.get("default_purity", {"value": None})["value"] == alkali.default_purity
        assert told["molar_mass"]["source"] == catalogue_making.ATOMIC_WEIGHTS
        assert told["molar_mass"]["source"] in data.sources


# How they are found


def cites(node: Any, member: str, word: str) -> bool:
    """Whether a word stands under a member, anywhere in an entry that names sources."""
    if isinstance(node, dict):
        return ({"source", "evidence"} <= node.keys() and node[member] == word) or any(
            cites(one, member, word) for one in node.values()
        )
    return isinstance(node, list) and any(cites(one, member, word) for one in node)


@ALL
@pytest.mark.parametrize("member", ["source", "evidence"])
def test_entries_are_found_by_what_they_cite(collection: Collection, member: str) -> None:
    entries = {one: shown(collection, one) for one in collection.records(reference_data())}
    words = [*catalogue().sources[:40], "memory", "computed", "seen-primary", "nowhere"]
    found = 0
    for word in words:
        chosen = catalogue().select(collection, Selection(**{member: word}))
        assert chosen == [identifier for identifier, one in entries.items() if cites(one, member, word)]
        found += len(chosen)
    assert collection.cites or not found


@ALL
def test_entries_are_found_by_all_words_of_a_search(collection: Collection) -> None:
    records = collection.records(reference_data())
    everything = list(records)
    assert catalogue().select(collection, Selection()) == everything
    assert catalogue().select(collection, Selection(search=" ")) == everything
    assert catalogue().select(collection, Selection(search="qqqq")) == []
    for identifier in everything:
        assert identifier in catalogue().select(collection, Selection(search=identifier.upper()))
        assert catalogue().select(collection, Selection(search=f"{identifier} qqqq")) == []
        said = [str(getattr(records[identifier], name)) for name in collection.searched]
        assert identifier in catalogue().select(collection, Selection(search=" ".join(said)))


@ALL
def test_entries_are_filtered_by_one_member(collection: Collection) -> None:
    records = collection.records(reference_data())
    choices = catalogue().choices(collection)
    assert len(set(choices)) == len(choices)
    assert bool(choices) == (collection.filtered is not None)
    parts = [catalogue().select(collection, Selection(member=one)) for one in choices]
    if collection.filtered is not None:
        assert sorted(one for part in parts for one in part) == sorted(records)
        for choice, part in zip(choices, parts, strict=True):
            assert part == [one for one, record in records.items() if getattr(record, collection.filtered) == choice]
    assert catalogue().select(collection, Selection(member="qqqq")) == []
    for choice, part in zip(choices, parts, strict=True):
        assert catalogue().select(collection, Selection(search=part[0], member=choice))[:1] != []
        assert catalogue().select(collection, Selection(search="qqqq", member=choice)) == []


@ALL
def test_entries_are_called_by_their_names(collection: Collection) -> None:
    labels = catalogue().labels(collection)
    assert list(labels) == list(collection.records(reference_data()))
    for identifier, record in collection.records(reference_data()).items():
        usual = getattr(record, "name", None) or getattr(record, "title", None) or record.statement
        assert labels[identifier].name == usual


def test_what_is_not_there_is_not_found() -> None:
    with pytest.raises(KeyError):
        catalogue().entry(FATTY_ACIDS, "C99:9", USUAL)
    assert catalogue().version == reference_data().version


# Figures


def test_a_figure_with_an_open_end_is_told_beside_others_alone() -> None:
    open_end = Figure(0.1, math.inf, "codex-cxs-33", "memory")
    for shape in (CitedFraction, CitedTemperature):
        with pytest.raises(NotFinite):
            cited(shape, open_end, USUAL)
    told = other("unsaponifiable", open_end, USUAL)
    assert (told.low, told.high, told.value, told.note) == (0.1, UNSET, UNSET, UNSET)
    assert other("unsaponifiable", Figure(0.1, 0.2, "codex-cxs-33", "memory", "so"), USUAL).note == "so"
    with pytest.raises(NotFinite):
        single(CitedFraction, math.nan, "codex-cxs-33", "memory", USUAL)


def test_digits_are_significant_digits_of_every_figure() -> None:
    figure = Figure(0.123456, 0.234567, "codex-cxs-33", "memory")
    told = cited(CitedFraction, figure, Style(digits=3))
    assert (told.low, told.high, told.value) == (0.123, 0.235, 0.179)
    assert optional(CitedFraction, None, USUAL) is UNSET
    assert optional(CitedFraction, figure, Style(digits=3)) == told
    assert plain_share(0.98765, Style(digits=2)).value == 0.99
    ends = share(0.123456, 0.234567, Style(digits=2))
    assert (ends.low, ends.high, ends.unit) == (0.12, 0.23, "1")
