"""Signed curvature (x' y'' - y' x'') / |c'|^3 with the derivatives taken by the
five-point finite differences on numpy samples. Those have no truncation error
on a cubic (Abramowitz and Stegun 25.3.6 and 25.3.24: the remainders hold the
fifth and sixth derivatives), so the step may be large."""

import numpy as np
from bezier import answer, point

STEP = 0.05
FIRST = np.array([1, -8, 0, 8, -1]) / (12 * STEP)
SECOND = np.array([-1, 16, -30, 16, -1]) / (12 * STEP ** 2)


def curvature(segment, t):
    x, y = point(segment, t + STEP * np.arange(-2, 3))
    dx, dy = FIRST @ x, FIRST @ y
    return float((dx * (SECOND @ y) - dy * (SECOND @ x)) / np.hypot(dx, dy) ** 3)


answer(lambda q: [curvature(s, t) for s, t in q["cases"]])
