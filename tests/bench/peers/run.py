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
METHODS = ("LSODA", "BDF", "Radau")
RTOL = 1e-6
# Multiples of the reference integration's absolute tolerances. The peers get the loosest that keep LSODA within the
# pH error that the core itself must keep (2e-4 at most; 2e-5 rms): tighter ones would only slow them down.
TWO_ZONES_ATOL = 1e3
ONE_ZONE_ATOL = 1e4


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


def line(**fields):
    """One JSON object on a line of its own."""
    print(json.dumps(fields), flush=True)


def measured(problem, who, milliseconds, right_hand_sides, ph, truth=None):
    """A peer's result: pH at the problem's times. `truth` names what it is judged by, where that is not the problem's."""
    line(
        problem=problem,
        who=who,
        where="peer",
        milliseconds=milliseconds,
        rightHandSides=right_hand_sides,
        ph=list(map(float, ph)),
        truth=truth or problem,
    )


def one_beaker(reference):
    """Two zones, heat, five doses in 600 s: the case of traj_21C_room.csv."""
    case, parameters, rows = two_zones.read_case(reference / "traj_21C_room.csv")
    times = np.arange(0.0, 601.0)
    line(truth="oneBeaker", ph=list(rows["pH_bulk"][np.searchsorted(rows["t_s"], times)]))
    start = two_zones.start(case["T0_K"], case["W0_kg"], case["n_solid_mol"], parameters, case["m_ice0_kg"])
    doses = [(t, two_zones.dose_hcl(ml, molar, duration), duration) for t, _, ml, molar, duration in case["dose_list"]]
    for method in METHODS:
        cost = {}

        def work(method=method, cost=cost):
            atol = two_zones.ATOL * TWO_ZONES_ATOL
            _, states = two_zones.run(start, doses, 600.0, parameters, method, RTOL, atol, times, cost)
            return states

        states, milliseconds = timed(work)
        measured("oneBeaker", f"scipy {method}", milliseconds, cost["nfev"], two_zones.pHs(states, parameters))


def one_zone(reference):
    """A single zone without film, five instantaneous doses in 600 s: the case of phreeqc_kinetics_21C.csv."""
    case, rows = single_zone.read_case(reference / "phreeqc_kinetics_21C.csv")
    tight, _ = single_zone.integrate(case, "Radau", 1e-11, single_zone.ATOL)
    line(truth="oneZone", ph=list(single_zone.ph(tight, case)))
    atol = single_zone.ATOL * ONE_ZONE_ATOL
    for method in METHODS:
        (states, calls), milliseconds = timed(
            lambda method=method: single_zone.integrate(case, method, RTOL, atol)
        )
        measured("oneZone", f"scipy {method}", milliseconds, calls, single_zone.ph(states, case))
    # PHREEQC's own tightest run is its truth: its constants differ in their last digits from ours.
    line(truth="phreeqc", ph=list(rows["pH_phreeqc"]))
    phreeqc = Phreeqc(case)
    for name, method in (
        ("PHREEQC KINETICS, Runge-Kutta 1e-10", "-runge_kutta 3\n-tol 1e-10"),
        ("PHREEQC KINETICS, CVODE 1e-10", "-cvode true\n-tol 1e-10"),
    ):
        ph, milliseconds = timed(lambda method=method: phreeqc.integrate(method))
        measured("oneZone", name, milliseconds, None, ph, truth="phreeqc")


if __name__ == "__main__":
    directory = Path(sys.argv[1])
    line(machine=f"Python {platform.python_version()}, scipy {scipy.__version__}, numpy {np.__version__}")
    one_beaker(directory)
    one_zone(directory)
