# SPDX-License-Identifier: GPL-3.0-or-later
"""The strokes of a letter that end somewhere, from outside: medial axis by scipy's Voronoi diagram of the outline.

The axis of a polygon is what the diagram of points along its edge has inside of it (H. Blum, 1967; from memory). It forks
into each corner; forks no longer than their disc is wide are corners and are taken off. What is left of a letter are the
middle lines of its strokes: a stroke that ends goes from a tip to where three meet, or to where the line turns sharply.
"""
import math

import numpy as np
from scipy.spatial import Voronoi
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union
from shapely.prepared import prep

FORK = 1.6  # radii of the disc where a fork begins: shorter ones run into a corner
BEND = math.radians(50)  # a middle line that turns so far within one width has a corner there


def _dense(ring, step):
    at = []
    for (x0, y0), (x1, y1) in zip(ring.coords, ring.coords[1:]):
        n = max(1, math.ceil(math.hypot(x1 - x0, y1 - y0) / step))
        at += [(x0 + (x1 - x0) * i / n, y0 + (y1 - y0) * i / n) for i in range(n)]
    return at


def _axis(piece, step):
    """{node: {neighbour: length}}, places."""
    rings = [piece.exterior, *piece.interiors]
    diagram = Voronoi(np.array([p for ring in rings for p in _dense(ring, step)]))
    inside, within = prep(piece.buffer(-step / 2)), {}
    graph = {}
    for a, b in diagram.ridge_vertices:
        if a < 0 or b < 0:
            continue
        for v in (a, b):
            if v not in within:
                within[v] = inside.contains(Point(diagram.vertices[v]))
        if within[a] and within[b]:
            length = float(np.hypot(*(diagram.vertices[a] - diagram.vertices[b])))
            graph.setdefault(a, {})[b] = length
            graph.setdefault(b, {})[a] = length
    return graph, diagram.vertices


def _branch(graph, leaf):
    """Nodes from a leaf up to the first fork (with it) or the other end; its length."""
    way, length = [leaf], 0.0
    while True:
        on = [n for n in graph[way[-1]] if len(way) < 2 or n != way[-2]]
        if not on or (len(way) > 1 and len(graph[way[-1]]) != 2):
            return way, length
        length += graph[way[-1]][on[0]]
        way.append(on[0])


def _prune(graph, radius):
    """Takes off what runs into corners, shortest first."""
    while True:
        short = []
        for leaf in [n for n in graph if len(graph[n]) == 1]:
            way, length = _branch(graph, leaf)
            if len(graph[way[-1]]) > 2 and length < FORK * radius(way[-1]):
                short.append((length, way))
        if not short:
            return
        way = min(short, key=lambda s: s[0])[1]
        for a, b in zip(way, way[1:]):
            del graph[a][b], graph[b][a]
        for n in way:
            if n in graph and not graph[n]:
                del graph[n]


def _until_bend(at, way, wide):
    """How many nodes of the way come before a sharp bend."""
    far = [0.0]
    for a, b in zip(way, way[1:]):
        far.append(far[-1] + float(np.hypot(*(at[b] - at[a]))))

    def place(length):
        i = min(int(np.searchsorted(far, length)), len(way) - 1)
        return at[way[i]]

    for i in range(1, len(way)):
        if far[i] < wide / 2 or far[i] + wide / 2 > far[-1]:
            continue
        before, after = place(far[i]) - place(far[i] - wide / 2), place(far[i] + wide / 2) - place(far[i])
        turn = abs(math.remainder(math.atan2(after[1], after[0]) - math.atan2(before[1], before[0]), 2 * math.pi))
        if turn > BEND:
            return i
    return len(way)


class Stroke:
    """`area`: of the letter, from the tip back to where it meets others; `length` (free), `width` in mm."""

    def __init__(self, area, length, width, tip):
        self.area, self.length, self.width, self.tip = area, length, width, tip


def strokes_of(letter, most=1e9):
    """Strokes that end, of a polygon or several; of each at most its last `most` mm."""
    found = []
    for piece in getattr(letter, "geoms", [letter]):
        size = math.sqrt(piece.area)
        piece = piece.simplify(size / 500)
        graph, at = _axis(piece, size / 40)
        edge = piece.boundary
        radii = {}

        def radius(n):
            if n not in radii:
                radii[n] = edge.distance(Point(at[n]))
            return radii[n]

        _prune(graph, radius)
        for leaf in [n for n in graph if len(graph[n]) == 1]:
            way, _ = _branch(graph, leaf)
            wide = 2 * float(np.median([radius(n) for n in way]))
            ends = _until_bend(at, way, wide)
            junction = way[min(ends, len(way) - 1)]
            free = [n for n in way[:ends] if n != junction and np.hypot(*(at[n] - at[junction])) > 0.6 * radius(junction)]
            if len(free) < 3:
                continue
            length, keep = radius(leaf), [free[0]]
            for a, b in zip(free, free[1:]):
                length += float(np.hypot(*(at[b] - at[a])))
                if length > most:
                    break
                keep.append(b)
            discs = unary_union([Point(at[n]).buffer(1.03 * radius(n)) for n in keep])
            tip = Point(at[leaf]).buffer(1.6 * radius(leaf))  # the corners beyond the last disc
            area = piece.intersection(unary_union([discs, tip]))
            found.append(Stroke(area, min(length, most), wide, (float(at[leaf][0]), float(at[leaf][1]))))
    return found
