# SPDX-License-Identifier: GPL-3.0-or-later
"""A plain writer of programs for a sign, by shapely: half a kerf beside its edge, openings first, then the outside; each
contour from a pierce in the scrap. It shares nothing with holdfast but metal.svg."""
import math
import re
import xml.etree.ElementTree as xml

from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

import reading

LEAD = 1.6


def design_of(svg):
    """The metal of `svg` as shapely sees it, y up, its lower left corner at 0, 0."""
    root = xml.parse(svg).getroot()
    rings = [ring for path in root.iter(reading.SVG + "path") for ring in reading.rings_of_path(path.get("d"))]
    metal = Polygon()
    for ring in sorted((Polygon(r).buffer(0) for r in rings), key=lambda p: -p.area):
        metal = metal.symmetric_difference(ring)
    x0, _, _, y1 = metal.bounds
    from shapely.affinity import affine_transform
    return affine_transform(metal, [1, 0, 0, -1, -x0, y1])


class Contour:
    """One contour: its lines of program, of moves only, and where the pierce is."""

    def __init__(self, name, ring, inner, pierce, moves):
        self.name, self.ring, self.inner, self.pierce, self.moves = name, ring, inner, pierce, moves
        self.on, self.off, self.way = "M3", "M5", "G0"


def number(v):
    return f"{v:.4f}"


def xy(p):
    return f"X{number(p[0])} Y{number(p[1])}"


def start_of(ring, inner):
    """A vertex of the ring from which a lead into the scrap is free, the pierce at its other end."""
    polygon = Polygon(ring)
    points = list(ring.coords)[:-1]
    n = len(points)
    for away in (LEAD, LEAD / 2, LEAD / 4, LEAD / 8):
        for i in sorted(range(n), key=lambda i: -math.dist(points[i], points[(i + 1) % n])):
            a, b = points[i], points[(i + 1) % n]
            length = math.dist(a, b)
            if length == 0:
                continue
            mid = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            left = (-(b[1] - a[1]) / length, (b[0] - a[0]) / length)
            side = 1 if (polygon.exterior.is_ccw == inner) else -1
            pierce = (mid[0] + side * away * left[0], mid[1] + side * away * left[1])
            lead = LineString([pierce, mid])
            free = polygon.buffer(1e-6).covers(lead) if inner else not polygon.buffer(-1e-6).intersects(lead)
            if free:
                return pierce, [mid, *points[i + 1:], *points[:i + 1], mid]
    return points[0], [*points, points[0]]


def contour(name, ring, inner, arcs=True):
    polygon = Polygon(ring)
    around = 4 * math.pi * polygon.area / ring.length ** 2
    if arcs and inner and around > 0.999:
        c = polygon.centroid
        r = math.sqrt(polygon.area / math.pi)
        a, b = (c.x + r, c.y), (c.x - r, c.y)
        moves = [f"G1 {xy(a)} F2000", f"G3 {xy(b)} I{number(-r)} J0", f"G3 {xy(a)} R{number(r)}"]
        return Contour(name, ring, inner, (c.x, c.y), moves)
    pierce, points = start_of(ring, inner)
    return Contour(name, ring, inner, pierce, [f"G1 {xy(points[0])} F2000"] + [xy(p) for p in points[1:]])


def contours_of(design, kerf, by=(0, 0), arcs=True):
    """Openings from the left, then the outside."""
    path = design.buffer(kerf / 2, 64).simplify(0.0005)
    from shapely.affinity import translate
    path = translate(path, *by)
    polygons = [path] if path.geom_type == "Polygon" else list(path.geoms)
    inner = sorted((r for p in polygons for r in p.interiors), key=lambda r: r.bounds)
    done = [contour(f"opening {i + 1}", r, True, arcs) for i, r in enumerate(inner)]
    return done + [contour(f"outside {i + 1}", p.exterior, False) for i, p in enumerate(polygons)]


def program(contours, head=("G21 G90 G17 G40",), tail=("M30",)):
    """The text, and for each contour the first and last line of it."""
    lines, spans = list(head), []
    for c in contours:
        first = len(lines) + 1
        lines += [f"({c.name})", f"{c.way} {xy(c.pierce)}", c.on, "G4 P0.3", *c.moves, c.off]
        lines = [line for line in lines if line]
        spans.append((first, len(lines)))
    return "\n".join([*lines, *tail, ""]), spans
