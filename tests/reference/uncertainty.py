"""Formulas with uncertain inputs that meet again: first order, or Monte Carlo where that fails.

A formula is written in the formula language as a chain of workings, so that an input
reaches the result by several ways; the table holds the chain put into one expression.
First order by automatic differentiation (JCGM 100), draws by JCGM 101.
"""

import math
import re

import numpy
from uncertainties import nominal_value, std_dev, ufloat

import formulas
from table import write

DRAWS = 1_000_000
COVERAGE = 1.96
# A unit as it is typed, in SI.
UNITS = {
    "bar": 1e5, "kPa": 1e3, "K": 1.0, "mm": 1e-3, "mm2": 1e-6, "L": 1e-3, "rpm": 1.0 / 60.0, "kg/s": 1.0, "kW": 1e3,
    "s": 1.0, "kg/m3": 1.0, "cm3/min": 1e-6 / 60.0, "K^-1": 1.0, "J/(kg K)": 1.0, "dm3/(s bar)": 1e-8, "": 1.0,
}

AMBIENT = "ambient=100 kPa ± 0.5"
CASES = [  # name, inputs, workings (the last one is the result), its unit in SI
    ("boost beyond the gate's span", ["peak=0.92 bar ± 0.03", "wide_open=0.8 bar ± 0.02"],
     ["peak - wide_open"], "Pa"),
    ("a value less itself", ["peak=0.92 bar ± 0.03"], ["peak - peak"], "Pa"),
    ("a value over itself", ["peak=0.92 bar ± 0.03"], ["peak / peak"], ""),
    ("density gained over outside", ["boost=0.8 bar ± 0.03", AMBIENT, "charge=325 K ± 5", "outside=295 K ± 2"],
     ["inside: air_density(absolute(boost, ambient), charge)", "inside / air_density(ambient, outside)"], ""),
    ("charge temperature with the coolant that is the inlet's air",
     ["boost=0.8 bar ± 0.03", AMBIENT, "outside=295 K ± 3", "efficiency=0.7 ± 0.02", "effectiveness=0.75 ± 0.03"],
     ["ratio: absolute(boost, ambient) / ambient",
      "outlet: compressor_outlet_temperature(outside, ratio, efficiency)",
      "cooler_outlet_temperature(outlet, outside, effectiveness)"], "K"),
    ("air over fuel, where all but lambda goes out",
     ["boost=0.8 bar ± 0.03", AMBIENT, "charge=325 K ± 5", "volume=1 L ± 0.01", "turning=6000 rpm ± 50",
      "filling=0.87 ± 0.05", "mixture=0.83 ± 0.02"],
     ["air: engine_air_flow(volume, turning, filling, absolute(boost, ambient), charge)",
      "air / fuel_flow(air, mixture, 14.7)"], ""),
    ("compressor power", ["boost=0.8 bar ± 0.03", AMBIENT, "charge=325 K ± 5", "outside=295 K ± 2",
                          "filling=0.87 ± 0.04", "efficiency=0.7 ± 0.02"],
     ["air: engine_air_flow(1 L, 6000 rpm, filling, absolute(boost, ambient), charge)",
      "ratio: absolute(boost, ambient) / ambient",
      "air * compressor_work(outside, ratio, efficiency)"], "W"),
    ("curtain over hole", ["port=24 mm ± 0.5", "lift=5 mm ± 0.2"],
     ["curtain_area(port, lift) / circle_area(port)"], ""),
    ("there and back", ["port=24 mm ± 0.5"], ["area: circle_area(port)", "circle_diameter(area)"], "m"),
    ("choked gate", ["port=24 mm ± 0.2", "coefficient=0.75 ± 0.03", "before=300 kPa ± 10", "behind=110 kPa ± 5",
                     "hot=1213 K ± 40"],
     ["nozzle_flow(circle_area(port) * coefficient, before, hot, behind, 1.29, 296 J/(kg K))"], "kg/s"),
    ("gate not choked", ["port=24 mm ± 0.2", "coefficient=0.75 ± 0.03", "before=180 kPa ± 2", "behind=120 kPa ± 2",
                         "hot=1213 K ± 40"],
     ["nozzle_flow(circle_area(port) * coefficient, before, hot, behind, 1.29, 296 J/(kg K))"], "kg/s"),
    ("nozzle near equal pressures", ["before=150 kPa ± 4", "behind=148 kPa ± 1"],
     ["nozzle_flow(300 mm2, before, 1200 K, behind, 1.29, 296 J/(kg K))"], "kg/s"),
    ("leak's cost in air flow", ["volume=12 L ± 0.3", "room=293 K ± 2", "started=50 kPa ± 0.5", "ended=30 kPa ± 0.5",
                                 AMBIENT, "took=20 s ± 0.2", "boost=0.8 bar ± 0.03"],
     ["leak: leak_area_isothermal(volume, room, absolute(started, ambient), absolute(ended, ambient), ambient, took)",
      "nozzle_flow(leak, absolute(boost, ambient), room, ambient, 1.4, 287.05 J/(kg K))"], "kg/s"),
    ("share of the span", ["peak=0.7 bar ± 0.01", "cracks=0.5 bar ± 0.01", "wide_open=0.9 bar ± 0.01"],
     ["(peak - cracks) / (wide_open - cracks)"], ""),
    ("share of a span that is hardly known",
     ["peak=0.7 bar ± 0.02", "cracks=0.5 bar ± 0.02", "wide_open=0.6 bar ± 0.02"],
     ["(peak - cracks) / (wide_open - cracks)"], ""),
    ("square near zero", ["slip=0.1 ± 0.5"], ["slip ^ 2"], ""),
    ("exponential of a vague number", ["rate=0.5 ± 0.6"], ["exp(rate)"], ""),
    ("root and logarithm that meet", ["rate=2 ± 0.05"], ["root: sqrt(rate)", "root * ln(rate) + rate / root"], ""),
    ("injector duty", ["air=0.17 kg/s ± 0.005", "mixture=0.83 ± 0.02", "rated=550 cm3/min ± 8", "rail=3.2 bar ± 0.05",
                       "density=745 kg/m3 ± 8"],
     ["injector_duty(fuel_flow(air, mixture, 14.7), 4, injector_flow(rated, 3 bar, rail), density)"], ""),
    ("hot clearance", ["bore=36 mm ± 0.05", "flap=34.5 mm ± 0.05", "flap_growth=19.3e-6 K^-1 ± 0.4e-6",
                       "bore_growth=13.5e-6 K^-1 ± 0.7e-6", "cold=293 K ± 3", "hot=1100 K ± 40"],
     ["hot_size(bore, bore_growth, cold, hot) - hot_size(flap, flap_growth, cold, hot)"], "m"),
    ("standard temperature where the barometer stands", ["reads=84 kPa ± 0.3"],
     ["altitude: pressure_altitude(reads)", "standard_temperature(altitude)"], "K"),
    ("expansion ratio", ["power=12 kW ± 0.4", "gas=0.15 kg/s ± 0.004", "hot=1213 K ± 20", "efficiency=0.62 ± 0.015"],
     ["turbine_expansion_ratio(power, gas, hot, efficiency, 0.97, 1330 J/(kg K), 1.289)"], ""),
    ("expansion ratio near what the stream can give",
     ["power=60 kW ± 4", "gas=0.15 kg/s ± 0.008", "hot=1213 K ± 40", "efficiency=0.62 ± 0.05"],
     ["turbine_expansion_ratio(power, gas, hot, efficiency, 0.97, 1330 J/(kg K), 1.289)"], ""),
    ("stress supported over clamped", ["push=250 kPa ± 30", "seat=17 mm ± 0.3", "flap=5 mm ± 0.2", "poisson=0.3 ± 0.01"],
     ["supported_plate_stress(push, seat, flap, poisson) / clamped_plate_stress(push, seat, flap)"], ""),
    ("flow through a restriction by conductance",
     ["conductance=0.2 dm3/(s bar) ± 0.01", "critical=0.4 ± 0.02", "before=200 kPa ± 2", AMBIENT],
     ["pneumatic_flow(conductance, critical, before, ambient, 293.15 K)"], "kg/s"),
    ("the smaller of two that are nearly alike", ["curtain=440 mm2 ± 20", "hole=450 mm2 ± 20"],
     ["min(curtain, hole)"], "m2"),
]


def measured(text):
    """Name, value and standard uncertainty in SI of 'name=value unit ± u'."""
    name, value, unit, uncertainty = re.fullmatch(r"(\w+)=(\S+) ?(.*?) ± (\S+)", text).groups()
    return name, float(value) * UNITS[unit], float(uncertainty) * UNITS[unit]


def in_one(workings):
    """The chain of workings put into one expression."""
    *steps, result = workings
    for step in reversed(steps):
        name, expression = step.split(": ")
        result = re.sub(rf"\b{name}\b", f"({expression})", result)
    return result


def evaluate(formula, inputs):
    """The formula in SI, its literals with units turned into numbers."""
    for unit in sorted(filter(None, UNITS), key=len, reverse=True):
        formula = re.sub(rf"(?<![\w.])([\d.]+) {re.escape(unit)}(?!\w)", lambda m: repr(float(m[1]) * UNITS[unit]), formula)
    names = {name: getattr(formulas, name) for name in dir(formulas) if not name.startswith("_")}
    return eval(formula.replace("^", "**"), names, inputs)


def departures(formula, inputs):
    """How far a whole uncertainty to either side of an input moves the result from what first order says.

    Pairs of the first-order change and the departure from it.
    """
    centre = {name: numpy.array([value]) for name, value, _ in inputs}
    pairs = []
    for name, value, uncertainty in inputs:
        at = {other: float(array[0]) for other, array in centre.items()} | {name: ufloat(value, uncertainty)}
        result = evaluate(formula, at)
        change = result.derivatives[at[name]] * uncertainty if hasattr(result, "derivatives") else 0.0
        for side in (-1.0, 1.0):
            moved = evaluate(formula, centre | {name: numpy.array([value + side * uncertainty])})
            off = float(moved[0]) - nominal_value(result) - side * change
            # Round-off of an input that goes out by itself is no curvature.
            pairs.append((change, 0.0 if abs(off) <= 1e-12 * abs(nominal_value(result)) else off))
    return pairs


def choice_of_band(first_order, pairs):
    """Whether first order holds: a departure of a tenth is the limit.

    A tenth of the input's own change, or of the whole uncertainty: where these decide
    differently, either band will do. A case near a limit would test rounding, and is refused.
    """
    def worst(size_of):
        shares = [0.0 if off == 0.0 else numpy.divide(abs(off), size_of(change)) for change, off in pairs]
        return math.inf if numpy.isnan(shares).any() else max(shares)

    with numpy.errstate(divide="ignore"):
        own, whole = worst(abs), worst(lambda _: first_order)
    if any(0.095 < share < 0.105 for share in (own, whole)):
        raise AssertionError(f"{own:.3f} or {whole:.3f} is too near to a tenth")
    return {(True, True): "first_order", (False, False): "monte_carlo"}.get((own <= 0.1, whole <= 0.1), "either")


def drawn_band(formula, inputs):
    """2.5 and 97.5 % points of the draws that give an answer, and the share that doesn't."""
    chance = numpy.random.default_rng(20240229)
    draws = evaluate(formula, {name: chance.normal(value, u, DRAWS) for name, value, u in inputs})
    answers = draws[numpy.isfinite(draws)]
    return *numpy.quantile(answers, [0.025, 0.975]), 1.0 - answers.size / DRAWS


def banded(name, typed, formula, unit, value, first_order, pairs, low, high, refused):
    """The row of a case."""
    return (name, "; ".join(typed), formula, unit, value, choice_of_band(first_order, pairs),
            first_order, value - COVERAGE * first_order, value + COVERAGE * first_order,
            (high - low) / 2.0 / COVERAGE, low, high, refused)


def rows():
    """One row a case."""
    for name, typed, workings, unit in CASES:
        formula, inputs = in_one(workings), [measured(text) for text in typed]
        result = evaluate(formula, {name: ufloat(value, u) for name, value, u in inputs})
        with numpy.errstate(invalid="ignore", divide="ignore"):
            low, high, refused = drawn_band(formula, inputs)
            pairs = departures(formula, inputs)
        yield banded(name, typed, formula, unit, nominal_value(result), std_dev(result), pairs,
                     float(low), float(high), refused)


ABOUT = f"""
Standard uncertainty and 95 % band of formulas whose inputs reach the result by several ways; inputs normal and
independent. First order where one whole uncertainty to either side of each input moves the result within a tenth
of what first order says, else 2.5 and 97.5 % points of {DRAWS} draws (good to about 0.003 standard uncertainties
where the density is normal) and half their distance over 1.96. Draws without an answer are left out.
"""
COLUMNS = {
    "case": "what it is", "inputs": "each with one standard uncertainty in its own unit", "formula": "as a person writes it",
    "unit": "of the result", "value": "at the inputs' values",
    "band_from": "first_order, monte_carlo; either where it depends on what the tenth is taken of",
    "first_order": "standard uncertainty, first order", "first_order_low": "value - 1.96 of it",
    "first_order_high": "value + 1.96 of it", "drawn": "standard uncertainty from the band of the draws",
    "drawn_low": "2.5 % point of the draws", "drawn_high": "97.5 % point of the draws",
    "refused": "share of draws without an answer",
}

if __name__ == "__main__":
    write("uncertainty.csv", __file__, ["uncertainties", "numpy"], ABOUT, COLUMNS, rows())
