"""Where the answer of a mixing leads: how the stock cools, its properties, and what is drawn from it."""

from service.calculations.registry import Link


def links_from_stock(which: str) -> tuple[Link, ...]:
    """Links from an answer that tells `strength`, `mass` and `peak_temperature` of a stock made from `/solid`.

    Args:
        which: which stock, as the end of "the stock".
    """
    return (
        Link(
            "until-it-is-cool",
            "stock-cooling",
            f"How long the stock {which} takes to cool from the upper end of its peak to 38 °C in still air, in a "
            "vessel of stainless steel.",
            {
                "solution": {
                    "alkali": "$request.body#/solid/alkali",
                    "strength": "$response.body#/strength",
                    "mass": "$response.body#/mass",
                    "temperature": {
                        "value": "$response.body#/peak_temperature/high",
                        "unit": "$response.body#/peak_temperature/unit",
                    },
                },
                "vessel": {"material": "stainless-steel"},
                "surroundings": {"medium": "still-air"},
                "target_temperature": "38 °C",
            },
        ),
        Link(
            "properties-of-the-stock",
            "concentration",
            f"The properties of the stock {which}.",
            {"alkali": "$request.body#/solid/alkali", "strength": "$response.body#/strength"},
        ),
        Link(
            "draw-from-the-stock",
            "liquid-split",
            f"How much of the stock {which} holds 100 g of pure hydroxide.",
            {
                "alkalis": [{"alkali": "$request.body#/solid/alkali", "mass": "100 g"}],
                "stocks": [{"alkali": "$request.body#/solid/alkali", "strength": "$response.body#/strength"}],
            },
        ),
    )
