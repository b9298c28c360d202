"""Where water, ice and steam are compared with IAPWS, and the release's own check values."""

from typing import Final

from iapws import _Ice

from tests.reference_cases.outside import if97, read_table

LIQUID: Final = [0.5, 5.0, 10.0, 20.0, 25.0, 40.0, 60.0, 80.0, 99.0]
UNDER_PRESSURE: Final = [110.0, 130.0, 150.0]
STEAM: Final = [100.5, 110.0, 125.0, 146.0, 180.0, 200.0]
ICE: Final = [-18.0, -10.0, -5.0, -0.01]
"""°C."""
FUSION: Final = 333.42e3
"""J/kg, IAPWS-95 less ice Ih at 0 °C and 1 atm, as evaluated with iapws 1.5.5."""


def check_values(table: int) -> list[tuple[float, float]]:
    """(given, printed) of IAPWS R7-97(2012), table 35 (K, MPa) or 36 (MPa, K)."""
    rows = read_table("iapws_check_values.csv")
    return [(float(row["given"]), float(row["printed"])) for row in rows if row["table"] == str(table)]


def iapws_ice_density(t: float) -> float:
    """Of ice Ih at 1 atm [kg/m3]."""
    return float(_Ice(t + 273.15, 0.101325)["rho"])


def iapws_ice_enthalpy(t: float) -> float:
    """Of ice Ih over liquid water of 25 °C [J/kg]; both share their zero, liquid water at the triple point."""
    return 1e3 * float(_Ice(t + 273.15, 0.101325)["h"]) - if97(25.0)["h"]
