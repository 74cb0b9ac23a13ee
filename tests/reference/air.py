"""Dry air as a real gas, to show how far the ideal gas is off near ambient."""

from CoolProp.CoolProp import PropsSI

from table import write


def rows():
    """One row a pressure and temperature."""
    for pressure in (60e3, 80e3, 101325.0, 150e3, 200e3, 300e3):
        for temperature in (243.15, 273.15, 293.15, 313.15, 353.15, 423.15):
            state = ("P", pressure, "T", temperature, "Air")
            density = PropsSI("D", *state)
            heat, at_constant_volume = PropsSI("C", *state), PropsSI("O", *state)
            yield (pressure, temperature, density, density * 287.05 * temperature / pressure - 1.0,
                   heat, heat / at_constant_volume, PropsSI("A", *state))


ABOUT = """
Dry air near ambient as a real gas (pseudo-pure fluid of Lemmon et al. 2000), against p / (287.05 T).
"""
COLUMNS = {
    "pressure": "absolute, Pa",
    "temperature": "K",
    "air_density": "kg/m3",
    "density_over_ideal": "air_density over p / (287.05 T), less one",
    "heat_capacity": "at constant pressure, J/(kg K)",
    "gamma": "ratio of heat capacities, 1",
    "speed_of_sound": "m/s",
}

if __name__ == "__main__":
    write("air.csv", __file__, ["CoolProp"], ABOUT, COLUMNS, rows())
