"""From how little of it something dissolved counts: liquids that no catalogue has, of just the share or of less."""

from types import SimpleNamespace

import msgspec
import pytest

from service.calculations.batch import liquids
from service.calculations.batch.liquids import KnownLiquid, catalogue_liquid
from service.reference import Figure, Liquid, reference_data
from service.reference.records import Acidity

TESTED = (catalogue_liquid,)
"""What these tests are of: mutants of its module meet them first."""


def share(of: float) -> Figure:
    return Figure(of, of, "made-up", "assumed")


def known(monkeypatch: pytest.MonkeyPatch, **held: Figure | Acidity) -> KnownLiquid:
    """What is known of distilled water that something has been put into."""
    water: Liquid = reference_data().liquids["distilled-water"]
    record = msgspec.structs.replace(water, **{"water": share(0.9)} | held)
    data = SimpleNamespace(liquids={"made-up": record}, acids=reference_data().acids)
    monkeypatch.setattr(liquids, "reference_data", lambda: data)
    return catalogue_liquid.__wrapped__("made-up")


@pytest.mark.parametrize(("water", "plain"), [(0.9979, False), (0.998, True), (1.0, True)])
def test_what_holds_two_thousandths_of_something_else_at_most_is_plain_water(
    monkeypatch: pytest.MonkeyPatch, water: float, plain: bool
) -> None:
    found = known(monkeypatch, water=share(water))
    assert found.is_water == plain
    assert found.reason.startswith("plain water") == plain


@pytest.mark.parametrize(("of", "told"), [(0.0049, False), (0.005, True)])
def test_half_a_per_cent_of_fat_acid_or_alcohol_is_a_reason(
    monkeypatch: pytest.MonkeyPatch, of: float, told: bool
) -> None:
    sour = Acidity("lactic-acid", share(of))
    assert ("fat saponifies" in known(monkeypatch, fat=share(of)).reason) == told
    assert ("acid heats" in known(monkeypatch, acidity=sour).reason) == told
    assert ("alcohol boils" in known(monkeypatch, alcohol=share(of)).reason) == told


@pytest.mark.parametrize(("of", "told"), [(0.0009, False), (0.001, True), (0.03, True)])
def test_a_thousandth_of_protein_is_a_reason(monkeypatch: pytest.MonkeyPatch, of: float, told: bool) -> None:
    assert ("proteins scorch" in known(monkeypatch, protein=share(of)).reason) == told
    assert "proteins" not in known(monkeypatch, protein=share(of), water=share(0.999)).reason
