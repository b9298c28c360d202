"""How long a production plan takes, and whether that grows straight with its order lines.

python -m tests.benchmarks.plans prints, for plans of 200 articles, milliseconds in process, microseconds for each line,
and how much longer a plan of twice the lines takes. The articles, orders and stocks are made up.
"""

import json
import random
from time import perf_counter
from typing import Any, Final

from service.calculations.registry import calculations

ARTICLES: Final = 200
LINES: Final = (1000, 2000, 4000, 8000, 10_000)
ROUNDS: Final = 5
FATS: Final = ("olive-oil", "coconut-oil", "palm-oil", "shea-butter", "sunflower-oil", "castor-oil", "lard")


def article(chance: random.Random, fat_mass: float) -> dict[str, Any]:
    """A recipe of five fats, milk, a fragrance and a clay, and its batch."""
    names = chance.sample(FATS, 5)
    parts = [chance.randint(1, 9) for _ in names]
    fats = [{"fat": name, "share": part / sum(parts)} for name, part in zip(names, parts, strict=True)]
    liquids = [{"liquid": "goat-milk", "use_level": "5 %"}, {"liquid": "distilled-water", "rest": True}]
    additions = [
        {"material": "scent", "kind": "fragrance", "use_level": "3 %"},
        {"material": "clay", "kind": "other", "use_level": "1 %"},
    ]
    recipe = {"fats": fats, "total_liquid": {"water_ratio": "2:1"}, "liquids": liquids, "additions": additions}
    return {"recipe": recipe, "batch": {"fat_mass": f"{fat_mass:.6f} kg"}, "bars": 48, "ready_after_days": 28}


def plan(lines: int, fat_mass: float = 4.0) -> bytes:
    """A plan of some order lines, the same each time.

    Args:
        lines: of the orders.
        fat_mass: of each batch [kg]; another one makes a plan that differs from all others and is as long.
    """
    chance = random.Random(lines)  # noqa: S311 - made-up orders are no secret
    tank = {"material": "hdpe", "volume": "200 L", "lid": False}
    stock = {"alkali": "NaOH", "mass": "50 kg", "strength": {"mass_fraction": "50 %"}, "vessel": tank}
    orders = [
        {
            "sku": f"SKU-{chance.randrange(ARTICLES)}",
            "quantity": chance.randint(1, 40),
            "due": f"2031-{chance.randint(4, 12):02d}-{chance.randint(1, 28):02d}",
        }
        for _ in range(lines)
    ]
    request = {
        "first_day": "2031-03-03",
        "recipes": {f"SKU-{at}": article(chance, fat_mass) for at in range(ARTICLES)},
        "orders": orders,
        "stocks": [stock | {"remixing": {"peak_limit": "60 °C", "purity": "99 %"}}],
        "capacity": {"batches_per_day": 6},
        "scale_division": "1 g",
    }
    return json.dumps(request).encode()


def seconds(body: bytes) -> float:
    """The best of some rounds."""
    run = calculations()["production-plan"].run
    found = []
    for _ in range(ROUNDS):
        began = perf_counter()
        run(body)
        found.append(perf_counter() - began)
    return min(found)


def main() -> None:
    """Print the table."""
    print("| lines | ms | µs a line | times the line before |\n|---|---|---|---|")
    before: tuple[int, float] | None = None
    for lines in LINES:
        took = seconds(plan(lines))
        grown = "" if before is None else f"{took / before[1]:.2f} for {lines / before[0]:.2f} times the lines"
        print(f"| {lines} | {took * 1e3:.0f} | {took / lines * 1e6:.0f} | {grown} |")
        before = lines, took


if __name__ == "__main__":
    main()
