"""The match of turbine, gate and engine for invented engines and days."""

import dataclasses

from engine import (HIGHEST_BOOST, Engine, Gate, NoSolution, creep_boost, gate_area_needed, held_boost,
                    signed_gate_area, turbine_areas)
from table import write

REFUSED = "refused"
LITRE, MM2, KPA = 1e-3, 1e-6, 1e3

# A four-cylinder two-litre at 6000 rpm on a mild day; every case below names
# only what it changes.
TWO_LITRE = Engine(
    speed=6000 / 60, turbine_area=500 * MM2, discharge_coefficient=0.75, leak_area=5 * MM2,
    volume_per_turn=1.0 * LITRE, volumetric_efficiency=0.87, air_ratio=0.83, ambient=101325.0,
    ambient_temperature=293.15, inlet_heating=15.0, inlet_drop=6 * KPA, charge_drop=12 * KPA,
    exhaust_drop=25 * KPA, reference_flow=0.15, compressor_efficiency=0.70, cooler_effectiveness=0.75,
    turbine_efficiency=0.62, mechanical_efficiency=0.97, turbine_inlet_temperature=1213.15)
TWO_ROTOR = dataclasses.replace(
    TWO_LITRE, speed=6500 / 60, turbine_area=750 * MM2, volume_per_turn=1.3 * LITRE, volumetric_efficiency=0.90,
    air_ratio=0.80, exhaust_drop=9 * KPA, turbine_inlet_temperature=1273.15, compressor_efficiency=0.67)
SMALL_TWO_STROKE = dataclasses.replace(
    TWO_LITRE, speed=7000 / 60, turbine_area=250 * MM2, volume_per_turn=0.6 * LITRE, volumetric_efficiency=0.75,
    reference_flow=0.08, leak_area=0.0)
THREE_LITRE = dataclasses.replace(
    TWO_LITRE, speed=5500 / 60, turbine_area=700 * MM2, volume_per_turn=1.5 * LITRE, reference_flow=0.2)

GATE = Gate(port_diameter=0.024, contact_diameter=0.028, lift=0.008, cracks_at=50 * KPA, wide_open_at=80 * KPA,
            diaphragm_area=2.0e-3, arm_ratio=0.85)
ROTARY_GATE = dataclasses.replace(GATE, port_diameter=0.028, contact_diameter=0.033, lift=0.010,
                                  cracks_at=35 * KPA, wide_open_at=60 * KPA)
SMALL_GATE = dataclasses.replace(GATE, port_diameter=0.016, contact_diameter=0.020, lift=0.005, diaphragm_area=1.2e-3)


def case(name, engine, boost, port_area, gate, **changes):
    """One case: the engine with its changes, a boost in kPa, an open port in mm2, a gate."""
    return name, dataclasses.replace(engine, **changes), boost * KPA, port_area * MM2, gate


CASES = [
    case("two litre", TWO_LITRE, 50, 250, GATE),
    case("two litre at 3000 rpm", TWO_LITRE, 40, 80, GATE, speed=3000 / 60),
    case("two litre at 4500 rpm", TWO_LITRE, 60, 150, GATE, speed=4500 / 60),
    case("two litre at 7000 rpm", TWO_LITRE, 50, 260, GATE, speed=7000 / 60),
    case("two litre at minus 20 degrees", TWO_LITRE, 50, 250, GATE, ambient_temperature=253.15),
    case("two litre at 40 degrees", TWO_LITRE, 50, 250, GATE, ambient_temperature=313.15),
    case("two litre at 2000 m", TWO_LITRE, 50, 250, GATE, ambient=79495.2),
    case("standard exhaust", TWO_LITRE, 70, 220, GATE, exhaust_drop=40 * KPA),
    case("free exhaust", TWO_LITRE, 50, 250, GATE, exhaust_drop=7 * KPA),
    case("no losses by flow", TWO_LITRE, 50, 250, GATE, inlet_drop=0.0, charge_drop=0.0, exhaust_drop=0.0),
    case("no cooler", TWO_LITRE, 50, 250, GATE, cooler_effectiveness=0.0),
    case("perfect cooler", TWO_LITRE, 50, 250, GATE, cooler_effectiveness=1.0),
    case("perfect compressor", TWO_LITRE, 50, 250, GATE, compressor_efficiency=1.0),
    case("poor turbine", TWO_LITRE, 60, 200, GATE, turbine_efficiency=0.50),
    case("good turbine", TWO_LITRE, 60, 280, GATE, turbine_efficiency=0.70),
    case("tight gate", TWO_LITRE, 50, 250, GATE, leak_area=0.0),
    case("leaky gate", TWO_LITRE, 50, 200, GATE, leak_area=41 * MM2),
    case("stoichiometric", TWO_LITRE, 50, 250, GATE, air_ratio=1.0, turbine_inlet_temperature=1273.15),
    case("lean", TWO_LITRE, 50, 250, GATE, air_ratio=1.1, turbine_inlet_temperature=1173.15),
    case("small turbine, choked", TWO_LITRE, 120, 250, GATE, turbine_area=300 * MM2),
    case("large turbine", TWO_LITRE, 30, 250, GATE, turbine_area=900 * MM2),
    case("actuator without the push", TWO_LITRE, 50, 250, dataclasses.replace(GATE, arm_ratio=0.0)),
    case("short lift", TWO_LITRE, 50, 250, dataclasses.replace(GATE, lift=0.003)),
    case("stiff actuator", TWO_LITRE, 100, 200, dataclasses.replace(GATE, cracks_at=110 * KPA, wide_open_at=150 * KPA)),
    case("two-rotor", TWO_ROTOR, 50, 380, ROTARY_GATE),
    case("two-rotor with a small port", TWO_ROTOR, 80, 350, dataclasses.replace(
        ROTARY_GATE, port_diameter=0.020, contact_diameter=0.026)),
    case("two-rotor in the cold", TWO_ROTOR, 60, 450, ROTARY_GATE, ambient_temperature=273.15),
    case("two-rotor with silencers", TWO_ROTOR, 50, 200, ROTARY_GATE, exhaust_drop=30 * KPA),
    case("two-rotor, no turbine fits", TWO_ROTOR, 50, 550, ROTARY_GATE),
    case("small two-stroke", SMALL_TWO_STROKE, 40, 100, SMALL_GATE),
    case("small two-stroke with a port for anything", SMALL_TWO_STROKE, 40, 1000, SMALL_GATE),
    case("three litre", THREE_LITRE, 60, 300, GATE),
    case("three litre, high boost", THREE_LITRE, 180, 150, dataclasses.replace(GATE, cracks_at=150 * KPA,
                                                                          wide_open_at=190 * KPA)),
    case("more boost than the turbine gives", TWO_LITRE, 250, 1200, GATE),
    case("boost beyond 4 bar", TWO_LITRE, 150, 20, dataclasses.replace(GATE, cracks_at=450 * KPA, wide_open_at=480 * KPA),
         turbine_area=200 * MM2, turbine_efficiency=0.75, compressor_efficiency=0.8,
         inlet_drop=1 * KPA, charge_drop=2 * KPA, exhaust_drop=1 * KPA),
]


def or_refused(solve, *arguments):
    """The answer, or the word for none."""
    try:
        return solve(*arguments)
    except NoSolution:
        return REFUSED


def check_single_crossing(name, engine):
    """The area needed falls as boost rises, so that a boost found is the only one."""
    areas = [signed_gate_area(engine, boost) for boost in range(0, int(HIGHEST_BOOST), 5000)]
    positive = [area for area in areas if area > 0.0]
    if any(later >= earlier for earlier, later in zip(positive, positive[1:])):
        raise AssertionError(f"{name}: the gate area needed does not fall with boost")
    if any(area > 0.0 for area in areas[len(positive):]):
        raise AssertionError(f"{name}: the gate area needed comes back above zero")


def rows():
    """One row a case."""
    for name, engine, boost, port_area, gate in CASES:
        check_single_crossing(name, engine)
        areas = or_refused(turbine_areas, engine, boost, port_area)
        larger, smaller = (REFUSED, REFUSED) if areas == REFUSED else areas
        inputs = dataclasses.astuple(engine)
        yield (name, *inputs, boost, port_area, *dataclasses.astuple(gate),
               or_refused(gate_area_needed, engine, boost), or_refused(creep_boost, engine, port_area),
               larger, smaller, or_refused(held_boost, engine, gate),
               or_refused(held_boost, engine, dataclasses.replace(gate, arm_ratio=0.0)))


ABOUT = """
Gate area, creep boost, turbine area and held boost of invented engines on invented days.
Stoichiometric ratio 14.7; air gamma 1.4, c_p 1005, R 287.05 J/(kg K); coolant at ambient temperature;
burned gas as in gas.csv at turbine inlet temperature. Drops are at reference_flow and go with flow squared.
0 where the gate holds any boost down; 'refused' where there is no solution, or none up to 4 bar.
Drops and inlet_heating are differences, the boosts, cracks_at and wide_open_at are gauge, ambient is absolute.
"""
COLUMNS = {
    "case": "what it is",
    "speed": "turns a second", "turbine_area": "effective, m2", "discharge_coefficient": "1", "leak_area": "effective, m2",
    "volume_per_turn": "swept, m3", "volumetric_efficiency": "on manifold density, 1", "lambda": "1",
    "ambient": "Pa", "ambient_temperature": "K", "inlet_heating": "K", "inlet_drop": "Pa", "charge_drop": "Pa",
    "exhaust_drop": "Pa", "reference_flow": "kg/s", "compressor_efficiency": "1", "cooler_effectiveness": "1",
    "turbine_efficiency": "1", "mechanical_efficiency": "1", "turbine_inlet_temperature": "K",
    "boost": "given for gate_area_needed and turbine_area_from, Pa",
    "port_area": "given for turbine_area_from and creep_boost, m2",
    "port_diameter": "m", "contact_diameter": "m", "lift": "m", "cracks_at": "Pa", "wide_open_at": "Pa",
    "diaphragm_area": "m2", "arm_ratio": "flap arm over rod arm, 1",
    "gate_area_needed": "at boost, m2", "creep_boost": "with port_area open, Pa",
    "turbine_area_from": "the larger root, m2; does not read turbine_area", "turbine_area_smaller": "the other root, m2",
    "held_boost": "Pa", "held_boost_without_push": "with arm_ratio 0, Pa",
}

if __name__ == "__main__":
    write("creep.csv", __file__, ["cantera", "scipy"], ABOUT, COLUMNS, rows())
