"""Writes levels_expected.json: the hierarchy of learn/levels.rs by numpy (exact) and by the sampler emcee. python3 levels_expected.py"""
import json
import os

import emcee
import numpy as np

TREE, YEAR, KIND_YEAR, TREE_YEAR = 0.18, 0.08, 0.09, 0.12
SITE = [-0.14, 0.2]
KIND_SD = [0.3, 0.45, 0.12, 0.5]
KIND_OF = [0, 0, 0, 1, 1, 2, 3]
# tree, springs ago, residual, sd, weight
SEEN = [[0, 0, 0.22, 0.08, 1.0], [0, 1, 0.30, 0.10, 0.85], [1, 0, 0.05, 0.12, 1.0], [1, 2, 0.18, 0.06, 0.36],
        [3, 0, -0.40, 0.15, 1.0], [3, 1, -0.31, 0.09, 0.85], [5, 1, 0.02, 0.30, 0.85], [5, 2, -0.11, 0.07, 0.72]]


def cov(a, b):
    (t, y), (u, z) = a, b
    k, l = KIND_OF[t], KIND_OF[u]
    return (SITE[1] ** 2 + (k == l) * KIND_SD[k] ** 2 + (y == z) * YEAR**2 + (k == l and y == z) * KIND_YEAR**2
            + (t == u) * TREE**2)


def exact(tree):
    used = [s for s in SEEN if not (s[0] == tree and s[1] == 0)]
    c = np.array([[cov(a[:2], b[:2]) for b in used] for a in used])
    c += np.diag([(s[3] ** 2 + TREE_YEAR**2) / s[4] for s in used])
    x = np.array([cov((tree, 0), s[:2]) for s in used])
    r = np.array([s[2] - SITE[0] for s in used])
    var = cov((tree, 0), (tree, 0)) + TREE_YEAR**2 - x @ np.linalg.solve(c, x)
    return SITE[0] + x @ np.linalg.solve(c, r), np.sqrt(var)


def sampled(tree, rng):
    """The latent effects themselves are sampled, scaled to unit priors; the pace is put together from them."""
    used = [s for s in SEEN if not (s[0] == tree and s[1] == 0)]
    kinds = sorted({KIND_OF[s[0]] for s in used} | {KIND_OF[tree]})
    trees = sorted({s[0] for s in used} | {tree})
    years = sorted({s[1] for s in used} | {0})
    pairs = sorted({(KIND_OF[s[0]], s[1]) for s in used} | {(KIND_OF[tree], 0)})
    n = 1 + len(kinds) + len(trees) + len(years) + len(pairs)
    at_kind, at_tree = 1, 1 + len(kinds)
    at_year = at_tree + len(trees)
    at_pair = at_year + len(years)

    def row(t, y):
        v = np.zeros(n)
        v[0] = SITE[1]
        v[at_kind + kinds.index(KIND_OF[t])] = KIND_SD[KIND_OF[t]]
        v[at_tree + trees.index(t)] = TREE
        v[at_year + years.index(y)] = YEAR
        v[at_pair + pairs.index((KIND_OF[t], y))] = KIND_YEAR
        return v

    a = np.array([row(s[0], s[1]) for s in used])
    r = np.array([s[2] - SITE[0] for s in used])
    w = np.array([s[4] / (s[3] ** 2 + TREE_YEAR**2) for s in used])

    def log_prob(z):
        return -0.5 * np.sum(z * z, axis=-1) - 0.5 * np.sum(w * (r - z @ a.T) ** 2, axis=-1)

    walkers = 4 * n
    sampler = emcee.EnsembleSampler(walkers, n, log_prob, vectorize=True)
    sampler.run_mcmc(0.5 * rng.standard_normal((walkers, n)), 12000)
    chain = sampler.get_chain(discard=2000)
    pace = SITE[0] + chain @ row(tree, 0)
    tau = emcee.autocorr.integrated_time(pace[..., None], quiet=True)[0]
    noise = TREE_YEAR * rng.standard_normal(pace.shape)
    whole = pace + noise
    return whole.mean(), whole.std(), pace.std() / np.sqrt(pace.size / tau)


np.random.seed(1)
rng = np.random.default_rng(1)
e = [exact(t) for t in range(7)]
s = [sampled(t, rng) for t in range(7)]
out = {"numpy": np.__version__, "emcee": emcee.__version__, "site": SITE, "kind_sd": KIND_SD, "kind_of": KIND_OF, "seen": SEEN,
       "exact_mean": [float(x[0]) for x in e], "exact_sd": [float(x[1]) for x in e],
       "sampled_mean": [float(x[0]) for x in s], "sampled_sd": [float(x[1]) for x in s],
       "sampled_error": [float(x[2]) for x in s]}
with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "levels_expected.json"), "w") as f:
    json.dump(out, f, indent=1)
for a, b in zip(e, s):
    print(a, b)
