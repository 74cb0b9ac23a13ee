"""Inputs of one of the engines of calibration.py given its readings, by weighing draws of the prior.

No chain and no fitted distribution: every draw weighs what its likelihood says. Slow, since most draws weigh
next to nothing, and without any way to go wrong but by their number. It tells the outer points of single
inputs better than the chains do.
"""

import numpy as np

import calibration
from calibration import CASES, NAMES, boosts, check_against_engine
from table import write

CASE = "two litre, two speeds"
BATCHES, BATCH, SEED = 24, 20_000, 7
# Boost to a tenth of a pascal.
calibration.bisected.__defaults__ = (22,)


def weighed(case):
    """Draws of the prior that weigh anything, their weights and the boost forecast at each."""
    generator = np.random.default_rng(SEED)
    readings = np.array([r[2] for r in case["readings"]])
    spread = np.array([r[3] for r in case["readings"]])
    points = [r[:2] for r in case["readings"]]
    kept = []
    for _ in range(BATCHES):
        z = generator.standard_normal((BATCH, len(NAMES)))
        log = -0.5 * (((boosts(z, case, points) - readings) / spread) ** 2).sum(axis=1)
        weights = np.where(np.isfinite(log), np.exp(log), 0.0)
        heavy = weights > 1e-6
        z, weights = z[heavy], weights[heavy]
        kept.append((z, weights, boosts(z, case, [case["planned"]])[:, 0]))
    return [np.concatenate(parts) for parts in zip(*kept)]


def point(values, weights, share):
    """The value below which a share of the weight lies."""
    order = np.argsort(values)
    passed = np.cumsum(weights[order])
    return values[order][np.searchsorted(passed, share * passed[-1])]


def rows():
    """One row an input; the forecast is an input of its own."""
    check_against_engine()
    z, weights, forecast = weighed(CASES[CASE])
    effective = weights.sum() ** 2 / (weights**2).sum()
    for what, values in {**{NAMES[i]: z[:, i] for i in range(len(NAMES))}, "forecast": forecast}.items():
        mean = np.average(values, weights=weights)
        deviation = np.sqrt(np.average((values - mean) ** 2, weights=weights))
        outer = [point(values, weights, share) for share in (0.025, 0.975)]
        yield (CASE, what, *(round(float(value), 4) for value in (mean, deviation, *outer)), round(float(effective)))


ABOUT = """
Inputs of an invented engine given two readings of boost with the gate wide open, by draws of the prior weighed by
their likelihood. The case is that of the same name in calibration.csv, and so are the coordinates.
"""
COLUMNS = {
    "case": "as in calibration.csv", "what": "the input, or the boost forecast at the planned port in Pa",
    "mean": "weighed", "deviation": "standard", "low": "2.5 % point", "high": "97.5 % point",
    "effective": "independent draws that the weighed ones are worth (Kish)",
}

if __name__ == "__main__":
    write("weighed.csv", __file__, ["numpy", "scipy", "cantera"], ABOUT, COLUMNS, rows())
