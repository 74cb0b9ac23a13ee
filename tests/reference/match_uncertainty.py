"""The match with uncertain inputs, also where a calibration and a prediction share them.

In the form of uncertainty.py; the derivatives are central differences of the root finding.
"""

import dataclasses
import math

import numpy

from creep import GATE, TWO_LITRE
from engine import NoSolution, creep_boost, gate_area_needed, held_boost, turbine_areas
from table import write
from uncertainty import ABOUT, COLUMNS, banded, measured

DRAWS = 20_000
FIELDS = [field.name for field in dataclasses.fields(TWO_LITRE)]
# How each field is typed.
UNITS = {"speed": ("rpm", 60.0), "turbine_area": ("mm2", 1e6), "leak_area": ("mm2", 1e6), "volume_per_turn": ("L", 1e3),
         "ambient": ("kPa", 1e-3), "ambient_temperature": ("K", 1.0), "inlet_heating": ("K", 1.0),
         "inlet_drop": ("kPa", 1e-3), "charge_drop": ("kPa", 1e-3), "exhaust_drop": ("kPa", 1e-3),
         "reference_flow": ("kg/s", 1.0), "turbine_inlet_temperature": ("K", 1.0)}
MEASURED_CAR = {"exhaust_drop": "behind=25 kPa ± 0.5", "turbine_efficiency": "turbine=0.62 ± 0.005",
                "turbine_area": "throat=500 mm2 ± 4", "volumetric_efficiency": "filling=0.87 ± 0.005"}
GUESSED_CAR = {"exhaust_drop": "behind=25 kPa ± 8", "turbine_efficiency": "turbine=0.62 ± 0.05",
               "turbine_area": "throat=500 mm2 ± 60", "volumetric_efficiency": "filling=0.87 ± 0.05",
               "compressor_efficiency": "compressor=0.7 ± 0.04", "turbine_inlet_temperature": "hot=1213.15 K ± 40",
               "air_ratio": "mixture=0.83 ± 0.03", "discharge_coefficient": "coefficient=0.75 ± 0.08"}


def literal(name):
    """A field of the two-litre engine as a person types it."""
    unit, factor = UNITS.get(name, ("", 1.0))
    return f"{getattr(TWO_LITRE, name) * factor:.10g} {unit}".strip()


def engine_text(uncertain, without=()):
    """The engine's arguments in their order, an uncertain one by its name."""
    return ", ".join(uncertain[name].split("=")[0] if name in uncertain else literal(name)
                     for name in FIELDS if name not in without)


def engine_of(uncertain, values):
    """The engine with the uncertain fields at these values."""
    return dataclasses.replace(TWO_LITRE, **{
        field: values[text.split("=")[0]] for field, text in uncertain.items()})


def hole(diameter):
    """Area of a round port."""
    return math.pi / 4.0 * diameter**2


PORT = "port=18 mm ± 0.1"


def area_case(car):
    """The gate that a boost needs."""
    return (["boost=0.6 bar ± 0.01", *car.values()], f"gate_area_needed(boost, {engine_text(car)})", "m2",
            lambda at: gate_area_needed(engine_of(car, at), at["boost"]))


def creep_case(car):
    """Boost with an open port of a measured diameter."""
    return ([PORT, *car.values()], f"creep_boost(circle_area(port), {engine_text(car)})", "Pa",
            lambda at: creep_boost(engine_of(car, at), hole(at["port"])))


def held_case(car):
    """Boost on the actuator, its pressures measured."""
    gate = "24 mm, 28 mm, 8 mm, cracks, opens, 0.002 m2, 0.85"
    return (["cracks=0.5 bar ± 0.01", "opens=0.8 bar ± 0.01", *car.values()], f"held_boost({gate}, {engine_text(car)})",
            "Pa", lambda at: held_boost(engine_of(car, at), dataclasses.replace(
                GATE, cracks_at=at["cracks"], wide_open_at=at["opens"])))


def other_port_case(car):
    """Calibrated on the port there is, asked for another: all but the turbine's area enter twice."""
    car = {field: text for field, text in car.items() if field != "turbine_area"}
    calibration = f"turbine_area_from(seen, circle_area(port), {engine_text(car, without=['turbine_area'])})"
    # The turbine's area stands second, behind the speed.
    prediction = engine_text(car).split(", ")
    prediction[1] = calibration

    def boost(at):
        engine = engine_of(car, at)
        larger, _ = turbine_areas(engine, at["seen"], hole(at["port"]))
        return creep_boost(dataclasses.replace(engine, turbine_area=larger), hole(at["larger_port"]))

    return (["seen=0.85 bar ± 0.02", PORT, "larger_port=21 mm ± 0.1", *car.values()],
            f"creep_boost(circle_area(larger_port), {', '.join(prediction)})", "Pa", boost)


CASES = {
    "gate area of a measured car": area_case(MEASURED_CAR),
    "gate area of a guessed car": area_case(GUESSED_CAR),
    "creep of a measured car": creep_case(MEASURED_CAR),
    "creep of a guessed car": creep_case(GUESSED_CAR),
    "held boost of a measured car": held_case(MEASURED_CAR),
    "held boost of a guessed car": held_case(GUESSED_CAR),
    "another port on a measured car": other_port_case(MEASURED_CAR),
    "another port on a guessed car": other_port_case(GUESSED_CAR),
}


RANGES = {"turbine": (0.0, 1.0), "compressor": (0.0, 1.0), "coefficient": (0.0, math.inf), "filling": (0.0, math.inf),
          "mixture": (0.8, 1.15), "hot": (300.0, 1500.0)}


def or_nan(solve, at):
    """The answer, or NaN for none, also where an input has left its range.

    Burned gas is known for lambda 0.8 to 1.15 and up to 1500 K.
    """
    if any(not low < at.get(name, high) <= high for name, (low, high) in RANGES.items()):
        return math.nan
    try:
        return solve(at)
    except NoSolution:
        return math.nan


def departures(solve, centre, inputs):
    """First-order changes, and how far whole steps depart from them."""
    value = solve(centre)
    changes, offs = [], []
    for changed, at, u in inputs:
        def moved(by, changed=changed, at=at):
            return or_nan(solve, centre | {changed: at + by})

        change = (moved(u / 1000.0) - moved(-u / 1000.0)) * 500.0
        changes.append(change)
        offs += [(change, moved(side * u) - value - side * change) for side in (-1.0, 1.0)]
    return value, math.hypot(*changes), offs


def drawn_band(solve, centre, inputs):
    """2.5 and 97.5 % points of the draws that give an answer, and the share that doesn't."""
    chance = numpy.random.default_rng(20240229)
    points = chance.normal([at for _, at, _ in inputs], [u for *_, u in inputs], (DRAWS, len(inputs)))
    draws = numpy.array([or_nan(solve, dict(zip(centre, point))) for point in points.tolist()])
    answers = draws[numpy.isfinite(draws)]
    return *(float(point) for point in numpy.quantile(answers, [0.025, 0.975])), 1.0 - answers.size / DRAWS


def rows():
    """One row a case."""
    for name, (typed, formula, unit, solve) in CASES.items():
        inputs = [measured(text) for text in typed]
        centre = {name: value for name, value, _ in inputs}
        value, first_order, offs = departures(solve, centre, inputs)
        low, high, refused = drawn_band(solve, centre, inputs)
        yield banded(name, typed, formula, unit, value, first_order, offs, low, high, refused)


if __name__ == "__main__":
    write("match_uncertainty.csv", __file__, ["cantera", "scipy", "numpy"],
          ABOUT.replace("1000000 draws (good to about 0.003", f"{DRAWS} draws (good to about 0.02"), COLUMNS, rows())
