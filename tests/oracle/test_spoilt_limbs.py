# SPDX-License-Identifier: GPL-3.0-or-later
"""A limb of a letter, whatever its form, is covered or cut away: a stem with its serifs, the foot of a Y, the top of a 4. A
stop names it. What a window takes off the letter counts as a limb where it reaches out by three tenths of the letter's own
height and farther than 1.4 times what of the window's edge lies in it; the rest of the letter stays as many pieces as it had.

Outlines by fontTools, what a window takes by shapely; nothing of how holdfast walks along edges.
"""
import random

import pytest

from conftest import LONG
from test_letters import HEAD
from test_spoilt_strokes import Letter, assert_all_named, check, named

pytest.importorskip("shapely")
from shapely.geometry import Point, box  # noqa: E402

FACES = {
    ("DejaVu Serif", "Bold"): "EFHKLTUXYhk47JGMNPRSCZWAVmnruydbpqfl1235Qé&ЖПГΨ",
    ("DejaVu Serif", "Book"): "EFHKLTUXYhk47JGMNPRSCZWAVmnru",
    ("DejaVu Sans", "Bold"): "EFHKLTUXYhk47JGMNPRSCZWAVmnruydbpqf235Ж",
    ("Bebas Neue", "Bold"): "EFHKLTUXY47JGMNPRSCZWAV235",
    ("Inter", "Regular"): "EFHKLTUXYhk7JGMNPRSCZmnu",  # a 4 with an open top still reads 4
}
FAR, NECKS, BITE = 0.3, 1.4, 0.12
GROW = 2  # mm beyond the letter


def parts(area):
    return [p for p in getattr(area, "geoms", [area]) if p.geom_type == "Polygon" and p.area > 1e-6]


def windows(bounds):
    """Boxes that come from one side of the letter, of all of that side or of a part of it."""
    x0, y0, x1, y1 = bounds
    for depth in (BITE, 0.3, 0.36, 0.45, 0.55):
        for low, high in ((0, 1), (0, 0.5), (0.5, 1), (0, 0.35), (0.65, 1), (0.33, 0.67)):
            v0, v1 = y0 + low * (y1 - y0) - GROW * (low == 0), y0 + high * (y1 - y0) + GROW * (high == 1)
            u0, u1 = x0 + low * (x1 - x0) - GROW * (low == 0), x0 + high * (x1 - x0) + GROW * (high == 1)
            yield depth, (x0 - GROW, v0, x0 + depth * (x1 - x0), v1)
            yield depth, (x1 - depth * (x1 - x0), v0, x1 + GROW, v1)
            yield depth, (u0, y0 - GROW, u1, y0 + depth * (y1 - y0))
            yield depth, (u0, y1 - depth * (y1 - y0), u1, y1 + GROW)


def limbs(area):
    """(window about one limb that it takes off)."""
    high = area.bounds[3] - area.bounds[1]
    for depth, bounds in windows(area.bounds):
        window = box(*bounds)
        if depth == BITE or len(parts(area.difference(window))) != len(parts(area)):
            continue
        for limb in parts(area.intersection(window)):
            neck = limb.boundary.intersection(window.boundary)
            if not 0 < neck.length or neck.convex_hull.length > 2.2 * neck.length:
                continue
            far = max(neck.convex_hull.distance(Point(p)) for p in limb.exterior.coords)
            if far >= FAR * high and far > NECKS * neck.length and 0.08 * area.area < limb.area < 0.45 * area.area:
                grown = [g - GROW if i < 2 else g + GROW for i, g in enumerate(limb.bounds)]
                yield [max(a, b) if i < 2 else min(a, b) for i, (a, b) in enumerate(zip(grown, bounds))]


def plate(bounds, opening):
    x0, y0, x1, y1 = bounds
    return (f"  - plate: {{shape: rectangle, width: {x1 - x0:.3f} mm, height: {y1 - y0:.3f} mm, "
            f"at: [{(x0 + x1) / 2:.3f} mm, {(y0 + y1) / 2:.3f} mm]{', as: opening' if opening else ''}}}\n")


def of_seed(folder, seed):
    """(what is wrong) of this seed; None: no limb."""
    rng = random.Random(f"limb {seed}")
    (family, style), chars = rng.choice(sorted(FACES.items()))
    char = rng.choice(chars)
    letter = Letter(folder, family, style, char)
    taken = list(limbs(letter.area))
    if not taken:
        return None
    opening, cut = rng.random() < 0.5, rng.random() < 0.5
    sign = HEAD + ("  - plate: {shape: rectangle, width: 700 mm, height: 500 mm}\n" if opening else "") + letter.words(opening)
    lost = rng.choice(taken)
    bite = rng.choice([bounds for depth, bounds in windows(letter.area.bounds) if depth == BITE])
    what, wrong = (seed, family, style, char, "cut through" if opening else "stands", "cut" if cut else "covered"), []
    if not [f for f in named(check(folder, sign + plate(lost, cut)), char) if f["gravity"] == "stop"]:
        wrong.append((what, "not named", plate(lost, cut)))
    if not opening and not cut and len(parts(letter.area)) == 1:  # a bar that bites a little, as bars do
        said = [f["text"] for f in named(check(folder, sign + plate(bite, False)), char) if f["gravity"] == "stop"]
        wrong += [(what, "bitten", plate(bite, False), said)] if said else []
    return wrong


def test_spoilt_limbs(tmp_path):
    assert_all_named(tmp_path, of_seed, 400 if LONG else 25)
