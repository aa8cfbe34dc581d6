# SPDX-License-Identifier: GPL-3.0-or-later
"""A piece is taken out of the middle of a stroke: a block over the foot of an O that is cut through, an opening through the bowl
of a standing one. Both ends of the stroke stay, so nothing is told of an end; a stop must name the letter all the same, rules
behind it or not. What a tie takes (a third of the stroke, straight across) is harmless, and nothing may be said of it.

Outlines by fontTools; what a block takes, how much of its edge is the letter's and how often it runs across the ink, by shapely.
"""
import math
import random

import pytest

from conftest import LONG
from test_letters import HEAD
from test_spoilt_strokes import FACES, Letter, assert_all_named, check, named

pytest.importorskip("shapely")
from shapely import affinity  # noqa: E402
from shapely.geometry import LineString, Polygon, box  # noqa: E402
from shapely.ops import linemerge  # noqa: E402

LONG_FOR_ITS_WIDTH, LARGE = 2.5, 1.5  # strokes, square strokes: a clear loss
NEAR = 0.01  # mm


def block(rng, letter):
    """A rectangle, turned, on the edge of the letter: (area, entry without what it is as)."""
    at = rng.choice([p.exterior for p in pieces(letter.area)]).interpolate(rng.random(), normalized=True)
    wide, high, turn = rng.uniform(12, 60), rng.uniform(12, 60), rng.choice([0, 0, 30, 45, 60])
    area = affinity.rotate(box(at.x - wide / 2, at.y - high / 2, at.x + wide / 2, at.y + high / 2), turn)
    return area, (f"  - plate: {{shape: rectangle, width: {wide:.3f} mm, height: {high:.3f} mm, "
                  f"at: [{at.x:.3f} mm, {at.y:.3f} mm], turn: {turn} deg")


def pieces(area):
    return [p for p in getattr(area, "geoms", [area]) if p.geom_type == "Polygon" and p.area > 1e-6]


def is_taken_out(letter, area):
    """Is a long piece of a stroke taken, whose stroke goes on at two ends or more?"""
    body = max(pieces(letter.area), key=lambda p: p.area)
    stroke = 2 * body.area / body.length
    for lost in pieces(letter.area.intersection(area)):
        edge = lost.boundary.intersection(letter.area.boundary.buffer(NEAR))
        across = lost.boundary.difference(letter.area.boundary.buffer(NEAR))
        runs = linemerge(across) if across.geom_type == "MultiLineString" else across
        necks = [r for r in getattr(runs, "geoms", [runs]) if r.length > 0.5 * stroke]
        if len(necks) > 1 and edge.length > LONG_FOR_ITS_WIDTH * across.length and lost.area > LARGE * stroke ** 2:
            return True
    return False


def straight_tie(rng, letter):
    """A tie of a third of a stroke, square across it, as a plate; None: none was found."""
    body = max(pieces(letter.area), key=lambda p: p.area)
    stroke = 2 * body.area / body.length
    for _ in range(40):
        d = rng.random() * body.exterior.length
        a, b = body.exterior.interpolate(d), body.exterior.interpolate(d + 0.5)
        turn = math.degrees(math.atan2(b.y - a.y, b.x - a.x))
        inward = math.radians(turn + (90 if body.exterior.is_ccw else -90))
        line = LineString([(a.x, a.y), (a.x + 2.2 * stroke * math.cos(inward), a.y + 2.2 * stroke * math.sin(inward))])
        cut = line.intersection(body)
        if cut.geom_type != "LineString" or not 0.5 * stroke < cut.length < 1.5 * stroke:
            continue
        wide, long = stroke / 3, cut.length + 6
        x, y = cut.centroid.x, cut.centroid.y
        if len(pieces(letter.area.intersection(affinity.rotate(box(x - wide / 2, y - long / 2, x + wide / 2, y + long / 2), turn)))) == 1:
            return (f"  - plate: {{shape: rectangle, width: {wide:.3f} mm, height: {long:.3f} mm, "
                    f"at: [{x:.3f} mm, {y:.3f} mm], turn: {turn:.3f} deg}}\n")
    return None


def of_seed(folder, seed):
    rng = random.Random(f"middle {seed}")
    (family, style), chars = rng.choice(sorted(FACES.items()))
    char, opening = rng.choice(chars), rng.random() < 0.7
    letter = Letter(folder, family, style, char)
    found = next((b for b in (block(rng, letter) for _ in range(60)) if is_taken_out(letter, b[0])), None)
    if found is None:
        return None
    board = "  - plate: {shape: rectangle, width: 700 mm, height: 500 mm}\n" if opening else ""
    sign = HEAD + board + letter.words(opening)
    rules = rng.choice(["", "  - ties: {}\n", "  - ties: {}\n  - mend: {fill: yes, thicken: yes}\n"])
    what, wrong = (seed, family, style, char, "cut through" if opening else "stands"), []
    spoilt = found[1] + ("}\n" if opening else ", as: opening}\n")
    if not [f for f in named(check(folder, sign + spoilt + rules), char) if f["gravity"] == "stop"]:
        wrong.append((what, "not named", spoilt))
    tie = straight_tie(rng, letter) if opening and char not in "大十木下中上川六文コトナハホイリチボ口日" else None
    said = [f["text"] for f in named(check(folder, sign + tie), char) if f["form"] == "covered"] if tie else []
    return wrong + ([(what, "a tie", tie, said)] if said else [])


def test_spoilt_middles(tmp_path):
    assert_all_named(tmp_path, of_seed, 200 if LONG else 15)
