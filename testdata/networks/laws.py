"""The element laws of the networks: mass flow from the two ends' states.

Sources: IEC 60534-2-1:2011 (gas flow through a flow coefficient), ISO 4126-1
(relief discharge). The regulator ramps are linear force balances of our own
wording. Each law returns a Passage: `flow` positive along the path [kg/s], `lift`
0..1 or None, `past_choke` how far beyond (positive: choked) or short of the choke
the pressures are, relative to the critical ratio, None where nothing flows. End
states carry p [Pa], rho [kg/m3], gamma (ideal gas).
"""

import math
from collections import namedtuple

from taphcl import PSI

N6_CV = 27.341  # kg/h, bar, kg/m3 on Cv: IEC 60534-2-1's N6 for Kv times 0.865
BAR = 1e5
X_LINEAR = 1e-6  # below this pressure ratio the square root is replaced
CHECK_BAND = 0.02 * BAR  # between cracking and fully open; not met here

End = namedtuple("End", "p rho gamma")
Passage = namedtuple("Passage", "flow lift past_choke")
SHUT = Passage(0.0, None, None)


def root_x(x):
    """sqrt(x), below X_LINEAR an odd polynomial through the origin."""
    if x >= X_LINEAR:
        return math.sqrt(x)
    s = x / X_LINEAR
    return math.sqrt(X_LINEAR) * (5 * s - s ** 3) / 4


def coefficient_flow(cv, x_t, up, p_down):
    """IEC 60534-2-1 gas flow [kg/s] and x/x_c - 1."""
    x = (up.p - p_down) / up.p
    x_c = up.gamma / 1.4 * x_t
    x_s = min(x, x_c)
    Y = 1 - x_s / (3 * x_c)
    w = N6_CV * cv * Y * root_x(x_s) * math.sqrt(up.p / BAR * up.rho)
    return w / 3600, x / x_c - 1


def valve(cv, x_t, a, b):
    """Either way: the end of higher pressure is upstream."""
    if cv == 0:
        return SHUT
    if a.p >= b.p:
        w, past = coefficient_flow(cv, x_t, a, b.p)
        return Passage(w, None, past)
    w, past = coefficient_flow(cv, x_t, b, a.p)
    return Passage(-w, None, past)


def check_valve(cv, x_t, cracks_at, a, b):
    share = min(max((a.p - b.p - cracks_at) / CHECK_BAND, 0.0), 1.0)
    if share == 0:
        return SHUT
    w, past = coefficient_flow(cv, x_t, a, b.p)
    return Passage(share * w, None, past)


def _ramp(lift, cv, x_t, a, b):
    if lift == 0 or a.p <= b.p:  # one-way
        return Passage(0.0, lift, None)
    w, past = coefficient_flow(cv * lift, x_t, a, b.p)
    return Passage(w, lift, past)


def loading(at, atmosphere, dome_p):
    """Load without supply or outlet effect [Pa absolute]: spring or dome."""
    if dome_p is None:
        return at["set"]
    r = at["ratio"]
    return r * dome_p + (1 - r) * atmosphere + at["bias"]


def reducer(at, atmosphere, dome_p, a, b):
    """y = (P_o - p_out)/droop, P_o = load + S (p_in,ref - p_in)."""
    if at["fault"] == "wide open":
        return _ramp(1.0, at["cv"], at["xt"], a, b)
    onset = loading(at, atmosphere, dome_p)
    if at["supply_effect"]:
        onset += at["supply_effect"] * (at["reference_inlet"] - a.p)
    lift = min(max((onset - b.p) / at["droop"], 0.0), 1.0)
    return _ramp(lift, at["cv"], at["xt"], a, b)


def holder(at, atmosphere, dome_p, a, b):
    """y = (p_in - P_L')/accumulation, P_L' = load - B (p_out - p_out,ref)."""
    onset = loading(at, atmosphere, dome_p)
    if at["outlet_effect"]:
        onset -= at["outlet_effect"] * (b.p - at["reference_outlet"])
    lift = min(max((a.p - onset) / at["accumulation"], 0.0), 1.0)
    return _ramp(lift, at["cv"], at["xt"], a, b)


def relief_psi(k, ratio):
    """ISO 4126-1 discharge function of k and p_out/p_in, and 1 - ratio/critical."""
    critical = (2 / (k + 1)) ** (k / (k - 1))
    past = 1 - ratio / critical
    if past >= 0:
        return math.sqrt(k * (2 / (k + 1)) ** ((k + 1) / (k - 1))), past
    return math.sqrt(2 * k / (k - 1) * (ratio ** (2 / k) - ratio ** ((k + 1) / k))), past


def relief(at, atmosphere, a, b):
    """Proportional relief. p1 sqrt(M/(Z R T1)) is sqrt(p1 rho1)."""
    gauge_set = at["set"] - atmosphere
    full = max(at["overpressure"] * gauge_set, 3 * PSI)
    opening = gauge_set + at["beta"] * (b.p - atmosphere)
    lift = min(max((a.p - atmosphere - opening) / full, 0.0), 1.0)
    if lift == 0 or a.p <= b.p:
        return Passage(0.0, lift, None)
    psi, past = relief_psi(a.gamma, b.p / a.p)
    w = lift * at["kd"] * at["orifice"] * math.sqrt(a.p * a.rho) * psi
    return Passage(w, lift, past)
