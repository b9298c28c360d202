"""Units: which spellings are read, what they are in SI, and in which unit each kind is answered.

Factors come from pint, exactly (as decimal numbers), once when this module is imported, by the definitions in
unit_definitions. A request is matched against one pattern and the tables made here; a caller's text never reaches
pint's expression parser, where a short text can keep a machine busy for ever.
"""

import re
from decimal import Decimal
from typing import Final, NamedTuple

from service.calculations.shared.unit_definitions import registry

_REGISTRY: Final = registry()


class Unit(NamedTuple):
    """A unit: SI = (number - offset_below) * scale, kept in the form that loses no digits.

    `per_si` is the number of these units in one SI unit. Where it is whole (`divides`) it is used in both
    directions, else `scale` is: a number then comes back as it went in.
    """

    symbol: str
    scale: float
    per_si: float
    divides: bool
    zero: float = 0.0
    """The number on this unit's scale that is zero in SI (32 for °F, since SI here counts in °C)."""

    def to_si(self, number: float) -> float:
        """SI value of a number of this unit."""
        return (number - self.zero) / self.per_si if self.divides else (number - self.zero) * self.scale

    def from_si(self, value: float) -> float:
        """Number of this unit for an SI value."""
        return (value * self.per_si if self.divides else value / self.scale) + self.zero

    def span_to_si(self, number: float) -> float:
        """SI value of a difference or an uncertainty, which has no zero point."""
        return number / self.per_si if self.divides else number * self.scale


def _unit(symbol: str, pint_name: str, base: str) -> Unit:
    factor = Decimal(_REGISTRY.Quantity(Decimal(1), pint_name).to(base).magnitude)
    inverse = 1 / factor
    return Unit(symbol, float(factor), float(inverse), divides=float(inverse).is_integer())


def _own(symbol: str, scale: str) -> Unit:
    """A unit pint does not know under one name, by its factor to SI."""
    factor = Decimal(scale)
    return Unit(symbol, float(factor), float(1 / factor), divides=float(1 / factor).is_integer())


class Kind(NamedTuple):
    """A kind of quantity: its units by spelling, its range, and how it is answered."""

    name: str
    units: dict[str, Unit]
    low: float
    """Lowest value taken [SI]."""
    high: float
    """Highest value taken [SI]."""
    example: str
    metric: Unit
    us: Unit


def _spellings(*rows: tuple[Unit, str]) -> dict[str, Unit]:
    """Table of spellings; each row is a unit and its spellings, separated by '|', its symbol first."""
    return {word: unit for unit, words in rows for word in (unit.symbol, *filter(None, words.split("|")))}


_G = _unit("g", "gram", "kilogram")
_OZ = _unit("oz", "avoirdupois_ounce", "kilogram")
_ML = _unit("mL", "milliliter", "meter**3")
_FL_OZ = _unit("fl_oz", "fluid_ounce", "meter**3")
_CELSIUS = Unit("°C", 1.0, 1.0, divides=False)
_FAHRENHEIT = Unit("°F", 5 / 9, 1.8, divides=True, zero=32.0)
_KELVIN = Unit("K", 1.0, 1.0, divides=False, zero=273.15)
_K = Unit("K", 1.0, 1.0, divides=False)
_DELTA_F = Unit("delta_degF", 5 / 9, 1.8, divides=True)
_H = _unit("h", "hour", "second")
_KJ = _unit("kJ", "kilojoule", "joule")
_KWH = _unit("kWh", "kilowatt_hour", "joule")
_W = _unit("W", "watt", "watt")
_M = _unit("m", "meter", "meter")
_KG_L = _unit("kg/L", "kilogram/liter", "kilogram/meter**3")
_LB_GAL = _unit("lb/gal", "pound/gallon", "kilogram/meter**3")
_MOL_L = _unit("mol/L", "mole/liter", "mole/meter**3")
_MOL_KG = _unit("mol/kg", "mole/kilogram", "mole/kilogram")
_G_L = _unit("g/L", "gram/liter", "kilogram/meter**3")
_MG_G = _unit("mg/g", "milligram/gram", "")
_G_100G = _own("g/100g", "0.01")
_ONE = Unit("1", 1.0, 1.0, divides=False)
_PERCENT = _unit("%", "percent", "")

MASS: Final = Kind(
    "mass",
    _spellings(
        (_G, "gram|grams|gramme|grammes|GRM"),
        (_unit("kg", "kilogram", "kilogram"), "Kg|KG|kilogram|kilograms|kilo|kilos|KGM"),
        (_unit("mg", "milligram", "kilogram"), "milligram|milligrams|MGM"),
        (_unit("t", "metric_ton", "kilogram"), "tonne|tonnes|TNE"),
        (_OZ, "Oz|OZ|oz.|ounce|ounces|ONZ"),
        (_unit("lb", "pound", "kilogram"), "lbs|Lb|Lbs|LB|LBS|lb.|lbs.|pound|pounds|LBR"),
    ),
    0.999999999e-9,
    1e8,
    "170.1 g",
    _G,
    _OZ,
)
MASS_CHANGE: Final = Kind("change of mass", MASS.units, -1e8, 1e8, "-90 g", _G, _OZ)
VOLUME: Final = Kind(
    "volume",
    _spellings(
        (_ML, "ml|milliliter|milliliters|millilitre|millilitres|MLT"),
        (_unit("L", "liter", "meter**3"), "l|liter|liters|litre|litres|LTR"),
        (_unit("m3", "meter**3", "meter**3"), "m³|m^3"),
        (_unit("cm3", "centimeter**3", "meter**3"), "cm³|cm^3|cc"),
        (_unit("in3", "inch**3", "meter**3"), "in³|in^3|cu in"),
        (_FL_OZ, "fl oz|fl. oz.|fl.oz.|fl oz.|floz|fluid ounce|fluid ounces|fluid oz|us fl oz|US fl oz|OZA"),
        (_unit("qt", "quart", "meter**3"), "quart|quarts"),
        (_unit("gal", "gallon", "meter**3"), "gallon|gallons|US gal|us gal|US gallon|US gallons|GLL"),
        (
            _unit("imp_fl_oz", "imperial_fluid_ounce", "meter**3"),
            "imp fl oz|imperial fl oz|imperial fluid ounces",
        ),
        (
            _unit("imp_gal", "imperial_gallon", "meter**3"),
            "imp gal|imperial gal|imperial gallon|imperial gallons",
        ),
    ),
    1e-12,
    1e5,
    "20 L",
    _ML,
    _FL_OZ,
)
TEMPERATURE: Final = Kind(
    "temperature",
    _spellings(
        (_CELSIUS, "degC|C|celsius|Celsius|deg C|℃|CEL"),
        (_FAHRENHEIT, "degF|F|fahrenheit|Fahrenheit|deg F|℉|FAH"),
        (_KELVIN, "kelvin|Kelvin|KEL"),
    ),
    -273.15,
    1000.0,
    "20 °C",
    _CELSIUS,
    _FAHRENHEIT,
)
TEMPERATURE_DIFFERENCE: Final = Kind(
    "temperature difference", _spellings((_K, ""), (_DELTA_F, "")), -1000.0, 1000.0, "5 K", _K, _DELTA_F
)
TIME: Final = Kind(
    "time",
    _spellings(
        (_unit("s", "second", "second"), "sec|second|seconds|SEC"),
        (_unit("min", "minute", "second"), "minute|minutes|mins|MIN"),
        (_H, "hr|hrs|hour|hours|HUR"),
        (_unit("d", "day", "second"), "day|days|DAY"),
    ),
    1e-3,
    1e9,
    "10 min",
    _H,
    _H,
)
ENERGY: Final = Kind(
    "energy", _spellings((_KJ, "kilojoule|kilojoules"), (_KWH, "kwh")), -1e15, 1e15, "500 kJ", _KJ, _KWH
)
POWER: Final = Kind(
    "power",
    _spellings((_W, "watt|watts|WTT"), (_unit("kW", "kilowatt", "watt"), "kilowatt|kilowatts|KWT")),
    1e-3,
    1e9,
    "1500 W",
    _W,
    _W,
)
LENGTH: Final = Kind(
    "length",
    _spellings(
        (_unit("mm", "millimeter", "meter"), "MMT"),
        (_unit("cm", "centimeter", "meter"), "CMT"),
        (_M, "metre|metres|meter|meters|MTR"),
        (_unit("in", "inch", "meter"), "inch|inches|INH"),
        (_unit("ft", "foot", "meter"), "foot|feet|FOT"),
    ),
    1e-6,
    1e3,
    "30 cm",
    _M,
    _M,
)
_M_S: Final = _unit("m/s", "meter/second", "meter/second")
_FT_MIN: Final = _unit("ft/min", "foot/minute", "meter/second")
SPEED: Final = Kind(
    "speed",
    _spellings(
        (_M_S, "m s-1|meters per second|MTS"),
        (_unit("km/h", "kilometer/hour", "meter/second"), "kph|KMH"),
        (_FT_MIN, "fpm|feet per minute"),
        (_unit("mph", "mile/hour", "meter/second"), "mi/h|HM"),
    ),
    0.05,
    30.0,
    "2 m/s",
    _M_S,
    _FT_MIN,
)
DENSITY: Final = Kind(
    "density",
    _spellings(
        (_unit("kg/m3", "kilogram/meter**3", "kilogram/meter**3"), "kg/m³"),
        (_KG_L, "kg/l"),
        (_unit("g/mL", "gram/milliliter", "kilogram/meter**3"), "g/ml"),
        (_unit("g/cm3", "gram/centimeter**3", "kilogram/meter**3"), "g/cm³"),
        (_LB_GAL, ""),
    ),
    0.1,
    3e4,
    "1.525 kg/L",
    _KG_L,
    _LB_GAL,
)
MOLARITY: Final = Kind("molarity", _spellings((_MOL_L, "mol/l")), 0.0, 1e5, "19 mol/L", _MOL_L, _MOL_L)
MOLALITY: Final = Kind("molality", _spellings((_MOL_KG, "")), 0.0, 1e4, "25 mol/kg", _MOL_KG, _MOL_KG)
MASS_CONCENTRATION: Final = Kind("mass concentration", _spellings((_G_L, "g/l")), 0.0, 1e4, "762 g/L", _G_L, _G_L)
SAPONIFICATION_VALUE: Final = Kind(
    "saponification value", _spellings((_MG_G, "mg KOH/g|mg/g KOH")), 1e-3, 0.7, "190 mg/g", _MG_G, _MG_G
)
IODINE_VALUE: Final = Kind(
    "iodine value",
    _spellings((_G_100G, "g/100 g|g I2/100 g|g I2/100g")),
    0.0,
    4.0,
    "85 g/100g",
    _G_100G,
    _G_100G,
)
FRACTION: Final = Kind("fraction", _spellings((_ONE, ""), (_PERCENT, "pct|percent")), 0.0, 1.0, "5 %", _ONE, _ONE)
RATIO: Final = Kind("ratio", _spellings((_ONE, "")), 1e-6, 1e6, "2:1", _ONE, _ONE)
COUNT: Final = Kind("count", _spellings((_ONE, "")), 0.0, 1e9, "3", _ONE, _ONE)
DEGREES: Final = Kind("hydrometer degrees", _spellings((_ONE, "")), 0.0, 1e4, "50", _ONE, _ONE)

_KJ_KG_K: Final = _unit("kJ/(kg K)", "kilojoule/kilogram/kelvin", "joule/kilogram/kelvin")
_MPA_S: Final = _unit("mPa s", "millipascal*second", "pascal*second")
_PA: Final = _unit("Pa", "pascal", "pascal")
_W_M_K: Final = _unit("W/(m K)", "watt/meter/kelvin", "watt/meter/kelvin")
_W_K: Final = _unit("W/K", "watt/kelvin", "watt/kelvin")
_G_MOL: Final = _unit("g/mol", "gram/mole", "kilogram/mole")
HEAT_CAPACITY: Final = Kind("heat capacity", _spellings((_KJ_KG_K, "")), 0.0, 1e6, "3.3 kJ/(kg K)", _KJ_KG_K, _KJ_KG_K)
VISCOSITY: Final = Kind("viscosity", _spellings((_MPA_S, "")), 0.0, 1e6, "78 mPa s", _MPA_S, _MPA_S)
PRESSURE: Final = Kind("pressure", _spellings((_PA, "")), 0.0, 1e9, "163 Pa", _PA, _PA)
HEAT_LOSS: Final = Kind("heat-loss coefficient", _spellings((_W_K, "")), 0.0, 1e9, "1.5 W/K", _W_K, _W_K)
CONDUCTIVITY: Final = Kind("thermal conductivity", _spellings((_W_M_K, "")), 0.0, 1e4, "0.5 W/(m K)", _W_M_K, _W_M_K)
MOLAR_MASS: Final = Kind("molar mass", _spellings((_G_MOL, "")), 0.0, 10.0, "40 g/mol", _G_MOL, _G_MOL)

READ: Final = (
    MASS,
    VOLUME,
    TEMPERATURE,
    TIME,
    POWER,
    LENGTH,
    SPEED,
    DENSITY,
    MOLARITY,
    MOLALITY,
    MASS_CONCENTRATION,
    SAPONIFICATION_VALUE,
    IODINE_VALUE,
    FRACTION,
)
"""Kinds that requests hold; a unit of another kind is then refused by name."""

NUMBER: Final = r"[+-]?(?:\d{1,40}(?:\.\d{0,40})?|\.\d{1,40})(?:[eE][+-]?\d{1,3})?"
"""A decimal number as any program writes it: sign, digits, decimal point, exponent."""

QUANTITY_TEXT: Final = re.compile(
    rf"[ \u00a0]{{0,4}}({NUMBER})[ \u00a0\u202f]{{0,4}}([A-Za-z%°℃℉].{{0,30}}?)[ \u00a0]{{0,4}}", re.ASCII
)
NUMBER_TEXT: Final = re.compile(rf"[ \u00a0]{{0,4}}({NUMBER})[ \u00a0]{{0,4}}", re.ASCII)
RATIO_TEXT: Final = re.compile(f"{NUMBER_TEXT.pattern}:{NUMBER_TEXT.pattern}", re.ASCII)


def kind_of_unit(word: str) -> Kind | None:
    """The kind that a spelling belongs to, or None."""
    return next((kind for kind in READ if word in kind.units), None)
