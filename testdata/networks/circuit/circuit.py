"""Networks of valves as circuits for ngspice, and its answers as numbers.

    python3 circuit.py            # runs ngspice, writes answers.json
    python3 circuit.py --netlists # writes NAME.cir beside it and runs nothing

The command is ngspice, or what NGSPICE says.

Voltage is absolute pressure in bar, current is mass flow in g/s. Every valve is a
behavioural current source with the gas law of IEC 60534-2-1 for an ideal gas of
constant temperature. Plain Python 3, standard library only.
"""

import json
import math
import os
import re
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))

# Gas: ideal, mass of air, isothermal. x_c = (gamma/1.4) x_T with gamma = 1.4.
MOLAR_KG, T_K, R = 0.0289652, 293.15, 8.314472
N6 = 27.341  # kg/h, bar, kg/m3, Cv (IEC 60534-2-1)
# w [kg/h] = N6 Cv Y sqrt(x p1 rho1), rho1 = p1 1e5 M/(R T): w = N6 Cv p1 sqrt(1e5 M/(R T)) Y sqrt(x)
PER_CV = N6 / 3.6 * math.sqrt(1e5 * MOLAR_KG / (R * T_K))  # g/s per Cv and bar


def one_way(a, b, cv, xt):
    """The law of flow from a to b, a being the higher. Written out, not as a .func:
    ngspice rounds the numbers of those to ten digits. Below x = 1e-6 the product's
    law is straightened; so is this one, and no network here comes near that."""
    x = f"(({a}-{b})/{a})"
    s = f"({x}/1e-6)"
    root = f"({x} > 1e-6 ? sqrt(abs{x}) : 1e-3*{s}*(45-18*{s}*{s}+5*{s}*{s}*{s}*{s})/32)"
    u = f"({x} < {xt!r} ? {root}*(1-{x}/{3 * xt!r}) : {2 / 3 * math.sqrt(xt)!r})"
    return f"{cv * PER_CV!r}*{a}*{u}"


def valve_law(a, b, cv, xt):
    return f"({a} > {b} ? {one_way(a, b, cv, xt)} : -{one_way(b, a, cv, xt)})"


class Network:
    def __init__(self, name):
        self.name, self.fixed, self.elements, self.start = name, {}, [], None

    def pressure(self, node, bar):
        self.fixed[node] = bar

    def valve(self, a, b, cv, xt=0.7):
        self.elements.append({"from": a, "to": b, "cv": cv, "xt": xt})

    def reducer(self, a, b, cv, set_bar, droop_bar, xt=0.7):
        self.elements.append({"from": a, "to": b, "cv": cv, "xt": xt, "set_bar": set_bar, "droop_bar": droop_bar})

    def nodes(self):
        seen = []
        for e in self.elements:
            for n in (e["from"], e["to"]):
                if n not in seen:
                    seen.append(n)
        return seen

    def netlist(self, start):
        out = [f"* {self.name}: V is bar absolute, I is g/s"]
        for k, (n, p) in enumerate(self.fixed.items()):
            out.append(f"V{k} {n} 0 {p!r}")
        for k, e in enumerate(self.elements):
            a, b = f"V({e['from']})", f"V({e['to']})"
            law = valve_law(a, b, e["cv"], e["xt"])
            if "set_bar" in e:
                z = f"(({e['set_bar']!r}-{b})/{e['droop_bar']!r})"
                law = f"({z} > 1 ? 1 : ({z} > 0 ? {z} : 0))*" + law
            out.append(f"B{k} {e['from']} {e['to']} I={law}")
        free = [n for n in self.nodes() if n not in self.fixed]
        for n in free:
            out.append(f".nodeset V({n})={start[n]!r}")
        out += [".options reltol=1e-12 abstol=1e-13 vntol=1e-12 gmin=1e-30 itl1=2000 itl6=0 numdgt=15",
                ".control", "set numdgt=15", "op"]
        out += [f"print V({n})" for n in free]
        out += ["quit", ".endc", ".end", ""]
        return "\n".join(out)


def spread(net):
    """A start without an answer: falling evenly, in the square of pressure, over
    the number of elements from the highest fixed node."""
    steps, todo = {}, []
    top = max(net.fixed, key=net.fixed.get)
    steps[top] = 0
    todo.append(top)
    for n in todo:
        for e in net.elements:
            for a, b in ((e["from"], e["to"]), (e["to"], e["from"])):
                if a == n and b not in steps:
                    steps[b] = steps[n] + 1
                    todo.append(b)
    last = max(steps.values())
    hi, lo = max(net.fixed.values()), min(net.fixed.values())
    return {n: math.sqrt(hi**2 - (hi**2 - lo**2) * s / (last + 0.5)) for n, s in steps.items()}


def networks():
    n = Network("chain")
    n.pressure("s", 12.0)
    n.pressure("v", 1.013)
    n.valve("s", "a", 0.4)
    n.valve("a", "b", 0.15, 0.65)
    n.valve("b", "c", 0.3, 0.75)
    n.valve("c", "v", 0.08)
    yield n

    n = Network("bridge")  # some legs choked, others not; the cross legs find their own direction
    n.pressure("s", 20.0)
    n.pressure("t", 14.0)
    n.pressure("v", 1.0)
    n.valve("s", "a", 0.20)
    n.valve("t", "b", 0.30)
    n.valve("a", "b", 0.05)
    n.valve("a", "c", 0.10)
    n.valve("b", "d", 0.25)
    n.valve("c", "d", 0.08, 0.6)
    n.valve("c", "e", 0.30)
    n.valve("d", "f", 0.12)
    n.valve("e", "f", 0.02)
    n.valve("e", "v", 0.25)
    n.valve("f", "v", 0.40, 0.75)
    yield n

    n = Network("ladder")  # 20 rungs, 40 unknown pressures
    n.pressure("s", 30.0)
    n.pressure("v", 12.0)
    n.start = {}  # two straight rails
    up, down = "s", "v"
    for k in range(20):
        a, b = f"a{k}", f"b{k}"
        n.valve(up, a, round(0.6 + 0.02 * ((7 * k) % 11), 3))
        n.valve(b, down, round(0.9 + 0.03 * ((5 * k) % 7), 3))
        n.start[a], n.start[b] = 30 - 0.4 * (k + 1), 12 + 0.3 * (k + 1)
        n.valve(a, b, round(0.02 + 0.004 * ((3 * k) % 5), 4))
        up, down = a, b
    n.valve(up, down, 0.05)
    yield n

    n = Network("reducer")  # on its ramp: lift linear in the outlet, into two legs
    n.pressure("s", 80.0)
    n.pressure("v", 1.0)
    n.start = {"i": 79.0, "h": 5.9, "k": 3.0}  # on the ramp, which it does not find by itself
    n.valve("s", "i", 0.02)
    n.reducer("i", "h", 0.2, 6.0, 1.5)
    n.valve("h", "k", 0.05)
    n.valve("k", "v", 0.04)
    n.valve("h", "v", 0.02, 0.72)
    yield n


def answer(net, command, folder):
    # From a start without an answer, then once more from what was found.
    start = net.start or spread(net)
    path = os.path.join(folder, net.name + ".cir")
    for _ in range(2):
        with open(path, "w") as f:
            f.write(net.netlist(start))
        if command is None:
            return
        got = subprocess.run([command, "-b", path], capture_output=True, text=True)
        text = got.stdout + got.stderr
        found = {n: float(v) for n, v in re.findall(r"^v\((\w+)\) = (\S+)$", text, re.M | re.I)}
        if set(found) != set(net.nodes()) - set(net.fixed) or re.search("(?i)no conver|singular|error", text):
            sys.exit(f"{net.name}: ngspice has no answer\n" + text)
        start = found
    return found


def main():
    if "--netlists" in sys.argv:
        for net in networks():
            answer(net, None, HERE)
        return
    out = {"gas": {"molar_mass_kg_mol": MOLAR_KG, "temperature_K": T_K, "gamma": 1.4}, "networks": {}}
    with tempfile.TemporaryDirectory() as folder:
        for net in networks():
            found = answer(net, os.environ.get("NGSPICE", "ngspice"), folder)
            out["networks"][net.name] = {"fixed_bar": net.fixed, "elements": net.elements, "pressure_bar": found}
    with open(os.path.join(HERE, "answers.json"), "w") as f:
        json.dump(out, f, indent=1)
        f.write("\n")


if __name__ == "__main__":
    main()
