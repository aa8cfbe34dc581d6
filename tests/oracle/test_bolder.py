# SPDX-License-Identifier: GPL-3.0-or-later
"""Bolder and lighter letters, by shapely on the placed shapes.

The bolder letter must lie inside the plain one buffered by 5 um more, and hold it buffered by 5 um
less. 2 um of that are the dump's own chords on either side.
"""
import random

import pytest

from test_bites import HEAD, lay, least_of_deepest, letter  # noqa: F401
from conftest import LONG

shapely = pytest.importorskip("shapely")
from shapely.affinity import affine_transform  # noqa: E402
from shapely.geometry import Point, box  # noqa: E402

FACES = ["Bebas Neue", "Lobster Two", "DejaVu Serif", "Vollkorn", "DejaVu Sans",
         "{family: Lobster Two, style: Bold Italic}"]
TEXTS = ["HARBOUR", "Saltmarsh", "Quay 8&9", "Ropes?", "Bg%s", "WAVY MN"]


def own_frame(shape):
    """Back from the sign's frame: mm as the letter stands, its pen at the origin."""
    xx, xy, yx, yy, x0, y0 = shape["em"]
    size = (xx * xx + yx * yx) ** 0.5
    c, s = xx / size, yx / size
    return affine_transform(letter(shape["contours"]),
                            [c, s, -s, c, -(c * x0 + s * y0), s * x0 - c * y0])


def letters(made):
    return {s["letter"]: own_frame(s) for s in made if s["letter"] >= 0}


@pytest.mark.parametrize("where", ["", ", arc radius: 400 mm", ", as: opening"])
def test_grown_by_the_same_all_round(tmp_path, where):
    rng, checked = random.Random(4), 0
    for _ in range(60 if LONG else 12):
        text, face = rng.choice(TEXTS), rng.choice(FACES)
        by = round(rng.uniform(-0.6, 2.5), 2)
        words = f'  - words: {{text: "{text}", font: {face}, height: 100 mm{where}'
        plain, bolder = lay(tmp_path, words + "}\n"), lay(tmp_path, words + f", bolder: {by} mm}}\n")
        if plain is None or bolder is None:
            continue
        plain, bolder = letters(plain), letters(bolder)
        assert plain.keys() == bolder.keys()
        for i, was in plain.items():
            is_now = bolder[i]
            assert is_now.difference(was.buffer(by + 0.005, 128)).area < 1e-6, (text, face, by, i)
            assert was.buffer(by - 0.005, 128).difference(is_now).area < 1e-6, (text, face, by, i)
            checked += 1
    assert checked > 30


def test_stands_on_the_bar_as_deep(tmp_path):
    """The bite is measured on the bolder letters; level feet, so the deepest point is the bite."""
    for by in (-1, 0.8, 2.5):
        made = lay(tmp_path, f'  - bar: {{name: rail, length: 900 mm, height: 40 mm}}\n'
                             f'  - words: {{text: "HARBOUR", font: DejaVu Sans, height: 100 mm, '
                             f'stand on: rail, bite: 2 mm, bolder: {by} mm}}\n')
        stand = [letter(s["contours"]) for s in made if s["letter"] >= 0]
        least = least_of_deepest(stand, box(-5000, -5000, 5000, 20), lambda x, y: 20 - y)
        assert least == pytest.approx(2, abs=0.004)


@pytest.mark.parametrize("by", [-0.7, 0.6, 2])
def test_fills_the_band_as_deep(tmp_path, by):
    """Band between radii 200 and 280: every letter meets both rings, and by no less than the bite."""
    made = lay(tmp_path, f'  - ring: {{name: in, outer: 400 mm, width: 20 mm}}\n'
                         f'  - ring: {{name: out, outer: 600 mm, width: 20 mm}}\n'
                         f'  - words: {{text: "HATH", font: DejaVu Sans, band: [in, out], at: top, '
                         f'fill band: yes, bite: 2 mm, bolder: {by} mm}}\n')
    stand = [letter(s["contours"]) for s in made if s["letter"] >= 0]
    inner, outer = Point(0, 0).buffer(200, 512), Point(0, 0).buffer(280, 512)
    outside = box(-900, -900, 900, 900).difference(outer)
    feet = least_of_deepest(stand, inner, lambda x, y: 200 - (x * x + y * y) ** 0.5)
    tops = least_of_deepest(stand, outside, lambda x, y: (x * x + y * y) ** 0.5 - 280)
    assert min(feet, tops) > 2 - 0.005
