# SPDX-License-Identifier: GPL-3.0-or-later
"""How deep letters bite, and how wide their joints are, by shapely on the placed shapes.

Real faces, plain, slanted and script. A contact here is a separate piece of letter and ring or bar
(docs/maths.md#contact); its deepest point must be at least the stated bite, since its shallowest
mark is. On a bar the least of the deepest is the bite itself when the feet are round or level.
Joints: the two letters eroded by half the joint's width, a little less and a little more.
"""
import json
import math
import random
import subprocess

import pytest

from conftest import HOLDFAST, LONG

shapely = pytest.importorskip("shapely")
from shapely.geometry import Point, Polygon, box  # noqa: E402
from shapely.ops import unary_union  # noqa: E402

DUMP = HOLDFAST.parent / "tests" / "tools" / "layout_dump"
HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nmount: none\nentries:\n"
FACES = ["Bebas Neue", "Lobster Two", "DejaVu Serif", "DejaVu Sans", "Vollkorn",
         "{family: DejaVu Sans, style: Oblique}", "{family: Lobster Two, style: Bold Italic}"]
TEXTS = ["HARBOUR", "SALTMARSH", "QUAY 27", "BOATS & CO", "TIDES", "WAVY", "Saltmarsh Quay", "Mixed Case", "Ropes"]


def letter(contours):
    """Even-odd: right for faces whose contours do not overlap, as all of these."""
    shape = Polygon()
    for flat in contours:
        points = list(zip(flat[0::2], flat[1::2]))
        if len(points) > 2:
            shape = shape.symmetric_difference(Polygon(points).buffer(0))
    return shape


def lay(tmp_path, entries):
    if not DUMP.exists():
        pytest.skip("layout_dump is not built")
    recipe = tmp_path / "bites.yaml"
    recipe.write_text(HEAD + entries)
    done = subprocess.run([DUMP, recipe], capture_output=True, text=True, timeout=600)
    if done.returncode != 0:
        assert "not installed" in done.stderr or "make" in done.stderr, done.stderr
        return None
    return [json.loads(line) for line in done.stdout.splitlines()]


def pieces(shape):
    return [p for p in getattr(shape, "geoms", [shape]) if not p.is_empty and p.area > 1e-6]


def least_of_deepest(letters, region, depth):
    deepest = [max(depth(x, y) for x, y in piece.exterior.coords)
               for shape in letters for piece in pieces(shape.intersection(region))]
    return min(deepest) if deepest else math.inf


def cases(seed, n):
    rng = random.Random(seed)
    return [(rng.choice(TEXTS), rng.choice(FACES), rng.choice([1, 2, 3]), rng.choice(["top", "bottom"])) for _ in range(n)]


def test_standing_on_a_bar(tmp_path):
    checked = 0
    for text, face, bite, _ in cases(1, 120 if LONG else 30):
        made = lay(tmp_path, f'  - bar: {{name: rail, length: 1200 mm, height: 40 mm}}\n'
                             f'  - words: {{text: "{text}", font: {face}, height: 100 mm, stand on: rail, bite: {bite} mm}}\n')
        if made is None:
            continue
        letters = [letter(s["contours"]) for s in made if s["letter"] >= 0]
        least = least_of_deepest(letters, box(-5000, -5000, 5000, 20), lambda x, y: 20 - y)
        assert least > bite - 0.003, (text, face)
        if face in ("Bebas Neue", "DejaVu Sans"):  # level feet; a slanted one has a shallower corner
            assert least == pytest.approx(bite, abs=0.003), (text, face)
        checked += 1
    assert checked >= 15


def test_filling_a_band(tmp_path):
    checked = 0
    for text, face, bite, at in cases(2, 120 if LONG else 30):
        made = lay(tmp_path, f'  - ring: {{name: outer, outer: 1000 mm, width: 40 mm}}\n'
                             f'  - ring: {{name: inner, outer: 780 mm, width: 60 mm}}\n'
                             f'  - words: {{text: "{text}", font: {face}, band: [inner, outer], fill band: yes, bite: {bite} mm, at: {at}}}\n')
        if made is None:
            continue
        letters = [letter(s["contours"]) for s in made if s["letter"] >= 0]
        window, rim = Point(0, 0).buffer(390, 4096), Point(0, 0).buffer(460, 4096)
        assert least_of_deepest(letters, window, lambda x, y: 390 - math.hypot(x, y)) > bite - 0.003, (text, face)
        beyond = Point(0, 0).buffer(2000, 64).difference(rim)
        assert least_of_deepest(letters, beyond, lambda x, y: math.hypot(x, y) - 460) > bite - 0.003, (text, face)
        reach = [math.hypot(x, y) for s in letters for p in pieces(s) for x, y in p.exterior.coords]
        assert max(reach) < 500 + 0.01 and min(reach) > 330 - 0.01, (text, face)
        checked += 1
    assert checked >= 10


def test_joined_pair_by_pair(tmp_path):
    """Eroded by a little less than half the joint's width, neighbours still hang together."""
    wanted, checked = 4, 0
    for face in ["Bebas Neue", "DejaVu Sans", "Lobster Two"]:
        for text in ["HARBOUR", "TIDES", "Ropes"]:
            made = lay(tmp_path, f'  - words: {{text: "{text}", font: {face}, height: 100 mm, spacing: joined pair by pair, joint: {wanted} mm}}\n')
            if made is None:
                continue
            letters = [letter(s["contours"]) for s in made if s["letter"] >= 0]
            for a, b in zip(letters, letters[1:]):
                eroded = unary_union([a, b]).buffer(-wanted / 2 + 0.02, 64)
                before = len(pieces(a.buffer(-wanted / 2 + 0.02, 64))) + len(pieces(b.buffer(-wanted / 2 + 0.02, 64)))
                assert len(pieces(eroded)) < before, (text, face)
                checked += 1
    assert checked >= 20
