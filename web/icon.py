"""Draws the page's icon, two claws seen from above, as SVG and PNG: python3 web/icon.py"""

import struct
import zlib
from pathlib import Path

HERE = Path(__file__).parent / "page"
GROUND, CLAW = (11, 61, 46), (255, 255, 255)

# The right claw in a square of 100, as cubic curves from a start; the left one mirrors it.
START = (54, 20)
CURVES = [((70, 22), (80, 38), (80, 56)), ((80, 74), (70, 80), (57, 80)), ((53, 68), (56, 44), (54, 20))]


def outline(steps=40):
    """Points along the claw."""
    points, at = [], START
    for a, b, end in CURVES:
        for i in range(steps):
            t = i / steps
            k = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            points.append(tuple(sum(f * p[j] for f, p in zip(k, (at, a, b, end))) for j in (0, 1)))
        at = end
    return points


def spans(points, y):
    """Where a line at height y is inside."""
    xs = []
    for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1]):
        if (y0 <= y) != (y1 <= y):
            xs.append(x0 + (y - y0) * (x1 - x0) / (y1 - y0))
    xs.sort()
    return zip(xs[::2], xs[1::2])


def png(size, fine=4):
    """A PNG; each pixel is the mean of fine x fine points."""
    points, rows = outline(), []
    for row in range(size):
        cover = [0] * size
        for part in range(fine):
            y = (row + (part + 0.5) / fine) * 100 / size
            for low, high in spans(points, y):
                for left, right in ((low, high), (100 - high, 100 - low)):
                    first, last = round(left * size * fine / 100), round(right * size * fine / 100)
                    for i in range(first, last):
                        cover[i // fine] += 1
        share = [c / fine**2 for c in cover]
        rows.append(b"\0" + bytes(round(g + (w - g) * s) for s in share for g, w in zip(GROUND, CLAW)))

    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", size, size, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"".join(rows), 9)) + chunk(b"IEND", b"")


def svg():
    path = f"M{START[0]} {START[1]}" + "".join(f"C{a[0]} {a[1]} {b[0]} {b[1]} {e[0]} {e[1]}" for a, b, e in CURVES) + "Z"
    ground = "#%02x%02x%02x" % GROUND
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><rect width="100" height="100" fill="{ground}"/>'
        f'<g fill="#fff"><path d="{path}"/><path transform="matrix(-1 0 0 1 100 0)" d="{path}"/></g></svg>\n'
    )


(HERE / "icon.svg").write_text(svg(), encoding="utf-8")
for size in (192, 512):
    (HERE / f"icon-{size}.png").write_bytes(png(size))
