"""Cut lines from their definition: the places c(t) + w(s) n(t) of each seam, n the unit
normal away from the piece, and their distance from the cut line as shapely measures it;
shapely's own word on whether the cut line is simple and goes round the sew line.

GEOS's own parallel curve is no judge of a line to 0.05 mm: see offsets.py."""

import numpy as np
from bezier import Segment, answer, dense, hodograph, point
from shapely import LineString, Polygon, distance, points


def places(part, before, whole, widths, outwards):
    """Places of the cut line along one part of a seam, away from its ends."""
    lengths = [Segment(s).length for s in part]
    most, found, at = max(widths), [], 0.0
    for segment, length in zip(part, lengths):
        for t in np.linspace(0.0, 1.0, 13):
            s = at + Segment(segment).length_to(t)
            # Beside a corner the line is cut for how it is sewn.
            if not 1.5 * most + 5.0 < s < sum(lengths) - 1.5 * most - 5.0:
                continue
            u = (before + s) / whole
            width = widths[0] + (widths[1] - widths[0]) * u * u * (3.0 - 2.0 * u)
            (x, y), (dx, dy) = point(segment, t), point(hodograph(segment), t)
            speed = np.hypot(dx, dy)
            found.append((x + outwards * width * dy / speed, y - outwards * width * dx / speed))
        at += length
    return found, sum(lengths)


def judge(piece):
    sew = Polygon(dense([s for seam in piece["seams"] for part in seam["parts"] for s in part], 60))
    ring = dense(piece["cut"], 400)
    outwards = 1.0 if sew.exterior.is_ccw else -1.0
    off, line, cut = [], LineString(ring), Polygon(ring)
    for seam in piece["seams"]:
        if seam["left_on"]:
            continue  # cloth is left on beyond the allowance there
        whole, before = seam["length"], 0.0
        for part in seam["parts"]:
            found, length = places(part, before, whole, seam["widths"], outwards)
            before += length
            if found:
                off += distance(points(np.array(found)), line).tolist()
    return {"off": off, "simple": bool(cut.is_valid), "round": bool(cut.buffer(0.05).covers(sew)),
            "area": cut.area}


answer(lambda q: [judge(piece) for piece in q["pieces"]])
