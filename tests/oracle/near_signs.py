# SPDX-License-Identifier: GPL-3.0-or-later
"""Seeded signs on the edge of degenerate: shapes that all but touch, share an edge or a curve, leave slivers, are
needles or specks or lie a hundred deep. recipe(seed): the text, and its shapes as shapely makes them of the same figures.
"""
import math
import random

from shapely import affinity
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union

HEAD = "holdfast: 1\nmetal: {{kind: mild steel, thickness: {t} mm}}\nprocess: {{kerf: {k} mm}}\nentries:\n"
CHORD = 2e-4  # mm between a true curve and its chords here
# under the grid of 0.1 um, on it, what a joint closes, what the fit may be off by, and half a kerf
OFFS = [0, 4e-5, 1e-4, 2e-4, 7e-4, 1e-3, 1.1e-3, 2e-3, 5e-3, 0.01, 0.015, 0.02, 0.05]


def round_(d):
    r = d / 2
    n = max(16, math.ceil(math.pi / math.acos(max(0.0, 1 - CHORD / r))))
    return Polygon([(r * math.cos(2 * math.pi * i / n), r * math.sin(2 * math.pi * i / n)) for i in range(n)])


def star_(d, points, depth):
    at = [(d / 2 * (1 if i % 2 == 0 else depth / 100), math.pi / 2 + math.pi * i / points) for i in range(2 * points)]
    return Polygon([(r * math.cos(a), r * math.sin(a)) for r, a in at])


def mm(value):
    return f"{value:.5f} mm"


class Sign:
    """Entries in order, each with its shapes where they stand; a motif draws in a frame of its own, each kind by its name."""

    def __init__(self, rng):
        self.rng, self.entries, self.shapes = rng, [], []
        self.frame()

    def frame(self):
        r = self.rng
        self.angle = r.choice([0, 0, 90, 45, r.uniform(-180, 180), r.uniform(-1e-4, 1e-4)])
        self.x, self.y = r.choice([(0, 0), (r.uniform(-60, 60), r.uniform(-60, 60)), (r.uniform(-900, 900), r.uniform(-900, 900))])

    def off(self):
        return self.rng.choice([-1, 1]) * self.rng.choice(OFFS + [10 ** self.rng.uniform(-4, -1.3)])

    def add(self, kind, drawn, at=(0, 0), turn=0.0, opening=False, **keys):
        c, s = math.cos(math.radians(self.angle)), math.sin(math.radians(self.angle))
        places = [(round(self.x + c * x - s * y, 5), round(self.y + s * x + c * y, 5)) for x, y in ([at] if isinstance(at, tuple) else at)]
        turn = round(math.remainder(self.angle + turn, 360), 6)
        words = ", ".join(f"{key.replace('_', ' ')}: {value if isinstance(value, str) or key in ('points', 'sides') else mm(value)}" for key, value in keys.items())
        where = ", ".join(f"[{mm(x)}, {mm(y)}]" for x, y in places)
        cut = ", as: opening" if opening and kind != "hole" else ""
        self.entries.append(f"  - {kind}: {{{words}, at: {'[' + where + ']' if len(places) > 1 else where}, turn: {turn:.6f} deg{cut}}}")
        drawn = affinity.rotate(drawn, turn, origin=(0, 0))
        self.shapes += [(affinity.translate(drawn, x, y), opening or kind == "hole") for x, y in places]

    def rect(self, w, h, **more):
        w, h = round(max(w, 0.1), 5), round(max(h, 0.1), 5)
        self.add("plate", box(-w / 2, -h / 2, w / 2, h / 2), shape="rectangle", width=w, height=h, **more)

    def disc(self, d, hole=False, **more):
        d = round(max(d, 0.1), 5)
        if hole:
            self.add("hole", round_(d), diameter=d, **more)
        else:
            self.add("plate", round_(d), shape="round", diameter=d, **more)

    def ring(self, d, w, **more):
        d, w = round(max(d, 0.3), 5), round(max(0.1, w), 5)
        self.add("ring", round_(d).difference(round_(d - 2 * w)) if d > 2 * w else round_(d), outer=d, width=w, **more)

    def star(self, d, points, depth, **more):
        self.add("star", star_(round(d, 5), points, depth), diameter=round(d, 5), points=points, depth=f"{depth} %", **more)

    def sides(self, d, n, **more):
        d, turn = round(d, 5), 90 - (180 / n if n % 2 == 0 else 0)
        self.add("plate", Polygon([(d / 2 * math.cos(math.radians(turn + 360 * i / n)), d / 2 * math.sin(math.radians(turn + 360 * i / n))) for i in range(n)]),
                  shape="polygon", diameter=d, sides=n, **more)

    def rounded(self, w, h, corner, **more):
        w, h, corner = round(w, 5), round(h, 5), round(corner, 5)
        inner = box(-w / 2 + corner, -h / 2 + corner, w / 2 - corner, h / 2 - corner)
        shape = unary_union([affinity.translate(round_(2 * corner), x, y) for x in (-w / 2 + corner, w / 2 - corner) for y in (-h / 2 + corner, h / 2 - corner)]
                            + [box(-w / 2 + corner, -h / 2, w / 2 - corner, h / 2), box(-w / 2, -h / 2 + corner, w / 2, h / 2 - corner), inner])
        self.add("plate", shape, shape="rounded", width=w, height=h, corner=corner, **more)


# ---- motifs --------------------------------------------------------------------------------------

def any_shape(s, **more):
    r = s.rng
    pick = r.randrange(6)
    if pick == 0:
        return lambda **m: s.rect(40, 25, **more, **m)
    if pick == 1:
        return lambda **m: s.disc(36, **more, **m)
    if pick == 2:
        return lambda **m: s.ring(40, 6, **more, **m)
    if pick == 3:
        n, depth = r.choice([3, 5, 12, 60]), r.choice([10, 45, 80, 95])
        return lambda **m: s.star(44, n, depth, **more, **m)
    if pick == 4:
        n = r.choice([3, 4, 7, 100])
        return lambda **m: s.sides(42, n, **more, **m)
    return lambda **m: s.rounded(40, 26, 6, **more, **m)


def twins(s):
    """The same shape again, moved and turned by next to nothing; as metal, or as the opening that takes it off."""
    draw, opening = any_shape(s), s.rng.random() < 0.4
    if opening:
        s.rect(s.rng.choice([30, 41, 60]), 44)
    for _ in range(s.rng.choice([2, 2, 3, 7])):
        draw(at=(s.off(), s.off()), turn=s.rng.choice([0, s.off(), 90]), opening=opening and s.rng.random() < 0.8)


def tangent(s):
    """Circles that touch from outside or from inside, as metal or as openings."""
    a, b, hole = s.rng.uniform(4, 60), s.rng.uniform(4, 60), s.rng.random() < 0.5
    if hole:
        s.rect(160, 90)
    if s.rng.random() < 0.5:
        s.disc(a, hole=hole, at=(-a / 2, 0))
        s.disc(b, hole=hole, at=(b / 2 + s.off(), 0))
    else:
        d = max(a, b) + 20
        s.ring(d, 5)
        s.disc(a, hole=hole, at=(d / 2 - 5 - a / 2 + s.off(), 0))


def corners(s):
    """Squares that meet at a corner, a corner that meets an edge, a pinwheel about one point."""
    a, n = s.rng.uniform(5, 40), s.rng.choice([2, 2, 4])
    opening = s.rng.random() < 0.4
    if opening:
        s.rect(3.1 * a, 3.2 * a)
    for i in range(n):
        x, y = ((1, 1), (-1, -1), (1, -1), (-1, 1))[i]
        s.rect(a, a, at=(x * a / 2 + s.off(), y * a / 2 + s.off()), opening=opening)
    if s.rng.random() < 0.5:
        s.rect(a, a, at=(a * math.sqrt(0.5) + s.off(), 0), turn=45)


def shared_edge(s):
    a, b, opening = s.rng.uniform(10, 60), s.rng.uniform(10, 60), s.rng.random() < 0.4
    if opening:
        s.rect(a + b + 30, 90)
    s.rect(a, 50, at=(-a / 2, 0), opening=opening)
    s.rect(b, s.rng.choice([50, 33, 50 + s.off()]), at=(b / 2 + s.off(), s.rng.choice([0, 4, s.off()])), turn=s.rng.choice([0, 0, s.off(), s.off() / 50]), opening=opening)


def slivers(s):
    """What a cut leaves that all but takes everything off, and openings that all but meet the edge."""
    w, h = s.rng.uniform(20, 90), s.rng.uniform(10, 60)
    s.rect(w, h)
    s.rect(w - 2 * abs(s.off()), h - s.rng.choice([0, 8, 2 * abs(s.off())]), at=(s.off(), s.off()), turn=s.rng.choice([0, s.off() / 20]), opening=True)
    if s.rng.random() < 0.5:
        s.disc(h - 1, at=(s.off(), 0))
        s.disc(h - 1 - abs(s.off()), hole=True)


def crescent(s):
    """Rounds of nearly one radius: horns that end in nothing, lenses, hair-thin rings."""
    d = s.rng.uniform(5, 90)
    s.disc(d)
    s.disc(d + s.rng.choice([0, s.off(), 3]), at=(s.rng.choice([s.off(), d / 2, d - 0.5]), s.off()), hole=s.rng.random() < 0.7)
    if s.rng.random() < 0.5:
        s.sides(d + s.off(), 100, opening=s.rng.random() < 0.5)


def needles(s):
    n, d = s.rng.choice([3, 20, 60, 60]), s.rng.choice([0.3, 2, 40, 200, 2000])
    opening = s.rng.random() < 0.4
    if opening:
        s.rect(1.2 * d + 20, 1.1 * d + 20)
    for _ in range(s.rng.choice([1, 2, 3])):
        s.star(d, n, s.rng.choice([10, 10, 50, 95]), at=(s.off(), s.off()), turn=s.rng.choice([0, s.off(), 180 / n + s.off()]), opening=opening)


def specks(s):
    """Rings, rounds and holes of a few tenths of a mm, in and about a plate."""
    s.rect(40, 30)
    for _ in range(s.rng.randint(3, 30)):
        at, d = (s.rng.uniform(-25, 25), s.rng.uniform(-18, 18)), s.rng.choice([0.1, 0.1, 0.11, 0.15, 0.3, 1])
        if s.rng.random() < 0.4:
            s.ring(max(0.3, d), 0.1, at=at, opening=s.rng.random() < 0.5)
        else:
            s.disc(d, at=at, hole=s.rng.random() < 0.5)


def bundle(s):
    """Many of one shape, turned about nearly one point: all of them cross in one neighbourhood."""
    n, draw = s.rng.choice([30, 80, 150]), any_shape(s)
    step, far = s.rng.choice([180 / n, 360 / n, 0.01, 0.5]), s.rng.choice([0, 1e-4, 0.003, 5])
    for i in range(n):
        a = math.radians(i * step)
        draw(at=(far * math.cos(a), far * math.sin(a)), turn=i * step)


def crossing(s):
    """Bars that cross anyhow: triangles of any smallness between three of them."""
    n, h = s.rng.choice([20, 40, 60]), s.rng.choice([0.1, 1, 4])
    for i in range(n):
        s.rect(s.rng.uniform(100, 300), h, at=(s.rng.uniform(-60, 60), s.rng.uniform(-60, 60)), turn=s.rng.uniform(0, 180))


def lattice(s):
    """Rounds side by side, as far apart as they are wide, but for a hair."""
    d, n = s.rng.uniform(3, 15), s.rng.randint(3, 7)
    pitch, hole = d + s.off(), s.rng.random() < 0.6
    if hole:
        s.rect(n * pitch + s.rng.choice([10, 0, s.off()]), n * pitch + 10)
    s.disc(d, hole=hole, at=[((i - (n - 1) / 2) * pitch, (k - (n - 1) / 2) * pitch) for i in range(n) for k in range(n)])


def huge(s):
    s.rect(s.rng.choice([3000, 9000]), s.rng.choice([0.1, 5, 900]))
    s.disc(s.rng.choice([0.1, 30, 6000]), at=(s.rng.uniform(-1000, 1000), s.off()), hole=s.rng.random() < 0.4)
    s.ring(5000 + s.off(), s.rng.choice([0.1, 1, 60]), at=(s.off(), 0))


def corner_arcs(s):
    """Corners with next to no arc, arcs with next to no straight between them."""
    w, h = s.rng.uniform(10, 60), s.rng.uniform(10, 60)
    s.rounded(w, h, s.rng.choice([0.1, 0.1, min(w, h) / 2 - abs(s.off()) - 1e-5, 3]))
    s.rounded(w + s.off(), h + s.off(), s.rng.choice([0.1, 2, 3 + s.off()]), at=(s.off(), s.off()), opening=s.rng.random() < 0.4)


def sound(s):
    """A stout plate with a hole, near a limit: of the rest hardly anything is whole."""
    s.rect(120, 80)
    s.disc(20, hole=True, at=(60 - 10 - 3.7 - s.rng.choice([-0.2, 0.03, 0.3]), 0))
    s.disc(30, at=(0, 40 + s.rng.choice([0, 5, -5])))
    if s.rng.random() < 0.5:
        s.rect(50, 50, at=(-60 - 25 + abs(s.off()), 0))


MOTIFS = [twins, twins, tangent, corners, shared_edge, slivers, crescent, needles, specks, bundle, crossing, lattice, huge, corner_arcs, sound, sound]
RULES = ["  - ties: {}", "  - mend: {fill: yes, thicken: yes, round: 3 mm}", "  - mend: {enlarge: yes}", "  - mend: {round: 1 mm}"]


class Near:
    """text: the recipe; metal: its area by shapely; None where rules add to it; motifs: what it was made of."""

    def __init__(self, seed):
        rng = random.Random(f"near {seed}")
        s, self.motifs = Sign(rng), []
        for _ in range(rng.choice([1, 1, 1, 2, 3])):
            motif = rng.choice(MOTIFS)
            self.motifs.append(motif.__name__)
            motif(s)
            if rng.random() < 0.5:
                s.frame()
        rules = rng.sample(RULES, rng.choice([0, 0, 0, 1, 1, 2]))
        self.t, self.k = rng.choice([(1, 0.8), (3, 1.5), (3, 1.5), (10, 2.5)])
        self.text = f"# near {seed}: {', '.join(self.motifs)}\n" + HEAD.format(t=self.t, k=self.k) + "\n".join(s.entries + rules) + "\n"
        self.entries, self.shapes, self.ruled = s.entries, s.shapes, bool(rules)

    def metal(self):
        """In order: each adds to what came before it, or is taken off it."""
        area, adding = Polygon(), []
        for shape, opening in self.shapes + [(Polygon(), True)]:
            if not opening:
                adding.append(shape)
                continue
            area = unary_union([area] + adding).difference(shape)
            adding = []
        return area
