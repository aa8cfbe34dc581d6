# SPDX-License-Identifier: GPL-3.0-or-later
"""Ornaments from outside, in shapely: of metal one piece, as high as was said, in the proportion that
the reference states; those that are meant to be symmetric are; mirrored, each is its mirror image; cut
through, what is left of the plate is one piece, and plate less opening is what was drawn."""
import json
import math
import re
import subprocess
import xml.etree.ElementTree as xml

import pytest
from shapely import affinity
from shapely.geometry import Polygon
from shapely.ops import unary_union
from shapely.validation import make_valid

from conftest import HOLDFAST, holdfast

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 2 mm}\nprocess: {kerf: 1 mm}\nentries:\n"
HIGH = 200
# across the upright axis; across the level one; by half a turn
SYMMETRIC = {"heart", "paw", "anchor", "cross", "star", "sun", "conifer", "broad-leaved tree", "bird", "horseshoe",
             "crown", "gear", "flourish", "laurel"}
LEVEL = {"crescent", "arrow", "rope knot"}
HALF_TURN = {"scroll"}


def forms():
    printed = subprocess.run([str(HOLDFAST), "recipe"], capture_output=True, text=True, check=True).stdout
    table = printed[printed.index("### ornament"):]
    rows = re.findall(r"^\| ([a-z -]+) \| ([\d.]+) \|", table, re.M)
    return {word: float(wide) / 100 for word, wide in rows if word != "form"}


FORMS = forms()
STEP = 0.02  # rad along an arc


def arc(start, radii, large, sweep, end):
    """The points of an SVG arc of a circle, without its start (SVG 2, F.6.5)."""
    (x1, y1), (x2, y2), r = start, end, radii
    dx, dy = (x1 - x2) / 2, (y1 - y2) / 2
    half = math.hypot(dx, dy)
    r = max(r, half)
    off = math.sqrt(max(r * r - half * half, 0)) / half * (-1 if large == sweep else 1)
    cx, cy = (x1 + x2) / 2 + off * dy, (y1 + y2) / 2 - off * dx
    a, b = math.atan2(y1 - cy, x1 - cx), math.atan2(y2 - cy, x2 - cx)
    turn = (b - a) % (2 * math.pi) if sweep else -((a - b) % (2 * math.pi))
    n = max(1, math.ceil(abs(turn) / STEP))
    return [(cx + r * math.cos(a + turn * i / n), cy + r * math.sin(a + turn * i / n)) for i in range(1, n + 1)]


def rings(d):
    out, pen = [], (0, 0)
    for how, rest in re.findall(r"([MLHVAZ])([^MLHVAZ]*)", d):
        v = [float(x) for x in re.findall(r"-?[\d.]+(?:e-?\d+)?", rest)]
        if how == "M":
            out.append([])
            v = v[:2]
            pen = (v[0], v[1])
            out[-1].append(pen)
        elif how == "A":
            for i in range(0, len(v), 7):
                out[-1] += arc(pen, v[i], bool(v[i + 3]), bool(v[i + 4]), (v[i + 5], v[i + 6]))
                pen = out[-1][-1]
        elif how != "Z":
            assert how == "L", how
            for i in range(0, len(v), 2):
                pen = (v[i], v[i + 1])
                out[-1].append(pen)
    return out


def solid(shape):
    """Without the slivers of chords that cross where two arcs meet in a cusp."""
    pieces = [it for it in getattr(shape, "geoms", [shape]) if it.geom_type == "Polygon" and it.area > 0.05]
    return pieces[0] if len(pieces) == 1 else unary_union(pieces)


def metal_of(file):
    """All the metal of an SVG of ours, y up: one path a part, its openings nested."""
    parts = []
    for path in xml.parse(file).getroot().iter("{http://www.w3.org/2000/svg}path"):
        own = [solid(make_valid(Polygon(ring))) for ring in rings(path.get("d"))]
        own.sort(key=lambda it: -it.area)
        parts.append(own[0].difference(unary_union(own[1:])) if len(own) > 1 else own[0])
    return affinity.scale(solid(unary_union(parts)), 1, -1, origin=(0, 0)), len(parts)


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Every form as metal, mirrored, and cut from a plate: one file each."""
    folder = tmp_path_factory.mktemp("ornaments")
    recipes = []
    for word, wide in FORMS.items():
        own = f"form: {word}, height: {HIGH} mm"
        plate = f"  - plate: {{name: board, shape: rectangle, width: {wide * HIGH + 120} mm, height: {HIGH + 120} mm}}\n"
        for kind, entries in (("metal", f"  - ornament: {{{own}}}\n"),
                              ("mirrored", f"  - ornament: {{{own}, mirror: yes}}\n"),
                              ("cut", plate + f"  - ornament: {{{own}, as: opening, on: board, at: centre}}\n")):
            recipes.append(folder / f"{kind}-{word.replace(' ', '-')}.yaml")
            recipes[-1].write_text(HEAD + entries)
    done = holdfast("make", "--quiet", *recipes, "-o", folder / "out")
    assert done.returncode == 0, done.stderr
    return folder / "out"


def load(made, kind, word):
    folder = made / f"{kind}-{word.replace(' ', '-')}"
    metal, parts = metal_of(folder / "metal.svg")
    middle = metal.envelope.centroid
    return affinity.translate(metal, -middle.x, -middle.y), parts, json.loads((folder / "report.json").read_text())


def apart(a, b):
    """The share of a's area in which they differ."""
    return a.symmetric_difference(b).area / a.area


def test_there_are_enough():
    assert len(FORMS) >= 24 and SYMMETRIC | LEVEL | HALF_TURN <= set(FORMS)


@pytest.mark.parametrize("word", FORMS)
def test_as_metal(made, word):
    metal, parts, report = load(made, "metal", word)
    left, low, right, high = metal.bounds
    assert report["verdict"] == "whole" and parts == 1 and metal.geom_type == "Polygon"
    assert high - low == pytest.approx(HIGH, abs=0.02)
    assert right - left == pytest.approx(HIGH * FORMS[word], abs=0.12)  # the reference says a tenth of a percent
    assert metal.area > 0.1 * (right - left) * HIGH
    mirrored, _, _ = load(made, "mirrored", word)
    assert apart(metal, affinity.scale(mirrored, -1, 1, origin=(0, 0))) < 2e-3


@pytest.mark.parametrize("word", sorted(SYMMETRIC | LEVEL | HALF_TURN))
def test_symmetric(made, word):
    metal, _, _ = load(made, "metal", word)
    other = (affinity.scale(metal, -1, 1, origin=(0, 0)) if word in SYMMETRIC
             else affinity.scale(metal, 1, -1, origin=(0, 0)) if word in LEVEL else affinity.rotate(metal, 180, origin=(0, 0)))
    assert apart(metal, other) < 3e-3


@pytest.mark.parametrize("word", FORMS)
def test_cut_through(made, word):
    metal, parts, report = load(made, "cut", word)
    assert report["verdict"] == "whole" and parts == 1 and metal.geom_type == "Polygon" and len(metal.interiors) >= 1
    opening = unary_union([Polygon(ring) for ring in metal.interiors])
    left, low, right, high = opening.bounds
    assert high - low <= HIGH + 0.02
    # a paw that is cut through has its toes farther out; bars may take an end off
    assert (0.97 if word == "paw" else 0.9) * FORMS[word] < (right - left) / HIGH < (1.05 if word == "paw" else 1.001) * FORMS[word]
    assert high - low > 0.85 * HIGH
