"""Water by every word there is for it: it is in the catalogue under two names, and is no juice of a nut."""

from typing import Final

from service.calculations.shared.faults import OTHER_NAMES, nearest_entries
from service.reference import reference_data

FATS: Final = reference_data().fats
LIQUIDS: Final = reference_data().liquids


def test_another_name_of_a_liquid_or_a_fat_is_that_one() -> None:
    for word, meant in OTHER_NAMES.items():
        shelf = FATS if meant in FATS else LIQUIDS
        assert nearest_entries(word.replace("-", " ").title(), shelf) == [meant], word


def test_water_is_plain_water_by_every_word_for_it_and_no_juice() -> None:
    for word in ("water", "pure water", "deionised water", "aqua", "H2O"):
        assert nearest_entries(word, LIQUIDS) == ["distilled-water"], word
    for word in ("spring water", "hard water"):
        assert nearest_entries(word, LIQUIDS) == ["tap-water"], word
