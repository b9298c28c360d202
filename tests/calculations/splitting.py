"""A batch to split, shared by the tests of the liquid split."""

from typing import Any, Final

from tests.calculations.asking import Answer, ask
from tests.calculations.figures import KOH

HALF: Final[dict[str, Any]] = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}
WEAK: Final[dict[str, Any]] = {"alkali": "NaOH", "strength": {"mass_fraction": "30 %"}}
BEADS_ONE_TO_ONE: Final[dict[str, Any]] = {
    "alkali": "NaOH",
    "strength": {"as_mixed": {"mass_as_supplied": "10 kg", "water_mass": "10 kg", "purity": "98 %"}},
}
KOH_STOCK: Final[dict[str, Any]] = {"alkali": "KOH", "strength": {"mass_fraction": "45 %"}}
TWO_TO_ONE: Final[dict[str, Any]] = {"water_ratio": "2:1"}
OWN: Final[dict[str, Any]] = {"name": "own oil", "mass": "1000 g", "saponification_value": "190 mg/g"}
NEED: Final = 190 / KOH
"""mol of hydroxide that OWN takes."""


def split(mass: str = "100 g", stock: dict[str, Any] = HALF, **more: Any) -> Answer:
    return ask("liquid-split", {"alkalis": [{"alkali": "NaOH", "mass": mass}], "stocks": [stock], **more})


def added(answer: Answer) -> dict[str, float]:
    return {one["liquid"]: one["mass"]["value"] for one in answer["additions"]}
