# SPDX-License-Identifier: GPL-3.0-or-later
"""The torch's paths (src/lead) against shapely: half a kerf beside the metal, ways in that burn nothing that stays.

Directions: with the usual swirl the right side of travel is the good one (common practice: a college course on plasma cutting, handbook 3.4),
so an outside goes clockwise and an opening counter-clockwise. Where the pierce should be (crater, half a kerf and 1 mm off): common practice.
"""
import math

import pytest
from shapely.geometry import Point
from shapely.ops import unary_union

from planned import CONTOUR, IN, OUT, PAST, TOP, line_of, metal_of, plan_of, points_of, turned

EXAMPLES = sorted(path for path in (TOP / "examples").glob("*.yaml"))
OFF = 0.02  # mm: outlines are 0.01 off the region, its chords 0.005 off the curve, chords here 0.002


def is_closed(stretches):
    contour = [stretch for stretch in stretches if stretch["kind"] == CONTOUR]
    return math.dist(contour[0]["from"], contour[-1]["to"]) < 1e-6


def check_joined(stretches):
    for a, b in zip(stretches, stretches[1:]):
        assert math.dist(a["to"], b["from"]) < 1e-6, (a, b)
    assert [s["kind"] for s in stretches] == sorted(s["kind"] for s in stretches)


def check_arcs(stretches):
    """Both ends on one circle, after rounding to 4 decimals too (NISTIR 6556, 3.5.3.2: 0.002 mm)."""
    for stretch in stretches:
        if stretch["arc"]:
            centre = stretch["centre"]
            assert abs(math.dist(centre, stretch["from"]) - math.dist(centre, stretch["to"])) < 5e-4, stretch  # ends are on the grid of 0.1 um


def check_start(plan, start, reach, metal, opening):
    stretches = start["stretches"]
    check_joined(stretches)
    check_arcs(stretches)
    assert is_closed(stretches)
    contour = [s for s in stretches if s["kind"] == CONTOUR]
    assert (turned(contour) > 0) == opening
    ways = [s for s in stretches if s["kind"] in (IN, OUT)]
    if ways:
        # what is burnt on the way in and out, beside what the contour itself takes
        near = reach.intersection(line_of([s for s in stretches if s["kind"] == IN]).buffer(8))
        assert line_of([s for s in stretches if s["kind"] == IN]).distance(near) > plan["kerf"] / 2 - 2 * OFF if not near.is_empty else True
    past = sum(line_of([s]).length for s in stretches if s["kind"] == PAST)
    assert past <= plan["kerf"] + 1e-6


def check_paths(plan):
    metal = metal_of(plan)
    half = plan["kerf"] / 2
    assert sorted(path["ring"] for path in plan["paths"]) == list(range(len(plan["rings"])))
    edge = metal.boundary
    allowed = plan["crater"] + half + 1
    short = {one["path"] for one in plan["shorts"]}
    for number, path in enumerate(plan["paths"]):
        assert path["opening"] == (plan["rings"][path["ring"]]["parent"] >= 0)
        assert path["starts"] or number in short, path["ring"]
        lines = []
        for start in path["starts"]:
            check_start(plan, start, edge, metal, path["opening"])
            assert not metal.contains(Point(start["pierce"]))
        if path["starts"] and number not in short:
            assert max(edge.distance(Point(start["pierce"])) for start in path["starts"]) > allowed - 2 * OFF
        if path["starts"]:
            contour = line_of([s for s in path["starts"][0]["stretches"] if s["kind"] == CONTOUR])
            lines.append(contour)
            # nowhere nearer than half a kerf, nowhere on it farther off
            assert edge.distance(contour) > half - OFF
            for x, y in list(contour.coords)[:: max(len(contour.coords) // 200, 1)]:
                assert edge.distance(Point(x, y)) < half + OFF


@pytest.mark.parametrize("recipe", [path for path in EXAMPLES if path.stem in ("bakery", "lighthouse", "zoe", "wedding", "heron", "names-on-studs")], ids=lambda path: path.stem)
def test_examples(recipe):
    check_paths(plan_of(recipe))


@pytest.mark.long
@pytest.mark.parametrize("recipe", EXAMPLES, ids=lambda path: path.stem)
def test_all_examples(recipe):
    check_paths(plan_of(recipe))


def test_mirrored_goes_round_the_other_way():
    recipe = TOP / "examples" / "zoe.yaml"
    usual, other = plan_of(recipe), plan_of(recipe, "mirrored")
    for a, b in zip(usual["paths"], other["paths"]):
        assert turned([s for s in a["starts"][0]["stretches"] if s["kind"] == CONTOUR]) * turned([s for s in b["starts"][0]["stretches"] if s["kind"] == CONTOUR]) < 0


def test_predicted_loss():
    """What is swept beside the metal leaves it whole: the cut takes nothing of it, and beside it a round kerf's rest in inside corners only."""
    plan = plan_of(TOP / "examples" / "zoe.yaml")
    metal = metal_of(plan)
    swept = unary_union([line_of(points["starts"][0]["stretches"]).buffer(plan["kerf"] / 2, resolution=32) for points in plan["paths"]])
    assert swept.intersection(metal.buffer(-2 * OFF)).area < 1e-6
    reachable = metal.buffer(plan["kerf"] / 2, resolution=64).buffer(-plan["kerf"] / 2, resolution=64)
    kept = metal.buffer(plan["kerf"] / 2 - 0.1).difference(swept)
    assert kept.difference(reachable.buffer(2 * OFF)).area < 0.01 * metal.length
