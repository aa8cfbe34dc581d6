# SPDX-License-Identifier: GPL-3.0-or-later
"""An independent reading of the outlines: metal.svg to pixels, what hangs together by scipy.

Nothing here knows holdfast. A sign is drawn at 0.1 mm a pixel; then
  - it is labelled as it is: each component is a part as drawn;
  - it is eroded by half the short-web limit less one pixel and labelled;
  - metal that does not come back within two limits on growing counts as thin;
  - it is grown by half the kerf less one pixel, to find gaps that close.
"""
import math
import re
import xml.etree.ElementTree as xml

import numpy as np
from PIL import Image, ImageDraw
from scipy import ndimage

PIXEL = 0.1
# Metal hangs together over the sides of its pixels, air over their corners too (A. Rosenfeld, J. ACM 17 (1970)
# 146-160; from memory).
CORNERS_TOO = np.ones((3, 3))
SVG = "{http://www.w3.org/2000/svg}"


def arc_points(x0, y0, r, large, sweep, x1, y1, tolerance=0.002):
    """Points after the start of an SVG elliptical arc with rx = ry (SVG 2, implementation notes B.2.4)."""
    dx, dy = (x1 - x0) / 2, (y1 - y0) / 2
    d = math.hypot(dx, dy)
    r = max(r, d)
    h = math.sqrt(max(0.0, r * r - d * d))
    sign = 1 if bool(large) != bool(sweep) else -1
    cx, cy = (x0 + x1) / 2 + sign * h * dy / d * -1, (y0 + y1) / 2 + sign * h * dx / d
    a0, a1 = math.atan2(y0 - cy, x0 - cx), math.atan2(y1 - cy, x1 - cx)
    turn = a1 - a0
    if sweep and turn < 0:
        turn += 2 * math.pi
    if not sweep and turn > 0:
        turn -= 2 * math.pi
    n = max(2, math.ceil(abs(turn) / (2 * math.acos(max(0.0, 1 - tolerance / r))))) if r > tolerance else 2
    return [(cx + r * math.cos(a0 + turn * i / n), cy + r * math.sin(a0 + turn * i / n)) for i in range(1, n)] + [(x1, y1)]


def rings_of_path(data):
    rings, ring = [], []
    words = re.findall(r"[MLAHVZmlahvz]|-?\d*\.?\d+", data)
    i, command = 0, None
    while i < len(words):
        if words[i].isalpha():
            command = words[i]
            i += 1
        if command in "Zz":
            rings.append(ring)
            ring = []
            continue
        assert command in "MLAHV", f"only absolute M L H V A Z are expected, found {command}"
        n = {"M": 2, "L": 2, "A": 7, "H": 1, "V": 1}[command]
        v = [float(w) for w in words[i:i + n]]
        i += n
        if command in "ML":
            ring.append((v[0], v[1]))
        elif command == "H":
            ring.append((v[0], ring[-1][1]))
        elif command == "V":
            ring.append((ring[-1][0], v[0]))
        else:
            assert abs(v[0] - v[1]) < 1e-9
            ring.extend(arc_points(*ring[-1], v[0], v[3], v[4], v[5], v[6]))
    if ring:
        rings.append(ring)
    return rings


def area_of(ring):
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1]))) / 2


def rings_of_svg(path):
    rings = []
    for element in xml.parse(path).getroot().iter(SVG + "path"):
        rings += rings_of_path(element.get("d"))
    return rings


def distance_within(mask, reach, tile=384):
    """Pixels from each True pixel to the nearest False one, where that is less than `reach`, else `reach`.

    The same as ndimage.distance_transform_edt, in tiles with `reach` around them; most are all metal or all air.
    """
    rim, (height, width) = int(math.ceil(reach)), mask.shape
    far = np.where(mask, np.float32(reach), np.float32(0))
    for y in range(0, height, tile):
        for x in range(0, width, tile):
            y0, x0 = max(0, y - rim), max(0, x - rim)
            patch = mask[y0:y + tile + rim, x0:x + tile + rim]
            if patch.all() or not mask[y:y + tile, x:x + tile].any():
                continue
            found = ndimage.distance_transform_edt(patch)[y - y0:y - y0 + tile, x - x0:x - x0 + tile]
            far[y:y + tile, x:x + tile] = np.minimum(found, reach)
    return far


class Reading:
    """Pixels of one sign. `metal` is True where the pixel's centre is metal."""

    def __init__(self, rings, margin=8.0, pixel=PIXEL):
        self.pixel = pixel
        xs = [x for ring in rings for x, _ in ring]
        ys = [y for ring in rings for _, y in ring]
        self.x0, self.y0 = min(xs) - margin, min(ys) - margin
        size = (int((max(xs) - self.x0 + margin) / self.pixel) + 1, int((max(ys) - self.y0 + margin) / self.pixel) + 1)
        self.metal = np.zeros(size[::-1], dtype=bool)
        self.n_rings, self.innermost = len(rings), np.zeros(size[::-1], dtype=np.uint16)
        for number, ring in enumerate(sorted(rings, key=lambda ring: -area_of(ring)), start=1):
            self._draw(number, [((x - self.x0) / self.pixel - 0.5, (y - self.y0) / self.pixel - 0.5) for x, y in ring])
        self._inside, self._cores = None, {}

    def _draw(self, number, points):
        """Even-odd: what lies in one ring more changes sides. Larger rings come first."""
        left, top = (int(min(p[i] for p in points)) - 1 for i in (0, 1))
        right, bottom = (int(max(p[i] for p in points)) + 3 for i in (0, 1))
        image = Image.new("1", (right - left, bottom - top), 0)
        ImageDraw.Draw(image).polygon([(x - left, y - top) for x, y in points], fill=1)
        inside = np.asarray(image, dtype=bool)
        self.metal[top:bottom, left:right] ^= inside
        self.innermost[top:bottom, left:right][inside] = number

    @property
    def inside(self):
        """mm from each metal pixel to the nearest pixel that is not metal"""
        if self._inside is None:
            self._inside = ndimage.distance_transform_edt(self.metal) * self.pixel
        return self._inside

    def parts(self, least=0.5):
        """Components as drawn, over `least` mm2."""
        labels, n = ndimage.label(self.metal)
        areas = np.bincount(labels.ravel())[1:] * self.pixel * self.pixel
        return int((areas > least).sum())

    def core(self, limit):
        """Metal that is left of erosion by half of `limit`, less one pixel."""
        if limit not in self._cores:
            least = limit / 2 / self.pixel - 1
            self._cores[limit] = distance_within(self.metal, least + 2) > least
        return self._cores[limit]

    def eroded_parts(self, limit, least=0.5):
        core = self.core(limit)
        labels, n = ndimage.label(core)
        areas = np.bincount(labels.ravel())[1:] * self.pixel * self.pixel
        return int((areas > least).sum())

    def thin(self, limit):
        """mm2 of metal that does not come back within two limits when what survives erosion grows, but for tips that burn back"""
        core, most = self.core(limit), 2 * limit / self.pixel
        if not core.any():
            return float(self.metal.sum() * self.pixel * self.pixel)
        left = self.metal & (distance_within(~core, most + 2) > most)
        labels, n = ndimage.label(left, CORNERS_TOO)
        return sum(self._thin_in(labels == i, where) for i, where in zip(range(1, n + 1), ndimage.find_objects(labels)))

    def _thin_in(self, piece, where):
        """mm2 of one such piece; 0 where it is the end of a point that carries nothing.

        Such a point is no web: nothing hangs on it, and the arc burns it back to where the metal is as wide as a web has
        to be. It hangs on the rest in one place, w wide, reaches l from there, and narrows on the way: between straight
        sides its area is w l / 2, of a tail that stays as wide as it began w l, of one with a head on it more (plane
        geometry). Between them it is decided; half a pixel on either side of so small a thing is a tenth of that.
        """
        where = tuple(slice(max(0, s.start - 2), s.stop + 2) for s in where)
        piece, metal = piece[where], self.metal[where]
        root = metal & ~piece & ndimage.binary_dilation(piece, CORNERS_TOO)
        roots = ndimage.label(root, CORNERS_TOO)[1]
        area = float(piece.sum() * self.pixel * self.pixel)
        if roots != 1 or ndimage.label(~piece, CORNERS_TOO)[1] != 1:
            return area
        at, of = np.argwhere(root) * self.pixel, np.argwhere(piece) * self.pixel
        wide = max(float(np.hypot(*(at - one).T).max()) for one in at) + self.pixel
        reach = float(np.hypot(*(of - at.mean(axis=0)).T).max()) + self.pixel / 2
        return 0.0 if area <= 0.75 * wide * reach else area

    def closed_gaps(self, kerf, least=0.5):
        """How many openings more there are once the metal has grown by half the kerf, and how many vanish.

        An opening is the air whose innermost outline is the same: the tip of a crevice narrower than a pixel is a row
        of spots, and no openings. Grown, it counts where the kerf itself fits.
        """
        air = ~self.metal
        fits, least_open = kerf / 2 / self.pixel, kerf / 2 / self.pixel - 1
        free = distance_within(air, fits + 2)
        n_before = np.bincount(self.innermost[air], minlength=self.n_rings + 1) * self.pixel * self.pixel > least
        left = np.bincount(self.innermost[air & (free > least_open)], minlength=self.n_rings + 1) > 0
        labels, n = ndimage.label(free > least_open, CORNERS_TOO)
        areas = np.bincount(labels.ravel(), minlength=n + 1)[1:] * self.pixel * self.pixel
        roomy = ndimage.maximum(free, labels, range(1, n + 1)) >= fits if n > 0 else areas > 0
        return int(((areas > least) & roomy).sum()) - int(n_before.sum()), int((n_before & ~left).sum())

    def width_at(self, x, y, around=0.1):
        """Twice the distance to the edge at a place of the SVG, mm (within about 2 pixels)."""
        column, row = int((x - self.x0) / self.pixel), int((y - self.y0) / self.pixel)
        k = max(1, int(around / self.pixel))
        patch = self.inside[max(0, row - k):row + k + 1, max(0, column - k):column + k + 1]
        return 2 * float(patch.max()) if patch.size else 0.0
