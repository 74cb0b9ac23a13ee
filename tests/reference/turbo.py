"""Compressor and turbine: the work of air at a given efficiency, and the power balance."""

from CoolProp.CoolProp import PropsSI
from fluids.compressible import isentropic_T_rise_compression, isentropic_work_compression
from scipy.optimize import brentq

from table import write

AIR_HEAT, AIR_GAMMA = 1005.0, 1.4
# fluids works a mole at a time; with this for its molar mass its R gives air of
# c_p 1005 and gamma 1.4.
MOLAR_GAS_CONSTANT = 8.31446261815324
MOLAR_MASS = MOLAR_GAS_CONSTANT / (AIR_HEAT * (AIR_GAMMA - 1.0) / AIR_GAMMA)
INLET_PRESSURE = 1e5


def real_outlet(temperature, ratio, efficiency):
    """Outlet temperature of real air from 1 bar, K."""
    inlet_enthalpy = PropsSI("H", "P", INLET_PRESSURE, "T", temperature, "Air")
    entropy = PropsSI("S", "P", INLET_PRESSURE, "T", temperature, "Air")
    ideal = PropsSI("H", "P", ratio * INLET_PRESSURE, "S", entropy, "Air")
    outlet_enthalpy = inlet_enthalpy + (ideal - inlet_enthalpy) / efficiency
    return PropsSI("T", "P", ratio * INLET_PRESSURE, "H", outlet_enthalpy, "Air")


def compressor_rows():
    """One row an inlet temperature, pressure ratio and efficiency."""
    for temperature in (263.15, 293.15, 323.15):
        for ratio in (1.0, 1.2, 1.6, 2.0, 2.5, 3.5):
            for efficiency in (0.6, 0.75, 1.0):
                work = isentropic_work_compression(
                    temperature, AIR_GAMMA, P1=INLET_PRESSURE, P2=ratio * INLET_PRESSURE, eta=efficiency)
                outlet = isentropic_T_rise_compression(
                    temperature, INLET_PRESSURE, ratio * INLET_PRESSURE, AIR_GAMMA, eta=efficiency)
                yield (temperature, ratio, efficiency, float(outlet), work / MOLAR_MASS,
                       real_outlet(temperature, ratio, efficiency))


COMPRESSOR_ABOUT = """
Compressor outlet temperature and work a kilogram for air of c_p 1005 J/(kg K), gamma 1.4 (fluids),
and the outlet temperature of real air from 1 bar (CoolProp) to show what the constant properties cost.
"""
COMPRESSOR_COLUMNS = {
    "inlet_temperature": "K", "pressure_ratio": "1", "efficiency": "isentropic, total to total, 1",
    "compressor_outlet_temperature": "K", "compressor_work": "J/kg", "outlet_temperature_real_air": "K",
}


def power_at(ratio, gas_flow, gas_temperature, turbine_efficiency, mechanical_efficiency, heat_capacity, gamma):
    """Shaft power of the turbine at an expansion ratio, W."""
    outlet = isentropic_T_rise_compression(gas_temperature, ratio, 1.0, gamma, eta=1.0)
    return mechanical_efficiency * turbine_efficiency * gas_flow * heat_capacity * (gas_temperature - outlet)


def expansion_ratio(power, *stream):
    """The expansion ratio that gives the power, or 'refused'."""
    if power_at(1e12, *stream) < power:
        return "refused"
    return brentq(lambda ratio: power_at(ratio, *stream) - power, 1.0, 1e12, xtol=1e-13, rtol=1e-14, maxiter=500)


def turbine_rows():
    """One row a power and stream; the last asks too much."""
    piston = (0.12, 1213.15, 0.62, 0.97, 1330.0, 1.289)
    rotary = (0.20, 1273.15, 0.55, 0.98, 1360.0, 1.288)
    diesel_figures = (0.10, 853.15, 0.85, 1.0, 1150.0, 1.33)
    for power, stream in ((0.0, piston), (2e3, piston), (8e3, piston), (15e3, piston), (30e3, piston),
                          (5e3, rotary), (20e3, rotary), (40e3, rotary), (10e3, diesel_figures),
                          (25e3, diesel_figures), (200e3, piston)):
        yield (power, *stream, expansion_ratio(power, *stream))


TURBINE_ABOUT = """
Expansion ratio (total to static) at which the turbine's stream drives the compressor: root of the
power of an isentropic expansion (fluids) times both efficiencies. 'refused' where no ratio is enough.
"""
TURBINE_COLUMNS = {
    "compressor_power": "W", "gas_flow": "kg/s", "gas_temperature": "K", "turbine_efficiency": "1",
    "mechanical_efficiency": "1", "heat_capacity": "J/(kg K)", "gamma": "1", "turbine_expansion_ratio": "1",
}

if __name__ == "__main__":
    libraries = ["fluids", "CoolProp", "scipy"]
    write("compressor.csv", __file__, libraries, COMPRESSOR_ABOUT, COMPRESSOR_COLUMNS, compressor_rows())
    write("turbine.csv", __file__, libraries, TURBINE_ABOUT, TURBINE_COLUMNS, turbine_rows())
