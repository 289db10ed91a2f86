#!/usr/bin/python3
"""Draws blends and solves them with two general-purpose libraries.

    python3 second-library.py > problems.json

needs scipy 1.10 (milp) and glpsol 5.0 on the path. Both optima must agree to
1e-6, else the program stops. The rows for checks.csv go to the error output.
"""
import json, os, subprocess, sys, tempfile
import numpy as np
from scipy.optimize import milp, LinearConstraint, Bounds

rng = np.random.default_rng(20)


def draw(kind, n, limits):
    mass = 1.0 if kind != "big" else 25.0
    p = {"mass": mass, "slack": 0, "most": 0,
         "cost": [round(float(c), 2) for c in rng.uniform(1, 20, n)],
         "stock": [round(float(s) * mass, 3) for s in 0.03 * 30 ** rng.uniform(0, 1, n)],
         "must": [0.0] * n, "least": [0.0] * n, "step": [0.0] * n, "limits": []}
    if "count" in kind:
        p["most"] = int(rng.integers(2, 5))
    if "least" in kind:
        p["least"] = [0.05] * n
    if "steps" in kind:
        p["step"] = [0.02] * n
    if "mixed" in kind:
        p["step"] = [round(float(s), 3) for s in rng.choice([0, 0.013, 0.025, 0.04], n)]
        p["slack"] = 0.01
    if "must" in kind:
        p["must"][3] = min(0.02, p["stock"][3])
    for k in range(limits):
        of = [round(float(a), 3) for a in rng.uniform(0, 1, n) ** 1.5 * [1, 6, 0.1, 50, 2][k % 5]]
        if kind == "tied":  # many equal values, so that corners are degenerate
            of = [round(a, 1) for a in of]
        q = np.quantile(of, [0.1, 0.65] if p["most"] or max(p["step"]) > 0 else [0.15, 0.45])
        lo, hi = (None, round(float(q[1]), 3)) if k % 3 else (round(float(q[0]), 3), round(float(q[1]), 3))
        if kind == "torn" and k == 1:  # the first property once more, from the other side
            of, lo, hi = p["limits"][0]["of"], p["limits"][0]["hi"] * 1.2, None
        p["limits"].append({"of": of, "lo": lo, "hi": hi})
    if kind == "redundant":
        p["limits"].append({"of": [2 * a for a in p["limits"][0]["of"]], "lo": p["limits"][0]["lo"] * 2, "hi": p["limits"][0]["hi"] * 2})
        p["limits"].append({"of": [1.0] * n, "lo": 1.0, "hi": 1.0})
    if kind == "impossible":
        p["limits"][0]["hi"] = min(p["limits"][0]["of"]) / 2
        p["limits"][0]["lo"] = None
    if kind == "short":
        p["stock"] = [0.03] * n
    return p


def matrix(p):
    """Columns: x, then z, then the number of steps of stepped lots. Rows with bounds."""
    n = len(p["cost"])
    stepped = [i for i in range(n) if p["step"][i] > 0]
    w = 2 * n + len(stepped)
    rows, lo, hi = [], [], []

    def row(entries, a, b):
        r = np.zeros(w)
        for j, v in entries:
            r[j] += v
        rows.append(r), lo.append(a), hi.append(b)

    row([(i, 1) for i in range(n)], p["mass"] - p["slack"], p["mass"] + p["slack"])
    for l in p["limits"]:
        if l["hi"] is not None:
            row([(i, l["of"][i] - l["hi"]) for i in range(n)], -np.inf, 0)
        if l["lo"] is not None:
            row([(i, l["of"][i] - l["lo"]) for i in range(n)], 0, np.inf)
    if p["most"]:
        row([(n + i, 1) for i in range(n)], -np.inf, p["most"])
    for i in range(n):
        row([(i, 1), (n + i, -min(p["stock"][i], p["mass"] + p["slack"]))], -np.inf, 0)
        row([(i, 1), (n + i, -max(p["least"][i], p["step"][i]))], 0, np.inf)
    for k, i in enumerate(stepped):
        row([(i, 1), (2 * n + k, -p["step"][i])], 0, 0)
    cost = np.array(p["cost"] + [0.0] * (w - n))
    xlo = np.array(p["must"] + [0.0] * (w - n))
    xhi = np.array(p["stock"] + [1.0] * n + [1e6] * len(stepped))
    kinds = np.array([0] * n + [1] * (w - n))
    return np.array(rows), np.array(lo), np.array(hi), cost, xlo, xhi, kinds


def with_scipy(p):
    a, lo, hi, c, xlo, xhi, kinds = matrix(p)
    r = milp(c, constraints=LinearConstraint(a, lo, hi), bounds=Bounds(xlo, xhi), integrality=kinds, options={"mip_rel_gap": 1e-9})
    return None if r.status == 2 else float(r.fun)


def with_glpsol(p):
    a, lo, hi, c, xlo, xhi, kinds = matrix(p)
    name = lambda j: f"x{j}"
    terms = lambda r: " ".join(f"{v:+.17g} {name(j)}" for j, v in enumerate(r) if v != 0) or f"0 {name(0)}"
    text = ["minimize", terms(c), "subject to"]
    for r, l, h in zip(a, lo, hi):
        if l == h:
            text.append(f"{terms(r)} = {l:.17g}")
            continue
        if np.isfinite(l):
            text.append(f"{terms(r)} >= {l:.17g}")
        if np.isfinite(h):
            text.append(f"{terms(r)} <= {h:.17g}")
    text.append("bounds")
    text += [f"{l:.17g} <= {name(j)} <= {h:.17g}" for j, (l, h) in enumerate(zip(xlo, xhi))]
    text += ["general", " ".join(name(j) for j, k in enumerate(kinds) if k), "end"]
    with tempfile.TemporaryDirectory() as d:
        with open(os.path.join(d, "p.lp"), "w") as f:
            f.write("\n".join(text))
        out = os.path.join(d, "p.out")
        subprocess.run(["glpsol", "--lp", f.name, "--mipgap", "1e-9", "--tmlim", "60", "-w", out], check=True, stdout=subprocess.DEVNULL)
        with open(out) as f:
            head = next(line for line in f if line.startswith("s ")).split()
    status, value = head[4], head[5]
    return None if status in ("n", "i") else float(value) if status == "o" else sys.exit(f"glpsol ended with status {status}")


def main():
    problems = []
    for kind, n, limits in [("plain", 20, 3), ("plain", 40, 6), ("big", 30, 4), ("tied", 20, 3), ("redundant", 20, 3),
                            ("must", 15, 3), ("count", 20, 4), ("count", 30, 5), ("count least", 25, 4), ("steps", 12, 3),
                            ("steps count", 25, 3), ("steps count least", 30, 3), ("mixed", 12, 2), ("mixed count", 14, 2),
                            ("impossible", 10, 3), ("short", 12, 2), ("torn", 12, 3)]:
        p = draw(kind, n, limits)
        a, b = with_scipy(p), with_glpsol(p)
        if (a is None) != (b is None) or a is not None and abs(a - b) > 1e-6 * abs(a):
            sys.exit(f"{kind}: scipy {a}, glpsol {b}")
        p["name"] = kind
        print(f"{len(problems)} {kind}: {a!r}, glpsol {b!r}", file=sys.stderr)
        problems.append(p)
    print("[\n" + ",\n".join(json.dumps(p, separators=(",", ":")) for p in problems) + "\n]")


main()
