"""Every figure of the service says where it comes from, in which unit, and how well it is known."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from service.calculations.mixing.mixing_contents import ICE_DENSITY
from service.calculations.mixing.mixing_runs import HEAT_OF_FUSION
from tests.proof import sources
from tests.proof.calculation_numbers import CALCULATIONS, NO_FIGURES, SAID, calculation_numbers
from tests.proof.chemistry_numbers import CHEMISTRY, Module
from tests.proof.data_figures import DATA, data_figures
from tests.proof.figures import EVIDENCE, Found
from tests.reference_cases.water_validation import FUSION, iapws_ice_density

WITHOUT_FIGURES = {"fat_compositions.csv", "fats.csv", "label_names.csv", "sources.toml"}
MOST_RECALLED = 339
MOST_PARTLY_RECALLED = 402
"""How many were from memory, and in part from memory, when this was written: the numbers may only fall. (They were 338
and 384 before 0, 1 and 2 of named constants were looked at: nothing more was recalled.)"""
PHYSICAL = {
    "assays/soap_assay.py": {"MOST_SAPONIFIABLE"},
    "assays/stock_assay_hydrometer.py": {"CARBONATE_KNOWN_TO", "CARBONATE_GUESSED_TO"},
    "assays/stock_assay_titration_notes.py": {"HIGHEST_CARBONATE", "CARBONATE_SETTLES_FROM", "DENSITY_ROOM"},
    "assays/titration_readings.py": {"ROOM_FOR_TEMPERATURE", "BURETTE", "DETECTION"},
    "batch/acids.py": {"HEAT_OF_NEUTRALISATION"},
    "batch/blend_reading.py": {"_LACTOSE", "_OTHER_SUGAR", "_ETHANOL", "_ASH"},
    "batch/blend_runs.py": {"HEAT_OF_SAPONIFICATION"},
    "keeping/cooling_notes.py": {"BURNS_AT_A_TOUCH", "WATER"},
    "mixing/mixing_contents.py": {"ICE_DENSITY", "CARBONATE_LIMIT"},
    "mixing/mixing_runs.py": {"HEAT_OF_FUSION", "UNSTATED_LOSS"},
    "mixing/vessel_notes.py": {"PLASTIC_LIMIT", "SUDDEN"},
    "orders/batch_content.py": {"ADDITION", "SOLID"},
    "stock/solutions.py": {"SOLUBILITY"},
}
"""Constants of the calculations that are figures of nature or of a standard."""


@pytest.fixture(scope="module")
def found() -> tuple[Found, ...]:
    return sources.everything()


def numbers(text: str) -> list[Found]:
    return list(Module("a.py", text).numbers())


def figures(folder: Path, text: str, name: str = "a.csv") -> Iterator[Found]:
    (folder / "sources.toml").write_text('[kell]\ntitle = "Water"\n', "utf-8")
    (folder / name).write_text(text, "utf-8")
    return data_figures(folder)


def test_every_figure_has_a_unit_a_source_and_a_word_of_evidence(found: tuple[Found, ...]) -> None:
    assert [one for one in found if one.faults] == []
    assert {one.evidence for one in found} <= set(EVIDENCE)


def test_no_file_is_passed_over(found: tuple[Found, ...]) -> None:
    files = {one.place.partition(":")[0] for one in found}
    assert {path.name for path in DATA.iterdir()} - WITHOUT_FIGURES <= files
    with_figures = {path.name for path in CHEMISTRY.glob("*.py") if "Final = 0." in path.read_text("utf-8")}
    assert with_figures <= files
    assert len(found) > 3700


def test_recalled_figures_only_get_fewer() -> None:
    recalled, partly = sources.recalled(), sources.partly_recalled()
    assert all(one.evidence == "memory" for one in recalled)
    assert 0 < len(recalled) <= MOST_RECALLED
    assert 0 < len(partly) <= MOST_PARTLY_RECALLED
    assert not set(recalled) & set(partly)


def test_what_is_reckoned_by_something_recalled_counts_as_such(found: tuple[Found, ...]) -> None:
    """16 freezing points of KOH lie on a parabola to a eutectic that is from memory."""
    partly = sources.partly_recalled()
    assert {one for one in found if one.evidence == "mixed"} < set(partly)
    assert sum(one.name.startswith("KOH") and one.place.startswith("freezing") for one in partly) >= 16
    assert all(one.note for one in partly)


def test_an_interval_that_was_judged_by_something_recalled_says_so_in_its_note() -> None:
    """Gerlach's boiling points, the International Critical Tables, Perry's, Thomsen's and the textbook's heats."""
    partly = {(one.place.partition(":")[0], one.name): one.note for one in sources.partly_recalled()}
    for module, name in (
        ("vapour_pressure.py", "_LEAST_NAOH"),
        ("vapour_pressure.py", "_GERLACH"),
        ("vapour_pressure.py", "_SPREAD_KOH"),
        ("density.py", "_SPREAD"),
        ("density.py", "_SPREAD_KOH"),
        ("enthalpy.py", "_DILUTION_SPREAD"),
    ):
        assert "from memory" in partly[module, name], name


def test_physical_figures_of_the_calculations_are_looked_at(found: tuple[Found, ...]) -> None:
    for file, names in PHYSICAL.items():
        assert names <= {one.name for one in found if one.place.startswith(f"{file}:")}, file
    known = {path.relative_to(CALCULATIONS).as_posix() for path in CALCULATIONS.rglob("*.py")}
    assert {file for file, _ in (*NO_FIGURES, *SAID)} <= known


@pytest.mark.parametrize(
    ("code", "kept", "missing"),
    [
        ('A: Final = 916.0\n"""Of ice [kg/m3]."""\n', True, ("source", "evidence")),
        ('A: Final = 916.0\n"""Of ice [kg/m3] (tables, from memory)."""\n', True, ()),
        ('A: Final = 60.0\n"""It softens [°C] (from memory)."""\n', True, ()),
        ('A: Final = 60.0\n"""It softens (common practice)."""\n', True, ("unit",)),
        ('A: Final = 60.0\n"""Temperature [°C] from which a word is due."""\n', False, ()),
        ("MOST: Final = 60\n", False, ()),
        ('def f() -> float:\n    """Heat [J/kg] (Kell 1975, seen-secondary)."""\n    return 0.3\n', False, ()),
    ],
)
def test_a_constant_of_the_calculations_is_looked_at_by_its_docstring(
    tmp_path: Path, code: str, kept: bool, missing: tuple[str, ...]
) -> None:
    (tmp_path / "a.py").write_text(code, "utf-8")
    read = list(calculation_numbers(tmp_path))
    assert bool(read) is kept
    assert [one.faults for one in read] == [missing] * len(read)


def test_ice_is_as_dense_and_takes_as_much_to_melt_as_iapws_has_it() -> None:
    """R10-06(2009) and, of the liquid, IAPWS-95, as programmed in the package iapws 1.5.5; in the digits kept."""
    assert pytest.approx(iapws_ice_density(0.0), abs=0.05) == ICE_DENSITY
    assert pytest.approx(FUSION, abs=50.0) == HEAT_OF_FUSION


@pytest.mark.parametrize(
    ("sentence", "unit"),
    [
        ("29 to 35 °C (85 °F)", "°C"),
        ("28 to 30 % of it", "%"),
        ("1:1 is the floor", "1"),
        ("0.69 g/mL", "g/mL"),
        ("1886.", "1"),
    ],
)
def test_a_number_of_a_sentence_has_the_unit_that_follows_it(tmp_path: Path, sentence: str, unit: str) -> None:
    text = f'[b]\nstatement = "{sentence}"\nsource = "kell"\nevidence = "memory"\n'
    assert next(figures(tmp_path, text, "a.toml")).unit == unit


def test_what_is_printed_adds_up(found: tuple[Found, ...], capsys: pytest.CaptureFixture[str]) -> None:
    assert sum(sources.counts(found).values()) == len(found)
    assert sources.main(["--faults"]) == 0
    assert capsys.readouterr().out == "No figure lacks anything.\n"
    sources.main(["--all"])
    assert len(capsys.readouterr().out.splitlines()) == len(found)
    sources.main([])
    assert "lacking something: 0" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("code", "missing"),
    [
        ("A: Final = 0.3\n", ("unit", "source", "evidence")),
        ('A: Final = 0.3\n"""Of water [W/(m K)]."""\n', ("unit", "source", "evidence")),
        ('A: Final = 0.3\n"""Of water (assumed)."""\n', ("unit",)),
        ('A: Final = 0.3\n"""Of water [-] (from memory)."""\n', ("source",)),
        ('A: Final = 0.3\n"""Of water [-] (handbooks: some computed, some assumed)."""\n', ("evidence",)),
        ('A: Final = 0.3\n"""Of water [-] (somebody said so)."""\n', ("unit", "source", "evidence")),
        ('A: Final = 0.3\n\nB: Final = 0.4\n"""Of water [-] (assumed)."""\n', ("unit", "source", "evidence")),
        ("def f(t: float) -> float:\n    return 0.3 * t\n", ("unit", "source", "evidence")),
        ("def f(t: float = 20.0) -> float:\n    return t\n", ("unit", "source", "evidence")),
        ("def f(t: float) -> bool:\n    return t < 0.3\n", ("unit", "source", "evidence")),
        ("class A(NamedTuple):\n    t: float = 20.0\n", ("unit", "source", "evidence")),
        ('def f() -> None:\n    require("colour", 1.0, 0.0, 0.3, "it ends there")\n', ("unit",)),
    ],
)
def test_a_number_in_the_code_that_says_too_little_is_found(code: str, missing: tuple[str, ...]) -> None:
    assert numbers(code)[0].faults == missing


@pytest.mark.parametrize(
    ("code", "evidence"),
    [
        ('A: Final = 0.3\nB: Final = 0.4\n"""Of water [-] (assumed)."""\n', "assumed"),
        ('"""x\n\nReferences:\n    .. [1] Kell 1975.\n"""\nA: Final = 0.3\n"""[-] [1]_ (from memory)."""\n', "memory"),
        ('A: Final = 0.3\n"""Of soap [-] (common practice of workshops)."""\n', "common-practice"),
        ('def f() -> float:\n    """Heat [J] (Kell 1975, seen-secondary)."""\n    return 0.3\n', "seen-secondary"),
        ("def f(t: float) -> float:\n    return t**3 / 1000.0\n", "exact"),
        ("def f(t: float) -> float:\n    return t + 273.15\n", "exact"),
        ("def f(t: float) -> bool:\n    return abs(t) < 1e-12\n", "numerical"),
        ("def f() -> None:\n    for _ in range(40):\n        pass\n", "numerical"),
        ('def f(t: float) -> None:\n    require("temperature", t, 0.0, 0.3, "it boils")\n', "assumed"),
    ],
)
def test_a_number_that_says_enough_passes(code: str, evidence: str) -> None:
    first = numbers(code)[0]
    assert (first.faults, first.evidence) == ((), evidence)


@pytest.mark.parametrize(
    "code",
    [
        "def f(t: float = 0.0) -> float:\n    return 1.0 - 2.0 * t\n",
        "class A(NamedTuple):\n    t: float = 0.0\n    purity: float = 1.0\n",
    ],
)
def test_nought_one_and_two_need_no_word_within_functions_and_records(code: str) -> None:
    assert numbers(code) == []


@pytest.mark.parametrize(
    "code", ["A: Final = 1.0\n", "A = -2\n", "A: Final = (0.5, 0)\n", "A: Final = Heat(2.0)\n", "A: Final = 2 * B\n"]
)
def test_nought_one_and_two_need_a_word_where_a_constant_gives_them_a_meaning(code: str) -> None:
    assert numbers(code)[-1].faults == ("unit", "source", "evidence")
    assert numbers(f'{code}"""Of black paint [-] (assumed)."""\n')[-1].faults == ()


def test_figures_of_a_table_are_read_with_what_its_head_says(tmp_path: Path) -> None:
    head = "# source: Kell, 1975\n# evidence: memory\n# units: value [K] where index=9; value [kPa]\n"
    nine, ten = figures(tmp_path, head + "index,value\n9,0.5\n10,1e-3\n")
    assert nine == Found("a.csv:5", "9 value", 0.5, "K", "Kell, 1975", "memory", "")
    assert (ten.unit, ten.value, ten.faults) == ("kPa", 1e-3, ())


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("# source: Kell, 1975\n# evidence: memory\nvalue\n3\n", ("unit",)),
        ("# units: value [K]\nvalue,source,evidence\n3,kall,memory\n", ("source",)),
        ("# units: value [K]\nvalue,source,evidence\n3,kell,read\n", ("evidence",)),
        ("# units: other [K]\nvalue,source\n3,\n", ("unit", "source", "evidence")),
    ],
)
def test_a_figure_of_a_table_that_says_too_little_is_found(tmp_path: Path, text: str, missing: tuple[str, ...]) -> None:
    assert next(figures(tmp_path, text)).faults == missing


def test_figures_of_records_are_found_at_any_depth(tmp_path: Path) -> None:
    text = (
        "# units: mass [kg]; heat [J]; limits.at [K]\n# origins: mass kell computed\n"
        '[a]\nmass = 3\nheat = { low = 4, source = "kell", evidence = "memory" }\n'
        '[[a.limits]]\nat = 5\nsource = "kell"\nevidence = "assumed"\n'
        '[b]\nstatement = "Half of 28 to 30 %."\nsource = "kell"\nevidence = "memory"\n'
    )
    found = list(figures(tmp_path, text, "a.toml"))
    assert [one.faults for one in found] == [()] * 5
    assert [(one.value, one.unit) for one in found[:3]] == [(3, "kg"), (4, "J"), (5, "K")]
    assert [one.value for one in found[3:]] == [28, 30]
