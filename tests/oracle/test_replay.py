# SPDX-License-Identifier: GPL-3.0-or-later
"""`holdfast replay` against shapely: what a seeded random program takes away, by a second reader (ngc_reading.py) and
shapely's buffers of its paths; and sound programs of whole signs, written by ngc_writing.py, with their metal as designed."""
import json
import math
import random
import subprocess

import pytest
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

import ngc_reading
import ngc_writing
from replay_board import KERF, Board
from conftest import TOP, holdfast

DUMP = TOP / "build" / "tests" / "tools" / "replay_dump"


WITHIN = 0.025  # metal.svg may lie 0.01 mm off the metal, its arcs are chords of 0.002 here, the metal's own of 0.005


def cut_by_replay(path, kerf):
    done = subprocess.run([DUMP, path, str(kerf)], capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    area = Polygon()
    for ring in sorted((Polygon(json.loads(line)) for line in done.stdout.splitlines()), key=lambda p: -p.area):
        area = area.symmetric_difference(ring)  # rings lie in each other, none crosses another
    return area


def cut_by_shapely(moves, kerf):
    """Chord by chord, as shapely's buffer of a whole path leaves out what it thinks is little; and how long all are."""
    chords, length = [], 0.0
    for move in moves:
        points = move.points(5e-4) if move.lit else []
        chords += [LineString(ab) if ab[0] != ab[1] else Point(ab[0]) for ab in zip(points, points[1:])]
        length += sum(math.dist(a, b) for a, b in zip(points, points[1:]))
    return unary_union([chord.buffer(kerf / 2, 48) for chord in chords]), length


def beyond(a, b, by):
    """mm2 of `a` that lie farther than `by` from `b`."""
    return a.difference(b.buffer(by)).area


def random_burns(seed):
    r = random.Random(seed)
    lines = ["G21 G90 F1000"]
    for _ in range(r.randint(1, 6)):
        x, y = r.uniform(0, 60), r.uniform(0, 60)
        lines += [f"G0 X{x:.4f} Y{y:.4f}", "M3", "G4 P0.2"]
        for _ in range(r.choice([0, 1, 3, 12, 40])):
            step = r.choice([0.01, 0.3, 3, 15])
            nx, ny = round(x + r.uniform(-step, step), 4), round(y + r.uniform(-step, step), 4)
            kind = r.random()
            if kind < 0.5 or math.dist((x, y), (nx, ny)) < 0.01:
                lines.append(f"G1 X{nx} Y{ny}")
            elif kind < 0.85:
                radius = round(math.dist((x, y), (nx, ny)) / 2 * r.uniform(1.01, 4) + 0.001, 4) * r.choice([1, 1, -1])
                lines.append(f"G{r.choice([2, 3])} X{nx} Y{ny} R{radius}")
            else:
                lines.append(f"G{r.choice([2, 3])} X{x:.4f} Y{y:.4f} I{r.choice([0.2, 0.7, 5])} J0")
                nx, ny = round(x, 4), round(y, 4)
            if r.random() < 0.1:  # straight back, over itself
                lines.append(f"G1 X{x:.4f} Y{y:.4f}")
                nx, ny = round(x, 4), round(y, 4)
            x, y = nx, ny
        lines.append("M5")
    return "\n".join(lines + ["M30", ""])


@pytest.mark.parametrize("seed", range(36))
def test_what_is_cut(tmp_path, seed):
    """Nowhere farther off than 5 um, and in area within 2 um times the length of cut."""
    path = tmp_path / "p.nc"
    path.write_text(random_burns(seed))
    kerf = [1.5, 0.4, 3.1][seed % 3]
    ours = cut_by_replay(path, kerf)
    theirs, length = cut_by_shapely(ngc_reading.read(path.read_text()), kerf)
    assert beyond(ours, theirs, 0.005) < 1e-9 and beyond(theirs, ours, 0.005) < 1e-9
    assert abs(ours.area - theirs.area) <= 0.002 * length + 1e-3 * kerf


@pytest.fixture(scope="module")
def board(tmp_path_factory):
    return Board(tmp_path_factory.mktemp("board"))


def test_sound_program(board):
    contours = board.contours()
    text, spans = ngc_writing.program(contours)
    code, told = board.judge(text)
    assert code == 0 and told["verdict"] == "good"
    assert [f["key"] for f in told["findings"]] in ([], ["over-drops"])
    assert told["inward"] <= WITHIN and told["outward"] <= WITHIN
    assert (told["laid"]["x"], told["laid"]["y"]) == (pytest.approx(10, abs=0.01), pytest.approx(10, abs=0.01))
    kinds = [p["kind"] for p in told["pieces"]]
    assert (kinds.count("sign"), kinds.count("skeleton"), kinds.count("drop")) == (1, 1, len(contours) - 1)
    signs = [p for p in told["pieces"] if p["kind"] == "sign"]
    assert signs[0]["loose_after_line"] == spans[-1][1] - 1
    # what a round kerf leaves in the inside corners, by shapely
    kept = board.design.buffer(KERF / 2, 64).buffer(-KERF / 2, 64).area - board.design.area
    assert told["kept_corners"] == pytest.approx(kept, abs=0.3)
    drops = sorted(p["loose_after_line"] for p in told["pieces"] if p["kind"] == "drop")
    assert drops == sorted(last - 1 for _, last in spans[:-1])
    length = sum(m.minutes for m in ngc_reading.read(text)) * 60
    assert told["cut_seconds"] + told["wait_seconds"] == pytest.approx(length, rel=1e-6)


EXAMPLES = ["welcome", "boats", "mooring", "salt-and-cedar"]


@pytest.mark.parametrize("name", EXAMPLES)
def test_sound_programs_of_examples(tmp_path, name):
    """The sign of the recipe comes out in one part, within what its file promises."""
    done = holdfast("make", TOP / "examples" / f"{name}.yaml", "-o", tmp_path)
    assert done.returncode == 0, done.stdout
    design = ngc_writing.design_of(tmp_path / name / "metal.svg")
    contours = ngc_writing.contours_of(design, KERF)
    path = tmp_path / "p.nc"
    path.write_text(ngc_writing.program(contours)[0])
    done = holdfast("replay", path, "--against", TOP / "examples" / f"{name}.yaml", "--kerf", "1.5 mm", "--json")
    told = json.loads(done.stdout)
    assert told["inward"] <= WITHIN and told["outward"] <= WITHIN, told["findings"]
    assert [f for f in told["findings"] if f["gravity"] == "stop"] == [] and done.returncode == 0
