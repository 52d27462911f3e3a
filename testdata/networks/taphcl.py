"""Reads the small part of the system language that the networks here use.

A system file becomes plain dicts. Engineering values stay strings until
quantity() turns them into SI. Anything unknown is an error: a silent skip
would make the two sides solve different systems.
"""

import re

PSI = 6894.757293168  # Pa; pound-force per square inch from exact definitions

PRESSURE = {"bar": 1e5, "mbar": 100.0, "kPa": 1e3, "MPa": 1e6, "psi": PSI}
FACTOR = {"mm2": 1e-6, "%": 0.01}

TOKEN = re.compile(r"""
    (?P<skip>[ \t\r]+|\#[^\n]*|//[^\n]*|/\*.*?\*/)
  | (?P<heredoc><<-?(?P<mark>\w+)\n(?P<body>.*?)\n[ \t]*(?P=mark)(?=\n|$))
  | (?P<string>"(?:[^"\\\n]|\\.)*")
  | (?P<number>-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?)
  | (?P<name>[A-Za-z_][A-Za-z0-9_-]*)
  | (?P<newline>\n)
  | (?P<sign>[={}\[\],:])
""", re.X | re.S)


def _tokens(text):
    at, out = 0, []
    while at < len(text):
        m = TOKEN.match(text, at)
        if not m:
            raise ValueError(f"cannot read at {text[at:at + 20]!r}")
        at = m.end()
        if m["skip"] is not None:
            continue
        if m["heredoc"] is not None:
            out.append(("value", m["body"]))
        elif m["string"] is not None:
            out.append(("value", m["string"][1:-1]))
        elif m["number"] is not None:
            out.append(("value", float(m["number"])))
        elif m["name"] is not None:
            out.append(("name", m["name"]))
        else:
            out.append(("sign", "\n" if m["newline"] else m["sign"]))
    return out


class _Reader:
    def __init__(self, text):
        self.toks, self.i = _tokens(text), 0

    def peek(self):
        return self.toks[self.i] if self.i < len(self.toks) else ("end", "")

    def next(self):
        t = self.peek()
        self.i += 1
        return t

    def skip_lines(self):
        while self.peek() == ("sign", "\n"):
            self.i += 1

    def expect(self, sign):
        t = self.next()
        if t != ("sign", sign):
            raise ValueError(f"expected {sign!r}, found {t[1]!r}")

    def value(self):
        kind, v = self.next()
        if kind == "value":
            return v
        if kind == "name":
            return {"true": True, "false": False, "null": None}[v]
        if v == "[":
            out = []
            self.skip_lines()
            while self.peek() != ("sign", "]"):
                out.append(self.value())
                self.skip_lines()
                if self.peek() == ("sign", ","):
                    self.next()
                self.skip_lines()
            self.next()
            return out
        if v == "{":
            out = {}
            self.skip_lines()
            while self.peek() != ("sign", "}"):
                key = self.next()[1]
                self.next()  # "=" or ":"
                out[key] = self.value()
                self.skip_lines()
                if self.peek() == ("sign", ","):
                    self.next()
                self.skip_lines()
            self.next()
            return out
        raise ValueError(f"expected a value, found {v!r}")

    def body(self, top=False):
        """{"attrs": {...}, "blocks": [(type, labels, body), ...]}"""
        attrs, blocks = {}, []
        while True:
            self.skip_lines()
            t = self.peek()
            if t == ("end", "") and top or t == ("sign", "}") and not top:
                self.i += 1
                return {"attrs": attrs, "blocks": blocks}
            kind, name = self.next()
            if kind != "name":
                raise ValueError(f"expected a name, found {name!r}")
            if self.peek() == ("sign", "="):
                self.next()
                if name in attrs:
                    raise ValueError(f"{name} stands twice")
                attrs[name] = self.value()
                continue
            labels = []
            while self.peek()[0] == "value":
                labels.append(self.next()[1])
            self.expect("{")
            blocks.append((name, labels, self.body()))


def read(path):
    """{(type, label or ""): body} of one file; body as _Reader.body gives it."""
    with open(path, encoding="utf-8") as f:
        top = _Reader(f.read()).body(top=True)
    out = {}
    for kind, labels, body in top["blocks"]:
        key = (kind, labels[0] if labels else "")
        if key in out:
            raise ValueError(f"{key} stands twice")
        out[key] = body
    return out


def flatten(body):
    """Attributes of a block, those of a nested block as "nested.name"."""
    out = dict(body["attrs"])
    for kind, _, inner in body["blocks"]:
        for k, v in flatten(inner).items():
            out[f"{kind}.{k}"] = v
    return out


def merge(base, change):
    """Later wins, attribute by attribute; null takes the attribute away."""
    out = dict(base)
    for k, v in change.items():
        if v is None:
            out.pop(k, None)
        else:
            out[k] = v
    return out


def quantity(text, atmosphere=None):
    """SI value of "3.2 barg", "0.3 bar", "20 degC", "12 mm2", "1.5 %".

    A gauge pressure needs the atmosphere [Pa] and comes back absolute; a bare
    pressure unit is a difference.
    """
    if isinstance(text, float):
        return text
    number, unit = text.split()
    v = float(number)
    if unit == "degC":
        return v + 273.15
    if unit in PRESSURE:
        return v * PRESSURE[unit]
    if unit[:-1] in PRESSURE and unit[-1] == "a":
        return v * PRESSURE[unit[:-1]]
    if unit[:-1] in PRESSURE and unit[-1] == "g":
        if atmosphere is None:
            raise ValueError(f"{text}: gauge without an atmosphere")
        return v * PRESSURE[unit[:-1]] + atmosphere
    if unit in FACTOR:
        return v * FACTOR[unit]
    raise ValueError(f"unknown unit in {text!r}")
