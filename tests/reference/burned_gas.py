"""Burned petrol gas from NASA polynomials: heat capacity, gamma, gas constant.

Iso-octane in dry air. The burned gas is CO, CO2, H2, H2O, O2, N2 and Ar in balance at
1740 K and 1 atm; the composition is then frozen. Beside it the simpler reading, in which
only the water-gas balance CO + H2O = CO2 + H2 is kept: a rich mixture then has no oxygen,
a lean one no CO and no H2.
"""

import math

import cantera
from CoolProp.CoolProp import PropsSI
from scipy.optimize import brentq

from table import write

FREEZING_TEMPERATURE = 1740.0  # K
CARBON, HYDROGEN = 8.0, 18.0
# Dry air in moles a mole, after the US Standard Atmosphere 1976; the 0.03 % of
# carbon dioxide and traces are left out and the rest is brought to one.
AIR = {"O2": 0.20946, "N2": 0.78084, "AR": 0.00934}
SPECIES = ("CO", "CO2", "H2", "H2O", "O2", "N2", "AR")
FLUIDS = ("CarbonMonoxide", "CarbonDioxide", "Hydrogen", "Water", "Oxygen", "Nitrogen", "Argon")


def gas_model(polynomials="gri30.yaml"):
    """The seven species with the polynomials of one of cantera's own files."""
    names = {species.name.upper(): species for species in cantera.Species.list_from_file(polynomials)}
    return cantera.Solution(thermo="ideal-gas", species=[names[name] for name in SPECIES])


def water_gas_constant(gas):
    """Equilibrium constant of CO + H2O = CO2 + H2 at the freezing temperature."""
    gas.TP = FREEZING_TEMPERATURE, cantera.one_atm
    gibbs = dict(zip(SPECIES, gas.standard_gibbs_RT))
    return math.exp(gibbs["CO"] + gibbs["H2O"] - gibbs["CO2"] - gibbs["H2"])


def water_gas_composition(gas, air_ratio):
    """Moles of each species a mole of fuel at the air ratio lambda, only the water gas in balance."""
    oxygen_needed = CARBON + HYDROGEN / 4.0
    oxygen = air_ratio * oxygen_needed
    inert = {name: oxygen * AIR[name] / AIR["O2"] for name in ("N2", "AR")}
    if air_ratio >= 1.0:
        burned = {"CO": 0.0, "H2": 0.0, "CO2": CARBON, "H2O": HYDROGEN / 2.0, "O2": oxygen - oxygen_needed}
        return burned | inert

    def split(carbon_dioxide):
        water = 2.0 * oxygen - CARBON - carbon_dioxide
        return {"CO": CARBON - carbon_dioxide, "CO2": carbon_dioxide,
                "H2": HYDROGEN / 2.0 - water, "H2O": water, "O2": 0.0}

    constant = water_gas_constant(gas)

    def unbalance(carbon_dioxide):
        moles = split(carbon_dioxide)
        return moles["CO2"] * moles["H2"] - constant * moles["CO"] * moles["H2O"]

    # Neither carbon monoxide nor hydrogen may be negative.
    least = max(0.0, 2.0 * oxygen - CARBON - HYDROGEN / 2.0)
    most = min(CARBON, 2.0 * oxygen - CARBON)
    return split(brentq(unbalance, least, most, xtol=1e-14, rtol=1e-14)) | inert


def frozen(gas, temperature):
    """Heat capacity in J/(kg K), gamma and gas constant in J/(kg K) of the composition there is."""
    gas.TP = temperature, cantera.one_atm
    return gas.cp_mass, gas.cp_mass / gas.cv_mass, cantera.gas_constant / gas.mean_molecular_weight


def mix(gas, air_ratio):
    """Bring the gas to the water-gas composition."""
    moles = water_gas_composition(gas, air_ratio)
    gas.TPX = FREEZING_TEMPERATURE, cantera.one_atm, [moles[name] for name in SPECIES]


def with_water_gas(gas, air_ratio, temperature):
    """Properties with the water gas alone in balance."""
    mix(gas, air_ratio)
    return frozen(gas, temperature)


def properties(gas, air_ratio, temperature):
    """Properties with all seven species in balance."""
    mix(gas, air_ratio)
    gas.equilibrate("TP", rtol=1e-12)
    return frozen(gas, temperature)


def heat_capacity_by_fluids(gas, air_ratio, temperature):
    """Heat capacity in J/(kg K) from the ideal-gas part of each species' equation of state."""
    properties(gas, air_ratio, temperature)
    return sum(share * PropsSI("CP0MASS", "T", temperature, "P", 1e3, fluid) for share, fluid in zip(gas.Y, FLUIDS))


def rows():
    """One row an air ratio and temperature."""
    gas, other_file = gas_model(), gas_model("nasa_gas.yaml")
    for air_ratio in (0.80, 0.83, 0.85, 0.90, 0.95, 0.98, 1.00, 1.02, 1.05, 1.10, 1.15):
        for temperature in (300.0, 500.0, 700.0, 900.0, 999.0, 1001.0, 1100.0, 1200.0, 1300.0, 1400.0, 1500.0):
            yield (air_ratio, temperature, *properties(gas, air_ratio, temperature),
                   heat_capacity_by_fluids(gas, air_ratio, temperature),
                   properties(other_file, air_ratio, temperature)[0],
                   *with_water_gas(gas, air_ratio, temperature))


ABOUT = """
Burned iso-octane in dry air with argon (20.946 % O2, 78.084 % N2, 0.934 % Ar by volume, rest left out).
CO, CO2, H2, H2O, O2, N2, Ar in balance at 1740 K and 1 atm, then frozen.
Polynomials: cantera's gri30.yaml (NASA seven-coefficient form, GRI-Mech 3.0).
The columns after burned_gas_constant show what the choices cost. CoolProp's water is 0.5 % low at 1500 K (its
equation is meant for up to 1273 K); the older NASA fits in nasa_gas.yaml (TM-4513, 1993) are up to 0.4 % low
for CO2 and N2 near 1300 K; gri30.yaml has N2 0.17 % low at 300 K.
"""
COLUMNS = {
    "lambda": "air ratio, 1",
    "temperature": "K",
    "burned_gas_heat_capacity": "at constant pressure, J/(kg K)",
    "burned_gas_gamma": "ratio of heat capacities, 1",
    "burned_gas_constant": "J/(kg K)",
    "heat_capacity_coolprop": "the same composition, ideal-gas part of the equations of state in CoolProp, J/(kg K)",
    "heat_capacity_tm4513": "with the polynomials of cantera's nasa_gas.yaml, J/(kg K)",
    "heat_capacity_water_gas": "no oxygen when rich, no CO and H2 when lean, J/(kg K)",
    "gamma_water_gas": "1",
    "gas_constant_water_gas": "J/(kg K)",
}

if __name__ == "__main__":
    write("gas.csv", __file__, ["cantera", "CoolProp", "scipy"], ABOUT, COLUMNS, rows())
