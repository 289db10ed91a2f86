"""Charges of the mill of BenchmarkRunPlan (process/breakage/bench_test.go), each with another draw of how
it breaks, as somebody with numpy and scipy would write them down."""

import sys
import time

import numpy as np
from scipy.integrate import solve_ivp

PAN = 63e-6
STEPS = int(np.ceil(2 * np.log2(0.30 / PAN) - 1e-9))
UPPER = PAN * 2.0 ** ((STEPS - np.arange(STEPS + 1)) / 2)
LOWER = np.append(UPPER[1:], 0.0)
SIZE = np.append(np.sqrt(UPPER[:-1] * LOWER[:-1]), PAN / 2)
N = len(UPPER)


def feed(mass, largest, typical, thickness):
    """Truncated power law of sizes, half finer than typical."""
    lo, hi = -50.0, 50.0

    def finer(m, x):
        x = np.clip(x, thickness, largest)
        if abs(m) < 1e-9:
            return np.log(x / thickness) / np.log(largest / thickness)
        return ((x / thickness) ** m - 1) / ((largest / thickness) ** m - 1)

    for _ in range(100):
        m = (lo + hi) / 2
        lo, hi = (m, hi) if finer(m, typical) > 0.5 else (lo, m)
    edge = np.array([finer(m, x) if x > thickness else 0.0 for x in LOWER])
    return mass * (np.append(1.0, edge[:-1]) - edge)


def charge(rate, phi, net, seconds):
    """Masses held and passed after a run."""
    s = rate * (SIZE / 0.010) ** 1.1 / (1 + (SIZE / 0.08) ** 3)
    s[-1] = 0
    hole, share, meet = 0.002, 0.2, 0.25
    leave = np.zeros(N)
    for i in range(N):
        if LOWER[i] < hole:
            u, v = LOWER[i] / hole, min(UPPER[i] / hole, 1)
            if LOWER[i] == 0:
                leave[i] = meet * share * (1 - (1 - v) ** 3) / (3 * UPPER[i] / hole)
            else:  # mean of (1 - x/a)^2, even in ln x over the class
                f = lambda x: np.log(x) - 2 * x + x * x / 2
                leave[i] = meet * share * (f(v) - f(u)) / np.log(UPPER[i] / LOWER[i])
    cum = np.zeros((N, N))  # finer than the upper edge of i, of what broke in j
    for j in range(N - 1):
        x = np.minimum(UPPER / LOWER[j], 1)
        cum[:, j] = phi * x**0.9 + (1 - phi) * x**3.5
    b = cum - np.vstack([cum[1:], np.zeros(N)])
    b = np.tril(b, -1)

    def slope(_, y):
        held = y[:N]
        h = held.sum()
        per = net / 0.02 if h < 2e-7 else net * -np.expm1(-h / 0.02) / h
        out, gone = s * per * held, leave * held
        return np.concatenate([b @ out - out - gone, gone])

    start = np.concatenate([feed(0.1, 0.06, 0.03, 0.002), np.zeros(N)])
    return solve_ivp(slope, (0, seconds), start, method="LSODA", rtol=1e-3, atol=1e-7).y[:, -1]


def main():
    draws = int(sys.argv[1])
    chance = np.random.default_rng(1)
    charge(2e-4, 0.35, 250, 180)
    began = time.process_time()
    for _ in range(draws):
        y = charge(2e-4 * np.exp(0.3 * chance.standard_normal()), 0.35, 250, 180)
    took = time.process_time() - began
    y = charge(2e-4, 0.35, 250, 180)
    print(took / draws, y[N:].sum())


main()
