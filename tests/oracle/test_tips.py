# SPDX-License-Identifier: GPL-3.0-or-later
"""Points of metal that burn back: the proof picture against the closed form, and whole alphabets.

A wedge of angle a is as wide as L at (L / 2) / sin(a / 2) from its point, measured to the middle of the round end; the crown of
that end lies L / 2 nearer to the point (elementary geometry). Measured in the pixels of proof.png.
"""
import math
import subprocess

import numpy
import pytest
from PIL import Image

from conftest import LONG

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nmount: none\nentries:\n"
LIMIT = 3.0  # mm: max(t, 1.5 k, 2 mm)
FACES = ["Bebas Neue", "{family: DejaVu Sans, style: Bold}", "DejaVu Sans", "DejaVu Serif", "{family: Vollkorn, style: Bold}", "League Spartan",
         "Nimbus Sans", "C059", "URW Gothic", "Lobster Two"]
LINES = ["ABCDEFGHI", "JKLMNOPQR", "STUVWXYZ", "0123456789"]


@pytest.mark.parametrize("width, height", [(20, 160), (30, 200), (44, 200)])
def test_drawn_as_it_will_be(make, width, height):
    made = make(HEAD + f"  - diamond: {{width: {width} mm, height: {height} mm}}\n")
    assert made.code in (0, 1), made.err
    tips = [f for f in made.report["findings"] if f["key"] == "burnt-tip"]
    angle = 2 * math.atan(width / height)
    length = LIMIT / 2 / math.sin(angle / 2)
    assert tips and tips[0]["measured"] == pytest.approx(length, rel=0.05)
    grey = numpy.asarray(Image.open(made.folder / "proof.png").convert("L")).astype(int)
    dark = grey < 100
    # the metal: the row with the longest dark run is its waist
    runs = [(len(numpy.flatnonzero(row)), y) for y, row in enumerate(dark[: int(0.75 * len(dark))])]
    widest = max(runs)[0]
    rows = [y for n, y in runs if n >= widest - 1]
    waist = sum(rows) / len(rows)
    xs = numpy.flatnonzero(dark[int(waist)])
    middle, scale = (xs[0] + xs[-1]) // 2, (xs[-1] - xs[0] + 1) / width
    light = numpy.flatnonzero(~dark[: int(waist), middle])  # from the waist up, to where the metal ends
    crown = height / 2 - (waist - light[-1]) / scale
    assert crown == pytest.approx(length - LIMIT / 2, abs=1.0), (crown, length)


def has(face):
    family = face.split("family: ")[-1].split(",")[0].rstrip("}")
    return family in subprocess.run(["fc-list", ":", "family"], capture_output=True, text=True).stdout


@pytest.mark.parametrize("face", FACES if LONG else FACES[1:3])
def test_capitals_and_digits_are_whole(make, face):
    """At 100 mm in 3 mm steel, cut through: whole as they are or with ties only."""
    if not has(face):
        pytest.skip(f"{face} is not installed")
    wrong = []
    for line in LINES if LONG else LINES[1:4:2]:
        made = make(HEAD + "  - plate: {name: board, shape: rectangle, width: 1600 mm, height: 240 mm}\n"
                    f"  - words: {{text: '{line}', font: {face}, height: 100 mm, as: opening, on: board, spacing: 14 mm}}\n  - ties: {{}}\n")
        assert made.code in (0, 1), made.err
        wrong += [f["text"] for f in made.report["findings"] if f["gravity"] == "stop"]
    assert not wrong, "\n".join(wrong)
