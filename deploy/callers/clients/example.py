"""A batch's stock by the generated Python client: python example.py http://localhost:8765 (invented batch).

Before it: pip install openapi-python-client, then `generate .` beside this file.
"""

import sys

from lyestock_client import Client
from lyestock_client.api.calculations import liquid_split
from lyestock_client.models import (
    AlkaliMass,
    LiquidSplitAnswer,
    LiquidSplitRequest,
    Problem,
    Stock,
    Strength,
    TotalLiquid,
)
from patient import Patient


def draw(client: Client, alkali: str) -> LiquidSplitAnswer | Problem | None:
    """What a batch draws of 50 % stock, and what is added to twice the alkali of liquid in all."""
    half = Strength(mass_fraction="50 %")
    request = LiquidSplitRequest(
        alkalis=[AlkaliMass(alkali="NaOH", mass=alkali)],
        stocks=[Stock(alkali="NaOH", strength=half)],
        total_liquid=TotalLiquid(water_ratio="2:1"),
    )
    return liquid_split.sync(client=client, body=request, digits=6)


def main() -> int:
    """Ask once as it should be, and once with a number that could be anything."""
    client = Client(base_url=sys.argv[1], httpx_args={"transport": Patient()})
    for alkali in ("135.2 g", "135.2"):
        answer = draw(client, alkali)
        if isinstance(answer, LiquidSplitAnswer):
            stock = answer.stock_draws[0].mass
            print(f"stock {stock.value} {stock.unit}")
            print(f"cautions {len(answer.cautions)}")
        elif isinstance(answer, Problem):
            for fault in answer.errors or []:
                print(f"{fault.pointer}: {fault.detail}; {fault.mend}")
        else:
            print("no answer that the contract knows")
            return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
