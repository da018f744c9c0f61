"""Offset curves from their definition: the points c(t) + d n(t) of each segment,
the distance of a place from a dense polyline of the source (shapely), and the
legs of the mitres at the corners.

GEOS's own parallel curve is no judge here: it first simplifies its input by a
hundredth of the distance (BufferParameters' simplify factor, GEOS manual)."""

import numpy as np
from bezier import answer, dense, hodograph, point
from shapely import LineString, Point, distance, points


def analytic(segment, d):
    t = np.linspace(0.0, 1.0, 41)
    x, y = point(segment, t)
    dx, dy = point(hodograph(segment), t)
    speed = np.hypot(dx, dy)
    return np.column_stack((x - d * dy / speed, y + d * dx / speed))


def unit(segment, t):
    v = np.array(point(hodograph(segment), t), dtype=float)
    return v / np.hypot(*v)


def mitre(before, after, d):
    """The two straight legs over an opening corner; none over a closing one."""
    corner = np.array(after[0])
    u, v = unit(before, 1.0), unit(after, 0.0)
    a, b = corner + d * np.array([-u[1], u[0]]), corner + d * np.array([-v[1], v[0]])
    s, t = np.linalg.solve(np.column_stack((u, v)), b - a)
    return LineString([a, a + s * u, b]) if s > 0 and t > 0 else None


def turns(before, after):
    u, v = unit(before, 1.0), unit(after, 0.0)
    return abs(u[0] * v[1] - u[1] * v[0]) > 1e-6


def judge(chain, d, asked):
    line = LineString(dense(chain, 4000))
    places = np.vstack([analytic(s, d) for s in chain])
    # Where a closing corner trims the offset, the point is nearer than d.
    kept = places[distance(points(places), line) > abs(d) - 1e-4]
    corners = [(a, b) for a, b in zip(chain, chain[1:]) if turns(a, b)]
    legs = [m for a, b in corners if (m := mitre(a, b, d)) is not None]
    off = [min([abs(Point(p).distance(line) - abs(d)), *(m.distance(Point(p)) for m in legs)])
           for p in asked]
    return {"kept": kept.tolist(), "off": off}


answer(lambda q: [judge(*case) for case in q["cases"]])
