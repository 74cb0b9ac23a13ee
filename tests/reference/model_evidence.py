"""How densely a reading lies with a cause present and without it, by a model of engine, turbine and gate.

Draws of all that is uncertain, one by one and independent; at each the boost of an open gate, or the gate area that a
boost needs, by bisection; a reading's density is the mean over them of the normal density that its own error and the
model's give it. Where a pull with the gate tied open was read before, each draw weighs what its likelihood says.

Sources: Heywood, Internal Combustion Engine Fundamentals, 2.7, 6.8 and appendix C; Watson and Janota, Turbocharging
the Internal Combustion Engine (the turbine stage as two restrictions in series); JCGM 101 (draws); the marginal
likelihood by draws after MacKay, Information Theory, Inference, and Learning Algorithms, 2003, chapter 28. Burned gas
from gas.csv. Inputs are the typical values of the rules, and the sizes of the faults the bands that the rules state.
"""

import csv
import math

import numpy as np
from scipy.interpolate import RegularGridInterpolator

from table import HERE, write

DRAWS, SEED = 40_000, 11
R_AIR, CP_AIR, EXPONENT, STOICHIOMETRIC = 287.05, 1005.0, 0.4 / 1.4, 14.7
BAR, MM = 1e5, 1e-3
# Middle and standard uncertainty; the logarithm is normal where one of a positive value is over a fifth of it.
TYPICAL = {
    "discharge": (0.75, 0.1), "leak": (5e-6, 5e-6), "filling": (0.87, 0.05), "lambda": (0.88, 0.01),
    "ambient": (1e5, 2.5e3), "air": (293.15, 8.0), "heating": (15.0, 7.0), "inlet_drop": (6e3, 3e3),
    "charge_drop": (12e3, 5e3), "exhaust_drop": (40e3, 15e3), "compressor": (0.67, 0.05), "cooler": (0.75, 0.08),
    "turbine": (0.62, 0.05), "mechanical": (0.97, 0.015), "hot": (1213.15, 40.0), "nozzle": (500e-6, 100e-6),
    "passage": (1.6, 0.65), "top": (6500.0 / 60.0, 200.0 / 60.0), "expected": (0.5 * BAR, 0.02 * BAR),
    "displacement": (2e-3, 1e-5),
}


def gas_table():
    """Heat capacity, gamma and gas constant over lambda and temperature."""
    with open(HERE / "gas.csv", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    lambdas, temperatures = (sorted({float(row[c]) for row in rows}) for c in ("lambda", "temperature"))
    # Of temperatures that stand for the ends of a polynomial there are some only.
    known = {(float(r["lambda"]), float(r["temperature"])): r for r in rows}
    temperatures = [t for t in temperatures if all((a, t) in known for a in lambdas)]
    names = ("burned_gas_heat_capacity", "burned_gas_gamma", "burned_gas_constant")
    return [RegularGridInterpolator((lambdas, temperatures), np.array(
        [[float(known[a, t][name]) for t in temperatures] for a in lambdas])) for name in names]


GAS = gas_table()


def drawn(generator, middle, spread):
    """A normal draw, or one whose logarithm is normal."""
    z = generator.standard_normal(DRAWS)
    if spread > 0.2 * middle:
        return middle * np.exp(math.sqrt(math.log1p((spread / middle) ** 2)) * z)
    return middle + spread * z


def flux(pressure, temperature, back, gamma, constant):
    """Isentropic nozzle flow a unit of area."""
    ratio = np.maximum(back / pressure, (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))
    speed = np.sqrt(2.0 * gamma / ((gamma - 1.0) * constant * temperature)
                    * np.maximum(1.0 - ratio ** ((gamma - 1.0) / gamma), 0.0))
    return pressure * ratio ** (1.0 / gamma) * speed


def bisected(falling, low, high):
    """Where a falling function crosses zero, at each draw."""
    low, high = np.full(DRAWS, low), np.full(DRAWS, high)
    for _ in range(34):
        middle = 0.5 * (low + high)
        above = falling(middle) > 0.0
        low, high = np.where(above, middle, low), np.where(above, high, middle)
    return 0.5 * (low + high)


class Cars:
    """Draws of one kind of car."""

    def __init__(self, seed=SEED):
        self.generator = np.random.default_rng(seed)
        self.v = {name: drawn(self.generator, *typical) for name, typical in TYPICAL.items()}
        v = self.v
        points = np.stack([np.clip(v["lambda"], 0.8, 1.15), v["hot"]], axis=-1)
        self.heat, self.gamma, self.constant = (table(points) for table in GAS)
        # The flow at which losses are told: at the expected boost, the charge 30 K above the air.
        self.reference = (v["filling"] * (v["ambient"] + v["expected"]) / (R_AIR * (v["air"] + 30.0))
                          * v["displacement"] / 2.0 * v["top"])

    def normal(self, middle, spread):
        return middle + spread * self.generator.standard_normal(DRAWS)

    def area_needed(self, boost, speed):
        """The gate area at which this boost stands."""
        v = self.v
        plenum = v["ambient"] + boost
        inlet_temperature = v["air"] + v["heating"]

        def charge(flow):
            share = (flow / self.reference) ** 2
            inlet = np.maximum(v["ambient"] - v["inlet_drop"] * share, 1e4)
            rise = inlet_temperature * (((plenum + v["charge_drop"] * share) / inlet) ** EXPONENT - 1.0) / v["compressor"]
            outlet = inlet_temperature + rise
            swallowed = (v["filling"] * plenum / (R_AIR * (outlet - v["cooler"] * (outlet - v["air"])))
                         * v["displacement"] / 2.0 * speed)
            return swallowed, rise

        flow = bisected(lambda f: charge(f)[0] - f, 1e-4, 1.0)
        power = flow * CP_AIR * charge(flow)[1]
        back = v["ambient"] + v["exhaust_drop"] * (flow / self.reference) ** 2

        def through(log_ratio):
            inlet = back * np.exp(log_ratio)
            return inlet, v["nozzle"] * flux(inlet, v["hot"], np.sqrt(inlet * back), self.gamma, self.constant)

        def lacking(log_ratio):
            work = v["turbine"] * v["mechanical"] * self.heat * v["hot"]
            return power - through(log_ratio)[1] * work * (1.0 - np.exp(-log_ratio * self.constant / self.heat))

        inlet, turbine = through(bisected(lacking, 1e-9, 4.0))
        gas = flow * (1.0 + 1.0 / (STOICHIOMETRIC * v["lambda"]))
        gate = (gas - turbine) / flux(inlet, v["hot"], back, self.gamma, self.constant) - v["leak"]
        return gate / v["discharge"]

    def open_boost(self, area, port, speed):
        """The boost behind an open area, the passage as a share of the port behind it."""
        passage = self.v["passage"] * math.pi / 4.0 * port**2
        area = area * passage / np.sqrt(area**2 + passage**2)
        boost = bisected(lambda b: self.area_needed(b, speed) - area, 0.0, 4.0 * BAR)
        possible = (self.v["discharge"] <= 1.0) & (self.v["cooler"] <= 1.0) & (self.v["mechanical"] <= 1.0)
        return np.where(possible, boost, np.nan)


def density(reading, expected, error, weights=None):
    """Of a reading, up to a factor that all share."""
    sound = np.isfinite(expected)
    near = np.exp(-0.5 * ((reading - expected[sound]) / error) ** 2)
    return np.average(near, weights=None if weights is None else weights[sound])


def shares(reading, ways, error, weights=None):
    """Of each way the density as a share of the sum of it and the first, that without a cause.

    None where a third way is far denser than both: that sets outer tails, of a few draws, against one another.
    """
    all_of = np.array([density(reading, way, error, weights) for way in ways])
    return [one / (one + all_of[0]) if max(one, all_of[0]) > 0.1 * all_of.max() else None for one in all_of]


def hole(diameter):
    return math.pi / 4.0 * diameter**2


def ports():
    """A measured port, by what the expected boost needs at the top."""
    cars = Cars()
    needed, passage = cars.area_needed(cars.v["expected"], cars.v["top"]), cars.v["passage"]

    def port(middle, spread):
        area = cars.normal(middle, spread) * needed * np.sqrt(1.0 + passage**2) / passage
        return np.sqrt(np.where(area > 0.0, area, np.nan) * 4.0 / math.pi)

    ways = [port(1.4, 0.3), port(0.6, 0.12)]
    for diameter in (16.0, 18.0, 20.0, 22.0, 25.0, 28.0):
        found = shares(diameter * MM, ways, math.hypot(0.25, 0.5) * MM)
        yield "port", f"port_diameter: {diameter:g} mm", "port_cannot_hold", found[1]


def lifts():
    """A measured lift, by the same, behind a port of a known size."""
    cars = Cars()
    needed = cars.area_needed(cars.v["expected"], cars.v["top"])
    for diameter in (20.0, 32.0):
        port = cars.normal(diameter * MM, 0.25 * MM)
        starved = np.minimum(cars.normal(0.6, 0.15) * needed / (math.pi * port), cars.normal(0.19, 0.03) * port)
        ways = [cars.normal(0.34, 0.06) * port, starved, cars.normal(0.22, 0.09) * port]
        for lift in (2.0, 3.0, 4.0, 5.0, 6.0):
            found = shares(lift * MM, ways, math.hypot(0.3, 0.5) * MM)
            answers = f"port_diameter: {diameter:g} mm; flap_lift: {lift:g} mm ± 0.3"
            yield "lift", answers, "lift_too_small", found[1]
            yield "lift", answers, "lift_lost_to_the_angle", found[2]


RUN_SPEED, TIED_SPEED = 6000.0, 6000.0


def runs():
    """A run past the spring, with nothing known of the gate tied open, and with it."""
    for diameter in (18.0, 22.0):
        cars = Cars()
        port = cars.normal(diameter * MM, 0.25 * MM)
        speed = cars.normal(RUN_SPEED, 60.0) / 60.0
        by_port = cars.open_boost(hole(port), port, speed)
        by_lift = cars.open_boost(np.minimum(math.pi * port * cars.normal(0.13, 0.04) * port, hole(port)), port, speed)
        past = cars.v["expected"] + cars.normal(0.45, 0.25) * BAR
        gauge = cars.v["expected"] + cars.normal(0.2, 0.1) * BAR
        error = math.hypot(0.02, 0.045) * BAR
        for peak in (0.65, 0.8, 1.0, 1.2):
            answers = f"port_diameter: {diameter:g} mm; speed_at_peak: 6000 rpm ± 60; peak_boost: {peak:g} bar ± 0.02"
            found = shares(peak * BAR, [past, by_port, by_lift, gauge], error)
            names = ("run_as_port_lets_through", "run_as_lift_lets_through", "run_as_gauge_reads_over")
            for name, share in zip(names, found[1:]):
                yield "run", answers, name, share
        for tied in (0.55, 0.75, 0.95):
            tied_speed = cars.normal(TIED_SPEED, 60.0) / 60.0
            by_tied = cars.open_boost(hole(port), port, tied_speed)
            off = (tied * BAR - by_tied) / (math.hypot(0.02, 0.03) * BAR)
            weights = np.where(np.isfinite(off), np.exp(-0.5 * off**2), 0.0)
            peak = 0.95
            before = cars.normal(peak, 0.02) * BAR + cars.normal(0.0, 0.05) * BAR
            answers = (f"port_diameter: {diameter:g} mm; speed_at_peak: 6000 rpm ± 60; peak_boost: {peak:g} bar ± 0.02; "
                       f"speed_tied_open: 6000 rpm ± 60; boost_with_gate_tied_open: {tied:g} bar ± 0.02")
            found = shares(peak * BAR, [past, by_port, gauge], error, weights)
            yield "tied", answers, "run_as_port_lets_through", found[1]
            yield "tied", answers, "run_as_gauge_reads_over", found[2]
            found = shares(tied * BAR, [by_tied, np.fmax(by_tied, before)], math.hypot(0.02, 0.03) * BAR)
            yield "tied", answers, "tied_open_over_the_port", found[1]


def cracks():
    """Where the rod starts to move, by preload, spring rate and diaphragm."""
    cars = Cars()
    label = cars.normal(0.4, 0.02) * BAR
    rate, area = drawn(cars.generator, 6e3, 2e3), drawn(cars.generator, 1960e-6, 600e-6)
    ways = [label, label + cars.normal(5.0, 2.5) * MM * rate / area, label * cars.normal(1.5, 0.25),
            label + cars.normal(0.15, 0.15) * BAR, label - cars.normal(6.0, 3.0) * MM * rate / area,
            label * cars.normal(0.65, 0.15)]
    names = ("cracks_late", "cracks_as_if_stiffer", "cracks_against_air", "cracks_early", "cracks_as_if_weaker")
    for crack in (0.2, 0.3, 0.4, 0.48, 0.55, 0.7):
        found = shares(crack * BAR, ways, math.hypot(0.02, 0.035) * BAR)
        for name, share in zip(names, found[1:]):
            yield "crack", f"spring_marked: 0.4 bar ± 0.02; rod_starts_to_move: {crack:g} bar ± 0.02", name, share


def rows():
    for kind in (ports, lifts, runs, cracks):
        told = (row for row in kind() if row[3] is not None)
        for group, answers, finding, share in told:
            yield group, answers, finding, round(float(share), 4)


ABOUT = """
How densely a reading of an invented car lies with a cause present, as a share of the densities with it and without
any; before any chance that the reading is off altogether. 40,000 independent draws: good to 0.01.
"""
COLUMNS = {
    "group": "which reading", "answers": "as a file of answers has them",
    "finding": "of the built-in rules", "share": "of the density with the cause in both",
}

if __name__ == "__main__":
    write("model_evidence.csv", __file__, ["numpy", "scipy"], ABOUT, COLUMNS, rows())
