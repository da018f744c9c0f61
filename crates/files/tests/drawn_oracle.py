"""Drawings we write, as other people's libraries see them: the SVG by svgelements, the DXF by
ezdxf, the PDF by PDFium (pypdfium2). Lengths are mm.

Reads a job (JSON) from the file named on the command line and prints its findings as JSON:
for each piece that is laid the box and the length of its cut line, as the file has it, or
for each piece that is sent the lines of every layer.
"""

import ctypes
import json
import sys

import ezdxf
import numpy
import pypdfium2
import pypdfium2.raw as raw
from exchange_oracle import length_of
from ezdxf import path as ezpath
from svgelements import SVG, Group, Path

MM = 25.4 / 72


def of_svg(file):
    """The largest path of every group, in order; at 25.4 pixels to the inch a pixel is a mm."""
    drawing = SVG.parse(file, ppi=25.4, reify=True)
    found = []
    for group in drawing.select(lambda e: isinstance(e, Group) and (e.id or "").startswith("group-")):
        paths = [p for p in group.select(lambda e: isinstance(e, Path)) if p.bbox()]
        boxes = [(p, p.bbox()) for p in paths]
        cut, box = max(boxes, key=lambda one: (one[1][2] - one[1][0]) * (one[1][3] - one[1][1]))
        found.append({"box": box, "length": cut.length(error=1e-9)})
    return {"size": [drawing.width, drawing.height], "pieces": found}


def sent_svg(file):
    """The lines of every layer of every piece, by the names the file has for them."""
    drawing = SVG.parse(file, ppi=25.4, reify=True)
    found = {}
    for group in drawing.select(lambda e: isinstance(e, Group) and "data-piece" in e.values):
        if "data-layer" in group.values:
            continue
        layers = found.setdefault(group.values["data-piece"], {})
        for layer in group.select(lambda e: isinstance(e, Group) and "data-layer" in e.values):
            for line in layer.select(lambda e: isinstance(e, Path)):
                layers.setdefault(layer.values["data-layer"], []).append(
                    {"box": line.bbox(), "length": line.length(error=1e-9)})
    return found


def sent_dxf(file):
    """The lines and points of every layer of every block."""
    document = ezdxf.readfile(file)
    found = {}
    for block in document.blocks:
        if block.name.startswith("*"):
            continue
        layers = found.setdefault(block.name, {})
        for entity in block:
            layer = layers.setdefault(entity.dxf.layer, {"lines": [], "points": 0, "text": []})
            if entity.dxftype() == "POINT":
                layer["points"] += 1
            elif entity.dxftype() == "TEXT":
                layer["text"].append(entity.dxf.text)
            else:
                line = ezpath.make_path(entity)
                box = ezpath.precise_bbox(line)
                layer["lines"].append({
                    "box": [box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y],
                    "length": length_of(line),
                })
    return {"blocks": found, "complaints": [str(e.message) for e in document.audit().errors],
            "layers": [layer.dxf.name for layer in document.layers],
            "unit": document.header.get("$INSUNITS")}


def of_dxf(file):
    document = ezdxf.readfile(file)
    complaints = [str(e.message) for e in document.audit().errors]
    found = []
    for entity in document.modelspace().query('SPLINE[layer=="boundary"]'):
        line = ezpath.make_path(entity)
        box = ezpath.precise_bbox(line)
        found.append({
            "box": [box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y],
            "length": length_of(line),
        })
    names = [e.dxf.text for e in document.modelspace().query("TEXT") if "PIECE NAME" in e.dxf.text]
    return {"pieces": found, "complaints": complaints, "names": names,
            "unit": document.header.get("$INSUNITS")}


def places_of(found):
    """Places along a path of a PDF as its operators give them: PDFium's own box has the pen in
    it. Cubics are taken at so many places that a box is off by less than a thousandth."""
    m = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(found, m)
    x, y = ctypes.c_float(), ctypes.c_float()
    places, bend = [], []
    for index in range(raw.FPDFPath_CountSegments(found)):
        segment = raw.FPDFPath_GetPathSegment(found, index)
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        at = numpy.array([m.a * x.value + m.c * y.value + m.e, m.b * x.value + m.d * y.value + m.f])
        if raw.FPDFPathSegment_GetType(segment) != raw.FPDF_SEGMENT_BEZIERTO:
            places.append(at)
            continue
        bend.append(at)
        if len(bend) == 3:
            t = numpy.linspace(0.0, 1.0, 200)[:, None]
            a, (b, c, d) = places[-1], bend
            places.extend(a * (1 - t) ** 3 + 3 * b * t * (1 - t) ** 2
                          + 3 * c * t**2 * (1 - t) + d * t**3)
            bend = []
    return numpy.array(places)


def of_pdf(file):
    page = pypdfium2.PdfDocument(file)[0]
    paths = []
    for found in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=8):
        places = places_of(found.raw)
        paths.append([float(side) * MM for side in (*places.min(axis=0), *places.max(axis=0))])
    return {"size": [side * MM for side in page.get_size()], "paths": paths}


KINDS = {"sent svg": sent_svg, "sent dxf": sent_dxf, "svg": of_svg, "dxf": of_dxf, "pdf": of_pdf}

with open(sys.argv[1], encoding="utf-8") as jobs:
    jobs = json.load(jobs)
print(json.dumps([KINDS[kind](file) for kind, file in jobs]))
