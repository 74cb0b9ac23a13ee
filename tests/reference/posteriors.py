"""Chances of causes by Markov chains, given evidence of many answers.

Reads `evidence.json` (what the example `drawn_evidence` prints: a network, and evidence sets) and writes
`posteriors.json`. The chains walk over sets of causes: a single cause flipped, or one present cause
exchanged for another (Metropolis; the other proposed as often as a pilot run found it, Hastings), and for each cause the mean of its conditional chance (Gibbs'
conditional, so that rare causes are told as well). Eight chains from different starts; their scatter
gives the standard error. Shares no code with the program.

A set S of causes weighs, with a finding false at (1 - leak) * prod over S of (1 - strength):
  prior(S) * prod over factors of
    a single finding [finding, yes, no]:  yes * P(true) + no * P(false)
    a group [findings, [[truths, weight], ...]]: sum of weight * P(truths) over the patterns, divided by
    the sum of P(truths)
    a joint one {"slips": [[right, off], ...], "parts": [{"slips": [...], "factors": [...]}, ...]}: sum over
    which slips are off of their weights times, for each part, the value of that of its factors whose
    place has the bits of the part's own slips that are off

Sweeps are added to a set, as many again each time, from the number given on, until its standard error is
small.
"""

import json
import sys
from concurrent.futures import ProcessPoolExecutor

import numba as nb
import numpy as np

CHAINS = 8
SWEEPS = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
SMALL = 0.0018
EXCHANGES = 100
MOST_SWEEPS = 200_000


@nb.njit(cache=True)
def value_of(l, p, l_find_start, l_find, kind, weights, pat_start, truths):
    """The value of the single finding or group l where its findings are false with the chances p."""
    a, b = l_find_start[l], l_find_start[l + 1]
    if kind[l] == 0:
        q = p[l_find[a]]
        return weights[pat_start[l]] * (1.0 - q) + weights[pat_start[l] + 1] * q
    total = 0.0
    weighed = 0.0
    for k in range(pat_start[l], pat_start[l + 1]):
        chance = 1.0
        for j in range(b - a):
            q = p[l_find[a + j]]
            chance *= (1.0 - q) if truths[k, j] else q
        total += chance
        weighed += chance * weights[k]
    return weighed / total if total > 0.0 else 0.0


@nb.njit(cache=True)
def value(f, p, f_part, part_first, f_comb, comb_weight, comb_place, leaves):
    """The weight of factor f: a sum over combinations of slips of a product over its parts."""
    l_find_start, l_find, kind, weights, pat_start, truths = leaves
    a, b = f_part[f], f_part[f + 1]
    if part_first[b] - part_first[a] == 1:
        return value_of(part_first[a], p, l_find_start, l_find, kind, weights, pat_start, truths)
    values = np.empty(part_first[b] - part_first[a])
    for l in range(part_first[a], part_first[b]):
        values[l - part_first[a]] = value_of(l, p, l_find_start, l_find, kind, weights, pat_start, truths)
    total = 0.0
    for k in range(f_comb[f], f_comb[f + 1]):
        product = comb_weight[k]
        for j in range(b - a):
            product *= values[part_first[a + j] - part_first[a] + comb_place[k, j]]
        total += product
    return total


@nb.njit(cache=True)
def flip(c, on, z, p, leak, l_start, l_find, l_z):
    """Cause c turned over; z is minus the logarithm of what the causes leave of each finding."""
    sign = -1.0 if on[c] else 1.0
    on[c] = not on[c]
    for k in range(l_start[c], l_start[c + 1]):
        s = l_find[k]
        z[s] += sign * l_z[k]
        p[s] = (1.0 - leak[s]) * np.exp(-z[s])


@nb.njit(cache=True)
def near(cs, seen, c_start, c_fact, mark):
    """The factors that the causes cs have a say in, each once."""
    n = 0
    for c in cs:
        for k in range(c_start[c], c_start[c + 1]):
            f = c_fact[k]
            if not mark[f]:
                mark[f] = True
                seen[n] = f
                n += 1
    for k in range(n):
        mark[seen[k]] = False
    return n


@nb.njit(cache=True)
def chain(seed, sweeps, warm, prior, leak, l_start, l_find, l_z, c_start, c_fact, f_part, part_first,
          f_comb, comb_weight, comb_place, leaves, free):
    np.random.seed(seed)
    causes, factors = len(prior), len(f_part) - 1
    fvals = np.zeros(factors)
    on = np.zeros(causes, np.bool_)
    z = np.zeros(len(leak))
    p = 1.0 - leak
    for c in free:
        if np.random.random() < max(prior[c], 0.1):
            flip(c, on, z, p, leak, l_start, l_find, l_z)
    seen = np.zeros(factors, np.int64)
    mark = np.zeros(factors, np.bool_)
    for f in range(factors):
        fvals[f] = value(f, p, f_part, part_first, f_comb, comb_weight, comb_place, leaves)
    new = np.zeros(factors)
    sums = np.zeros(causes)
    pair = np.zeros(2, np.int64)
    one = np.zeros(1, np.int64)
    # How often each cause is proposed, and the same summed up: half evenly, half by the pilot.
    share = np.full(causes, 1.0 / len(free))
    edges = np.cumsum(share[free])
    for sweep in range(sweeps):
        for c in free:
            one[0] = c
            n = near(one, seen, c_start, c_fact, mark)
            flip(c, on, z, p, leak, l_start, l_find, l_z)
            log = np.log(prior[c] / (1.0 - prior[c])) * (1.0 if on[c] else -1.0)
            for k in range(n):
                f = seen[k]
                new[k] = value(f, p, f_part, part_first, f_comb, comb_weight, comb_place, leaves)
                log += np.log(new[k] + 1e-300) - np.log(fvals[f] + 1e-300)
            flipped = 1.0 / (1.0 + np.exp(-log)) if log > -700 else 0.0
            chance = flipped if on[c] else 1.0 - flipped
            sums[c] += chance
            if np.random.random() < flipped:
                for k in range(n):
                    fvals[seen[k]] = new[k]
            else:
                flip(c, on, z, p, leak, l_start, l_find, l_z)
        if sweep == warm - 1:
            share[free] = 0.5 / len(free) + 0.5 * sums[free] / sums[free].sum()
            edges = np.cumsum(share[free])
            sums[:] = 0.0
        # Exchanges: one that is present for one that is not.
        present = free[on[free]]
        if len(present) == 0:
            continue
        for _ in range(EXCHANGES):
            i = np.random.randint(len(present))
            a = present[i]
            b = free[min(np.searchsorted(edges, np.random.random() * edges[-1]), len(free) - 1)]
            if on[b]:
                continue
            pair[0], pair[1] = a, b
            n = near(pair, seen, c_start, c_fact, mark)
            log = np.log(share[a]) - np.log(share[b])
            for c in pair:
                flip(c, on, z, p, leak, l_start, l_find, l_z)
                log += np.log(prior[c] / (1.0 - prior[c])) * (1.0 if on[c] else -1.0)
            for k in range(n):
                f = seen[k]
                new[k] = value(f, p, f_part, part_first, f_comb, comb_weight, comb_place, leaves)
                log += np.log(new[k] + 1e-300) - np.log(fvals[f] + 1e-300)
            if np.log(np.random.random()) < log:
                for k in range(n):
                    fvals[seen[k]] = new[k]
                present[i] = b
            else:
                for c in pair:
                    flip(c, on, z, p, leak, l_start, l_find, l_z)
    return sums / (sweeps - warm)


def as_joint(factor):
    """Any factor as slips and parts."""
    if isinstance(factor, dict):
        return factor
    return {"slips": [], "parts": [{"slips": [], "factors": [factor]}]}


def combinations(joint):
    """The weight of each combination of slips that can be, and the place of each part's factor in it."""
    slips = joint["slips"]
    for off in range(1 << len(slips)):
        weight = 1.0
        for bit, (right, wrong) in enumerate(slips):
            weight *= wrong if off >> bit & 1 else right
        if weight > 0.0:
            yield weight, [sum((off >> slip & 1) << own for own, slip in enumerate(part["slips"]))
                           for part in joint["parts"]]


def leaves_of(factors):
    """Single findings and groups, laid out flat."""
    find_start, find, kind, weights, pat_start, rows = [0], [], [], [], [0], []
    widest = max([len(f[0]) for f in factors if isinstance(f[0], list)] + [1])
    for f in factors:
        if isinstance(f[0], list):
            kind.append(1)
            find += f[0]
            for truths, weight in f[1]:
                weights.append(weight)
                rows.append(truths + [0] * (widest - len(truths)))
        else:
            kind.append(0)
            find.append(f[0])
            weights += [f[1], f[2]]
            rows += [[0] * widest] * 2
        find_start.append(len(find))
        pat_start.append(len(weights))
    return (np.array(find_start), np.array(find), np.array(kind), np.array(weights, float),
            np.array(pat_start), np.array(rows, np.bool_))


def laid_out(network, evidence):
    prior = np.array(network["priors"], float)
    prior[evidence["impossible"]] = 0.0
    findings = network["findings"]
    leak = np.array([f["leak"] for f in findings], float)
    joints = [as_joint(f) for f in evidence["factors"]]
    f_part, part_first, f_comb, comb_weight, places, plain, of = [0], [0], [0], [], [], [], {}
    for index, joint in enumerate(joints):
        for part in joint["parts"]:
            plain += part["factors"]
            part_first.append(len(plain))
            own = part["factors"][0][0]
            for s in own if isinstance(own, list) else [own]:
                of.setdefault(s, set()).add(index)
        for weight, place in combinations(joint):
            comb_weight.append(weight)
            places.append(place)
        f_part.append(len(part_first) - 1)
        f_comb.append(len(comb_weight))
    widest = max(map(len, places))
    comb_place = np.array([place + [0] * (widest - len(place)) for place in places])
    links = [[] for _ in prior]
    for s in of:
        for c, strength in findings[s]["links"]:
            if strength > 0.0:
                links[c].append((s, -np.log(max(1.0 - strength, 1e-12))))
    facts = [sorted(set().union(*(of[s] for s, _ in own))) for own in links]
    starts = lambda lists: np.cumsum([0] + [len(x) for x in lists])
    return (prior, leak, starts(links), np.array([s for x in links for s, _ in x], np.int64),
            np.array([t for x in links for _, t in x], float), starts(facts),
            np.array([f for x in facts for f in x], np.int64), np.array(f_part), np.array(part_first),
            np.array(f_comb), np.array(comb_weight), comb_place, leaves_of(plain)), np.flatnonzero(prior > 0.0)


def weighed(job):
    index, network, evidence = job
    data, free = laid_out(network, evidence)
    runs, chains = 0, None
    while True:
        sweeps = SWEEPS * max(runs, 1)
        more = np.array([
            chain(1000 * index + 100_000 * runs + k, sweeps, max(sweeps // 10, 50), *data, free)
            for k in range(CHAINS)])
        chains = more if runs == 0 else (chains + more) / 2
        runs = max(2 * runs, 1)
        error = (chains.std(axis=0, ddof=1) / np.sqrt(CHAINS)).max()
        if error <= SMALL or 2 * runs * SWEEPS > MOST_SWEEPS:
            break
    sweeps = runs * SWEEPS
    print(index, evidence["answers"], sweeps, round(float(error), 5), flush=True)
    return {"p": [round(float(x), 6) for x in chains.mean(axis=0)], "se": round(float(error), 6)}


def main():
    with open("evidence.json") as file:
        network = json.load(file)
    jobs = [(index, network, evidence) for index, evidence in enumerate(network["sets"])]
    with ProcessPoolExecutor() as pool:
        out = list(pool.map(weighed, jobs))
    with open("posteriors.json", "w") as file:
        json.dump({"made_with": f"numpy {np.__version__}, numba {nb.__version__}, {CHAINS} chains of {SWEEPS} "
                   "sweeps and more", "sets": out}, file)


if __name__ == "__main__":
    main()
