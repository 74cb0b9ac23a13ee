"""Some functions of the formula language, for numbers, uncertain numbers and arrays of draws.

Each takes its arguments in the order of the formula language and in SI units. Where there is
no answer it gives NaN, which the caller counts as refused.
"""

import numpy
from uncertainties import nominal_value, umath

AIR_CONSTANT, AIR_HEAT, AIR_GAMMA = 287.05, 1005.0, 1.4
GRAVITY = 9.80665
LAPSE, SEA_TEMPERATURE, SEA_PRESSURE, STANDARD_AIR = 0.0065, 288.15, 101325.0, 287.05287


def pick(of_arrays, of_uncertain):
    """A function that works for arrays and for uncertain numbers."""
    return lambda x: of_arrays(x) if isinstance(x, numpy.ndarray) else of_uncertain(x)


exp = pick(numpy.exp, umath.exp)
ln = pick(numpy.log, umath.log)
sqrt = pick(numpy.sqrt, umath.sqrt)


def max(first, second):
    """The larger one, draw by draw."""
    if isinstance(first, numpy.ndarray) or isinstance(second, numpy.ndarray):
        return numpy.maximum(first, second)
    return first if nominal_value(first) > nominal_value(second) else second


def min(first, second):
    """The smaller one, draw by draw."""
    return -max(-first, -second)


def where(surplus, value):
    """The value where there is a surplus, or nothing is missing, else NaN."""
    if isinstance(surplus, numpy.ndarray):
        return numpy.where(surplus >= 0.0, value, numpy.nan)
    return value if nominal_value(surplus) >= 0.0 else float("nan")


def absolute(gauge, ambient):
    return gauge + ambient


def air_density(pressure, temperature):
    return pressure / (AIR_CONSTANT * temperature)


def circle_area(diameter):
    return numpy.pi / 4.0 * diameter**2


def circle_diameter(area):
    return sqrt(4.0 * area / numpy.pi)


def curtain_area(diameter, lift):
    return numpy.pi * diameter * lift


def standard_temperature(altitude):
    return SEA_TEMPERATURE - LAPSE * altitude


def pressure_altitude(pressure):
    return SEA_TEMPERATURE / LAPSE * (1.0 - (pressure / SEA_PRESSURE) ** (LAPSE * STANDARD_AIR / GRAVITY))


def compressor_work(inlet_temperature, pressure_ratio, efficiency):
    return AIR_HEAT * inlet_temperature * (pressure_ratio ** ((AIR_GAMMA - 1.0) / AIR_GAMMA) - 1.0) / efficiency


def compressor_outlet_temperature(inlet_temperature, pressure_ratio, efficiency):
    return inlet_temperature + compressor_work(inlet_temperature, pressure_ratio, efficiency) / AIR_HEAT


def cooler_outlet_temperature(inlet_temperature, coolant_temperature, effectiveness):
    return inlet_temperature - effectiveness * (inlet_temperature - coolant_temperature)


def nozzle_flow(area, pressure, temperature, back_pressure, gamma, gas_constant):
    ratio = max(back_pressure / pressure, (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))
    head = 2.0 * gamma / (gamma - 1.0) * (1.0 - ratio ** ((gamma - 1.0) / gamma))
    flow = area * pressure / sqrt(gas_constant * temperature) * ratio ** (1.0 / gamma) * sqrt(head)
    return where(pressure - back_pressure, flow)


def pneumatic_flow(conductance, critical_ratio, pressure, back_pressure, temperature):
    """ISO 6358-1 with an index of one half; conductance in m3/(s Pa)."""
    share = (max(back_pressure / pressure, critical_ratio) - critical_ratio) / (1.0 - critical_ratio)
    flow = conductance * 1.185 * pressure * sqrt(293.15 / temperature) * sqrt(1.0 - share**2)
    return where(pressure - back_pressure, flow)


def turbine_expansion_ratio(compressor_power, gas_flow, gas_temperature, turbine_efficiency,
                            mechanical_efficiency, heat_capacity, gamma):
    share = compressor_power / (
        turbine_efficiency * mechanical_efficiency * gas_flow * heat_capacity * gas_temperature)
    possible = where(1.0 - share, 1.0 - share)
    return possible ** (-gamma / (gamma - 1.0))


def engine_air_flow(volume_per_turn, speed, volumetric_efficiency, pressure, temperature):
    return volumetric_efficiency * air_density(pressure, temperature) * volume_per_turn * speed


def fuel_flow(air_flow, air_ratio, stoichiometric_ratio):
    return air_flow / (air_ratio * stoichiometric_ratio)


def injector_flow(rated_flow, rated_difference, difference):
    return rated_flow * sqrt(difference / rated_difference)


def injector_duty(fuel, injectors, one_injector, density):
    return fuel / (injectors * one_injector * density)


def hot_size(size, expansion, cold, hot):
    return size * (1.0 + expansion * (hot - cold))


def clamped_plate_stress(pressure, radius, thickness):
    return 0.75 * pressure * (radius / thickness) ** 2


def supported_plate_stress(pressure, radius, thickness, poisson):
    return 3.0 * (3.0 + poisson) / 8.0 * pressure * (radius / thickness) ** 2


def leak_area_isothermal(volume, temperature, start, end, ambient, time):
    """Blow-down that is never choked, by Gauss-Legendre quadrature over the root of the gauge pressure."""
    low, high = sqrt(end - ambient), sqrt(start - ambient)
    nodes, weights = numpy.polynomial.legendre.leggauss(12)
    seconds_times_area = 0.0
    for node, weight in zip(nodes, weights):
        root = (low + high) / 2.0 + (high - low) / 2.0 * node
        pressure = ambient + root**2
        flux = nozzle_flow(1.0, pressure, temperature, ambient, AIR_GAMMA, AIR_CONSTANT)
        seconds_times_area += weight * 2.0 * root / flux
    area = seconds_times_area * (high - low) / 2.0 * volume / (AIR_CONSTANT * temperature) / time
    return where(end - ambient, area)
