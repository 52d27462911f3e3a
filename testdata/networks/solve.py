#!/usr/bin/env python3
"""Independent answers for small systems. See README.md for what is shared.

    solve.py SYSTEM_DIR...             writes expected.json in each
    solve.py --compare SYSTEM_DIR...   compares with it, writes nothing
    solve.py --gerg-check STATES.csv COMPOSITIONS.csv

Options: --gerg DIR for the constants, --n6 NUMBER for another N6 on Cv.
"""

import argparse
import json
import math
import os
import sys

sys.dont_write_bytecode = True

import gerg2008
import laws
import network
import steady

HERE = os.path.dirname(os.path.abspath(__file__))


def answer(case):
    """One case in the layout of expected.json, and remarks on its quality."""
    prob = steady.Problem(case)
    u, passages = prob.solve()
    where, h, _ = prob.evaluate(u)
    remarks = check_quality(prob, where, h, passages)
    # From two other starting points: the answer must be the same one.
    for weight in (0.1, 0.9):
        v, _ = prob.solve(weight)
        other = prob.unpack(v)
        gap = max(abs(other[n][0] / where[n][0] - 1) for n in case.free)
        remarks["start gap"] = max(remarks.get("start gap", 0.0), gap)
    out = {"nodes": {}, "flows": {}, "lift": {}, "choked": {}}
    for n in sorted([*case.free, *case.vents]):
        arriving = prob.arrivals(n, passages)
        if n in prob.dead:
            out["nodes"][n] = {"pressure_Pa": where[n][0], "state": "dead end"}
        if not arriving:
            continue
        p, T, shares = where[n]
        if T is None:
            T, shares = at_vent(prob, p, arriving, where, h)
        state = "flowing" if n in case.free else "boundary"
        out["nodes"][n] = {"pressure_Pa": p, "temperature_K": T, "state": state}
        if not prob.one_fluid:
            out["nodes"][n]["composition"] = prob.mixture(shares).x
    for e in sorted(prob.sys.elements):
        passage = passages[e.tag]
        out["flows"][e.tag] = passage.flow
        if passage.flow:
            out["choked"][e.tag] = passage.past_choke >= 0
        if passage.lift is not None and case.settings[e.tag]["fault"] is None:
            out["lift"][e.tag] = passage.lift
    return out, remarks


def at_vent(prob, p, arriving, where, h):
    """Temperature and shares of what arrives at a vent, mixed."""
    total = math.fsum(w for w, _ in arriving)
    mixed = math.fsum(w * h[up] for w, up in arriving) / total
    shares = None
    if not prob.one_fluid:
        shares = tuple(math.fsum(w * where[up][2][k] for w, up in arriving) / total
                       for k in range(len(prob.sources)))
    return prob.temperature(p, mixed, shares, where[arriving[0][1]][1]), shares


def check_quality(prob, where, h, passages):
    """Imbalances relative to what passes each node; the smallest pressure ratio x
    of a flowing element; the nearest that one is to its choke or a lift to its ends."""
    worst = {"mass": 0.0, "energy": 0.0, "least x": 1.0, "kink": 1.0}
    for n in prob.dead:
        if any(passages[e.tag].flow for e in prob.sys.elements if n in (e.a, e.b)):
            raise ArithmeticError(f"{prob.case.name}: something flows at {n}")
    for n in prob.free:
        arriving = prob.arrivals(n, passages)
        total = math.fsum(w for w, _ in arriving)
        worst["mass"] = max(worst["mass"], abs(prob.net(n, passages)) / total)
        d = math.fsum(w * (h[up] - h[n]) for w, up in arriving) / total
        worst["energy"] = max(worst["energy"], abs(d) / (1000.0 * where[n][1]))
    for e in prob.sys.elements:
        p = sorted((where[e.a][0], where[e.b][0]))
        if passages[e.tag].flow:
            worst["least x"] = min(worst["least x"], 1 - p[0] / p[1])
        passage = passages[e.tag]
        if passage.flow:
            worst["kink"] = min(worst["kink"], abs(passage.past_choke))
        if prob.case.settings[e.tag]["fault"] or e.kind == "relief" and passage.lift == 0:
            continue
        if passage.lift is not None:
            worst["kink"] = min(worst["kink"], passage.lift, 1 - passage.lift)
    # One unit in the last place of p is a flow error of 1e-16/x: the floor.
    if max(worst["mass"], worst["energy"]) > 1e-12 + 1e-15 / worst["least x"]:
        raise ArithmeticError(f"{prob.sys.name}, {prob.case.name}: {worst}")
    return worst


def compare(found, expected):
    """Largest relative difference by quantity over what `expected` states."""
    worst = {}

    def note(what, got, want):
        if isinstance(want, (bool, str)):
            d = 0.0 if got == want else math.inf
        elif isinstance(want, dict):
            d = max(abs(got[n] - x) for n, x in want.items())
        else:
            d = abs(got - want) / max(abs(want), 1e-300) if want else abs(got)
        worst[what] = max(worst.get(what, 0.0), d)

    for name, case in expected["cases"].items():
        got = found["cases"][name]
        for n, values in case["nodes"].items():
            for k, v in values.items():
                note(k, got["nodes"][n][k], v)
        for group in ("flows", "lift", "choked"):
            for tag, v in case.get(group, {}).items():
                note(group, got[group][tag], v)
    return worst


def main():
    ap = argparse.ArgumentParser(description="independent answers for small systems")
    ap.add_argument("--gerg", default=os.path.join(HERE, "gerg2008"))
    ap.add_argument("--n6", type=float, default=laws.N6_CV)
    ap.add_argument("--compare", action="store_true")
    ap.add_argument("--gerg-check", action="store_true")
    ap.add_argument("paths", nargs="+")
    args = ap.parse_args()
    laws.N6_CV = args.n6
    constants = gerg2008.Constants(args.gerg)
    if args.gerg_check:
        print(*gerg2008.check(constants, *args.paths))
        return 0
    for folder in args.paths:
        system = network.System(os.path.join(folder, "system.tap.hcl"), constants)
        found = {"cases": {}}
        for name in system.case_names():
            found["cases"][name], remarks = answer(system.case(name))
            if not args.compare and (remarks["least x"] < 1e-5 or remarks["kink"] < 0.01):
                raise ArithmeticError(f"{system.name}, {name}: {remarks}: change the scenario")
            print(f"{system.name} | {name}: " +
                  ", ".join(f"{k} {v:.1e}" for k, v in remarks.items()))
        target = os.path.join(folder, "expected.json")
        if args.compare:
            with open(target, encoding="utf-8") as f:
                print(f"{system.name}: largest differences {compare(found, json.load(f))}")
        else:
            with open(target, "w", encoding="utf-8") as f:
                json.dump(found, f, indent=1)
                f.write("\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
