# SPDX-License-Identifier: GPL-3.0-or-later
"""The recipe's key `cut` from outside: starts, ways in, good side and order as the program has them, read by its lines alone.
Clockwise outside for the usual swirl and the other way round when mirrored: handbooks of the trade, common practice, no source."""
import json
import math
import re

import pytest

from conftest import TOP, holdfast

SIGN = """holdfast: 1
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.4 mm}
%s
entries:
  - plate: {name: board, shape: rectangle, width: 400 mm, height: 200 mm}
  - hole: {name: screws, diameter: 30 mm, at: [[-180 mm, 80 mm], [180 mm, 80 mm], [-180 mm, -80 mm], [180 mm, -80 mm]]}
  - plate: {name: window, shape: rectangle, width: 80 mm, height: 60 mm, as: opening, at: [-80 mm, 0 mm]}
  - plate: {name: light, shape: rectangle, width: 80 mm, height: 60 mm, as: opening, at: [80 mm, 0 mm]}
"""
ROUND = re.compile(r"^\((\d+): (.*)\)$")


def made(tmp_path, cut, ok=True):
    path = tmp_path / "sign.yaml"
    path.write_text(SIGN % cut)
    done = holdfast("make", path, "-o", tmp_path, "--pixels", "200")
    assert (done.returncode == 0) == ok, done.stdout + done.stderr
    return done, (tmp_path / "sign" / "cut.nc").read_text().splitlines() if ok else None


def cuts_of(lines):
    """name, pierce, and the moves with the torch on: (word, x, y)."""
    cuts, x, y = [], 0.0, 0.0
    for line in lines:
        if head := ROUND.match(line):
            cuts.append([head[2], None, []])
        if not line.startswith(("G0", "G1", "G2", "G3")):
            continue
        for axis, value in re.findall(r"([XY])(-?[\d.]+)", line):
            x, y = (float(value), y) if axis == "X" else (x, float(value))
        if cuts and line.startswith("G0"):
            cuts[-1][1] = (x, y) if cuts[-1][1] is None or not cuts[-1][2] else cuts[-1][1]
        elif cuts:
            cuts[-1][2].append((line[:2], x, y))
    return cuts


def turned(cut):
    """Twice the area of its moves' ends, > 0 counter-clockwise; enough for straight-edged ones."""
    points = [(x, y) for _, x, y in cut[2]]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))


def names(lines):
    return [cut[0] for cut in cuts_of(lines)]


def test_nothing_wished_changes_nothing(tmp_path):
    _, plain = made(tmp_path, "")
    _, empty = made(tmp_path, "cut: {way in: usual, good side: shop}")
    assert plain == empty


def test_order(tmp_path):
    _, lines = made(tmp_path, "cut: {first: [light], last: screws}")
    order = names(lines)
    assert "light" in order[0] and all("screws" in name for name in order[2:6]) and "board" in order[6]
    _, lines = made(tmp_path, "cut: {order: [screws, light, window]}")
    order = [next(word for word in ("screws", "light", "window", "board") if word in name) for name in names(lines)]
    assert order == ["screws"] * 4 + ["light", "window", "board"]


def test_one_by_the_programs_own_name(tmp_path):
    _, lines = made(tmp_path, "")
    last = [name for name in names(lines) if "screws" in name][-1]
    _, lines = made(tmp_path, f"cut: {{first: ['{last}']}}")
    assert names(lines)[0] == last


def test_ways_in(tmp_path):
    _, usual = made(tmp_path, "")
    assert any(cut[2][0][0] in ("G2", "G3") for cut in cuts_of(usual))
    _, lines = made(tmp_path, "cut: {way in: straight, way length: 7 mm, way out: no}")
    for name, pierce, moves in cuts_of(lines):
        assert moves[0][0] == "G1", name
        length = math.dist(pierce, moves[0][1:])
        assert length == pytest.approx(7, abs=0.01), name
    _, lines = made(tmp_path, "cut: {wishes: [{of: screws, way in: middle}]}")
    for name, pierce, moves in cuts_of(lines):
        if "screws" in name:  # 30 mm, so the torch's middle goes round at 14.3
            assert math.dist(pierce, moves[0][1:]) == pytest.approx(14.3, abs=0.02)


@pytest.mark.parametrize("start, x, y", [("top", 0, 30), ("bottom left", -40, -30), ("left", -40, 0), ("[-60 mm, -40 mm]", 20, -30)])
def test_starts(tmp_path, start, x, y):
    """The middle of the window is 80 mm left of the board's; its edge lies 40 and 30 mm off, the torch's middle half a kerf within."""
    _, lines = made(tmp_path, f"cut: {{wishes: [{{of: window, start: {start}}}]}}")
    cut = next(cut for cut in cuts_of(lines) if "window" in cut[0])
    at = (10 + 0.7 + 200 - 80 + x, 10 + 0.7 + 100 + y)
    said = (tmp_path / "sign" / "report.json").read_text()
    zero = (float(re.search(r'"at": ?\{"x": ?(-?[\d.]+)', said)[1]), float(re.search(r'"at": ?\{"x": ?-?[\d.]+, ?"y": ?(-?[\d.]+)', said)[1]))
    at = (zero[0] - 80 + x, zero[1] + y)
    begun = cut[2][0][1:]
    assert math.dist(begun, at) < 1.1, (begun, at)


def test_mirrored(tmp_path):
    _, right = made(tmp_path, "")
    _, left = made(tmp_path, "cut: {good side: left}")
    for lines, sign in ((right, -1), (left, 1)):
        for cut in cuts_of(lines):
            if "screws" not in cut[0]:
                assert turned(cut) * sign * (1 if "board" in cut[0] else -1) > 0, cut[0]


@pytest.mark.parametrize("cut, says", [
    ("cut: {first: [windw]}", 'nothing is cut there; write window'),
    ("cut:\n  wishes: [{of: nowhere, start: top}]", "sign.yaml:5:12"),
    ("cut: {order: [board, window]}", "lies in"),
    ("cut: {order: [light, window, light]}", "goes round in a ring"),
    ("cut: {first: [light], last: [light]}", "first and last"),
    ("cut: {wishes: [{of: light}]}", "wants nothing"),
])
def test_wishes_that_can_not_be(tmp_path, cut, says):
    done, _ = made(tmp_path, cut, ok=False)
    assert done.returncode == 2 and says in done.stderr, done.stderr
    assert not (tmp_path / "sign" / "cut.nc").exists()


def test_no_room_is_told(tmp_path):
    done, lines = made(tmp_path, "cut: {wishes: [{of: screws, way in: straight, way length: 60 mm}]}")
    assert "60 mm is wished for" in done.stdout
    done, _ = made(tmp_path, "cut: {wishes: [{of: board, way in: middle}]}")
    assert "no room for the way in" in done.stdout


def test_an_example_with_all_of_it(tmp_path):
    """Read back and whole, as without."""
    text = (TOP / "examples" / "bakery.yaml").read_text()
    text += "cut: {way in: arc, way out: no, good side: left, first: [screws], last: [bread, tarts], wishes: [{of: bakery, start: bottom}]}\n"
    (tmp_path / "sign.yaml").write_text(text)
    done = holdfast("make", tmp_path / "sign.yaml", "-o", tmp_path, "--pixels", "200")
    assert done.returncode == 0 and "read back, it leaves the sign" in done.stdout
    order = names((tmp_path / "sign" / "cut.nc").read_text().splitlines())
    assert all("screws" in name for name in order[:4]) and all("BREAD" in name or "TARTS" in name for name in order[-10:-1])


def test_why_of_a_wished_order(tmp_path):
    """A cut that comes before nearer ones because the recipe says so is not said to be quicker."""
    whys = []
    for cut in ("", "cut: {order: [light, window, screws]}"):
        made(tmp_path, cut)
        cuts = json.loads((tmp_path / "sign" / "report.json").read_text())["cut"][0]["cuts"]
        whys.append([it["why"] for it in cuts if "later, for" in it["why"]])
    assert whys[1] and all("what the recipe wants" in why for why in whys[1])
    assert not any("recipe" in why for why in whys[0])
