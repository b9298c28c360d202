"""Requests whose uncertain members are drawn from the distributions that the contract states for them.

Limits are a rectangle; an uncertainty, and the ends of an answered interval, are a normal.
"""

from typing import Any, Final, Protocol

import numpy as np

from service.calculations.shared.reading import NORMAL_95
from tests.calculations.asking import Answer

TOUCHED: Final = {"low", "high", "uncertainty"}
SURE: Final = 1e-10


class Random(Protocol):
    """What draws come from; `np.random.Generator` is one."""

    def normal(self, loc: float = ..., scale: float = ...) -> float:
        """From a normal."""
        ...

    def uniform(self, low: float = ..., high: float = ...) -> float:
        """From a rectangle."""
        ...

    def triangular(self, left: float, mode: float, right: float) -> float:
        """From a triangle."""
        ...


def draw(said: Any, random: Random) -> Any:
    """A request, or a part of it, with one exact value for each uncertain one."""
    if isinstance(said, list):
        return [draw(one, random) for one in said]
    if not isinstance(said, dict):
        return said
    if "unit" in said and TOUCHED & said.keys():
        # As good as exact, and not left unsaid: a burette that says nothing gets the limits of its class.
        found = value(said, random)
        return {"value": found, "uncertainty": SURE * max(abs(found), 1.0), "unit": said["unit"]}
    if "mass_fraction" in said and "uncertainty" in said:
        return {"mass_fraction": float(random.normal(said["mass_fraction"], said["uncertainty"]))}
    return {name: draw(one, random) for name, one in said.items()}


def value(said: Answer, random: Random) -> float:
    """One value of an uncertain quantity, in its unit."""
    if "uncertainty" in said:
        return float(random.normal(said["value"], said["uncertainty"]))
    if "value" in said:
        return float(random.normal(said["value"], (said["high"] - said["low"]) / (2 * NORMAL_95)))
    return float(random.uniform(said["low"], said["high"]))


class Maker:
    """Makes quantities of random requests, with or without a spread."""

    def __init__(self, random: np.random.Generator) -> None:
        self.random = random

    def number(self, low: float, high: float) -> float:
        """A number between two, any as likely."""
        return float(self.random.uniform(low, high))

    def size(self, low: float, high: float) -> float:
        """A number between two, any order of magnitude as likely."""
        return float(np.exp(self.random.uniform(np.log(low), np.log(high))))

    def chance(self, probability: float) -> bool:
        """Whether something happens."""
        return bool(self.random.random() < probability)

    def one_of(self, *choices: Any) -> Any:
        """One of some."""
        return choices[int(self.random.integers(len(choices)))]

    def some_of(self, choices: Any, most: int) -> list[Any]:
        """One or more of some, each once."""
        count = int(self.random.integers(1, most + 1))
        return [choices[i] for i in self.random.choice(len(choices), size=min(count, len(choices)), replace=False)]

    def plain(self, middle: float, unit: str) -> Answer:
        """A quantity without spread."""
        return {"value": middle, "unit": unit}

    def spread(self, middle: float, reach: float, unit: str, least: float = 0.0, most: float = 1e300) -> Answer:
        """A quantity known to within about a reach, in one of the ways in which callers can say so."""
        reach *= self.number(0.1, 1.0)
        reach = min(reach, middle - least, most - middle)
        if reach <= 0.0 or self.chance(0.15):
            return self.plain(middle, unit)
        form = self.random.integers(3)
        if form == 0:
            return {"low": middle - reach, "high": middle + reach, "unit": unit}
        if form == 1:
            return {"value": middle, "uncertainty": reach / 2.0, "unit": unit}
        return {"value": middle, "low": middle - reach, "high": middle + reach, "unit": unit}

    def strength(self, low: float = 0.05, high: float = 0.49, alkali: str = "NaOH", *, forms: bool = True) -> Answer:
        """A strength in one of its forms, as surely known as a label, an assay or a hydrometer make it."""
        w = self.number(low, high)
        form = self.one_of("mass_fraction", "mass_fraction", "uncertainty", "molarity", "density", "baume", "mixed")
        if not forms and form not in {"mass_fraction", "uncertainty"}:
            form = "mass_fraction"
        if form == "mass_fraction":
            return {"mass_fraction": self.spread(w, 0.02, "1", 0.001, 0.5)}
        if form == "uncertainty":
            return {"mass_fraction": w, "uncertainty": self.number(0.0005, 0.01)}
        from service.chemistry import density, molar_masses  # noqa: PLC0415

        name: Any = alkali
        rho = density.density(name, w, 20.0)
        if form == "molarity":
            c = w * rho / molar_masses.ALKALI[name] / 1e3
            return {"molarity": self.spread(c, 0.02 * c, "mol/L"), "temperature": "20 °C"}
        if form == "density":
            return {"density": self.spread(rho, 3.0, "kg/m3"), "temperature": "20 °C"}
        if form == "baume":
            return {"degrees_baume": 145.0 - 145.0 * 999.0 / density.density(name, w, 15.6), "baume_modulus": 145}
        purity = self.number(0.9, 0.99)
        solid = self.size(0.2, 20)
        return {
            "as_mixed": {
                "mass_as_supplied": self.spread(solid, 0.01 * solid, "kg"),
                "water_mass": self.spread(solid * (purity / w - 1), 0.01 * solid, "kg"),
                "purity": self.spread(purity, 0.01, "1", 0.5, 1.0),
            }
        }
