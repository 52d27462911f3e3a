"""Solves one case: mass and enthalpy balanced at every free node.

Unknowns per free node: p, T, and, where the sources carry different fluids,
the mass shares of all sources but the first. Equations per free node: mass in =
mass out; enthalpy of what arrives, mixed by mass, = enthalpy at the node's own
p and T; the same mixing for each share. What leaves a node carries the node's
enthalpy and composition; an element keeps both (throttling, no heat exchanged).

First an ideal-gas relaxation, node by node with bisection, brings every
regulator into its ramp. What is shut there leaves sections that only one element
still reaches: they pass nothing and stand at the pressure of the node they hang
from, so they leave the unknowns (and are checked in the answer). Then a damped
Newton with a central-difference Jacobian takes the real-gas equations down to
rounding.
"""

import math

import gerg2008
import laws
from laws import End


class Problem:
    def __init__(self, case):
        self.case = case
        self.sys = case.system
        self.free = case.free  # less the dead sections, once these are known
        self.dead = {}  # node -> the node whose pressure it takes
        self.sources = sorted(case.supplies)
        first = case.supplies[self.sources[0]]
        self.one_fluid = all(s.fractions == first.fractions for s in case.supplies.values())
        self.width = 2 if self.one_fluid else 1 + len(self.sources)
        self._mixtures = {}
        self.scale = 1.0  # kg/s, refreshed at each Newton step
        self.h_scale = 1e5  # J/kg

    # -- states -----------------------------------------------------------

    def mixture(self, shares):
        """Blend of the sources by mass shares (None: the one fluid)."""
        if shares is None:
            return self.case.supplies[self.sources[0]].mixture
        if shares not in self._mixtures:
            moles = {}
            for s, share in zip(self.sources, shares):
                supply = self.case.supplies[s]
                for n, x in supply.fractions.items():
                    moles[n] = moles.get(n, 0.0) + share * x / supply.mixture.M
            self._mixtures[shares] = gerg2008.Mixture(self.sys.constants, moles)
        return self._mixtures[shares]

    def unpack(self, u):
        """{node: (p, T, shares)} for all nodes; vents have p only."""
        out = {}
        for i, n in enumerate(self.free):
            v = u[i * self.width:(i + 1) * self.width]
            shares = None if self.one_fluid else (1 - math.fsum(v[2:]), *v[2:])
            out[n] = (v[0], v[1], shares)
        for k, n in enumerate(self.sources):
            s = self.case.supplies[n]
            shares = None if self.one_fluid else tuple(
                float(j == k) for j in range(len(self.sources)))
            out[n] = (s.p, s.T, shares)
        for n, p in self.case.vents.items():
            out[n] = (p, None, None)
        for n, anchor in self.dead.items():
            s = self.case.supplies[self.sources[0]]  # T: never felt, nothing flows
            out[n] = (out[anchor][0], s.T, out[self.sources[0]][2])
        return out

    def end(self, node, where):
        """Law input and enthalpy at a node; a vent is never upstream here."""
        p, T, shares = where[node]
        if T is None:
            return End(p, math.nan, math.nan), math.nan
        rho, h, gamma = self.mixture(shares).state(p, T)
        return End(p, rho, gamma), h

    def passage(self, e, ends, where):
        at, atm = self.case.settings[e.tag], self.case.atmosphere
        a, b = ends[e.a], ends[e.b]
        if e.kind in ("reducer", "holder"):
            dome = at["dome"]
            if dome is not None:
                dome = where[dome.strip("()")][0]
            law = laws.reducer if e.kind == "reducer" else laws.holder
            return law(at, atm, dome, a, b)
        if e.kind == "relief":
            return laws.relief(at, atm, a, b)
        if e.kind == "check_valve":
            return laws.check_valve(at["cv"], at["xt"], at["cracks_at"], a, b)
        cv = 0.0 if at["state"] == "shut" else at["cv"] * at["opening"]
        return laws.valve(cv, at["xt"], a, b)

    # -- equations --------------------------------------------------------

    def evaluate(self, u):
        where = self.unpack(u)
        ends, h = {}, {}
        for n in where:
            ends[n], h[n] = self.end(n, where)
        passages = {e.tag: self.passage(e, ends, where) for e in self.sys.elements}
        return where, h, passages

    def arrivals(self, node, passages):
        """[(flow > 0, upstream node)] of what enters the node."""
        out = []
        for e in self.sys.elements:
            w = passages[e.tag].flow
            if e.b == node and w > 0:
                out.append((w, e.a))
            elif e.a == node and w < 0:
                out.append((-w, e.b))
        return out

    def net(self, node, passages):
        return math.fsum((e.b == node) * passages[e.tag].flow -
                         (e.a == node) * passages[e.tag].flow for e in self.sys.elements)

    def residual(self, u):
        where, h, passages = self.evaluate(u)
        out = []
        for n in self.free:
            arriving = self.arrivals(n, passages)
            total = math.fsum(w for w, _ in arriving)
            out.append(self.net(n, passages) / self.scale)
            mixed = math.fsum(w * (h[up] - h[n]) for w, up in arriving)
            out.append(mixed / (self.scale * self.h_scale))
            for k in range(1, self.width - 1):
                d = math.fsum(w * (where[up][2][k] - where[n][2][k]) for w, up in arriving)
                out.append(d / self.scale)
        return out

    # -- starting point ---------------------------------------------------

    def start(self, weight):
        """Relaxation with ideal gases that mix by mass and keep their temperature.
        `weight` in 0..1 places the first guess between the lowest and the highest
        boundary pressure. Sets the dead sections; gives the first unknowns."""
        self.dead, self.free = {}, self.case.free
        supplies = [self.case.supplies[n] for n in self.sources]
        # Per source: p/rho, gamma, T and the shares; what a node mixes by mass.
        traits = [[8314.472 * s.T / s.mixture.M, s.mixture.state(s.p, s.T)[2], s.T] +
                  [float(j == k) for j in range(len(supplies))][1:]
                  for k, s in enumerate(supplies)]
        mean = [math.fsum(c) / len(traits) for c in zip(*traits)]
        p = {n: s.p for n, s in zip(self.sources, supplies)} | dict(self.case.vents)
        gas = dict(zip(self.sources, traits))
        low, high = min(p.values()), max(p.values())
        for n in self.free:
            p[n] = low ** (1 - weight) * high ** weight

        def passage(e):
            ends = {n: End(p[n], p[n] / gas.get(n, mean)[0], gas.get(n, mean)[1])
                    for n in (e.a, e.b)}
            return self.passage(e, ends, {n: (v, None, None) for n, v in p.items()})

        def net(node):
            return math.fsum(((e.b == node) - (e.a == node)) * passage(e).flow
                             for e in self.sys.elements if node in (e.a, e.b))

        for _ in range(400):
            moved = 0.0
            for n in self.free:
                old, lo, hi = p[n], low, high
                for _ in range(45):
                    p[n] = 0.5 * (lo + hi)
                    lo, hi = (p[n], hi) if net(n) > 0 else (lo, p[n])
                moved = max(moved, abs(p[n] / old - 1))
            passages = {e.tag: passage(e) for e in self.sys.elements}
            for n in self.free:
                arriving = self.arrivals(n, passages)
                total = math.fsum(w for w, _ in arriving)
                if total:
                    gas[n] = [math.fsum(w * gas.get(up, mean)[k] for w, up in arriving) / total
                              for k in range(len(mean))]
            if moved < 1e-7:
                break
        self._set_dead({e for e in self.sys.elements if passages[e.tag].flow == 0})
        u = []
        for n in self.free:
            u += [p[n], gas[n][2]] + ([] if self.one_fluid else gas[n][3:])
        return u

    def _set_dead(self, shut):
        """Takes out the sections that hang on one open element only."""
        live = [e for e in self.sys.elements if e not in shut]
        hangs = {}
        while True:
            found = None
            for n in self.case.free:
                touching = [e for e in live if n in (e.a, e.b)]
                if n not in hangs and not touching:
                    raise ArithmeticError(f"{self.case.name}: {n} is trapped")
                if n not in hangs and len(touching) == 1:
                    found = n, touching[0]
                    break
            if found is None:
                break
            n, e = found
            hangs[n] = e.b if e.a == n else e.a
            live.remove(e)
        self.dead = {}
        for n in hangs:
            anchor = hangs[n]
            while anchor in hangs:
                anchor = hangs[anchor]
            self.dead[n] = anchor
        self.free = [n for n in self.case.free if n not in hangs]

    # -- Newton -----------------------------------------------------------

    def solve(self, weight=0.5):
        """(u, passages): solved to rounding, or ArithmeticError."""
        u = self.start(weight)
        best = None
        for _ in range(80):
            _, _, passages = self.evaluate(u)
            self.scale = max(abs(p.flow) for p in passages.values())
            r = self.residual(u)
            size = max(map(abs, r))
            if best is not None and size < 1e-11 and size >= best[0]:
                break  # at the floor of rounding
            if best is None or size < best[0]:
                best = (size, list(u))
            step = _linear(self.jacobian(u), [-v for v in r])
            # Temperatures by at most 20 K, pressures by at most 20 %.
            t = 1 / max(1.0, *(abs(s) / (0.2 * u[i]) for i, s in enumerate(step)
                               if i % self.width == 0),
                        *(abs(s) / 20.0 for i, s in enumerate(step) if i % self.width == 1))
            for _ in range(30):
                trial = [a + t * s for a, s in zip(u, step)]
                if max(map(abs, self.residual(trial))) < size or size < 1e-11:
                    break
                t *= 0.5
            u = trial
        if best[0] > 1e-11:
            raise ArithmeticError(f"{self.sys.name}, {self.case.name}: residual {best[0]:.1e}")
        return best[1], self.evaluate(best[1])[2]

    def jacobian(self, u):
        columns = []
        for j in range(len(u)):
            d = (1e-7 * u[j], 1e-3, 1e-7)[min(j % self.width, 2)]
            up, down = list(u), list(u)
            up[j] += d
            down[j] -= d
            columns.append([(a - b) / (2 * d)
                            for a, b in zip(self.residual(up), self.residual(down))])
        return [list(row) for row in zip(*columns)]

    def temperature(self, p, h, shares, guess):
        """T at p and h, for the outlets at the vents."""
        m, T = self.mixture(shares), guess
        for _ in range(60):
            h0 = m.state(p, T)[1]
            slope = (m.state(p, T + 0.01)[1] - m.state(p, T - 0.01)[1]) / 0.02
            dT = (h - h0) / slope
            T += dT
            if abs(dT) < 1e-13 * T:
                break
        return T


def _linear(a, b):
    """Gauss elimination with row scaling and partial pivoting."""
    n = len(b)
    m = []
    for row, v in zip(a, b):
        s = max(map(abs, row))
        if s == 0:
            raise ArithmeticError("an equation depends on nothing")
        m.append([x / s for x in row] + [v / s])
    for i in range(n):
        k = max(range(i, n), key=lambda q: abs(m[q][i]))
        if m[k][i] == 0:
            raise ArithmeticError("singular Jacobian")
        m[i], m[k] = m[k], m[i]
        for q in range(i + 1, n):
            f = m[q][i] / m[i][i]
            if f:
                m[q] = [x - f * y for x, y in zip(m[q], m[i])]
    x = [0.0] * n
    for i in reversed(range(n)):
        x[i] = (m[i][n] - math.fsum(m[i][q] * x[q] for q in range(i + 1, n))) / m[i][i]
    return x
