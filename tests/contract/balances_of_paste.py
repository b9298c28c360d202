"""What must add up when a paste is thinned."""

from typing import Any

import pytest

from service.calculations.shared.given import Mass

Request = dict[str, Any]
Answer = dict[str, Any]


def paste_dilution(request: Request, answer: Answer) -> None:
    paste, mass = Mass.read(request["paste_mass"]).value * 1000, answer["mass"]["value"]
    assert mass == pytest.approx(paste + answer["water_to_add"]["value"], rel=1e-9)
    soap = answer["paste_soap_share"]["value"] * paste
    assert answer["soap_share"]["value"] * mass == pytest.approx(soap, rel=1e-9)
    names = ("soap_share", "glycerol_share", "fat_share", "free_alkali_share")
    assert sum(answer[name]["value"] for name in names if name in answer) < 1
