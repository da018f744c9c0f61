"""How wide and high the ink is in a box of the first page of a PDF, rendered by PDFium.

    python print_extents.py FILE.pdf LEFT BOTTOM RIGHT TOP

The box in mm from the lower left corner of the page; prints [width, height], mm. Ink is
what is darker than half way to white.
"""

import json
import sys

import numpy
import pypdfium2

DPI = 300
left, bottom, right, top = (float(mm) / 25.4 * 72 for mm in sys.argv[2:6])
page = pypdfium2.PdfDocument(sys.argv[1])[0]
width, height = page.get_size()
crop = (max(left, 0), max(bottom, 0), max(width - right, 0), max(height - top, 0))
image = page.render(scale=DPI / 72, crop=crop, grayscale=True).to_numpy()
dark = image.reshape(image.shape[0], image.shape[1]) < 128
rows, columns = numpy.nonzero(dark.any(axis=1))[0], numpy.nonzero(dark.any(axis=0))[0]
print(json.dumps([(int(i[-1]) - int(i[0]) + 1) * 25.4 / DPI for i in (columns, rows)]))
