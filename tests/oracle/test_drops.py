# SPDX-License-Identifier: GPL-3.0-or-later
"""How what is cut out lies on the slats (src/cut/drops.c): cases worked by hand, and shapely trying many places of the slats.

The rule of thumb (drops narrower than a pitch fall, those of one to three pitches can tip): common practice, no source. The rest is
statics: a body lies still where its middle of mass is within the convex hull of what carries it.
"""
import math
import random
import subprocess
from pathlib import Path

from shapely import affinity
from shapely.geometry import LineString, MultiPoint, MultiPolygon, Point, Polygon, box

DUMP = Path(__file__).parents[2] / "build" / "tests" / "tools" / "drop_dump"


def judged(drops):
    """[(pitch, angle, polygon)] to [word]"""
    lines = []
    for pitch, angle, drop in drops:
        rings = [list(ring.coords)[:-1] for ring in (drop.exterior, *drop.interiors)]
        lines.append(f"{pitch} {angle} {len(rings)} " + " ".join(f"{len(ring)} " + " ".join(f"{x:.4f} {y:.4f}" for x, y in ring) for ring in rings))
    done = subprocess.run([DUMP], input="\n".join(lines), capture_output=True, text=True, timeout=100)
    assert done.returncode == 0, done.stderr
    return done.stdout.split()


def rests_at(drop, pitch, first):
    """Is the middle of mass well within (1), well without (-1) or near the rim (0) of the hull of what carries it?"""
    left, low, right, high = drop.bounds
    held = []
    y = first
    while y <= high:
        if y >= low:
            met = drop.intersection(LineString([(left - 1, y), (right + 1, y)]))
            held += [point for part in getattr(met, "geoms", [met]) if not part.is_empty for point in part.coords]
        y += pitch
    hull = MultiPoint(held).convex_hull if held else Point(0, 1e9)
    near = hull.boundary.distance(drop.centroid) if hull.area > 0 else 0 if hull.distance(drop.centroid) < 1 else 9
    return 0 if near < 1 else 1 if hull.contains(drop.centroid) else -1


def by_trying(drop, pitch, angle, places):
    """{words that would be right}"""
    drop = affinity.rotate(drop, -angle, origin=(0, 0))
    low, high = drop.bounds[1], drop.bounds[3]
    if abs(high - low - pitch) < 0.01:
        return {"falls", "lies", "tips"}
    if high - low < pitch:
        return {"falls"}
    found = {rests_at(drop, pitch, low + pitch * (i + 0.5) / places) for i in range(places)}
    return {"tips"} if -1 in found else {"lies", "tips"} if 0 in found else {"lies"}


def test_by_hand():
    """Slats 75 mm apart, along x."""
    disc = Point(0, 0).buffer(100, resolution=64)
    ell = Polygon([(0, 0), (600, 0), (600, 40), (40, 40), (40, 600), (0, 600)])
    cases = [
        (75, 0, Point(0, 0).buffer(37, resolution=64), "falls"),  # 74 mm: never on two slats, slides off the one
        (75, 0, Point(0, 0).buffer(70, resolution=64), "tips"),  # 140 mm, under two pitches: there is a place with one slat under it
        (75, 0, disc, "lies"),  # 200 mm: two slats at 37.5 of the middle or nearer to one side, always one on each side
        (75, 0, box(0, 0, 500, 60), "falls"),  # a bar along the slats, narrower than they are apart
        (75, 90, box(0, 0, 500, 60), "lies"),  # the same across them
        (75, 0, box(0, 0, 60, 100), "tips"),  # a short bar across: one slat under it
        (75, 0, ell, "tips"),  # its middle is 164 mm from either leg; with no slat under the level one only x < 40 is carried
        (30, 0, ell, "lies"),  # there is always a slat under the level one, out to x = 600
        (0, 0, disc, "falls"),  # a table without slats
        (75, 0, Polygon([(0, 0), (300, 0), (300, 80), (0, 80)]), "tips"),  # 80 mm: mostly one slat
    ]
    assert judged([case[:3] for case in cases]) == [case[3] for case in cases]


def some_drop(rand):
    kind = rand.randrange(4)
    if kind == 0:
        drop = box(0, 0, rand.uniform(10, 400), rand.uniform(10, 400))
    elif kind == 1:
        drop = affinity.scale(Point(0, 0).buffer(1, resolution=16), rand.uniform(10, 250), rand.uniform(10, 250))
    elif kind == 2:
        arm = rand.uniform(8, 60)
        drop = box(0, 0, rand.uniform(100, 500), arm).union(box(0, 0, arm, rand.uniform(100, 500)))
    else:
        drop = Point(0, 0).buffer(rand.uniform(60, 200), resolution=16)
        drop = drop.difference(affinity.translate(drop, rand.uniform(20, 90), rand.uniform(-30, 30)))
    if rand.random() < 0.3:
        drop = drop.difference(drop.centroid.buffer(math.sqrt(drop.area) / 6, resolution=8))
    if isinstance(drop, MultiPolygon):
        drop = max(drop.geoms, key=lambda part: part.area)
    return affinity.rotate(drop, rand.uniform(0, 360))


def test_against_trying_every_place():
    rand = random.Random(13)
    drops = [(rand.choice([50, 75, 100]), rand.choice([0, 90, 30]), some_drop(rand)) for _ in range(120)]
    wrong = []
    seen = set()
    for (pitch, angle, drop), word in zip(drops, judged(drops)):
        right = by_trying(drop, pitch, angle, 64)
        seen.add(word)
        if word not in right:
            wrong.append((pitch, angle, drop.wkt[:200], word, right))
    assert not wrong, wrong
    assert seen == {"falls", "lies", "tips"}
