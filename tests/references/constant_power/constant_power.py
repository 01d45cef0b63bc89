"""Constant-power discharges of a pouch cell by the Doyle-Fuller-Newman model, isothermal at 25 degrees C.

pybamm 26.10.1.1 (BSD-3-Clause), pybammsolvers 0.11.1, Python 3.11; parameter set Ai2020, from full to 3.0 V.
Usage: python constant_power.py POWER_W ROWS > constant_power_POWER_W.csv
"""
import sys

import numpy
import pybamm


def discharge(power_w, rows):
    model = pybamm.lithium_ion.DFN()
    values = pybamm.ParameterValues("Ai2020")
    run = pybamm.Experiment([f"Discharge at {power_w} W until 3.0 V (1 second period)"])
    simulation = pybamm.Simulation(model, parameter_values=values, experiment=run)
    solution = simulation.solve(initial_soc=1.0)
    end = solution["Time [s]"].entries[-1]
    for t in numpy.linspace(0.0, end, rows):
        volt = float(solution["Voltage [V]"](t))
        ampere = float(solution["Current [A]"](t))
        milliampere_hour = 1000 * float(solution["Discharge capacity [A.h]"](t))
        yield t, volt, ampere, milliampere_hour


if __name__ == "__main__":
    power_w, rows = float(sys.argv[1]), int(sys.argv[2])
    print("time_s,voltage_V,current_A,delivered_mAh")
    for t, volt, ampere, milliampere_hour in discharge(power_w, rows):
        print(f"{t:.1f},{volt:.4f},{ampere:.4f},{milliampere_hour:.1f}")
