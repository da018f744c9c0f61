"""Crossings of two chains: found on dense polylines (shapely), then finished on
the curves by scipy.optimize.root (MINPACK hybrid method)."""

import numpy as np
from bezier import answer, dense, hodograph, point
from scipy.optimize import root
from shapely import LineString, get_coordinates

# Steps of a polyline crowd towards the segment's ends (Chebyshev nodes), so that
# a crossing hard by a joint is not lost between the joint and the first step.
STEPS = 2400
NODES = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, STEPS + 1))


def near(chain, places):
    """Segment index and parameter of the polyline vertex nearest to a place."""
    t = NODES
    best = (np.inf, 0, 0.0)
    for index, segment in enumerate(chain):
        x, y = point(segment, t)
        distance = np.hypot(x - places[0], y - places[1])
        k = int(np.argmin(distance))
        if distance[k] < best[0]:
            best = (distance[k], index, t[k])
    return best[1], best[2]


def refine(a, b, start):
    def gap(v):
        p, q = point(a, v[0]), point(b, v[1])
        return [p[0] - q[0], p[1] - q[1]]

    def slope(v):
        p, q = point(hodograph(a), v[0]), point(hodograph(b), v[1])
        return [[p[0], -q[0]], [p[1], -q[1]]]

    found = root(gap, start, jac=slope, tol=1e-14)
    (t, u), j = found.x, slope(found.x)
    sine = abs(np.linalg.det(j)) / max(1e-300, np.hypot(j[0][0], j[1][0]) * np.hypot(j[0][1], j[1][1]))
    inside = -1e-9 <= t <= 1 + 1e-9 and -1e-9 <= u <= 1 + 1e-9
    if not inside or np.hypot(*gap(found.x)) > 1e-8:
        return None
    return {"point": [float(c) for c in point(a, t)], "sine": float(sine)}


def crossings(first, second):
    lines = [LineString(dense(c, NODES)) for c in (first, second)]
    found = []
    for place in get_coordinates(lines[0].intersection(lines[1])):
        (i, t), (j, u) = near(first, place), near(second, place)
        hit = refine(first[i], second[j], [t, u])
        # The hybrid method may run away to another crossing; keep what stays.
        if hit and np.hypot(hit["point"][0] - place[0], hit["point"][1] - place[1]) < 0.5:
            if all(np.hypot(h["point"][0] - hit["point"][0], h["point"][1] - hit["point"][1]) > 1e-5
                   for h in found):
                found.append(hit)
    return found


answer(lambda q: [crossings(a, b) for a, b in q["pairs"]])
