# SPDX-License-Identifier: GPL-3.0-or-later
"""Drawings that come in, against pictures that others made of them: the yardstick's 570 files with the
reference pictures of a general-purpose renderer (see docs/decisions/0017-drawings-in.md). Shape
against shape at the picture's size: at most 1 % of the pixels may differ outside a band of one pixel
about the edges of either."""
import collections
import json
import os
import pathlib
import subprocess

import numpy as np
import pytest
from PIL import Image, ImageDraw
from scipy import ndimage

HERE = pathlib.Path(__file__).parent
DUMP = HERE.parents[1] / "build" / "tests" / "tools" / "drawing_dump"
YARDSTICK = pathlib.Path(os.environ.get("HOLDFAST_YARDSTICKS", HERE.parents[2] / "shared" / "data")) / "svg"
FINE = 2  # chords are filled at so many times the picture's size
MOST = 0.01
LEAST_SHARE = 0.97


def left_out() -> dict[str, str]:
    lines = (HERE / "drawings-left-out.txt").read_text().splitlines()
    return dict(line.split("\t") for line in lines if line and not line.startswith("#"))


def files() -> list[pathlib.Path]:
    out = left_out()
    found = []
    for path in sorted(YARDSTICK.rglob("*.svg")):
        name = path.relative_to(YARDSTICK)
        if name.parts[0] != "resources" and str(name) not in out and "/".join(name.parts[:2]) not in out:
            found.append(path)
    return found


def reading(path: pathlib.Path) -> tuple[dict | None, str]:
    ran = subprocess.run([DUMP, path], capture_output=True, text=True, timeout=60)
    assert ran.returncode in (0, 2), f"{path}: {ran.stderr}"
    return (json.loads(ran.stdout) if ran.returncode == 0 else None), ran.stderr


def area(ring: list) -> float:
    x, y = np.array(ring).T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def fill(rings: list, to_pixel, size: tuple[int, int]) -> np.ndarray:
    """Rings that do not cross: the larger first, metal in those that turn one way, none in the others."""
    shape = Image.new("1", size)
    pen = ImageDraw.Draw(shape)
    for ring in sorted(rings, key=lambda r: -abs(area(r))):
        pen.polygon([to_pixel(p) for p in ring], fill=int(area(ring) > 0))
    return np.asarray(shape)


def drawn(found: dict | None, size: tuple[int, int]) -> np.ndarray:
    """All pieces as metal, at the picture's size."""
    fine = (size[0] * FINE, size[1] * FINE)
    all_of_it = np.zeros((fine[1], fine[0]), bool)
    if found is None:
        return all_of_it[::FINE, ::FINE]
    x0, y0, x1, y1 = found["page"]
    if x0 is None:  # no page: the picture shows the box of what is drawn
        xs = [p for piece in found["pieces"] for c in piece["rings"] for p in c]
        x0, x1 = min(p[0] for p in xs), max(p[0] for p in xs)
        y0, y1 = min(p[1] for p in xs), max(p[1] for p in xs)
    for piece in found["pieces"]:
        all_of_it |= fill(piece["rings"], lambda p: ((p[0] - x0) / (x1 - x0) * fine[0], (y1 - p[1]) / (y1 - y0) * fine[1]), fine)
    return all_of_it.reshape(size[1], FINE, size[0], FINE).mean((1, 3)) >= 0.5


def shape_of(picture: Image.Image) -> np.ndarray:
    return np.asarray(picture.convert("RGBA"))[:, :, 3] >= 16


def band(shape: np.ndarray) -> np.ndarray:
    around = np.ones((3, 3), bool)
    return ndimage.binary_dilation(shape, around) & ~ndimage.binary_erosion(shape, around, border_value=1)


def difference(path: pathlib.Path) -> tuple[float, str]:
    picture = Image.open(path.with_suffix(".png"))
    found, why = reading(path)
    ours, theirs = drawn(found, picture.size), shape_of(picture)
    return float(((ours != theirs) & ~band(ours) & ~band(theirs)).mean()), why.strip()


# Where we and the pictures differ, and why we stay with what the standard says.
EXPLAINED = {
    "tests/shapes/rect/q-values.svg": "CSS Values 3, 6.2 has the unit Q; the picture shows nothing",
    "tests/shapes/rect/ch-values.svg": "CSS Values 3, 6.1 has the unit ch; the picture shows nothing",
    "tests/shapes/rect/lh-values.svg": "CSS Values 4 has the unit lh; the picture shows nothing",
    "tests/structure/symbol/with-transform.svg": "SVG 2, 5.5 lets a symbol be transformed; the picture goes by 1.1",
}


@pytest.mark.skipif(not YARDSTICK.is_dir(), reason="the yardstick is not here: set HOLDFAST_YARDSTICKS")
def test_shapes_are_those_of_the_pictures():
    right, all_of_them, wrong = collections.Counter(), collections.Counter(), {}
    for path in files():
        name = str(path.relative_to(YARDSTICK))
        folder = name.rsplit("/", 1)[0]
        share, why = difference(path)
        all_of_them[folder] += 1
        right[folder] += share <= MOST
        if share > MOST:
            wrong[name] = f"{share:.3f} {why}"
    for folder in all_of_them:
        print(f"{folder}: {right[folder]} of {all_of_them[folder]}")
    print(f"all: {right.total()} of {all_of_them.total()}")
    print("\n".join(f"{name}: {why}" for name, why in wrong.items()))
    assert right.total() >= LEAST_SHARE * all_of_them.total(), wrong
    assert set(wrong) == set(EXPLAINED), "explain each failure, and none that is none"
