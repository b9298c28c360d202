"""What the benchmark asks: for each calculation a ring of requests that all differ.

Masses, strengths and temperatures differ from request to request, within what a workshop really has. The ring is
longer than anything the service keeps, so that every request is a new one to it; a short ring shows what callers
gain who ask for the same again and again. Only stocks come back: a shop draws from a few, and so do these batches.
All requests are invented.
"""

import os
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import Any, Final

import msgspec

RING: Final = 20_000
"""Different requests for each calculation: several times what the service keeps of any kind."""

MILK: Final = "BENCHMARK_MILK"
"""Set, batches are made with goat's milk and tell their superfat; else with water."""

_GOLDEN: Final = 0.6180339887498949
_FATS: Final = (
    "olive-oil",
    "coconut-oil",
    "palm-oil",
    "palm-kernel-oil",
    "rapeseed-oil",
    "sunflower-oil",
    "castor-oil",
    "babassu-oil",
)


def between(low: float, high: float, index: int, which: int = 0) -> float:
    """The number of a request: spread evenly over a range, the same on every run."""
    return low + (high - low) * ((index + 1) * _GOLDEN * (which + 1) % 1.0)


def _liquid_split(index: int) -> dict[str, Any]:
    stock = {
        "alkali": "NaOH",
        "strength": {"mass_fraction": f"{48 + index % 12 / 4:.2f} %"},
        "temperature": f"{18 + index % 5} °C",
    }
    batch: dict[str, Any] = {
        "reference": f"batch {index}",
        "alkalis": [{"alkali": "NaOH", "mass": f"{between(80, 400, index):.1f} g"}],
        "stocks": [stock],
        "total_liquid": {"water_ratio": round(between(1.8, 2.5, index, 2), 3)},
    }
    if os.environ.get(MILK):
        batch["liquids"] = [{"liquid": "goat-milk", "rest": True}]
        batch["superfat"] = f"{between(3, 8, index, 3):.2f} %"
    return batch


def _concentration(index: int) -> dict[str, Any]:
    return {
        "alkali": "NaOH",
        "strength": {
            "mass_fraction": {
                "value": round(between(40, 50, index), 5),
                "uncertainty": round(between(0.1, 0.3, index, 1), 3),
                "unit": "%",
            }
        },
        "temperature": f"{between(18, 35, index, 2):.1f} °C",
    }


def _saponification(index: int) -> dict[str, Any]:
    return {
        "reference": f"batch {index}",
        "fats": [{"fat": fat, "mass": f"{between(50, 700, index, place):.1f} g"} for place, fat in enumerate(_FATS)],
        "superfat": f"{between(3, 8, index, 3):.2f} %",
        "alkalis": [{"alkali": "NaOH", "purity": f"{between(97, 99.5, index, 5):.2f} %"}],
    }


def _stock_mixing(index: int) -> dict[str, Any]:
    return {
        "reference": f"stock {index}",
        "solid": {
            "alkali": "NaOH",
            "mass_as_supplied": f"{between(8, 10, index):.6f} kg",
            "purity": f"{between(97, 99.5, index, 1):.2f} %",
        },
        "water": {"mass": "10 kg", "temperature": f"{between(5, 20, index, 2):.1f} °C"},
        "vessel": {"material": "stainless-steel", "mass": "4 kg", "volume": "20 L", "lid": False},
        "duration": f"{between(15, 40, index, 3):.0f} min",
    }


_MADE: Final[Mapping[str, Callable[[int], dict[str, Any]]]] = {
    "liquid-split": _liquid_split,
    "concentration": _concentration,
    "saponification": _saponification,
    "stock-mixing": _stock_mixing,
}
NAMES: Final = tuple(_MADE)
"""The calculations that are measured."""


@lru_cache(maxsize=16)
def ring(name: str, size: int = RING) -> list[bytes]:
    """The bodies of the requests to one calculation."""
    return [msgspec.json.encode(_MADE[name](index)) for index in range(size)]


class Walk:
    """Goes round some requests, and on from where it was: none comes back before all the others were asked."""

    def __init__(self, bodies: Sequence[bytes]) -> None:
        """Begin at the first.

        Args:
            bodies: the requests.
        """
        self._bodies = list(bodies)
        self._at = 0
        self.rounds = 0
        """How often all of them were asked."""

    def ahead(self) -> list[bytes]:
        """All of them, from the next on."""
        return self._bodies[self._at :] + self._bodies[: self._at]

    def on(self, count: int) -> None:
        """Go on.

        Args:
            count: how many were asked.
        """
        rounds, self._at = divmod(self._at + count, len(self._bodies))
        self.rounds += rounds

    def take(self, count: int) -> list[bytes]:
        """The next ones, which count as asked.

        Args:
            count: how many; no more than there are.
        """
        taken = self.ahead()[:count]
        self.on(count)
        return taken
