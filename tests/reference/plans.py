"""Plans of gates, actuators and settings of six invented cars, worked out from what a caliper and a gauge give.

A sheet of formulas of its own, on the engine of engine.py: what the rules say of a plan is held against it.
Sources: geometry of a hinged flap (lift a sin theta, travel 2 b sin(theta/2)); openings in series by Idelchik,
Handbook of Hydraulic Resistance, 1.1; the days by ISO 2533:1975; flow corrected as SAE J1826 has it; compressor by Watson
and Janota, Turbocharging the Internal Combustion Engine, and its choke by the isentropic nozzle (Heywood, appendix C); fuel by Heywood, Internal Combustion Engine Fundamentals, 2.7 and 3.4;
balance of moments on the flap. Lands, clearances, margins and steps are common practice of the trade. The preload
that brings a boost is found by a bracketed root over whole gates, not by turning the balance round.
"""

import math

import numpy as np
from scipy.optimize import brentq

from engine import AIR_CONSTANT, AIR_HEAT, STOICHIOMETRIC_RATIO, Engine, Gate, charge_side, creep_boost, gate_area_needed, held_boost
from table import write

MM, MM2, BAR, KPA, LITRE, RPM = 1e-3, 1e-6, 1e5, 1e3, 1e-3, 1 / 60.0
# As the answers below give them, and the same for every car.
AMBIENT, COLDER, MARGIN = 1000e2, 20.0, 0.05 * BAR
CLEAR, WALL_KEPT = 1.2 * MM, 3.5 * MM


def given(text):
    """A value as it is typed, in SI; gauge pressures over ambient."""
    number, _, unit = text.partition(" ")
    factors = {"": 1.0, "mm": MM, "mm2": MM2, "bar": BAR, "kPa": KPA, "hPa": 100.0, "L": LITRE, "rpm": RPM, "K": 1.0,
               "deg": math.pi / 180.0, "cm3/min": 1e-6 / 60.0, "ms": 1e-3, "kg/m3": 1.0, "m": 1.0, "g/s": 1e-3}
    return float(number) + 273.15 if unit == "°C" else float(number) * factors[unit]


class Car:
    """What was measured, and the engine that it makes."""

    def __init__(self, answers):
        self.answers = answers

    def __getattr__(self, name):
        return given(self.answers[name])

    def engine(self, temperature=None, speed=None, discharge=None, ambient=AMBIENT, filling=None):
        turn = self.engine_displacement / (1.0 if self.answers["engine_kind"] == "rotary_pistons" else 2.0)
        full = (self.volumetric_efficiency * (AMBIENT + self.expected_base_boost)
                / (AIR_CONSTANT * (self.air_temperature + 30.0)) * turn * self.top_engine_speed)
        return Engine(
            speed=speed or self.top_engine_speed, turbine_area=self.turbine_area,
            discharge_coefficient=discharge or self.gate_discharge_coefficient, leak_area=self.gate_leak_area,
            volume_per_turn=turn, volumetric_efficiency=filling or self.volumetric_efficiency,
            air_ratio=min(max(self.full_load_lambda, 0.8), 1.15), ambient=ambient,
            ambient_temperature=temperature or self.air_temperature, inlet_heating=self.inlet_heating,
            inlet_drop=self.inlet_drop, charge_drop=self.charge_drop, exhaust_drop=self.exhaust_drop,
            reference_flow=full, compressor_efficiency=self.compressor_efficiency,
            cooler_effectiveness=self.cooler_effectiveness, turbine_efficiency=self.turbine_efficiency,
            mechanical_efficiency=self.mechanical_efficiency, turbine_inlet_temperature=self.turbine_inlet_temperature)


def disc(diameter):
    return math.pi / 4.0 * diameter**2


def bore(area):
    return math.sqrt(4.0 * area / math.pi)


def series(*areas):
    return 1.0 / math.sqrt(sum(1.0 / area**2 for area in areas))


def tool(diameter, step):
    return math.ceil(diameter / step - 1e-9) * step


def standard_day(height):
    """Pressure and temperature of ISO 2533:1975, equations 5 and 12."""
    temperature = 288.15 - 0.0065 * height
    return 101325.0 * (temperature / 288.15) ** (9.80665 / (0.0065 * 287.05287)), temperature


def on_the_map(car, boost):
    """Where the compressor works on four days, and how far that is from the ends of its map."""
    here = brentq(lambda height: standard_day(height)[0] - AMBIENT, -1000.0, 5000.0)
    found = {}

    def works(day, height, speed=None, filling=None):
        ambient, standard = standard_day(height)
        temperature = car.air_temperature + day + standard - standard_day(here)[1]
        engine = car.engine(temperature=temperature, ambient=ambient, speed=speed, filling=filling)
        charge = charge_side(engine, boost)
        inlet = ambient - engine.inlet_drop * (charge.air_flow / engine.reference_flow) ** 2
        warm = temperature + engine.inlet_heating
        flow = charge.air_flow * math.sqrt(warm / car.map_temperature) * car.map_pressure / inlet
        return charge.outlet_pressure / inlet, flow, charge.outlet_temperature, warm

    for day, by in (("cold", -COLDER), ("hot", car.hotter_day_by)):
        for place, height in (("at_sea", 0.0), ("up_high", 1500.0)):
            ratio, flow, outlet, _ = works(by, height)
            found[f"compressor_ratio_{day}_{place}"], found[f"compressor_flow_{day}_{place}"] = ratio, flow
            if day == "hot":
                found[f"compressor_outlet_{day}_{place}"] = outlet

    def line(name, ratio):
        pairs = [pair.split(": ") for pair in car.answers[name].split("; ")]
        ratios, flows = [float(left) for left, _ in pairs], [given(right) for _, right in pairs]
        return float(np.interp(ratio, ratios, flows))

    # Sonic flow through the inducer, and the surge flow by density and velocity of sound at the map's state.
    density = car.map_pressure / (AIR_CONSTANT * car.map_temperature)
    sound = math.sqrt(1.4 * AIR_CONSTANT * car.map_temperature)
    sonic = density * sound * (2.0 / 2.4) ** (2.4 / 0.8)
    ratio, flow, *_ = works(-COLDER, 1500.0)
    choke = (line("map_choke_line", ratio) if "map_choke_line" in car.answers
             else 0.70 * sonic * disc(car.inducer_diameter))
    found["room_to_choke"] = flow / choke
    ratio, flow, *_ = works(car.hotter_day_by, 1500.0, 0.45 * car.top_engine_speed, car.filling_low_down)
    surge = (line("map_surge_line", ratio) if "map_surge_line" in car.answers
             else 0.045 * (ratio - 1.0) * car.compressor_wheel**2 * density * sound)
    found["room_to_surge"] = flow / surge
    ratio, _, _, warm = works(car.hotter_day_by, 1500.0)
    rim = math.sqrt(AIR_HEAT * warm * (ratio ** (0.4 / 1.4) - 1.0) / 0.52)
    allowed = (math.pi * car.compressor_wheel * car.rotor_speed_limit if "rotor_speed_limit" in car.answers
               else 490.0)
    return {**found, "rim_speed_in_plan": rim, "room_to_speed": rim / allowed}


def port_plan(car):
    """Port, flap, rod and canister."""
    old, new = car.port_diameter, car.planned_port
    growth = (new - old) / 2.0
    passage = car.passage_as_bored * disc(car.passage_diameter)
    cold = car.engine(temperature=car.air_temperature - COLDER)
    together = min(gate_area_needed(cold, car.wanted_base_boost - MARGIN), 0.9 * passage)
    wanted = bore(1.0 / math.sqrt(1.0 / together**2 - 1.0 / passage**2))
    over = max(0.0, min(growth, (car.wall_opposite - car.wall_round_port) / 2.0,
                        WALL_KEPT - (car.wall_round_port - growth)))
    flap = new + car.planned_land + car.land_at_hinge + 2.0 * car.flap_side_play
    set_over = (car.land_at_hinge - car.planned_land) / 2.0
    decided = car.planned_set_over if "planned_set_over" in car.answers else 0.0
    arm = car.flap_arm + car.flap_offset_now + decided * math.cos(car.thin_wall_at) - set_over
    beside = (car.pocket_diameter - flap) / 2.0 - car.flap_side_play
    relief = max(0.0, CLEAR - beside)
    lift = new / 3.0
    swing = math.asin(lift / arm)
    travel = 2.0 * car.rod_arm * math.sin(swing / 2.0)
    slope = (car.rod_fully_out - car.rod_starts_to_move) / car.rod_travel
    push = car.push_share * car.flap_arm / car.rod_arm

    def held_by(port, land, lift, crack, wide_open, speed=None):
        discharge = car.gate_discharge_coefficient * series(disc(port), passage) / disc(port)
        gate = Gate(port_diameter=port, contact_diameter=port + land, lift=lift, cracks_at=crack, wide_open_at=wide_open,
                    diaphragm_area=car.diaphragm_area, arm_ratio=push)
        return held_boost(car.engine(discharge=discharge, speed=speed), gate)

    def held(port, crack):
        return held_by(port, car.planned_land, lift, crack, crack + slope * travel)

    # The gate as it is, the flap lifting as far as its port asks, two thirds up the speeds: what the spring holds.
    base = held_by(old, car.flap_seat_width, max(car.flap_lift, old / 3.0), car.rod_starts_to_move, car.rod_fully_out,
                   0.67 * car.top_engine_speed)

    crack = brentq(lambda crack: held(new, crack) - car.wanted_base_boost, 0.0, 2.0 * BAR, xtol=1e-4)
    preload = car.rod_preload + (crack - car.rod_starts_to_move) / slope
    planned = car.planned_crack if "planned_crack" in car.answers else car.rod_starts_to_move
    drawn = car.rod_preload + (planned - car.rod_starts_to_move) / slope
    pilot = min(new, tool(old + max(1.5 * MM, growth), car.tool_step))
    return {
        **(on_the_map(car, car.wanted_base_boost) if "hotter_day_by" in car.answers else {}),
        "port_wanted": wanted, "port_as_tool": tool(wanted, car.tool_step), "pilot_port": pilot,
        "bore_set_over": over, "wall_left": car.wall_round_port - growth + decided,
        "wall_left_opposite": car.wall_opposite - growth - decided, "flange_land_left": car.flange_land - relief,
        "flap_diameter": flap, "flap_set_over": set_over, "arm_for_new_flap": arm, "pocket_relief": relief,
        "lift_aimed_at": lift, "swing_for_new_port": swing, "rod_travel_for_new_port": travel,
        "relief_at_stop": lift - car.flap_lift + car.planned_flap_thickness - car.present_flap_thickness,
        "bench_slope": slope, "crack_to_set": crack, "preload_to_set": preload,
        "turns_for_new_port": (crack - car.rod_starts_to_move) / slope / car.rod_thread_pitch,
        "stroke_needed": drawn + travel, "stroke_to_spare": car.canister_stroke - drawn - travel,
        "base_expected": base, "boost_at_new_port": held(new, planned), "boost_at_pilot": held(pilot, planned),
    }


def bench_plan(car):
    """The actuator by its bench test."""
    span = car.rod_fully_out - car.rod_starts_to_move
    slope = span / car.rod_travel
    over = car.rod_starts_to_move - car.spring_marked
    # The spring unhooked and as it is drawn: what a millimetre of draw is worth.
    turns = over / ((car.rod_starts_to_move - car.crack_without_preload) / car.rod_preload) / car.rod_thread_pitch
    # The isothermal fall through a leak, choked or not, by steps of the pressure (Heywood, appendix C).
    start, end, steps = AMBIENT + 0.5 * BAR, AMBIENT + 0.5 * BAR - car.pressure_lost_in_30_s, 20000
    integral, gamma = 0.0, 1.4
    for step in range(steps):
        pressure = start + (end - start) * (step + 0.5) / steps
        ratio = max(AMBIENT / pressure, (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))
        psi = math.sqrt(2.0 * gamma / (gamma - 1.0) * (ratio ** (2.0 / gamma) - ratio ** ((gamma + 1.0) / gamma)))
        integral += (start - end) / steps / (pressure * psi)
    leak = car.canister_volume * integral / (math.sqrt(AIR_CONSTANT * car.air_temperature) * 30.0)
    return {
        "opening_span": span, "bench_slope": slope, "spring_rate_measured": car.diaphragm_area * slope,
        "turns_to_back_off": turns, "draw_left": car.rod_preload - turns * car.rod_thread_pitch,
        "canister_leak": leak, "leak_in_boost": car.wanted_base_boost * (leak / disc(car.signal_bore)) ** 2,
        "stroke_past_the_gate": car.canister_stroke - car.rod_travel - car.rod_preload,
    }


def external_plan(car):
    """Valve, pipe and spring of one external gate."""
    poppet, pipe = car.poppet_coefficient, car.takeoff_coefficient
    temperature = car.air_temperature - COLDER
    area = gate_area_needed(car.engine(temperature=temperature, discharge=poppet), car.wanted_base_boost - MARGIN) / 0.9
    seat, lift = car.external_valve_planned, car.external_lift_planned
    opened = min(math.pi * seat * lift, disc(seat))
    # A pipe that leaves nine tenths of the valve's flow: 1/0.81 - 1 of its resistance.
    needed = bore(poppet * disc(seat) / math.sqrt(1.0 / 0.81 - 1.0) / pipe)
    passed = series(poppet * opened, pipe * disc(car.takeoff_bore_planned)) / poppet
    creep = creep_boost(car.engine(temperature=temperature, discharge=poppet), passed)

    def held(crack):
        gate = Gate(port_diameter=seat, contact_diameter=seat, lift=lift, cracks_at=crack,
                    wide_open_at=crack + car.external_span, diaphragm_area=car.external_diaphragm,
                    arm_ratio=car.push_share)
        return held_boost(car.engine(discharge=poppet * passed / disc(seat)), gate)

    spring = brentq(lambda crack: held(crack) - car.wanted_base_boost, 0.0, 2.0 * BAR, xtol=1e-4)
    return {"external_area_for_base": area, "valve_for_one": bore(area), "valve_for_two": bore(area / 2.0),
            "takeoff_bore_needed": needed, "external_creep_coldest": creep, "external_spring": spring}


ETHANOL_DENSITY, ETHANOL_RATIO, PETROL_DENSITY = 794.0, 9.0, 745.0


def fuel_plan(car):
    """The boost that injectors of one or two sizes feed on the coldest day at the lowest place, on blends by
    volume; the absolute pressures there; the charge on the hottest day."""
    rotary = car.answers["engine_kind"] == "rotary_pistons"
    opening = 1.0 / (car.top_engine_speed * (1.0 if rotary else 0.5))
    open_share = car.duty_limit
    if "injector_dead_time" in car.answers:
        open_share -= car.injector_dead_time / opening
    volume = car.injectors_fitted * car.injector_rated_flow
    if "injectors_second" in car.answers:
        volume += car.injectors_second * car.injector_rated_flow_second
    volume *= open_share * math.sqrt(car.rail_difference / car.rated_difference)

    lowest = max(AMBIENT, standard_day(car.lowest_place)[0])
    coldest = car.engine(temperature=car.air_temperature - COLDER, ambient=lowest)

    def ceiling(ethanol):
        spirit, petrol = ethanol * ETHANOL_DENSITY, (1.0 - ethanol) * PETROL_DENSITY
        ratio = STOICHIOMETRIC_RATIO + (ETHANOL_RATIO - STOICHIOMETRIC_RATIO) * spirit / (spirit + petrol)
        air = volume * (spirit + petrol) * car.full_load_lambda * ratio
        return brentq(lambda boost: charge_side(coldest, boost).air_flow - air, 0.0, 4.0 * BAR, xtol=1e-3)

    hottest = car.air_temperature + car.hotter_day_by
    charge = charge_side(car.engine(temperature=hottest), car.wanted_high_boost)
    cooled = charge.outlet_temperature - car.cooler_effectiveness * (charge.outlet_temperature - hottest)
    return {**on_the_map(car, car.wanted_high_boost), "charge_at_high": cooled,
            "ceiling_of_cut": car.overboost_cut - lowest - 0.15 * BAR,
            "ceiling_of_sensor": car.sensor_full_scale - lowest - 0.1 * BAR,
            "wanted_absolute": lowest + car.wanted_high_boost, "ceiling_of_injectors": ceiling(0.0), "ceiling_of_fuel_e5": ceiling(0.05),
            "ceiling_of_fuel_e10": ceiling(0.1), "ceiling_of_fuel_e85": ceiling(0.85)}


ENGINE = {
    "engine_kind": "four_stroke_pistons", "air_temperature": "20 °C", "air_pressure": "1000 hPa",
    "gauge_tapped_at": "tap_at_plenum", "volumetric_efficiency": "0.87", "inlet_heating": "15 K", "inlet_drop": "6 kPa",
    "charge_drop": "12 kPa", "exhaust_drop": "9 kPa", "compressor_efficiency": "0.67", "cooler_effectiveness": "0.75",
    "turbine_efficiency": "0.62", "mechanical_efficiency": "0.97", "turbine_inlet_temperature": "940 °C",
    "turbine_area": "500 mm2", "gate_discharge_coefficient": "0.75", "gate_leak_area": "5 mm2", "full_load_lambda": "0.82",
    "colder_day_by": "20 K", "base_boost_margin": "0.05 bar", "push_share": "0.5",
}
PORT = {
    **ENGINE, "plan_the_gate": "yes", "gate_kind": "internal_gate", "actuator_kind": "pressure_canister",
    "passage_as_bored": "0.9", "flap_seat_width": "2 mm", "planned_land": "2 mm", "land_at_hinge": "3 mm", "tool_step": "0.5 mm",
    "diaphragm_area": "1960 mm2", "rod_thread_pitch": "1 mm", "planned_flap_thickness": "4 mm",
}
COMPRESSOR = {
    "hotter_day_by": "15 K", "map_temperature": "25 °C", "map_pressure": "100 kPa", "compressor_wheel": "58 mm",
    "inducer_diameter": "43 mm", "filling_low_down": "0.88",
}
CARS = {
    # 27 mm takes 9 mm of lift: the canister of 10 mm is too short for it.
    "two litres, stroke too short": ("wants_a_larger_port", port_plan, {
        **PORT, "engine_displacement": "2 L", "top_engine_speed": "6500 rpm", "expected_base_boost": "0.5 bar",
        "wanted_base_boost": "0.5 bar", "port_diameter": "21 mm", "planned_port": "27 mm", "passage_diameter": "30 mm",
        "wall_round_port": "8 mm", "wall_opposite": "9 mm", "thin_wall_at": "90 deg", "flange_land": "9 mm",
        "pocket_diameter": "36 mm", "flap_arm": "22 mm", "rod_arm": "25.9 mm", "flap_offset_now": "0.5 mm",
        "flap_side_play": "0.4 mm", "present_flap_thickness": "3.5 mm", "flap_lift": "7 mm", "gap_behind_flap": "6 mm",
        "rod_starts_to_move": "0.40 bar", "rod_fully_out": "0.70 bar", "rod_travel": "8.2 mm", "rod_preload": "2 mm",
        "canister_stroke": "10 mm", **COMPRESSOR}),
    # With the rod left alone the larger flap would hold too little.
    "two point three litres, preload for the new flap": ("wants_a_larger_port", port_plan, {
        **PORT, "engine_displacement": "2.3 L", "top_engine_speed": "5900 rpm", "expected_base_boost": "0.5 bar",
        "wanted_base_boost": "0.5 bar", "turbine_area": "600 mm2", "port_diameter": "22 mm", "planned_port": "29 mm",
        "passage_diameter": "36 mm", "wall_round_port": "8 mm", "wall_opposite": "8 mm", "thin_wall_at": "0 deg",
        "flange_land": "10 mm", "pocket_diameter": "40 mm", "flap_arm": "26 mm", "rod_arm": "27 mm",
        "flap_offset_now": "0 mm", "flap_side_play": "0.3 mm", "present_flap_thickness": "4 mm", "flap_lift": "7.5 mm",
        "gap_behind_flap": "6 mm", "rod_starts_to_move": "0.42 bar", "rod_fully_out": "0.68 bar", "rod_travel": "8 mm",
        "rod_preload": "2.5 mm", "canister_stroke": "16 mm", "planned_crack": "0.46 bar"}),
    # The thin wall is near the hinge; the bore is set over away from it.
    "two rotors, thin wall": ("wants_a_larger_port", port_plan, {
        **PORT, "engine_kind": "rotary_pistons", "engine_displacement": "1.308 L", "top_engine_speed": "7000 rpm",
        "expected_base_boost": "0.5 bar", "wanted_base_boost": "0.55 bar", "volumetric_efficiency": "0.90",
        "turbine_inlet_temperature": "1000 °C", "turbine_area": "750 mm2", "full_load_lambda": "0.80",
        "exhaust_drop": "20 kPa", "port_diameter": "25 mm", "planned_port": "30 mm", "passage_diameter": "36 mm",
        "wall_round_port": "5 mm", "wall_opposite": "10 mm", "thin_wall_at": "30 deg", "planned_set_over": "1 mm", "flange_land": "8 mm",
        "flange_studs": "45 deg: 38 mm; 135 deg: 36 mm; 300 deg: 37 mm", "stud_hole": "10 mm",
        "pocket_diameter": "38 mm", "flap_arm": "27 mm", "rod_arm": "30 mm", "flap_offset_now": "0.3 mm",
        "flap_side_play": "0.5 mm", "present_flap_thickness": "4 mm", "flap_lift": "8 mm", "gap_behind_flap": "8 mm",
        "rod_starts_to_move": "0.45 bar", "rod_fully_out": "0.75 bar", "rod_travel": "9 mm", "rod_preload": "3 mm",
        "canister_stroke": "18 mm", "planned_crack": "0.50 bar"}),
    # The rod's turns by its own readings: next to no draw would be left.
    "an actuator with too stiff a spring": ("wants_the_actuator_tested", bench_plan, {
        "actuator_under_test": "test_on_car", "gate_kind": "internal_gate", "actuator_kind": "pressure_canister",
        "rod_starts_to_move": "0.68 bar", "rod_fully_out": "0.98 bar", "rod_travel": "8 mm", "spring_marked": "0.45 bar",
        "rod_preload": "6.5 mm", "crack_without_preload": "0.42 bar", "canister_stroke": "15 mm",
        "rod_thread_pitch": "1 mm", "diaphragm_area": "1960 mm2", "pressure_lost_in_30_s": "0.05 bar",
        "wanted_base_boost": "0.5 bar", "canister_volume": "0.15 L", "signal_bore": "4 mm", "air_temperature": "20 °C",
        "air_pressure": "1000 hPa"}),
    "one external gate of 44 mm": ("wants_an_external_gate", external_plan, {
        **ENGINE, "plan_an_external_gate": "yes", "external_gates_planned": "1", "engine_displacement": "2 L",
        "top_engine_speed": "6800 rpm", "expected_base_boost": "0.5 bar", "wanted_base_boost": "0.5 bar",
        "wanted_high_boost": "1.0 bar", "turbine_area": "550 mm2", "poppet_coefficient": "0.56",
        "takeoff_coefficient": "0.75", "external_valve_planned": "44 mm", "external_lift_planned": "10 mm",
        "takeoff_bore_planned": "48 mm", "external_diaphragm": "2830 mm2", "external_span": "0.35 bar"}),
    "four injectors of 550 at lambda 0.75": ("wants_another_setting", fuel_plan, {
        **ENGINE, "setting_wanted": "setting_higher", "engine_displacement": "2 L", "top_engine_speed": "6500 rpm",
        "expected_base_boost": "0.5 bar", "full_load_lambda": "0.75", "injector_rated_flow": "550 cm3/min",
        "injectors_fitted": "4", "rail_difference": "3 bar", "rated_difference": "3 bar", "duty_limit": "0.85",
        "wanted_high_boost": "1.2 bar", "lowest_place": "0 m", "overboost_cut": "240 kPa", "sensor_full_scale": "300 kPa",
        **COMPRESSOR}),
    "two rotors, two banks of unequal size": ("wants_another_setting", fuel_plan, {
        **ENGINE, "setting_wanted": "setting_higher", "engine_kind": "rotary_pistons", "engine_displacement": "1.308 L",
        "top_engine_speed": "7000 rpm", "expected_base_boost": "0.5 bar", "volumetric_efficiency": "0.90",
        "full_load_lambda": "0.77", "injector_rated_flow": "550 cm3/min", "injectors_fitted": "2",
        "injector_rated_flow_second": "850 cm3/min", "injectors_second": "2", "injector_dead_time": "1.0 ms",
        "rail_difference": "3 bar", "rated_difference": "3 bar", "duty_limit": "0.9", "wanted_high_boost": "1.0 bar",
        "lowest_place": "500 m", "overboost_cut": "230 kPa", "sensor_full_scale": "250 kPa", **COMPRESSOR,
        "compressor_wheel": "62 mm", "compressor_map_at_hand": "yes", "rotor_speed_limit": "150000 rpm",
        "map_temperature": "20 °C", "map_pressure": "101.3 kPa",
        "map_surge_line": "1.4: 25 g/s; 2.0: 50 g/s; 2.5: 90 g/s; 3.0: 130 g/s",
        "map_choke_line": "1.4: 250 g/s; 2.0: 280 g/s; 3.0: 290 g/s"}),
}


def rows():
    """The answers of each car as they are typed, then what its plan must say."""
    for name, (complaint, plan, answers) in CARS.items():
        yield name, "complaint", complaint, ""
        yield from ((name, "answer", question, text) for question, text in answers.items())
        yield from ((name, "expected", working, value) for working, value in plan(Car(answers)).items())


ABOUT = """
Plans of invented cars: what was measured and is wished, and what follows from it.
Lengths in m, pressures and boosts in Pa (boosts over ambient), angles in rad, areas in m2, slopes in Pa/m.
"""
COLUMNS = {"case": "what it is", "kind": "complaint, answer or expected", "id": "of the question or working",
           "value": "an answer as it is typed, an expected value in SI"}

if __name__ == "__main__":
    write("plans.csv", __file__, ["cantera", "numpy", "scipy"], ABOUT, COLUMNS, rows())
