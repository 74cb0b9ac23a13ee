"""Pressure in a closed volume with a leak, by integrating its ordinary differential equation.

Blow-down with the gas kept at its temperature or cooling as it expands without
heat, and filling from outside at constant temperature. The leak is an isentropic
nozzle, choked and then not. Near equal pressures the flow goes with the root of
the difference, so the root is the variable there and the equation stays smooth.
"""

import math

from scipy.integrate import solve_ivp

from table import write

GAMMA, GAS_CONSTANT = 1.4, 287.05
CRITICAL = (2.0 / (GAMMA + 1.0)) ** (GAMMA / (GAMMA - 1.0))
EXPONENT = (GAMMA - 1.0) / GAMMA


def flow(area, upstream, temperature, drop):
    """Mass flow in kg/s through the leak; keeps its digits down to a drop of nothing."""
    log_ratio = math.log1p(-min(drop / upstream, 1.0 - CRITICAL))
    head = -2.0 / EXPONENT * math.expm1(EXPONENT * log_ratio)
    return area * upstream / math.sqrt(GAS_CONSTANT * temperature) * math.exp(log_ratio / GAMMA) * math.sqrt(head)


def time_between(rate, start, end, ambient):
    """Seconds from start to end, `rate` giving Pa/s at a pressure over ambient; in pieces that are smooth."""
    kinks = sorted({start, end, *(p for p in (ambient / CRITICAL, ambient * CRITICAL)
                                  if min(start, end) < p < max(start, end))}, reverse=start > end)

    def seconds(first, last):
        roots = [math.sqrt(abs(pressure - ambient)) for pressure in (first, last)]
        side = 1.0 if start > ambient else -1.0

        def slope(root, _):
            # The limit at equal pressures is smooth, but 0/0; a hair beside it is near enough.
            root = max(root, 1e-7)
            return [2.0 * side * root / rate(side * root * root)]

        solution = solve_ivp(slope, roots, [0.0], method="DOP853", rtol=1e-12, atol=1e-12)
        return solution.y[0, -1]

    return sum(seconds(*piece) for piece in zip(kinks, kinks[1:]))


def isothermal(volume, temperature, start, end, ambient, area):
    """Blow-down or filling at constant temperature, s."""
    def rate(over):
        into = (flow(area, ambient, temperature, -over) if over < 0.0
                else -flow(area, ambient + over, temperature, over))
        return GAS_CONSTANT * temperature / volume * into

    return time_between(rate, start, end, ambient)


def adiabatic(volume, temperature, start, end, ambient, area):
    """Blow-down without heat, `temperature` at the start, s."""
    def rate(over):
        now = temperature * ((ambient + over) / start) ** EXPONENT
        return -GAMMA * GAS_CONSTANT * now / volume * flow(area, ambient + over, now, over)

    return time_between(rate, start, end, ambient)


CASES = [  # litres, K, start, end, ambient in kPa, mm2
    (12.0, 293.15, 151.325, 131.325, 101.325, 3.0),
    (12.0, 293.15, 151.325, 106.325, 101.325, 3.0),
    (12.0, 293.15, 151.325, 101.825, 101.325, 3.0),
    (12.0, 293.15, 151.325, 101.325, 101.325, 3.0),
    (6.0, 278.15, 171.325, 141.325, 101.325, 0.8),
    (20.0, 308.15, 250.0, 120.0, 79.495, 12.0),
    (20.0, 308.15, 250.0, 180.0, 79.495, 12.0),
    (5000.0, 333.0, 4000.0, 200.0, 100.0, 1000.0),
    (5000.0, 333.0, 4000.0, 110.0, 100.0, 1000.0),
    (0.4, 293.15, 218.0, 211.0, 101.325, 0.02),
    (1.0, 293.15, 192.0, 191.0, 101.325, 0.5),
    (3.0, 350.0, 300.0, 101.33, 101.325, 2.0),
]
FILLING = [
    (12.0, 293.15, 51.325, 71.325, 101.325, 3.0),
    (12.0, 293.15, 20.0, 40.0, 101.325, 3.0),
    (12.0, 293.15, 20.0, 95.0, 101.325, 3.0),
    (0.5, 288.15, 41.325, 101.325, 101.325, 0.1),
]


def rows():
    """One row a case, filling without an adiabatic time."""
    for litres, temperature, start, end, ambient, area in CASES + FILLING:
        case = (litres * 1e-3, temperature, start * 1e3, end * 1e3, ambient * 1e3, area * 1e-6)
        filling = start < ambient
        yield (*case, isothermal(*case), "refused" if filling else adiabatic(*case))


ABOUT = """
Time for the pressure of air (gamma 1.4, R 287.05 J/(kg K)) in a volume to fall, or to rise when it starts
below ambient, through a nozzle of this effective area. Adiabatic: the air cools as it expands; blow-down only.
"""
COLUMNS = {
    "volume": "m3", "temperature": "of the air, at the start if adiabatic, K", "start": "absolute, Pa",
    "end": "absolute, Pa", "ambient": "absolute, Pa", "area": "effective, m2",
    "decay_time_isothermal": "s", "decay_time_adiabatic": "s",
}

if __name__ == "__main__":
    write("decay.csv", __file__, ["scipy"], ABOUT, COLUMNS, rows())
