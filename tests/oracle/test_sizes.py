# SPDX-License-Identifier: GPL-3.0-or-later
"""The sizes in report.json against shapely on metal.svg: boxes and distances of rings, with no figure of holdfast's own.
Each seeded sign has a board with words, a star and a hole cut from it, or a hoop with words, a bar and a dot in its window; sizes, faces,
places and texts are drawn. Which ring is whose is told by where it lies: each entry is kept in a cell of its own, which
the test knows and holdfast does not."""
import json
import random
import re

import pytest
from shapely.geometry import LinearRing, Polygon, box
from shapely.ops import unary_union

from conftest import holdfast
from reading import rings_of_svg
from test_fit import FACES, TEXTS, recipe

SEEDS = 40
TRUE_TO = 0.01  # mm
WIDE = 0.012    # mm: both ends of a curve may have been cut short by a chord, 5 um, and by the grid


def board(rng):
    """Three cells beside each other on a board, each 200 mm wide."""
    shape = rng.choice(["shape: rectangle, width: 640 mm, height: 260 mm", "shape: oval, width: 900 mm, height: 420 mm",
                        "shape: rounded, width: 640 mm, height: 240 mm, corner: 40 mm"])
    cut = ", as: opening"
    entries = [f"plate: {{name: ground, {shape}}}",
               f'words: {{name: left, text: "{rng.choice(TEXTS)}", font: {rng.choice(FACES)}, box: [{rng.randint(90, 190)} mm, {rng.randint(40, 110)} mm], '
               f'shift: [-200 mm, {rng.randint(-40, 40)} mm]{cut}}}',
               f"star: {{name: middle, diameter: {rng.randint(60, 150)} mm, at: [[0 mm, {rng.randint(-30, 30)} mm]]{cut}}}",
               f"hole: {{name: right, diameter: {rng.randint(20, 150)} mm, at: [[{rng.randint(190, 210)} mm, {rng.randint(-30, 30)} mm]]}}"]
    return entries, True


def hoop(rng):
    """The same in the window of a hoop, of metal."""
    entries = [f"ring: {{name: ground, outer: {rng.randint(760, 900)} mm, width: {rng.randint(12, 40)} mm}}",
               f'words: {{name: left, text: "{rng.choice(TEXTS)}", font: {rng.choice(FACES)}, box: [{rng.randint(90, 190)} mm, {rng.randint(40, 110)} mm], '
               f'shift: [-200 mm, {rng.randint(-40, 40)} mm]}}',
               f"bar: {{name: middle, length: {rng.randint(60, 180)} mm, height: {rng.randint(20, 90)} mm, at: [[0 mm, {rng.randint(-30, 30)} mm]]}}",
               f"dot: {{name: right, diameter: {rng.randint(60, 150)} mm, at: [[{rng.randint(190, 210)} mm, {rng.randint(-30, 30)} mm]]}}"]
    return entries, False


def drawn(rings):
    """Rings in the recipe's frame: y up, the sign's centre in the middle of the ground."""
    ground = max(rings, key=lambda ring: abs(Polygon(ring).area))
    x0, y0, x1, y1 = LinearRing(ground).bounds
    return [LinearRing([(x - (x0 + x1) / 2, (y0 + y1) / 2 - y) for x, y in ring]) for ring in rings]


def parted(rings):
    """Rings of each entry, by the cell that they lie in; the ground's go round all cells."""
    cells = {"left": box(-302, -200, -100, 200), "middle": box(-99, -200, 99, 200), "right": box(100, -200, 302, 200)}
    own = {"ground": [], "left": [], "middle": [], "right": []}
    for ring in rings:
        cell = next((name for name, cell in cells.items() if cell.contains(ring)), "ground")
        own[cell].append(ring)
    return {name: unary_union(some) for name, some in own.items()}


@pytest.mark.parametrize("kind", [board, hoop])
def test_sizes(kind, tmp_path):
    cuts = {}
    for seed in range(SEEDS // 2):
        entries, cuts[seed] = kind(random.Random(f"{kind.__name__} {seed}"))
        (tmp_path / f"{seed}.yaml").write_text(recipe(entries))
    done = holdfast("make", "-q", *[tmp_path / f"{seed}.yaml" for seed in cuts], "-o", tmp_path / "out")
    assert done.returncode in (0, 1), done.stderr
    for seed, cut in cuts.items():
        folder = tmp_path / "out" / str(seed)
        report = json.loads((folder / "report.json").read_text())
        own = parted(drawn(rings_of_svg(next(folder.glob("[mn]*.svg")))))
        sizes = {size["entry"]: size for size in report["sizes"]}
        assert set(sizes) == set(own)
        for name, rings in own.items():
            x0, y0, x1, y1 = rings.bounds
            size = sizes[name]
            assert [size["width"], size["height"]] == pytest.approx([x1 - x0, y1 - y0], abs=WIDE), (seed, name)
            ends = size["box"]["x"], size["box"]["y"], size["box"]["x"] + size["box"]["width"], size["box"]["y"] + size["box"]["height"]
            assert ends == pytest.approx((x0, y0, x1, y1), abs=TRUE_TO), (seed, name)
            others = {other: rings.distance(far) for other, far in own.items() if other != name and (not cut or name == "ground" or other == "ground")}
            nearest = min(others, key=others.get)
            assert size["clear"] == pytest.approx(others[nearest], abs=TRUE_TO), (seed, name)
            assert others[size["clear_from"]] == pytest.approx(others[nearest], abs=TRUE_TO), (seed, name)


def test_groups_are_one(tmp_path):
    """A stack's size is the box of what is in it, and what is in it is no edge beside it; the table says the same."""
    file = tmp_path / "hours.yaml"
    file.write_text(recipe(["plate: {name: board, shape: rectangle, width: 500 mm, height: 300 mm}", "words: {name: a, text: OPEN, font: Bebas Neue, as: opening}",
                            "words: {name: b, text: AT SIX, font: Bebas Neue, as: opening}", "stack: {name: hours, of: [a, b], inside: board, margin: 24 mm}"]))
    done = holdfast("check", "--json", file)
    sizes = {size["entry"]: size for size in json.loads(done.stdout)["sizes"]}
    low = min(sizes[name]["box"]["y"] for name in "ab")
    high = max(sizes[name]["box"]["y"] + sizes[name]["height"] for name in "ab")
    assert sizes["hours"]["height"] == pytest.approx(high - low, abs=1e-3)
    assert sizes["hours"]["clear"] == pytest.approx(24, abs=1e-3) and sizes["hours"]["clear_from"] == "board"
    assert min(sizes[name]["clear"] for name in "ab") == pytest.approx(24, abs=1e-3)
    table = holdfast("check", "--sizes", file).stdout
    line = next(line for line in table.splitlines() if re.match(r"  hours +stack", line))
    figures = [float(word) for word in re.findall(r"(-?[\d.]+) mm", line)]
    box = sizes["hours"]["box"]
    assert figures == pytest.approx([box["width"], box["height"], box["x"], box["y"], 24], abs=0.051) and line.endswith("mm board")
