"""The assay of a soap: by hand, by both methods, its budget, and the acid for a batch."""

import math
from typing import Any

import numpy as np
import pytest

from service.chemistry.molar_masses import KOH, NAOH
from tests.calculations.asking import Answer, ask, assumed, cautions, fault, message_of
from tests.calculations.caution_cases_of_titrations import A, soap
from tests.calculations.figures import CITRIC_ACID

BACK = {"molarity": {"value": 0.1, "uncertainty": 0.0001, "unit": "mol/L"}, "volume": "8 mL"}


def total(taken: str = "10 mL", back: object = None, **more: Any) -> dict[str, Any]:
    """10 g of soap with an excess of tenth-normal acid."""
    return soap(taken, method="total-free", back_titration=back or BACK, **more)


def free(answer: Answer) -> dict[str, float]:
    found: dict[str, float] = answer["free_alkali"]
    return found


def lines(answer: Answer) -> dict[str, dict[str, Any]]:
    return {one["input"]: one for one in answer["budget"]}


def test_free_caustic_by_hand() -> None:
    """1.3 mL of tenth-normal acid on 10 g are 0.13 mmol."""
    assert free(ask(A, soap("1.3 mL")))["value"] == pytest.approx(0.13e-3 * NAOH / 10e-3)


def test_total_free_by_hand_is_the_acid_less_what_was_titrated_back() -> None:
    assert free(ask(A, total()))["value"] == pytest.approx(0.2e-3 * NAOH / 10e-3)


def test_free_alkali_is_told_as_the_alkali_asked_with() -> None:
    soda, potash = (free(ask(A, soap("2 mL", alkali=alkali)))["value"] for alkali in ("NaOH", "KOH"))
    assert potash / soda == pytest.approx(KOH / NAOH)


def test_a_soap_without_free_alkali_is_answered() -> None:
    answer = ask(A, total(back=BACK | {"volume": "10 mL"}, batch_mass="5 kg"))
    assert free(answer)["value"] == pytest.approx(0, abs=1e-15)
    assert answer["batch_free_alkali"]["high"] > 0
    assert "below-detection" in cautions(answer)


def test_the_acid_for_a_batch_by_hand() -> None:
    """0.4 % of NaOH in 12 kg: 48 g, and a mole of anhydrous citric acid takes three of it."""
    answer = ask(A, soap("10 mL", batch_mass="12 kg"))
    mass = 1e-3 * NAOH / 10e-3 * 12e3
    assert answer["batch_free_alkali"]["value"] == pytest.approx(mass)
    assert answer["acid_to_neutralise"]["value"] == pytest.approx(mass / (NAOH * 1000) * CITRIC_ACID / 3)


def test_a_batch_in_which_no_free_alkali_is_found_gets_no_acid_and_is_not_reworked() -> None:
    """0.1 mL of 0.1 mL burettes tell nothing: acid on good soap splits it, and reworking it is a risk for nothing."""
    for acid in (None, "citric-acid-anhydrous", "oxalic-acid-dihydrate"):
        answer = ask(A, soap("0.1 mL", batch_mass="12 kg") | ({"acid": acid} if acid else {}), explain=True)
        assert free(answer)["value"] > 0
        assert free(answer)["low"] == 0
        assert "acid_to_neutralise" not in answer
        assert answer["batch_free_alkali"]["high"] > 0
        told = cautions(answer)
        assert not {"rebatch-with-care", "acid-splits-soap", "acid-heats-caustic"} & told.keys()
        assert "nothing that acid should be added for" in told["below-detection"]["message"]
        assert "/acid" not in assumed(answer)
        assert "acid to neutralise" not in {one["name"] for one in answer["steps"]}
    found = ask(A, soap("0.3 mL", batch_mass="12 kg"))
    assert found["acid_to_neutralise"]["low"] > 0
    assert "rebatch-with-care" in cautions(found)
    assert "below-detection" not in cautions(found)
    assert "acid" not in message_of(ask(A, soap("0.1 mL")), "below-detection").replace("weaker acid", "")


def test_a_solution_of_acid_is_weighed_as_it_is() -> None:
    pure, solution = (
        ask(A, soap("10 mL", batch_mass="1 kg", acid=acid))["acid_to_neutralise"]["value"]
        for acid in ("lactic-acid", "lactic-acid-88")
    )
    assert solution == pytest.approx(pure / 0.88)


def test_the_interval_of_the_acid_holds_those_of_the_assay_and_of_the_batch() -> None:
    exact = ask(A, soap("10 mL", batch_mass="12 kg"))
    rough = ask(A, soap("10 mL", batch_mass={"low": 10, "high": 14, "unit": "kg"}))

    def relative(answer: Answer, member: str) -> float:
        figure = answer[member]
        return float((figure["high"] - figure["low"]) / 2 / figure["value"])

    assert relative(exact, "acid_to_neutralise") == pytest.approx(relative(exact, "free_alkali"))
    assert relative(exact, "acid_to_neutralise") == pytest.approx(relative(exact, "batch_free_alkali"))
    assert relative(rough, "acid_to_neutralise") > 0.95 * 2 / 12


def test_without_a_batch_no_acid_is_told_and_none_is_assumed() -> None:
    answer = ask(A, soap())
    assert "acid_to_neutralise" not in answer
    assert "batch_free_alkali" not in answer
    assert "/acid" not in assumed(answer)


def test_the_budget_of_a_back_titration_by_hand() -> None:
    answer = ask(A, total(scale_division="0.01 g"))
    budget, share = lines(answer), free(answer)["value"]
    per_volume = 0.1 * NAOH / 10  # 1/mL
    assert budget["acid_volume"]["sensitivity"]["value"] == pytest.approx(per_volume)
    assert budget["back_titration_volume"]["sensitivity"]["value"] == pytest.approx(-per_volume)
    assert budget["end_point_detection"]["sensitivity"]["value"] == pytest.approx(-per_volume)
    assert budget["acid_molarity"]["sensitivity"]["value"] == pytest.approx(10 * NAOH / 10)
    assert budget["back_titration_molarity"]["sensitivity"]["value"] == pytest.approx(-8 * NAOH / 10)
    assert budget["sample_mass"]["sensitivity"]["value"] == pytest.approx(-share / 10)
    assert budget["scale_division"]["standard_uncertainty"]["value"] == pytest.approx(0.01 / math.sqrt(6))
    assert budget["acid_temperature"]["sensitivity"]["value"] == pytest.approx(-share * 2.07e-4, rel=2e-3)


def test_the_interval_covers_what_whole_distributions_give() -> None:
    """Monte Carlo by JCGM 101:2008."""
    answer = ask(A, total())
    told, rng, draws = free(answer), np.random.default_rng(3), 200_000
    acid = rng.normal(0.1, 0.0001, draws) * (10 + rng.uniform(-0.1, 0.1, draws))
    back = rng.normal(0.1, 0.0001, draws) * (8 + rng.uniform(-0.1, 0.1, draws) + rng.normal(0, 0.03, draws))
    warm = 1 - 2.07e-4 * rng.uniform(-4, 4, draws)
    sample = (acid - back) * warm * NAOH / rng.normal(10, 0.01, draws)
    assert 0.94 < np.mean((told["low"] <= sample) & (sample <= told["high"])) < 0.97


def test_carbonate_counted_with_it_is_said() -> None:
    assert "carbonate counted" in message_of(ask(A, total()), "free-alkali-in-soap")
    assert "carbonate counted" not in message_of(ask(A, soap("2 mL")), "free-alkali-in-soap")


def test_a_caustic_soap_burns_and_says_so() -> None:
    told = cautions(ask(A, soap("14 mL")))
    assert told["free-alkali-in-soap"]["severity"] == "danger"
    assert {"alkali-burns", "rinse-with-water"} <= told.keys()
    assert "alkali-burns" not in cautions(ask(A, soap("5 mL")))


def test_potash_counts_by_what_it_is_as_soda() -> None:
    """0.06 % of KOH are 0.043 % of NaOH, which is within 0.05 %."""
    sharp = {"burette_tolerance": "0.001 mL", "end_point_uncertainty": "0.001 mL"}
    assert "free-alkali-in-soap" not in cautions(ask(A, soap("1.07 mL", alkali="KOH", **sharp)))
    assert "free-alkali-in-soap" in cautions(ask(A, soap("1.3 mL", alkali="KOH", **sharp)))


@pytest.mark.parametrize(
    ("request_", "pointer"),
    [
        (soap(back_titration=BACK), "/back_titration"),
        (soap(method="total-free"), "/back_titration"),
        (total("7 mL"), "/back_titration"),
        (soap("1 mL", sample_mass="20 mg"), "/sample_mass"),
        (soap(acid="no-acid", batch_mass="1 kg"), "/acid"),
        (soap(acid_temperature="50 °C"), "/acid_temperature"),
    ],
)
def test_what_no_soap_gives_is_refused_where_it_stands(request_: dict[str, Any], pointer: str) -> None:
    refused = fault(A, request_, 422)
    assert refused.pointer == pointer


def test_a_little_more_taken_back_than_put_in_tells_that_none_is_free() -> None:
    """0.05 mL of tenth-normal alkali, 0.02 % of NaOH: two readings of 0.1 mL and an end point tell no such figure."""
    answer = ask(A, total(back=BACK | {"volume": "10.05 mL"}, batch_mass="5 kg"))
    found = free(answer)
    assert found["value"] == found["low"] == 0
    assert 0 < found["high"] < 0.0006
    assert answer["batch_free_alkali"]["value"] == 0
    assert "below-detection" in cautions(answer)
    assert "not-for-use" not in cautions(answer)


def test_much_more_taken_back_than_put_in_is_refused() -> None:
    assert fault(A, total(back=BACK | {"volume": "10.5 mL"}), 422).pointer == "/back_titration"


def test_the_ethanol_method_is_not_one_for_potash_soaps() -> None:
    assert "barium chloride" in message_of(ask(A, soap(alkali="KOH")), "end-points-indistinct")
    assert "end-points-indistinct" not in cautions(ask(A, total(alkali="KOH")))
