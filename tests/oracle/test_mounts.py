# SPDX-License-Identifier: GPL-3.0-or-later
"""What a sign is fixed by, against tables and libraries: clearance holes against ISO 273 as published, slots and keyholes against shapely, studs
against fontTools and shapely, the drilling template against pixels of poppler."""
import io
import itertools
import math
import re
import subprocess

import numpy
import pytest
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont
from PIL import Image
from shapely.affinity import affine_transform
from shapely.geometry import LineString, MultiPoint, Point, Polygon
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


# ---- studs ------------------------------------------------------------------------------------------------------------

TEXT = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789&"
STUD, EDGE, HEIGHT = 6, 3, 130
FACES = {
    "{family: League Spartan, style: Bold}": "League Spartan:bold",
    "{family: DejaVu Sans, style: Bold}": "DejaVu Sans:bold",
    "{family: DejaVu Serif, style: Bold}": "DejaVu Serif:bold",
    "{family: Lobster Two, style: Bold}": "Lobster Two:bold",
    "{family: DejaVu Sans Mono, style: Bold}": "DejaVu Sans Mono:bold",
    "{family: Bebas Neue, style: Bold}": "Bebas Neue:bold",
}


def letters_on_studs(face, text, more=""):
    return "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1 mm}\nmount: studs\nalone: [name, dots of name]\nentries:\n" \
           f'  - words: {{name: name, text: "{text}", font: {face}, height: {HEIGHT} mm, spacing: 16 mm{more}}}\n' \
           f"  - studs: {{of: name, diameter: {STUD} mm, edge: {EDGE} mm}}\n"


def flattened(glyph, glyphs, steps=40):
    """The contours of a glyph by fontTools' pens, curves in chords."""
    pen = DecomposingRecordingPen(glyphs)
    glyph.draw(pen)
    rings, ring = [], []
    for what, points in pen.value:
        if what == "moveTo":
            ring = [points[0]]
        elif what == "lineTo":
            ring.append(points[0])
        elif what == "curveTo":
            p = [ring[-1], *points]
            ring += [tuple(sum(w * q[k] for w, q in zip(((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3), p)) for k in (0, 1))
                     for t in (i / steps for i in range(1, steps + 1))]
        elif what == "qCurveTo":
            off = list(points[:-1])
            ends = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in zip(off, off[1:])] + [points[-1]]
            for c, end in zip(off, ends):
                a = ring[-1]
                ring += [tuple((1 - t) ** 2 * a[k] + 2 * t * (1 - t) * c[k] + t * t * end[k] for k in (0, 1)) for t in (i / steps for i in range(1, steps + 1))]
        elif what in ("closePath", "endPath"):
            rings.append(ring)
    return rings


def glyph_pieces(rings):
    """Each connected piece, by the even-odd rule: no contours of these faces overlap, as the areas say below."""
    whole = Polygon()
    for ring in rings:
        if len(ring) > 2:
            whole = whole.symmetric_difference(Polygon(ring).buffer(0))
    return list(whole.geoms) if whole.geom_type == "MultiPolygon" else [whole]


class Face:
    def __init__(self, pattern):
        file = subprocess.run(["fc-match", "-f", "%{file}", pattern], capture_output=True, text=True, check=True).stdout
        font = TTFont(file)
        self.names, self.glyphs = font.getBestCmap(), font.getGlyphSet()

    def pieces(self, char):
        return glyph_pieces(flattened(self.glyphs[self.names[ord(char)]], self.glyphs))


def placed(part, face):
    """The piece of fontTools' glyph that the part is, where it stands: by its box; and that its area is the part's says that it is it."""
    box = part["box"]
    char = re.search(r"letter '(.)'", part["name"])[1]

    def fit(piece):
        x0, y0, x1, y1 = piece.bounds
        k = box["height"] / (y1 - y0)
        return affine_transform(piece, [k, 0, 0, k, box["x"] - k * x0, box["y"] - k * y0])
    best = min(map(fit, face.pieces(char)), key=lambda it: abs(it.area - part["area"]) + abs(it.bounds[2] - it.bounds[0] - box["width"]))
    assert best.area == pytest.approx(part["area"], rel=0.004), part["name"]
    return best


def studs_by_part(report):
    found = {}
    for part in report["parts"]:
        box = part["box"]
        inside = [(s["place"]["x"], s["place"]["y"]) for s in report["studs"] if s["part"] == part["name"]
                  and box["x"] < s["place"]["x"] < box["x"] + box["width"] and box["y"] < s["place"]["y"] < box["y"] + box["height"]]
        found[part["name"], box["x"], box["y"]] = (part, inside)
    return found.values()


def places_of(report, key):
    return [(p["x"], p["y"]) for f in report["findings"] if f["key"] == key for p in f["places"]]


@pytest.mark.parametrize("face", FACES)
def test_mass_within_studs(make, face):
    """Sixty letters of each face, by fontTools and shapely: the centre of mass lies within the hull of the studs, of two on their line between them; every
    stud has its edge of metal all round. Pieces for which that can't be are told, and few."""
    made = make(letters_on_studs(face, TEXT))
    report, font = made.report, Face(FACES[face])
    few, no, outside = (places_of(report, key) for key in ("few-studs", "no-stud", "studs-outside"))
    checked = told = 0
    assert len(report["studs"]) == len({(s["place"]["x"], s["place"]["y"]) for s in report["studs"]})
    for part, studs in studs_by_part(report):
        glyph = placed(part, font)
        middle = glyph.centroid
        near = lambda places: any(math.dist(p, (middle.x, middle.y)) < 0.3 for p in places)  # noqa: E731
        for stud in studs:
            assert glyph.contains(Point(stud)) and glyph.exterior.distance(Point(stud)) > STUD / 2 + EDGE - 0.03, part["name"]
            assert all(Point(stud).distance(hole) > STUD / 2 + EDGE - 0.03 for hole in glyph.interiors), part["name"]
        if near(no) or near(outside):
            told += 1
            assert near(outside) == bool(studs)
            if near(outside):
                assert not MultiPoint(studs).convex_hull.contains(middle), part["name"]
            else:  # no disc of that size lies in the letter
                assert glyph.buffer(-(STUD / 2 + EDGE + 0.03)).is_empty, part["name"]
        elif near(few):
            told += 1
            line = MultiPoint(studs).convex_hull
            assert len(studs) <= 2 or line.area < 18 * line.length
            assert line.distance(middle) < max(9, 0.05 * HEIGHT) if len(studs) > 1 else len(studs) == 1, part["name"]
        else:
            assert len(studs) >= 3 and MultiPoint(studs).convex_hull.contains(middle), part["name"]
            checked += 1
    assert checked >= 48 and told <= 0.25 * (checked + told), (checked, told)


def test_equal_and_symmetric(make):
    """Equal letters have equal studs, also turned along an arc; letters that are their own mirror image have mirror images."""
    rows = make(letters_on_studs("{family: DejaVu Sans, style: Bold}", "EROERO", ", arc radius: 900 mm, at: top"))
    own = {}
    for part, studs in studs_by_part(rows.report):
        (cx, cy), name = (part["centroid"]["x"], part["centroid"]["y"]), re.search(r"letter '(.)'", part["name"])[1]
        own.setdefault(name, []).append(sorted(math.dist(s, (cx, cy)) for s in studs))
    both = [pair for pair in own.values() if len(pair) == 2]
    assert len(both) == 3
    for one, other in both:
        assert one == pytest.approx(other, abs=0.03)
    made = make(letters_on_studs("{family: DejaVu Sans, style: Bold}", "AHIMOTUVWXY"), name="mirror")
    for part, studs in studs_by_part(made.report):
        axis = part["box"]["x"] + part["box"]["width"] / 2
        mirrored = [(2 * axis - x, y) for x, y in studs]
        assert all(min(math.dist(p, q) for q in studs) < 0.01 * HEIGHT for p in mirrored), part["name"]


def test_thinner_studs(make):
    """Where there is no room it says which stud would do, and that one does."""
    face = "{family: Bebas Neue, style: Regular}"
    text = letters_on_studs(face, "HOLM").replace("diameter: 6 mm", "diameter: 14 mm")
    made = make(text)
    said = {int(mm) for mm in re.findall(r"studs of (\d+) mm would do", " ".join(f["text"] for f in made.report["findings"]))}
    assert said and places_of(made.report, "no-stud")
    again = make(text.replace("diameter: 14 mm", f"diameter: {min(said)} mm"), name="again")
    assert not places_of(again.report, "no-stud") and not places_of(again.report, "studs-outside") and again.report["studs"]


# ---- the template -----------------------------------------------------------------------------------------------------

DPI = 300
MM = DPI / 25.4


class Page:
    def __init__(self, pdf, number):
        png = subprocess.run(["pdftoppm", "-r", str(DPI), "-gray", "-f", str(number), "-l", str(number), pdf], capture_output=True, check=True).stdout
        self.dark = 255.0 - numpy.asarray(Image.open(io.BytesIO(png)), dtype=float)
        words = subprocess.run(["pdftotext", "-bbox", "-f", str(number), "-l", str(number), pdf, "-"], capture_output=True, text=True, check=True).stdout
        self.words = [(float(x) * DPI / 72, float(y) * DPI / 72, float(end) * DPI / 72, text) for x, y, end, text in
                      re.findall(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)"[^>]*>([^<]*)</word>', words)]

    def line(self, x, y, along, length=5.0, search=1.5):
        """Where a thin line that runs `along` x or y crosses, near a point: the middle of the darkest pixels, in mm."""
        r, n = int(search * MM), int(length * MM)
        x, y = round(x), round(y)
        cut = self.dark[y - r:y + r + 1, x - n:x + n + 1] if along == "x" else self.dark[y - n:y + n + 1, x - r:x + r + 1]
        profile = cut.mean(axis=1 if along == "x" else 0)
        best = int(profile.argmax())
        around = range(max(best - 1, 0), min(best + 2, len(profile)))
        middle = sum(i * profile[i] for i in around) / sum(profile[i] for i in around)
        return ((y if along == "x" else x) - r + middle) / MM

    def cross(self, off, left, right, y):
        """The cross beside a label from x `left` to `right`, `off` away: before it, or behind it where the tile ends. None: it is cut off there."""
        def dark(x):
            r, n = round(0.5 * MM), round(4 * MM)
            if not (12 * MM < x < self.dark.shape[1] - 12 * MM and 16 * MM < y < self.dark.shape[0] - 38 * MM):
                return 0
            return self.dark[round(y) - n:round(y) + n, round(x) - r:round(x) + r].max(axis=1).mean()
        x = max(left - off, right + off, key=dark)
        if dark(x) < 60:
            return None
        return self.line(x, y, "y"), self.line(x, y, "x")

    def marks(self, kind):
        """Number: where the label `kind NUMBER: ... mm` begins and ends, and its upper edge."""
        found = {}
        for i, (x, y, _, word) in enumerate(self.words[:-1]):
            number = self.words[i + 1][3]
            if word == kind and re.fullmatch(r"\d+:", number):
                last = i + 1
                while last + 1 < len(self.words) and abs(self.words[last + 1][1] - y) < 3 and 0 < self.words[last + 1][0] - self.words[last][2] < 2 * MM:
                    last += 1
                found[int(number[:-1])] = x, self.words[last][2], y
        return found


def template_pages(pdf):
    pages = int(re.search(r"Pages:\s+(\d+)", subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout)[1])
    return [Page(pdf, n) for n in range(1, pages + 1)]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_template(make, paper):
    """Every page at 300 dpi: the measure is 100 mm long; studs and holes are as far from each other as the report says, within 0.2 mm, on a page and
    from page to page by the crosses that are laid on each other."""
    text = letters_on_studs("{family: League Spartan, style: Bold}", "QUAYSIDE").replace(
        "entries:\n", "entries:\n  - bar: {name: rail, length: 700 mm, height: 40 mm, shift: [0 mm, -130 mm]}\n"
                      "  - hole: {name: bolts, on: rail, screw: M8, at: [[-320 mm, 0 mm], [320 mm, 0 mm]]}\n")
    made = make(text, "--paper", paper)
    assert (made.folder / "template.pdf").exists(), made.out + made.err
    pages = template_pages(made.folder / "template.pdf")
    wanted = {("stud", s["number"]): (s["place"]["x"], s["place"]["y"], s["diameter"]) for s in made.report["studs"]}
    wanted |= {("hole", h["number"]): (h["place"]["x"], h["place"]["y"], h["diameter"]) for h in made.report["holes"]}
    assert len(wanted) > 20 and len(pages) > 3
    seen, joints = set(), {}
    for number, page in enumerate(pages):
        row = next(y for _, y, _, word in page.words if word == "measure") / MM
        assert measure_of(page, row) == pytest.approx(100, abs=0.2)
        if number == 0:
            continue  # the map
        own = {}
        for kind in ("stud", "hole"):
            for mark, (left, right, y) in page.marks(kind).items():
                at = page.cross((wanted[kind, mark][2] / 2 + 1) * MM, left, right, y + 7.5 * 1.5 * DPI / 72)
                if at is not None:
                    own[kind, mark] = at
        seen |= own.keys()
        for (a, (ax, ay)), (b, (bx, by)) in itertools.combinations(own.items(), 2):
            assert bx - ax == pytest.approx(wanted[b][0] - wanted[a][0], abs=0.2), (number, a, b)
            assert ay - by == pytest.approx(wanted[b][1] - wanted[a][1], abs=0.2), (number, a, b)
        for (left, y, _, a), (_, _, _, bar), (_, _, right, b) in zip(page.words, page.words[1:], page.words[2:]):
            if bar == "|" and own:
                at = page.cross(2 * MM, left, right, y + 6 * 1.5 * DPI / 72)
                if at is None:
                    continue
                mark, (mx, my) = next(iter(own.items()))
                # where the cross lies in the sign's frame, by this page
                joints.setdefault((a, b), []).append((wanted[mark][0] + at[0] - mx, wanted[mark][1] - at[1] + my, number))
    assert seen == wanted.keys()
    shared = 0
    for places in joints.values():
        for p, q in itertools.combinations(places, 2):
            if p[2] != q[2] and math.dist(p[:2], q[:2]) < 20:
                shared += 1
                assert p[:2] == pytest.approx(q[:2], abs=0.2)
    assert shared > 2


def test_template_in_inches(make):
    """Told in inches, what is laid along the measure is an inch rule: 4 in of it, whatever else is in millimetres."""
    made = make(letters_on_studs("{family: League Spartan, style: Bold}", "QUAY"), "--units", "in")
    for page in template_pages(made.folder / "template.pdf"):
        words = [word for _, _, _, word in page.words]
        assert "mm" not in words and "mm:" not in words and words[words.index("measure") - 2:words.index("measure")] == ["4", "in:"]
        assert measure_of(page, next(y for _, y, _, word in page.words if word == "measure") / MM, 9, 12.7) == pytest.approx(101.6, abs=0.2)


def measure_of(page, row, lines=11, step=10):
    """From the first to the last long stroke of the measure at the foot, mm."""
    y = round(row * MM)
    band = page.dark[y - round(1 * MM):y + round(5.5 * MM)]
    base = int(band[:, :round(60 * MM)].sum(axis=1).argmax()) + y - round(1 * MM)
    strokes = page.dark[base - round(1.6 * MM):base - round(0.6 * MM), :round(112 * MM)].mean(axis=0)
    dark = [i for i, v in enumerate(strokes) if v > 60]
    groups = []
    for i in dark:
        if groups and i - groups[-1][-1] <= 2:
            groups[-1].append(i)
        else:
            groups.append([i])
    middles = [sum(i * strokes[i] for i in g) / sum(strokes[i] for i in g) / MM for g in groups]
    assert len(middles) == lines, middles
    assert all(b - a == pytest.approx(step, abs=0.2) for a, b in zip(middles, middles[1:]))
    return middles[-1] - middles[0]


def test_template_of_holes(make):
    """Without studs it is made on request; of what is not whole it is called so."""
    text = HEAD + "  - hole: {screw: M6, on: board, from corners: 20 mm}\n"
    assert not (make(text).folder / "template.pdf").exists()
    made = make(text, "--also", "template", name="asked")
    assert (made.folder / "template.pdf").exists() and made.report["files"]
    broken = make(text + "  - hole: {diameter: 8 mm, on: board, at: [147 mm, 0 mm]}\nmount: holes\n", "--also", "template", name="broken")
    assert (broken.folder / "not-to-be-drilled.pdf").exists() and not (broken.folder / "template.pdf").exists()
    words = subprocess.run(["pdftotext", broken.folder / "not-to-be-drilled.pdf", "-"], capture_output=True, text=True, check=True).stdout
    assert "NOT TO BE DRILLED" in words
