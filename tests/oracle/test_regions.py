# SPDX-License-Identifier: GPL-3.0-or-later
"""Areas, unions, differences and offsets of random shapes against shapely (GEOS)."""
import subprocess

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union
from shapely.validation import explain_validity, make_valid

from conftest import LONG, TOP

DUMP = TOP / "build" / "tests" / "tools" / "region_dump"
SEEDS = range(600 if LONG else 60)


def read(seed):
    """name -> shapely geometry, built from outer rings and the openings that name them as parent"""
    out = {}
    for line in subprocess.run([DUMP, str(seed)], capture_output=True, text=True, check=True).stdout.splitlines():
        name, _, rest = line.partition(" ")
        rings = []
        for text in rest.split(" | ") if rest.strip() else []:
            parent, *points = text.split()
            rings.append((int(parent), [tuple(map(float, p.split(","))) for p in points]))
        polygons = []
        for i, (parent, points) in enumerate(rings):
            if parent < 0:
                polygon = Polygon(points, [p for q, p in rings if q == i])
                polygons.append(polygon)
        out[name] = polygons
    return out


@pytest.mark.parametrize("seed", SEEDS)
def test_booleans_and_offsets(seed):
    got = read(seed)
    for name in ("a", "b"):
        for polygon in got[name]:
            # metal that meets at a point is one ring with an opening that touches it: ours to tell
            # apart in the hold check, not a fault of the region
            why = explain_validity(polygon)
            assert why == "Valid Geometry" or why.startswith("Interior is disconnected"), why
    got = {name: [make_valid(p) for p in polygons] for name, polygons in got.items()}
    a, b = unary_union(got["a"]), unary_union(got["b"])
    # shapely's own noding moves nothing; ours rounds crossings to 0.1 um: area off by less than
    # the outline's length times that
    slack = 2e-4 * (a.length + b.length) + 1e-6
    for name, want in (("union", a | b), ("subtract", a - b), ("intersect", a & b)):
        area = sum(p.area for p in got[name])
        assert abs(area - want.area) < slack, f"{name}: {area} mm2, shapely {want.area}"
        assert unary_union(got[name]).symmetric_difference(want).area < slack
    # offsets: both within 5 um of the true curve (shapely: 96 segments a quadrant)
    for name, by in (("grown", 1.5), ("shrunk", -1.5)):
        ours, want = unary_union(got[name]), a.buffer(by, resolution=96)
        assert ours.symmetric_difference(want).area < 0.006 * (want.length + a.length) + 1e-6, name
