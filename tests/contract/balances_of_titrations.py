"""What must add up in the answer of a titration."""

import math
from typing import Any, Final

import pytest

from service.calculations.shared.given import Mass
from service.chemistry import molar_masses
from service.reference import reference_data

ROUNDING: Final = 1e-9
"""Relative rounding of sums."""

Request = dict[str, Any]
Answer = dict[str, Any]


def _near(value: float, due: float) -> None:
    assert value == pytest.approx(due, rel=ROUNDING, abs=ROUNDING)


def _budget(answer: Answer, figure: dict[str, float]) -> None:
    """Shares are of the whole, contributions are sensitivity times uncertainty, and the interval is made of them."""
    lines = answer["budget"]
    assert lines
    assert len({one["input"] for one in lines}) == len(lines)
    contributions = [one["contribution"]["value"] for one in lines]
    for one, contribution in zip(lines, contributions, strict=True):
        _near(abs(one["sensitivity"]["value"]) * one["standard_uncertainty"]["value"], contribution)
        assert (one["distribution"] == "exact") == (one["standard_uncertainty"]["value"] == 0)
    total = math.hypot(*contributions)
    _near(math.fsum(one["share"]["value"] for one in lines), 1.0 if total > 0 else 0.0)
    if total > 0 and figure["low"] > 0 and figure["high"] < 1:
        half_width = (figure["high"] - figure["low"]) / 2
        assert 1.64 * total <= half_width * (1 + ROUNDING)
        assert half_width <= 1.97 * total * (1 + ROUNDING)


def stock_titration(request: Request, answer: Answer) -> None:
    """Hydroxide and carbonate make the total alkali, and the draw factor is the strength the other way round."""
    alkali = request["alkali"]
    strength = answer["strength"]["mass_fraction"]
    w, carbonate = strength["value"], answer["carbonate_mass_fraction"]["value"]
    hydroxide = molar_masses.ALKALI[alkali]
    _near(answer["total_alkali_fraction"]["value"], w + 2 * carbonate * hydroxide / molar_masses.CARBONATE[alkali])
    _near(
        answer["oxide_fraction"]["value"] * 2 * hydroxide / molar_masses.OXIDE[alkali],
        w + (2 * carbonate * hydroxide / molar_masses.CARBONATE[alkali]),
    )
    _near(answer["draw_factor"]["value"] * w, 1.0)
    by_volume = "sample_volume" in request
    assert ("molarity" in answer) == ("density" in answer) == by_volume
    if by_volume:
        _near(answer["molarity"]["value"] * hydroxide * 1000, w * answer["density"]["value"] * 1000)
    _budget(answer, strength)


def soap_assay(request: Request, answer: Answer) -> None:
    """The free alkali of the batch is that of the sample, and the acid takes as many moles."""
    free, alkali = answer["free_alkali"], request["alkali"]
    _budget(answer, free)
    told = request.get("batch_mass") is not None
    assert told == ("batch_free_alkali" in answer)
    found = free["value"] > 0 and free.get("low", free["value"]) > 0
    assert (told and found) == ("acid_to_neutralise" in answer), "no acid is told against what is not there"
    if not told:
        return
    mass = answer["batch_free_alkali"]["value"]
    _near(mass, free["value"] * Mass.read(request["batch_mass"]).value * 1000)
    if not found:
        return
    acid = reference_data().acids[request.get("acid") or "citric-acid-anhydrous"]
    moles = answer["acid_to_neutralise"]["value"] * acid.content * acid.protons / acid.molar_mass
    _near(moles, mass / molar_masses.ALKALI[alkali])
