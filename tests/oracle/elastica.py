"""The drop of a heavy strip's free end over its length, clamped level at the other:
theta'' = -gamma (1 - s) cos theta, theta(0) = 0, theta'(1) = 0 (theta downwards)."""
import json
import sys

import numpy as np
from scipy.integrate import solve_bvp


def drop(gamma):
    guess = None
    for g in np.linspace(0.1, gamma, 12):
        def slope(s, y):
            return np.vstack([y[1], -g * (1 - s) * np.cos(y[0]), np.sin(y[0])])

        def ends(a, b):
            return np.array([a[0], b[1], a[2]])

        s = np.linspace(0, 1, 201) if guess is None else guess.x
        y = np.zeros((3, s.size)) if guess is None else guess.y
        guess = solve_bvp(slope, ends, s, y, tol=1e-9, max_nodes=100000)
        assert guess.success
    return float(guess.sol(1.0)[2])


json.dump([drop(g) for g in json.load(sys.stdin)], sys.stdout)
