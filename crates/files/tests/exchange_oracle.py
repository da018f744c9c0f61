"""DXF read, audited and written by ezdxf, as other people's tools would.

Reads a job (JSON) from the file named on the command line and prints its
findings as JSON. Lengths are in the file's own units.
"""

import json
import logging
import math
import sys

import ezdxf
import numpy
import pypdfium2
from ezdxf import path as ezpath
from ezdxf.lldxf.encoding import decode_dxf_unicode
from PIL import Image


def length_of(path):
    """Length of an ezdxf path; curves by Gauss-Legendre quadrature of the speed."""
    nodes, weights = numpy.polynomial.legendre.leggauss(48)
    total, start = 0.0, path.start
    for command in path.commands():
        if command.type == ezpath.Command.LINE_TO:
            total += start.distance(command.end)
        elif command.type == ezpath.Command.CURVE4_TO:
            p = [start, command.ctrl1, command.ctrl2, command.end]
            for half in range(8):
                a, b = half / 8, (half + 1) / 8
                for node, weight in zip(nodes, weights):
                    t = (a + b) / 2 + (b - a) / 2 * node
                    d = [3 * (p[i + 1] - p[i]) for i in range(3)]
                    v = d[0] * (1 - t) ** 2 + d[1] * (2 * t * (1 - t)) + d[2] * t**2
                    total += weight * (b - a) / 2 * v.magnitude
        else:
            raise SystemExit(f"unexpected {command}")
        start = command.end
    return total


def audit(job):
    complaints = []

    class Listen(logging.Handler):
        def emit(self, record):
            if record.levelno >= logging.WARNING:
                complaints.append(record.getMessage())

    listen = Listen()
    logging.getLogger("ezdxf").addHandler(listen)
    document = ezdxf.readfile(job["path"])
    logging.getLogger("ezdxf").removeHandler(listen)
    auditor = document.audit()
    found = {
        "errors": [str(e.message) for e in auditor.errors],
        "fixes": [str(e.message) for e in auditor.fixes],
        "complaints": complaints,
        "insunits": document.header.get("$INSUNITS"),
        "measurement": document.header.get("$MEASUREMENT"),
        "version": document.dxfversion,
        "blocks": {},
        "model": {},
        "text": [],
    }

    def lengths(layout, into):
        for entity in layout:
            if entity.dxftype() in ("LINE", "POLYLINE", "LWPOLYLINE", "SPLINE"):
                into.setdefault(entity.dxf.layer, []).append(length_of(ezpath.make_path(entity)))
            if entity.dxftype() == "TEXT":
                found["text"].append(decode_dxf_unicode(entity.dxf.text))

    for block in document.blocks:
        if not block.name.startswith("*"):
            lengths(block, found["blocks"].setdefault(block.name, {}))
    lengths(document.modelspace(), found["model"])
    found["inserts"] = [e.dxf.name for e in document.modelspace().query("INSERT")]
    return found


def write(job):
    """A drawing of one kind; returns the length of its outline in mm."""
    document = ezdxf.new(job.get("version", "R2010"))
    document.header["$INSUNITS"] = job["insunits"]
    scale = job["scale"]  # file units in a mm
    space = document.modelspace()
    kind = job["kind"]

    def at(x, y):
        return (x * scale, y * scale)

    if kind == "stadium":
        # Two straight sides and two half circles, as ARC and LINE in no order.
        w, r = 300.0, 80.0
        space.add_line(at(w, 0), at(0, 0))
        space.add_arc(at(w, r), r * scale, -90, 90)
        space.add_line(at(0, 2 * r), at(w, 2 * r))
        space.add_arc(at(0, r), r * scale, 90, 270)
        expected = 2 * w + 2 * math.pi * r
    elif kind == "bulges":
        # A square whose sides bulge by a quarter circle each: a circle about it.
        side = 200.0
        bulge = math.tan(math.radians(90) / 4)
        points = [(0, 0), (side, 0), (side, side), (0, side)]
        space.add_lwpolyline([(*at(*p), bulge) for p in points], format="xyb", close=True)
        expected = 2 * math.pi * side / math.sqrt(2)
    elif kind == "polyline bulges":
        side = 200.0
        points = [(0, 0, 0.3), (side, 0, -0.2), (side, side, 0), (0, side, 1.2)]
        line = space.add_polyline2d(
            [(*at(x, y), b) for x, y, b in points], format="xyb", close=True
        )
        expected = 0.0
        for i, (x, y, b) in enumerate(points):
            nx, ny, _ = points[(i + 1) % 4]
            chord = math.hypot(nx - x, ny - y)
            angle = 4 * math.atan(abs(b))
            expected += chord if b == 0 else angle * chord / (2 * math.sin(angle / 2))
        assert line.is_closed
    elif kind == "circle":
        space.add_circle(at(40, 50), 120 * scale)
        expected = 2 * math.pi * 120
    elif kind == "ellipse":
        space.add_ellipse(at(10, -20), major_axis=at(200, 100), ratio=0.4)
        a = math.hypot(200, 100)
        expected = _ellipse(a, 0.4 * a)
    elif kind == "spline":
        points = [(0, 0), (100, -60), (260, 40), (300, 200), (180, 330), (-60, 260), (0, 0)]
        spline = space.add_open_spline([(*at(*p), 0) for p in points], degree=3)
        expected = _spline_length(spline) / scale
    elif kind == "rational":
        # A full circle as a rational quadratic spline.
        from ezdxf.math import rational_bspline_from_arc

        curve = rational_bspline_from_arc((0, 0), 150 * scale, 0, 360)
        space.add_spline().apply_construction_tool(curve)
        expected = 2 * math.pi * 150
    elif kind == "nested":
        # A rectangle in a block in a block, scaled, turned and mirrored.
        inner = document.blocks.new("inner", base_point=at(10, 10))
        inner.add_lwpolyline([at(*p) for p in [(0, 0), (100, 0), (100, 60), (0, 60)]], close=True)
        outer = document.blocks.new("outer")
        outer.add_blockref("inner", at(50, 20), dxfattribs={
            "xscale": 2.0, "yscale": 3.0, "rotation": 30.0})
        space.add_blockref("outer", at(-40, 70), dxfattribs={
            "xscale": -1.5, "yscale": 1.5, "rotation": 15.0})
        expected = 1.5 * 2 * (200 + 180)
    elif kind == "arc nested":
        # A half disc scaled unevenly: a half ellipse and its chord.
        inner = document.blocks.new("disc")
        inner.add_arc((0, 0), 50 * scale, 0, 180)
        inner.add_line(at(-50, 0), at(50, 0))
        space.add_blockref("disc", at(5, 5), dxfattribs={"xscale": 4.0, "yscale": 2.0})
        expected = _ellipse(200, 100) / 2 + 400
    else:
        raise SystemExit(kind)
    document.saveas(job["path"])
    return expected


def _ellipse(a, b):
    """Length of an ellipse by quadrature: the trapezium rule on a period."""
    n = 20000
    t = numpy.arange(n) * 2 * math.pi / n
    return float(numpy.hypot(a * numpy.sin(t), b * numpy.cos(t)).sum() * 2 * math.pi / n)


def _spline_length(spline):
    parts = spline.construction_tool().bezier_decomposition()
    return sum(length_of(_bezier_path(part)) for part in parts)


def _bezier_path(points):
    path = ezpath.Path(points[0])
    path.curve4_to(points[3], points[1], points[2])
    return path


def compare(job):
    """Share of the ink of each picture that has ink of the other nearby."""
    page = pypdfium2.PdfDocument(job["pdf"])[0]
    rendered = page.render(scale=job["dpi"] / 72, grayscale=True)
    pdf = 255 - rendered.to_numpy().reshape(rendered.height, rendered.width).astype(int)
    svg = 255 - numpy.asarray(Image.open(job["png"]).convert("L")).astype(int)
    rows = min(pdf.shape[0], svg.shape[0])
    columns = min(pdf.shape[1], svg.shape[1])
    sizes = [list(pdf.shape), list(svg.shape)]
    pdf, svg = pdf[:rows, :columns] > 60, svg[:rows, :columns] > 60

    def grown(ink):
        out = ink.copy()
        for dy in (-1, 0, 1):
            for dx in (-1, 0, 1):
                out |= numpy.roll(numpy.roll(ink, dy, 0), dx, 1)
        return out

    def held(svg):
        return [
            float((svg & grown(pdf)).sum() / max(1, svg.sum())),
            float((pdf & grown(svg)).sum() / max(1, pdf.sum())),
        ]

    return {
        "sizes": sizes,
        "ink": [int(pdf.sum()), int(svg.sum())],
        "plain": held(svg),
        "moved": held(numpy.roll(svg, 4, 1)),
    }


WORK = {"audit": audit, "write": write, "compare": compare}

if __name__ == "__main__":
    with open(sys.argv[1], encoding="utf-8") as file:
        jobs = json.load(file)
    print(json.dumps([WORK[job["do"]](job) for job in jobs]))
