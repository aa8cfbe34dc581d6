# SPDX-License-Identifier: GPL-3.0-or-later
"""What the rule `mend` leaves as it is, read from outside: metal.svg with and without the rule, by shapely.

The outer edge of a plate, ring or bar does not move; what changes lies near a place that a finding names; of
each letter each piece of air or metal, and each counter, is there as before.
"""
import json
import subprocess

import pytest
import random_signs
from reading import rings_of_svg
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

from conftest import HOLDFAST, LONG
from test_outlines import dxf_contours, length_of

REACH = 30  # mm: a web is named by one place of it
HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: %s mm}\nprocess: {kerf: %s mm}\nentries:\n"
# Words that go wrong when a rule does too much: each a class.
NAMED = {
    "counters too small to pierce": (3, 1.5, """  - bar: {name: rail, length: 220 mm, height: 20 mm}
  - words: {text: Bea 869, font: {family: DejaVu Sans, style: Bold}, height: 16 mm, stand on: rail, spacing: 2 mm}
""", "{fill: yes}"),
    "a letter beside the edge": (4, 1.4, """  - plate: {name: board, shape: rectangle, width: 200 mm, height: 90 mm}
  - words: {text: Jürgen, font: DejaVu Sans, height: 40 mm, as: opening, on: board, shift: [11 mm, 0 mm]}
  - ties: {}
""", "{}"),
    "letters that run off": (3, 1.5, """  - plate: {name: board, shape: rectangle, width: 240 mm, height: 120 mm}
  - words: {text: TIMBER, font: Bebas Neue, height: 80 mm, as: opening, on: board, shift: [24 mm, 0 mm]}
  - ties: {}
""", "{thicken: yes}"),
    "points that carry nothing": (3, 1.5, """  - plate: {name: board, shape: rectangle, width: 240 mm, height: 120 mm}
  - words: {text: MNW, font: Bebas Neue, height: 80 mm, as: opening, on: board}
""", "{thicken: yes}"),
    "thin between letters": (3, 1.5, """  - plate: {name: board, shape: rounded, width: 260 mm, height: 100 mm, corner: 12 mm}
  - words: {text: Biscuit, font: {family: Lobster Two, style: Bold}, height: 48 mm, as: opening, on: board, spacing: 8 %}
  - ties: {}
""", "{}"),
}


def made(text, folder, name):
    recipe = folder / f"{name}.yaml"
    recipe.write_text(text)
    done = subprocess.run([str(HOLDFAST), "make", recipe, "-o", folder / "out"], capture_output=True, text=True, timeout=300)
    if done.returncode > 1:
        return None
    out = folder / "out" / name
    stem = "metal" if (out / "metal.svg").exists() else "not-to-be-cut"
    report = json.loads((out / "report.json").read_text())
    metal = Polygon()
    for ring in rings_of_svg(out / f"{stem}.svg"):
        metal = metal.symmetric_difference(Polygon(ring).buffer(0))
    return metal, report


def pieces(shape, least=0.2):
    parts = getattr(shape, "geoms", [shape])
    return [p for p in parts if not p.is_empty and p.area > least]


def placed(report):
    """Where findings lie, in the frame of the SVG: it begins at the metal's upper left corner, y down."""
    box = report["figures"]["box"]
    return unary_union([Point(p["x"] - box["x"], box["y"] + box["height"] - p["y"]).buffer(REACH)
                        for f in report["findings"] if f["gravity"] != "note" for p in f["places"]])


def edges(metal):
    return unary_union([Polygon(p.exterior) for p in pieces(metal)])


def check_spared(before, after):
    """Openings and parts of the sign: none is gone, none is split, each keeps most of itself."""
    holes = [Polygon(r) for p in pieces(before) for r in p.interiors if Polygon(r).area > 1]
    for hole in holes:
        left = pieces(hole.difference(after))
        assert len(left) == 1, ("an opening is gone or in two", hole.bounds)
        assert left[0].area > 0.7 * hole.area, ("an opening is hardly there", hole.bounds, left[0].area / hole.area)
    for part in pieces(before, 1):
        left = pieces(part.intersection(after), 1)
        assert len(left) == 1 and left[0].area > 0.7 * part.area, ("a part is gone or in two", part.bounds)


@pytest.mark.parametrize("name", sorted(NAMED))
def test_letters_and_edges_stay(name, tmp_path):
    thickness, kerf, entries, rule = NAMED[name]
    text = HEAD % (thickness, kerf) + entries
    before, _ = made(text, tmp_path, "before")
    after, report = made(text + f"  - mend: {rule}\n", tmp_path, "after")
    check_spared(before, after)
    if "plate" in entries:
        assert after.bounds == pytest.approx(before.bounds, abs=2e-3)
        box = before.envelope.buffer(0)
        assert edges(after).difference(box.buffer(2e-3)).area < 1e-3


def test_mended_outlines_are_curves(tmp_path):
    """No piece under 0.02 mm, and hardly a run of short lines: what is added comes out as arcs."""
    thickness, kerf, entries, rule = NAMED["thin between letters"]
    text = HEAD % (thickness, kerf) + entries
    before, _ = made(text, tmp_path, "before")
    after, _ = made(text + f"  - mend: {rule}\n", tmp_path, "after")
    assert after.difference(before).area > 1  # something was added
    file = next((tmp_path / "out" / "after").glob("*.dxf"))
    runs = 0
    for _, curves, _ in dxf_contours(file):
        assert min(length_of([c]) for c in curves) >= 0.02
        runs += sum(a[2] is None and b[2] is None and max(length_of([a]), length_of([b])) < 1
                    for a, b in zip(curves, curves[1:] + curves[:1]))
    assert runs < 16, runs


def test_points_become_no_sticks(tmp_path):
    """A point of metal that carries nothing stays, or becomes shorter with a round end; none becomes a stick."""
    thickness, kerf, entries, rule = NAMED["points that carry nothing"]
    text = HEAD % (thickness, kerf) + entries
    before, was = made(text, tmp_path, "before")
    after, report = made(text + f"  - mend: {rule}\n", tmp_path, "after")
    if [f for f in was["findings"] if f["gravity"] == "stop" and "tail" in f["text"]]:
        assert before.difference(after).area > 1
    assert after.difference(before).area < 0.01 * before.symmetric_difference(after).area + 0.05
    tails = [f for f in report["findings"] if f["gravity"] == "stop" and "tail" in f["text"]]
    assert not tails


SEEDS = [5, 9, 13, 17, 24, 28, 59]


@pytest.mark.parametrize("seed", range(120) if LONG else SEEDS)
def test_random_signs_keep_their_edges(seed, tmp_path):
    """Cut-through words: the plate's edge is what it was; what changes lies near a finding."""
    text, what = random_signs.recipe(seed)
    first, second = made(text, tmp_path, "before"), made(text + "  - mend: {fill: yes, thicken: yes}\n", tmp_path, "after")
    if first is None or second is None:
        pytest.skip("can't be laid")
    (before, report), after = first, second[0]
    if what["shape"] == "cut":
        assert after.bounds == pytest.approx(before.bounds, abs=2e-3)
        check_spared(before, after)
    if after.bounds == pytest.approx(before.bounds, abs=2e-3):  # one frame
        changed = before.symmetric_difference(after).buffer(-0.02)
        assert changed.difference(placed(report)).area < 0.05


@pytest.mark.parametrize("gap", [0.4, 0.9, 1.3])
def test_filled_gaps_end_in_arcs(gap, tmp_path):
    """An L over a bar: what is filled is what a disc of 0.6 limits can't reach from outside, by shapely's closing (grown by r, shrunk by r)."""
    kerf = 1.5
    text = HEAD % (3, kerf) + ("  - bar: {name: rail, length: 120 mm, height: 20 mm}\n"
                               "  - words: {text: L, font: {family: DejaVu Sans, style: Bold}, height: 60 mm, at: [0 mm, %.4f mm]}\n")
    far = pieces(made(text % 90, tmp_path, "far")[0])
    text = text % (90 - far[0].distance(far[1]) + gap)
    before, _ = made(text, tmp_path, "before")
    after, _ = made(text + "  - mend: {fill: yes}\n", tmp_path, "after")
    assert len(pieces(before)) == 2 and len(pieces(after)) == 1
    r = 1.2 * kerf / 2
    closed = before.buffer(r, 64).buffer(-r, 64)
    assert after.difference(closed.buffer(0.02)).area < 0.005  # nothing juts out: no bead, no step
    left = pieces(closed.difference(after.buffer(0.02)), 0.005)
    assert all(one.bounds[3] - one.bounds[1] < r + 0.1 and one.area < 0.3 * r * r for one in left), [one.bounds for one in left]  # but the L's own inner corner
    curves = [c for _, one, _ in dxf_contours(next((tmp_path / "out" / "after").glob("*.dxf"))) for c in one]
    assert min(length_of([c]) for c in curves) >= 0.02 and len(curves) <= 16, len(curves)  # 4 + 6 sides, less one each, more where the ends are
