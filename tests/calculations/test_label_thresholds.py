"""Where lists of ingredients turn: at the figures that the laws name, and at no rounding beside them.

Regulation (EC) No 1223/2009, Article 19(1)(g) and Annex III, and 21 CFR 701.3(f), all from memory.
"""

import pytest

from service.calculations.orders.label_laws import LAWS, LawName, is_little
from service.calculations.orders.label_list import Kind, Material, listed
from service.calculations.orders.net_mass import net_mass

EU: tuple[LawName, ...] = ("eu-as-added", "eu-as-present")
US: tuple[LawName, ...] = ("us-as-added", "us-as-present")


def names(law: LawName, *lines: tuple[str, float, Kind]) -> list[str]:
    materials = [Material(name, mass, kind, "as-given") for name, mass, kind in lines]
    return [one.inci_name for one in listed(materials, 100.0, LAWS[law])]


@pytest.mark.parametrize("law", EU)
def test_in_the_european_union_less_than_one_per_cent_is_little(law: LawName) -> None:
    assert not is_little(LAWS[law], 0.01)
    assert not is_little(LAWS[law], 0.0101)
    assert is_little(LAWS[law], 0.0099)


@pytest.mark.parametrize("law", US)
def test_in_the_united_states_one_per_cent_is_little_too(law: LawName) -> None:
    assert is_little(LAWS[law], 0.01)
    assert is_little(LAWS[law], 0.0099)
    assert not is_little(LAWS[law], 0.0101)


@pytest.mark.parametrize("law", LAWS)
def test_a_ten_millionth_beside_one_per_cent_is_no_rounding(law: LawName) -> None:
    assert not is_little(LAWS[law], 0.01 * (1 + 1e-7))
    assert is_little(LAWS[law], 0.01 * (1 - 1e-7))


@pytest.mark.parametrize("law", EU)
def test_an_allergen_is_named_above_a_hundredth_of_a_per_cent(law: LawName) -> None:
    lines: list[tuple[str, float, Kind]] = [
        ("Oil", 97, "ingredient"),
        ("Geraniol", 0.0099, "allergen"),
        ("Limonene", 0.01, "allergen"),
        ("Linalool", 0.0101, "allergen"),
    ]
    assert names(law, *lines) == ["Oil", "Linalool"]


@pytest.mark.parametrize("law", US)
def test_no_allergen_is_named_in_the_united_states(law: LawName) -> None:
    assert names(law, ("Oil", 97, "ingredient"), ("Linalool", 3, "allergen")) == ["Oil"]


@pytest.mark.parametrize("law", LAWS)
def test_a_law_tells_what_it_lists_and_in_whose_words(law: LawName) -> None:
    told = LAWS[law]
    assert told.as_added == law.endswith("added")
    assert told.us_names == law.startswith("us")
    assert (told.water, told.fragrance) == (("Water", "Fragrance") if told.us_names else ("Aqua", "Parfum"))
    assert ("put in" in told.basis, "finished bar" in told.basis) == (told.as_added, not told.as_added)
    assert told.basis.startswith("21 CFR 701.3" if told.us_names else "Regulation (EC) No 1223/2009")


@pytest.mark.parametrize("law", LAWS)
def test_of_what_there_is_none_nothing_is_listed(law: LawName) -> None:
    assert names(law, ("Water", 0, "ingredient"), ("CI 77492", 0, "colour"), ("Oil", 100, "ingredient")) == ["Oil"]


def test_a_chain_of_near_equals_does_not_put_the_lighter_first() -> None:
    """Of three, the last weighs less than the first by more than rounding, and than the second by rounding alone."""
    chain = [("Zinc", 30.0), ("Clay", 30.0 * (1 - 0.8e-9)), ("Ash", 30.0 * (1 - 1.6e-9))]
    assert names("eu-as-added", *((name, mass, "ingredient") for name, mass in chain)) == ["Clay", "Zinc", "Ash"]


def test_a_small_share_keeps_its_place_by_the_same_relative_difference_as_a_large_one() -> None:
    for mass in (0.02, 2.0, 50.0):
        more, less = ("Zinc", mass, "ingredient"), ("Ash", mass * (1 - 1e-7), "ingredient")
        assert names("us-as-added", less, more) == ["Zinc", "Ash"]  # type: ignore[arg-type]
        assert names("us-as-added", ("Ash", mass * (1 - 1e-10), "ingredient"), more) == ["Ash", "Zinc"]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("grams", "metric", "customary"),
    [
        (1.0, "1 g", "0.03 oz"),  # 0.0353 oz
        (1.9, "1 g", "0.06 oz"),  # 0.0670 oz
        (453.59237, "453 g", "1 lb 0 oz (16 oz)"),
        (453.5, "453 g", "15.99 oz"),  # 15.9967 oz
        (999.9, "999 g", "2 lb 3.27 oz (35.27 oz)"),  # 35.2704 oz
        (1000.0, "1 kg", "2 lb 3.27 oz (35.27 oz)"),  # 35.2740 oz
    ],
)
def test_a_net_mass_goes_over_to_larger_units_where_the_law_has_it(grams: float, metric: str, customary: str) -> None:
    """From one pound on also pounds; the pound is 453.59237 g, exactly (NIST Handbook 44, appendix C)."""
    found = net_mass(grams / 1000)
    assert (found.metric, found.customary) == (metric, customary)


@pytest.mark.parametrize("grams", range(1, 60))
def test_a_whole_gram_is_told_whole_whatever_its_last_bit(grams: int) -> None:
    assert net_mass(grams / 1000).metric == f"{grams} g"
    assert net_mass(grams * 28.349523125 / 1000).customary.endswith(f"{grams} oz" + (")" if grams >= 16 else ""))
