# SPDX-License-Identifier: GPL-3.0-or-later
"""What a DXF file draws, as ezdxf reads it, measured here in closed form: each visible thing of model space, its
blocks put out, with its box as seen from above and the area between it and the line that closes it.

Every curve is one of three: a straight line, c + u cos t + v sin t, or a B-spline; Green's theorem gives the area
of each (the first two exactly, the last by Gauss's rule on each span, which is exact for what is no more than
cubic and has 24 places a span for the others).
"""
import math

import ezdxf
import numpy as np
from ezdxf import recover
from ezdxf.math import BSpline, Vec3, bulge_to_arc, fit_points_to_cad_cv

DRAWN = {"LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE", "SPLINE", "SOLID", "TRACE", "3DFACE", "HATCH"}
WORDS = {"TEXT", "MTEXT", "ATTRIB"}
ROUND = {"ARC", "CIRCLE", "ELLIPSE"}
GAUSS_AT, GAUSS_WEIGHT = np.polynomial.legendre.leggauss(24)


def opened(path):
    try:
        return ezdxf.readfile(path)
    except (ezdxf.DXFError, UnicodeDecodeError):
        return recover.readfile(path)[0]


class Curve:
    """area2: twice the area swept about the origin; box: of it; start, end."""

    def __init__(self, start, end, area2, xs, ys):
        self.start, self.end, self.area2 = start, end, area2
        self.box = min(xs), min(ys), max(xs), max(ys)


def line(a, b):
    return Curve(a, b, a[0] * b[1] - a[1] * b[0], (a[0], b[0]), (a[1], b[1]))


def turn(c, u, v, t0, t1):
    def at(t):
        return c[0] + u[0] * math.cos(t) + v[0] * math.sin(t), c[1] + u[1] * math.cos(t) + v[1] * math.sin(t)

    low, high = min(t0, t1), max(t0, t1)
    times = [t0, t1]
    for axis in (0, 1):
        still = math.atan2(v[axis], u[axis])
        first = math.ceil((low - still) / math.pi)
        times += [still + k * math.pi for k in range(first, first + 3) if low <= still + k * math.pi <= high]
    a, b = at(t0), at(t1)
    area2 = (u[0] * v[1] - u[1] * v[0]) * (t1 - t0) + c[0] * (b[1] - a[1]) - c[1] * (b[0] - a[0])
    return Curve(a, b, area2, *zip(*map(at, times)))


def bulged(a, b, bulge):
    if abs(bulge) < 1e-9 or (a[0] == b[0] and a[1] == b[1]):
        return line(a, b)
    centre, start, end, radius = bulge_to_arc(a[:2], b[:2], bulge)
    sweep = 4 * math.atan(abs(bulge))
    begin = start if bulge > 0 else end
    t1 = begin + math.copysign(sweep, bulge)
    return turn(centre, (radius, 0), (0, radius), begin, t1)


def spline(tool):
    knots = sorted(set(tool.knots()))
    low, high = tool.knots()[tool.order - 1], tool.knots()[tool.count]
    area2, xs, ys = 0.0, [], []
    for a, b in zip(knots, knots[1:]):
        if a < low or b > high or b - a < 1e-14:
            continue
        for t, weight in zip(GAUSS_AT, GAUSS_WEIGHT):
            p, d = tool.derivative(a + (b - a) * (t + 1) / 2, 1)
            area2 += weight * (b - a) / 2 * (p.x * d.y - p.y * d.x)
        for p in tool.points(np.linspace(a, min(b, high), 200)):
            xs.append(p.x)
            ys.append(p.y)
    ends = list(tool.points([low, high]))
    return Curve((ends[0].x, ends[0].y), (ends[1].x, ends[1].y), area2, xs, ys)


# ---- one thing: a list of runs, each a list of curves ---------------------------------------------------------

def flat(vectors):
    return [(v[0], v[1]) for v in vectors]


def round_run(e):
    tool = {"ARC": lambda: ezdxf.math.ConstructionEllipse.from_arc(
                e.dxf.center, e.dxf.radius, e.dxf.extrusion, e.dxf.start_angle, e.dxf.end_angle),
            "CIRCLE": lambda: ezdxf.math.ConstructionEllipse.from_arc(e.dxf.center, abs(e.dxf.radius), e.dxf.extrusion),
            "ELLIPSE": lambda: e.construction_tool()}[e.dxftype()]()
    centre = tool.center if e.dxftype() == "ELLIPSE" else e.ocs().to_wcs(Vec3(e.dxf.center))
    start, sweep = tool.start_param, tool.param_span
    if e.dxftype() == "CIRCLE":
        start, sweep = 0, 2 * math.pi
    if e.dxftype() != "ELLIPSE":
        ocs = e.ocs()
        u, v = ocs.to_wcs(Vec3(abs(e.dxf.radius), 0, 0)), ocs.to_wcs(Vec3(0, abs(e.dxf.radius), 0))
        start = math.radians(e.dxf.start_angle) if e.dxftype() == "ARC" else 0
    else:
        u, v = tool.major_axis, tool.minor_axis
    return [[turn(centre, u, v, start, start + sweep)]]


def polyline_run(e):
    if e.dxftype() == "LWPOLYLINE":
        points = [(x, y, bulge) for x, y, bulge in e.get_points("xyb")]
        z, closed, world = e.dxf.elevation, e.closed, e.ocs()
    elif e.is_3d_polyline:
        points = [(v.dxf.location.x, v.dxf.location.y, 0) for v in e.vertices]
        return [[line(a, b) for a, b in zip(points, points[1:] + (points[:1] if e.is_closed else []))]]
    else:
        kept = [v for v in e.vertices if not v.dxf.flags & 16]
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in kept]
        z, closed, world = Vec3(e.dxf.elevation).z, e.is_closed, e.ocs()
    u, v, o = world.to_wcs(Vec3(1, 0, 0)), world.to_wcs(Vec3(0, 1, 0)), world.to_wcs(Vec3(0, 0, z))
    assert abs(abs(u.x * v.y - u.y * v.x) - 1) < 1e-12, "only planes seen straight on, from either side"
    run = []
    for a, b in zip(points, points[1:] + (points[:1] if closed else [])):
        curve = bulged(a, b, a[2])
        mirrored = u.x * v.y - u.y * v.x < 0
        where = lambda p: (o.x + u.x * p[0] + v.x * p[1], o.y + u.y * p[0] + v.y * p[1])  # noqa: E731
        if mirrored:  # x' = -x: the plane from behind
            assert where((1, 0)) == (-1 + o.x, o.y)
            curve = bulged(where(a), where(b), -a[2])
        run.append(curve)
    return [run]


def hatch_runs(e):
    runs = []
    paths = e.paths.rendering_paths(e.dxf.hatch_style)
    for path in paths:
        if hasattr(path, "vertices"):
            points = list(path.vertices)
            run = [bulged(a, b, a[2]) for a, b in zip(points, points[1:] + points[:1])]
        else:
            run = []
            for edge in path.edges:
                kind = type(edge).__name__
                if kind == "LineEdge":
                    run.append(line(edge.start, edge.end))
                elif kind == "SplineEdge":
                    run.append(spline(BSpline(Vec3.generate(edge.control_points), edge.degree + 1, edge.knot_values, edge.weights or None)))
                else:
                    t = edge.construction_tool()
                    if kind == "ArcEdge":
                        u, v = (t.radius, 0), (0, t.radius)
                        t0 = math.radians(t.start_angle)
                        t1 = t0 + (math.radians(t.end_angle - t.start_angle) % math.tau or math.tau)
                    else:
                        u, v, t0, t1 = t.major_axis, t.minor_axis, t.start_param, t.start_param + t.param_span
                    run.append(turn(t.center, u, v, t0, t1) if edge.ccw else turn(t.center, u, v, t1, t0))
        if run:
            joined = []
            for curve, following in zip(run, run[1:] + run[:1]):
                joined += [curve, line(curve.end, following.start)]
            runs.append(joined)
    return runs


def runs_of(e):
    kind = e.dxftype()
    if kind == "LINE":
        return [[line(*flat((e.dxf.start, e.dxf.end)))]]
    if kind in ROUND:
        return round_run(e)
    if kind in ("LWPOLYLINE", "POLYLINE"):
        return polyline_run(e)
    if kind == "SPLINE":
        if not len(e.control_points):
            return [[spline(fit_points_to_cad_cv(e.fit_points, [e.dxf.start_tangent, e.dxf.end_tangent]))]]
        return [[spline(e.construction_tool())]]
    if kind == "HATCH":
        return hatch_runs(e)
    at = flat(e.wcs_vertices())
    return [[line(a, b) for a, b in zip(at, at[1:] + at[:1])]]


def measured(e):
    """(area, box) of all runs; a hatch's areas all count up."""
    area, boxes = 0.0, []
    for run in runs_of(e):
        if not run:
            continue
        own = sum(c.area2 for c in run) + line(run[-1].end, run[0].start).area2
        area += abs(own) / 2 if e.dxftype() == "HATCH" else own / 2
        boxes += [c.box for c in run]
    if not boxes:
        return 0.0, None
    return area, tuple(f(b[i] for b in boxes) for i, f in enumerate((min, min, max, max)))


# ---- what is drawn --------------------------------------------------------------------------------------------

def drawn(doc, space=None, layer=None):
    """(thing, layer) in the order of the file."""
    for e in doc.modelspace() if space is None else space:
        own = layer if layer and e.dxf.layer == "0" else e.dxf.layer
        there = doc.layers.get(own) if own in doc.layers else None
        insert = e.dxftype() == "INSERT"
        hidden = e.dxftype() != "3DFACE" and e.dxf.get("invisible")  # of a 3DFACE that is its edges' own mark
        if hidden or (there and (there.is_frozen() or (there.is_off() and not insert))):
            continue
        if insert and e.dxf.name in doc.blocks:
            if e.dxf.get("zscale") == 0:
                e.dxf.zscale = 1  # ezdxf divides by it; from above it makes no difference
            copies = e.multi_insert() if e.mcount > 1 else [e]
            for copy in copies:
                yield from drawn(doc, copy.virtual_entities(), own)
            for attribute in e.attribs:
                if not attribute.is_invisible:
                    yield attribute, attribute.dxf.layer
        elif e.dxftype() in WORDS or (e.dxftype() in DRAWN and not getattr(e, "is_polygon_mesh", False)
                                      and not getattr(e, "is_poly_face_mesh", False)):
            yield e, own
