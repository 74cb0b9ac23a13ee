"""Thin circular plates under uniform pressure, by solving their differential equation.

With the curvature along the rim c = w'/r and the sum of curvatures s, an even
pressure p on a plate of stiffness D gives w' = r c, c' = (s - 2 c)/r, s' = p r/(2 D)
(Kirchhoff's theory; shear is left out). The largest stress is looked for over the
whole plate, along and across the radius.
"""

import numpy
from scipy.integrate import solve_bvp

from table import write


def solve(pressure, radius, thickness, modulus, poisson, clamped):
    """Largest stress in Pa and deflection in m."""
    stiffness = modulus * thickness**3 / (12.0 * (1.0 - poisson**2))
    # Solved for a unit radius and a load that makes the curvatures of order one.
    load = 1.0

    def slopes(r, state):
        _, across, _ = state
        return numpy.array([r * across, numpy.zeros_like(r), load * r / 2.0])

    def edges(centre, rim):
        # D (w'' + nu w'/r) is the moment at the rim, with w'' = s - c.
        held = rim[1] if clamped else rim[2] - rim[1] + poisson * rim[1]
        return numpy.array([rim[0], held, centre[2] - 2.0 * centre[1]])

    singular = numpy.array([[0.0, 0.0, 0.0], [0.0, -2.0, 1.0], [0.0, 0.0, 0.0]])
    mesh = numpy.linspace(0.0, 1.0, 101)
    solution = solve_bvp(slopes, edges, mesh, numpy.zeros((3, mesh.size)), S=singular, tol=1e-11, max_nodes=100000)
    if not solution.success:
        raise ArithmeticError(solution.message)
    deflection, across, total = solution.sol(numpy.linspace(0.0, 1.0, 2001))
    along = total - across
    # Moments a unit of D, scaled back to the plate's own load: p a2 in the moment, p a4 / D in the deflection.
    moments = numpy.concatenate([along + poisson * across, across + poisson * along])
    stress = 6.0 * numpy.max(numpy.abs(moments)) * pressure * radius**2 / thickness**2
    return stress, numpy.max(numpy.abs(deflection)) * pressure * radius**4 / stiffness


CASES = [  # Pa, m, m, Pa, 1
    (300e3, 0.017, 0.003, 150e9, 0.30), (300e3, 0.017, 0.005, 150e9, 0.30), (150e3, 0.014, 0.004, 140e9, 0.28),
    (80e3, 0.020, 0.003, 200e9, 0.30), (500e3, 0.100, 0.010, 200e9, 0.29), (4.2e6, 0.100, 0.010, 200e9, 0.29),
    (41368.5, 0.508, 0.0254, 206.843e9, 0.30), (20e3, 0.050, 0.001, 70e9, 0.33), (5e3, 0.050, 0.001, 70e9, 0.33),
    (100e3, 0.017, 0.004, 100e9, 0.0), (100e3, 0.017, 0.004, 100e9, 0.49),
]


def within_theory(stress, deflection, thickness):
    """The pair, the deflection refused where the plate also stretches and linear theory ends."""
    return stress, "refused" if deflection > thickness / 2.0 else deflection


def rows():
    """One row a plate."""
    for case in CASES:
        thickness = case[2]
        yield (*case, *within_theory(*solve(*case, clamped=True), thickness),
               *within_theory(*solve(*case, clamped=False), thickness))


ABOUT = """
Largest bending stress and deflection of thin circular plates under uniform pressure, clamped and simply
supported at the rim, from the axisymmetric plate equation solved as a boundary value problem (collocation).
A deflection beyond half the thickness is refused: the theory is linear (Timoshenko, Theory of Plates and Shells).
"""
COLUMNS = {
    "pressure": "difference across the plate, Pa", "radius": "m", "thickness": "m", "modulus": "Pa",
    "poisson": "1", "clamped_plate_stress": "Pa", "clamped_plate_deflection": "m",
    "supported_plate_stress": "Pa", "supported_plate_deflection": "m",
}

if __name__ == "__main__":
    write("plates.csv", __file__, ["scipy", "numpy"], ABOUT, COLUMNS, rows())
