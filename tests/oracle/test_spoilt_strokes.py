# SPDX-License-Identifier: GPL-3.0-or-later
"""Spoilt on purpose in one stroke that ends, dot, accent or counter: covered, covered but for a rim, filled, cut out, by a plate,
a tie by hand, an opening; half of them with rules behind, which must not take the finding away. Each is named by a stop. Its
harmless neighbours (the same thing beside the letter; a foot that bites the tip as a rail does; a stencil tie across) say
nothing of the law.

Outlines by fontTools, strokes by scipy's Voronoi diagram (strokes.py): letters from faces without flourish, as what enters and
leaves a letter of a script face is not needed to read it.
"""
import json
import math
import random
import re

import pytest

from conftest import LONG, holdfast
from test_letters import HEAD, contours, face

pytest.importorskip("shapely")
pytest.importorskip("scipy")
from shapely import affinity  # noqa: E402
from shapely.geometry import Polygon  # noqa: E402

from strokes import strokes_of  # noqa: E402

FACES = {
    ("DejaVu Sans", "Bold"): "AEFGHJKLMNPRTUVWXYZhknmdbpqy47ЖЧГКПΨΠΤöéÄ806BagОФ",
    ("DejaVu Sans", "Book"): "CEFGHKLSTUXYZhkcvw2357ЖКЧГΓΛйёñÖ906RDe",
    ("DejaVu Serif", "Bold"): "EFHKLTUXYhk4ЖКΠàÜ8Bdq",
    ("DejaVu Serif", "Book"): "EFHLTUXYh47ГЧΓéÖ0ao",
    ("Bebas Neue", "Bold"): "AEFHKLMNTUVXYZ47ÄÉ068BD",
    ("IPAGothic", "Regular"): "大十木下中上川六文コトナハホイリチボ口日",
}
LAWS = ("changed-letter", "hidden", "off-the-metal")
HIGH, LEAST, LENGTH = 90, 1.4, 0.26  # mm; a stroke is so many widths long, and so much of the letter's height
RIM = 0.1  # of its width: left over where it is covered but for a rim


def yaml_font(family, style):
    if style in ("Book", "Regular") or family == "Bebas Neue":
        return family
    return f"{{family: {family}, style: {style}}}"


def check(folder, text):
    (folder / "s.yaml").write_text(text)
    done = holdfast("check", "--json", folder / "s.yaml")
    assert done.returncode in (0, 1), done.stderr + text
    return json.loads(done.stdout)


class Letter:
    """The letter where it stands in the sign, mm, and how to get back to its ems."""

    def __init__(self, folder, family, style, char):
        self.char, self.font = char, yaml_font(family, style)
        box = check(folder, HEAD + self.words(False))["figures"]["box"]
        ems, shape = contours(face(family, style), char), Polygon()
        for ring in ems:
            shape = shape.symmetric_difference(Polygon(ring).buffer(0))
        x0, y0, _, y1 = shape.bounds
        self.scale = box["height"] / (y1 - y0)
        self.x, self.y = box["x"] - x0 * self.scale, box["y"] - y0 * self.scale
        self.box = (box["x"], box["y"], box["x"] + box["width"], box["y"] + box["height"])
        self.area = affinity.affine_transform(shape, [self.scale, 0, 0, self.scale, self.x, self.y])

    def words(self, opening):
        return f"  - words: {{name: w, text: \"{self.char}\", font: {self.font}, height: {HIGH} mm{', as: opening' if opening else ''}}}\n"

    def em(self, x, y):
        return (x - self.x) / self.scale, (y - self.y) / self.scale


class Block:
    """A rectangle, turned."""

    def __init__(self, area, grow):
        corner = list(area.buffer(max(grow, 0.01), join_style=2).minimum_rotated_rectangle.exterior.coords)
        sides = [math.dist(corner[i], corner[i + 1]) for i in (0, 1)]
        self.width, self.height = sides
        self.x, self.y = (sum(c[i] for c in corner[:4]) / 4 for i in (0, 1))
        self.turn = math.degrees(math.atan2(corner[1][1] - corner[0][1], corner[1][0] - corner[0][0]))

    def plate(self, opening=False):
        return (f"  - plate: {{shape: rectangle, width: {self.width:.3f} mm, height: {self.height:.3f} mm, "
                f"at: [{self.x:.3f} mm, {self.y:.3f} mm], turn: {self.turn:.3f} deg{', as: opening' if opening else ''}}}\n")

    def tie(self, letter):
        x, y = letter.em(self.x, self.y)
        return f"  - tie: {{of: w, em: [{x:.4f}, {y:.4f}], direction: {self.turn:.2f} deg, width: {self.height:.3f} mm, length: {self.width:.3f} mm}}\n"

    def moved(self, x, y):
        other = Block.__new__(Block)
        other.width, other.height, other.turn, other.x, other.y = self.width, self.height, self.turn, x, y
        return other

    def but_for_a_rim(self, side, by):
        """Short of one long side by so much."""
        level = self.width < self.height
        across = math.radians(self.turn + (0 if level else 90))
        other = self.moved(self.x + side * by / 2 * math.cos(across), self.y + side * by / 2 * math.sin(across))
        if level:
            other.width -= by
        else:
            other.height -= by
        return other


def parts_of(letter):
    """(kind, area, width of a stroke) of what can be lost by itself."""
    pieces = sorted(getattr(letter.area, "geoms", [letter.area]), key=lambda p: -p.area)
    high = letter.box[3] - letter.box[1]
    ends = [s for s in strokes_of(letter.area, most=0.45 * high) if s.length >= LEAST * s.width and s.length >= LENGTH * min(high, HIGH)]
    marks = [p for p in pieces[1:] if p.area > 4] if letter.char in "öéÄÜÖÉàйёñ" else []
    return ([("stroke", s.area, s.width) for s in ends] + [("mark", p, 0) for p in marks]
            + [("counter", Polygon(h), 0) for p in pieces for h in p.interiors if Polygon(h).area > 0.05 * p.area])


def spoil(rng, letter, kind, area, wide, opening):
    """(how, what is done). What covers a standing stroke is wider than it all round: a bar of its own size is the stroke."""
    block = Block(area, 1.5)
    if kind == "counter":
        return "fill", block.plate(opening)
    straight = area.area > 0.85 * area.minimum_rotated_rectangle.area  # without a serif, of which a rim would be left
    how = rng.choice(["cover", "cut", "rim" if kind == "stroke" and straight else "cover", "tie" if opening else "cover"])
    if how == "tie":
        return how, block.tie(letter)
    if how == "cut" or opening:
        return how, block.plate(how == "cut")
    grown = 2 + 0.7 * (min(block.width, block.height) - 3)
    block = Block(area, grown)
    return how, (block.but_for_a_rim(rng.choice([-1, 1]), grown + RIM * wide) if how == "rim" else block).plate()


def neighbours(rng, letter, kind, area, opening):
    """(what, what is done): harmless."""
    block = Block(area, 1.5)
    size = math.hypot(block.width, block.height)
    side = (letter.box[2] + size / 2 + 30, rng.uniform(letter.box[1], letter.box[3]))
    yield "beside", block.moved(*side).plate(opening or rng.random() < 0.5)
    if kind == "stroke" and opening:  # a stencil tie, half a stroke wide, across its middle
        long, wide = max(block.width, block.height) - 3, min(block.width, block.height) - 3
        tie = block.moved(block.x, block.y)
        tie.width, tie.height = (wide + 3, min(wide / 3, long / 6)) if block.width < block.height else (min(wide / 3, long / 6), wide + 3)
        yield "a stencil tie", tie.plate()


def named(report, char):
    return [f for f in report["findings"] if f["key"] in LAWS and f"'{char}'" in f["text"]]


def of_seed(folder, seed):
    """What is wrong: (what, why)."""
    rng = random.Random(seed)
    (family, style), chars = rng.choice(sorted(FACES.items()))
    char = rng.choice(chars)
    letter, opening = Letter(folder, family, style, char), rng.random() < 0.5
    parts = parts_of(letter)
    if not parts:
        return None
    kind, area, wide = rng.choice([p for p in parts if p[0] == rng.choice(["stroke", "stroke", "mark", "counter"])] or parts)
    board = "  - plate: {shape: rectangle, width: 700 mm, height: 500 mm}\n" if opening else ""
    sign = HEAD + board + letter.words(opening)
    rules = rng.choice(["", "", "  - ties: {}\n  - mend: {fill: yes, thicken: yes}\n", "  - mend: {fill: yes}\n"])
    how, done = spoil(rng, letter, kind, area, wide, opening)
    what, wrong = (seed, family, style, char, kind, how, "cut through" if opening else "stands", rules != ""), []
    if not [f for f in named(check(folder, sign + done + rules), char) if f["gravity"] == "stop"]:
        wrong.append((what, "not named", re.sub(r"\s+", " ", done)))
    for other, done in neighbours(rng, letter, kind, area, opening):
        said = named(check(folder, sign + done), char)
        if said:
            wrong.append((what, other, [f["text"][:110] for f in said]))
    return wrong


def assert_all_named(folder, one, n):
    """@n signs of seeds 1, 2, 3, ...: one(folder, seed) tells what is wrong, or None where the seed makes none."""
    wrong, done, seed = [], 0, 0
    while done < n:
        seed += 1
        found = one(folder, seed)
        if found is not None:
            done, wrong = done + 1, wrong + found
    assert not wrong, "\n".join(map(str, wrong))


def test_spoilt_in_one_part(tmp_path):
    assert_all_named(tmp_path, of_seed, 200 if LONG else 20)
