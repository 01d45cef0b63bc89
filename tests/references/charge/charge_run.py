"""Charges the Ai et al. 2020 pouch cell (Doyle-Fuller-Newman) at constant current, then at 4.2 V down to a twentieth of
the capacity over an hour; writes charge_times.csv. pybamm 26.10.1.1, Python 3.11."""

import csv

import pybamm

CAPACITY_AH = 2.28  # nominal, of the set
CUT_OFF_A = CAPACITY_AH / 20


def run(current_a, start):
    model = pybamm.lithium_ion.DFN()
    parameters = pybamm.ParameterValues("Ai2020")
    experiment = pybamm.Experiment(
        [(f"Charge at {current_a} A until 4.2 V", f"Hold at 4.2 V until {CUT_OFF_A} A")], period="10 seconds"
    )
    simulation = pybamm.Simulation(model, parameter_values=parameters, experiment=experiment)
    return simulation.solve(initial_soc=start)


times = []
for current_a, start in ((1.14, 0.2), (2.28, 0.2), (0.57, 0.2), (1.71, 0.3), (2.28, 0.5)):
    solution = run(current_a, start)
    constant, hold = solution.cycles[0].steps[:2]
    end = lambda step: float(step["Time [s]"].entries[-1])
    begin = float(constant["Time [s]"].entries[0])
    charge = lambda step: -float(step["Discharge capacity [A.h]"].entries[-1]) * 1000
    times.append((current_a, start, end(constant) - begin, end(hold) - begin, charge(constant), charge(hold)))

with open("charge_times.csv", "w", newline="") as file:
    out = csv.writer(file, lineterminator="\n")
    out.writerow(["current_A", "start_state_of_charge", "constant_current_s", "whole_s", "constant_current_mAh", "whole_mAh"])
    out.writerows((a, s, f"{b:.1f}", f"{c:.1f}", f"{d:.2f}", f"{e:.2f}") for a, s, b, c, d, e in times)
