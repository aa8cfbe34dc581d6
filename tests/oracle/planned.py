# SPDX-License-Identifier: GPL-3.0-or-later
"""What the checks of paths and plans share: the plan of a recipe as numbers, and its stretches as shapely has them."""
import json
import math
import subprocess
from pathlib import Path

from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

TOP = Path(__file__).parents[2]
DUMP = TOP / "build" / "tests" / "tools" / "plan_dump"
IN, CONTOUR, PAST, OUT = range(4)


def plan_of(recipe, *words):
    done = subprocess.run([DUMP, recipe, *words], capture_output=True, text=True, timeout=120, cwd=TOP)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def points_of(stretch, chord=0.002):
    """Its points, arcs as chords at most `chord` off, all on the arc."""
    if not stretch["arc"]:
        return [stretch["from"], stretch["to"]]
    (cx, cy), (x, y), sweep = stretch["centre"], stretch["from"], stretch["sweep"]
    radius, start = math.hypot(x - cx, y - cy), math.atan2(y - cy, x - cx)
    step = 2 * math.acos(max(1 - chord / max(radius, chord), -1))
    n = max(math.ceil(abs(sweep) / max(step, 1e-4)), 1)
    inner = [[cx + radius * math.cos(start + sweep * i / n), cy + radius * math.sin(start + sweep * i / n)] for i in range(1, n)]
    return [stretch["from"], *inner, stretch["to"]]


def line_of(stretches):
    points = []
    for stretch in stretches:
        points += points_of(stretch)[1 if points else 0:]
    return LineString(points)


def metal_of(plan):
    """The metal as shapely has it."""
    outers = {i: ring for i, ring in enumerate(plan["rings"]) if ring["parent"] < 0}
    return unary_union([Polygon(ring["points"], [inner["points"] for inner in plan["rings"] if inner["parent"] == i]).buffer(0) for i, ring in outers.items()])


def turned(stretches):
    """Twice the area that it goes round, > 0 counter-clockwise."""
    points = list(line_of(stretches).coords)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))
