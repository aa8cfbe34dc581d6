# SPDX-License-Identifier: GPL-3.0-or-later
"""Area, mass, cut length, pierces, centre of mass and how it hangs, against shapely on the drawn outlines.

Mild steel 7850 kg/m3 (EN 1993-1-1 3.2.6). Statics: one hole, the centre of mass swings under it; two, the
lever rule.
"""
import math
import random

import pytest
from reading import rings_of_svg
from shapely.geometry import Polygon

BOARD = "  - plate: {name: board, shape: rounded, width: %d mm, height: %d mm, corner: 12 mm}"


def recipe(seed):
    rng = random.Random(seed)
    width, height = rng.randint(260, 500), rng.randint(160, 300)
    lines = ["holdfast: 1", "metal: {kind: mild steel, thickness: 3 mm}", "process: {kerf: 1.5 mm}", "mount: holes", "entries:", BOARD % (width, height)]
    lines.append(f"  - plate: {{shape: oval, width: {rng.randint(40, 100)} mm, height: {rng.randint(30, 60)} mm, as: opening, shift: [{rng.randint(-60, 60)} mm, {rng.randint(-40, 10)} mm]}}")
    for name in ["left", "right"][: rng.randint(1, 2)]:
        x = (-1 if name == "left" else 1) * rng.randint(40, width // 2 - 20)
        lines.append(f"  - hole: {{name: {name}, diameter: 8 mm, shift: [{x} mm, {height // 2 - rng.randint(15, 25)} mm]}}")
    return "\n".join(lines) + "\n"


def metal_of(folder):
    """The metal by shapely, in the sign's frame (the drawing's y runs down)."""
    rings = rings_of_svg(folder / ("metal.svg" if (folder / "metal.svg").exists() else "not-to-be-cut.svg"))
    metal = Polygon()
    for ring in sorted(map(Polygon, rings), key=lambda p: -p.area):
        metal = metal.symmetric_difference(ring)
    return metal, len(rings)


@pytest.mark.parametrize("seed", range(12))
def test_figures_and_hanging(seed, make):
    made = make(recipe(seed))
    assert made.code in (0, 1), made.err
    figures, hanging = made.report["figures"], made.report["hanging"]
    metal, rings = metal_of(made.folder)
    box = figures["box"]
    x0, y1 = metal.bounds[0], metal.bounds[3]
    cx, cy = metal.centroid.x - x0 + box["x"], y1 - metal.centroid.y + box["y"]
    assert figures["area"] == pytest.approx(metal.area, rel=2e-4)
    assert figures["mass"] == pytest.approx(metal.area * 3 * 7850e-9, rel=2e-4)
    assert figures["cut_length"] == pytest.approx(metal.length, rel=2e-4)
    assert figures["pierces"] == rings
    assert (figures["centroid"]["x"], figures["centroid"]["y"]) == pytest.approx((cx, cy), abs=0.01)
    points = [(p["place"]["x"], p["place"]["y"], p["share"]) for p in hanging["points"]]
    if len(points) == 1:
        hx, hy, share = points[0]
        # turned by this much, the centre lies straight under the hole
        turn = math.radians(hanging["turn"])
        dx, dy = cx - hx, cy - hy
        assert math.cos(turn) * dx - math.sin(turn) * dy == pytest.approx(0, abs=0.01)
        assert math.sin(turn) * dx + math.cos(turn) * dy < 0
        assert share == 1
    else:
        (ax, ay, sa), (bx, by, sb) = sorted(points)
        assert hanging["turn"] == pytest.approx(-math.degrees(math.atan2(by - ay, bx - ax)), abs=0.01)
        # moments about a, with the line from a to b level
        along = ((cx - ax) * (bx - ax) + (cy - ay) * (by - ay)) / math.hypot(bx - ax, by - ay)
        assert sb == pytest.approx(along / math.hypot(bx - ax, by - ay), abs=1e-3)
        assert sa + sb == pytest.approx(1, abs=1e-5)
