"""Alkali that is weighed dry: what it counts for, and what is told of dissolving it."""

import pytest

from service.calculations.batch.split import Source
from service.calculations.batch.split_notes import caution_split
from tests.calculations.asking import ask, message_of
from tests.calculations.test_split_parts import DRY, NAME, OWN, liquid

TESTED = (Source, caution_split)
"""What these tests are of: mutants of its modules meet them first."""


def test_dry_potash_of_unsaid_purity_counts_as_the_pure_hydroxide_that_was_asked_for() -> None:
    """190 g of pure KOH are what the oil takes, by the definition of its saponification value: 5 % less leaves 5 %."""
    for superfat in (0.05, 0.12):
        potash = [{"alkali": "KOH", "mass": f"{190 * (1 - superfat)!r} g"}]
        answer = ask(NAME, {"alkalis": potash, "fats": [OWN]})
        assert answer["superfat"]["value"] == pytest.approx(superfat, abs=1e-9)
        assert "mass_as_supplied" not in answer["weigh_dry"][0]


def test_more_of_the_water_is_advised_to_dissolve_alkali_in_only_where_there_is_more() -> None:
    """Of 2:1 half is what the alkali is dissolved in, unless all of it goes there."""
    some = message_of(ask(NAME, DRY), "dissolving-heats")
    assert "use more of the water for it, ice for a part" in some
    everything = DRY | {"liquids": [liquid("distilled-water", add_to="stock")]}
    assert "more of the water" not in message_of(ask(NAME, everything), "dissolving-heats")
