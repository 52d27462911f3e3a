"""GERG-2008 (Kunz & Wagner 2012; ISO 20765-2) from its published constants.

Only what the networks need: density from (T, p), enthalpy, and the ideal-gas
ratio of heat capacities. Inside this file the units are the equation's own
(mol/L, kPa, K, J/mol); the methods of Mixture that the networks call take and
give SI (Pa, kg/m3, J/kg).

The enthalpy zero follows the constants in ideal.csv: h = 0 for each pure ideal
gas at 298.15 K. Only differences of enthalpy are ever used.
"""

import csv
import math
import os


def _rows(folder, name):
    with open(os.path.join(folder, name), newline="", encoding="utf-8") as f:
        return list(csv.DictReader(f))


class Constants:
    """Every table of the equation, keyed by the components' names."""

    def __init__(self, folder):
        values = {r["name"]: float(r["value"]) for r in _rows(folder, "constants.csv")}
        self.R = values["R"]
        self.k = values["R_ideal"] / values["R"]
        self.T0 = values["T_ref"]
        self.order, self.M, self.rho_c, self.T_c = [], {}, {}, {}
        for r in _rows(folder, "components.csv"):
            n = r["name"]
            self.order.append(n)
            self.M[n] = float(r["molar_mass_g_per_mol"])
            self.rho_c[n] = float(r["rho_c_mol_per_L"])
            self.T_c[n] = float(r["T_c_K"])
        self.ideal = {}
        for r in _rows(folder, "ideal.csv"):
            pairs = [(float(r[f"v{q}"]), float(r[f"theta{q}_K"])) for q in (1, 2, 3, 4)]
            h = self.k * (float(r["h_const_K"]) + self.T0) - self.T0
            self.ideal[r["name"]] = (self.k * (float(r["cp0_const"]) - 1), h, pairs)
        self.pure = {n: [] for n in self.order}
        for r in _rows(folder, "residual.csv"):
            self.pure[r["name"]].append(
                (float(r["n"]), float(r["d"]), float(r["t"]), float(r["c"])))
        self.departure = {}
        for r in _rows(folder, "departure.csv"):
            gauss = None
            if r["kind"] == "gauss":
                gauss = tuple(float(r[c]) for c in ("eta", "epsilon", "beta", "gamma"))
            self.departure.setdefault(r["function"], []).append(
                (float(r["n"]), float(r["d"]), float(r["t"]), gauss))
        self.pairs = {}
        for r in _rows(folder, "binary.csv"):
            self.pairs[r["name_i"], r["name_j"]] = (
                float(r["beta_v"]), float(r["gamma_v"]),
                float(r["beta_T"]), float(r["gamma_T"]),
                float(r["F"] or 0), r["departure_function"])


class Mixture:
    """One composition: {component name: mole fraction}, normalised here."""

    def __init__(self, constants, fractions):
        c = self.c = constants
        unknown = sorted(set(fractions) - set(c.order))
        if unknown:
            raise ValueError(f"not GERG-2008 components: {', '.join(unknown)}")
        total = math.fsum(fractions.values())
        self.x = {n: fractions[n] / total for n in c.order if fractions.get(n, 0) > 0}
        self.M = math.fsum(x * c.M[n] for n, x in self.x.items())  # g/mol
        self._reduce()
        # One flat list of (weight * n, d, t, c, gauss): the mixture's terms.
        self.terms = []
        for n, x in self.x.items():
            self.terms += [(x * a, d, t, e, None) for a, d, t, e in c.pure[n]]
        for (i, j), (_, _, _, _, F, name) in c.pairs.items():
            if i in self.x and j in self.x and F:
                w = self.x[i] * self.x[j] * F
                self.terms += [(w * a, d, t, 0.0, g) for a, d, t, g in c.departure[name]]
        self._memo = {}

    def _reduce(self):
        c, x = self.c, self.x
        T = [xi * xi * c.T_c[n] for n, xi in x.items()]
        v = [xi * xi / c.rho_c[n] for n, xi in x.items()]
        for (i, j), (bv, gv, bT, gT, _, _) in c.pairs.items():
            if i not in x or j not in x:
                continue
            xi, xj = x[i], x[j]
            both = 2 * xi * xj * (xi + xj)
            T.append(both * bT * gT / (bT * bT * xi + xj) * math.sqrt(c.T_c[i] * c.T_c[j]))
            cube = (c.rho_c[i] ** (-1 / 3) + c.rho_c[j] ** (-1 / 3)) ** 3
            v.append(both * bv * gv / (bv * bv * xi + xj) * cube / 8)
        self.T_r = math.fsum(T)
        self.rho_r = 1 / math.fsum(v)

    def _residual(self, T, rho):
        """a01, a02 and a10 of the equation at T [K], rho [mol/L]."""
        delta, tau = rho / self.rho_r, self.T_r / T
        ln_delta, ln_tau = math.log(delta), math.log(tau)
        a01, a02, a10 = [], [], []
        for n, d, t, c, gauss in self.terms:
            power = d * ln_delta + t * ln_tau
            if gauss is not None:
                eta, eps, beta, gam = gauss
                power -= eta * (delta - eps) ** 2 + beta * (delta - gam)
                u = eta * delta
                E = d - 2 * u * (delta - eps) - beta * delta
                X = E * E - E - 2 * u * (2 * delta - eps) - beta * delta
            elif c:
                dc = delta ** c
                power -= dc
                g = c * dc
                E = d - g
                X = E * (E - 1) - c * g
            else:
                E = d
                X = d * (d - 1)
            f = n * math.exp(power)
            a01.append(f * E)
            a02.append(f * X)
            a10.append(f * t)
        return math.fsum(a01), math.fsum(a02), math.fsum(a10)

    def _ideal(self, T):
        """I1 = tau alpha0_tau and I2 = tau2 alpha0_tautau at T [K]."""
        I1, I2 = [], []
        k = self.c.k
        for n, x in self.x.items():
            b, h, pairs = self.c.ideal[n]
            S1 = S2 = 0.0
            for q, (v, theta) in enumerate(pairs):
                if not theta:
                    continue
                z = theta / T
                if q % 2 == 0:  # q = 1, 3 of the equation: sinh terms
                    S1 += v * z / math.tanh(z)
                    S2 += v * (z / math.sinh(z)) ** 2
                else:
                    S1 -= v * z * math.tanh(z)
                    S2 += v * (z / math.cosh(z)) ** 2
            I1.append(x * (b + h / T + k * S1))
            I2.append(-x * (b + k * S2))
        return math.fsum(I1), math.fsum(I2)

    def molar_density(self, T, p_kPa):
        """Gas root [mol/L] by Newton from the ideal gas."""
        R = self.c.R
        rho = p_kPa / (R * T)
        for _ in range(100):
            a01, a02, _ = self._residual(T, rho)
            slope = R * T * (1 + 2 * a01 + a02)
            if slope <= 0:
                rho *= 0.5
                continue
            step = (p_kPa - rho * R * T * (1 + a01)) / slope
            step = max(-0.5 * rho, min(0.5 * rho, step))
            rho += step
            if abs(step) <= 1e-15 * rho:
                break
        else:
            if abs(step) > 1e-13 * rho:
                raise ArithmeticError(f"no gas density at {T} K, {p_kPa} kPa")
        return rho

    def molar_enthalpy(self, T, rho):
        a01, _, a10 = self._residual(T, rho)
        return self.c.R * T * (1 + a01 + self._ideal(T)[0] + a10)

    def state(self, p_Pa, T):
        """(density kg/m3, enthalpy J/kg, ideal-gas cp/cv) at p [Pa], T [K]."""
        key = (p_Pa, T)
        if key not in self._memo:
            rho = self.molar_density(T, p_Pa / 1000)
            h = self.molar_enthalpy(T, rho)
            cv0 = -self._ideal(T)[1]  # in units of R
            self._memo[key] = (rho * self.M, h / self.M * 1000, (cv0 + 1) / cv0)
        return self._memo[key]


def check(constants, check_csv, compositions_csv):
    """Largest relative differences against a table of known states."""
    mixtures = {}
    with open(compositions_csv, newline="", encoding="utf-8") as f:
        for r in csv.DictReader(f):
            mixtures[r["composition"]] = Mixture(
                constants, {n: float(r[n]) for n in constants.order})
    worst = {"rho": 0.0, "Z": 0.0, "h/RT": 0.0, "ideal cp": 0.0}
    count = 0
    with open(check_csv, newline="", encoding="utf-8") as f:
        for r in csv.DictReader(f):
            m, T, p = mixtures[r["composition"]], float(r["T_K"]), float(r["p_kPa"])
            rho = m.molar_density(T, p)
            R = constants.R
            count += 1
            worst["rho"] = max(worst["rho"], abs(rho / float(r["rho_mol_per_L"]) - 1))
            worst["Z"] = max(worst["Z"], abs(p / (rho * R * T) / float(r["Z"]) - 1))
            dh = abs(m.molar_enthalpy(T, rho) - float(r["h_J_per_mol"])) / (R * T)
            worst["h/RT"] = max(worst["h/RT"], dh)
            # The table has no ideal heat capacity; d(h0)/dT from the ideal
            # enthalpy tests I2 against I1 instead.
            e = 1e-3
            up, down = ((T + s) * (1 + m._ideal(T + s)[0]) for s in (e, -e))
            cp0 = 1 - m._ideal(T)[1]
            worst["ideal cp"] = max(worst["ideal cp"], abs((up - down) / (2 * e) / cp0 - 1))
    return count, worst
