# SPDX-License-Identifier: GPL-3.0-or-later
"""Seeded signs, cured where they need it: whatever `make` calls whole has a program, and its plan keeps the rules of the trade.

Inner before outer, nothing cut on what is loose, each boundary once: common practice (handbook 3.5). What the program leaves is held against the
metal by the replay, which has checks of its own against shapely (test_replay.py); here the order is read anew from the lines of the program.
"""
import json

import pytest
from shapely.geometry import LineString, Polygon

import ngc_reading
import random_signs
from conftest import holdfast

SHORT = [432, 442, 484, 610, 611, 612, 613]  # the first three had no program once: a pocket, a gap of a kerf, an arc of no radius
ALL = range(1000, 1500)


def burns_of(text):
    """The path of each burn, as the second reader has it."""
    burns, open_ = [], False
    for move in ngc_reading.read(text):
        if move.lit and move.a[:2] != move.b[:2] or move.lit and move.kind == "round":
            points = move.points(0.01)
            if not open_:
                burns.append(points[:1])
            burns[-1] += points[1:]
            open_ = True
        elif not move.lit:
            open_ = False
    return [LineString(points) for points in burns]


def check_order(text, kerf):
    """Nothing is burnt on what a burn before it has cut loose: what lies in the holes of what that swept."""
    loose = []
    for burn in burns_of(text):
        assert not any(piece.intersects(burn) for piece in loose), "cut on what is loose already"
        swept = burn.buffer(kerf / 2)
        loose += [Polygon(hole).buffer(-0.1) for hole in swept.interiors]
    assert loose


def check(tmp_path, seed):
    text = random_signs.recipe(seed)[0]
    (tmp_path / "sign.yaml").write_text(text)
    done = holdfast("make", tmp_path / "sign.yaml", "--cure", "best", "-o", tmp_path / "out", "--pixels", "200", "--json")
    if done.returncode not in (0, 1):
        pytest.skip(done.stderr[:100])
    report = json.loads(done.stdout)
    keys = {finding["key"] for finding in report["findings"]}
    assert not keys & {"no-way-in", "program-differs"}, [f["text"] for f in report["findings"] if f["key"] in ("no-way-in", "program-differs")]
    program = tmp_path / "out" / "sign" / "cut.nc"
    assert program.exists() == (report["verdict"] == "whole")
    if report["verdict"] == "whole":
        cut = report["cut"][0]
        assert cut["replay"]["verdict"] == "good" and cut["pierces"] == program.read_text().count("\nM3\n")
        check_order(program.read_text(), report["process"]["kerf"]["value"])


@pytest.mark.parametrize("seed", SHORT)
def test_seeds(tmp_path, seed):
    check(tmp_path, seed)


@pytest.mark.long
@pytest.mark.parametrize("seed", ALL)
def test_all_seeds(tmp_path, seed):
    check(tmp_path, seed)
