"""Heat capacities of fats and liquids beside published ones, for the tests and for the table of the README."""

from typing import Final, NamedTuple

from thermo import HeatCapacityLiquid

from service.calculations.batch.blend_reading import content_of
from service.chemistry import food_heat, water
from service.chemistry.food_heat import Dry
from tests.reference_cases.outside import read_table
from tests.reference_cases.rows import ValidationRow

ZABRANSKY: Final = (
    "M. Zábranský et al., Heat Capacity of Liquids: Critical Review and Recommended Values, as in the package thermo"
)
CRC: Final = "CRC Handbook of Chemistry and Physics, as in the package thermo"
FATS: Final = (
    # substance, CAS number, molar mass [g/mol], temperature [°C] within the fit, method of the package, source
    ("triolein", "122-32-7", 885.432, 60.0, "ZABRANSKY_SPLINE_C", ZABRANSKY),
    ("triolein", "122-32-7", 885.432, 80.0, "ZABRANSKY_SPLINE_C", ZABRANSKY),
    ("triolein", "122-32-7", 885.432, 100.0, "ZABRANSKY_SPLINE_C", ZABRANSKY),
    ("oleic acid", "112-80-1", 282.461, 25.0, "CRCSTD", CRC),
    ("oleic acid", "112-80-1", 282.461, 80.0, "ZABRANSKY_SPLINE_C", ZABRANSKY),
    ("oleic acid", "112-80-1", 282.461, 120.0, "ZABRANSKY_SPLINE_C", ZABRANSKY),
    ("stearic acid", "57-11-4", 284.477, 80.0, "ZABRANSKY_SPLINE", ZABRANSKY),
    ("palmitic acid", "57-10-3", 256.424, 70.0, "ZABRANSKY_SPLINE", ZABRANSKY),
    ("palmitic acid", "57-10-3", 256.424, 100.0, "ZABRANSKY_SPLINE", ZABRANSKY),
    ("palmitic acid", "57-10-3", 256.424, 150.0, "ZABRANSKY_SPLINE", ZABRANSKY),
)
MILK: Final = (("cow-milk-whole", 3.93), ("cow-milk-skim", 3.97))
"""Heat capacity [kJ/(kg K)] of milk at 20 °C, from memory."""


class FittedAcid(NamedTuple):
    """A free acid whose heat capacity Zábranský et al. fitted."""

    name: str
    low: float
    """°C, lowest temperature of the fit."""
    high: float
    """°C, highest temperature of the fit."""
    package: HeatCapacityLiquid
    method: str
    molar_mass: float
    """g/mol."""

    def heat_capacity(self, t: float) -> float:
        """kJ/(kg K)."""
        return float(self.package.calculate(t + 273.15, self.method)) / self.molar_mass


def fitted_acids() -> list[FittedAcid]:
    """Each once."""
    found = {}
    for name, cas, molar_mass, _, method, source in FATS:
        if source == ZABRANSKY and name.endswith("acid"):
            package = HeatCapacityLiquid(CASRN=cas, MW=molar_mass)
            low, high = (t - 273.15 for t in package.T_limits[method])
            found[name] = FittedAcid(name, low, high, package, method, molar_mass)
    return list(found.values())


def acids_leave() -> tuple[float, float]:
    """The least and the most that the upper end of the interval of free acids lies above the highest of them [%]."""
    acids, left = fitted_acids(), []
    for t in range(round(food_heat.ACIDS_FROM), round(food_heat.HOTTEST) + 1):
        highest = max(1e3 * one.heat_capacity(t) for one in acids if one.low <= t <= one.high)
        left.append(100 * ((food_heat.fat_heat_capacity(t) + food_heat.acid_spread(t)) / highest - 1))
    return min(left), max(left)


def fat_rows() -> list[ValidationRow]:
    """Our heat capacity of fat beside those of what fats are made of."""
    rows = []
    for name, cas, molar_mass, t, method, source in FATS:
        published: float = HeatCapacityLiquid(CASRN=cas, MW=molar_mass).calculate(t + 273.15, method) / molar_mass
        ours = food_heat.fat_heat_capacity(t) / 1e3
        quantity = f"heat capacity of fat, against {name}, {t:g} °C"
        rows.append(ValidationRow(quantity, ours, published, ours - published, "kJ/(kg K)", source))
    return rows


def fat_half_width(substance: str, t: float) -> float:
    """95 % half-width that the service gives the heat capacity of one of these [kJ/(kg K)], a fat or a free acid."""
    if substance.endswith("acid"):
        return food_heat.acid_spread(t) / 1e3
    return food_heat.SPREAD * food_heat.fat_heat_capacity(t) / 1e3


def milk_rows() -> list[ValidationRow]:
    """Our heat capacity of milk beside what is recalled of it."""
    rows = []
    for name, recalled in MILK:
        held = content_of(name)
        ours = food_heat.heat_capacity(water.heat_capacity(20.0), held.water, held.dry, 20.0) / 1e3
        quantity = f"heat capacity of {name}, 20 °C"
        rows.append(ValidationRow(quantity, ours, recalled, ours - recalled, "kJ/(kg K)", "from memory"))
    return rows


def printed_components(t: float) -> list[tuple[Dry, float]]:
    """Components alone, and their printed heat capacity [J/(kg K)] at a temperature [°C]."""
    rows = []
    for row in read_table("choi_okos_printed.csv"):
        c0, c1, c2 = (float(row[name]) for name in ("c0", "c1", "c2"))
        rows.append((Dry(**{row["component"]: 1.0}), c0 + c1 * t + c2 * t * t))
    return rows
