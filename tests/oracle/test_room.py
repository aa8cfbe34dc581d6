# SPDX-License-Identifier: GPL-3.0-or-later
"""Findings and refusals talk of words, their width, the room there is; what they say to do is done and looked at.

The widths are measured a second time: advances and ink by fontTools, the room by the plate's own equation.
"""
import json
import math
import random
import re
import subprocess

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from conftest import holdfast

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"


def findings(tmp_path, entries, *options):
    (tmp_path / "sign.yaml").write_text(HEAD + entries)
    done = holdfast("check", "sign.yaml", "--json", *options, cwd=tmp_path)
    assert done.returncode in (0, 1), done.stderr
    return json.loads(done.stdout)["findings"]


def off_metal(tmp_path, entries):
    return [f for f in findings(tmp_path, entries) if f["key"] in ("off-the-metal", "hidden") and f["gravity"] != "note"]


def ink_width(text, height):
    """mm of ink of @text in Bebas Neue Regular with capitals @height high; kerning is left to the plate's own slack."""
    file = subprocess.run(["fc-match", "-f", "%{file}", "Bebas Neue:style=Regular"], capture_output=True, text=True, check=True).stdout
    font = TTFont(file)
    glyphs, names, at, box = font.getGlyphSet(), font.getBestCmap(), 0, [math.inf, -math.inf]
    for c in text:
        pen = BoundsPen(glyphs)
        glyphs[names[ord(c)]].draw(pen)
        if pen.bounds:
            box = [min(box[0], at + pen.bounds[0]), max(box[1], at + pen.bounds[2])]
        at += glyphs[names[ord(c)]].width
    pen = BoundsPen(glyphs)
    glyphs[names[ord("H")]].draw(pen)
    return (box[1] - box[0]) * height / pen.bounds[3]


@pytest.mark.parametrize("seed", range(6))
def test_words_too_wide_for_their_plate(tmp_path, seed):
    rng = random.Random(seed)
    text = "".join(rng.choice("HILTEMN") for _ in range(rng.randint(6, 12)))
    height = rng.randint(50, 110)
    wide = ink_width(text, height)
    round_plate = seed % 2 == 1
    if round_plate:
        size = wide * rng.uniform(0.75, 0.95)
        plate, room = f"shape: round, diameter: {size:.1f} mm", math.sqrt(size * size - (height * 8 / 9) ** 2)
    else:
        size = wide * rng.uniform(0.6, 0.95)
        plate, room = f"shape: rectangle, width: {size:.1f} mm, height: {height * 2} mm", size
    entries = f"entries:\n  - plate: {{name: board, {plate}}}\n  - words: {{text: {text}, font: Bebas Neue, height: HIGH mm, on: board, as: opening}}\n"
    told = [f["text"] for f in off_metal(tmp_path, entries.replace("HIGH", str(height))) if "the words are" in f["text"]]
    assert told
    said, has, fits = (float(x) for x in re.search(r"the words are ([\d.]+) mm wide, plate \"board\" is ([\d.]+) mm there; take (\d+) mm letters, which fit", told[0]).groups())
    assert said == pytest.approx(wide, rel=0.03)  # kerning
    assert has == pytest.approx(room, rel=0.01)
    assert not off_metal(tmp_path, entries.replace("HIGH", str(int(fits))))
    assert fits * wide / height > 0.8 * has - 8 or round_plate, "no more is asked for than it takes"


def test_words_beside_the_middle(tmp_path):
    entries = "entries:\n  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n  - words: {text: QUAY, font: Bebas Neue, height: 90 mm, on: board, as: openingSHIFT}\n"
    for shift, way, back in [((90, 0), "to the left", (-1, 0)), ((-95, 0), "to the right", (1, 0)), ((0, 70), "down", (0, -1)), ((10, -60), "up", (0, 1))]:
        told = [f["text"] for f in off_metal(tmp_path, entries.replace("SHIFT", ", shift: [%s mm, %s mm]" % shift))]
        by = float(re.search(rf"move the words ([\d.]+) mm {way}, or", " ".join(told))[1])
        moved = (shift[0] + back[0] * by, shift[1] + back[1] * by)
        assert not off_metal(tmp_path, entries.replace("SHIFT", ", shift: [%s mm, %s mm]" % moved)), (told, moved)


def test_no_hundredths_of_a_share(tmp_path):
    entries = "entries:\n  - plate: {name: board, shape: rectangle, width: 260 mm, height: 200 mm}\n  - words: {text: SALTMARSH, font: Bebas Neue, height: 90 mm, on: board, as: opening}\n"
    shares = re.findall(r"([\d.]+) %", " ".join(f["text"] for f in findings(tmp_path, entries)))
    assert shares and all(len(share.replace(".", "").lstrip("0")) <= 2 or float(share) >= 10 and "." not in share for share in shares), shares


@pytest.mark.parametrize("wrong, right", [("mount: standoffs", "studs"), ("mount: Screws", "holes"), ("mount: chain", "holes"), ("mount: stakes", "stake"), ("mount: glue", "none")])
def test_a_mount_as_people_say_it(tmp_path, wrong, right):
    plate = "entries:\n  - plate: {shape: round, diameter: 99 mm}\n"
    (tmp_path / "sign.yaml").write_text(HEAD + wrong + "\n" + plate)
    done = holdfast("check", "sign.yaml", cwd=tmp_path)
    assert done.returncode == 2 and f"; write {right}" in done.stderr, done.stderr
    (tmp_path / "sign.yaml").write_text(HEAD + f"mount: {right}\n" + plate)
    assert holdfast("check", "sign.yaml", cwd=tmp_path).returncode in (0, 1)


def test_every_place_of_a_finding(tmp_path):
    """--all lists as many places as the report counts, each at one of the report's points."""
    entries = "entries:\n  - plate: {name: board, shape: rectangle, width: 700 mm, height: 200 mm}\n  - words: {text: SALTMARSH QUAY, font: Bebas Neue, height: 90 mm, on: board, as: opening}\n"
    report = findings(tmp_path, entries)
    assert any(f["count"] > 5 for f in report)
    words = holdfast("check", "sign.yaml", "--all", cwd=tmp_path).stdout
    assert "          " not in holdfast("check", "sign.yaml", cwd=tmp_path).stdout
    listed = [(float(x), float(y)) for x, y in re.findall(r"(?m)^          .*at \[(-?[\d.]+) mm, (-?[\d.]+) mm\]$", words)]
    assert len(listed) == sum(f["count"] for f in report)
    points = [tuple(p) if isinstance(p, list) else (p["x"], p["y"]) for f in report for p in f["places"]]
    for x, y in listed:
        assert any(abs(x - a) < 0.2 and abs(y - b) < 0.2 for a, b in points), (x, y)
