"""Writes second.json: rasters with what scipy.ndimage makes of them.

Run with Python 3.11.2, numpy 1.24.2, scipy 1.10.1:  python3 second.py > second.json
Distances are exact Euclidean ones (distance_transform_edt), labels by 8 and by 4
neighbours (label). Watersheds are floods from the tops that the test uses, level
by level, with grey_dilation; watershed_ift floods by the difference of neighbours
and not by height, which over a distance map is another question.
"""
import json
import sys
import numpy as np
from scipy import ndimage as nd

rng = np.random.default_rng(20)
yy, xx = np.mgrid[0:48, 0:64]

def discs(all):
    out = np.zeros((48, 64), bool)
    for x, y, r in all:
        out |= (xx - x) ** 2 + (yy - y) ** 2 <= r * r
    return out

rasters = {
    "noise": (rng.random((48, 64)) < 0.55, []),
    "sparse": (rng.random((48, 64)) < 0.30, []),
    "two": (discs([(20, 24, 12), (40, 24, 11)]), [(20, 24), (40, 24)]),
    "three": (discs([(17, 14, 10), (37, 14, 11), (27, 31, 10)]), [(17, 14), (37, 14), (27, 31)]),
    "small on large": (discs([(26, 24, 16), (47, 24, 7)]), [(26, 24), (47, 24)]),
    "chain": (discs([(8, 24, 6), (19, 24, 6), (30, 24, 6), (41, 24, 6), (52, 24, 6)]),
              [(8, 24), (19, 24), (30, 24), (41, 24), (52, 24)]),
}
out = []
for name, (set_, tops) in rasters.items():
    edt = nd.distance_transform_edt(set_)
    eight, n8 = nd.label(set_, np.ones((3, 3)))
    four, n4 = nd.label(set_)
    one = {"name": name, "w": 64, "h": 48,
           "set": "".join("1" if v else "0" for v in set_.ravel()),
           "squared": [int(round(float(v) ** 2)) for v in edt.ravel()],
           "eight": [int(v) for v in eight.ravel()], "four": [int(v) for v in four.ravel()]}
    if tops:
        w = np.zeros((48, 64), np.int32)
        for k, (x, y) in enumerate(tops):
            w[y, x] = k + 1
        for level in sorted(set(edt[set_].ravel()), reverse=True):
            while True:
                near = nd.grey_dilation(w, footprint=np.ones((3, 3)))
                grow = (w == 0) & (near > 0) & (edt >= level)
                if not grow.any():
                    break
                w[grow] = near[grow]
        one["tops"] = [list(t) for t in tops]
        one["shed"] = [int(v) for v in w.ravel()]
    out.append(one)
json.dump({"scipy": __import__("scipy").__version__, "numpy": np.__version__, "rasters": out}, sys.stdout, separators=(",", ":"))
