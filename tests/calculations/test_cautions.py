"""Every caution there is, each drawn out by a request made for it and absent from one close by."""

import re
from pathlib import Path
from typing import get_args

import pytest

from service.calculations.shared.cautions import GROUNDS, Severity, degrees
from service.calculations.shared.notes import Notes, points
from service.calculations.shared.standing_cautions import HANDLING, STANDING, of_solution
from service.chemistry.mixing import mix
from service.chemistry.mixing_records import Charge, Solid, Water
from tests.calculations import (
    caution_cases,
    caution_cases_of_batches,
    caution_cases_of_cooling,
    caution_cases_of_dilution,
    caution_cases_of_hydrometers,
    caution_cases_of_ice,
    caution_cases_of_mixing,
    caution_cases_of_paste,
    caution_cases_of_plans,
    caution_cases_of_sheets,
    caution_cases_of_standing,
    caution_cases_of_superfat,
    caution_cases_of_titrations,
    caution_cases_of_warming,
)
from tests.calculations.asking import ask, cautions
from tests.calculations.caution_cases import BEADS, FLAKES, C, Case, L, S, batch, recipe, solution
from tests.calculations.caution_cases_of_mixing import M, held, mixing

CASES = [
    *caution_cases.CASES,
    *caution_cases_of_batches.CASES,
    *caution_cases_of_hydrometers.CASES,
    *caution_cases_of_cooling.CASES,
    *caution_cases_of_dilution.CASES,
    *caution_cases_of_ice.CASES,
    *caution_cases_of_mixing.CASES,
    *caution_cases_of_paste.CASES,
    *caution_cases_of_plans.CASES,
    *caution_cases_of_sheets.CASES,
    *caution_cases_of_standing.CASES,
    *caution_cases_of_superfat.CASES,
    *caution_cases_of_titrations.CASES,
    *caution_cases_of_warming.CASES,
]


@pytest.mark.parametrize(("code", "case"), CASES, ids=[f"{code}-{case.name}-{case.severity}" for code, case in CASES])
def test_a_caution_is_given_where_it_is_due_and_only_there(code: str, case: Case) -> None:
    given = cautions(ask(case.name, case.request))
    assert given[code]["severity"] == case.severity
    assert case.basis in given[code]["basis"]
    assert given[code]["basis"]
    assert case.text in given[code]["message"]
    if case.without is not None:
        assert code not in cautions(ask(case.elsewhere or case.name, case.without))


def test_every_caution_there_is_has_a_request_with_and_one_without() -> None:
    assert {code for code, _ in CASES} == GROUNDS.keys()
    assert {code for code, case in CASES if case.without is not None} == GROUNDS.keys()


def test_every_code_the_readme_names_is_one() -> None:
    safety = (Path(__file__).parents[2] / "README.md").read_text("utf-8").partition("## Safety")[2]
    named = {code for row in safety.splitlines() if row.startswith("|") for code in re.findall(r"`([a-z-]+)`", row)}
    assert {"alkali-burns", "local-codes-first", "caustic-waste"} <= named <= GROUNDS.keys()


@pytest.mark.parametrize("code", GROUNDS)
def test_the_severity_of_the_contract_is_one_that_is_given(code: str) -> None:
    assert GROUNDS[code].severity in {case.severity for one, case in CASES if one == code}  # type: ignore[index]
    assert GROUNDS[code].severity in get_args(Severity)  # type: ignore[index]
    assert GROUNDS[code].meaning.endswith(".")  # type: ignore[index]


@pytest.mark.parametrize("case", [case for _, case in CASES])
def test_messages_of_cautions_are_whole_sentences_and_short(case: Case) -> None:
    for one in ask(case.name, case.request)["cautions"]:
        assert one["message"].endswith(".")
        assert not one["message"][0].islower() or one["message"].startswith("own oil")
        assert len(one["message"]) <= 320
        assert "None" not in one["message"]


def test_a_caution_is_not_said_twice() -> None:
    """Two stocks, and the same liquid on two lines."""
    request = batch(
        alkalis=BEADS + FLAKES,
        stocks=[{"alkali": name, "strength": {"mass_fraction": "45 %"}} for name in ("NaOH", "KOH")],
        liquids=[{"liquid": "goat-milk", "mass": "5 g"}] * 2,
    )
    said = [(one["code"], one["message"]) for one in ask(L, request)["cautions"]]
    assert len(said) == len(set(said))
    codes = [code for code, _ in said]
    assert codes.count("stock-by-weight-only") == codes.count("carbon-monoxide") == 1


def test_what_stands_is_said_once_though_two_alkalis_are_dissolved() -> None:
    codes = [one["code"] for one in ask(L, batch(alkalis=BEADS + FLAKES, stocks=[]))["cautions"]]
    for code in ("solid-into-water", "caustic-mist", "metals-attacked", "alkali-burns"):
        assert codes.count(code) == 1


@pytest.mark.parametrize(
    ("name", "request_"),
    [(S, recipe(superfat="1 %")), (L, batch("beer", stocks=[])), (C, solution(t="12 °C")), (M, held("tin", lid=True))],
)
def test_the_gravest_cautions_come_first(name: str, request_: dict[str, object]) -> None:
    severities = [one["severity"] for one in ask(name, request_)["cautions"]]
    assert severities == sorted(severities, key=["danger", "caution", "note"].index)
    assert severities[0] == "danger"


def test_a_strength_asked_for_gets_fewer_cautions_than_a_mixing() -> None:
    """A question of properties must not drown in what concerns whoever mixes."""
    asked, mixed = ask(C, solution("50 %", "25 °C"))["cautions"], ask(M, mixing())["cautions"]
    assert len(asked) <= 5
    assert len(mixed) > 2 * len(asked)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_worst_proportion_with_water_of_25_degrees_comes_close_to_boiling_and_of_15_does_not(alkali: str) -> None:
    """The threshold of local boiling is computed, not chosen; commercial flakes of KOH hold a tenth of water."""
    solid = Solid("NaOH", 1.03, 20.0) if alkali == "NaOH" else Solid("KOH", 1.19, 20.0, 0.9, 0.1)
    warm, cool = (mix(solid, Charge(water=Water(1.0, t)), points=50).boiling_margin for t in (25.0, 15.0))
    assert warm is not None
    assert cool is not None
    assert warm < 11 < cool


@pytest.mark.parametrize(
    ("value", "decimals", "apart", "text"),
    [
        (93.3, None, False, "93 °C (200 °F)"),
        (100.0, None, False, "100 °C (212 °F)"),
        (11.3, 1, False, "11.3 °C (52.3 °F)"),
        (-40.0, None, False, "-40 °C (-40 °F)"),
        (-0.2, None, False, "0 °C (32 °F)"),
        (-0.02, 1, False, "0 °C (32 °F)"),
        (10.0, None, True, "10 K (18 °F)"),
        (6.25, 1, True, "6.2 K (11.2 °F)"),
    ],
)
def test_temperatures_in_messages_are_told_on_both_scales(
    value: float, decimals: int | None, apart: bool, text: str
) -> None:
    assert degrees(value, decimals, apart=apart) == text


@pytest.mark.parametrize(("name", "request_"), [(C, solution(t="12 °C")), (M, held("hdpe")), (L, batch(stocks=[]))])
def test_no_message_tells_a_temperature_on_one_scale_alone(name: str, request_: dict[str, object]) -> None:
    for one in ask(name, request_)["cautions"]:
        assert one["message"].count("°C") + one["message"].count(" K (") == one["message"].count("°F)")


@pytest.mark.parametrize(
    ("apart", "decimals", "text"),
    [
        (0.0035, 2, "0.35 percentage points"),
        (0.01, 2, "1 percentage point"),
        (0.035, 1, "3.5 percentage points"),
        (0.00002, 2, "less than 0.01 percentage points"),
        (0.0, 2, "0 percentage points"),
    ],
)
def test_by_how_much_two_percentages_differ_is_told_in_points(apart: float, decimals: int, text: str) -> None:
    """5 % of a strength of 50 % are 2.5 percentage points, and who reads one for the other is off by half."""
    assert points(apart, decimals) == text


@pytest.mark.parametrize(
    ("code", "text"),
    [
        ("adjustment-within-spread", "that strength is known to"),
        ("below-detection", "give or take"),
        ("moisture-assumed", "bound water; up to"),
        ("strength-hardly-known", "a superfat moves by as many"),
        ("budget-incomplete", "a kelvin is"),
    ],
)
def test_a_difference_of_percentages_in_a_caution_is_one_of_percentage_points(code: str, text: str) -> None:
    told = [
        after
        for one, case in CASES
        if one == code
        for caution in ask(case.name, case.request)["cautions"]
        for _, found, after in [caution["message"].partition(text)]
        if found and caution["code"] == code
    ]
    assert told
    for one in told:
        assert re.match(r"(less than|[0-9. to]*) ?percentage points?\b", one.strip()), one


@pytest.mark.parametrize("case", [case for _, case in CASES])
def test_no_caution_tells_points_without_saying_of_what(case: Case) -> None:
    for one in ask(case.name, case.request)["cautions"]:
        bare = re.search(r"(?<!percentage )(?<!end )(?<!boiling )(?<!decimal )\bpoints?\b", one["message"])
        assert bare is None, one["message"]


def test_cautions_that_stand_cost_next_to_nothing() -> None:
    """They are built once: the same objects, taken over."""
    assert of_solution("NaOH", 0.5) is of_solution("NaOH", 0.4)
    first, second = Notes(), Notes()
    for notes in (first, second):
        notes.cautions.extend(HANDLING)
    assert all(one is other for one, other in zip(first.cautions, second.cautions, strict=True))


def test_what_is_said_of_this_request_comes_before_what_always_stands() -> None:
    """A scale of 5 g for 100 g of fat leaves free alkali; that caustic burns is said each day."""
    coarse = {"fats": [{"fat": "olive-oil", "mass": "100 g"}], "scale_division": "5 g"}
    codes = [one["code"] for one in ask(S, coarse)["cautions"]]
    assert codes[:3] == ["free-alkali-possible", "alkali-burns", "solid-into-water"]
    codes = [one["code"] for one in ask(L, batch("lemon-juice", temperature="10 °C"))["cautions"]]
    assert codes.index("crystals-in-solution") < codes.index("rinse-with-water") < codes.index("water-ratio")


def test_a_heater_that_fails_is_told_before_how_heaters_are_chosen() -> None:
    """Sheath, thermostat and surface read the same each day; how hot this tank gets does not."""
    bare = caution_cases_of_warming.warming(to="60 °C", vessel={"dead_volume": "40 L"})
    codes = [one["code"] for one in ask(caution_cases_of_warming.W, bare)["cautions"]]
    assert {"heater-runs-away", "heater-uncovered"} <= set(codes[: codes.index("heater-control")])


def test_what_every_answer_of_a_calculation_says_alike_counts_as_standing() -> None:
    """Each calculation is asked everything that this file knows of it."""
    asked = [(case.name, case.request) for _, case in CASES]
    asked += [(case.elsewhere or case.name, case.without) for _, case in CASES if case.without is not None]
    told: dict[str, list[set[tuple[str, str]]]] = {}
    for name, request in {repr(one): one for one in asked}.values():
        told.setdefault(name, []).append({(one["code"], one["message"]) for one in ask(name, request)["cautions"]})
    alike = {code for answers in told.values() if len(answers) >= 6 for code, _ in set.intersection(*answers)}
    assert {"local-codes-first", "heater-control", "ethanol-ignites"} <= alike <= STANDING


@pytest.mark.parametrize(
    ("name", "request_", "standing", "found"),
    [
        (
            caution_cases_of_cooling.K,
            caution_cases_of_cooling.cooling(),
            "hot-vessel",
            {"close-when-cool", "vessel-limit-exceeded"},
        ),
        (
            caution_cases_of_titrations.T,
            caution_cases_of_titrations.stock(sample_mass="2.05 g", labelled_strength={"mass_fraction": "52 %"}),
            "budget-incomplete",
            {"not-for-use"},
        ),
    ],
)
def test_what_was_found_is_told_before_what_is_said_each_day(
    name: str, request_: dict[str, object], standing: str, found: set[str]
) -> None:
    given = ask(name, request_)["cautions"]
    severity = next(one["severity"] for one in given if one["code"] == standing)
    alike = [one["code"] for one in given if one["severity"] == severity]
    assert found <= set(alike[: alike.index(standing)])
