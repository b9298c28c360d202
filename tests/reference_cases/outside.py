"""Other people's programs for caustic solutions and water, and tables of published figures."""

import csv
import warnings
from collections.abc import Iterator
from pathlib import Path

import absorptionlib
from iapws import IAPWS97 as _IF97
from thermo import electrochem
from thermo.electrochem import Laliberte_density as _density
from thermo.electrochem import Laliberte_heat_capacity as _heat_capacity
from thermo.electrochem import Laliberte_viscosity as _viscosity

from service.chemistry.molar_masses import Alkali

DATA = Path(__file__).parent / "data"
CAS: dict[Alkali, str] = {"NaOH": "1310-73-2", "KOH": "1310-58-3"}
CARBONATE_CAS: dict[Alkali, str] = {"NaOH": "497-19-8", "KOH": "584-08-7"}
THERMO = "M. Laliberté, J. Chem. Eng. Data 54 (2009) 1725-1760, as programmed in the package thermo 0.6.1"
OLSSON = (
    "Olsson, Jernqvist, Aly, Int. J. Thermophys. 18 (1997) 779-793, as programmed in the package absorptionlib 1.1.0"
)
IF97 = "IAPWS R7-97(2012), as programmed in the package iapws 1.5.5"


def read_table(name: str) -> Iterator[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(line for line in file if not line.startswith("#"))


def laliberte_density(alkali: Alkali, w: float, t: float, carbonate: float = 0.0) -> float:
    """kg/m3, of a solution that may hold a mass fraction of the carbonate too."""
    if not carbonate:
        return float(_density(t + 273.15, [w], [CAS[alkali]]))
    return float(_density(t + 273.15, [w, carbonate], [CAS[alkali], CARBONATE_CAS[alkali]]))


def laliberte_over_reading(w: float, carbonate: float, t: float) -> float:
    """Mass fraction of NaOH that Na2CO3 reads as by its density, by Laliberté's own figures of both."""
    heavy = laliberte_density("NaOH", w, t, carbonate)
    low, high = w, w + 3 * carbonate
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if laliberte_density("NaOH", middle, t) < heavy else (low, middle)
    return low - w


def laliberte_heat_capacity(alkali: Alkali, w: float, t: float) -> float:
    """J/(kg K)."""
    return float(_heat_capacity(t + 273.15, [w], [CAS[alkali]]))


def laliberte_viscosity(alkali: Alkali, w: float, t: float) -> float:
    """Pa s."""
    return float(_viscosity(t + 273.15, [w], [CAS[alkali]]))


def laliberte_viscosity_range(alkali: Alkali) -> tuple[float, float]:
    """Lowest and highest temperature of the viscosities that he fitted, °C."""
    row = electrochem.Laliberte_data.loc[CAS[alkali]]
    return float(row["Min T.1"]), float(row["Max T.1"])


def olsson_enthalpy(w: float, t: float) -> float:
    """J/kg on Olsson's own zero; his range and crystallisation warnings are silenced, the tests choose w and t."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        absorptionlib.disable_warnings()
        return 1e3 * float(absorptionlib.NaOH.enthalpy(w, t))


def olsson_density(w: float, t: float) -> float:
    """kg/m3."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        absorptionlib.disable_warnings()
        return float(absorptionlib.NaOH.density(w, t))


def olsson_pressure(w: float, t: float) -> float:
    """Pa."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        absorptionlib.disable_warnings()
        return float(absorptionlib.NaOH.saturation_pressure(w, t))


def olsson_enthalpy_moved(w: float, t: float) -> float:
    """Olsson's enthalpy [J/kg] moved to solid NaOH and liquid water at 25 °C.

    Water is moved by his own value at 25 °C, NaOH by Parker's heat of solution (44.51 kJ/mol) less the 0.726 kJ/mol
    by which his curve lies below calorimetric heats of dilution at 2 to 4 mol/kg (Silvester & Pitzer).
    """
    solid = 1e6 * (44.51 - 0.726) / 39.9971
    return olsson_enthalpy(w, t) - (1.0 - w) * olsson_enthalpy(0.0, 25.0) - w * solid


def water_conductivity(t: float, pressure: float = 0.101325) -> float:
    """Of liquid water at t °C and a pressure in MPa [W/(m K)], IAPWS R15-11."""
    return float(_IF97(T=t + 273.15, P=pressure).k)


def if97(t: float, pressure: float = 0.101325) -> dict[str, float]:
    """Liquid water (or steam) at t °C and a pressure in MPa: rho kg/m3, h J/kg, cp J/(kg K), mu Pa s."""
    state = _IF97(T=t + 273.15, P=pressure)
    return {"rho": state.rho, "h": 1e3 * state.h, "cp": 1e3 * state.cp, "mu": state.mu}
