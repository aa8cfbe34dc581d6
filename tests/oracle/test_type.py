# SPDX-License-Identifier: GPL-3.0-or-later
"""Letter shapes and places against fontTools, which reads the same files with code of its own.

Outlines: fontTools' pens (glyf, CFF and, for variable fonts, fontTools.varLib.instancer). Advances:
table hmtx. Kerning: pair adjustment of table GPOS, walked here by hand (OpenType 1.9, GPOS lookup
type 2). Embedding: OpenType 1.9, OS/2 fsType.
"""
import json
import os
import subprocess

import pytest

from conftest import HOLDFAST

pytest.importorskip("fontTools")
from fontTools.pens.areaPen import AreaPen  # noqa: E402
from fontTools.pens.boundsPen import BoundsPen  # noqa: E402
from fontTools.pens.recordingPen import DecomposingRecordingPen  # noqa: E402
from fontTools.ttLib import TTCollection, TTFont  # noqa: E402

DUMP = HOLDFAST.parent / "tests" / "tools" / "type_dump"
ASCII = "".join(map(chr, range(0x21, 0x7F)))
FACES = {
    "Bebas Neue": "/usr/share/fonts/opentype/bebas-neue/BebasNeue-Regular.otf",
    "Lobster Two": "/usr/share/fonts/opentype/lobstertwo/LobsterTwo-Regular.otf",
    "DejaVu Sans": "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
    "DejaVu Serif": "/usr/share/fonts/truetype/dejavu/DejaVuSerif.ttf",
    "Amiri": "/usr/share/fonts/opentype/fonts-hosny-amiri/Amiri-Regular.ttf",
    "IPAGothic": "/usr/share/fonts/opentype/ipafont-gothic/ipag.ttf",
}
OTHER_TEXT = {
    "Amiri": "ابتثجحخدذرزسشصضطظعغفقكلمنهوي",
    "IPAGothic": "海辺陶器書店灯台守町",
    "DejaVu Sans": "ÉÑÅŠßøŁאבגדהАБВЖΩ",
}
EPS = 1e-6  # ems


def run_dump(*args, **kwargs):
    return subprocess.run([DUMP, *args], capture_output=True, text=True, timeout=600, **kwargs)


def dump(*args):
    done = run_dump(*args)
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


def font_of(path):
    if not DUMP.exists():
        pytest.skip("type_dump is not built")
    if not os.path.exists(path):
        pytest.skip(f"{path} is not installed")
    return TTFont(path)


def mix(p, q, t):
    return tuple(p[k] + (q[k] - p[k]) * t for k in (0, 1))


def at(points, t):
    """De Casteljau: a line, a quadratic, a cubic by the number of its points."""
    while len(points) > 1:
        points = [mix(p, q, t) for p, q in zip(points, points[1:])]
    return points[0]


def reference_curves(glyph_set, name, em):
    """Contours of curves, each a list of its points in ems; those of no length left out."""
    pen = DecomposingRecordingPen(glyph_set)
    glyph_set[name].draw(pen)
    contours = []
    here = start = None

    def add(points):
        nonlocal here
        here = points[-1]
        if any(p != points[0] for p in points):
            contours[-1].append(points)

    for verb, args in pen.value:
        args = [a and (a[0] / em, a[1] / em) for a in args]
        if verb == "moveTo":
            contours.append([])
            here = start = args[0]
        elif verb in ("lineTo", "curveTo"):
            add([here, *args])
        elif verb == "qCurveTo":
            if args[-1] is None:  # a contour of controls alone begins half way between two of them
                contours.append([])
                here = start = mix(args[-2], args[0], 0.5)
                args[-1] = start
            *offs, on = args
            for i, off in enumerate(offs):
                add([here, off, on if i == len(offs) - 1 else mix(off, offs[i + 1], 0.5)])
        elif verb == "closePath":
            add([here, start])
    return [c for c in contours if c]


def our_curves(glyph):
    return [[[tuple(c[i:i + 2]) for i in range(0, len(c), 2)] for c in contour]
            for contour in glyph["contours"]]


def same_shape(ours, reference):
    assert len(ours) == len(reference)
    for a, b in zip(ours, reference):
        assert len(a) == len(b)
        # begun where the other begins: a contour has no first curve
        i = min(range(len(a)), key=lambda i: max(abs(a[i][0][k] - b[0][0][k]) for k in (0, 1)))
        for p, q in zip(a[i:] + a[:i], b):
            for t in (0, 0.1, 0.37, 0.5, 0.8, 1):
                assert max(abs(u - v) for u, v in zip(at(p, t), at(q, t))) < EPS


def area(glyph_set, name, em):
    pen = AreaPen(glyph_set)
    glyph_set[name].draw(pen)
    return pen.value / em / em


def bounds(glyph_set, name, em):
    """Of the ink: a contour of one point (DejaVu keeps anchors of accents so) has none."""
    record, pen = DecomposingRecordingPen(glyph_set), BoundsPen(glyph_set)
    glyph_set[name].draw(record)
    verbs = record.value
    for i, (verb, args) in enumerate(verbs):
        lone = verb == "moveTo" and verbs[i + 1][0] == "closePath"
        if not lone and not (verb == "closePath" and verbs[i - 1][0] == "moveTo"):
            getattr(pen, verb)(*args)
    return None if pen.bounds is None else [v / em for v in pen.bounds]


def letter_by_letter(font, text, args):
    """Each character set alone with substitutions off: its glyph is the one the cmap names."""
    cmap, glyph_set, em = font.getBestCmap(), font.getGlyphSet(), font["head"].unitsPerEm
    characters = [c for c in text if ord(c) in cmap]
    off = "-calt,-locl,-ccmp,-isol,-liga,-clig,-rlig,-kern"
    lines = dump(*args, "--features", off, "--", *characters)
    assert [line["text"] for line in lines] == characters
    for c, line in zip(characters, lines):
        (glyph,) = line["glyphs"]
        yield c, glyph, glyph_set, cmap[ord(c)], em


@pytest.mark.parametrize("family", FACES)
def test_outlines(family):
    font = font_of(FACES[family])
    seen = 0
    for c, glyph, glyph_set, name, em in letter_by_letter(
            font, ASCII + OTHER_TEXT.get(family, ""), ["--family", family]):
        assert abs(glyph["area"] - area(glyph_set, name, em)) < EPS, c
        box = bounds(glyph_set, name, em)
        ink = [v - w for v, w in zip(glyph["ink"], glyph["at"] * 2)]
        assert max(abs(v - w) for v, w in zip(ink, box)) < EPS, c
        same_shape(our_curves(glyph), reference_curves(glyph_set, name, em))
        assert abs(glyph["advance"] - font["hmtx"][name][0] / em) < EPS, c
        seen += 1
    assert seen >= 90


@pytest.mark.parametrize("wght", [100, 400, 537, 900])
def test_variable_outlines(wght):
    from fontTools.varLib.instancer import instantiateVariableFont
    path = "/usr/share/fonts/truetype/inter-vf/Inter-roman.var.ttf"
    font = font_of(path)
    for table in ("GPOS", "GSUB", "GDEF"):  # not needed here, and slow to work out
        if table in font:
            del font[table]
    text = "ABCGMORSabegkmst0123456789&"
    where = {axis.axisTag: axis.defaultValue for axis in font["fvar"].axes}
    full = instantiateVariableFont(font, {**where, "wght": wght}, overlap=0)
    em = full["head"].unitsPerEm
    unit = 1.01 / em  # the instancer rounds to whole units, HarfBuzz does not
    for c, glyph, glyph_set, name, _ in letter_by_letter(
            full, text, ["--file", path, "--axes", f"wght={wght}"]):
        box = bounds(glyph_set, name, em)
        assert max(abs(v - w) for v, w in zip(glyph["ink"], box)) < unit, c
        assert abs(glyph["area"] - area(glyph_set, name, em)) < 4 * unit, c
        assert abs(glyph["advance"] - full["hmtx"][name][0] / em) < unit, c


def pair_adjustment(font, left, right):
    """What the pair lookups under `kern` add to the left glyph's advance, in font units."""
    gpos = font["GPOS"].table
    lookups = sorted({i for record in gpos.FeatureList.FeatureRecord
                      if record.FeatureTag == "kern" for i in record.Feature.LookupListIndex})
    total = 0
    for index in lookups:
        for table in gpos.LookupList.Lookup[index].SubTable:
            table = table.ExtSubTable if table.LookupType == 9 else table
            if table.LookupType != 2 or left not in table.Coverage.glyphs:
                continue
            if table.Format == 1:
                pairs = table.PairSet[table.Coverage.glyphs.index(left)].PairValueRecord
                found = [pair.Value1 for pair in pairs if pair.SecondGlyph == right]
                if not found:
                    continue  # the next subtable of this lookup may know the pair
                value = found[0]
            else:
                first = table.ClassDef1.classDefs.get(left, 0)
                second = table.ClassDef2.classDefs.get(right, 0)
                value = table.Class1Record[first].Class2Record[second].Value1
            total += getattr(value, "XAdvance", 0) if value else 0
            break
    return total


@pytest.mark.parametrize("family, letters", [
    ("Bebas Neue", "ABCDEFGHIJKLMNOPQRSTUVWXYZ"),
    ("Lobster Two", "AFLPTVWYaeouvwy"),
    ("DejaVu Sans", "ACDFLOPRTVWYaeotvwy"),
])
def test_kerning(family, letters):
    font = font_of(FACES[family])
    cmap, em = font.getBestCmap(), font["head"].unitsPerEm
    pairs = [a + b for a in letters for b in letters]
    kerned = 0
    for pair, line in zip(pairs, dump("--family", family, "--features", "-liga,-calt", *pairs)):
        left, right = (cmap[ord(c)] for c in pair)
        adjustment = pair_adjustment(font, left, right)
        kerned += adjustment != 0
        second = (font["hmtx"][left][0] + adjustment) / em
        assert abs(line["glyphs"][1]["at"][0] - second) < EPS, pair
        assert abs(line["advance"] - second - font["hmtx"][right][0] / em) < EPS, pair
    assert kerned > 20


def test_cap_height():
    for family, path in FACES.items():
        font = font_of(path)
        em = font["head"].unitsPerEm
        box = bounds(font.getGlyphSet(), font.getBestCmap()[ord("H")], em)
        assert abs(dump("--family", family, "Boat")[0]["cap_height"] - (box[3] - box[1])) < EPS


def test_collection(tmp_path):
    """Two faces in one file: the one that is asked for, the first when none is."""
    fonts = [font_of(FACES["DejaVu Sans"]), font_of(FACES["Amiri"])]
    both = TTCollection()
    both.fonts = fonts
    path = str(tmp_path / "both.ttc")
    both.save(path)
    for family, font in zip(("DejaVu Sans", "Amiri"), fonts):
        (line,) = dump("--file", path, "--family", family, "H")
        name = font.getBestCmap()[ord("H")]
        assert abs(line["advance"] - font["hmtx"][name][0] / font["head"].unitsPerEm) < EPS
    assert dump("--file", path, "H")[0]["glyphs"] == dump("--family", "DejaVu Sans", "H")[0]["glyphs"]
    done = run_dump("--file", path, "--family", "Inter", "H")
    assert done.returncode == 2
    assert '"DejaVu Sans"' in done.stderr and '"Amiri"' in done.stderr


@pytest.mark.parametrize("bits, may", [
    (0x000, True), (0x002, False), (0x004, True), (0x008, True),
    (0x006, True),   # several bits: the least restrictive one holds
    (0x100, False),  # no subsetting, and a proof embeds a subset
    (0x200, False),  # bitmaps only
])
def test_embedding(tmp_path, bits, may):
    font = font_of(FACES["DejaVu Sans"])
    font["OS/2"].fsType = bits
    path = str(tmp_path / "bits.ttf")
    font.save(path)
    assert dump("--file", path, "H")[0]["may_embed"] is may


def test_locale_does_not_matter():
    font_of(FACES["Amiri"])
    said = set()
    for locale in ("de_DE.UTF-8", "tr_TR.UTF-8", "ar_EG.UTF-8", "C"):
        env = {**os.environ, "LC_ALL": locale, "LANGUAGE": locale}
        said.add(subprocess.run([DUMP, "--family", "Amiri", "سلام 12", "fi Boat"], env=env,
                                capture_output=True, check=True).stdout)
    assert len(said) == 1


def test_picture_letters_are_refused(tmp_path):
    """A letter that the font shows only as a picture must not vanish from the sign."""
    font = font_of(FACES["DejaVu Sans"])
    glyph = font["glyf"][font.getBestCmap()[ord("x")]]
    glyph.numberOfContours = 0
    for name in ("coordinates", "flags", "endPtsOfContours", "program"):
        if hasattr(glyph, name):
            delattr(glyph, name)
    path = str(tmp_path / "blank.ttf")
    font.save(path)
    done = run_dump("--file", path, "box")
    assert done.returncode == 2
    assert "no outline for 'x' (U+0078)" in done.stderr
    assert dump("--file", path, "bo")


@pytest.mark.parametrize("broken", ["head", "glyf", "loca", "cmap", "maxp"])
def test_missing_tables_are_refused(tmp_path, broken):
    path = tmp_path / "broken.ttf"
    data = open(FACES["DejaVu Sans"], "rb").read() if font_of(FACES["DejaVu Sans"]) else b""
    path.write_bytes(data.replace(broken.encode(), b"zzzz", 1))
    done = run_dump("--file", str(path), "H")
    assert done.returncode == 2
    assert "the font file" in done.stderr and "choose another font" in done.stderr
