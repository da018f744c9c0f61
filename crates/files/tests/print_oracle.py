"""Measures printed pages, rendered by PDFium (pypdfium2), as a ruler would.

Reads a job (JSON) from the file named on the command line and prints its
findings as JSON. Lengths are mm.
"""

import json
import sys

import numpy
import pypdfium2

MM_IN_INCH = 25.4


def render(path, page, dpi):
    """A page as darkness 0..255, rows from the top, and its pixels in a mm along
    x and y. The renderer stretches a page to a whole number of pixels, so these
    differ a little from dpi / 25.4."""
    sheet = pypdfium2.PdfDocument(path)[page]
    image = sheet.render(scale=dpi / 72, grayscale=True).to_numpy()
    rows, columns = image.shape[:2]
    width, height = (side / 72 * MM_IN_INCH for side in sheet.get_size())
    darkness = 255 - image.reshape(rows, columns).astype(numpy.int32)
    return darkness, (columns / width, rows / height)


def line_across(darkness, low, high, cross_low, cross_high, scale):
    """Where a line square to the x axis lies between low and high, mm: the
    centroid of darkness, looked at from cross_low to cross_high, mm."""
    along, across = scale
    x0, x1 = round(low * along), round(high * along)
    y0, y1 = round(cross_low * across), round(cross_high * across)
    profile = darkness[y0:y1, x0:x1].sum(axis=0).astype(float)
    if profile.sum() < 100:
        raise SystemExit(f"no line between {low} and {high} mm")
    centres = numpy.arange(x0, x1) + 0.5
    return float((profile * centres).sum() / profile.sum() / along)


def square(job):
    """The sides of a square near the given box (left, top, right, bottom)."""
    darkness, scale = render(job["pdf"], job["page"], job["dpi"])
    if job.get("light"):
        darkness = 255 - darkness
    sides = []
    for picture, scale, (a, b, c, d) in (
        (darkness, scale, job["box"]),
        (darkness.T, scale[::-1], [job["box"][i] for i in (1, 0, 3, 2)]),
    ):
        quarter = (d - b) / 4
        near = 3.0
        low = line_across(picture, a - near, a + near, b + quarter, d - quarter, scale)
        high = line_across(picture, c - near, c + near, b + quarter, d - quarter, scale)
        sides.append(high - low)
    return sides


def levels(job):
    """How far apart two level lines lie that are looked for near the given
    heights, in a band from left to right."""
    darkness, scale = render(job["pdf"], job["page"], job["dpi"])
    if job.get("light"):
        darkness = 255 - darkness
    at = [
        line_across(darkness.T, y - 1.6, y + 1.6, *job["band"], scale[::-1])
        for y in job["heights"]
    ]
    return abs(at[1] - at[0])


def metre(job):
    """The length of a line between two ticks, over sheets joined where their own
    printed trim and lay-on lines say, not where the program says."""
    dpi, total, near = job["dpi"], 0.0, 1.5
    for index, page in enumerate(job["pages"]):
        darkness, scale = render(job["pdf"], page, dpi)
        if job["down"]:
            darkness, scale = darkness.T, scale[::-1]
        first, last = index == 0, index == len(job["pages"]) - 1
        across = job["join_band"]
        if first:
            start = line_across(darkness, job["tick_first"] - 3, job["tick_first"] + 3, *job["tick_band"], scale)
        else:
            start = line_across(darkness, job["trim"] - near, job["trim"] + near, *across, scale)
        if last:
            end = line_across(darkness, job["tick_last"] - 3, job["tick_last"] + 3, *job["tick_band"], scale)
        else:
            end = line_across(darkness, job["lay"] - near, job["lay"] + near, *across, scale)
        total += end - start
    return total


def spread(mask, by):
    """Grows a mask by so many pixels each way."""
    grown = mask.copy()
    for axis in (0, 1):
        grown_here = grown.copy()
        for step in range(1, by + 1):
            for sign in (1, -1):
                moved = numpy.roll(grown, sign * step, axis=axis)
                grown_here |= moved
        grown = grown_here
    return grown


def joined(job):
    """Ink of the whole drawing lost or gained when the sheets are joined, in
    pixels; also with one sheet moved by 1 mm and with one left out, which must
    be noticed."""
    dpi = job["dpi"]
    per_mm = dpi / MM_IN_INCH
    pixels = lambda mm: round(mm * per_mm)
    whole, _ = render(job["whole"], 0, dpi)
    margin = pixels(job["margin"])
    width, height = pixels(job["printed"][0]), pixels(job["printed"][1])
    sheets = []
    for sheet in job["sheets"]:
        page, _ = render(job["pdf"], sheet["page"], dpi)
        area = page[margin : margin + height, margin : margin + width]
        sheets.append((pixels(sheet["x"]), pixels(sheet["y"]), area))

    def lost_and_gained(moved=None, left_out=None):
        table = numpy.zeros_like(whole)
        for index, (x, y, area) in enumerate(sheets):
            if index == left_out:
                continue
            if index == moved:
                x += pixels(1.0)
            room = table[y : y + height, x : x + width]
            room[:] = area[: room.shape[0], : room.shape[1]]
        lost = (whole > 110) & ~spread(table > 50, 1)
        # Frames, join marks and sheet names are grey; the pattern's own ink is
        # darker than any of them.
        gained = (table > 190) & ~spread(whole > 60, 1)
        return int(lost.sum()), int(gained.sum())

    def on_places(shift):
        """How many of the places have no ink, the places moved by so many mm."""
        table = numpy.zeros_like(whole)
        for x, y, area in sheets:
            room = table[y : y + height, x : x + width]
            room[:] = area[: room.shape[0], : room.shape[1]]
        ink = spread(table > 60, 1)
        rows, columns = ink.shape
        places = [(pixels(y), pixels(x + shift)) for x, y in job.get("places", [])]
        return sum(
            not ink[min(max(y, 0), rows - 1), min(max(x, 0), columns - 1)] for y, x in places)

    middle = len(sheets) // 2
    return {
        "places": len(job.get("places", [])),
        "bare": on_places(0.0),
        "bare_beside": on_places(3.0),
        "ink": int((whole > 110).sum()),
        "plain": lost_and_gained(),
        "moved": lost_and_gained(moved=middle),
        "left_out": lost_and_gained(left_out=middle),
    }


KINDS = {"square": square, "levels": levels, "metre": metre, "joined": joined}

with open(sys.argv[1], encoding="utf-8") as file:
    jobs = json.load(file)
print(json.dumps([KINDS[job["kind"]](job) for job in jobs]))
