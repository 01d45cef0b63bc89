"""Constant-power discharges of published cells by the Doyle-Fuller-Newman model, isothermal at 25 degrees C.

pybamm 26.10.1.1 (BSD-3-Clause), Python 3.11; from full to the set's own lower voltage limit.
Usage: python cell_rates.py SET POWER_W... > SET.csv (80 rows a power, evenly in time; kept: every second and the last)
"""
import sys

import numpy
import pybamm


def discharge(name, power_w):
    values = pybamm.ParameterValues(name)
    least_v = values["Lower voltage cut-off [V]"]
    run = pybamm.Experiment([f"Discharge at {power_w} W until {least_v} V (1 second period)"])
    simulation = pybamm.Simulation(pybamm.lithium_ion.DFN(), parameter_values=values, experiment=run)
    solution = simulation.solve(initial_soc=1.0)
    for t in numpy.linspace(0.0, solution["Time [s]"].entries[-1], 80):
        volt = float(solution["Voltage [V]"](t))
        ampere = float(solution["Current [A]"](t))
        milliampere_hour = 1000 * float(solution["Discharge capacity [A.h]"](t))
        yield t, volt, ampere, milliampere_hour


def capacity_ah(name):
    """Capacity between the set's voltage limits by its own electrode balance."""
    values = pybamm.ParameterValues(name)
    of = pybamm.LithiumIonParameters()
    solver = pybamm.lithium_ion.ElectrodeSOHSolver(values, of)
    amounts = {
        "Q_n": values.evaluate(of.n.Q_init),
        "Q_p": values.evaluate(of.p.Q_init),
        "Q_Li": values.evaluate(of.Q_Li_particles_init),
    }
    return float(solver.solve(amounts)["Q"])


if __name__ == "__main__":
    name = sys.argv[1]
    print(f"{name}: {capacity_ah(name):.4f} Ah", file=sys.stderr)
    print("power_W,time_s,voltage_V,current_A,delivered_mAh")
    for power_w in map(float, sys.argv[2:]):
        for t, volt, ampere, milliampere_hour in discharge(name, power_w):
            print(f"{power_w},{t:.1f},{volt:.4f},{ampere:.4f},{milliampere_hour:.1f}")
