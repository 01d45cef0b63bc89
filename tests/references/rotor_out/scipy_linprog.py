"""Greatest level thrust with one rotor stopped, over full thrust, by scipy's HiGHS. scipy 1.17.1, numpy 2.4.6, Python 3.11."""
import numpy as np
from scipy.optimize import linprog

def layout(first, spins, coaxial=False):
    az = np.radians(first + 360 / len(spins) * np.arange(len(spins)))
    arms = [(np.cos(a), np.sin(a), 1 if s == "P" else -1) for a, s in zip(az, spins)]
    return [r for x, y, s in arms for r in ([(x, y, s), (x, y, -s)] if coaxial else [(x, y, s)])]

LAYOUTS = {"quad-cross": layout(45, "PNPN"), "hex-cross": layout(30, "PNPNPN"),
           "hex-cross-alternate": layout(30, "PPNNPN"), "octo-cross": layout(22.5, "PNPNPNPN"),
           "coaxial-quad": layout(45, "PNPN", True)}

for name, rotors in LAYOUTS.items():
    n = len(rotors)
    for failed in range(n):
        m = np.array([r for i, r in enumerate(rotors) if i != failed]).T
        best = [-linprog(-np.ones(n - 1), A_eq=m[:k], b_eq=np.zeros(k), bounds=(0, 1)).fun / n for k in (2, 3)]
        print(f"{name},{failed},{best[0]:.6f},{best[1]:.6f}")
