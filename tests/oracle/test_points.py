# SPDX-License-Identifier: GPL-3.0-or-later
"""Outer points against shapely: the outline opened with a disc of 2 mm loses what is sharper.

A point of angle a, rounded to r, sticks out of the opened outline by (2 - r) (1 / sin(a / 2) - 1): more
than 2 mm only when it is under 60 degrees. So whatever sticks out by far more must be found, and whatever
is found must stick out. Angles and radii of the law: common practice, no source.
"""
import random

import pytest
from reading import rings_of_svg
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

RADIUS = 2.0
SHORT, LONG = 12, 80
FACES = ["Lobster Two", "Bebas Neue", "DejaVu Sans", "{family: DejaVu Sans, style: Bold}"]
LETTERS = "AKMNVWXYZRaekrstvwyz14727"


def recipe(seed):
    rng = random.Random(seed)
    text = "".join(rng.choice(LETTERS) for _ in range(rng.randint(2, 5)))
    kind = rng.randrange(3)
    lines = ["holdfast: 1", "metal: {kind: mild steel, thickness: 3 mm}", "process: {kerf: 1.5 mm}", "entries:"]
    if kind == 0:
        points, depth = rng.randint(4, 12), rng.randint(30, 90)
        lines.append(f"  - star: {{diameter: {rng.randint(60, 200)} mm, points: {points}, depth: {depth} %}}")
    elif kind == 1:
        lines.append(f"  - diamond: {{height: {rng.randint(40, 160)} mm, width: {rng.randint(20, 90)} mm}}")
    else:
        lines.append("  - bar: {name: rail, length: 900 mm, height: 25 mm}")
        lines.append(f"  - words: {{text: '{text}', font: {rng.choice(FACES)}, height: {rng.randint(110, 160)} mm, stand on: rail, spacing: 3 mm}}")
    return "\n".join(lines) + "\n"


def outer_of(path):
    """The outer outlines, openings filled."""
    rings = [Polygon(ring).buffer(0) for ring in rings_of_svg(path)]
    return unary_union(rings)


def sticks_out(outline, opened):
    """What an opening with the disc takes away: (farthest place, how far) of each piece."""
    rest = outline.difference(opened)
    pieces = rest.geoms if hasattr(rest, "geoms") else [rest]
    out = []
    for piece in pieces:
        if piece.is_empty:
            continue
        far = max(piece.exterior.coords, key=lambda p: opened.distance(Point(p)))
        out.append((Point(far), opened.distance(Point(far))))
    return out


def check(seed, make):
    made = make(recipe(seed))
    assert made.code in (0, 1), made.err
    svg = made.folder / "metal.svg"
    outline = outer_of(svg if svg.exists() else made.folder / "not-to-be-cut.svg")
    box = made.report["figures"]["box"]
    left, _, _, low = outline.bounds  # the drawing's y runs down
    places = [Point(left + p["x"] - box["x"], low - (p["y"] - box["y"])) for f in made.report["findings"] if f["key"] == "sharp-point" for p in f["places"]]
    opened = outline.buffer(-RADIUS, 32).buffer(RADIUS, 32)
    for at, far in sticks_out(outline, opened):
        if far > 3.2:
            assert any(place.distance(at) < 4 for place in places), f"seed {seed}: a point at {at.coords[0]} sticks out by {far:.2f} mm and is not found"
    for place in places:
        assert opened.distance(place) > 0.05, f"seed {seed}: {place.coords[0]} is called sharp and sticks out nowhere"
    return len(places)


@pytest.mark.parametrize("seed", range(SHORT))
def test_points(seed, make):
    check(seed, make)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(SHORT, LONG))
def test_points_long(seed, make):
    check(seed, make)
