"""The units that people may write, kind by kind: closed lists, exact factors.

Pint is asked once, while this module loads, what each unit of the lists is worth; it works in
fractions, so an inch is exactly 127/5000 m. Afterwards only the table is used: no text of a caller
ever reaches pint, and no registry is shared between threads. Pint gets our few definitions instead
of its own long list, which takes forty times as long to load; a test compares the two.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

import pint

System = Literal["metric", "us"]


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one kind: SI = value x num/den + off_num/off_den, all integers."""

    spelling: str
    num: int
    den: int
    off_num: int = 0
    off_den: int = 1


@dataclass(frozen=True, slots=True)
class UnitList:
    """The units of a kind by spelling, and the ones in which answers are given."""

    kind: str
    units: Mapping[str, Unit]
    si: Unit
    metric: Unit
    us: Unit

    @property
    def spellings(self) -> tuple[str, ...]:
        return tuple(self.units)

    def of(self, system: System) -> Unit:
        return self.us if system == "us" else self.metric


# Exact by definition: NIST Special Publication 811 (2008), appendix B; the Btu is that of the
# International Tables, the calorie the thermochemical one, gallon, quart and cup are of the US.
_DEFINITIONS = """
kilo- = 1000
mega- = 1000000
centi- = 0.01
milli- = 0.001
meter = [length]
gram = [mass]
second = [time]
kelvin = [temperature]; offset: 0
radian = []
degree = 3.1415926535897932384626433832795028841971693993751 / 180 * radian
degC = kelvin; offset: 273.15
degF = 5 / 9 * kelvin; offset: 233.15 + 200 / 9
inch = 0.0254 * meter
foot = 12 * inch
liter = 0.001 * meter ** 3
gallon = 231 * inch ** 3
quart = gallon / 4
cup = gallon / 16
metric_ton = 1000 * kilogram
pound = 453.59237 * gram
ounce = pound / 16
troy_ounce = 31.1034768 * gram
minute = 60 * second
radian = []
degree = 3.1415926535897932384626433832795028841971693993751 / 180 * radian
hour = 3600 * second
newton = kilogram * meter / second ** 2
dyne = 0.00001 * newton
kilogram_force = 9.80665 * newton
pound_force = 9.80665 * pound * meter / second ** 2
pascal = newton / meter ** 2
bar = 100000 * pascal
psi = pound_force / inch ** 2
poise = 0.1 * pascal * second
joule = newton * meter
calorie = 4.184 * joule
Btu_it = 1055.05585262 * joule
watt = joule / second
kilowatt_hour = 3600000 * joule
"""

# kind: (SI unit, unit of metric answers, unit of US answers, "spelling = pint's name for it | ...")
DECLARED: dict[str, tuple[str, str, str, str]] = {
    "length": ("m", "mm", "in", "mm = millimeter | cm = centimeter | m = meter | in = inch | ft = foot"),
    "area": (
        "m^2",
        "cm^2",
        "in^2",
        "mm^2 = millimeter**2 | cm^2 = centimeter**2 | m^2 = meter**2 | in^2 = inch**2 | ft^2 = foot**2",
    ),
    "volume": (
        "m^3",
        "cm^3",
        "in^3",
        "mL = milliliter | L = liter | mm^3 = millimeter**3 | cm^3 = centimeter**3 | m^3 = meter**3 | "
        "in^3 = inch**3 | ft^3 = foot**3 | US gal = gallon | qt = quart | cup = cup",
    ),
    "mass": (
        "kg",
        "kg",
        "lb",
        "g = gram | kg = kilogram | t = metric_ton | oz = ounce | lb = pound | oz t = troy_ounce",
    ),
    "time": ("s", "s", "s", "s = second | min = minute | h = hour"),
    "temperature": ("K", "degC", "degF", "degC = degC | degF = degF | K = kelvin"),
    "temperature_difference": (
        "K",
        "K",
        "delta degF",
        "K = kelvin | delta degC = delta_degC | delta degF = delta_degF",
    ),
    "velocity": (
        "m/s",
        "m/s",
        "ft/s",
        "mm/s = millimeter/second | cm/s = centimeter/second | m/s = meter/second | in/s = inch/second | "
        "ft/s = foot/second",
    ),
    "acceleration": (
        "m/s^2",
        "m/s^2",
        "ft/s^2",
        "m/s^2 = meter/second**2 | ft/s^2 = foot/second**2 | in/s^2 = inch/second**2",
    ),
    "density": (
        "kg/m^3",
        "kg/m^3",
        "lb/in^3",
        "kg/m^3 = kilogram/meter**3 | g/cm^3 = gram/centimeter**3 | lb/in^3 = pound/inch**3 | "
        "lb/ft^3 = pound/foot**3",
    ),
    "specific_heat": (
        "J/(kg K)",
        "J/(kg K)",
        "Btu/(lb degF)",
        "J/(kg K) = joule/kilogram/kelvin | J/kg/K = joule/kilogram/kelvin | "
        "kJ/(kg K) = kilojoule/kilogram/kelvin | kJ/kg/K = kilojoule/kilogram/kelvin | "
        "cal/(g degC) = calorie/gram/delta_degC | cal/g/degC = calorie/gram/delta_degC | "
        "Btu/(lb degF) = Btu_it/pound/delta_degF | Btu/lb/degF = Btu_it/pound/delta_degF",
    ),
    "latent_heat": (
        "J/kg",
        "kJ/kg",
        "Btu/lb",
        "J/kg = joule/kilogram | kJ/kg = kilojoule/kilogram | J/g = joule/gram | cal/g = calorie/gram | "
        "Btu/lb = Btu_it/pound",
    ),
    "conductivity": (
        "W/(m K)",
        "W/(m K)",
        "Btu/(h ft degF)",
        "W/(m K) = watt/meter/kelvin | W/m/K = watt/meter/kelvin | "
        "cal/(s cm degC) = calorie/second/centimeter/delta_degC | "
        "Btu/(h ft degF) = Btu_it/hour/foot/delta_degF",
    ),
    "diffusivity": (
        "m^2/s",
        "mm^2/s",
        "in^2/s",
        "m^2/s = meter**2/second | cm^2/s = centimeter**2/second | mm^2/s = millimeter**2/second | "
        "in^2/s = inch**2/second | ft^2/h = foot**2/hour",
    ),
    "mould_constant": (
        "s/m^2",
        "min/cm^2",
        "min/in^2",
        "s/m^2 = second/meter**2 | s/cm^2 = second/centimeter**2 | s/mm^2 = second/millimeter**2 | "
        "s/in^2 = second/inch**2 | min/cm^2 = minute/centimeter**2 | min/mm^2 = minute/millimeter**2 | "
        "min/in^2 = minute/inch**2",
    ),
    "curvature": (
        "1/m",
        "1/mm",
        "1/in",
        "1/m = 1/meter | 1/cm = 1/centimeter | 1/mm = 1/millimeter | 1/in = 1/inch",
    ),
    "force": ("N", "N", "lbf", "N = newton | kN = kilonewton | kgf = kilogram_force | lbf = pound_force"),
    "pressure": (
        "Pa",
        "kPa",
        "psi",
        "Pa = pascal | kPa = kilopascal | bar = bar | psi = psi | N/mm^2 = newton/millimeter**2 | "
        "kgf/cm^2 = kilogram_force/centimeter**2",
    ),
    "flow": (
        "m^3/s",
        "cm^3/s",
        "in^3/s",
        "m^3/s = meter**3/second | L/s = liter/second | L/min = liter/minute | "
        "cm^3/s = centimeter**3/second | in^3/s = inch**3/second",
    ),
    "mass_flow": (
        "kg/s",
        "kg/s",
        "lb/s",
        "kg/s = kilogram/second | kg/min = kilogram/minute | g/s = gram/second | lb/s = pound/second | "
        "lb/min = pound/minute",
    ),
    "surface_tension": (
        "N/m",
        "N/m",
        "N/m",
        "N/m = newton/meter | mN/m = millinewton/meter | dyn/cm = dyne/centimeter",
    ),
    "viscosity": (
        "Pa s",
        "mPa s",
        "mPa s",
        "Pa s = pascal*second | mPa s = millipascal*second | cP = centipoise",
    ),
    "heat_flux": (
        "W/m^2",
        "kW/m^2",
        "Btu/(h ft^2)",
        "W/m^2 = watt/meter**2 | kW/m^2 = kilowatt/meter**2 | Btu/(h ft^2) = Btu_it/hour/foot**2",
    ),
    "radiation_constant": (
        "W/(m^2 K^4)",
        "W/(m^2 K^4)",
        "W/(m^2 K^4)",
        "W/(m^2 K^4) = watt/meter**2/kelvin**4",
    ),
    "cooling_rate": (
        "K/s",
        "K/s",
        "delta degF/s",
        "K/s = kelvin/second | K/min = kelvin/minute | delta degF/s = delta_degF/second | "
        "delta degF/min = delta_degF/minute",
    ),
    "slowness": ("s/m", "s/mm", "s/in", "s/m = second/meter | s/mm = second/millimeter | s/in = second/inch"),
    "gradient_over_root_rate": (
        "K^0.5 s^0.5/m",
        "K^0.5 s^0.5/mm",
        "K^0.5 s^0.5/mm",
        "K^0.5 s^0.5/m = kelvin**0.5*second**0.5/meter | K^0.5 s^0.5/mm = kelvin**0.5*second**0.5/millimeter",
    ),
    "expansion_per_kelvin": ("1/K", "1/K", "1/delta degF", "1/K = 1/kelvin | 1/delta degF = 1/delta_degF"),
    "energy": (
        "J",
        "kJ",
        "Btu",
        "J = joule | kJ = kilojoule | MJ = megajoule | kWh = kilowatt_hour | Btu = Btu_it",
    ),
    "power": ("W", "kW", "Btu/h", "W = watt | kW = kilowatt | Btu/h = Btu_it/hour"),
    "heating_value": (
        "J/kg",
        "MJ/kg",
        "Btu/lb",
        "J/kg = joule/kilogram | kJ/kg = kilojoule/kilogram | MJ/kg = megajoule/kilogram | "
        "kWh/kg = kilowatt_hour/kilogram | Btu/lb = Btu_it/pound",
    ),
    "heat_transfer": (
        "W/(m^2 K)",
        "W/(m^2 K)",
        "Btu/(h ft^2 degF)",
        "W/(m^2 K) = watt/meter**2/kelvin | W/m^2/K = watt/meter**2/kelvin | "
        "Btu/(h ft^2 degF) = Btu_it/hour/foot**2/delta_degF",
    ),
    "concentration": (
        "kg/m^3",
        "mg/m^3",
        "mg/m^3",
        "kg/m^3 = kilogram/meter**3 | g/m^3 = gram/meter**3 | mg/m^3 = milligram/meter**3",
    ),
    "angle": ("rad", "deg", "deg", "deg = degree | rad = radian"),
    "price": ("/kg", "/kg", "/lb", "/kg = 1/kilogram | /g = 1/gram | /t = 1/metric_ton | /lb = 1/pound"),
    "volume_price": ("/m^3", "/L", "/US gal", "/m^3 = 1/meter**3 | /L = 1/liter | /US gal = 1/gallon"),
    "energy_price": ("/J", "/kWh", "/kWh", "/J = 1/joule | /MJ = 1/megajoule | /kWh = 1/kilowatt_hour"),
}

_SHARE = {"%": Unit("%", 1, 100)}


def _worth(registry: Any, name: str, base: str) -> Unit:
    """The unit's factor and offset to the SI unit, as pint has it."""
    zero, one = (
        Fraction(registry.Quantity(Fraction(n), registry.parse_units(name)).to(base).magnitude)
        for n in (0, 1)
    )
    factor = one - zero
    return Unit("", factor.numerator, factor.denominator, zero.numerator, zero.denominator)


def _build() -> dict[str, UnitList]:
    registry: Any = pint.UnitRegistry(None, non_int_type=Fraction)
    registry.load_definitions(_DEFINITIONS.strip().splitlines())
    lists = {}
    for kind, (si, metric, us, declared) in DECLARED.items():
        names = dict(entry.split(" = ") for entry in declared.split(" | "))
        units = {}
        for spelling, name in names.items():
            worth = _worth(registry, name, names[si])
            units[spelling] = Unit(spelling, worth.num, worth.den, worth.off_num, worth.off_den)
        lists[kind] = UnitList(kind, units, units[si], units[metric], units[us])
    lists["fraction"] = UnitList("fraction", _SHARE, Unit("", 1, 1), _SHARE["%"], _SHARE["%"])
    return lists


UNITS: dict[str, UnitList] = _build()
"""Kind -> its units. Bare kinds (ratio, percent, count, money) have none."""

SLIPS: dict[str, str] = {
    "°": "deg",
    "degree": "deg",
    "degrees": "deg",
    "C": "degC",
    "c": "degC",
    "°C": "degC",
    "° C": "degC",
    "deg C": "degC",
    "celsius": "degC",
    "F": "degF",
    "°F": "degF",
    "deg F": "degF",
    "fahrenheit": "degF",
    "°K": "K",
    '"': "in",
    "″": "in",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "feet": "ft",
    "foot": "ft",
    "MM": "mm",
    "Mm": "mm",
    "metre": "m",
    "meter": "m",
    "KG": "kg",
    "Kg": "kg",
    "kgs": "kg",
    "lbs": "lb",
    "pounds": "lb",
    "troy oz": "oz t",
    "ozt": "oz t",
    "ton": "t",
    "l": "L",
    "ml": "mL",
    "liter": "L",
    "litre": "L",
    "cc": "cm^3",
    "gal": "US gal",
    "gallon": "US gal",
    "sec": "s",
    "seconds": "s",
    "minutes": "min",
    "hr": "h",
    "hours": "h",
}
"""What people write instead, and what they are told to write. None of these is read: an F may be a
farad and a gallon may be British, so the sender has to say."""

for _spelling in [s for listed in UNITS.values() for s in listed.units]:
    for _power, _superscript in (("^2", "²"), ("^3", "³")):
        if _power in _spelling:
            SLIPS.setdefault(_spelling.replace(_power, _superscript), _spelling)
            SLIPS.setdefault(_spelling.replace(_power, _power[1:]), _spelling)
