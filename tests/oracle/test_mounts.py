# SPDX-License-Identifier: GPL-3.0-or-later
"""What a sign is fixed by, against tables and libraries: clearance holes against ISO 273 as published, slots and keyholes against shapely."""
import math

import pytest
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from reading import rings_of_svg

CHORD = 0.02  # mm: rings of the SVG are read in chords
HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1 mm}\nentries:\n" \
       "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"

# engineeringhardware.com/?p=50: ISO 273, fine H12, medium H13, coarse H14
ISO_273 = {"M3": (3.2, 3.4, 3.6), "M4": (4.3, 4.5, 4.8), "M5": (5.3, 5.5, 5.8), "M6": (6.4, 6.6, 7.0), "M8": (8.4, 9.0, 10.0),
           "M10": (10.5, 11.0, 12.0), "M12": (13.0, 13.5, 14.5), "M16": (17.0, 17.5, 18.5)}
# engineeringhardware.com/guide/standard/iso-10642-countersunk-socket-screws
ISO_10642 = {"M3": 6.72, "M4": 8.96, "M5": 11.2, "M6": 13.44, "M8": 17.92, "M10": 22.4, "M12": 26.88, "M16": 33.6}


def opening(made):
    """The opening that is cut in the board, in the sign's frame: y up, from the board's middle."""
    svg = next(made.folder / name for name in ("metal.svg", "not-to-be-cut.svg") if (made.folder / name).exists())
    board, cut = sorted(map(Polygon, rings_of_svg(svg)), key=lambda it: -it.area)
    middle = board.centroid
    return Polygon([(x - middle.x, middle.y - y) for x, y in cut.exterior.coords])


@pytest.mark.parametrize("screw", ISO_273)
def test_clearance_holes(make, screw):
    """What is cut is as wide as ISO 273 says, in each series, and the report says by which screw; its countersink takes up the head."""
    for fit, wide in zip(("fine", "medium", "coarse"), ISO_273[screw]):
        made = make(f"{HEAD}  - hole: {{screw: {screw}, fit: {fit}, countersink: yes, on: board, at: [40 mm, 20 mm]}}\n", name=fit)
        cut = opening(made)
        assert cut.area == pytest.approx(math.pi * wide ** 2 / 4, rel=0.003)
        (hole,) = made.report["holes"]
        assert (hole["screw"], hole["fit"], hole["diameter"]) == (screw, fit, wide)
        assert (hole["place"]["x"], hole["place"]["y"]) == (40, 20)
        assert hole["countersink"] == {"diameter": ISO_10642[screw], "depth": pytest.approx((ISO_10642[screw] - wide) / 2), "angle": 90}


@pytest.mark.parametrize("turn", [0, 35, 90])
def test_slots(make, turn):
    """A slot is all that is within half its width of a line."""
    made = make(f"{HEAD}  - slot: {{width: 9 mm, length: 40 mm, on: board, at: [30 mm, 10 mm], turn: {turn} deg}}\n")
    way = math.cos(math.radians(turn)) * 15.5, math.sin(math.radians(turn)) * 15.5
    wanted = LineString([(30 - way[0], 10 - way[1]), (30 + way[0], 10 + way[1])]).buffer(4.5, 256)
    origin = made.report["holes"][0]["place"]
    assert (origin["x"], origin["y"]) == (30, 10)
    assert opening(made).hausdorff_distance(wanted) < CHORD


def test_keyholes(make):
    """A keyhole is a circle, and all within half a shank of the line up from its middle."""
    made = make(f"{HEAD}  - keyhole: {{head: 16 mm, shank: 8 mm, length: 18 mm, on: board, at: [-60 mm, 30 mm]}}\n")
    wanted = unary_union([Point(-60, 12).buffer(8, 256), LineString([(-60, 12), (-60, 30)]).buffer(4, 256)])
    assert opening(made).hausdorff_distance(wanted) < CHORD
