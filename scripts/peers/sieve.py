"""Fits the three usual laws to the sieve analysis of BenchmarkFitAll
(process/sieve/bench_test.go) with scipy, straight and curved, as FitAll does."""

import sys
import time

import numpy as np
from scipy.optimize import curve_fit
from scipy.special import ndtr

X = np.array([0.004, 0.0028, 0.002, 0.0014, 0.001, 0.0005, 0.00025])
ON = np.array([0, 0.001, 0.02, 0.04, 0.03, 0.02, 0.01, 0.004])
Q = 1 - np.cumsum(ON)[:-1] / ON.sum()
LAWS = [
    lambda x, a, n: 1 - np.exp(-((x / np.exp(a)) ** np.exp(n))),
    lambda x, a, n: np.minimum(1, (x / np.exp(a)) ** np.exp(n)),
    lambda x, a, n: ndtr((np.log(x) - a) / np.exp(n)),
]


def fit():
    good = (Q > 0) & (Q < 1)
    x, q = np.log(X[good]), Q[good]
    np.polyfit(x, np.log(-np.log(1 - q)), 1)
    np.polyfit(x, np.log(q), 1)
    np.polyfit(x, np.log(q / (1 - q)), 1)
    for law in LAWS:
        found, _ = curve_fit(law, X, Q, p0=[np.log(0.0016), 0.2])
    return found


def main():
    rounds = int(sys.argv[1])
    fit()
    began = time.process_time()
    for _ in range(rounds):
        fit()
    print((time.process_time() - began) / rounds, np.exp(fit()[0]))


main()
