"""Open-circuit voltage of three published parameter sets at every 2 % of charge, 25 degrees C.

pybamm 26.10.1.1 (BSD-3-Clause); parameter sets Ai2020 (3.0 to 4.2 V), Chen2020 (2.5 to 4.2 V)
and Prada2013 (2.0 to 3.6 V).
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
    print("state_of_charge,ai2020_V,chen2020_V,prada2013_V")
    a, c, p = curve("Ai2020"), curve("Chen2020"), curve("Prada2013")
    for i in range(51):
        print(f"{i/50:.2f},{a[i]:.4f},{c[i]:.4f},{p[i]:.4f}")
