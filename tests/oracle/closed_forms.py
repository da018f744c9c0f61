"""Numbers with a closed form or a library of their own: the length of a quarter
ellipse by the complete elliptic integral of the second kind (scipy.special), a
monotone interpolant (scipy.interpolate.PchipInterpolator), winding of points
(shapely)."""

import numpy as np
from bezier import answer, dense
from scipy.interpolate import PchipInterpolator
from scipy.special import ellipe
from shapely import Point, Polygon


def profile(stations, places):
    s, w = np.array(stations).T
    return [float(v) for v in PchipInterpolator(s, w)(places)]


def inside(chain, points):
    polygon = Polygon(dense(chain, 800))
    edge = polygon.exterior
    return [{"inside": bool(polygon.contains(Point(p))), "edge": float(edge.distance(Point(p)))}
            for p in points]


answer(lambda q: {
    "ellipses": [float(a * ellipe(1 - (b / a) ** 2)) for a, b in q.get("ellipses", [])],
    "profiles": [profile(s, p) for s, p in q.get("profiles", [])],
    "inside": [inside(c, p) for c, p in q.get("inside", [])],
})
