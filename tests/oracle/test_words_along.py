# SPDX-License-Identifier: GPL-3.0-or-later
"""Words along a line, and words drawn out to a shape, against code that is not ours.

Rigid letters: headless Chromium's SVG text on a path (SVG 2, 'Text on a path layout rules') along an
ellipse and a wave of many cubics, the edge of a plate, and scipy's natural CubicSpline through
the points. Bent and shaped letters: fontTools' points through the map, with numpy's own lengths.
Where the ink begins and ends fontTools says, where pens are the browser or table hmtx; kerning is off
where we add up advances ourselves.
"""
import json
import math
import subprocess

import numpy as np
import pytest

from conftest import TOP

scipy_interpolate = pytest.importorskip("scipy.interpolate")
pytest.importorskip("fontTools")
scipy_spatial = pytest.importorskip("scipy.spatial")
from fontTools.pens.boundsPen import BoundsPen  # noqa: E402
from fontTools.pens.recordingPen import DecomposingRecordingPen  # noqa: E402
from fontTools.ttLib import TTFont  # noqa: E402

DUMP = TOP / "build" / "tests" / "tools" / "layout_dump"
SCALE = 60  # pixels a mm; see test_circle_text.py
FACES = ["Bebas Neue", "DejaVu Serif", "Lobster Two"]
TEXTS = ["Harbour", "AVATAR", "Tide Table", "1894", "LTA Vy", "pottery", "Boat Yard"]
POINTS = [[(-220, 0), (-60, 70), (90, -50), (230, 40)], [(-250, 30), (-100, -40), (20, 50), (130, 55), (260, -30)]]


def font_file(family):
    return subprocess.run(["fc-match", "-f", "%{file}", f"{family}:style=Regular"], capture_output=True, text=True).stdout


FONTS = {}


def font_of(face):
    if face not in FONTS:
        FONTS[face] = TTFont(font_file(face))
    return FONTS[face]


def dump(tmp_path, name, entries):
    recipe = tmp_path / f"{name}.yaml"
    recipe.write_text("holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n" +
                      "".join(f"  - {entry}\n" for entry in entries))
    done = subprocess.run([DUMP, recipe], capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr
    return [shape for shape in map(json.loads, done.stdout.splitlines()) if shape["letter"] >= 0]


def bounds(face, char):
    font = font_of(face)
    pen = BoundsPen(font.getGlyphSet())
    font.getGlyphSet()[font.getBestCmap()[ord(char)]].draw(pen)
    return [v / font["head"].unitsPerEm for v in pen.bounds]


# ---- the lines, as points and as paths of SVG; y up, mm -------------------------------------------------


def ellipse_points(wide, high, inward):
    turn = 1 if inward else -1
    t = math.pi + turn * np.linspace(0, 2 * math.pi, 400001)
    return np.stack([wide / 2 * np.cos(t), high / 2 * np.sin(t)], 1)


def wave_points(high, length, reach):
    x = np.linspace(-reach, reach, 400001)
    return np.stack([x, high / 2 * np.sin(2 * math.pi * x / length)], 1)


def spline_of(points):
    """scipy's natural cubic spline; its parameter grows by the root of the distance (E. Lee, 1989)."""
    p = np.array(points, float)
    t = np.concatenate([[0], np.cumsum(np.sqrt(np.hypot(*np.diff(p, axis=0).T)))])
    return scipy_interpolate.CubicSpline(t, p, bc_type="natural"), t


def spline_points(points):
    spline, t = spline_of(points)
    return spline(np.linspace(t[0], t[-1], 400001))


def cubic_path(p, d):
    """Cubics through p, whose derivative by the index is d."""
    parts = [f"M{p[0][0] * SCALE:.6f} {-p[0][1] * SCALE:.6f}"]
    for i in range(len(p) - 1):
        a, b = p[i] + d[i] / 3, p[i + 1] - d[i + 1] / 3
        parts.append("C" + " ".join(f"{v[0] * SCALE:.6f} {-v[1] * SCALE:.6f}" for v in (a, b, p[i + 1])))
    return "".join(parts)


def ellipse_path(wide, high, inward, n=360):
    """Of many cubics: a browser draws an arc as one cubic a quarter, 3e-4 of its radius off."""
    turn = 1 if inward else -1
    t = math.pi + turn * np.linspace(0, 2 * math.pi, n + 1)
    p = np.stack([wide / 2 * np.cos(t), high / 2 * np.sin(t)], 1)
    return cubic_path(p, turn * 2 * math.pi / n * np.stack([-wide / 2 * np.sin(t), high / 2 * np.cos(t)], 1))


def wave_path(high, length, reach, n=240):
    x = np.linspace(-reach, reach, n + 1)
    k, step = 2 * math.pi / length, 2 * reach / n
    p = np.stack([x, high / 2 * np.sin(k * x)], 1)
    return cubic_path(p, np.stack([np.full_like(x, step), step * high / 2 * k * np.cos(k * x)], 1))


def spline_path(points):
    spline, t = spline_of(points)
    whole = ""
    for i in range(len(t) - 1):
        h = t[i + 1] - t[i]
        p, d = spline(t[i:i + 2]), spline(t[i:i + 2], 1) * h
        piece = cubic_path(p, d)
        whole += piece if i == 0 else piece[piece.index("C"):]
    return whole


# ---- rigid letters: the browser ---------------------------------------------------------------------------

PAGE = """<html><head><style>%(faces)s text{white-space:pre;font-kerning:normal;font-variant-ligatures:none;text-rendering:geometricPrecision}</style></head>
<body><svg xmlns="http://www.w3.org/2000/svg" width="9000" height="9000" viewBox="-4500 -4500 9000 9000">
%(texts)s</svg></body></html>"""

# the straight text says where pens are; with where ink begins and ends that is where the words start
PUT = """
  return arguments[0].map(([n, min, max, middle]) => {
    const flat = document.getElementById('f' + n), path = document.getElementById('p' + n);
    const count = flat.getNumberOfChars(), last = flat.getStartPositionOfChar(count - 1).x - flat.getStartPositionOfChar(0).x;
    const start = path.getTotalLength() * middle - (min + last + max) / 2;
    document.querySelector('#t' + n + ' textPath').setAttribute('startOffset', start);
    const text = document.getElementById('t' + n);
    return [...Array(count).keys()].map(i => { const p = text.getStartPositionOfChar(i); return [p.x, p.y, text.getRotationOfChar(i)]; });
  })"""


def cases():
    n = 0
    for face in FACES:
        for text in TEXTS:
            height = [20, 28, 35][n % 3]
            for line in ("ellipse top", "ellipse bottom", "wave", "through", "edge", "arch"):
                yield n, face, text, height, line
                n += 1


def set_up(n, line, height):
    """The keys of the recipe, the path, where its middle is, and by how much the baseline is lowered."""
    if line.startswith("ellipse"):
        wide, high = [(500, 260), (420, 300), (600, 180)][n % 3]
        place = line.split()[1]
        return f"ellipse: [{wide} mm, {high} mm], at: {place}", ellipse_path(wide, high, place == "bottom"), 0.25, 0
    if line == "wave":
        high, length = [(40, 300), (25, 160), (60, 420)][n % 3]
        return f"wave: {high} mm, wave length: {length} mm", wave_path(high, length, 300), 0.5, height / 2
    if line == "edge":  # of an oval plate, so far in that the line is no ellipse any more: a circle stays one
        across = [400, 460, 520][n % 3]
        inner = across - 2 * (12 + height)
        return "edge of: board, inset: 12 mm", ellipse_path(inner, inner, False), 0.25, 0
    if line == "through":
        points = POINTS[n % 2]
        said = ", ".join(f"[{x} mm, {y} mm]" for x, y in points)
        return f"through: [{said}]", spline_path(points), 0.5, 0
    return "arch: 24 mm", None, 0.5, 0


def test_rigid_letters_stand_as_in_a_browser(tmp_path, browser):
    texts, rows, asked = [], [], []
    for n, face, text, height, line in cases():
        if line == "arch":
            continue  # a circle, whose radius follows from the words: test_arch_is_an_arc_of_its_words
        keys, path, middle, lowered = set_up(n, line, height)
        entries = [f'words: {{text: "{text}", font: {{family: {face}, features: "-liga"}}, height: {height} mm, {keys}}}']
        if line == "edge":
            entries.insert(0, f"plate: {{name: board, shape: round, diameter: {[400, 460, 520][n % 3]} mm}}")
        letters = dump(tmp_path, f"t{n}", entries)
        size = math.hypot(letters[0]["em"][0], letters[0]["em"][2])
        style = f"font-family:f{FACES.index(face)};font-size:{size * SCALE}px"
        texts.append(f'<path id="p{n}" fill="none" d="{path}"/><text id="f{n}" style="{style}">{text}</text>'
                     f'<text id="t{n}" style="{style}"><textPath href="#p{n}" startOffset="0">{text}</textPath></text>')
        asked.append([n, bounds(face, text[0])[0] * size * SCALE, bounds(face, text[-1])[2] * size * SCALE, middle])
        rows.append((face, text, line, lowered, letters))
    faces = "".join(f'@font-face{{font-family:f{i};src:url("file://{font_file(face)}")}}' for i, face in enumerate(FACES))
    page = tmp_path / "page.html"
    page.write_text(PAGE % {"faces": faces, "texts": "\n".join(texts)})
    browser.get(f"file://{page}")
    browser.set_script_timeout(60)
    browser.execute_async_script("const done = arguments[0]; document.fonts.ready.then(() => setTimeout(done, 200))")
    got = browser.execute_script(PUT, asked)
    worst, compared = {}, 0
    for (face, text, line, lowered, letters), theirs in zip(rows, got):
        wanted = [(c, b) for c, b in zip(text, theirs) if c != " "]
        assert len(wanted) == len(letters)
        for (char, (x, y, rotation)), letter in zip(wanted, letters):
            xx, xy, yx, yy, x0, y0 = letter["em"]
            turn = abs((math.degrees(math.atan2(yx, xx)) + rotation + 180) % 360 - 180)
            away = math.hypot(x / SCALE - x0, -y / SCALE - lowered - y0)
            before = worst.get(line, (0, 0))
            worst[line] = (max(before[0], turn), max(before[1], away))
            assert turn < 0.01 and away < 0.01, f"{face} '{text}' {char} on {line}: {turn} deg, {away} mm"
            compared += 1
    print(compared, {line: (round(t, 5), round(a, 5)) for line, (t, a) in worst.items()})
    assert compared >= 500


def test_arch_is_an_arc_of_its_words(tmp_path):
    """Ink of length L on an arc of half angle a: R = L / 2a, R (1 - cos a) = rise (plane geometry)."""
    for text, height, rise in (("HARBOUR", 40, 30), ("TIDE", 30, -18), ("SALTMARSH", 25, 60)):
        face, features = "DejaVu Serif", "-kern,-liga"
        letters = dump(tmp_path, f"a{text}", [f'words: {{text: {text}, font: {{family: {face}, features: "{features}"}}, height: {height} mm, arch: {rise} mm}}'])
        size = math.hypot(letters[0]["em"][0], letters[0]["em"][2])
        pens, length = pens_of(face, text)
        ink = (pens[-1] + bounds(face, text[-1])[2] - bounds(face, text[0])[0]) * size
        low, high = 1e-6, 2.3311
        for _ in range(200):
            a = (low + high) / 2
            low, high = (low, a) if (1 - math.cos(a)) / (2 * a) > abs(rise) / ink else (a, high)
        radius = ink / (2 * a)
        sign = 1 if rise > 0 else -1
        # every letter's middle is on one circle, its turn the arc length over the radius
        first = None
        for letter, pen, char in zip(letters, pens, text):
            xx, xy, yx, yy, x0, y0 = letter["em"]
            half = advance_of(face, char) / 2
            x, y, turn = x0 + xx * half, y0 + yx * half, math.atan2(yx, xx)
            centre = (x + sign * radius * math.sin(turn), y - sign * radius * math.cos(turn))
            place = (centre[0], centre[1], turn + sign * (pen + half) * size / radius)
            first = first or place
            assert max(abs(p - q) for p, q in zip(place, first)) < 1e-5
        boxes = np.array([letter["box"] for letter in letters])
        assert abs(boxes[:, 0].min() + boxes[:, 2].max()) < 1e-6 and abs(boxes[:, 1].min() + boxes[:, 3].max()) < 1e-6


# ---- bent and shaped letters: fontTools' points through the map -----------------------------------------------


def advance_of(face, char):
    font = font_of(face)
    return font["hmtx"][font.getBestCmap()[ord(char)]][0] / font["head"].unitsPerEm


def pens_of(face, text):
    advances = [advance_of(face, char) for char in text]
    pens = np.concatenate([[0], np.cumsum(advances)])
    return list(pens[:-1]), pens[-1]


def mix(points, t):
    while len(points) > 1:
        points = [p + (q - p) * t for p, q in zip(points, points[1:])]
    return points[0]


def glyph_points(face, char, steps=120):
    """Contours of a glyph as fontTools reads it, in ems, finely."""
    font = font_of(face)
    em = font["head"].unitsPerEm
    pen = DecomposingRecordingPen(font.getGlyphSet())
    font.getGlyphSet()[font.getBestCmap()[ord(char)]].draw(pen)
    contours, t = [], np.linspace(0, 1, steps + 1)[1:, None]

    def add(points):
        contours[-1].append(mix([np.array(p)[None, :] for p in points], t))

    for verb, args in pen.value:
        args = [np.array(p, float) / em if p is not None else None for p in args]
        if verb == "moveTo":
            here = start = args[0]
            contours.append([here[None, :]])
        elif verb == "lineTo":
            add([here, args[0]])
            here = args[0]
        elif verb == "curveTo":
            add([here, *args])
            here = args[-1]
        elif verb == "qCurveTo":
            if args[-1] is None:
                args[-1] = (args[0] + args[-2]) / 2
                here = start = args[-1]
                contours[-1] = [here[None, :]]
            for i in range(len(args) - 1):
                to = args[-1] if i == len(args) - 2 else (args[i] + args[i + 1]) / 2
                add([here, args[i], to])
                here = to
        elif verb == "closePath" and not np.allclose(here, start):
            add([here, start])
    return [np.concatenate(contour) for contour in contours]


class Lines:
    """Closed polylines, to measure how far points are from them."""

    def __init__(self, rings):
        starts, ends = [], []
        for points in rings:
            for p, q in zip(points, np.roll(points, -1, 0)):
                t = np.linspace(0, 1, max(2, int(np.hypot(*(q - p)) / 0.5) + 2))[:, None]
                cut = p + (q - p) * t  # so short that the nearest is found by its start
                starts.append(cut[:-1])
                ends.append(cut[1:])
        self.a, self.b = np.concatenate(starts), np.concatenate(ends)
        self.tree = scipy_spatial.cKDTree((self.a + self.b) / 2)

    def farthest(self, points):
        _, near = self.tree.query(points, k=12)
        a, along = self.a[near], self.b[near] - self.a[near]
        off = points[:, None, :] - a
        t = np.clip((off * along).sum(2) / np.maximum((along ** 2).sum(2), 1e-30), 0, 1)
        return np.hypot(*np.moveaxis(off - along * t[..., None], 2, 0)).min(1).max()


def compare(letters, images):
    """Farthest that ours is from the images and they from ours, mm."""
    worst = 0
    for letter, contours in zip(letters, images):
        ours = [np.array(c).reshape(-1, 2) for c in letter["contours"]]
        worst = max(worst, Lines(ours).farthest(np.concatenate(contours)), Lines(contours).farthest(np.concatenate(ours)))
    return worst


TOLERANCE = 0.005  # mm: ours within 1 um and cut into chords within 2 um, theirs into a hundred and twenty a curve


class Course:
    """Points by length, from a fine polyline."""

    def __init__(self, points):
        self.points = points
        self.s = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
        way = np.gradient(points, axis=0)
        self.way = way / np.hypot(*way.T)[:, None]

    def image(self, p, start):
        s = start + p[:, 0]
        at = np.stack([np.interp(s, self.s, self.points[:, k]) for k in (0, 1)], 1)
        way = np.stack([np.interp(s, self.s, self.way[:, k]) for k in (0, 1)], 1)
        way /= np.hypot(*way.T)[:, None]
        return at + p[:, 1:] * np.stack([-way[:, 1], way[:, 0]], 1)


BENT = [("ellipse: [500 mm, 300 mm], at: top", lambda: ellipse_points(500, 300, False), 0.25, 0),
        ("ellipse: [500 mm, 300 mm], at: bottom", lambda: ellipse_points(500, 300, True), 0.25, 0),
        ("wave: 40 mm, wave length: 320 mm", lambda: wave_points(40, 320, 320), 0.5, 0.5),
        ("through: [[-220 mm, 0 mm], [-60 mm, 40 mm], [90 mm, -30 mm], [230 mm, 30 mm]]",
         lambda: spline_points([(-220, 0), (-60, 40), (90, -30), (230, 30)]), 0.5, 0)]


@pytest.mark.parametrize("keys, points, middle, lowered", BENT)
def test_bent_letters_are_the_map_of_their_points(tmp_path, keys, points, middle, lowered):
    course, worst = Course(points()), 0
    for face, text, height in (("Bebas Neue", "BOATS", 30), ("DejaVu Serif", "Quayside", 22), ("Lobster Two", "Drift", 26)):
        letters = dump(tmp_path, "bent", [f'words: {{text: {text}, font: {{family: {face}, features: "-kern,-liga"}}, height: {height} mm, letters: bent, {keys}}}'])
        size = math.hypot(letters[0]["em"][0], letters[0]["em"][2])
        pens, _ = pens_of(face, text)
        first, last = bounds(face, text[0])[0], pens[-1] + bounds(face, text[-1])[2]
        start = course.s[-1] * middle - (first + last) / 2 * size
        images = [[course.image(c * size, start + pen * size) - [0, lowered * height] for c in glyph_points(face, char)] for char, pen in zip(text, pens)]
        worst = max(worst, compare(letters, images))
    print(f"{keys}: {worst * 1000:.2f} um")
    assert worst < TOLERANCE


def profile(form, x, wide, high, depth):
    """Top and bottom line of a form at x from its middle, from the drawings in docs/maths.md."""
    d = abs(depth)
    if form in ("oval", "arch-topped", "banner"):
        radius = (wide ** 2 / 4 + d ** 2) / (2 * d)
        v = (np.sqrt(radius ** 2 - x ** 2) - radius + d) / d
    elif form == "rising":
        v = 0.5 + x / wide
    else:
        v = 1 - np.abs(2 * x / wide)
    v = 1 - v if depth < 0 else v
    top = high / 2 - d * (1 - v)
    bottom = {"oval": -top, "diamond": -top, "banner": -high / 2 + d * v}.get(form, np.full_like(x, -high / 2))
    return top, bottom


def with_middle(u):
    """The places where it crosses the middle besides: a diamond's lines have their corner there."""
    after = np.roll(u, -1, 0)
    at = np.nonzero((u[:, 0] - 0.5) * (after[:, 0] - 0.5) < 0)[0]
    t = ((0.5 - u[at, 0]) / (after[at, 0] - u[at, 0]))[:, None]
    return np.insert(u, at + 1, u[at] + (after[at] - u[at]) * t, 0)


@pytest.mark.parametrize("form", ["oval", "arch-topped", "banner", "rising", "diamond"])
@pytest.mark.parametrize("depth", [28, -22])
def test_shaped_letters_are_the_map_of_their_points(tmp_path, form, depth):
    worst = 0
    for face, text in (("Bebas Neue", "BOATS"), ("DejaVu Serif", "Quayside"), ("Lobster Two", "Drift")):
        wide, high = 320, 110
        letters = dump(tmp_path, "shaped", [f'words: {{text: {text}, font: {{family: {face}, features: "-kern,-liga"}}, shaped: {form}, box: [{wide} mm, {high} mm], depth: {depth} mm}}'])
        pens, _ = pens_of(face, text)
        glyphs = [[c + [pen, 0] for c in glyph_points(face, char)] for char, pen in zip(text, pens)]
        boxes = np.array([bounds(face, char) for char in text]) + np.array([[pen, 0, pen, 0] for pen in pens])
        low, top = boxes[:, :2].min(0), boxes[:, 2:].max(0)

        def image(c):
            u = with_middle((c - low) / (top - low))
            x = (u[:, 0] - 0.5) * wide
            upper, lower = profile(form, x, wide, high, depth)
            return np.stack([x, lower + u[:, 1] * (upper - lower)], 1)

        worst = max(worst, compare(letters, [[image(c) for c in contours] for contours in glyphs]))
    print(f"{form} {depth}: {worst * 1000:.2f} um")
    assert worst < TOLERANCE
