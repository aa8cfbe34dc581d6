# SPDX-License-Identifier: GPL-3.0-or-later
"""A letter and its mirror image get the same ties; a symmetric letter symmetric ones; equal letters equal ones.

Source: symmetry. Of each installed face two are built with fontTools, as it is and with every outline
mirrored; both are cut through and tied by a plain rule (tests/tools/tie_dump.c). Which letters are
symmetric is told from the outlines by shapely: each contour, mirrored about the middle of what the letter
encloses, differs by at most 2 % of its area (src/tie/habit.c asks it of the hull).
"""
import json
import math
import subprocess

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.reverseContourPen import ReverseContourPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont
from shapely import affinity
from shapely.geometry import Polygon

from conftest import TOP

TIE_DUMP = TOP / "build" / "tests" / "tools" / "tie_dump"
LETTERS = "O0AA8BDPQR46699abdeegopq"
EM = 150  # mm
NEAR = 0.1  # mm
FACES = [
    "DejaVu Sans", "DejaVu Sans:bold", "DejaVu Serif", "DejaVu Serif:bold", "DejaVu Sans:oblique",
    "Bebas Neue:bold", "League Spartan:bold", "Lobster Two:bold", "Loma:bold", "Loma",
    "DejaVu Sans Mono:bold", "Lobster Two", "IPAGothic", "IPAPGothic", "Bebas Neue",
    "Frank Ruehl CLM:bold", "David CLM:bold", "Nachlieli CLM:bold", "Miriam CLM:bold", "DejaVu Sans:condensed bold",
]
SHORT = ["DejaVu Sans:bold", "DejaVu Sans:oblique", "League Spartan:bold"]
STYLES = {"": "Regular", "bold": "Bold", "oblique": "Oblique", "condensed bold": "Condensed Bold"}


def font_file(face):
    family, _, style = face.partition(":")
    want = f"{family}:style={STYLES[style]}"
    found = subprocess.run(["fc-match", "-f", "%{file}\t%{family}", want], capture_output=True, text=True, check=True).stdout
    file, families = found.split("\t")
    return file if family in families.split(",")[0] or family in families else None


def with_start(value):
    """A contour of off-curve points alone begins half way between its last and its first."""
    for op, args in value:
        if op == "qCurveTo" and args[-1] is None:
            first, last = args[0], args[-2]
            start = ((first[0] + last[0]) / 2, (first[1] + last[1]) / 2)
            yield "moveTo", (start,)
            yield op, (*args[:-1], start)
        else:
            yield op, args


def recorded(glyphs, name):
    record = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(record)
    record.value = list(with_start(record.value))
    return record


def drawn(glyphs, name, mirror, width, fine):
    """The outline as quadratic curves; mirrored about half its advance, wound as before."""
    pen = TTGlyphPen(None)
    to_quadratic = TransformPen(Cu2QuPen(pen, 0.5), (fine, 0, 0, fine, 0, 0))
    record = recorded(glyphs, name)
    if mirror:
        record.replay(TransformPen(ReverseContourPen(to_quadratic), (-1, 0, 0, 1, width, 0)))
    else:
        record.replay(to_quadratic)
    return pen.glyph()


def build(file, mirror, path):
    font = TTFont(file, fontNumber=0)
    glyphs, cmap = font.getGlyphSet(), font.getBestCmap()
    names = {c: cmap[ord(c)] for c in sorted(set(LETTERS + "H")) if ord(c) in cmap}
    order = [".notdef", *dict.fromkeys(names.values())]
    fine = 16384 // font["head"].unitsPerEm  # points are whole units: the image should be one to the micrometre
    builder = FontBuilder(fine * font["head"].unitsPerEm, isTTF=True)
    builder.setupGlyphOrder(order)
    builder.setupCharacterMap({ord(c): n for c, n in names.items()})
    advances = {n: round(glyphs[n].width) for n in order}
    outlines = {n: drawn(glyphs, n, mirror, advances[n], fine) for n in order}
    builder.setupGlyf(outlines)
    builder.setupHorizontalMetrics({n: (fine * advances[n], getattr(outlines[n], "xMin", 0)) for n in order})
    builder.setupHorizontalHeader(ascent=fine * font["hhea"].ascent, descent=fine * font["hhea"].descent)
    builder.setupNameTable({"familyName": "Built", "styleName": "Mirrored" if mirror else "Plain"})
    builder.setupOS2()
    builder.setupPost()
    builder.save(path)
    return {c: advances[n] / font["head"].unitsPerEm for c, n in names.items()}


def ties(folder, name, text):
    recipe = folder / f"{name}.yaml"
    recipe.write_text(f"""holdfast: 1
metal: {{kind: mild steel, thickness: 2 mm}}
process: {{kerf: 1.2 mm}}
entries:
  - plate: {{name: plate, shape: rectangle, width: {len(text) * EM} mm, height: {3 * EM} mm}}
  - words: {{name: w, text: "{text}", font: {{file: {name}.ttf}}, font size: {EM} mm, as: opening, spacing: 20 %}}
  - ties: {{}}
""")
    done = subprocess.run([TIE_DUMP, recipe], capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr
    found = {}
    for tie in json.loads(done.stdout)["rules"][0]["ties"]:
        found.setdefault(tie["of"], []).append((tie["em_x"] * EM, tie["em_y"] * EM, tie["angle"], tie["width"]))
    return {of: sorted(some) for of, some in found.items()}


def mirrored(some, width):
    return sorted((width * EM - x, y, math.pi - angle, wide) for x, y, angle, wide in some)


def differ(some, others):
    """Pairs the ties by nearness; mm of the worst, 999 where they are not as many."""
    if len(some) != len(others):
        return 999
    worst, left = 0, list(others)
    for tie in some:
        best = min(left, key=lambda o: math.dist(o[:2], tie[:2]))
        left.remove(best)
        turn = abs(math.remainder(best[2] - tie[2], math.pi))
        worst = max(worst, math.dist(best[:2], tie[:2]), abs(best[3] - tie[3]), EM / 10 * turn)
    return worst


def letter_of(label):
    return label.split("'")[1]


def by_letter(found):
    out = {}
    for label, some in found.items():
        out.setdefault(letter_of(label), []).append(some)
    return out


def check_face(face, folder):
    """Sentences about what differs, and how many letters were looked at."""
    file = font_file(face)
    if file is None:
        return None
    widths = build(file, False, folder / "plain.ttf")
    build(file, True, folder / "mirror.ttf")
    text = "".join(c for c in LETTERS if c in widths)
    plain, mirror = by_letter(ties(folder, "plain", text)), by_letter(ties(folder, "mirror", text))
    wrong = [f"{face} {c}: tied in one of the two alone" for c in set(plain) ^ set(mirror)]
    for c in sorted(set(plain) & set(mirror)):
        off = max(differ(some, plain[c][0]) for some in plain[c])
        if off > NEAR:
            wrong.append(f"{face} {c}: equal letters, ties {off:.2f} mm apart")
        off = differ(mirrored(plain[c][0], widths[c]), mirror[c][0])
        if off > NEAR:
            wrong.append(f"{face} {c}: its mirror image has ties {off:.2f} mm elsewhere")
    for c in symmetric(folder / "plain.ttf", sorted(plain)):
        middle = symmetric_about(folder / "plain.ttf", c) * EM
        off = differ(sorted((2 * middle - x, y, math.pi - a, w) for x, y, a, w in plain[c][0]), plain[c][0])
        if off > NEAR:
            wrong.append(f"{face} {c}: symmetric, its ties are not, by {off:.2f} mm")
    wrong += [f"{face} 8: three ties" for some in plain.get("8", []) if len(some) == 3]
    wrong += [f"{face} {c}: neither upright nor level" for c in plain for some in plain[c]
              for tie in some if abs(math.sin(2 * tie[2])) > 1e-3]
    return wrong, sum(map(len, plain.values()))


def contours(file, c):
    """Of a letter, ems: flattened here."""
    font = TTFont(file, fontNumber=0)
    glyphs, em = font.getGlyphSet(), font["head"].unitsPerEm
    rings, at = [], (0, 0)
    for op, args in recorded(glyphs, font.getBestCmap()[ord(c)]).value:
        if op == "moveTo":
            rings.append([args[0]])
        elif op == "lineTo":
            rings[-1].append(args[0])
        elif op in ("curveTo", "qCurveTo"):
            rings[-1] += flat(at, op, args)
        at = args[-1] if args else at
    return [Polygon([(x / em, y / em) for x, y in r]).buffer(0) for r in rings if len(r) > 2]


def counters(file, c):
    shapes = contours(file, c)
    return [s for s in shapes if any(o is not s and o.contains(s) for o in shapes)]


def flat(at, op, args):
    from fontTools.pens.basePen import decomposeQuadraticSegment, decomposeSuperBezierSegment
    pieces = decomposeQuadraticSegment(args) if op == "qCurveTo" else decomposeSuperBezierSegment(args)
    points = []
    for piece in pieces:
        ctrl = [at, *piece]
        for i in range(1, 17):
            t, level = i / 16, ctrl
            while len(level) > 1:
                level = [((1 - t) * a[0] + t * b[0], (1 - t) * a[1] + t * b[1]) for a, b in zip(level, level[1:])]
            points.append(level[0])
        at = piece[-1]
    return points


def symmetric_about(file, c):
    boxes = [s.bounds for s in counters(file, c)]
    return (min(b[0] for b in boxes) + max(b[2] for b in boxes)) / 2


def symmetric(file, letters):
    """Body and middles alike, about the axis of the middles."""
    out = []
    for c in letters:
        if not counters(file, c):
            continue
        middle = symmetric_about(file, c)
        images = [(s, affinity.scale(s, -1, 1, origin=(middle, 0))) for s in contours(file, c)]
        if all(s.symmetric_difference(image).area < 0.02 * s.area for s, image in images):
            out.append(c)
    return out


def check(face, folder):
    found = check_face(face, folder)
    if found is None:
        pytest.skip(f"{face} is not installed")
    print(f"{face}: {found[1]} letters", *found[0], sep="\n  ")
    assert found[1] >= 5
    assert not found[0], found[0]


@pytest.mark.parametrize("face", SHORT)
def test_mirror_images(face, tmp_path):
    check(face, tmp_path)


@pytest.mark.long
@pytest.mark.parametrize("face", FACES)
def test_mirror_images_long(face, tmp_path):
    check(face, tmp_path)
