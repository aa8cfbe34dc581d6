# SPDX-License-Identifier: GPL-3.0-or-later
"""Spoilt on purpose in scripts that are not plain Latin: one mark, counter or stroke of a letter is covered, filled, cut away or
grown shut, by a bar, a tie by hand, an opening, bolder strokes, a line of other words; each must be named by a stop. The
same thing a stroke beside all letters is harmless, and nothing of the law may be said.

Faces: tests/packages.txt; of Han Droid Sans Fallback (fonts-droid-fallback, Apache License 2.0), of Hangul NanumGothic
(fonts-nanum, SIL Open Font License 1.1). None that lacks is skipped, nor is a letter that a face lacks.

Where the pieces are is read from the sign as it is, before anything is done to it: rings of metal.svg by shapely.
"""
import random
import subprocess

import pytest

from conftest import LONG
from reading import rings_of_svg

shapely = pytest.importorskip("shapely")
from shapely.geometry import Polygon  # noqa: E402

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nmount: none\nentries:\n"
BOLD = "{family: DejaVu Sans, style: Bold}"
SERIF = "{family: DejaVu Serif, style: Bold}"
# letters with a piece of their own besides the body, and letters with a counter
SCRIPTS = {
    "cyrillic": (BOLD, "DejaVu Sans", ["Й", "й", "ё", "Ё", "ї", "Ў"], ["Ф", "о", "б", "Я", "Ю"]),
    "greek": (SERIF, "DejaVu Serif", ["ά", "έ", "ϊ", "ύ", "ή", "ό"], ["φ", "Θ", "β", "ο", "δ"]),
    "vietnamese": (BOLD, "DejaVu Sans", ["ế", "ậ", "ổ", "ạ", "ễ", "ố"], ["ộ", "ạ", "đ"]),
    "hebrew": ("Frank Ruehl CLM", "Frank Ruehl CLM", ["שׁ", "בּ", "אָ", "ה", "ק"], ["ס", "ם"]),
    "arabic": ("{family: Amiri, style: Bold}", "Amiri", ["ب", "ت", "ج", "خ", "ن", "ش"], ["و", "ق", "م"]),
    "thai": ("{family: Loma, style: Bold}", "Loma", ["กี", "ป้", "สิ", "ที่"], ["ด", "อ", "บ"]),
    "devanagari": ("Lohit Devanagari", "Lohit Devanagari", ["कं", "हाँ", "ड़", "ज़"], ["व", "ब"]),
    "kana": ("IPAGothic", "IPAGothic", ["が", "ぱ", "ガ", "ど", "ポ", "い"], ["ぬ", "ロ", "は", "よ"]),
    "hangul": ("NanumGothic", "NanumGothic", ["시", "우", "가", "호"], ["이", "마", "오"]),
    "han": ("Droid Sans Fallback", "Droid Sans Fallback", ["心", "六", "小", "川", "汁"], ["口", "田", "日", "品"]),
}
LAWS = ("changed-letter", "hidden", "off-the-metal")


def has(family):
    return family in subprocess.run(["fc-list", ":", "family"], capture_output=True, text=True).stdout


def metal_of(made):
    box = made.report["figures"]["box"]
    svg = next(made.folder / f for f in ("metal.svg", "not-to-be-cut.svg") if (made.folder / f).exists())
    shape = Polygon()
    for ring in rings_of_svg(svg):
        at = [(x + box["x"], box["y"] + box["height"] - y) for x, y in ring]
        shape = shape.symmetric_difference(Polygon(at).buffer(0)) if len(at) > 2 else shape
    return sorted((p for p in getattr(shape, "geoms", [shape]) if p.area > 0.5), key=lambda p: -p.area)


def over(kind, bounds, grow):
    x0, y0, x1, y1 = bounds[0] - grow, bounds[1] - grow, bounds[2] + grow, bounds[3] + grow
    wide, high, at = x1 - x0, y1 - y0, f"at: [{(x0 + x1) / 2:.3f} mm, {(y0 + y1) / 2:.3f} mm]"
    if kind == "bar":
        return f"  - bar: {{length: {wide:.3f} mm, height: {high:.3f} mm, {at}}}\n"
    if kind == "line":  # words of another line: a black square, nearly as wide as a capital is high
        return f"  - words: {{text: ■, font: {BOLD}, height: {max(wide, high) * 1.1:.3f} mm, {at}}}\n"
    return f"  - plate: {{shape: rectangle, width: {wide:.3f} mm, height: {high:.3f} mm, as: opening, {at}}}\n"


def distance_to_others(piece, pieces):
    return min(piece.distance(p) for p in pieces if p is not piece)


def pair(make, seed):
    """(spoilt recipe, harmless recipe or None, what was done); None: this seed has nothing to spoil."""
    rng = random.Random(seed)
    script = sorted(SCRIPTS)[seed % len(SCRIPTS)]
    font, family, marked, holed = SCRIPTS[script]
    assert has(family), f"{family} is not installed: tests/packages.txt names its package"
    opening = rng.random() < 0.5
    how = rng.choice(["bar", "cut", "fill", "bolder", "line", "tie", "plate"])
    letter = rng.choice(holed if how == "fill" else marked)
    words = f"text: {letter}, font: {font}, height: 90 mm"
    plain = make(HEAD + f"  - words: {{name: w, {words}}}\n", name=f"p{seed}")
    assert plain.code in (0, 1), plain.err
    pieces = metal_of(plain)
    board = "  - plate: {name: board, shape: rectangle, width: 500 mm, height: 400 mm}\n" if opening else ""
    as_ = ", as: opening" if opening else ""
    base = HEAD + board + f"  - words: {{name: w, {words}{as_}}}\n"
    x0, y0, x1, y1 = plain.report["figures"]["box"]["x"], plain.report["figures"]["box"]["y"], 0, 0
    x1, y1 = x0 + plain.report["figures"]["box"]["width"], y0 + plain.report["figures"]["box"]["height"]
    beside = rng.choice([(x0, y1 + 16, x1, y1 + 24), (x1 + 16, y0, x1 + 24, y1)])
    mark = pieces[-1]
    if how == "line":
        beside = (x1 + 16, y0, x1 + 24, y0 + 8)
    if how == "fill":
        holes = [Polygon(h) for p in pieces for h in p.interiors if Polygon(h).area > 20]
        if not holes:
            return None
        kind = "plate" if opening else "bar"
        return base + over(kind, max(holes, key=lambda h: h.area).bounds, 0.5), base + over(kind, beside, 0), (script, letter, how, opening)
    if len(pieces) < 2:
        return None
    if how == "bolder":  # grown by what lies between, and by a third of the mark besides
        gap, size = distance_to_others(mark, pieces), min(mark.bounds[2] - mark.bounds[0], mark.bounds[3] - mark.bounds[1])
        by = f", bolder: {gap / 2 + size / 3:.2f} mm"
        return base.replace(as_ + "}", as_ + by + "}") if as_ else base.replace("90 mm}", "90 mm" + by + "}"), None, (script, letter, how, opening)
    if how == "plate" and opening:  # the plate ends within the letter: half of it lies in the open
        middle = (x0 + x1) / 2
        return base + over("cut", (middle, -150, middle + 240, 150), 0), base + over("cut", beside, 0), (script, letter, how, opening)
    kind = {"bar": "bar", "plate": "bar", "cut": "cut", "line": "line", "tie": "bar"}[how]
    if how == "cut" and opening:
        kind = "cut"
    return base + over(kind, mark.bounds, 1.5), base + over(kind, beside, 0), (script, letter, how, opening)


def test_spoilt_in_other_scripts(make):
    wrong, done = [], 0
    for seed in range(1, 121 if LONG else 21):
        found = pair(make, seed)
        if found is None:
            continue
        spoilt, harmless, what = found
        done += 1
        made = make(spoilt, name=f"s{seed}")
        assert made.code in (0, 1), (seed, what, made.err)
        name = f"'{what[1]}'"
        if not [f for f in made.report["findings"] if f["gravity"] == "stop" and f["key"] in LAWS and name in f["text"]]:
            wrong.append((seed, what, "not named", [f["text"][:90] for f in made.report["findings"] if f["key"] in LAWS]))
        if harmless is None:
            continue
        made = make(harmless, name=f"h{seed}")
        assert made.code in (0, 1), (seed, what, made.err)
        said = [f["text"][:110] for f in made.report["findings"] if f["key"] in LAWS and name in f["text"]]
        if said:
            wrong.append((seed, what, "false alarm", said))
    assert done > 8
    assert not wrong, "\n".join(map(str, wrong))
