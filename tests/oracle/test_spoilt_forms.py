# SPDX-License-Identifier: GPL-3.0-or-later
"""A bite is taken out of a letter, something is laid into its bay, or a block lies across its counter, whatever the form: by
plates, bars, holes, slots, rings, gate arches, ties by hand, stars, groups. What differs by a blob as large as a square of the
stroke (1.6, where the stroke goes on to both sides) is told, of what is laid into it three are a stop; what is less than a third of one says nothing.

Outlines by fontTools; what differs, and its blobs (opening by a disc a third of a stroke in radius), by shapely.
"""
import functools
import math
import random

import pytest

from conftest import LONG
from test_letters import HEAD
from test_spoilt_strokes import Letter, assert_all_named, check, named

pytest.importorskip("shapely")
from shapely import affinity  # noqa: E402
from shapely.geometry import LineString, Point, Polygon, box  # noqa: E402
from shapely.ops import unary_union  # noqa: E402

FACES = {
    ("DejaVu Sans", "Book"): "AEFHKMNRWabdeghkmnqrtuyz235679&ДЖЗИЙЛЫЯбвджйрфыյΔΞΣΨΩαβδθξλ",
    ("DejaVu Sans", "Bold"): "BCDGJLOPQSUVXYZfjlopsvwx01468ΑάέήόώΣԱԲԳԴԵԹԼԽԿՀბგდევზ",
    ("DejaVu Serif", "Bold"): "ABEGKMQRSWaegkmrs2358άήόώϊΞΨβ",
    ("DejaVu Serif", "Book"): "ДЖИЙЩЫЮЯгджйрфшыё",
    ("Bebas Neue", "Bold"): "AEFGHKMNQRSTWXYZ2345679",
    ("Inter", "Regular"): "EFHKLTUXYkmnu235ДЖ",
    ("Lohit Devanagari", "Regular"): "कखगघचजटणधपभमरलशह",
    ("Frank Ruehl CLM", "Medium"): "אבגדהלמסעפצקשת",
    ("Loma", "Bold"): "กขคชดนบมรสห",
    ("IPAGothic", "Regular"): "あいえかきけさすたなぬねはふまむめゆよりるれろアイオカキケスタテナヌネホムヤユヨラロン大木六文口田",
    ("NanumGothic", "Regular"): "가나다라마바사아자차카타파하글집봄",
}
DISC, TOLD, STOP, LITTLE = 0.33, 1.75, 3.6, 0.3  # strokes, squares of it


def polygons(area):
    return [p for p in getattr(area, "geoms", [area]) if p.geom_type == "Polygon" and p.area > 1e-6]


def rectangle(x, y, wide, high, turn):
    return affinity.rotate(box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2), turn, origin=(x, y))


def thing(rng, letter, stroke):
    """(area, entry without its end): something laid on the letter's edge."""
    at = rng.choice(polygons(letter.area)).exterior.interpolate(rng.random(), normalized=True)
    x, y, turn = at.x, at.y, rng.choice([0, 0, 90, rng.randrange(0, 180, 15)])
    wide, high = (stroke * math.exp(rng.uniform(math.log(a), math.log(b))) for a, b in ((0.3, 4), (0.25, 2.5)))
    place = f"at: [{x:.3f} mm, {y:.3f} mm]"
    kind = rng.choice(["bar", "plate", "round", "ring", "slot", "hole", "tie", "group"])
    if kind in ("bar", "plate"):
        size = f"bar: {{length: {wide:.3f} mm, height" if kind == "bar" else f"plate: {{shape: rectangle, width: {wide:.3f} mm, height"
        return kind, rectangle(x, y, wide, high, turn), f"  - {size}: {high:.3f} mm, {place}, turn: {turn} deg"
    if kind in ("round", "hole"):
        return kind, Point(x, y).buffer(wide / 2, 64), (f"  - plate: {{shape: round, diameter: {wide:.3f} mm, {place}" if kind == "round"
                                                         else f"  - hole: {{diameter: {wide:.3f} mm, {place}")
    if kind == "ring":
        strip = min(high, 0.4 * (wide + stroke))
        area = Point(x, y).buffer((wide + stroke) / 2, 64).difference(Point(x, y).buffer((wide + stroke) / 2 - strip, 64))
        return kind, area, f"  - ring: {{outer: {wide + stroke:.3f} mm, width: {strip:.3f} mm, {place}"
    if kind == "slot":
        long, thin = max(wide, high) * 1.3, min(wide, high)
        half = (long - thin) / 2
        area = affinity.rotate(LineString([(x - half, y), (x + half, y)]).buffer(thin / 2, 32), turn, origin=(x, y))
        return kind, area, f"  - slot: {{length: {long:.3f} mm, width: {thin:.3f} mm, {place}, turn: {turn} deg"
    if kind == "tie":
        em = letter.em(x, y)
        return kind, rectangle(x, y, wide, high, turn), (f"  - tie: {{of: w, em: [{em[0]:.5f}, {em[1]:.5f}], direction: {turn} deg, "
                                                          f"width: {high:.3f} mm, length: {wide:.3f} mm")
    gap = 0.3 * stroke
    two = unary_union([rectangle(x + s * (wide + gap) / 2, y, wide, high, 0) for s in (-1, 1)])
    return kind, two, f"  - row: {{of: [one, other], gap between: {gap:.3f} mm, {place}"


def members(rng_area, entry, opening):
    """A row needs its two bars; their size is told by the area."""
    if "row:" not in entry:
        return ""
    part = polygons(rng_area)[0].bounds
    return "".join(f"  - bar: {{name: {name}, length: {part[2] - part[0]:.3f} mm, height: {part[3] - part[1]:.3f} mm{opening}}}\n" for name in ("one", "other"))


def blobs(area, stroke):
    """The largest, in squares of the stroke."""
    opened = area.buffer(-DISC * stroke).buffer(DISC * 1.02 * stroke).intersection(area)
    return max([p.area for p in polygons(opened)] or [0]) / stroke ** 2


def measure(letter, area, takes, stroke):
    """(squares that are told, squares that differ in any way)."""
    if takes:
        lost = letter.area.intersection(area)
        return blobs(lost, stroke), lost.area / stroke ** 2
    hull = letter.area.convex_hull
    more = area.intersection(hull).difference(letter.area)
    laid = [p for p in polygons(area) if p.intersection(letter.area).area > 0.05 * stroke ** 2]
    x0, y0, x1, y1 = letter.area.bounds
    deep = box(x0 + 0.2 * (x1 - x0), y0 + 0.2 * (y1 - y0), x1 - 0.2 * (x1 - x0), y1 - 0.2 * (y1 - y0))
    clear = [p for p in laid if p.intersection(hull).area > 0.6 * p.area and p.intersects(deep)]
    told = max([blobs(p.intersection(hull).difference(letter.area), stroke) for p in clear] or [0])
    return told, more.area / stroke ** 2 + area.difference(hull).area / stroke ** 2


@functools.lru_cache(maxsize=None)
def letter_of(folder, family, style, char):
    return Letter(folder, family, style, char)


def of_seed(folder, seed):
    rng = random.Random(f"form {seed}")
    (family, style), chars = rng.choice(sorted(FACES.items()))
    char, opening = rng.choice(chars), rng.random() < 0.5
    try:
        letter = letter_of(folder, family, style, char)
    except (KeyError, IndexError, ValueError, AttributeError):  # a face without it, or a contour that fontTools gives no first point of
        return None
    body = max(polygons(letter.area), key=lambda p: p.area)
    stroke = 2 * body.area / body.length
    kind, area, entry = thing(rng, letter, stroke)
    cuts = kind in ("slot", "hole") or (kind != "tie" and rng.random() < 0.5)
    takes = cuts != opening
    told, differs = measure(letter, area, takes, stroke)
    if LITTLE < differs and told < TOLD or kind == "tie" and area.area < (0.1 * 90) ** 2 and told >= TOLD:
        return None
    as_ = ", as: opening" if cuts and kind not in ("slot", "hole") else ""
    board = "  - plate: {shape: rectangle, width: 700 mm, height: 500 mm}\n" if opening else ""
    sign = HEAD + board + letter.words(opening) + members(area, entry, as_) + entry + ("" if kind == "group" else as_) + "}\n"
    found = named(check(folder, sign), char)
    what = (seed, family, style, char, kind, "cut through" if opening else "stands", "takes" if takes else "adds", round(told, 2))
    if told >= TOLD and not [f for f in found if f["gravity"] in (("stop",) if told > STOP and not takes else ("stop", "caution"))]:
        return [(what, "not named", sign)]
    wrong = [f["text"] for f in found if f["form"] in ("covered", "lump", "bridged")] if differs <= LITTLE else []
    return [(what, wrong, sign)] if wrong else []


def test_spoilt_forms(tmp_path):
    assert_all_named(tmp_path, of_seed, 700 if LONG else 60)


def counters(letter):
    return [Polygon(h) for p in polygons(letter.area) for h in p.interiors]


@pytest.mark.parametrize("face, chars", [(("DejaVu Serif", "Bold"), "άOa"), (("DejaVu Sans", "Bold"), "όрD")])
@pytest.mark.parametrize("opening", [False, True])
def test_a_block_across_a_counter(face, chars, opening, tmp_path):
    """Six tenths of a stroke wide it is named by a stop, a fifth says nothing of it; cut through it is an opening that parts the middle."""
    for char in chars:
        letter = Letter(tmp_path, *face, char)
        body = max(polygons(letter.area), key=lambda p: p.area)
        stroke, hole = 2 * body.area / body.length, max(counters(letter), key=lambda h: h.area)
        x0, y0, x1, y1 = hole.bounds
        for share, wanted in ((0.6, True), (0.2, False)):
            wide, high = (x1 - x0) + 0.5 * stroke, share * stroke
            entry = (f"  - plate: {{shape: oval, width: {wide:.3f} mm, height: {high:.3f} mm, at: [{(x0 + x1) / 2:.3f} mm, {(y0 + y1) / 2:.3f} mm]"
                     if share < 0.5 else  # no straight bar: of those the tables tell
                     f"  - plate: {{shape: rounded, corner: 0.5 mm, width: {wide:.3f} mm, height: {high:.3f} mm, at: [{(x0 + x1) / 2:.3f} mm, {(y0 + y1) / 2:.3f} mm]")
            board = "  - plate: {shape: rectangle, width: 700 mm, height: 500 mm}\n" if opening else ""
            sign = HEAD + board + letter.words(opening) + entry + (", as: opening}\n" if opening else "}\n")
            found = named(check(tmp_path, sign), char)
            assert bool([f for f in found if f["gravity"] == "stop"]) == wanted or not wanted and not [f for f in found if f["form"] == "bridged"], (char, share, sign, found)
