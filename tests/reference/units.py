"""One of each unit in coherent SI, and numbers on the temperature scales, by pint.

What pint was asked for stands in the column `asked`. Not its `cfm`, which it reads as
a hundredth of a fermi, nor `mil`, an angle to it: ft3/min and thou stand for them.
"""

import pint

from table import write

ureg = pint.UnitRegistry()

# our symbol, pint's expression, coherent SI unit
UNITS = [
    ("Pa", "pascal", "pascal"),
    ("hPa", "hectopascal", "pascal"),
    ("kPa", "kilopascal", "pascal"),
    ("MPa", "megapascal", "pascal"),
    ("GPa", "gigapascal", "pascal"),
    ("bar", "bar", "pascal"),
    ("mbar", "millibar", "pascal"),
    ("psi", "psi", "pascal"),
    ("inHg", "inch_Hg", "pascal"),
    ("mmHg", "mmHg", "pascal"),
    ("torr", "torr", "pascal"),
    ("inH2O", "inch_H2O", "pascal"),
    ("atm", "atm", "pascal"),
    ("kgf/cm2", "kgf/cm**2", "pascal"),
    ("mm", "mm", "m"),
    ("cm", "cm", "m"),
    ("km", "km", "m"),
    ("in", "inch", "m"),
    ("ft", "foot", "m"),
    ("thou", "thou", "m"),
    ("mm2", "mm**2", "m**2"),
    ("cm2", "cm**2", "m**2"),
    ("in2", "inch**2", "m**2"),
    ("L", "liter", "m**3"),
    ("mL", "milliliter", "m**3"),
    ("cc", "cc", "m**3"),
    ("dm3", "dm**3", "m**3"),
    ("in3", "inch**3", "m**3"),
    ("ft3", "foot**3", "m**3"),
    ("g", "gram", "kg"),
    ("lb", "pound", "kg"),
    ("min", "minute", "s"),
    ("h", "hour", "s"),
    ("ms", "millisecond", "s"),
    ("rpm", "rpm", "turn/s"),
    ("degR", "degR", "K"),
    ("kg/h", "kg/hour", "kg/s"),
    ("lb/min", "lb/minute", "kg/s"),
    ("lb/h", "lb/hour", "kg/s"),
    ("L/min", "liter/minute", "m**3/s"),
    ("cm3/min", "cm**3/minute", "m**3/s"),
    ("cfm", "foot**3/minute", "m**3/s"),
    ("m3/h", "m**3/hour", "m**3/s"),
    ("km/h", "km/hour", "m/s"),
    ("mph", "mph", "m/s"),
    ("kN", "kilonewton", "N"),
    ("lbf", "lbf", "N"),
    ("kgf", "kgf", "N"),
    ("N/mm", "N/mm", "N/m"),
    ("lbf/in", "lbf/inch", "N/m"),
    ("lbf ft", "lbf*foot", "J"),
    ("kJ", "kJ", "J"),
    ("kW", "kW", "W"),
    ("hp", "hp", "W"),
    ("PS", "metric_horsepower", "W"),
    ("mV", "mV", "V"),
    ("kohm", "kohm", "ohm"),
    ("deg", "degree", "rad"),
    ("dm3/(s bar)", "dm**3/(s*bar)", "m**3/(s*Pa)"),
]

# our unit, pint's unit, numbers on the scale
POINTS = [("°C", "degC"), ("°F", "degF")]
NUMBERS = [-40.0, 0.0, 20.0, 100.0, 650.0]



def rows():
    """All digits of pint's floats, as text: what is compared are roundings."""
    for symbol, asked, si in UNITS:
        yield symbol, "1", repr(ureg(f"1 * ({asked})").to(si).magnitude), asked
    for symbol, asked in POINTS:
        for number in NUMBERS:
            yield symbol, repr(number), repr(ureg.Quantity(number, asked).to("K").magnitude), asked


write(
    "units.csv",
    __file__,
    ["pint"],
    "Units in coherent SI.",
    {
        "unit": "our symbol",
        "number": "in that unit",
        "si": "in the coherent SI unit; rotation in turns a second",
        "asked": "what pint was asked for",
    },
    rows(),
)
