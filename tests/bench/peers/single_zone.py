"""One well-mixed zone without a film around the grains, isothermal: the problem that PHREEQC can pose as well.

State: acid excess E, mol; chloride, mol; solid, mol; water, kg. The equations are those of two_zones.py with one zone
and no film. They describe the runs of tests/reference/chemistry/phreeqc_kinetics_*.csv.
"""

import json

import numpy as np
from chem import M_BRU, equil, speciate, th
from scipy.integrate import solve_ivp

ATOL = np.array([1e-14, 1e-12, 1e-13, 1e-12])
WATER_KG_PER_MOL = 18.01528e-3


def read_case(path):
    """The parameters in the second line of a phreeqc_kinetics file, and its columns by name."""
    with open(path, encoding="utf-8") as file:
        lines = file.read().splitlines()
    case = json.loads(lines[1].lstrip("# "))
    names, *rows = [line.split(",") for line in lines if line and not line.startswith("#")]
    return case, dict(zip(names, np.array(rows, dtype=float).T))


def state_of(y, constants):
    """Speciation of a state."""
    excess, chloride, _, water = y
    return speciate(excess / water, chloride / water, 0.0, (chloride - excess) / 2 / water, constants)


def bound_hydroxide(y, constants):
    """OH- and MgOH+, mol: what an instantaneous dose of acid makes water of."""
    s = state_of(y, constants)
    return (s.oh + s.mgoh) * y[3]


def right_hand_side(_t, y, case, constants):
    """Amounts per second."""
    s = state_of(y, constants)
    solid = max(y[2], 0.0)
    share = solid / case["n_solid_mol"]
    area = case["S_eff_m2_per_g"] * 1e3 * M_BRU * solid / (share + case["eps_x"]) ** (1 / 3)
    if s.Om <= case["Om1"]:
        affinity = 1 - s.Om**2
    else:
        affinity = 1 - (case["Om1"] ** 2 + 2 * case["Om1"] * (s.Om - case["Om1"]))
    rate = (case["k_acid"] * np.sqrt(s.aH) + case["k_neut"]) * affinity * area
    # Each mole of solid takes two of acid and sets two of water free, less what H+ + OH- made or took.
    neutralised = s.dohdE * 2 * rate
    return [-2 * rate, 0.0, -rate, WATER_KG_PER_MOL * (2 * rate + neutralised)]


def integrate(case, method, rtol, atol):
    """Five instantaneous doses 120 s apart. Gives states at 1, 2 ... 600 s and the right-hand sides it took."""
    constants = th(case["T_K"])
    _, dissolved = equil(case["T_K"], case["water_kg_initial"], 0, 0, case["n_solid_mol"])
    y = np.array([-2 * dissolved, 0.0, case["n_solid_mol"] - dissolved, case["water_kg_initial"]])
    states, calls = [], 0
    for dose in range(5):
        before = bound_hydroxide(y, constants)
        y = y + [case["dose_HCl_mol"], case["dose_HCl_mol"], 0.0, case["dose_water_kg"]]
        after = bound_hydroxide(y, constants)
        y[3] += WATER_KG_PER_MOL * (before - after)
        run = solve_ivp(
            right_hand_side,
            (0, 120),
            y,
            method=method,
            t_eval=np.arange(1.0, 121.0),
            rtol=rtol,
            atol=atol,
            args=(case, constants),
            first_step=1e-3,
        )
        if not run.success:
            raise RuntimeError(f"{method}, dose {dose + 1}: {run.message}")
        calls += run.nfev
        states.append(run.y.T)
        y = run.y[:, -1].copy()
    return np.vstack(states), calls


def ph(states, case):
    """pH of each state."""
    constants = th(case["T_K"])
    return np.array([state_of(y, constants).pH for y in states])
