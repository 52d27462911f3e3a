"""From the text of one system to its elements, nodes and cases."""

from collections import namedtuple

import gerg2008
import taphcl

Element = namedtuple("Element", "tag kind a b")  # a -> b along the path
Supply = namedtuple("Supply", "p T mixture fractions")

# How each attribute is read: "abs" pressures become absolute, "diff" are
# differences, "ratio" takes a bare number or a percentage.
COMMON = {"service": "text", "note": "text"}
CV = {"cv": "ratio", "xt": "ratio"}
LOADING = {"loading.dome": "text", "loading.ratio": "ratio", "loading.bias": "diff"}
ATTRIBUTES = {
    "valve": {**CV, "opening": "ratio", "state": "text", "either_way": "flag"},
    "filter": CV,
    "analyzer": CV,
    "check_valve": {**CV, "cracks_at": "diff"},
    "reducer": {**CV, **LOADING, "set": "abs", "droop": "diff", "supply_effect": "ratio",
                "reference_inlet": "abs", "lock_up": "diff", "fault": "text"},
    "holder": {**CV, **LOADING, "set": "abs", "accumulation": "diff",
               "outlet_effect": "ratio", "reference_outlet": "abs"},
    "relief": {"set": "abs", "overpressure": "ratio", "orifice": "area", "kd": "ratio",
               "action": "text", "bonnet": "text", "blowdown": "ratio"},
}
DEFAULTS = {
    "xt": 0.7, "opening": 1.0, "state": "open", "cracks_at": 0.0, "supply_effect": 0.0,
    "outlet_effect": 0.0, "ratio": 1.0, "bias": 0.0, "dome": None, "fault": None,
    "bonnet": "discharge", "action": "proportional",
}


def settings(kind, tag, raw, atmosphere):
    """SI settings of one device; names of the nested loading block shortened."""
    out = dict(DEFAULTS, reference_outlet=atmosphere)
    for name, text in raw.items():
        rules = {**COMMON, **ATTRIBUTES[kind]}
        if name not in rules:
            raise ValueError(f"{tag}: attribute {name} is not known here")
        short = name.removeprefix("loading.")
        rule = rules[name]
        if rule in ("text", "flag"):
            out[short] = text
        else:
            out[short] = taphcl.quantity(text, atmosphere if rule == "abs" else None)
    if kind == "relief":
        if out["action"] != "proportional" or out["bonnet"] != "discharge":
            raise ValueError(f"{tag}: only a proportional relief with bonnet to discharge")
        out["beta"] = 1.0
    if out["fault"] not in (None, "wide open"):
        raise ValueError(f"{tag}: only the fault wide open is known here")
    if out["supply_effect"] and "reference_inlet" not in out:
        raise ValueError(f"{tag}: a supply effect needs a reference_inlet")
    return out


class System:
    """The text of a system: what does not change from case to case."""

    def __init__(self, path, constants):
        self.constants = constants
        self.blocks = taphcl.read(path)
        self.name = next(label for kind, label in self.blocks if kind == "system")
        if self.blocks["system", self.name]["attrs"].get("thermal") != "isenthalpic":
            raise ValueError("only thermal = \"isenthalpic\" is solved here")
        self.base = {key: taphcl.flatten(body) for key, body in self.blocks.items()
                     if key[0] not in ("case", "band", "line")}
        self.elements, self.nodes = [], set()
        for (kind, _), body in self.blocks.items():
            if kind == "line":
                path_text = body["attrs"]["path"]
                for p in path_text if isinstance(path_text, list) else [path_text]:
                    self._lay(p)

    def kind_of(self, tag):
        for kind, label in self.base:
            if label == tag and kind in {*ATTRIBUTES, "source", "vent"}:
                return kind
        raise ValueError(f"{tag} stands in a path but has no block")

    def _lay(self, path):
        stops = [s.strip() for s in path.split("->")]
        joins = [s.startswith("(") or self.kind_of(s) in ("source", "vent") for s in stops]
        if not (joins[0] and joins[-1]):
            raise ValueError(f"path must begin and end at a node: {path!r}")
        here = stops[0].strip("()")
        self.nodes.add(here)
        for i, stop in enumerate(stops[1:], 1):
            if joins[i]:
                if joins[i - 1]:
                    raise ValueError(f"two nodes side by side in {path!r}")
                continue
            there = stops[i + 1].strip("()") if joins[i + 1] else stop + ".out"
            self.elements.append(Element(stop, self.kind_of(stop), here, there))
            here = there
            self.nodes.add(here)

    def case_names(self):
        return ["base"] + [label for kind, label in self.blocks if kind == "case"]

    def _layers(self, name):
        if name == "base":
            return []
        body = self.blocks["case", name]
        out = []
        for earlier in body["attrs"].get("after", []):
            out += self._layers(earlier)
        return out + [body]

    def case(self, name):
        blocks = dict(self.base)
        for layer in self._layers(name):
            for kind, labels, body in layer["blocks"]:
                key = (kind, labels[0] if labels else "")
                if key not in blocks:
                    raise ValueError(f"case {name}: {key} is not in the system")
                blocks[key] = taphcl.merge(blocks[key], taphcl.flatten(body))
        return Case(self, name, blocks)


class Case:
    """One case in SI: boundary pressures, supplies, device settings."""

    def __init__(self, system, name, blocks):
        self.system, self.name = system, name
        site = blocks["site", ""]
        if "atmosphere" in site:
            self.atmosphere = taphcl.quantity(site["atmosphere"])
        elif site.get("elevation") == "0 m":
            self.atmosphere = 101325.0  # US Standard Atmosphere 1976 at sea level
        else:
            raise ValueError("state the atmosphere, or elevation 0 m")
        self.supplies, self.vents, self.settings = {}, {}, {}
        for (kind, label), raw in blocks.items():
            if kind == "source":
                fractions = self._fractions(blocks["fluid", raw["fluid"]]["mole_percent"])
                self.supplies[label] = Supply(
                    taphcl.quantity(raw["pressure"], self.atmosphere),
                    taphcl.quantity(raw["temperature"]),
                    gerg2008.Mixture(system.constants, fractions), fractions)
            elif kind == "vent":
                self.vents[label] = taphcl.quantity(raw["pressure"], self.atmosphere)
            elif kind in ATTRIBUTES:
                self.settings[label] = settings(kind, label, raw, self.atmosphere)
        self.free = sorted(system.nodes - set(self.supplies) - set(self.vents))

    @staticmethod
    def _fractions(percent):
        out = {n: v / 100 for n, v in percent.items() if v != "rest"}
        for n, v in percent.items():
            if v == "rest":
                out[n] = 1 - sum(out.values())
        return out
