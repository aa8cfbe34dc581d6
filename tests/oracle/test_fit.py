# SPDX-License-Identifier: GPL-3.0-or-later
"""Fits, margins and groups, measured by shapely on the outlines that come out (metal.svg): boxes and distances of
rings, with no figure of holdfast's own. Texts are invented; the rules are the recipe's."""
import math
import random
import re

import pytest
from shapely.geometry import LinearRing, Polygon
from shapely.ops import unary_union

from conftest import LONG, holdfast
from reading import rings_of_svg

FACES = ["Bebas Neue", "Lobster Two", "{family: DejaVu Sans, style: Bold}", "Vollkorn", "DejaVu Serif", "Amiri"]
TEXTS = ["LIFT", "HULL 7", "Quay", "Salt Store", "TIDES", "No. 12", "Ferry", "SHELL", "Kelp & Co", "MILL"]
SEEDS = 500 if LONG else 60
WIDE, CLEAR = 0.012, 0.015  # mm: on outlines that were flattened within 5 um and fitted with arcs within as much
PLATES = ["shape: rectangle", "shape: rounded, corner: 20 mm", "shape: oval", "shape: arch-topped, rise: 60 mm", "shape: shield",
          "shape: polygon, sides: 6", "shape: round", "shape: banner", "shape: ticket", "shape: badge", "shape: arrow", "shape: speech", "shape: cloud",
          "shape: heart", "shape: tabbed"]
FIXED = ["shape: rectangle, width: 400 mm, height: 240 mm", "shape: oval, width: 420 mm, height: 260 mm", "shape: shield, width: 300 mm, height: 360 mm",
         "shape: polygon, sides: 8, diameter: 400 mm", "shape: round, diameter: 380 mm", "shape: arch-topped, width: 380 mm, height: 260 mm, rise: 90 mm"]


def recipe(entries):
    return ("holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
            + "".join(f"  - {entry}\n" for entry in entries))


def words(rng, name, **keys):
    said = "".join(f", {key.replace('_', ' ')}: {value}" for key, value in keys.items())
    return f'words: {{name: {name}, text: "{rng.choice(TEXTS)}", font: {rng.choice(FACES)}{said}}}'


def by_width(rng):
    wide = rng.randint(150, 700)
    spacing = rng.choice(["0 mm", "6 %", "3 mm", "joined"])
    return [words(rng, "name", width=f"{wide} mm", spacing=spacing)], ("width", wide)


def by_box(rng):
    wide, high = rng.randint(150, 600), rng.randint(40, 150)
    return [words(rng, "name", box=f"[{wide} mm, {high} mm]")], ("box", wide, high)


def inside(rng):
    margin = rng.choice([8, 15, 25.5])
    shift = f"[{rng.randint(-20, 20)} mm, {rng.randint(-20, 20)} mm]"
    plate = f"plate: {{name: board, {rng.choice(FIXED)}}}"
    return [plate, words(rng, "name", inside="board", margin=f"{margin} mm", shift=shift, **{"as": "opening"})], ("clear", margin)


def window(rng):
    margin = rng.choice([5, 12])
    return [f"ring: {{name: hoop, outer: {rng.randint(200, 600)} mm, width: 12 mm}}",
            words(rng, "name", inside="hoop", margin=f"{margin} mm")], ("window", margin)


def round_it(rng):
    margin = rng.choice([6, 20, 33])
    shape = rng.choice(PLATES)
    return [f"plate: {{name: board, {shape}, margin: {margin} mm}}",
            words(rng, "name", height=f"{rng.randint(30, 120)} mm", on="board", **{"as": "opening"})], ("clear", margin)


def four_sides(rng):
    m = [rng.randint(5, 60) for _ in range(4)]
    return [f"plate: {{name: board, shape: rectangle, margin: [{', '.join(f'{v} mm' for v in m)}]}}",
            words(rng, "name", height=f"{rng.randint(30, 120)} mm", on="board", **{"as": "opening"})], ("sides", m)


def row(rng):
    wide, gap = rng.randint(400, 900), rng.choice([10, 25.4, 40])
    return [words(rng, "a", height="90 mm"), words(rng, "b", height="60 mm"), "star: {name: s, diameter: 70 mm}",
            f"row: {{of: [a, s, b], width: {wide} mm, gap between: {gap} mm}}"], ("width", wide)


def open_row(rng):
    wide = rng.randint(1400, 1900)
    return [words(rng, "a", height="60 mm"), "dot: {name: d, diameter: 30 mm}", words(rng, "b", height="60 mm"),
            f"row: {{of: [a, d, b], width: {wide} mm, align: middle}}"], ("width", wide)


def stack(rng):
    wide = rng.randint(200, 700)
    return [words(rng, "a"), words(rng, "b"), "plate: {name: board, shape: rectangle, margin: [30 mm, 20 mm], around: [all]}",
            f"stack: {{name: all, of: [a, b], width: {wide} mm, justify: by height}}"], ("outer", wide + 60)


def stack_inside(rng):
    margin = rng.choice([10, 24])
    return [f"plate: {{name: board, {rng.choice(FIXED)}}}", words(rng, "a", **{"as": "opening"}), words(rng, "b", **{"as": "opening"}),
            f"stack: {{of: [a, b], inside: board, margin: {margin} mm}}"], ("clear", margin)


def ring_round(rng):
    margin = rng.choice([4, 18])
    return [f"ring: {{around: [name], margin: {margin} mm, width: 15 mm}}", words(rng, "name", height="70 mm")], ("window", margin)


def monogram(rng):
    gap = rng.choice([4, 6.5, 12])
    face = rng.choice(["Bebas Neue", "League Spartan", "{family: DejaVu Sans, style: Bold}", "Vollkorn"])
    return ["plate: {name: board, shape: rectangle, width: 900 mm, height: 700 mm}",
            f"initial: {{text: {''.join(rng.choices('CEFHIJKLMNSTUVWXYZ', k=3))}, font: {face}, height: {rng.randint(150, 250)} mm, "
            f"set as: {rng.choice(['tall middle', 'stacked'])}, gap between: {gap} mm, on: board, as: opening}}"], ("near", gap)


def drawn_out(rng):
    gap, high = rng.choice([5, 8]), rng.randint(200, 320)
    face = rng.choice(["Bebas Neue", "League Spartan", "{family: DejaVu Sans, style: Bold}", "Vollkorn"])
    return ["plate: {name: board, shape: rectangle, width: 700 mm, height: 700 mm}",
            f"initial: {{text: {''.join(rng.choices('CEFHKLMNSTUVWXYZ', k=rng.choice([2, 3])))}, font: {face}, height: {high} mm, "
            f"set as: circle, gap between: {gap} mm, on: board, as: opening}}"], ("round", gap, high)


KINDS = [by_width, by_box, inside, window, round_it, four_sides, row, open_row, stack, stack_inside, ring_round, monogram, drawn_out]


def box_of(rings):
    boxes = [LinearRing(ring).bounds for ring in rings]
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def largest_first(rings):
    return sorted(rings, key=lambda ring: -abs(Polygon(ring).area))


def check(rings, wanted):
    what, *values = wanted
    box = box_of(rings)
    if what == "width" or what == "outer":
        assert box[2] - box[0] == pytest.approx(values[0], abs=WIDE)
    elif what == "box":
        wide, high = box[2] - box[0], box[3] - box[1]
        assert wide < values[0] + WIDE and high < values[1] + WIDE
        assert wide == pytest.approx(values[0], abs=WIDE) or high == pytest.approx(values[1], abs=WIDE)
    elif what == "sides":
        inner = box_of(largest_first(rings)[1:])
        left, right, top, bottom = values[0]
        assert inner[0] - box[0] == pytest.approx(left, abs=WIDE) and box[2] - inner[2] == pytest.approx(right, abs=WIDE)
        # y runs down in SVG
        assert inner[1] - box[1] == pytest.approx(top, abs=WIDE) and box[3] - inner[3] == pytest.approx(bottom, abs=WIDE)
    elif what == "near":  # each letter is that near to those before it
        edge, *ink = [LinearRing(ring) for ring in largest_first(rings)]
        assert len(ink) == 3
        near = sorted([ink[0].distance(ink[1]), ink[1].distance(ink[2]), ink[2].distance(ink[0])])
        assert near[:2] == pytest.approx([values[0]] * 2, abs=CLEAR)
    elif what == "round":  # every edge of the square comes to lie on the circle
        edge, *ink = [LinearRing(ring) for ring in largest_first(rings)]
        middle = edge.centroid
        assert max(math.hypot(x - middle.x, y - middle.y) for ring in ink for x, y in ring.coords) == pytest.approx(values[1] / 2, abs=WIDE)
        assert min(a.distance(b) for i, a in enumerate(ink) for b in ink[:i]) == pytest.approx(values[0], abs=CLEAR)
    elif what == "clear":
        edge, *ink = largest_first(rings)
        assert Polygon(edge).contains(unary_union([Polygon(ring) for ring in ink]))
        assert min(LinearRing(edge).distance(LinearRing(ring)) for ring in ink) == pytest.approx(values[0], abs=CLEAR)
    else:
        _, edge, *ink = largest_first(rings)
        assert Polygon(edge).contains(unary_union([Polygon(ring) for ring in ink]))
        assert min(LinearRing(edge).distance(LinearRing(ring)) for ring in ink) == pytest.approx(values[0], abs=CLEAR)


@pytest.mark.parametrize("kind", KINDS, ids=[kind.__name__ for kind in KINDS])
def test_measured(kind, tmp_path):
    """Asked for: a width, a box, a margin. Measured: the same, by shapely."""
    wanted = {}
    for seed in range(SEEDS // len(KINDS) + 1):
        entries, wish = kind(random.Random(f"{kind.__name__} {seed}"))
        file = tmp_path / f"{seed}.yaml"
        file.write_text(recipe(entries))
        wanted[file] = wish
    done = holdfast("make", "-q", *wanted, "-o", tmp_path / "out")
    assert done.returncode in (0, 1), done.stderr
    for file, wish in wanted.items():
        folder = tmp_path / "out" / file.stem
        rings = rings_of_svg(next(folder.glob("[mn]*.svg")))
        check(rings, wish)


GIVE = 'words: {{name: w, text: "SALT STORE", font: Bebas Neue, height: 80 mm, width: {wide} mm, give way: {way}}}'


@pytest.mark.parametrize("wide,way,solved", [(370, "[spacing]", "spacing"), (450, "[spacing]", "spacing"), (350, "[letter width]", "letter width"),
                                             (310, "[spacing, letter width]", "letter width"), (500, "[letter height]", "letter height")])
def test_what_gives_way(make, wide, way, solved):
    """The recipe's order decides what is worked out, and the ink is as wide as asked."""
    made = make(recipe([GIVE.format(wide=wide, way=way)]))
    assert solved in [it["what"] for it in made.report["solved"]]
    box = box_of(rings_of_svg(next(made.folder.glob("[mn]*.svg"))))
    assert box[2] - box[0] == pytest.approx(wide, abs=WIDE)


@pytest.mark.parametrize("entries,says", [
    ([GIVE.format(wide=100, way="[spacing, letter width]")], r"are to be 100 mm wide, and what may give way brings them to \d"),
    (["plate: {name: board, shape: oval, width: 100 mm, height: 60 mm}",
      "words: {text: QUAY, font: Bebas Neue, inside: board, margin: 35 mm}"], "no letters that stay 35 mm clear of the edge of"),
    (["plate: {name: board, shape: round, margin: 5 mm}"], "nothing stands on it, so its size does not follow"),
    (["dot: {name: a, diameter: 9 mm}", "dot: {name: b, diameter: 9 mm, right of: a, gap: 80 mm}",
      "plate: {shape: oval, margin: 9 mm, around: [a, b], between: [a, b]}"], "what goes round others lies where they lie"),
    (["bar: {name: rail, height: 10 mm, overhang: 5 mm}"], "no words stand on it, so its length does not follow"),
    (["words: {name: a, text: QUAY, font: Bebas Neue}"], "words need height, font size, width"),
    (["words: {name: a, text: QUAY, font: Bebas Neue, height: 20 mm, at: centre}", "row: {of: [a]}"], 'is placed by "row 1" and says "at" itself'),
    (["words: {name: a, text: QUAY, font: Bebas Neue, height: 20 mm}", "row: {name: r, of: [a]}", "stack: {of: [a]}"], 'is a member of "r" and of "stack 1"'),
    (["words: {name: a, text: QUAY, font: Bebas Neue, height: 90 mm}", "words: {name: b, text: QUAY, font: Bebas Neue, height: 90 mm}",
      "row: {of: [a, b], width: 90 mm}"], "it is to be 90 mm wide, and what stands in it takes"),
    (["words: {name: a, text: QUAY, font: Bebas Neue, height: 90 mm}", "row: {of: [a], mirrored: yes}"], "letters read backwards in a mirror"),
])
def test_refusals(tmp_path, entries, says):
    """What can't be is said at its place, with what would fit."""
    file = tmp_path / "sign.yaml"
    file.write_text(recipe(entries))
    done = holdfast("check", file)
    assert done.returncode == 2
    assert re.search(says, done.stderr), done.stderr
    assert done.stderr.startswith(f"holdfast: {file}:") and "; " in done.stderr


def test_an_arch_without_sides(make):
    """A text so narrow that the arch begins at the foot: no straight side is left, and the margin holds all round."""
    made = make(recipe(["plate: {name: board, shape: arch-topped, margin: 5 mm}", 'words: {text: "I", font: Bebas Neue, height: 47 mm, on: board, as: opening}']))
    edge, *ink = largest_first(rings_of_svg(next(made.folder.glob("[mn]*.svg"))))
    assert min(LinearRing(edge).distance(LinearRing(ring)) for ring in ink) == pytest.approx(5, abs=CLEAR)


def test_names_through_groups(make):
    """A finding names the letter, its text and its line in the stack."""
    made = make(recipe(["words: {name: a, text: OPEN, font: Bebas Neue, height: 40 mm}", "words: {name: b, text: AT SIX, font: Bebas Neue, height: 40 mm}",
                        "stack: {name: hours, of: [a, b], gap between: 10 mm}"]))
    said = " ".join(shape for finding in made.report["findings"] for shape in finding["names"])
    assert 'of "AT SIX" in line 2 of "hours"' in said


def test_repeats_are_equal(make):
    """Six times round a circle: six parts of one area, each a sixth of a turn from the next (textbook geometry)."""
    made = make("holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nalone: [star]\nentries:\n"
                "  - star: {name: star, diameter: 60 mm}\n  - row: {of: [star], count: 6, circle: 400 mm}\n")
    stars = [Polygon(ring) for ring in rings_of_svg(made.folder / "metal.svg")]
    assert len(stars) == 6 and made.code == 0
    assert max(star.area for star in stars) - min(star.area for star in stars) < 0.05
    middle = unary_union(stars).centroid
    assert all(star.centroid.distance(middle) == pytest.approx(stars[0].centroid.distance(middle), abs=0.01) for star in stars)


def test_between_in_line(make):
    """Three dots between two words: four equal gaps, as boxes."""
    made = make(recipe(["words: {name: a, text: TILL, font: Bebas Neue, height: 80 mm}",
                        "words: {name: b, text: LIFT, font: Bebas Neue, height: 80 mm, right of: a, gap: 120 mm}",
                        "dot: {diameter: 16 mm, between: [a, b], copies: 3}"]))
    boxes = sorted(LinearRing(ring).bounds for ring in rings_of_svg(next(made.folder.glob("[mn]*.svg"))))
    gaps = [b[0] - a[2] for a, b in zip(boxes[3:], boxes[4:8])]
    assert [box[2] - box[0] for box in boxes[4:7]] == pytest.approx([16] * 3, abs=WIDE)
    assert gaps == pytest.approx([(120 - 48) / 4] * 4, abs=WIDE)


@pytest.mark.parametrize("texts,copies", [(("TIDES", "1902"), 1), (("FERRY HILL", "MILL"), 2), (("LIFT",), 3)])
def test_between_in_a_band(make, texts, copies):
    """In each free arc the copies stand with equal air, measured as angles of metal.svg about the rings' centre."""
    places = ["top", "bottom"]
    said = [f"words: {{name: w{i}, text: {text}, font: Bebas Neue, height: 60 mm, band: [inner, outer], at: {places[i]}}}" for i, text in enumerate(texts)]
    made = make(recipe(["ring: {name: outer, outer: 700 mm, width: 12 mm}", "ring: {name: inner, outer: 420 mm, width: 12 mm}", *said,
                        f"dot: {{diameter: 20 mm, band: [inner, outer], between: [{', '.join(f'w{i}' for i in range(len(texts)))}], copies: {copies}}}"]))
    rings = [Polygon(ring) for ring in rings_of_svg(next(made.folder.glob("[mn]*.svg")))]
    middle = max(rings, key=lambda ring: ring.area).centroid
    parts = [ring for ring in rings if ring.bounds[2] - ring.bounds[0] < 200]  # not the rings' own edges
    dots = [part for part in parts if abs(part.area - math.pi * 100) < 2]
    assert len(dots) == copies * len(texts)

    def spread(part):
        angles = [math.degrees(math.atan2(y - middle.y, x - middle.x)) for x, y in part.exterior.coords]
        first = angles[0]
        turned = [first + (angle - first + 180) % 360 - 180 for angle in angles]
        return min(turned), max(turned)

    spans = sorted((low % 360, low % 360 + high - low, part in dots) for part in parts for low, high in [spread(part)])
    # letters' counters lie within their letters; what starts within another part's span is no neighbour
    outer = [span for span in spans if not any(o is not span and o[0] < span[0] and span[1] < o[1] for o in spans)]
    gaps = [((b[0] - a[1]) % 360, a[2] or b[2]) for a, b in zip(outer, outer[1:] + outer[:1])]
    air = [gap for gap, beside in gaps if beside]
    groups = len(texts)
    assert len(air) == groups * (copies + 1)
    # one free arc is as wide as the other, or each has its own air
    halves = [sorted(air)[:copies + 1], sorted(air)[copies + 1:]]
    assert all(max(half) - min(half) < 0.2 for half in halves if half)


def test_between_in_an_arch(make):
    """Beside one word in the band of a gate arch: one on either side, half way from its ink to where the leg begins, which is where the chord of
    4 m meets the circle of the rise: by hand, r = (c^2/4 + h^2) / 2h."""
    made = make(recipe(["gate arch: {name: low, chord: 2 m, rise: 400 mm, legs: 200 mm, width: 30 mm}", "gate arch: {name: high, over: low, clear: 120 mm, width: 30 mm}",
                        "words: {name: w, text: HILL, font: Bebas Neue, height: 90 mm, band: [low, high], at: top}",
                        "dot: {diameter: 30 mm, band: [low, high], between: [w]}"]))
    rings = [Polygon(ring) for ring in rings_of_svg(next(made.folder.glob("[mn]*.svg")))]
    dots = [ring for ring in rings if abs(ring.area - math.pi * 225) < 2]
    radius = (1000 ** 2 + 400 ** 2) / 800
    arch = max(rings, key=lambda ring: ring.bounds[2] - ring.bounds[0])
    middle = (arch.bounds[0] + arch.bounds[2]) / 2, arch.bounds[1] + 30 + 120 + 30 + radius  # y runs down
    letters = [ring for ring in rings if 1000 < ring.area < 20000]

    def angle(x, y):
        return math.degrees(math.atan2(x - middle[0], middle[1] - y))

    ink = [angle(x, y) for ring in letters for x, y in ring.exterior.coords]
    foot = math.degrees(math.asin(1000 / radius))
    found = sorted(angle(*dot.centroid.coords[0]) for dot in dots)
    assert found == pytest.approx([(min(ink) - foot) / 2, (max(ink) + foot) / 2], abs=0.05)


@pytest.mark.parametrize("shape,corners", [("shape: rectangle, width: 300 mm, height: 200 mm", 4), ("shape: rounded, width: 300 mm, height: 200 mm, corner: 25 mm", 4),
                                           ("shape: polygon, sides: 6, diameter: 300 mm", 6), ("shape: shield, width: 300 mm, height: 360 mm", 3),
                                           ("shape: arch-topped, width: 300 mm, height: 260 mm, rise: 60 mm", 4)])
def test_holes_in_corners(make, shape, corners):
    """Each hole's middle is as far from the sides beside it as asked: the nearest side of the sharp plate is that near."""
    made = make(recipe([f"plate: {{name: board, {shape}}}", "hole: {on: board, diameter: 8 mm, from corners: 22 mm}"]))
    sharp = make(recipe([f"plate: {{name: board, {shape.replace('rounded', 'rectangle').replace(', corner: 25 mm', '')}}}"]), name="sharp")
    edge = LinearRing(largest_first(rings_of_svg(sharp.folder / "metal.svg"))[0])
    holes = [Polygon(ring).centroid for ring in largest_first(rings_of_svg(made.folder / "metal.svg"))[1:]]
    assert len(holes) == corners
    assert all(hole.distance(edge) == pytest.approx(22, abs=CLEAR) for hole in holes)


def test_holes_round_an_edge(make):
    """Twelve holes round an oval: each as far from its edge as asked, and equally far along it from the next."""
    made = make(recipe(["plate: {name: board, shape: oval, width: 400 mm, height: 250 mm}", "hole: {on: board, diameter: 6 mm, from edge: 15 mm, count: 12}"]))
    rings = largest_first(rings_of_svg(made.folder / "metal.svg"))
    edge = LinearRing(rings[0])
    holes = [Polygon(ring).centroid for ring in rings[1:]]
    assert len(holes) == 12 and all(hole.distance(edge) == pytest.approx(15, abs=CLEAR) for hole in holes)
    inside = LinearRing(Polygon(edge).buffer(-15, 256).exterior)
    along = sorted(inside.project(hole) for hole in holes)
    steps = [b - a for a, b in zip(along, along[1:])] + [along[0] + inside.length - along[-1]]
    assert max(steps) - min(steps) < 0.05
