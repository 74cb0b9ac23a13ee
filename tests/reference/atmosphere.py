"""The standard atmosphere over geopotential altitude, and its inverse."""

import fluids
from ambiance import Atmosphere
from scipy.optimize import brentq

from table import write

EARTH_RADIUS = 6356766.0  # m, the nominal radius of ISO 2533


def geometric(geopotential):
    """Height above the sea for a geopotential altitude; both libraries ask for it."""
    return EARTH_RADIUS * geopotential / (EARTH_RADIUS - geopotential)


def pressure(altitude):
    """ICAO atmosphere (the same below 32 km as ISO 2533), Pa."""
    return float(Atmosphere(geometric(altitude)).pressure[0])


def rows():
    """One row an altitude; the inverse from the pressure rounded to a pascal."""
    for altitude in (-1000, -500, -100, 0, 100, 250, 500, 750, 1000, 1500, 2000, 2500, 3000, 4000, 5000,
                     6000, 7000, 8000, 9000, 10000, 10999):
        rounded = float(round(pressure(altitude)))
        yield (float(altitude), pressure(altitude),
               float(Atmosphere(geometric(altitude)).temperature[0]),
               float(fluids.ATMOSPHERE_1976(geometric(altitude)).P), rounded,
               brentq(lambda height: pressure(height) - rounded, -2000.0, 12000.0, xtol=1e-9))


ABOUT = """
Standard atmosphere (ISO 2533, the same as ICAO Doc 7488 here) over geopotential altitude.
"""
COLUMNS = {
    "altitude": "geopotential, m",
    "standard_pressure": "ambiance, Pa",
    "standard_temperature": "ambiance, K",
    "pressure_us_1976": "fluids.ATMOSPHERE_1976, Pa (other gas constant: 8314.32 over 28.9644)",
    "pressure": "given for pressure_altitude, Pa",
    "pressure_altitude": "geopotential, m",
}

if __name__ == "__main__":
    write("atmosphere.csv", __file__, ["ambiance", "fluids", "scipy"], ABOUT, COLUMNS, rows())
