"""Inputs of an engine given readings with its gate wide open, by Markov chains (emcee).

The engine is that of engine.py, solved for many draws at once by bisection (checked against engine.py when it runs). Each input has a prior in
standard normal coordinates; what is told of each case are means, standard deviations and outer points
of the inputs and of the boost forecast for another port.
"""

import math

import emcee
import numpy as np
from scipy.interpolate import RegularGridInterpolator

import burned_gas
from engine import AIR_CONSTANT, AIR_EXPONENT, AIR_HEAT, STOICHIOMETRIC_RATIO, Engine, creep_boost
from table import write

WALKERS, STEPS, BURN_IN = 64, 1300, 300

# Inputs: middle, and the standard deviation, of the logarithm where it is marked so.
INPUTS = {
    "discharge_coefficient": (0.75, 0.08, False), "leak_area": (5e-6, 0.5, True),
    "volumetric_efficiency": (0.87, 0.05, False), "lambda": (0.88, 0.015, False),
    "inlet_heating": (15.0, 4.0, False), "inlet_drop": (6e3, 0.4, True), "charge_drop": (12e3, 0.4, True),
    "exhaust_drop": (15e3, 0.4, True), "compressor_efficiency": (0.67, 0.05, False),
    "cooler_effectiveness": (0.75, 0.06, False), "turbine_efficiency": (0.62, 0.05, False),
    "turbine_inlet_temperature": (1213.0, 40.0, False), "turbine_area": (500e-6, 0.2, True),
    "passage": (1.6, 0.4, True),
}
NAMES = list(INPUTS)


def gas_tables():
    """Heat capacity, gamma and gas constant over lambda and temperature."""
    model = burned_gas.gas_model()
    lambdas, temperatures = np.linspace(0.80, 1.05, 11), np.linspace(950.0, 1480.0, 12)
    grid = np.array([[burned_gas.properties(model, a, t) for t in temperatures] for a in lambdas])
    return [RegularGridInterpolator((lambdas, temperatures), grid[:, :, k], method="cubic", bounds_error=False)
            for k in range(3)]


GAS = gas_tables()


def flux(pressure, temperature, back_pressure, gamma, constant):
    """Isentropic nozzle flow a unit of area."""
    ratio = np.maximum(back_pressure / pressure, (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))
    mach = np.sqrt(np.maximum(2.0 / (gamma - 1.0) * (ratio ** ((1.0 - gamma) / gamma) - 1.0), 0.0))
    return (pressure / np.sqrt(constant * temperature) * np.sqrt(gamma) * mach
            * ratio ** ((gamma + 1.0) / (2.0 * gamma)))


def bisected(short, low, high, steps=32):
    """Where a falling function crosses zero, for each draw."""
    for _ in range(steps):
        middle = 0.5 * (low + high)
        above = short(middle) > 0.0
        low, high = np.where(above, middle, low), np.where(above, high, middle)
    return 0.5 * (low + high)


def creep(values, speed, volume_per_turn, area, ambient=101325.0, air=293.15, reference_flow=0.15, mechanical=0.97):
    """The boost behind a gate that stands open at an area, Pa; nan where the inputs can't be."""
    v = dict(zip(NAMES, values))
    heat, gamma, constant = (table(np.stack([v["lambda"], v["turbine_inlet_temperature"]], axis=-1)) for table in GAS)
    inlet_temperature = air + v["inlet_heating"]
    hot = v["turbine_inlet_temperature"]
    work = v["turbine_efficiency"] * mechanical * heat * hot

    def needed(ratio):
        rise = inlet_temperature * (ratio ** AIR_EXPONENT - 1.0) / v["compressor_efficiency"]
        outlet = inlet_temperature + rise
        charge = outlet - v["cooler_effectiveness"] * (outlet - air)
        swallow = v["volumetric_efficiency"] * volume_per_turn * speed / (AIR_CONSTANT * charge)
        # ratio (ambient - inlet drop) = manifold + charge drop, drops with the flow squared: a quadratic.
        share = (swallow / reference_flow) ** 2
        loss = share * (ratio * v["inlet_drop"] + v["charge_drop"])
        manifold = (np.sqrt(1.0 + 4.0 * loss * ratio * ambient) - 1.0) / (2.0 * loss)
        flow = swallow * manifold
        back = ambient + v["exhaust_drop"] * share * manifold**2
        gas = flow * (1.0 + 1.0 / (STOICHIOMETRIC_RATIO * v["lambda"]))
        power = flow * AIR_HEAT * rise

        def lacking(log_expansion):
            inlet = back * np.exp(log_expansion)
            through = v["turbine_area"] * flux(inlet, hot, np.sqrt(inlet * back), gamma, constant)
            return power - through * work * (1.0 - np.exp(-log_expansion * constant / heat))

        expansion = bisected(lacking, np.full_like(ratio, 1e-9), np.full_like(ratio, 4.0))
        inlet = back * np.exp(expansion)
        turbine = v["turbine_area"] * flux(inlet, hot, np.sqrt(inlet * back), gamma, constant)
        gate = ((gas - turbine) / flux(inlet, hot, back, gamma, constant) - v["leak_area"]) / v["discharge_coefficient"]
        return gate, manifold - ambient

    ratio = bisected(lambda r: needed(r)[0] - area, np.full(area.shape, 1.0 + 1e-9), np.full(area.shape, 6.0))
    boost = np.maximum(needed(ratio)[1], 0.0)
    possible = ((v["discharge_coefficient"] <= 1.0) & (v["discharge_coefficient"] > 0.0)
                & (v["cooler_effectiveness"] <= 1.0) & (v["lambda"] >= 0.8))
    return np.where(possible, boost, np.nan)


def inputs_of(z):
    """Inputs at standard normal coordinates, one row each."""
    return [middle * np.exp(s * z[..., i]) if is_log else middle + s * z[..., i]
            for i, (middle, s, is_log) in enumerate(INPUTS.values())]


def hole(diameter):
    """Area of a round port."""
    return math.pi / 4.0 * diameter**2


def boosts(z, case, points):
    """The boost at each (speed, port) of `points`, one column each."""
    volume, first_port = case["volume_per_turn"], case["port"]
    many = np.repeat(z[:, None, :], len(points), axis=1)
    values = inputs_of(many)
    speed = np.array([[p[0] / 60.0 for p in points]]) * np.ones(z.shape[:1] + (1,))
    port = np.array([[hole(p[1]) for p in points]]) * np.ones(z.shape[:1] + (1,))
    passage = values[NAMES.index("passage")] * hole(first_port)
    return creep(values, speed, volume, 1.0 / np.sqrt(1.0 / port**2 + 1.0 / passage**2))


TWO_LITRE = {"volume_per_turn": 1.0e-3, "port": 0.021, "planned": (6500.0, 0.026)}
TWO_ROTOR = {"volume_per_turn": 1.308e-3, "port": 0.024, "planned": (7000.0, 0.030)}
SMALL = {"volume_per_turn": 0.7e-3, "port": 0.017, "planned": (6000.0, 0.021)}
# Readings: speed, port, boost read, standard uncertainty.
CASES = {
    "two litre, as expected": TWO_LITRE | {"readings": [(6500, 0.021, 0.80e5, 3.6e3)]},
    "two litre, low": TWO_LITRE | {"readings": [(6500, 0.021, 0.45e5, 3.6e3)]},
    "two litre, two speeds": TWO_LITRE | {"readings": [(6500, 0.021, 0.75e5, 3.6e3), (4500, 0.021, 0.40e5, 3.6e3)]},
    "two-rotor": TWO_ROTOR | {"readings": [(7000, 0.024, 0.60e5, 4e3)]},
    "two-rotor, three speeds": TWO_ROTOR | {"readings": [
        (7000, 0.024, 0.70e5, 4e3), (5500, 0.024, 0.55e5, 4e3), (4500, 0.024, 0.35e5, 4e3)]},
    "two-rotor, before and after boring": TWO_ROTOR | {"readings": [
        (7000, 0.024, 0.70e5, 4e3), (7000, 0.028, 0.55e5, 4e3)]},
    "small, poor gauge": SMALL | {"readings": [(6000, 0.017, 0.80e5, 10e3)]},
    "small, four readings": SMALL | {"readings": [
        (6000, 0.017, 0.75e5, 3.6e3), (5000, 0.017, 0.60e5, 3.6e3), (4000, 0.017, 0.40e5, 3.6e3),
        (6000, 0.020, 0.55e5, 3.6e3)]},
}


def chain(case):
    """Draws of the posterior, thinned."""
    readings = np.array([r[2] for r in case["readings"]])
    spread = np.array([r[3] for r in case["readings"]])
    points = [r[:2] for r in case["readings"]]

    def log_posterior(z):
        off = (boosts(z, case, points) - readings) / spread
        log = -0.5 * (z**2).sum(axis=1) - 0.5 * (off**2).sum(axis=1)
        return np.where(np.isfinite(log), log, -np.inf)

    generator = np.random.default_rng(20)
    start = 0.1 * generator.standard_normal((WALKERS, len(NAMES)))
    moves = [(emcee.moves.DEMove(), 0.8), (emcee.moves.DESnookerMove(), 0.1), (emcee.moves.StretchMove(), 0.1)]
    sampler = emcee.EnsembleSampler(WALKERS, len(NAMES), log_posterior, vectorize=True, moves=moves)
    sampler.random_state = np.random.RandomState(20).get_state()
    sampler.run_mcmc(start, STEPS)
    length = sampler.get_autocorr_time(tol=0).max()
    draws = sampler.get_chain(discard=BURN_IN, thin=max(1, int(length / 2)), flat=True)
    return draws, (STEPS - BURN_IN) * WALKERS / length


def check_against_engine():
    """The solution for many draws is that of engine.py."""
    middle = [v for v, _, _ in INPUTS.values()]
    v = dict(zip(NAMES, middle))
    one = Engine(
        speed=6500 / 60, turbine_area=v["turbine_area"], discharge_coefficient=v["discharge_coefficient"],
        leak_area=v["leak_area"], volume_per_turn=1e-3, volumetric_efficiency=v["volumetric_efficiency"],
        air_ratio=v["lambda"], ambient=101325.0, ambient_temperature=293.15, inlet_heating=v["inlet_heating"],
        inlet_drop=v["inlet_drop"], charge_drop=v["charge_drop"], exhaust_drop=v["exhaust_drop"], reference_flow=0.15,
        compressor_efficiency=v["compressor_efficiency"], cooler_effectiveness=v["cooler_effectiveness"],
        turbine_efficiency=v["turbine_efficiency"], mechanical_efficiency=0.97,
        turbine_inlet_temperature=v["turbine_inlet_temperature"])
    many = creep([np.array([x]) for x in middle], 6500 / 60, 1e-3, np.array([3e-4]))[0]
    if abs(many - creep_boost(one, 3e-4)) > 5.0:
        raise AssertionError(f"{many} Pa here, {creep_boost(one, 3e-4)} Pa by engine.py")


def rows():
    """One row a case and input; the forecast is an input of its own."""
    check_against_engine()
    for name, case in CASES.items():
        draws, effective = chain(case)
        forecast = boosts(draws, case, [case["planned"]])[:, 0]
        columns = {**{NAMES[i]: draws[:, i] for i in range(len(NAMES))}, "forecast": forecast[np.isfinite(forecast)]}
        readings = ";".join(f"{s:g}/{p:g}/{b:g}/{u:g}" for s, p, b, u in case["readings"])
        for what, values in columns.items():
            yield (name, case["volume_per_turn"], case["port"], *case["planned"], readings, what, float(values.mean()),
                   float(values.std()), float(np.quantile(values, 0.025)), float(np.quantile(values, 0.975)), float(effective))
        print(name, "effective draws", round(effective), flush=True)


ABOUT = """
Inputs of invented engines given readings of boost with the gate wide open, by Markov chains.
Ambient 101325 Pa, 293.15 K; reference flow 0.15 kg/s; mechanical efficiency 0.97. The port and the passage behind
it, `passage` times the area of the port as made, stand in series: 1/A^2 = 1/A_port^2 + 1/A_passage^2.
Inputs are told in standard normal coordinates of their priors: middle + deviation z, or middle exp(deviation z).
"""
COLUMNS = {
    "case": "what it is", "volume_per_turn": "swept, m3", "port": "diameter as made, m", "planned_speed": "rpm",
    "planned_port": "diameter, m", "readings": "speed rpm/port m/boost Pa/standard uncertainty Pa, one after the other",
    "what": "the input, or the boost forecast at the planned port in Pa", "mean": "of the draws", "deviation": "standard",
    "low": "2.5 % point", "high": "97.5 % point", "effective": "independent draws that the chain is worth, by its autocorrelation",
}

if __name__ == "__main__":
    write("calibration.csv", __file__, ["emcee", "numpy", "scipy", "cantera"], ABOUT, COLUMNS, rows())
