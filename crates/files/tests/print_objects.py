"""What PDFium finds in a PDF: the box of every drawn path and the text of every page.

    python print_objects.py FILE.pdf

Prints JSON: for each page its size, its paths as [left, bottom, right, top], mm, and its
text. Nothing of it is worked out by the program under test.
"""

import json
import sys

import pypdfium2
import pypdfium2.raw as raw

MM = 25.4 / 72

pages = []
document = pypdfium2.PdfDocument(sys.argv[1])
for page in document:
    paths = []
    for found in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=8):
        box = found.get_bounds() if hasattr(found, "get_bounds") else found.get_pos()
        paths.append([mm * MM for mm in box])
    width, height = page.get_size()
    text = page.get_textpage().get_text_bounded()
    pages.append({"size": [width * MM, height * MM], "paths": paths, "text": text})
print(json.dumps(pages))
