"""What the reference data hold, and figures checked against their publications."""

import math
from collections.abc import Iterator
from typing import get_args

import pytest

from service.reference import Acid, Composition, Evidence, Figure, Practice, ReferenceData, reference_data

Published = tuple[str, str, float, float]


@pytest.fixture(scope="module")
def data() -> ReferenceData:
    return reference_data()


def figures(data: ReferenceData) -> Iterator[tuple[str, Figure]]:
    """Every figure, with the name of what it belongs to."""
    for fat in data.fats.values():
        used = (fat.saponification_value, fat.iodine_value, fat.unsaponifiable, fat.melting)
        others = tuple(figure for _, figure in fat.other_figures)
        yield from ((fat.id, figure) for figure in used + others if figure)
    for liquid in data.liquids.values():
        shares = (liquid.water, liquid.fat, liquid.protein, liquid.carbohydrate, liquid.sugars, liquid.ash)
        acidity = liquid.acidity and liquid.acidity.mass_fraction
        more = (liquid.alcohol, liquid.density, acidity)
        yield from ((liquid.id, figure) for figure in shares + more if figure)
    for alkali in data.alkalis.values():
        yield from ((alkali.id, figure) for figure in (alkali.purity, alkali.carbonate))
    for material in data.vessel_materials.values():
        constants = (material.heat_capacity, material.conductivity, material.density)
        limits = tuple(limit.temperature for limit in material.limits)
        yield from ((material.id, figure) for figure in constants + limits if figure)


def test_there_are_enough_fats_and_liquids_to_work_with(data: ReferenceData) -> None:
    assert len(data.fats) >= 60
    assert len(data.liquids) >= 50
    assert len(data.fatty_acids) == 34


def test_usual_materials_are_found_under_their_plain_names(data: ReferenceData) -> None:
    assert {"olive-oil", "coconut-oil", "shea-butter", "beef-tallow", "stearic-acid"} <= data.fats.keys()
    assert {"goat-milk", "carrot-juice", "coffee-brewed", "distilled-water"} <= data.liquids.keys()
    assert "citric-acid-anhydrous" in data.acids
    assert {"hdpe", "stainless-steel"} <= data.vessel_materials.keys()
    assert data.alkalis.keys() == {"NaOH", "KOH"}


def test_every_figure_names_a_known_source_and_how_well_it_was_verified(data: ReferenceData) -> None:
    words = set(get_args(Evidence))
    for name, figure in figures(data):
        assert figure.source in data.sources, name
        assert figure.evidence in words, name
        assert figure.low <= figure.high, name
    compositions = [fat.fatty_acids for fat in data.fats.values() if fat.fatty_acids]
    entries: list[Acid | Practice | Composition] = [
        *data.acids.values(),
        *data.practices.values(),
        *compositions,
    ]
    for entry in entries:
        assert entry.source in data.sources
        assert entry.evidence in words


def test_what_rests_on_memory_alone_names_no_page_as_read(data: ReferenceData) -> None:
    recalled = [figure for _, figure in figures(data) if figure.source == "handbooks-recalled"]
    assert recalled
    assert {figure.evidence for figure in recalled} <= {"memory", "mixed", "assumed"}


def test_figures_used_for_calculation_have_two_ends(data: ReferenceData) -> None:
    for fat in data.fats.values():
        for figure in (fat.saponification_value, fat.iodine_value, fat.unsaponifiable, fat.melting):
            if figure:
                assert math.isfinite(figure.low), fat.id
                assert math.isfinite(figure.high), fat.id


def test_only_pure_fatty_acids_have_a_saponification_value_without_spread(data: ReferenceData) -> None:
    exact = {fat.id for fat in data.fats.values() if fat.saponification_value.half_width == 0}
    assert exact == {"lauric-acid", "myristic-acid", "palmitic-acid", "oleic-acid", "stearic-acid-pure"}


def test_a_single_value_is_used_with_assumed_limits_of_3_percent(data: ReferenceData) -> None:
    assumed = [
        (fat, fat.saponification_value)
        for fat in data.fats.values()
        if "limits of 3 %" in fat.saponification_value.note
    ]
    assert len(assumed) >= 10
    for fat, used in assumed:
        assert used.evidence == "mixed"
        assert used.half_width / used.middle == pytest.approx(0.03, abs=0.0005), fat.id
        published = [
            figure
            for name, figure in fat.other_figures
            if name == "saponification_value" and figure.source == used.source
        ]
        # both ends are printed to 0.1 mg/g
        assert used.middle == pytest.approx(published[0].middle, abs=0.0001), fat.id


def test_waxes_are_known_to_be_hardly_saponified(data: ReferenceData) -> None:
    hardly = {fat.id for fat in data.fats.values() if fat.hardly_saponified}
    assert hardly == {"jojoba-oil", "beeswax", "wool-fat", "wool-fat-hydrous"}
    for fat in hardly:
        assert data.fats[fat].kind == "wax"
        assert "no glycerol" in data.fats[fat].caution


@pytest.mark.parametrize("fat", ["shea-butter", "neem-oil", "sal-fat", "borneo-tallow", "mowrah-fat"])
def test_fats_that_a_table_cannot_settle_say_so(data: ReferenceData, fat: str) -> None:
    assert data.fats[fat].caution


def test_typical_analyses_add_up_to_the_whole_and_limits_surround_it(data: ReferenceData) -> None:
    for fat in data.fats.values():
        if fat.fatty_acids is None:
            continue
        lows = sum(low for low, _ in fat.fatty_acids.shares.values())
        highs = sum(high for _, high in fat.fatty_acids.shares.values())
        if fat.fatty_acids.is_range:
            assert lows <= 1 <= highs, fat.id
        else:
            assert lows == pytest.approx(1, abs=1e-12), fat.id
            assert highs == pytest.approx(1, abs=1e-12), fat.id


def test_liquids_with_fat_say_which_fat_it_is_like(data: ReferenceData) -> None:
    for liquid in data.liquids.values():
        if liquid.fat.middle >= 0.005:
            assert liquid.fat_like in data.fats, liquid.id


def test_distilled_water_is_water_alone(data: ReferenceData) -> None:
    water = data.liquids["distilled-water"]
    assert water.water.low == 1
    assert water.acidity is None
    # TEOS-10 (IOC, SCOR, IAPSO 2010) gives 998.21 kg/m3 at 20 °C and one atmosphere
    assert water.density is not None
    assert water.density.middle == pytest.approx(998.2, abs=0.02)


def test_purity_of_solid_koh_must_be_given_and_naoh_has_a_default(data: ReferenceData) -> None:
    assert data.alkalis["NaOH"].default_purity == 1
    assert data.alkalis["KOH"].default_purity is None


def test_unsuitable_materials_have_no_temperature_limit(data: ReferenceData) -> None:
    unsuitable = [m for m in data.vessel_materials.values() if m.suitable == "no"]
    assert {"aluminium", "pet", "polycarbonate"} <= {material.id for material in unsuitable}
    assert all(not material.limits for material in unsuitable)


def test_metals_that_give_off_hydrogen_are_those_named_by_the_maker(data: ReferenceData) -> None:
    # Dow Chemical, caustic soda: aluminium, tin and zinc, so that galvanised ware does too
    found = {key for key, material in data.vessel_materials.items() if "hydrogen" in material.hazards}
    assert found == {"aluminium", "galvanised-steel", "tin", "zinc"}
    assert all(data.vessel_materials[key].suitable == "no" for key in found)


def test_glass_and_nothing_else_suffers_from_sudden_heat(data: ReferenceData) -> None:
    found = {key for key, material in data.vessel_materials.items() if "thermal-shock" in material.hazards}
    assert found == {key for key in data.vessel_materials if key.startswith("glass")} != set()


FAT_LIMITS: list[Published] = [
    # Codex Alimentarius, CXS 210-1999, Table 2
    ("coconut-oil", "saponification_value", 0.248, 0.265),
    ("coconut-oil", "iodine_value", 0.063, 0.106),
    ("palm-oil", "saponification_value", 0.190, 0.209),
    ("palm-oil", "iodine_value", 0.50, 0.55),
    ("soybean-oil", "saponification_value", 0.189, 0.195),
    ("soybean-oil", "iodine_value", 1.24, 1.39),
    ("rice-bran-oil", "unsaponifiable", 0, 0.065),
    # the same, as amended in December 2022
    ("sunflower-oil", "saponification_value", 0.187, 0.194),
    # CXS 33-1981 and trade standard of the International Olive Council
    ("olive-oil", "saponification_value", 0.184, 0.196),
    ("olive-oil", "iodine_value", 0.75, 0.94),
    # CXS 325R-2017, Table 2
    ("shea-butter", "saponification_value", 0.160, 0.195),
    ("shea-butter", "unsaponifiable", 0.01, 0.19),
    # British Pharmacopoeia 1993, Castor Oil
    ("castor-oil", "saponification_value", 0.176, 0.187),
    # European Pharmacopoeia: White Beeswax (acid value 17-24 and ester value 70-80), Virgin Linseed Oil
    ("beeswax", "saponification_value", 0.087, 0.104),
    ("linseed-oil", "iodine_value", 1.60, 2.00),
    # Food Regulations 1985 of Malaysia, regulation 181, suet
    ("beef-tallow", "saponification_value", 0.190, 0.200),
]


@pytest.mark.parametrize(("fat", "name", "low", "high"), FAT_LIMITS)
def test_limits_of_fats_are_those_published(data: ReferenceData, fat: str, name: str, low: float, high: float) -> None:
    figure = getattr(data.fats[fat], name)
    assert figure.low == pytest.approx(low, rel=1e-12)
    assert figure.high == pytest.approx(high, rel=1e-12)


FATTY_ACIDS: list[Published] = [
    # CXS 210-1999, Table 1
    ("coconut-oil", "C12:0", 0.451, 0.532),
    ("palm-oil", "C16:0", 0.393, 0.475),
    ("soybean-oil", "C18:2", 0.48, 0.59),
    # CXS 33-1981
    ("olive-oil", "C18:1", 0.55, 0.83),
    # USDA SR26, NDB 04501: 33.2 g and 32.6 g of the 94.4 g of fatty acids in 100 g cocoa butter
    ("cocoa-butter", "C18:0", 33.2 / 94.4, 33.2 / 94.4),
    ("cocoa-butter", "C18:1", 32.6 / 94.4, 32.6 / 94.4),
]


@pytest.mark.parametrize(("fat", "acid", "low", "high"), FATTY_ACIDS)
def test_fatty_acids_are_those_published(data: ReferenceData, fat: str, acid: str, low: float, high: float) -> None:
    composition = data.fats[fat].fatty_acids
    assert composition is not None
    assert composition.shares[acid] == pytest.approx((low, high), rel=1e-9)


# USDA SR26: NDB 01106, 01106, 19296, 12118, 01125; g per 100 g
LIQUIDS = [
    ("goat-milk", "water", 0.8703),
    ("goat-milk", "fat", 0.0414),
    ("honey", "water", 0.1710),
    ("coconut-milk-canned", "fat", 0.2133),
    ("egg-yolk", "protein", 0.1586),
]


@pytest.mark.parametrize(("liquid", "name", "share"), LIQUIDS)
def test_shares_of_liquids_are_those_published(data: ReferenceData, liquid: str, name: str, share: float) -> None:
    assert getattr(data.liquids[liquid], name).middle == pytest.approx(share, rel=1e-12)


def test_acid_of_cider_vinegar_is_what_its_analysis_leaves(data: ReferenceData) -> None:
    # USDA SR26, NDB 02048: 93.81 g water, 0.93 g carbohydrate and 0.17 g ash in 100 g
    acidity = data.liquids["cider-vinegar"].acidity
    assert acidity is not None
    assert acidity.acid == "acetic-acid"
    assert acidity.mass_fraction.middle == pytest.approx(1 - 0.9381 - 0.0093 - 0.0017, abs=1e-9)


def test_limits_of_alkalis_are_those_published(data: ReferenceData) -> None:
    # JECFA, INS 524: at least 95.0 % total alkali, at most 3 % carbonate as Na2CO3
    assert data.alkalis["NaOH"].purity.low == pytest.approx(0.95)
    assert data.alkalis["NaOH"].carbonate.high == pytest.approx(0.03)
    # USP-NF 2018: at least 85.0 % total alkali, at most 3.5 % K2CO3
    assert data.alkalis["KOH"].purity.low == pytest.approx(0.85)
    assert data.alkalis["KOH"].carbonate.high == pytest.approx(0.035)


def test_limits_of_stainless_steel_are_those_published(data: ReferenceData) -> None:
    # Parr, Corrosion of stainless steel by hot caustic: about 80 °C for 40 %, 70 °C for 50 %
    limits = data.vessel_materials["stainless-steel"].limits
    assert [(limit.strength, limit.temperature.high) for limit in limits] == [(0.4, 80), (0.5, 70)]
