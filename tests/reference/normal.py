"""The chance that an uncertain value keeps an uncertain limit (JCGM 106:2012, 7)."""

import numpy
from scipy.stats import multivariate_normal, norm

from table import write

BELOW = [  # value, its u, limit, its u
    (0.92, 0.03, 0.90, 0.02), (0.90, 0.03, 0.90, 0.02), (0.85, 0.03, 0.90, 0.0), (0.85, 0.0, 0.90, 0.02),
    (0.85, 0.0, 0.90, 0.0), (0.95, 0.0, 0.90, 0.0), (0.70, 0.03, 0.90, 0.02), (1.20, 0.03, 0.90, 0.02),
    (1.90, 0.05, 0.90, 0.0), (24.0, 0.2, 25.0, 0.5), (-5.0, 2.0, 0.0, 1.0), (1e5, 2e3, 1.03e5, 0.0),
]
BETWEEN = [  # value, its u, lower limit, its u, upper limit, its u
    (1.0, 0.1, 0.9, 0.0, 1.1, 0.0), (0.95, 0.1, 0.9, 0.0, 1.1, 0.0), (1.3, 0.1, 0.9, 0.0, 1.1, 0.0),
    (1.0, 0.0, 0.9, 0.0, 1.1, 0.0), (1.2, 0.0, 0.9, 0.0, 1.1, 0.0), (8.0, 1.0, 0.0, 0.0, 6.0, 0.0),
    (1.0, 0.1, 0.9, 0.05, 1.1, 0.05), (0.95, 0.03, 0.9, 0.02, 1.0, 0.02), (0.7, 0.05, 0.9, 0.05, 1.1, 0.05),
    (1.0, 0.0, 0.9, 0.05, 1.1, 0.08), (50.0, 5.0, 40.0, 3.0, 55.0, 1.0),
]


def chance_below(value, value_u, limit, limit_u):
    """P(value < limit), both normal and independent."""
    spread = numpy.hypot(value_u, limit_u)
    if spread == 0.0:
        return float(value < limit)
    return float(norm.cdf(limit, loc=value, scale=spread))


def chance_between(value, value_u, lower, lower_u, upper, upper_u):
    """P(lower < value < upper): two clearances that share the value's error."""
    clearances = numpy.array([value - lower, upper - value])
    covariance = numpy.array([[value_u**2 + lower_u**2, -value_u**2], [-value_u**2, value_u**2 + upper_u**2]])
    if value_u == lower_u == upper_u == 0.0:
        return float(lower < value < upper)
    if lower_u == upper_u == 0.0:
        return float(norm.cdf(upper, loc=value, scale=value_u) - norm.cdf(lower, loc=value, scale=value_u))
    return float(multivariate_normal(mean=-clearances, cov=covariance, allow_singular=True,
                                     abseps=1e-12, releps=1e-12, maxpts=10**7).cdf([0.0, 0.0]))


def difference_of_tails(value, value_u, lower, lower_u, upper, upper_u):
    """P(value < upper) - P(value < lower); the same unless the limits could cross."""
    return chance_below(value, value_u, upper, upper_u) - chance_below(value, value_u, lower, lower_u)


BELOW_COLUMNS = {
    "value": "1", "value_u": "its standard uncertainty", "limit": "1", "limit_u": "its standard uncertainty",
    "chance_below": "1",
}
BETWEEN_COLUMNS = {
    "value": "1", "value_u": "its standard uncertainty", "lower": "1", "lower_u": "its standard uncertainty",
    "upper": "1", "upper_u": "its standard uncertainty", "chance_between": "1",
    "difference_of_tails": "P(value < upper) - P(value < lower), 1",
}

if __name__ == "__main__":
    libraries = ["scipy", "numpy"]
    write("chance_below.csv", __file__, libraries, "The chance that a value is below a limit, errors normal.",
          BELOW_COLUMNS, [(*case, chance_below(*case)) for case in BELOW])
    write("chance_between.csv", __file__, libraries,
          "The chance that a value is between two limits, errors normal and independent.",
          BETWEEN_COLUMNS, [(*case, chance_between(*case), difference_of_tails(*case)) for case in BETWEEN])
