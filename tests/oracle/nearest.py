"""The place of a chain nearest to a point: bounded minimisation of the distance
around the best samples (scipy.optimize.minimize_scalar), polished as a root of
the derivative (brentq)."""

import numpy as np
from bezier import Segment, answer, hodograph, point
from scipy.optimize import brentq, minimize_scalar

SAMPLES = 400


def candidates(segment, p):
    t = np.linspace(0.0, 1.0, SAMPLES + 1)
    x, y = point(segment, t)
    d = np.hypot(x - p[0], y - p[1])
    padded = np.concatenate(([np.inf], d, [np.inf]))
    valleys = np.where((padded[1:-1] <= padded[:-2]) & (padded[1:-1] <= padded[2:]))[0]
    for k in valleys:
        low, high = t[max(k - 1, 0)], t[min(k + 1, SAMPLES)]
        yield lowest(segment, p, low, high)


def lowest(segment, p, low, high):
    def squared(t):
        x, y = point(segment, t)
        return (x - p[0]) ** 2 + (y - p[1]) ** 2

    def slope(t):
        (x, y), (dx, dy) = point(segment, t), point(hodograph(segment), t)
        return (x - p[0]) * dx + (y - p[1]) * dy

    least = minimize_scalar(squared, bounds=(low, high), method="bounded",
                            options={"xatol": 1e-10}).x
    t = min([low, high, least], key=squared)
    # The distance is flat at its least, so that a minimiser knows the place only
    # to the square root of the machine's accuracy; the root of the slope knows it.
    step = 1e-6
    if slope(t - step) < 0 < slope(t + step) and step < t < 1 - step:
        t = brentq(slope, t - step, t + step, xtol=1e-15)
    return squared(t) ** 0.5, t


def nearest(chain, p):
    found = [(*c, i) for i, s in enumerate(chain) for c in candidates(s, p)]
    found.sort()
    distance, t, index = found[0]
    place = point(chain[index], t)
    # The next best place that is not the same point (a joint counts once).
    others = [d for d, u, i in found[1:]
              if np.hypot(*np.subtract(point(chain[i], u), place)) > 1e-3]
    before = sum(Segment(s).length for s in chain[:index])
    return {"distance": distance, "point": [float(c) for c in place],
            "position": before + Segment(chain[index]).length_to(t),
            "runner_up": min(others, default=1e9)}


answer(lambda q: [nearest(c, p) for c, p in q["cases"]])
