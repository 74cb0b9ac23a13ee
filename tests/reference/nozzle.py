"""Nozzle flow by quadrature of Bernoulli's equation along an isentrope.

No closed formula of the flow is used: the speed comes from the integral of
dp / rho, and a choked nozzle is the largest flow a unit of area on the way down
(NACA Report 1135 states the closed forms that follow).
"""

import math

from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from table import write


def flow(area, pressure, temperature, back_pressure, gamma, gas_constant):
    """Mass flow in kg/s."""
    supply_density = pressure / (gas_constant * temperature)

    def flow_at(ratio):
        specific_energy, _ = quad(lambda share: share ** (-1.0 / gamma), ratio, 1.0, epsabs=1e-14, epsrel=1e-13)
        speed = math.sqrt(2.0 * specific_energy * pressure / supply_density)
        return area * supply_density * ratio ** (1.0 / gamma) * speed

    throat = minimize_scalar(lambda ratio: -flow_at(ratio), bounds=(0.3, 0.8), method="bounded",
                             options={"xatol": 1e-9}).x
    return flow_at(max(throat, back_pressure / pressure)), throat


AIR, BURNED = (1.4, 287.05), (1.289, 296.0)
CASES = [(area * 1e-6, pressure * 1e3, temperature, ratio * pressure * 1e3, gamma, gas_constant)
         for area, pressure, temperature, (gamma, gas_constant) in (
             (177.0, 240.0, 1213.15, BURNED), (490.0, 180.0, 1273.15, BURNED), (1000.0, 1000.0, 333.0, AIR),
             (12.0, 320.0, 298.15, AIR), (50.0, 101.325, 293.15, (1.667, 2077.1)))
         for ratio in (0.0, 0.2, 0.45, 0.52, 0.53, 0.54, 0.55, 0.7, 0.9, 0.99, 0.9999, 1.0)]


def rows():
    """One row a case."""
    for case in CASES:
        mass_flow, throat = flow(*case)
        yield (*case, mass_flow, throat)


ABOUT = """
Mass flow of an isentropic nozzle, choked and not, by quadrature of dp / rho and a search for the throat.
"""
COLUMNS = {
    "area": "effective, m2", "pressure": "before the nozzle, at rest, absolute, Pa",
    "temperature": "before the nozzle, at rest, K", "back_pressure": "absolute, Pa", "gamma": "1",
    "gas_constant": "J/(kg K)", "nozzle_flow": "kg/s",
    "critical_pressure_ratio": "where the flow a unit of area is largest, 1 (good to 1e-7)",
}

if __name__ == "__main__":
    write("nozzle.csv", __file__, ["scipy"], ABOUT, COLUMNS, rows())
