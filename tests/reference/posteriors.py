"""Chances of causes by Markov chains, given evidence of many answers.

Reads `evidence.json` (what the example `drawn_evidence` prints: a network, and evidence sets) and writes
`posteriors.json`. The chains walk over sets of causes: a single cause flipped, or one present cause
exchanged for another (Metropolis), and for each cause the mean of its conditional chance (Gibbs'
conditional, so that rare causes are told as well). Eight chains from different starts; their scatter
gives the standard error. Shares no code with the program.

A set S of causes weighs, with a finding false at (1 - leak) * prod over S of (1 - strength):
  prior(S) * prod over factors of
    a single finding [finding, yes, no]:  yes * P(true) + no * P(false)
    a group [findings, [[truths, weight], ...]]: sum of weight * P(truths) over the patterns, divided by
    the sum of P(truths)
"""

import json
import sys

import numba as nb
import numpy as np

CHAINS = 8
SWEEPS = int(sys.argv[1]) if len(sys.argv) > 1 else 6000
WARM = SWEEPS // 10


@nb.njit(cache=True)
def value(f, p, f_start, f_find, kind, weights, pat_start, truths):
    """The weight of factor f where its findings are false with the chances p."""
    a, b = f_start[f], f_start[f + 1]
    if kind[f] == 0:
        q = p[f_find[a]]
        return weights[pat_start[f]] * (1.0 - q) + weights[pat_start[f] + 1] * q
    total = 0.0
    weighed = 0.0
    for k in range(pat_start[f], pat_start[f + 1]):
        chance = 1.0
        for j in range(b - a):
            q = p[f_find[a + j]]
            chance *= (1.0 - q) if truths[k, j] else q
        total += chance
        weighed += chance * weights[k]
    return weighed / total if total > 0.0 else 0.0


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
def chain(seed, sweeps, warm, prior, leak, l_start, l_find, l_z, c_start, c_fact, f_start, f_find,
          kind, weights, pat_start, truths, free, fvals):
    np.random.seed(seed)
    causes, factors = len(prior), len(kind)
    on = np.zeros(causes, np.bool_)
    z = np.zeros(len(leak))
    p = 1.0 - leak
    for c in free:
        if np.random.random() < max(prior[c], 0.1):
            flip(c, on, z, p, leak, l_start, l_find, l_z)
    seen = np.zeros(factors, np.int64)
    mark = np.zeros(factors, np.bool_)
    for f in range(factors):
        fvals[f] = value(f, p, f_start, f_find, kind, weights, pat_start, truths)
    new = np.zeros(factors)
    sums = np.zeros(causes)
    pair = np.zeros(2, np.int64)
    one = np.zeros(1, np.int64)
    for sweep in range(sweeps):
        for c in free:
            one[0] = c
            n = near(one, seen, c_start, c_fact, mark)
            flip(c, on, z, p, leak, l_start, l_find, l_z)
            log = np.log(prior[c] / (1.0 - prior[c])) * (1.0 if on[c] else -1.0)
            for k in range(n):
                f = seen[k]
                new[k] = value(f, p, f_start, f_find, kind, weights, pat_start, truths)
                log += np.log(new[k] + 1e-300) - np.log(fvals[f] + 1e-300)
            flipped = 1.0 / (1.0 + np.exp(-log)) if log > -700 else 0.0
            chance = flipped if on[c] else 1.0 - flipped
            if sweep >= warm:
                sums[c] += chance
            if np.random.random() < flipped:
                for k in range(n):
                    fvals[seen[k]] = new[k]
            else:
                flip(c, on, z, p, leak, l_start, l_find, l_z)
        # Exchanges: one that is present for one that is not.
        for _ in range(60):
            a = free[np.random.randint(len(free))]
            b = free[np.random.randint(len(free))]
            if on[a] == on[b]:
                continue
            pair[0], pair[1] = a, b
            n = near(pair, seen, c_start, c_fact, mark)
            log = 0.0
            for c in pair:
                flip(c, on, z, p, leak, l_start, l_find, l_z)
                log += np.log(prior[c] / (1.0 - prior[c])) * (1.0 if on[c] else -1.0)
            for k in range(n):
                f = seen[k]
                new[k] = value(f, p, f_start, f_find, kind, weights, pat_start, truths)
                log += np.log(new[k] + 1e-300) - np.log(fvals[f] + 1e-300)
            if np.log(np.random.random()) < log:
                for k in range(n):
                    fvals[seen[k]] = new[k]
            else:
                for c in pair:
                    flip(c, on, z, p, leak, l_start, l_find, l_z)
    return sums / (sweeps - warm)


def laid_out(network, evidence):
    prior = np.array(network["priors"], float)
    prior[evidence["impossible"]] = 0.0
    findings = network["findings"]
    leak = np.array([f["leak"] for f in findings], float)
    factors = evidence["factors"]
    f_start, f_find, kind, weights, pat_start, rows = [0], [], [], [], [0], []
    widest = max([len(f[0]) for f in factors if isinstance(f[0], list)] + [1])
    for f in factors:
        if isinstance(f[0], list):
            kind.append(1)
            f_find += f[0]
            for truths, weight in f[1]:
                weights.append(weight)
                rows.append(truths + [0] * (widest - len(truths)))
        else:
            kind.append(0)
            f_find.append(f[0])
            weights += [f[1], f[2]]
            rows += [[0] * widest] * 2
        f_start.append(len(f_find))
        pat_start.append(len(weights))
    used = set(f_find)
    links = [[] for _ in prior]
    for s in used:
        for c, strength in findings[s]["links"]:
            if strength > 0.0:
                links[c].append((s, -np.log(max(1.0 - strength, 1e-12))))
    of = {}
    for f in range(len(kind)):
        for s in f_find[f_start[f]:f_start[f + 1]]:
            of.setdefault(s, []).append(f)
    facts = [sorted({f for s, _ in own for f in of[s]}) for own in links]
    starts = lambda lists: np.cumsum([0] + [len(x) for x in lists])
    return (prior, leak, starts(links), np.array([s for x in links for s, _ in x], np.int64),
            np.array([t for x in links for _, t in x], float), starts(facts),
            np.array([f for x in facts for f in x], np.int64), np.array(f_start),
            np.array(f_find), np.array(kind), np.array(weights, float), np.array(pat_start),
            np.array(rows, np.bool_)), np.flatnonzero(prior > 0.0)


def main():
    with open("evidence.json") as file:
        network = json.load(file)
    out = []
    for index, evidence in enumerate(network["sets"]):
        data, free = laid_out(network, evidence)
        chains = np.array([
            chain(1000 * index + k, SWEEPS, WARM, *data, free, np.zeros(len(data[9])))
            for k in range(CHAINS)])
        mean = chains.mean(axis=0)
        error = chains.std(axis=0, ddof=1) / np.sqrt(CHAINS)
        out.append({"p": [round(float(x), 6) for x in mean], "se": round(float(error.max()), 6)})
        print(index, evidence["answers"], round(float(error.max()), 5), flush=True)
    with open("posteriors.json", "w") as file:
        json.dump({"made_with": f"numpy {np.__version__}, numba {nb.__version__}, {CHAINS} chains of {SWEEPS} "
                   "sweeps", "sets": out}, file)


if __name__ == "__main__":
    main()
