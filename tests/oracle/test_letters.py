# SPDX-License-Identifier: GPL-3.0-or-later
"""Letters stay letters, read from outside: outlines by fontTools at their places, the metal by shapely.

Nothing here knows how holdfast looks at letters. Of every letter each piece (outer contour) and each
counter (inner contour) is held against the finished metal:

    piece      share of its outline that lies on an outline of the metal; what is gone (not joined) counts twice
    counter    share of its area that is air (cut through: metal); standing: 0 when it opens to the outside

Below 25 % a stop must name the letter, above 50 % nothing may but a stroke. Signs are seeded; one thing is done
to each: a bar, a dot, a tie by hand, an opening, lighter or bolder strokes, next to letters or across them.
"""
import functools
import json
import random
import subprocess

import pytest

from conftest import HOLDFAST, LONG
from reading import rings_of_svg

shapely = pytest.importorskip("shapely")
pytest.importorskip("fontTools")
from fontTools.pens.recordingPen import DecomposingRecordingPen  # noqa: E402
from fontTools.ttLib import TTFont  # noqa: E402
from shapely.geometry import Polygon  # noqa: E402
from shapely.ops import unary_union  # noqa: E402

DUMP = HOLDFAST.parent / "tests" / "tools" / "layout_dump"
HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nmount: none\nentries:\n"
FACES = [("DejaVu Sans", "Bold"), ("DejaVu Serif", "Bold"), ("DejaVu Sans", "Book"), ("Bebas Neue", "Bold")]
TEXTS = ["Jürgen", "Öl", "806", "Bade", "ÉÀÜÖ", "jij", "Zoë", "RABEN", "gegen", "PORQ", "tide", "Ångel"]
STOP, CAUTION = 25, 50
NEAR = 0.2  # mm: an edge of the metal so near is the letter's own; chords and arcs are within 0.02
MARGIN = 6  # %: this reading samples nothing, holdfast samples; both are right so near a limit


@functools.lru_cache(maxsize=None)
def face(family, style):
    asked = subprocess.run(["fc-match", "-f", "%{family}|%{style}|%{file}", f"{family}:style={style}"], capture_output=True, text=True)
    found_family, found_style, file = asked.stdout.split("|")
    if family not in found_family or style not in found_style:
        pytest.skip(f"{family} {style} is not installed")
    return TTFont(file, fontNumber=0)


def bezier(points, steps=24):
    """Points after the first of a Bezier curve, by de Casteljau."""
    out = []
    for i in range(1, steps + 1):
        t, row = i / steps, list(points)
        while len(row) > 1:
            row = [((1 - t) * a[0] + t * b[0], (1 - t) * a[1] + t * b[1]) for a, b in zip(row, row[1:])]
        out.append(row[0])
    return out


def contours(font, char):
    """The closed polygons of a glyph, in ems."""
    glyphs = font.getGlyphSet()
    pen = DecomposingRecordingPen(glyphs)
    glyphs[font.getBestCmap()[ord(char)]].draw(pen)
    em, out, ring = font["head"].unitsPerEm, [], []
    for command, points in pen.value:
        if command == "moveTo":
            ring = [points[0]]
        elif command == "lineTo":
            ring.append(points[0])
        elif command == "curveTo":
            ring += bezier([ring[-1], *points])
        elif command == "qCurveTo":
            controls, last = points[:-1], points[-1]
            for i, control in enumerate(controls):
                end = last if i == len(controls) - 1 else tuple((a + b) / 2 for a, b in zip(control, controls[i + 1]))
                ring += bezier([ring[-1], control, end])
        else:
            out.append([(x / em, y / em) for x, y in ring])
    return out


def drawn(font, char, em):
    xx, xy, yx, yy, x0, y0 = em
    rings = [[(xx * x + xy * y + x0, yx * x + yy * y + y0) for x, y in ring] for ring in contours(font, char)]
    shape = Polygon()
    for ring in rings:
        if len(ring) > 2:
            shape = shape.symmetric_difference(Polygon(ring).buffer(0))
    return [p for p in getattr(shape, "geoms", [shape]) if p.area > 0.01]


def metal_of(folder):
    report = json.loads((folder / "report.json").read_text())
    box = report["figures"]["box"]
    svg = next(f for f in ("metal.svg", "not-to-be-cut.svg") if (folder / f).exists())
    shape = Polygon()
    for ring in rings_of_svg(folder / svg):
        at = [(x + box["x"], box["y"] + box["height"] - y) for x, y in ring]
        if len(at) > 2:
            shape = shape.symmetric_difference(Polygon(at).buffer(0))
    return report, shape


def share_of_piece(ring, metal, opening, mark):
    """Of an outline: on an edge of the metal, or else is the ink gone there? In %. What is joined of a dot or mark counts
    half as much again."""
    edge = ring.intersection(metal.boundary.buffer(NEAR)).length
    rest = ring.difference(metal.boundary.buffer(NEAR))
    gone = rest.intersection(metal).length if opening else rest.difference(metal).length
    joined = ring.length - edge - gone
    return 100 * (1 - (2 * gone + (1.5 if mark else 1) * joined) / ring.length), 100 * gone / ring.length


def share_of_counter(hole, metal, opening):
    if opening:
        return 100 * hole.intersection(metal).area / hole.area
    return 100 * hole.difference(metal).area / hole.area


def is_open(hole, metal):
    """Some of the wall of a standing letter's counter is in the air: no metal, and no edge of any."""
    return hole.exterior.difference(metal.boundary.buffer(NEAR)).difference(metal).length > 0.5


def read(pieces, edges, metal, opening):
    """The worst share of the letter; and whether a piece lost ink by area, which holdfast weighs besides. @edges: the
    pieces with their edges where lighter or bolder strokes have them."""
    body = max(p.area for p in pieces)
    worst, lost = 100, False
    for piece in edges:
        share, gone = share_of_piece(piece.exterior, metal, opening, piece.area < 0.99 * max(e.area for e in edges))
        if gone > 3:
            there = (piece.difference(metal) if opening else piece.intersection(metal)).area / piece.area
            share = min(share, 100 * (1 - 2 * (1 - there)))
            lost = lost or there < 0.98
        worst = min(worst, share)
        if not opening and any(is_open(Polygon(h), metal) for h in piece.interiors if Polygon(h).area > 0.002 * body):
            worst = min(worst, 0)
    for piece in pieces:
        for hole in piece.interiors:
            hole = Polygon(hole)
            if hole.area > 0.002 * body:
                worst = min(worst, share_of_counter(hole, metal, opening))
    return worst, lost


def recipe(seed):
    rng = random.Random(seed)
    family, style = rng.choice(FACES)
    text, opening = rng.choice(TEXTS), rng.random() < 0.5
    height, spacing = rng.choice([60, 80]), rng.choice(["4 mm", "8 mm"])
    bolder = rng.choice(["", "", "", ", bolder: -1 mm", ", bolder: 1.5 mm", ", bolder: 4 mm"])
    font = f"{{family: {family}, style: {style}}}"
    words = f"  - words: {{name: w, text: {text}, font: {font}, height: {height} mm, spacing: {spacing}{bolder}"
    x, y = rng.randint(-90, 90), rng.randint(-45, 60)
    what = rng.choice(["bar", "dot", "opening", "beside", "nothing"])
    done = {
        "bar": f"  - bar: {{length: {rng.randint(30, 300)} mm, height: {rng.randint(6, 25)} mm, at: [{x} mm, {y} mm]}}\n",
        "dot": f"  - dot: {{diameter: {rng.randint(8, 40)} mm, at: [{x} mm, {y} mm]}}\n",
        "opening": f"  - plate: {{shape: round, diameter: {rng.randint(8, 40)} mm, as: opening, at: [{x} mm, {y} mm]}}\n",
        "beside": f"  - bar: {{length: 300 mm, height: 10 mm, at: [0 mm, {rng.choice([-95, 95])} mm]}}\n",
        "nothing": "",
    }[what]
    board = "  - plate: {shape: rectangle, width: 500 mm, height: 240 mm}\n" if opening else ""
    words += ", as: opening}\n" if opening else "}\n"
    ties = "  - ties: {}\n" if opening and rng.random() < 0.5 else ""
    return HEAD + board + words + done + ties, text, (family, style), opening, bolder


def place_of(sign):
    done = subprocess.run([DUMP, sign], capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    return [s for s in map(json.loads, done.stdout.splitlines()) if s["letter"] >= 0]


def named(report, pieces):
    """(stop, caution, forms) of the letter: findings of the law with a place in its box."""
    x0, y0, x1, y1 = unary_union(pieces).bounds
    gravities, forms = set(), set()
    for finding in report["findings"]:
        if finding["key"] not in ("changed-letter", "hidden", "off-the-metal"):
            continue
        if any(x0 - 6 <= p["x"] <= x1 + 6 and y0 - 6 <= p["y"] <= y1 + 6 for p in finding["places"]):
            gravities.add(finding["gravity"])
            forms.add(finding["form"])
    return gravities, forms


def disagreements(make, tmp_path, seed):
    text, words, (family, style), opening, bolder = recipe(seed)
    font = face(family, style)
    made = make(text, name=f"s{seed}")
    if made.code == 2 and "gone" in made.err or "nothing is left" in made.err:
        return [], 0  # refused before it was laid: lighter than its strokes
    assert made.code in (0, 1), (seed, made.err)
    report, metal = metal_of(made.folder)
    wrong, asked = [], 0
    for shape in place_of(tmp_path / f"s{seed}.yaml"):
        pieces = edges = drawn(font, words[shape["letter"]], shape["em"])
        if bolder:  # edges moved: held against the letter as it was meant to be
            by = float(bolder.split(":")[1].split()[0])
            moved = unary_union([p.buffer(by, join_style=2) for p in pieces])
            if len(getattr(moved, "geoms", [moved])) != len(pieces) or \
               sum(len(p.interiors) for p in getattr(moved, "geoms", [moved])) != sum(len(p.interiors) for p in pieces):
                continue  # topology changed: test_bolder_letters looks at these
            edges = list(getattr(moved, "geoms", [moved]))
        worst, lost = read(pieces, edges, metal, opening)
        gravities, forms = named(report, pieces)
        asked += 1
        if worst < STOP - MARGIN and "stop" not in gravities:
            wrong.append((seed, words[shape["letter"]], "no stop", round(worst), made.folder))
        if worst > CAUTION + MARGIN and not lost and gravities and forms & {"piece", "counter"}:
            wrong.append((seed, words[shape["letter"]], "false alarm", round(worst), forms))
    return wrong, asked


def test_as_read_from_outside(make, tmp_path):
    if not DUMP.exists():
        pytest.skip("layout_dump is not built")
    wrong, asked = [], 0
    for seed in range(1, 600 if LONG else 40):
        w, n = disagreements(make, tmp_path, seed)
        wrong += w
        asked += n
    assert asked > 60
    assert not wrong, "\n".join(map(str, wrong))


# ---- spoilt on purpose -------------------------------------------------------------------------------------------

BOLD = "{family: DejaVu Sans, style: Bold}"
BOARD = "  - plate: {name: board, shape: rectangle, width: 400 mm, height: 200 mm}\n"
STAND = "  - words: {name: w, text: TEXT, font: " + BOLD + ", height: 80 mm, spacing: 8 mm}\n"
CUT = BOARD + "  - words: {name: w, text: TEXT, font: " + BOLD + ", height: 80 mm, spacing: 8 mm, as: opening}\n"

# what, entries, the letter that must be named; None: a neighbour that is harmless
SPOILT = [
    ("a bar over the dots", STAND.replace("TEXT", "ü") + "  - bar: {length: 80 mm, height: 26 mm, at: [0 mm, 39 mm]}\n", "ü"),
    ("a bar over them", STAND.replace("TEXT", "ü") + "  - bar: {length: 80 mm, height: 8 mm, at: [0 mm, 62 mm]}\n", None),
    ("a dot in the counter", STAND.replace("TEXT", "O") + "  - dot: {diameter: 50 mm, at: [0 mm, 0 mm]}\n", "O"),
    ("a small dot in it", STAND.replace("TEXT", "O") + "  - dot: {diameter: 12 mm, at: [0 mm, 0 mm]}\n", None),
    ("the counter cut open", STAND.replace("TEXT", "O") +
     "  - plate: {shape: rectangle, width: 60 mm, height: 6 mm, as: opening, at: [40 mm, 0 mm]}\n", "O"),
    ("a slot beside it", STAND.replace("TEXT", "O") +
     "  - plate: {shape: rectangle, width: 20 mm, height: 6 mm, as: opening, at: [80 mm, 0 mm]}\n", None),
    ("an accent cut away", STAND.replace("TEXT", "é") +
     "  - plate: {shape: rectangle, width: 80 mm, height: 30 mm, as: opening, at: [0 mm, 38 mm]}\n", "é"),
    ("a cut dot filled", CUT.replace("TEXT", "ij") + "  - bar: {length: 60 mm, height: 20 mm, at: [0 mm, 45 mm]}\n", "i"),
    ("a bar above it", CUT.replace("TEXT", "ij") + "  - bar: {length: 60 mm, height: 8 mm, at: [0 mm, 70 mm]}\n", None),
    ("a wide tie across", CUT.replace("TEXT", "l") + "  - tie: {of: w, em: [0.17, 0.4], direction: left, width: 60 mm, length: 60 mm}\n", "l"),
    ("a stencil tie", CUT.replace("TEXT", "O") + "  - ties: {}\n", None),
    ("counters filled by bolder strokes", STAND.replace("TEXT", "8").replace("spacing", "bolder: 9 mm, spacing"), "8"),
    ("a little bolder", STAND.replace("TEXT", "8").replace("spacing", "bolder: 1 mm, spacing"), None),
    ("an arm in a bar", STAND.replace("TEXT", "L") + "  - bar: {length: 120 mm, height: 24 mm, at: [0 mm, -34 mm]}\n", "L"),
    ("a foot on a bar", STAND.replace("TEXT", "L") + "  - bar: {length: 120 mm, height: 24 mm, at: [0 mm, -48 mm]}\n", None),
    ("off the plate", CUT.replace("TEXT", "N").replace("width: 400", "width: 60"), "N"),
    ("within the plate", CUT.replace("TEXT", "N").replace("width: 400", "width: 140"), None),
]


@pytest.mark.parametrize("what, entries, letter", SPOILT, ids=[s[0].replace(" ", "-") for s in SPOILT])
def test_spoilt_on_purpose(make, what, entries, letter):
    face("DejaVu Sans", "Bold")
    made = make(HEAD + entries)
    assert made.code in (0, 1), made.err
    laws = ("changed-letter", "hidden", "off-the-metal")
    stops = [f for f in made.report["findings"] if f["gravity"] == "stop" and f["key"] in laws]
    if letter is None:
        assert not [f["text"] for f in made.report["findings"] if f["key"] in laws], what
    else:
        assert any(f"'{letter}'" in f["text"] for f in stops), (what, [f["text"] for f in made.report["findings"]])


# ---- spoilt on purpose, seeded -----------------------------------------------------------------------------------
# From where fontTools puts them one dot, accent, counter or stroke of one letter is covered, filled, cut or pushed out;
# its neighbour is the same thing done a stroke beside all letters.

MARKED, HOLED, STRAIGHT = "iüéÖjÅ", "OB8aeQ", "LTEFH"


def spoil(rng):
    """(words, letter, entry that spoils it, the same beside it, cut through or not, face)"""
    face_, opening = rng.choice(FACES[:3]), rng.random() < 0.5
    how = rng.choice(["cover", "fill", "cut", "push"] if opening else ["cover", "fill", "cut"])
    letter = rng.choice({"cover": MARKED, "fill": HOLED, "cut": MARKED, "push": STRAIGHT}[how])
    before, behind = rng.choice(["", "n", "mo"]), rng.choice(["", "l", "un"])
    return face_, opening, how, letter, before + letter + behind, len(before)


def box_entry(kind, bounds, grow):
    x0, y0, x1, y1 = bounds[0] - grow, bounds[1] - grow, bounds[2] + grow, bounds[3] + grow
    at = f"at: [{(x0 + x1) / 2:.3f} mm, {(y0 + y1) / 2:.3f} mm]"
    if kind == "bar":
        return f"  - bar: {{length: {x1 - x0:.3f} mm, height: {y1 - y0:.3f} mm, {at}}}\n"
    return f"  - plate: {{shape: rectangle, width: {x1 - x0:.3f} mm, height: {y1 - y0:.3f} mm, as: opening, {at}}}\n"


def spoilt_pair(seed, tmp_path):
    """Two recipes, spoilt and with the harmless neighbour, and the letter."""
    rng = random.Random(seed)
    (family, style), opening, how, letter, text, at = spoil(rng)
    font = f"{{family: {family}, style: {style}}}"
    board = "  - plate: {shape: rectangle, width: 500 mm, height: 240 mm}\n" if opening else ""
    words = f"  - words: {{name: w, text: {text}, font: {font}, height: 80 mm, spacing: 10 mm{', as: opening' if opening else ''}}}\n"
    plain = tmp_path / f"plain{seed}.yaml"
    plain.write_text(HEAD + board + words)
    places = place_of(plain)
    drawn_ = [drawn(face(family, style), text[p["letter"]], p["em"]) for p in places]
    pieces = sorted(drawn_[at], key=lambda p: -p.area)
    body = pieces[0]
    if how == "fill":
        holes = [Polygon(h) for h in body.interiors]
        spoiling = box_entry("opening" if opening else "bar", max(holes, key=lambda h: h.area).bounds, 0.5)
    elif how in ("cover", "cut"):  # a whole mark: covered by metal, or cut away
        kind = "bar" if (how == "cover") else "opening"
        spoiling = box_entry(kind, pieces[-1].bounds, 1.5)
    else:  # the plate ends within the letter
        x = body.bounds[0] + 0.5 * (body.bounds[2] - body.bounds[0])
        spoiling = box_entry("opening", (x, -110, x + 300, 110), 0)
    away = unary_union([p for letter_ in drawn_ for p in letter_]).bounds
    bar = rng.choice([(away[0], away[3] + 20, away[2], away[3] + 28), (away[0] - 40, away[1], away[0] - 20, away[3])])
    beside = box_entry(rng.choice(["bar", "opening"]), bar, 0)
    return HEAD + board + words + spoiling, HEAD + board + words + beside, letter, how


def test_spoilt_on_purpose_seeded(make, tmp_path):
    if not DUMP.exists():
        pytest.skip("layout_dump is not built")
    laws = ("changed-letter", "hidden", "off-the-metal", "tight-margin")
    wrong = []
    for seed in range(1, 201 if LONG else 17):
        spoilt, beside, letter, how = spoilt_pair(seed, tmp_path)
        made = make(spoilt, name=f"a{seed}")
        assert made.code in (0, 1), (seed, made.err)
        stops = [f["text"] for f in made.report["findings"] if f["gravity"] == "stop" and f["key"] in laws]
        if not any(f"'{letter}'" in text for text in stops):
            wrong.append((seed, how, letter, "not named", stops))
        made = make(beside, name=f"b{seed}")
        assert made.code in (0, 1), (seed, made.err)
        said = [f["text"] for f in made.report["findings"] if f["key"] in laws]
        if said:
            wrong.append((seed, how, letter, "false alarm", said))
    assert not wrong, "\n".join(map(str, wrong))


# ---- recipes that went wrong once, outside of this tree ------------------------------------------------------------

LOST = ["01-lighter-cut-letters-gone", "02-bolder-counters-closed", "03-hand-tie-destroys-letter", "04-split-bars-bury-hangul",
        "05-crack-under-kerf-arabic", "06-crack-under-kerf-bangers", "07-wedge-crack-minimal",
        "08-wedge-crack-never-reaches-kerf", "09-crescent-horns", "12-accents-swallowed-by-bar",
        "16-cure-lumps-at-edge", "20-cure-closer-swallows-u"]


@pytest.mark.parametrize("name", LOST)
def test_no_false_whole(yardsticks, name):
    from conftest import holdfast
    done = holdfast("check", yardsticks / "cases" / f"{name}.yaml")
    assert done.returncode == 1, done.stdout
