#!/usr/bin/env python3
"""The element laws against figures printed elsewhere. Exit status 1 on a miss.

Each figure was seen as a value in the tests of an open general-purpose
fluid-mechanics library which says that it matches the publication; the
publications' own pages were not seen.
"""

import math
import sys

sys.dont_write_bytecode = True

import laws

R = 8314.46261815324  # J/(kmol K)


def rho(p, T, M, Z=1.0):
    return p * M / (Z * R * T)


def rows():
    # API 520 Part I, example of critical vapour flow: 3698 mm2 pass 24270 kg/h.
    at = {"set": 670e3 / 1.1, "overpressure": 0.1, "orifice": 3698e-6, "kd": 0.975, "beta": 1.0}
    up = laws.End(670e3, rho(670e3, 348.0, 51.0, 0.9), 1.11)
    full = laws.relief(at, 0.0, up, laws.End(0.0, math.nan, math.nan))
    yield "API 520 I critical vapour flow, kg/h", full.flow * 3600, 24270.0, 0.002
    # API 520 Part I, subcritical coefficient F2 at k = 1.8, r = 0.7: psi is
    # F2 sqrt(2 (1 - r)).
    psi, _ = laws.relief_psi(1.8, 0.7)
    yield "API 520 I F2", psi / math.sqrt(2 * 0.3), 0.86007, 1e-4
    # Critical ratio at k = 1.40 (isentropic tables): 0.5283.
    _, past = laws.relief_psi(1.4, 0.5)
    yield "critical ratio, k = 1.40", 0.5 / (1 - past), 0.5283, 1e-3
    # IEC 60534-2-1, worked-examples annex, small-flow trim with argon: the
    # turbulent part needs Kv 0.01269 for 0.46 m3/h at 0 degC, 101.325 kPa.
    up = laws.End(280e3, rho(280e3, 320.0, 39.95), 1.67)
    w, _ = laws.coefficient_flow(0.01269 / 0.865, 0.8, up, 130e3)
    normal = rho(101325.0, 273.15, 39.95)
    yield "IEC 60534-2-1 argon, m3/h", w * 3600 / normal, 0.46, 0.002


def main():
    bad = 0
    for what, got, want, tolerance in rows():
        gap = got / want - 1
        bad += abs(gap) > tolerance
        print(f"{what}: {got:.6g}, printed {want:.6g}, {gap:+.1e} (within {tolerance:.0e})")
    return int(bad > 0)


if __name__ == "__main__":
    sys.exit(main())
