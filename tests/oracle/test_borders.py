# SPDX-License-Identifier: GPL-3.0-or-later
"""Borders against shapely: the line lies between two buffers of the plate, all of what is cut and nothing else; ornaments of a border are the
ornament that is cut by itself, each apart from the next, their tops to the edge."""
import math

import pytest
from shapely.geometry import JOIN_STYLE, Point, Polygon
from shapely.ops import unary_union

from conftest import holdfast
from reading import rings_of_svg

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 2 mm}\nprocess: {kerf: 1 mm}\nentries:\n"
PLATES = ["round, diameter: 400 mm", "oval, width: 520 mm, height: 360 mm", "rectangle, width: 480 mm, height: 320 mm",
          "rounded, width: 480 mm, height: 320 mm, corner: 40 mm", "polygon, sides: 6, diameter: 440 mm", "arch-topped, width: 480 mm, height: 340 mm, rise: 90 mm",
          "ticket, width: 480 mm, height: 320 mm"]
CLOSE = 0.02  # mm: outlines are fitted within 0.01 mm, chords of arcs are read within 0.002
FINE = 256    # chords of a quarter in shapely's buffer


def cut_of(tmp_path, plate, border):
    """(the plate, its openings), as the outlines have them."""
    file = tmp_path / "sign.yaml"
    file.write_text(f"{HEAD}  - plate: {{name: board, shape: {plate}}}\n  - border: {{on: board, {border}}}\n")
    done = holdfast("make", file, "-o", tmp_path / "out", "--quiet")
    assert done.returncode in (0, 1), done.stderr
    out = tmp_path / "out" / "sign"
    rings = rings_of_svg(next(it for it in (out / "metal.svg", out / "not-to-be-cut.svg") if it.exists()))
    board, *openings = sorted(map(Polygon, rings), key=lambda it: -it.area)
    return board, openings


@pytest.mark.parametrize("plate", PLATES)
@pytest.mark.parametrize("inset,width", [(14, 5), (22.5, 8)])
def test_a_line_between_two_buffers(tmp_path, plate, inset, width):
    board, openings = cut_of(tmp_path, plate, f"form: plain, inset: {inset} mm, width: {width} mm, ties: 6 mm")
    outer, inner = (board.buffer(-by, resolution=FINE, join_style=JOIN_STYLE.mitre, mitre_limit=50) for by in (inset, inset + width))
    band = outer.difference(inner)
    cut = unary_union(openings)
    assert cut.difference(band.buffer(CLOSE)).area == 0
    # all of it but the ties: each leaves out 6 mm of the width, a little more where the line bends
    missing = band.difference(cut).buffer(-0.01, join_style=JOIN_STYLE.mitre).buffer(0.01, join_style=JOIN_STYLE.mitre)  # without slivers of rounding
    ties = [it for it in getattr(missing, "geoms", [missing]) if it.area > 0.2 * width * 6]
    assert len(ties) == len(openings)
    assert missing.area == pytest.approx(len(ties) * 6 * width, rel=0.03)
    assert min(it.distance(board.exterior) for it in openings) == pytest.approx(inset, abs=CLOSE)


def ornament_alone(tmp_path, form, high):
    (tmp_path / "alone").mkdir()
    file = tmp_path / "alone" / "one.yaml"
    file.write_text(f"{HEAD}  - plate: {{name: board, shape: rectangle, width: 600 mm, height: 600 mm}}\n"
                    f"  - ornament: {{form: {form}, height: {high} mm, on: board, at: centre, as: opening}}\n")
    assert holdfast("make", file, "-o", tmp_path / "alone", "--quiet").returncode == 0
    board, *openings = sorted(map(Polygon, rings_of_svg(tmp_path / "alone/one/metal.svg")), key=lambda it: -it.area)
    return openings


@pytest.mark.parametrize("plate", PLATES)
@pytest.mark.parametrize("form,high", [("heart", 26), ("star", 30), ("fish", 40)])
def test_ornaments_of_a_border(tmp_path, plate, form, high):
    alone = ornament_alone(tmp_path, form, high)
    board, openings = cut_of(tmp_path, plate, f"form: ornaments, of: {form}, inset: 15 mm, width: {high} mm, ties: 5 mm")
    n = len(openings) // len(alone)
    assert n >= 6 and len(openings) == n * len(alone)
    assert sum(it.area for it in openings) == pytest.approx(n * sum(it.area for it in alone), rel=2e-3)
    # inside the band; a straight picture on a bent line reaches over it by its corners: c^2 / 2 r, here c <= 40 and r >= 80 mm
    depth = [Point(p).distance(board.exterior) for it in openings for p in it.exterior.coords]
    bend = 40 ** 2 / 160
    assert 15 - bend <= min(depth) and max(depth) <= 15 + high + bend
    assert min(depth) < 15 + 0.15 * high and max(depth) > 15 + 0.85 * high
    # apart
    pieces = sorted(openings, key=lambda it: math.atan2(it.centroid.y - board.centroid.y, it.centroid.x - board.centroid.x))
    if len(alone) == 1:
        assert min(a.distance(b) for a, b in zip(pieces, pieces[1:] + pieces[:1])) >= 5 - CLOSE


def test_tops_are_to_the_edge(tmp_path):
    """A heart's tip is its foot: of each the farthest point from the edge lies on the line from its middle away from the edge."""
    board, openings = cut_of(tmp_path, PLATES[0], "form: ornaments, of: heart, inset: 15 mm, width: 30 mm")
    middle = board.centroid
    for heart in openings:
        x, y = heart.centroid.x - middle.x, heart.centroid.y - middle.y
        tip = min(heart.exterior.coords, key=lambda p: math.hypot(p[0] - middle.x, p[1] - middle.y))
        turned = math.atan2(x * (tip[1] - middle.y) - y * (tip[0] - middle.x), x * (tip[0] - middle.x) + y * (tip[1] - middle.y))
        assert abs(turned) < 0.01


@pytest.mark.parametrize("count", [8, 12])
def test_as_many_as_are_asked_for(tmp_path, count):
    _, openings = cut_of(tmp_path, PLATES[0], f"form: ornaments, of: heart, inset: 15 mm, width: 30 mm, count: {count}")
    assert len(openings) == count


@pytest.mark.parametrize("border,says", [
    ("form: plain, of: leaf, inset: 15 mm, width: 5 mm", "of"),
    ("form: ornaments, of: flourish, inset: 15 mm, width: 120 mm", "no side of it has room for one ornament"),
    ("form: ornaments, of: haert, inset: 15 mm, width: 30 mm", "heart"),
])
def test_what_can_not_be(tmp_path, border, says):
    file = tmp_path / "sign.yaml"
    file.write_text(f"{HEAD}  - plate: {{name: board, shape: rectangle, width: 400 mm, height: 300 mm}}\n  - border: {{on: board, {border}}}\n")
    done = holdfast("check", file)
    assert done.returncode == 2 and says in done.stderr and "6:" in done.stderr, done.stderr
