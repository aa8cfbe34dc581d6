# SPDX-License-Identifier: GPL-3.0-or-later
"""Letters that run into their neighbours, read from outside: letters by fontTools at their places, bays by shapely.

A bay is what lies between a letter and its convex hull. Of each bay the part that the outside still reaches, with the
neighbours where they are, is held against the part that it reaches where the face puts them (the same words with no
spacing asked for). holdfast counts places of a lattice; here areas are exact. Common practice, no source.
"""
import random

import pytest

from conftest import LONG
from test_letters import DUMP, HEAD, drawn, face, place_of

shapely = pytest.importorskip("shapely")
from shapely.geometry import Polygon  # noqa: E402
from shapely.ops import unary_union  # noqa: E402

FACES = [("Lobster Two", "Regular"), ("Z003", "Medium Italic"), ("Leckerli One", "Regular"), ("DejaVu Sans", "Bold"), ("DejaVu Serif", "Bold")]
SCRIPT = FACES[:3]
WORDS = ["Grace", "ocean", "queen", "Bakery", "Sister", "Oliver", "cod", "Kelp", "EEL", "CREW", "Emma", "Willow", "Harbour", "Sophie",
         "Joseph", "Quay", "Pottery", "minimum", "Ferry", "Boats"]
STOP, CAUTION, MARGIN = 25, 50, 10
DEEP, NARROW = 0.35, 0.25


def text_of(words, family, style, height, spacing):
    return (HEAD + f"  - words: {{name: w, text: {words}, font: {{family: {family}, style: {style}}}, height: {height} mm"
            + (f", spacing: {spacing}" if spacing else "") + "}\n")


def polygons(shape):
    return [p for p in getattr(shape, "geoms", [shape]) if p.geom_type == "Polygon" and p.area > 0.01]


def placed(tmp_path, font, words, recipe, name):
    (tmp_path / f"{name}.yaml").write_text(recipe)
    out = {}
    for shape in place_of(tmp_path / f"{name}.yaml"):
        out[shape["letter"]] = (unary_union(drawn(font, words[shape["letter"]], shape["em"])), shape["em"])
    return out


def solid(shape):
    return unary_union([Polygon(p.exterior) for p in polygons(shape)])


def worst_bay(i, now, native):
    """% of the letter's bay that is worst off; 100: none is asked."""
    from shapely.affinity import affine_transform
    own, em = now[i]
    body = max(polygons(own), key=lambda p: p.area)
    edge = body.exterior.length + sum(r.length for r in body.interiors)
    stroke = 2 * body.area / edge
    dx, dy = em[4] - native[i][1][4], em[5] - native[i][1][5]
    about = [k for k in now if 0 < abs(k - i) <= 2]
    here = unary_union([own] + [now[k][0] for k in about])
    there = unary_union([own] + [affine_transform(native[k][0], [1, 0, 0, 1, dx, dy]) for k in about])
    hull, worst = body.convex_hull, 100
    for bay in polygons(hull.difference(own)):
        mouth = bay.exterior.intersection(hull.exterior.buffer(1e-3)).length
        deep = bay.area >= DEEP * mouth * mouth
        if bay.area < (1 if deep else 4) * stroke * stroke:
            continue
        grown = there.buffer(NARROW * stroke) if deep else there
        was = bay.difference(solid(grown) if deep else grown).area
        if was < 0.2 * bay.area:
            continue
        worst = min(worst, 100 * bay.difference(solid(here) if deep else here).area / was)
    return worst


def said(report, letter_box):
    x0, y0, x1, y1 = letter_box
    return {f["gravity"] for f in report["findings"] if f["key"] == "changed-letter" and f["form"] == "mouth"
            for p in f["places"] if x0 <= p["x"] <= x1 and y0 <= p["y"] <= y1}


def test_bays_as_read_from_outside(make, tmp_path):
    if not DUMP.exists():
        pytest.skip("layout_dump is not built")
    wrong, asked, shut = [], 0, 0
    for seed in range(150 if LONG else 14):
        rng = random.Random(seed)
        family, style = rng.choice(FACES)
        words, height = rng.choice(WORDS), rng.choice([60, 100])
        spacing = f"{-rng.uniform(2, 30):.1f} %"
        font = face(family, style)
        recipe = text_of(words, family, style, height, spacing)
        now = placed(tmp_path, font, words, recipe, f"m{seed}")
        native = placed(tmp_path, font, words, text_of(words, family, style, height, ""), f"n{seed}")
        made = make(recipe, name=f"m{seed}")
        assert made.code in (0, 1), made.err
        for i in now:
            if i not in native:
                continue
            worst, gravities = worst_bay(i, now, native), said(made.report, now[i][0].bounds)
            asked += 1
            shut += worst < STOP - MARGIN
            if worst < STOP - MARGIN and "stop" not in gravities:
                wrong.append((seed, family, words, words[i], spacing, "no stop", round(worst)))
            neighbours = [worst_bay(k, now, native) for k in now if abs(k - i) <= 2 and k in native]
            if min(neighbours) > CAUTION + MARGIN and gravities:
                wrong.append((seed, family, words, words[i], spacing, "false alarm", round(worst)))
    assert asked > 40 and shut > 3, (asked, shut)
    assert not wrong, "\n".join(map(str, wrong))


def test_ordinary_joins_are_no_alarm(make):
    """Script faces as they join their letters: nothing of the law is said."""
    wrong = []
    for k, (family, style) in enumerate(SCRIPT):
        face(family, style)
        for words in WORDS if LONG else WORDS[2 * k::7]:
            made = make(text_of(words, family, style, 120, ""), name="joined")
            assert made.code in (0, 1), made.err
            wrong += [(family, words, f["text"]) for f in made.report["findings"] if f["key"] == "changed-letter"]
    assert not wrong, "\n".join(map(str, wrong))


def test_grace_reads_otherwise(make):
    """The order that came back: a c pressed into its neighbour until its mouth was shut."""
    face("Z003", "Medium Italic")
    made = make(text_of("Grace", "Z003", "Medium Italic", 60, "joined"))
    stops = [f["text"] for f in made.report["findings"] if f["gravity"] == "stop" and f["key"] == "changed-letter"]
    assert any("'c'" in text and "o where c was ordered" in text for text in stops), stops
