"""Offset curves: the points c(t) + d n(t) of each segment, and the parallel of
a dense polyline with mitred corners (shapely's offset_curve, GEOS)."""

import numpy as np
from bezier import answer, dense, hodograph, point
from shapely import LineString, get_coordinates


def analytic(segment, distance):
    t = np.linspace(0.0, 1.0, 41)
    x, y = point(segment, t)
    dx, dy = point(hodograph(segment), t)
    speed = np.hypot(dx, dy)
    return np.column_stack((x - distance * dy / speed, y + distance * dx / speed)).tolist()


def parallel(chain, distance):
    line = LineString(dense(chain, 800))
    offset = line.offset_curve(distance, join_style="mitre", mitre_limit=20.0)
    return get_coordinates(offset).tolist()


def measure(chain, distance):
    return {"analytic": [analytic(s, distance) for s in chain],
            "parallel": parallel(chain, distance)}


answer(lambda q: [measure(c, d) for c, d in q["cases"]])
