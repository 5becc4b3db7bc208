"""The single-zone problem posed to PHREEQC (through phreeqpython): the rate law as a RATES block under KINETICS."""

import numpy as np
from phreeqpython import PhreeqPython

# The rate law's lines are those in the head of tests/reference/chemistry/phreeqc_kinetics_*.csv.
RATES = """
PHASES
Brucite
Mg(OH)2 + 2H+ = Mg+2 + 2H2O
log_k 16.84
delta_h -113.996 kJ
RATES
Bru
-start
10 x = M/PARM(5)
15 IF (M <= 0) THEN GOTO 200
20 A = PARM(1)*1e3*58.3197e-3*M/(x+PARM(4))^(1/3)
30 O = SR("Brucite")
40 IF (O <= 2.5) THEN f = 1-O*O ELSE f = 1-(6.25+5*(O-2.5))
50 r = (PARM(2)*SQRT(ACT("H+"))+PARM(3))*f*A
60 moles = r*TIME
200 SAVE moles
-end
END
"""
WATER_MOL_PER_KG = 1 / 18.01528e-3


class Phreeqc:
    """A loaded PHREEQC with the problem's start state; loading is not part of what is timed."""

    def __init__(self, case):
        self.case = case
        self.phreeqc = PhreeqPython(database="phreeqc.dat")
        self.phreeqc.ip.run_string(RATES)

    def _input(self, method):
        case = self.case
        kinetics = f"""KINETICS 1
Bru
-formula Mg(OH)2 1
-m {{m}}
-m0 {case["n_solid_mol"]!r}
-parms {case["S_eff_m2_per_g"]} {case["k_acid"]!r} {case["k_neut"]!r} {case["eps_x"]} {case["n_solid_mol"]!r}
{method}
-steps 120 in 120 steps
"""
        start = f"""SELECTED_OUTPUT 1
-reset false
USER_PUNCH 1
-headings pH solid t
-start
10 PUNCH -LA("H+"), KIN("Bru"), SIM_TIME
-end
SOLUTION 1
temp {case["T_K"] - 273.15}
-water {case["water_kg_initial"]}
pH 7 charge
EQUILIBRIUM_PHASES 1
Brucite 0 {case["n_solid_mol"]!r}
SAVE solution 1
END
DELETE
-equilibrium_phases 1
END
"""
        dose = f"""USE solution 1
USE kinetics none
REACTION 1
HCl 1
H2O {case["dose_water_kg"] * WATER_MOL_PER_KG / case["dose_HCl_mol"]!r}
{case["dose_HCl_mol"]!r} moles
SAVE solution 1
END
DELETE
-reaction 1
END
"""
        step = """USE solution 1
USE kinetics 1
SAVE solution 1
END
"""
        return start, kinetics, dose, step

    def integrate(self, method):
        """pH at 1, 2 ... 600 s. `method` is the lines of KINETICS that choose the integrator and its tolerance."""
        ip = self.phreeqc.ip
        start, kinetics, dose, step = self._input(method)
        ip.run_string(start)
        dissolved = ip.get_total_element(1, "Mg")  # mol in all
        ip.run_string("INCREMENTAL_REACTIONS true\n" + kinetics.format(m=repr(self.case["n_solid_mol"] - dissolved)) + "END\n")
        ph = []
        for _ in range(5):
            ip.run_string(dose)
            ip.run_string(step)
            table = np.array([row for row in ip.get_selected_output_array()[1:]], dtype=object)
            ph.extend(float(row[0]) for row in table if float(row[2]) > 0)
        return np.array(ph)
