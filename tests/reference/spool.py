"""Boost beginning and building with the gate shut, for invented engines.

The mean-value model of Eriksson and Nielsen, Modeling and Control of Engines and
Drivelines, with the pipes between compressor and cylinders as a volume of its own
whose pressure is integrated beside the shaft, the car and the heat of the manifold;
speed lines as ellipses, turbine efficiency as a parabola over the blade-speed ratio
(Watson and Janota, Turbocharging the Internal Combustion Engine). Every unknown is
a bracketed root (Brent), every pull an initial-value problem (LSODA, tight).
"""

import csv
import dataclasses
import functools
import math

from scipy.integrate import quad, solve_ivp
from scipy.interpolate import RectBivariateSpline
from scipy.optimize import brentq

from table import HERE, write

R_AIR, CP_AIR, G_AIR = 287.05, 1005.0, 1.4
STOICHIOMETRIC = 14.7
TIGHT = {"xtol": 1e-14, "rtol": 1e-12, "maxiter": 500}
LITRE, MM2, KPA, RPM = 1e-3, 1e-6, 1e3, 1.0 / 60.0

# The wheels and the walls, as the physics states them.
HEAD, NO_HEAD_FLOW, BEST_FLOW, FLOW_WIDTH, LEAST = 0.60, 0.085, 0.06, 0.08, 0.3
BEST_RATIO, EXPONENT, RIM_REFERENCE, GAS_REFERENCE = 0.68, 0.15, 285.0, 440.0
WALL_FLOW, WALL_VOLUME, WALL_TIME = 7.5e-3, 1.075e-3, 1.0
START_RIM, START_SHARE = 60.0, 0.5
TORQUE_PER_AIR, DRIVELINE = 150e3, 0.93


@dataclasses.dataclass(frozen=True)
class Car:
    """Engine, turbocharger, day and car, in SI units (speeds in turns a second)."""

    turbine_area: float
    compressor_diameter: float
    turbine_diameter: float
    charge_leak: float
    exhaust_leak: float
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
    start_speed: float
    charge_volume: float
    inertia_factor: float
    mass: float
    gear_ratio: float
    final_drive: float
    tyre_circumference: float
    dragging: float

    @property
    def inlet_temperature(self):
        return self.ambient_temperature + self.inlet_heating

    @property
    def inertia(self):
        return self.inertia_factor * 0.006 * (
            7900.0 * self.turbine_diameter**5 + 2700.0 * self.compressor_diameter**5)


@functools.cache
def heat_table():
    """Heat capacity of burned gas over lambda and temperature, from gas.csv."""
    with open(HERE / "gas.csv") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    lambdas = sorted({float(row["lambda"]) for row in rows})
    kelvins = sorted({float(row["temperature"]) for row in rows})
    heat = {(float(row["lambda"]), float(row["temperature"])): float(row["burned_gas_heat_capacity"]) for row in rows}
    constants = {float(row["lambda"]): float(row["burned_gas_constant"]) for row in rows}
    return (RectBivariateSpline(lambdas, kelvins, [[heat[a, b] for b in kelvins] for a in lambdas], kx=2, ky=3),
            RectBivariateSpline(lambdas, [0.0, 1.0], [[constants[a]] * 2 for a in lambdas], kx=2, ky=1))


@functools.lru_cache(maxsize=100_000)
def burned(air_ratio, kelvin):
    """Heat capacity, gamma and gas constant."""
    heat, constant = (table(air_ratio, at)[0, 0] for table, at in zip(heat_table(), (kelvin, 0.5)))
    return heat, heat / (heat - constant), constant


def nozzle(pressure, kelvin, back, gamma, constant):
    """Isentropic flow a unit of area; none the wrong way."""
    if back >= pressure:
        return 0.0
    ratio = max(back / pressure, (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))
    return pressure / math.sqrt(constant * kelvin) * math.sqrt(
        2.0 * gamma / (gamma - 1.0) * (ratio ** (2.0 / gamma) - ratio ** ((gamma + 1.0) / gamma)))


def inlet(car, flow):
    """Pressure and density before the compressor."""
    pressure = car.ambient - car.inlet_drop * (flow / car.reference_flow) ** 2
    return pressure, pressure / (R_AIR * car.inlet_temperature)


def head(ratio, kelvin):
    """Isentropic work of a pressure ratio, J/kg."""
    return CP_AIR * kelvin * (ratio ** ((G_AIR - 1.0) / G_AIR) - 1.0)


def compressor_efficiency(car, rim, flow, density):
    phi = flow / (density * rim * car.compressor_diameter**2)
    peak = 1.0 - (1.0 - car.compressor_efficiency) * (RIM_REFERENCE / rim) ** EXPONENT
    return peak * max(LEAST, 1.0 - ((phi - BEST_FLOW) / FLOW_WIDTH) ** 2)


def rim_for(car, work, flow, density):
    """Rim speed at which the ellipse passes through this head and flow."""
    full = NO_HEAD_FLOW * density * car.compressor_diameter**2
    return math.sqrt(work / HEAD + (flow / full) ** 2)


def cooled(car, hot):
    return hot - car.cooler_effectiveness * (hot - car.ambient_temperature)


def charge_leak(car, plenum, kelvin):
    return car.charge_leak * nozzle(plenum, kelvin, car.ambient, G_AIR, R_AIR)


def gas_temperature(car, air):
    """Behind walls that cool a stream by exp(-wall flow / flow), once they have settled."""
    wall = WALL_FLOW * (car.volume_per_turn / WALL_VOLUME) ** (2.0 / 3.0)
    cooling = max(0.0, wall / air - wall / car.reference_flow)
    return car.ambient_temperature + (car.turbine_inlet_temperature - car.ambient_temperature) * math.exp(-cooling)


def turbine_power(car, rim, air, kelvin):
    """Power at the shaft after the bearings, the gas finding turbine, shut gate and crack."""
    heat, gamma, constant = burned(car.air_ratio, kelvin)
    behind = car.ambient + car.exhaust_drop * (air / car.reference_flow) ** 2
    gas = air * (1.0 + 1.0 / (STOICHIOMETRIC * car.air_ratio))

    def through(before):
        middle = math.sqrt(before * behind)
        return car.turbine_area * nozzle(before, kelvin, middle, gamma, constant)

    def missing(before):
        leaks = (car.leak_area * nozzle(before, kelvin, behind, gamma, constant)
                 + car.exhaust_leak * nozzle(before, kelvin, car.ambient, gamma, constant))
        return through(before) + leaks - gas

    shaft = 2.0 * rim / car.compressor_diameter
    bearings = (1e-6 * (1.0 - car.mechanical_efficiency) / 0.03 * (car.compressor_diameter / 0.056) ** 3 * shaft**2)
    if missing(behind) >= 0.0:
        return -bearings
    before = brentq(missing, behind, 60.0 * behind, **TIGHT)
    ideal = heat * kelvin * (1.0 - (behind / before) ** ((gamma - 1.0) / gamma))
    spouting = math.sqrt(2.0 * ideal)
    blade = shaft * car.turbine_diameter / 2.0 / spouting
    peak = 1.0 - (1.0 - car.turbine_efficiency) * (GAS_REFERENCE / spouting) ** EXPONENT
    return peak * (1.0 - ((blade - BEST_RATIO) / BEST_RATIO) ** 2) * through(before) * ideal - bearings


def settled(car, boost, air):
    """Spare power and engine speed where the engine draws this air at this boost, all at rest."""
    plenum = car.ambient + boost

    def state(charge_kelvin):
        flow = air + charge_leak(car, plenum, charge_kelvin)
        pressure, density = inlet(car, flow)
        if pressure <= 0.0:
            raise ValueError("the inlet is empty")
        outlet = plenum + car.charge_drop * (air / car.reference_flow) ** 2
        work = head(outlet / pressure, car.inlet_temperature)
        rim = rim_for(car, work, flow, density)
        shaft_work = work / compressor_efficiency(car, rim, flow, density)
        return cooled(car, car.inlet_temperature + shaft_work / CP_AIR), rim, flow * shaft_work

    kelvin = brentq(lambda guess: state(guess)[0] - guess, 150.0, 900.0, **TIGHT)
    _, rim, power = state(kelvin)
    speed = air * R_AIR * kelvin / (car.volumetric_efficiency * car.volume_per_turn * plenum)
    return turbine_power(car, rim, air, gas_temperature(car, air)) - power, speed


def threshold_speed(car, boost):
    """The lowest engine speed at which the boost stands."""
    last = 1e-3
    for step in range(1, 800):
        air = 1e-3 * 1.02**step
        if settled(car, boost, air)[0] >= 0.0:
            root = brentq(lambda air: settled(car, boost, air)[0], last, air, **TIGHT)
            return settled(car, boost, root)[1]
        last = air
    raise ValueError("not reached")


def most_air(car):
    """Well before the inlet is sucked empty."""
    return 0.8 * car.reference_flow * math.sqrt(car.ambient / car.inlet_drop)


def steady_boost(car, speed):
    """The lowest boost that stands at a speed: the air is found for each boost."""
    def spare(boost):
        air = brentq(lambda air: settled(car, boost, air)[1] - speed, 1e-4, most_air(car), **TIGHT)
        return settled(car, boost, air)[0]

    last = 1.0
    for boost in range(1000, 400_000, 1000):
        if spare(boost) <= 0.0:
            return brentq(spare, last, boost, **TIGHT)
        last = boost
    raise ValueError("beyond 4 bar")


def compressor_flow(car, rim, plenum, air):
    """Flow through the compressor at its rim speed against the pressure behind it."""
    outlet = plenum + car.charge_drop * (air / car.reference_flow) ** 2

    def missing(flow):
        pressure, density = inlet(car, flow)
        full = NO_HEAD_FLOW * density * car.compressor_diameter**2
        gives = HEAD * (rim**2 - (flow / full) ** 2)
        return gives - head(outlet / pressure, car.inlet_temperature)

    most = 0.999 * car.reference_flow * math.sqrt(car.ambient / car.inlet_drop)
    if missing(0.0) <= 0.0:
        return 0.0
    return brentq(missing, 0.0, most, **TIGHT)


def drawn(car, speed, plenum, kelvin):
    return car.volumetric_efficiency * plenum / (R_AIR * kelvin) * car.volume_per_turn * speed


def rates(car, state):
    """Rates of rim speed, plenum pressure, engine speed and temperature before the turbine."""
    rim, plenum, speed, hot = state
    kelvin = car.ambient_temperature + 20.0
    # Flow and temperature of the charge hang on each other only through the efficiency.
    for _ in range(60):
        air = drawn(car, speed, plenum, kelvin)
        flow = compressor_flow(car, rim, plenum, air)
        pressure, density = inlet(car, flow)
        outlet = plenum + car.charge_drop * (air / car.reference_flow) ** 2
        work = max(0.0, head(outlet / pressure, car.inlet_temperature))
        work /= compressor_efficiency(car, rim, max(flow, 1e-6), density)
        following = cooled(car, car.inlet_temperature + work / CP_AIR)
        if abs(following - kelvin) < 1e-9:
            break
        kelvin = following
    shaft_power = turbine_power(car, rim, air, hot) - flow * work
    radius = car.compressor_diameter / 2.0
    filling = flow - air - charge_leak(car, plenum, kelvin)
    return (shaft_power * radius**2 / (car.inertia * rim), R_AIR * kelvin / car.charge_volume * filling,
            gain(car, speed, air), (gas_temperature(car, air) - hot) / WALL_TIME)


def gain(car, speed, air):
    """The car: torque by the air of a turn, rolling, drag and what drags."""
    ratio = car.gear_ratio * car.final_drive
    road = speed / ratio * car.tyre_circumference
    pull = 2.0 * math.pi * TORQUE_PER_AIR * air / speed * ratio * DRIVELINE / car.tyre_circumference
    held = 0.013 * car.mass * 9.81 + 0.5 * 1.2 * 0.65 * road**2 + car.dragging
    return (pull - held) / (car.mass * (1.04 + 0.0025 * ratio**2)) * ratio / car.tyre_circumference


def start(car):
    """The plenum as the throttle opens: what the turning wheel lets through to the engine."""
    def filling(plenum):
        return rates(car, (START_RIM, plenum, car.start_speed, 800.0))[1]

    plenum = brentq(filling, 0.7 * car.ambient, 1.1 * car.ambient, **TIGHT)
    kelvin = cooled(car, car.inlet_temperature)
    air = drawn(car, car.start_speed, plenum, kelvin)
    return [START_RIM, plenum, car.start_speed, gas_temperature(car, START_SHARE * air)]


def pull(car, boost):
    """Time and engine speed at which the boost is there."""
    def reached(_, state):
        return state[1] - car.ambient - boost

    reached.terminal = True
    solution = solve_ivp(lambda _, state: rates(car, state), (0.0, 60.0), start(car), method="LSODA",
                         events=reached, rtol=1e-7, atol=1e-8)
    if not solution.t_events[0].size:
        raise ValueError("not reached in a minute")
    return solution.t_events[0][0], solution.y_events[0][0][2]


def car_alone(car, boost, speed):
    """Time of the car alone to the speed at which the boost stands, its boost following at once."""
    def pace(at):
        boost = steady_boost(car, at)
        air = brentq(lambda air: settled(car, boost, air)[1] - at, 1e-4, most_air(car), **TIGHT)
        return 1.0 / gain(car, at, air)

    return quad(pace, car.start_speed, speed, epsrel=1e-6)[0]


def held_pull(car, boost, slowest, fastest):
    """Time from one engine speed to another at a boost that is held, the gate seeing to that."""
    def pace(speed):
        air = brentq(lambda air: settled(car, boost, air)[1] - speed, 1e-4, most_air(car), **TIGHT)
        return 1.0 / gain(car, speed, air)

    return quad(pace, slowest, fastest, epsrel=1e-8)[0]


TWO_LITRE = Car(
    turbine_area=420 * MM2, compressor_diameter=0.056, turbine_diameter=0.052, charge_leak=0.0, exhaust_leak=0.0,
    leak_area=5 * MM2, volume_per_turn=1.0 * LITRE, volumetric_efficiency=0.85, air_ratio=0.9, ambient=101325.0,
    ambient_temperature=293.15, inlet_heating=15.0, inlet_drop=6 * KPA, charge_drop=12 * KPA,
    exhaust_drop=25 * KPA, reference_flow=0.15, compressor_efficiency=0.72, cooler_effectiveness=0.75,
    turbine_efficiency=0.68, mechanical_efficiency=0.97, turbine_inlet_temperature=1213.15,
    start_speed=1800 * RPM, charge_volume=11 * LITRE, inertia_factor=1.0, mass=1400.0, gear_ratio=1.4,
    final_drive=3.9, tyre_circumference=1.9, dragging=0.0)


def case(name, boost, **changes):
    return name, dataclasses.replace(TWO_LITRE, **changes), boost * KPA


POOR = {"turbine_area": 520 * MM2, "leak_area": 0.0, "turbine_efficiency": 0.62, "inertia_factor": 1.2, "compressor_efficiency": 0.70}
CASES = [
    case("two litre", 40),
    case("two litre, gate leaks 25 mm2", 40, leak_area=25 * MM2),
    case("two litre, charge leaks 15 mm2", 40, charge_leak=15 * MM2),
    case("two litre, crack of 12 mm2 before the turbine", 40, exhaust_leak=12 * MM2),
    # What the rules hold for typical, but for a turbine that is larger and worse and a rotor that is heavier.
    case("two litre, large and poor turbine, heavy rotor", 40, **POOR),
    case("two litre, large and poor turbine, heavy rotor, crack of 12 mm2 before the turbine", 40, **POOR, exhaust_leak=12 * MM2),
    case("two litre at 1500 m", 35, ambient=84556.0, ambient_temperature=278.4),
    case("two litre on a hot day with a clogged filter and catalyst", 40, ambient_temperature=313.15, inlet_drop=14 * KPA,
         exhaust_drop=60 * KPA),
    case("two litre, large turbo, second gear", 45, turbine_area=560 * MM2, compressor_diameter=0.064, turbine_diameter=0.058,
         gear_ratio=2.1, start_speed=2200 * RPM),
    case("two litre, small turbo, fifth gear", 50, turbine_area=300 * MM2, compressor_diameter=0.049, turbine_diameter=0.045,
         gear_ratio=0.85, start_speed=1500 * RPM),
    case("small engine", 45, volume_per_turn=0.6 * LITRE, turbine_area=210 * MM2, compressor_diameter=0.044, turbine_diameter=0.038,
         reference_flow=0.085, charge_volume=7 * LITRE, mass=1050.0, gear_ratio=1.45, final_drive=4.2, tyre_circumference=1.8),
    case("three litre", 50, volume_per_turn=1.5 * LITRE, turbine_area=600 * MM2, compressor_diameter=0.064, turbine_diameter=0.060,
         reference_flow=0.22, charge_volume=15 * LITRE, mass=1650.0, gear_ratio=1.3, final_drive=3.2, tyre_circumference=2.0),
    case("two-rotor, hot gas", 35, volume_per_turn=1.3 * LITRE, turbine_area=620 * MM2, compressor_diameter=0.060,
         turbine_diameter=0.058, turbine_inlet_temperature=1273.15, air_ratio=0.85, exhaust_drop=9 * KPA, mass=1250.0),
    case("two litre, heavy rotor, worn wheels, brake dragging", 40, inertia_factor=1.4, compressor_efficiency=0.66,
         turbine_efficiency=0.62, mechanical_efficiency=0.95, dragging=400.0, air_ratio=1.0),
]


# Of the pull that holds its boost, turns a second.
SLOWEST, FASTEST = 3000 * RPM, 4500 * RPM


def rows():
    for name, car, boost in CASES:
        starts = threshold_speed(car, boost)
        # A little above that speed more boost stands; a start below it leaves the car a way of its own.
        speed = 1.03 * starts
        slow = dataclasses.replace(car, start_speed=0.75 * starts)
        time, reached = pull(car, boost)
        yield (name, *dataclasses.astuple(car), boost, starts, speed, steady_boost(car, speed), time, reached,
               slow.start_speed, car_alone(slow, boost, starts), SLOWEST, FASTEST,
               held_pull(car, boost, SLOWEST, FASTEST))


ABOUT = """
Boost beginning and building of invented engines, the gate shut: the steady balance of turbine and compressor,
and a pull from the pedal on. The pipes are a volume whose pressure is integrated; burned gas as in gas.csv.
Stoichiometric ratio 14.7; air gamma 1.4, c_p 1005, R 287.05 J/(kg K); coolant at ambient temperature. Drops are at
reference_flow and go with flow squared; turbine_inlet_temperature is that at reference_flow. boost is gauge.
"""
COLUMNS = {
    "case": "what it is", "turbine_area": "effective, m2", "compressor_diameter": "m", "turbine_diameter": "m",
    "charge_leak": "effective, m2", "exhaust_leak": "effective, m2", "leak_area": "of the shut gate, effective, m2",
    "volume_per_turn": "swept, m3", "volumetric_efficiency": "on manifold density, 1", "lambda": "1", "ambient": "Pa",
    "ambient_temperature": "K", "inlet_heating": "K", "inlet_drop": "Pa", "charge_drop": "Pa", "exhaust_drop": "Pa",
    "reference_flow": "kg/s", "compressor_efficiency": "at its best, 1", "cooler_effectiveness": "1",
    "turbine_efficiency": "at its best, 1", "mechanical_efficiency": "at full load, 1",
    "turbine_inlet_temperature": "K", "start_speed": "of the pull, turns a second", "charge_volume": "m3",
    "inertia_factor": "1", "mass": "kg", "gear_ratio": "1", "final_drive": "1", "tyre_circumference": "m",
    "dragging": "N", "boost": "Pa", "threshold_speed": "at which boost stands, turns a second",
    "speed": "given for steady_boost, turns a second", "steady_boost": "Pa", "boost_time": "s",
    "speed_at_boost": "turns a second", "slow_start": "start given for car_time, turns a second", "car_time": "s",
    "from_speed": "given for pull_time, turns a second", "to_speed": "given for pull_time, turns a second", "pull_time": "s",
}

if __name__ == "__main__":
    write("spool.csv", __file__, ["scipy"], ABOUT, COLUMNS, rows())
