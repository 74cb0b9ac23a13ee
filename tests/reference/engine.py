"""A turbocharged engine at full throttle, solved for its boost and its gate.

The charge side, the exhaust side and the power balance between them, each in
SI units and absolute pressure; what gauge pressure means stays with the caller.
Every unknown is found by a bracketed root (Brent); nothing is iterated by hand.

Sources: Heywood, Internal Combustion Engine Fundamentals, 2.7, 6.8 and
appendix C; Watson and Janota, Turbocharging the Internal Combustion Engine
(the turbine stage as two restrictions in series).
"""

import dataclasses
import functools
import math

from scipy.optimize import brentq, minimize_scalar

import burned_gas

AIR_CONSTANT, AIR_HEAT, AIR_GAMMA = 287.05, 1005.0, 1.4
AIR_EXPONENT = (AIR_GAMMA - 1.0) / AIR_GAMMA
STOICHIOMETRIC_RATIO = 14.7
HIGHEST_BOOST = 4e5  # Pa, where the search for a boost ends
TIGHT = {"xtol": 1e-15, "rtol": 1e-13, "maxiter": 500}


class NoSolution(Exception):
    """The operating point does not exist; the text says why."""


@dataclasses.dataclass(frozen=True)
class Engine:
    """Engine, turbocharger and day, in SI units (speed in turns a second)."""

    speed: float
    turbine_area: float
    discharge_coefficient: float
    leak_area: float
    volume_per_turn: float
    volumetric_efficiency: float
    air_ratio: float
    ambient: float
    ambient_temperature: float
    inlet_heating: float
    inlet_drop: float
    charge_drop: float
    exhaust_drop: float
    reference_flow: float
    compressor_efficiency: float
    cooler_effectiveness: float
    turbine_efficiency: float
    mechanical_efficiency: float
    turbine_inlet_temperature: float

    @functools.cached_property
    def gas(self):
        """Heat capacity, gamma, gas constant of the exhaust."""
        return burned_gas.properties(BURNED_GAS, self.air_ratio, self.turbine_inlet_temperature)


BURNED_GAS = burned_gas.gas_model()


def flux(pressure, temperature, back_pressure, gamma, gas_constant):
    """Isentropic nozzle flow a unit of area, kg/(s m2)."""
    ratio = max(back_pressure / pressure, (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))
    mach_squared = 2.0 / (gamma - 1.0) * (ratio ** ((1.0 - gamma) / gamma) - 1.0)
    density = pressure / (gas_constant * temperature) * ratio ** (1.0 / gamma)
    sound = math.sqrt(gamma * gas_constant * temperature * ratio ** ((gamma - 1.0) / gamma))
    return density * sound * math.sqrt(mach_squared)


@dataclasses.dataclass(frozen=True)
class Charge:
    """What the charge side asks of the turbine at one boost."""

    air_flow: float
    outlet_pressure: float
    outlet_temperature: float
    power: float
    gas_flow: float
    back_pressure: float


def charge_side(engine, boost):
    """The charge side at a boost over ambient at the plenum."""
    manifold = engine.ambient + boost

    def state(air_flow):
        share = (air_flow / engine.reference_flow) ** 2
        inlet = engine.ambient - engine.inlet_drop * share
        inlet_temperature = engine.ambient_temperature + engine.inlet_heating
        outlet = manifold + engine.charge_drop * share
        outlet_temperature = inlet_temperature * (
            1.0 + ((outlet / inlet) ** AIR_EXPONENT - 1.0) / engine.compressor_efficiency)
        charge_temperature = outlet_temperature - engine.cooler_effectiveness * (
            outlet_temperature - engine.ambient_temperature)
        swallowed = (engine.volumetric_efficiency * manifold / (AIR_CONSTANT * charge_temperature)
                     * engine.volume_per_turn * engine.speed)
        return swallowed, outlet, outlet_temperature, inlet_temperature

    # Hot charge is thin: no more flows than with charge at ambient temperature,
    # or at the inlet's if that is colder; and never so much that the inlet is empty.
    coldest = min(engine.ambient_temperature, engine.ambient_temperature + engine.inlet_heating)
    most = (engine.volumetric_efficiency * manifold / (AIR_CONSTANT * coldest)
            * engine.volume_per_turn * engine.speed) * 1.001
    if engine.inlet_drop > 0.0:
        most = min(most, engine.reference_flow * math.sqrt(engine.ambient / engine.inlet_drop) * (1.0 - 1e-12))
    air_flow = brentq(lambda flow: flow - state(flow)[0], 0.0, most, **TIGHT)
    _, outlet, outlet_temperature, inlet_temperature = state(air_flow)
    return Charge(
        air_flow=air_flow,
        outlet_pressure=outlet,
        outlet_temperature=outlet_temperature,
        power=air_flow * AIR_HEAT * (outlet_temperature - inlet_temperature),
        gas_flow=air_flow * (1.0 + 1.0 / (STOICHIOMETRIC_RATIO * engine.air_ratio)),
        back_pressure=engine.ambient + engine.exhaust_drop * (air_flow / engine.reference_flow) ** 2,
    )


def turbine_flow_for(engine, charge, turbine_inlet):
    """The flow through the turbine that gives the power at its inlet pressure."""
    heat, _, constant = engine.gas
    drop = 1.0 - (charge.back_pressure / turbine_inlet) ** (constant / heat)
    efficiency = engine.turbine_efficiency * engine.mechanical_efficiency
    return charge.power / (efficiency * heat * engine.turbine_inlet_temperature * drop)


def turbine_flux(engine, charge, turbine_inlet):
    """Flow a unit of turbine area: the stage as two like restrictions in series."""
    _, gamma, constant = engine.gas
    between = math.sqrt(turbine_inlet * charge.back_pressure)
    return flux(turbine_inlet, engine.turbine_inlet_temperature, between, gamma, constant)


def gate_area_at(engine, charge, turbine_inlet, turbine_flow):
    """The gate area that carries what the turbine leaves; may come out below zero."""
    _, gamma, constant = engine.gas
    through = flux(turbine_inlet, engine.turbine_inlet_temperature, charge.back_pressure, gamma, constant)
    return ((charge.gas_flow - turbine_flow) / through - engine.leak_area) / engine.discharge_coefficient


def turbine_inlet_pressure(engine, charge):
    """The pressure before the turbine at which it gives the power asked."""
    def surplus(ratio):
        inlet = ratio * charge.back_pressure
        return (engine.turbine_area * turbine_flux(engine, charge, inlet)
                / turbine_flow_for(engine, charge, inlet) - 1.0)

    if charge.power == 0.0:
        return charge.back_pressure
    return charge.back_pressure * brentq(surplus, 1.0 + 1e-12, 1e3, **TIGHT)


def signed_gate_area(engine, boost):
    """The gate area needed at a boost; below zero where even a shut gate passes too much."""
    charge = charge_side(engine, boost)
    inlet = turbine_inlet_pressure(engine, charge)
    if inlet == charge.back_pressure:
        return math.inf
    return gate_area_at(engine, charge, inlet, turbine_flow_for(engine, charge, inlet))


def gate_area_needed(engine, boost):
    """The gate area at which this boost stands, m2."""
    area = signed_gate_area(engine, boost)
    if area < 0.0:
        raise NoSolution("the turbine cannot supply the power")
    return area


def creep_boost(engine, port_area):
    """The boost at which an open port of this area settles, Pa over ambient."""
    return settled_boost(engine, lambda _: port_area)


def settled_boost(engine, area_at):
    """The boost at which the area needed is the area there is at that boost."""
    def shortfall(boost):
        return signed_gate_area(engine, boost) - area_at(boost)

    if shortfall(0.0) <= 0.0:
        return 0.0
    if shortfall(HIGHEST_BOOST) > 0.0:
        raise NoSolution("boost goes beyond 4 bar")
    return brentq(shortfall, 0.0, HIGHEST_BOOST, **TIGHT)


@dataclasses.dataclass(frozen=True)
class Gate:
    """The gate and its actuator, in SI units; pressures over ambient."""

    port_diameter: float
    contact_diameter: float
    lift: float
    cracks_at: float
    wide_open_at: float
    diaphragm_area: float
    arm_ratio: float


def held_boost(engine, gate):
    """The boost at which the actuator holds the gate, Pa over ambient."""
    def area_at(boost):
        charge = charge_side(engine, boost)
        push = ((turbine_inlet_pressure(engine, charge) - charge.back_pressure)
                * math.pi / 4.0 * gate.contact_diameter**2 * gate.arm_ratio / gate.diaphragm_area)
        effective = charge.outlet_pressure - engine.ambient + push
        share = (effective - gate.cracks_at) / (gate.wide_open_at - gate.cracks_at)
        lift = gate.lift * min(max(share, 0.0), 1.0)
        return min(math.pi * gate.port_diameter * lift, math.pi / 4.0 * gate.port_diameter**2)

    return settled_boost(engine, area_at)


def turbine_areas(engine, boost, port_area):
    """Both turbine areas at which this boost stands with the port open, the larger first.

    The engine's own turbine area is not read. At a fixed boost the pressure before
    the turbine settles everything, so it is the variable: a low one is a large turbine.
    """
    charge = charge_side(engine, boost)

    def gate_area(log_ratio):
        inlet = charge.back_pressure * math.exp(log_ratio)
        return gate_area_at(engine, charge, inlet, turbine_flow_for(engine, charge, inlet))

    def turbine_area(log_ratio):
        inlet = charge.back_pressure * math.exp(log_ratio)
        return turbine_flow_for(engine, charge, inlet) / turbine_flux(engine, charge, inlet)

    lowest, highest = 1e-6, math.log(1e3)
    best = minimize_scalar(lambda x: -gate_area(x), bounds=(lowest, highest), method="bounded",
                           options={"xatol": 1e-10}).x
    if gate_area(best) < port_area:
        raise NoSolution(f"no turbine makes this boost need more than {gate_area(best) * 1e6:.1f} mm2")
    roots = [brentq(lambda x: gate_area(x) - port_area, *bracket, **TIGHT)
             for bracket in ((lowest, best), (best, highest))]
    return tuple(turbine_area(root) for root in roots)
