"""Named requests of the stock that is warmed: invented, or published and compared."""

from typing import Final

from service.calculations.registry import Example

EXAMPLES: Final = (
    Example(
        "drum-before-the-morning",
        "A drum of 50 % NaOH, cold from the yard, with an immersion heater (invented)",
        {
            "reference": "invented drum 1",
            "solution": {
                "alkali": "NaOH",
                "mass": "60 kg",
                "strength": {"mass_fraction": "50 %"},
                "temperature": "15 °C",
            },
            "vessel": {"material": "hdpe", "mass": "3 kg", "diameter": "36 cm", "height": "55 cm", "lid": True},
            "heater_power": "500 W",
            "ambient": "15 °C",
            "target_temperature": "35 °C",
            "hold_time": "10 h",
        },
    ),
    Example(
        "crystallised-tank",
        "A tank of 50 % NaOH that has set in part over a cold weekend (invented)",
        {
            "solution": {
                "alkali": "NaOH",
                "volume": "50 gal",
                "strength": {"mass_fraction": "50 %"},
                "temperature": "45 °F",
            },
            "vessel": {"material": "stainless-steel", "volume": "60 gal", "mass": "80 lb", "lid": True},
            "heater_power": "3 kW",
            "efficiency": "80 %",
            "ambient": "50 °F",
            "target_temperature": "95 °F",
            "crystallised": True,
        },
    ),
    Example(
        "published-heat-of-water",
        "10 kg of water from 20 to 60 °C: the heat that the steam tables state",
        {
            "solution": {
                "alkali": "NaOH",
                "mass": "10 kg",
                "strength": {"mass_fraction": 0},
                "temperature": "20 °C",
            },
            "vessel": {"material": "stainless-steel", "mass": "1 g", "volume": "12 L", "lid": True},
            "heater_power": "2 kW",
            "target_temperature": "60 °C",
        },
        "Published: enthalpy of water at 0.101325 MPa, 251.25 less 84.01 kJ/kg (IAPWS R6-95(2018)): 167.24 kJ/kg; "
        "compared as heat_taken_up.",
    ),
)
