"""Findings that rest on one reading, weighed together: every set of causes by enumeration, what the
reading may be in truth by the stretches between the limits.

The rules are those of rules/README.md, "How rules are weighed"; the pack stands in
tests/contract/shared.rs. All formulas are straight lines of the one reading, so that a normal
distribution cut at the limits is exact.
"""

import itertools

import numpy
from scipy.stats import norm

from table import write

CAUSES = {"gate": 0.12, "hose": 0.2, "gauge": 0.05}
FINDINGS = {  # leak, strengths
    "high": (0.02, {"gate": 0.8, "hose": 0.3}),
    "higher": (0.05, {"gate": 0.9, "gauge": 0.5}),
    "low": (0.1, {"hose": 0.6, "gauge": 0.25}),
    "both": (0.01, {"gate": 0.5, "gauge": 0.7}),
    "flap_shut": (0.3, {"gate": 0.6}),
    "rail_low": (0.04, {"hose": 0.7, "gauge": 0.2}),
    "rail_lower": (0.02, {"hose": 0.5, "gate": 0.1}),
}
SLIPS, SURE = 0.03, 0.9
PEAK_U, RAIL_U = 0.03, 0.05


def on_peak(x):
    """The comparisons as the rules write them."""
    return {"high": x > 0.9, "higher": 2 * x > 1.75, "low": 1 - x > 0.06, "tripled": 3 * x > 2.7}


def on_rail(x):
    return {"rail_low": x < 3.0, "rail_lower": 2 * x < 5.8}


def stretches(read, u, cuts, shows):
    """What the comparisons show in each stretch between the cuts, with its share of the readings."""
    edges = [-numpy.inf, *sorted(set(cuts)), numpy.inf]
    for low, high in itertools.pairwise(edges):
        share = norm.cdf(high, read, u) - norm.cdf(low, read, u)
        inside = numpy.clip((low + high) / 2 if numpy.isfinite(low + high) else
                            (high - 1 if numpy.isfinite(high) else low + 1), -9, 9)
        yield shows(float(inside)), share


def chance(finding, present):
    leak, strengths = FINDINGS[finding]
    return 1 - (1 - leak) * numpy.prod([1 - s for cause, s in strengths.items() if cause in present])


def soft(yes, no, p):
    return yes * p + no * (1 - p)


def singles(shown, names, present):
    return numpy.prod([chance(n, present) if shown[n] else 1 - chance(n, present) for n in names])


def mixed(limits, right, off):
    """A reading that is off shows any other of the stretches, each as often."""
    each = SLIPS / limits
    return (1 - (limits + 1) * each) * right + each * off


def rail_weight(read, present):
    parts = stretches(read, RAIL_U, [3.0, 2.9], on_rail)
    right = sum(share * singles(shown, ["rail_low", "rail_lower"], present) for shown, share in parts)
    return mixed(2, right, 1.0)


def compound(above, shut, p):
    """`3 * peak > 2.7 bar and flap`: one of four patterns makes it true, three make it false."""
    return p if above and shut else (1 - p) / 3


def peak_weight(read, flap, present):
    """Four findings on the reading, one of them a compound; the look at the flap bears on two."""
    p_both, p_shut = chance("both", present), chance("flap_shut", present)
    total = 0.0
    for shut in [True, False]:
        told = SURE if shut == flap else 1 - SURE
        right = sum(
            share * singles(shown, ["high", "higher", "low"], present) * compound(shown["tripled"], shut, p_both)
            for shown, share in stretches(read, PEAK_U, [0.9, 0.875, 0.94], on_peak)
        )
        # Off, the reading says as much for either side of its comparison in the compound.
        off = sum(compound(above, shut, p_both) for above in [True, False])
        total += told * mixed(4, right, off) * (p_shut if shut else 1 - p_shut)
    return total


def peak_alone(read, present):
    """Nobody looked at the flap: the compound is no where the comparison is, else open."""
    p_both = chance("both", present)
    right = sum(
        share * singles(shown, ["high", "higher", "low"], present) * (1.0 if shown["tripled"] else 1 - p_both)
        for shown, share in stretches(read, PEAK_U, [0.9, 0.875, 0.94], on_peak)
    )
    return mixed(4, right, 1.0 + (1 - p_both))


def rows():
    for rail in [2.97, 2.9, 3.4]:
        yield f"rail: {rail} bar", lambda present, rail=rail: rail_weight(rail, present)
    for peak in [0.92, 0.88, 0.95, 1.3]:
        yield f"peak: {peak} bar", lambda present, peak=peak: peak_alone(peak, present)
        for flap in [True, False]:
            answers = f"peak: {peak} bar, flap: {'yes' if flap else 'no'}"
            yield answers, lambda present, peak=peak, flap=flap: peak_weight(peak, flap, present)
    yield ("peak: 0.91 bar, flap: yes, rail: 2.95 bar",
           lambda present: peak_weight(0.91, True, present) * rail_weight(2.95, present))


def posterior(weight):
    sets = [s for n in range(len(CAUSES) + 1) for s in itertools.combinations(CAUSES, n)]
    prior = [numpy.prod([p if c in s else 1 - p for c, p in CAUSES.items()]) for s in sets]
    weights = numpy.array([p * weight(s) for p, s in zip(prior, sets)])
    weights /= weights.sum()
    return [float(sum(w for w, s in zip(weights, sets) if cause in s)) for cause in CAUSES]


if __name__ == "__main__":
    write("shared_reading.csv", __file__, ["numpy", "scipy"],
          "Chances of three causes after findings that rest on one reading (two of them, and four with a look).",
          {"answers": "what was answered", **{cause: "chance of this cause" for cause in CAUSES}},
          [[answers, *posterior(weight)] for answers, weight in rows()])
