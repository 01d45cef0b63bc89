"""Greatest level thrust with one rotor stopped, for every layout, centre of gravity at the centre and off it.

Independent linear programs by scipy's HiGHS (requirements.txt, Python 3.11.7). Writes all_layouts.csv. Arms 1, azimuth
clockwise from the nose, P = +1, N = -1, thrusts 0..1; failed -1 is none.
"""
import csv
from pathlib import Path

import numpy as np
from scipy.optimize import linprog


def layout(first, spins, coaxial=False):
    azimuths = np.radians(first + 360 / len(spins) * np.arange(len(spins)))
    arms = [(np.cos(a), np.sin(a), 1 if s == "P" else -1) for a, s in zip(azimuths, spins)]
    return [r for x, y, s in arms for r in ([(x, y, s), (x, y, -s)] if coaxial else [(x, y, s)])]


LAYOUTS = {
    "quad-cross": layout(45, "PNPN"), "quad-plus": layout(0, "PNPN"),
    "hex-cross": layout(30, "PNPNPN"), "hex-plus": layout(0, "PNPNPN"),
    "hex-cross-alternate": layout(30, "PPNNPN"), "PPNNPP": layout(30, "PPNNPP"),
    "octo-cross": layout(22.5, "PNPNPNPN"), "octo-plus": layout(0, "PNPNPNPN"), "PPNNPPNN": layout(22.5, "PPNNPPNN"),
    "coaxial-tri": layout(60, "PPP", True), "coaxial-quad": layout(45, "PNPN", True),
}
OFFSETS = [(0.0, 0.0), (0.13, -0.07)]


def greatest(rotors, offset, failed, axes):
    m = np.array([(x - offset[0], y - offset[1], s) for i, (x, y, s) in enumerate(rotors) if i != failed]).T
    best = linprog(-np.ones(m.shape[1]), A_eq=m[:axes], b_eq=np.zeros(axes), bounds=(0, 1), method="highs")
    return f"{abs(best.fun) / len(rotors):.9f}"


with open(Path(__file__).parent / "all_layouts.csv", "w", newline="") as file:
    out = csv.writer(file, lineterminator="\n")
    out.writerow(["layout", "forward_over_arm", "right_over_arm", "failed", "turning", "heading_held"])
    for name, rotors in LAYOUTS.items():
        for offset in OFFSETS:
            for failed in range(-1, len(rotors)):
                out.writerow([name, *offset, failed, *(greatest(rotors, offset, failed, axes) for axes in (2, 3))])
