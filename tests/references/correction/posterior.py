"""The same posterior by scipy.integrate.quad and brentq: Student's t likelihood, normal prior, scale known.

    python3 posterior.py > table.csv        (numpy, scipy: versions in requirements.txt)
"""
import csv
import sys

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.stats import norm, t

CASES = {
    "four_agree": (0.10, 0.04, 4.0, [1.05, 1.07, 1.04, 1.08]),
    "one_wild_in_ten": (0.10, 0.04, 4.0, [1.05, 1.07, 1.04, 1.08, 1.06, 1.05, 1.03, 1.07, 1.06, 1.60]),
    "nine_of_them": (0.10, 0.04, 4.0, [1.05, 1.07, 1.04, 1.08, 1.06, 1.05, 1.03, 1.07, 1.06]),
    "two_camps": (0.05, 0.04, 4.0, [0.90, 0.91, 1.15, 1.16]),
    "single_low": (0.12, 0.04, 4.0, [0.80]),
    "cauchy": (0.10, 0.03, 1.0, [1.02, 1.03, 1.30]),
    "nearly_normal": (0.10, 0.04, 1e9, [1.05, 1.07, 1.04, 1.08]),
}
writer = csv.writer(sys.stdout, lineterminator="\n")
writer.writerow("case prior_spread scale degrees_of_freedom factors q05 q10 median q90 q95".split())
for name, (spread, scale, dof, factors) in CASES.items():
    y = np.log(factors)

    def log_density(theta):
        return norm.logpdf(theta, 0, spread) + t.logpdf((y - theta) / scale, dof).sum()

    grid = np.linspace(-1, 1, 4001)
    peak = max(log_density(theta) for theta in grid)
    density = lambda theta: np.exp(log_density(theta) - peak)
    points = sorted({float(v) for v in np.clip(y, -0.99, 0.99)} | {0.0})
    whole = quad(density, -1, 1, points=points, limit=500, epsabs=1e-13)[0]
    share = lambda theta: quad(density, -1, theta, points=[p for p in points if p < theta] or None, limit=500, epsabs=1e-13)[0] / whole
    quantiles = [np.exp(brentq(lambda theta: share(theta) - q, -0.95, 0.95, xtol=1e-10)) for q in (0.05, 0.1, 0.5, 0.9, 0.95)]
    writer.writerow([name, spread, scale, dof, " ".join(map(str, factors))] + [f"{q:.8f}" for q in quantiles])
