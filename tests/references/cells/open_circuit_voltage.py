"""Open-circuit voltage of two published parameter sets at every 2 % of charge, 25 degrees C.

pybamm 26.10.1.1 (BSD-3-Clause); parameter sets Ai2020 (3.0 to 4.2 V) and Chen2020 (2.5 to 4.2 V).
State of charge is over the set's own electrode balance between its voltage limits.
"""
import pybamm


def curve(name):
    values = pybamm.ParameterValues(name)
    param = pybamm.LithiumIonParameters()
    solver = pybamm.lithium_ion.ElectrodeSOHSolver(values, param)
    out = []
    for i in range(51):
        soc = i / 50
        x, y = solver.get_initial_stoichiometries(soc)[:2]
        T = 298.15
        un = values.evaluate(param.n.prim.U(pybamm.Scalar(x), pybamm.Scalar(T)))
        up = values.evaluate(param.p.prim.U(pybamm.Scalar(y), pybamm.Scalar(T)))
        out.append(float((up - un).item()))
    return out


if __name__ == "__main__":
    print("state_of_charge,ai2020_V,chen2020_V")
    a, c = curve("Ai2020"), curve("Chen2020")
    for i in range(51):
        print(f"{i/50:.2f},{a[i]:.4f},{c[i]:.4f}")
