"""Time the peers on the problems of the benchmark. Prints one JSON object per line, for report.mjs.

    run.py REFERENCE_DIRECTORY      (tests/reference/chemistry)

Each is run once to warm up and then five times; the median counts. What is timed is the integration with output each
second, from a start state that is ready: reading files, loading databases and judging the result are left out.
"""

import json
import platform
import statistics
import sys
import time
from pathlib import Path

import numpy as np
import scipy
import single_zone
import two_zones
from phreeqc import Phreeqc

REPEATS = 5


def timed(work):
    """The result of `work` and the median of its milliseconds."""
    result = work()
    milliseconds = []
    for _ in range(REPEATS):
        # The property tables of two_zones are kept between right-hand sides by temperature; a run must not find those
        # of the run before it.
        two_zones.forget_temperatures()
        started = time.perf_counter()
        result = work()
        milliseconds.append((time.perf_counter() - started) * 1e3)
    return result, statistics.median(milliseconds)


def line(problem, peer, milliseconds, calls, ph, reference):
    """One measured peer, as JSON. `ph` and `reference` are pH at the same times."""
    error = np.abs(ph - reference)
    print(
        json.dumps(
            {
                "problem": problem,
                "who": peer,
                "where": "peer",
                "milliseconds": milliseconds,
                "rightHandSides": calls,
                "maxPhError": float(error.max()),
                "rmsPhError": float(np.sqrt(np.mean(error**2))),
            }
        ),
        flush=True,
    )


def one_beaker(reference):
    """Two zones, heat, five doses in 600 s: the case of traj_21C_room.csv."""
    case, parameters, rows = two_zones.read_case(reference / "traj_21C_room.csv")
    times = np.arange(0.0, 601.0)
    truth = rows["pH_bulk"][np.searchsorted(rows["t_s"], times)]
    start = two_zones.start(case["T0_K"], case["W0_kg"], case["n_solid_mol"], parameters, case["m_ice0_kg"])
    doses = [(t, two_zones.dose_hcl(ml, molar, duration), duration) for t, _, ml, molar, duration in case["dose_list"]]
    for method, rtol in (("LSODA", 1e-6), ("BDF", 1e-6), ("Radau", 1e-6)):
        cost = {}

        def work(method=method, rtol=rtol, cost=cost):
            _, states = two_zones.run(
                start, doses, 600.0, parameters, method, rtol, two_zones.ATOL * 1e2, times, cost
            )
            return states

        states, milliseconds = timed(work)
        line("oneBeaker", f"scipy {method}, rtol {rtol:g}", milliseconds, cost["nfev"], two_zones.pHs(states, parameters), truth)


def one_zone(reference):
    """A single zone without film, five instantaneous doses in 600 s: the case of phreeqc_kinetics_21C.csv."""
    case, rows = single_zone.read_case(reference / "phreeqc_kinetics_21C.csv")
    tight, _ = single_zone.integrate(case, "Radau", 1e-11, single_zone.ATOL)
    truth = single_zone.ph(tight, case)
    for method, rtol in (("LSODA", 1e-6), ("BDF", 1e-6), ("Radau", 1e-6)):
        (states, calls), milliseconds = timed(
            lambda method=method, rtol=rtol: single_zone.integrate(case, method, rtol, single_zone.ATOL * 1e2)
        )
        line("oneZone", f"scipy {method}, rtol {rtol:g}", milliseconds, calls, single_zone.ph(states, case), truth)
    # PHREEQC's own tightest run is its truth: its equations are the same up to the last digits of its constants.
    times = rows["t_s"].astype(int) - 1
    phreeqc = Phreeqc(case)
    for name, method in (
        ("PHREEQC KINETICS, Runge-Kutta 1e-10", "-runge_kutta 3\n-tol 1e-10"),
        ("PHREEQC KINETICS, CVODE 1e-10", "-cvode true\n-tol 1e-10"),
    ):
        ph, milliseconds = timed(lambda method=method: phreeqc.integrate(method))
        line("oneZone", name, milliseconds, None, ph[times], rows["pH_phreeqc"])


if __name__ == "__main__":
    directory = Path(sys.argv[1])
    print(
        json.dumps(
            {"machine": f"Python {platform.python_version()}, scipy {scipy.__version__}, numpy {np.__version__}"}
        )
    )
    one_beaker(directory)
    one_zone(directory)
