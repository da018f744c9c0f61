"""Photos with everything a camera notes, and what of it is left in a file
(Pillow reads EXIF, GPS, XMP, colour profile and comments)."""

import json
import sys

from PIL import Image, ImageCms

# Words that must not survive in any byte of a kept file.
NOTED = [b"Exif", b"GPS", b"Copper Lane", b"2026:11:25", b"Oleander Optics", b"xpacket",
         b"ICC_PROFILE", b"Photoshop"]


def make(path):
    """200 by 120 pixels as the camera held it: red left, blue right, a green bar
    along the upper edge; to be shown turned by a quarter (orientation 6)."""
    picture = Image.new("RGB", (200, 120), (200, 30, 30))
    picture.paste((30, 30, 200), (100, 0, 200, 120))
    picture.paste((20, 180, 20), (0, 0, 200, 12))
    exif = Image.Exif()
    exif[0x010F] = "Oleander Optics"
    exif[0x010E] = "Copper Lane workroom"
    exif[0x0132] = "2026:11:25 10:20:30"
    exif[0x0112] = 6
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2] = "N", (59.0, 20.0, 30.0)
    gps[3], gps[4] = "E", (18.0, 3.0, 10.0)
    exif[0x8825] = gps
    xmp = b"<?xpacket begin='' id='W5M0MpCehiHzreSzNTczkc9d'?><x/><?xpacket end='w'?>"
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    picture.save(path, "JPEG", quality=95, exif=exif, xmp=xmp, icc_profile=profile,
                 comment=b"Copper Lane")


def look(path):
    with open(path, "rb") as file:
        raw = file.read()
    picture = Image.open(path)
    exif = picture.getexif()
    picture.load()
    w, h = picture.size
    at = lambda x, y: list(picture.getpixel((int(x * (w - 1)), int(y * (h - 1)))))
    return {"size": [w, h],
            "exif": len(exif),
            "gps": len(exif.get_ifd(0x8825)),
            "info": sorted(k for k in picture.info if k not in
                           ("jfif", "jfif_version", "jfif_unit", "jfif_density")),
            "noted": [n.decode() for n in NOTED if n in raw],
            "app_markers": sorted({name for name, _ in getattr(picture, "applist", [])}),
            "upper": at(0.5, 0.1), "lower": at(0.5, 0.9), "right": at(0.98, 0.5)}


question = json.load(sys.stdin)
for path in question.get("make", []):
    make(path)
json.dump({"seen": [look(path) for path in question.get("look", [])]}, sys.stdout)
