"""Lays looked at by shapely from the true cut lines, not from the polygons they were placed
by: the area two pieces share, and how far a piece reaches outside the cloth.

Curves are taken at so many places that a chord is off by less than a hundredth of a
millimetre; what lies beyond the fold is the other half of the same piece."""

from itertools import combinations

from bezier import answer, dense
from shapely import Polygon, box


def judge(lay):
    low, high, length = lay["low"], lay["high"], lay["length"]
    shapes = []
    for part in lay["parts"]:
        shape = Polygon(dense(part["cut"], 60))
        if part["on_fold"]:
            shape = shape.intersection(box(-1e6, 0.0, 1e6, 1e6))
        shapes.append((shape, part["on_fold"]))
    over = max((a[0].intersection(b[0]).area for a, b in combinations(shapes, 2)), default=0.0)
    near = min((a[0].distance(b[0]) for a, b in combinations(shapes, 2)), default=1e9)
    outside = 0.0
    for shape, on_fold in shapes:
        x0, y0, x1, y1 = shape.bounds
        outside = max(outside, -x0, (0.0 if on_fold else low) - y0, y1 - high, x1 - length)
    return {"over": over, "near": near, "outside": outside,
            "valid": all(s.is_valid for s, _ in shapes),
            "area": sum(s.area * (2 if f else 1) for s, f in shapes)}


answer(lambda q: [judge(lay) for lay in q["lays"]])
