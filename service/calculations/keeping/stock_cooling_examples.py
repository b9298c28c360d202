"""Named requests of the stock that cools: invented, or published and compared."""

from typing import Final

from service.calculations.registry import Example

_HALF: Final = {"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}

EXAMPLES: Final = (
    Example(
        "pot-on-the-bench",
        "A pot of 50 % NaOH, fresh from the mixing, on the bench (invented)",
        {
            "reference": "invented pot 1",
            "solution": _HALF | {"mass": "20 kg", "temperature": "92 °C"},
            "vessel": {
                "material": "stainless-steel",
                "mass": "4 kg",
                "diameter": "28 cm",
                "height": "33 cm",
                "lid": True,
                "maximum_temperature": "100 °C",
            },
            "surroundings": {"medium": "still-air", "temperature": "21 °C"},
            "target_temperature": "38 °C",
        },
    ),
    Example(
        "jug-in-a-tub",
        "A jug of 50 % NaOH in a tub of tap water that is not changed (invented)",
        {
            "solution": _HALF | {"mass": "5 lb", "temperature": "140 °F"},
            "vessel": {"material": "polypropylene", "diameter": "6 in", "height": "9 in", "lid": False},
            "surroundings": {"medium": "water-bath", "temperature": "60 °F", "bath_mass": "40 lb"},
            "target_temperature": "95 °F",
        },
    ),
    Example(
        "bucket-on-ice",
        "A bucket of 45 % KOH in ice water (invented)",
        {
            "solution": {
                "alkali": "KOH",
                "mass": "10 kg",
                "strength": {"mass_fraction": "45 %"},
                "temperature": "55 °C",
            },
            "vessel": {"material": "hdpe", "mass": "500 g", "volume": "12 L", "wall_thickness": "2 mm"},
            "surroundings": {"medium": "ice-bath"},
            "target_temperature": "30 °C",
        },
    ),
    Example(
        "by-own-readings",
        "A drum in front of a fan, by three readings of its thermometer (invented)",
        {
            "solution": _HALF | {"mass": "60 kg"},
            "vessel": {"material": "hdpe", "mass": "3 kg", "lid": True},
            "surroundings": {"medium": "moving-air", "temperature": "20 °C"},
            "readings": [
                {"time": "0 min", "temperature": "58 °C"},
                {"time": "60 min", "temperature": "51.5 °C"},
                {"time": "120 min", "temperature": {"value": 46, "uncertainty": 0.3, "unit": "°C"}},
            ],
            "target_temperature": "35 °C",
        },
    ),
    Example(
        "published-newton-cooling",
        "From 70 °F in air of 10 °F, with 50 °F after half a minute: when it has 15 °F",
        {
            "solution": {
                "alkali": "NaOH",
                "mass": "10 g",
                "strength": {"mass_fraction": "18 %"},
                "temperature": "70 °F",
            },
            "vessel": {"material": "nickel", "mass": "1 mg", "lid": True},
            "surroundings": {"medium": "still-air", "temperature": "10 °F"},
            "readings": [
                {"time": "0 s", "temperature": {"value": 70, "uncertainty": 0.1, "unit": "°F"}},
                {"time": "30 s", "temperature": {"value": 50, "uncertainty": 0.1, "unit": "°F"}},
            ],
            "target_temperature": "15 °F",
        },
        "Published: about 3.06 min (D. G. Zill, A First Course in Differential Equations, exercises 3.1, a "
        "thermometer taken outdoors; from memory; by Newton's law 0.5 min times ln(60/5) / ln(60/40)), compared as "
        "time. The book's heat capacity is constant, that of a stock is not quite.",
    ),
)
