# SPDX-License-Identifier: GPL-3.0-or-later
"""Signs whose verdict is known by closed form, turned and moved at random: it stays the same verdict.

A wall between two round holes is their distance less their radii; a neck is as wide as its bar; a dot stands off a plate
by the distance of their edges. Each is set a little to one side of the limit (3 mm sheet, 1.5 mm kerf: webs 3 mm, long
webs 3.6 mm; docs/limits.md) or to the other. The slack of widths is 0.02 mm: nearer than that nothing is asked.
"""
import json
import math
import os
import random

import pytest

from conftest import holdfast

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
SEED = int(os.environ.get("HOLDFAST_SEED", "20261129"))


class Placed:
    """A frame: turned by an angle, moved by an offset."""

    def __init__(self, rng):
        self.angle = rng.choice([0, 90, 180, 45, rng.uniform(-180, 180), rng.uniform(-180, 180), rng.uniform(-1e-3, 1e-3)])
        self.x, self.y = rng.uniform(-400, 400), rng.uniform(-400, 400)

    def at(self, x, y):
        c, s = math.cos(math.radians(self.angle)), math.sin(math.radians(self.angle))
        return f"at: [{self.x + c * x - s * y:.6f} mm, {self.y + s * x + c * y:.6f} mm]"

    def turn(self):
        return f"turn: {self.angle:.7f} deg"


def off_by(rng):
    return rng.choice([-1, 1]) * rng.choice([0.025, 0.05, 0.1, rng.uniform(0.03, 0.6)])


def wall(rng, p):
    off, d1, d2 = off_by(rng), rng.uniform(9, 20), rng.uniform(9, 20)
    far = d1 / 2 + d2 / 2 + 3 + off
    return (f"  - plate: {{name: p, shape: rectangle, width: 200 mm, height: 160 mm, {p.at(0, 0)}, {p.turn()}}}\n"
            f"  - hole: {{diameter: {d1:.6f} mm, {p.at(-far / 2, 0)}}}\n  - hole: {{diameter: {d2:.6f} mm, {p.at(far / 2, 0)}}}\n"), off < 0


def neck(rng, p):
    off, gap = off_by(rng), rng.uniform(30, 80)
    wide = 3.6 + off
    return (f"  - plate: {{name: a, shape: rectangle, width: 80 mm, height: 80 mm, {p.at(-gap / 2 - 40, 0)}, {p.turn()}}}\n"
            f"  - plate: {{name: b, shape: rectangle, width: 80 mm, height: 80 mm, {p.at(gap / 2 + 40, 0)}, {p.turn()}}}\n"
            f"  - bar: {{length: {gap + 30:.6f} mm, height: {wide:.6f} mm, {p.at(0, 0)}, {p.turn()}}}\n"), off < 0


def apart(rng, p):
    """Clear by more than a grid unit: two parts. Overlapping by a deep bite: one."""
    loose = rng.random() < 0.5
    off = rng.choice([0.002, 0.01, 0.5, rng.uniform(0.01, 20)]) if loose else -rng.uniform(6, 12)
    d = rng.uniform(25, 60)
    return (f"  - plate: {{name: a, shape: rectangle, width: 120 mm, height: 80 mm, {p.at(0, 0)}, {p.turn()}}}\n"
            f"  - plate: {{name: b, shape: round, diameter: {d:.6f} mm, {p.at(60 + d / 2 + off, 0)}}}\n"), loose


def edge(rng, p):
    """A hole near the edge of its plate. Small ones: beside a large one the wall is a long web, with a limit of its own."""
    off, d = off_by(rng), rng.uniform(7, 9)
    return (f"  - plate: {{name: p, shape: rectangle, width: 200 mm, height: 160 mm, {p.at(0, 0)}, {p.turn()}}}\n"
            f"  - hole: {{hanging: no, diameter: {d:.6f} mm, {p.at(100 - 3 - off - d / 2, 0)}}}\n"), off < 0


FORMS = {form.__name__: form for form in (wall, neck, apart, edge)}
STOPS = {"wall": {"thin-web", "thin-long-web"}, "neck": {"thin-web", "thin-long-web"}, "apart": {"loose-part", "stands-alone", "weak-joint", "narrow-gap"}, "edge": {"thin-web", "thin-long-web"}}


def wrong(tmp_path, n, first=0):
    bad, names = [], sorted(FORMS)
    for i in range(first, first + n, 8):
        files, truths = [], []
        for k in range(i, min(i + 8, first + n)):
            rng, form = random.Random(SEED * 100_003 + k), names[k % len(names)]
            text, stopped = FORMS[form](rng, Placed(rng))
            file = tmp_path / f"s{k}.yaml"
            file.write_text(HEAD + text)
            files.append(file)
            truths.append((form, stopped))
        done = holdfast("check", "--json", *files, cwd=tmp_path)
        assert done.returncode in (0, 1), done.stderr
        for report, file, (form, stopped) in zip(json.loads(done.stdout), files, truths):
            stops = {f["key"] for f in report["findings"] if f["gravity"] == "stop"}
            if bool(stops) != stopped or not stops <= STOPS[form] or (report["verdict"] == "whole") == stopped:
                bad.append((file.read_text(), stopped, sorted(stops)))
    return bad


def test_turned_and_moved(tmp_path):
    assert not wrong(tmp_path, 40)


# Sharing an edge. The second one is shorter, so that its corners fall on the other's edge, and round by themselves.
MEETINGS = {
    "plates": "  - plate: {{name: a, shape: rectangle, width: 80 mm, height: 60 mm, {left}}}\n  - plate: {{name: b, shape: rectangle, width: 50 mm, height: 33 mm, {right}}}\n",
    "after a cut": "  - plate: {{name: a, shape: rectangle, width: 80 mm, height: 60 mm, {left}}}\n  - plate: {{as: opening, name: c, shape: rectangle, width: 12 mm, height: 20 mm, {notch}}}\n"
                   "  - plate: {{name: b, shape: rectangle, width: 50 mm, height: 53 mm, {right}}}\n",
    "openings": "  - plate: {{name: p, shape: rectangle, width: 300 mm, height: 160 mm, {middle}}}\n  - plate: {{as: opening, name: a, shape: rectangle, width: 80 mm, height: 60 mm, {left}}}\n"
                "  - plate: {{as: opening, name: b, shape: rectangle, width: 50 mm, height: 33 mm, {right}}}\n",
}


def meeting(rng, form, off):
    p = Placed(rng)
    places = {"left": (-40 - off / 2, 0), "right": (25 + off / 2, 4), "notch": (-4, 0), "middle": (0, 0)}
    return MEETINGS[form].format(**{name: f"{p.at(*at)}, {p.turn()}" for name, at in places.items()})


def told(tmp_path, n, first=0):
    """An edge that is shared, by a gap or bite of less than 0.001 mm, is told and no stop; from 0.002 mm on it is a gap or a web."""
    bad = []
    for k in range(first, first + n):
        rng, form, off = random.Random(SEED * 100_019 + k), list(MEETINGS)[k % len(MEETINGS)], (0, 0, 0.0003, -0.0003, 0.0007, 0.002)[k // 3 % 6]
        file = tmp_path / f"m{k}.yaml"
        file.write_text(HEAD + meeting(rng, form, off))
        report = json.loads(holdfast("check", "--json", file, cwd=tmp_path).stdout)
        report = report[0] if isinstance(report, list) else report
        keys = {f["key"] for f in report["findings"] if "notch" not in f["text"]}
        if (report["verdict"] == "whole") != (off < 0.001) or (off < 0.001 and keys != {"edge-to-edge"}) or (off > 0.001 and not keys & {"narrow-gap", "thin-web", "thin-long-web"}):
            bad.append((file.read_text(), off, sorted(keys)))
    return bad


def test_sharing_an_edge(tmp_path):
    assert not told(tmp_path, 36)


def oversteps(rng):
    """A hole that oversteps the edge of its plate, or another hole, by less than opens a mouth as wide as the kerf. The mouth of a
    circle of radius r, h over a line, is 2 sqrt(h (2 r - h)) wide; of two equal ones, h over each other, 2 sqrt(h r - h h / 4)."""
    p, h, r, pair = Placed(rng), rng.choice([5e-4, 1e-3, 2.5e-3, 4e-3, 5e-3, 5.5e-3, 7.6e-3, 9.9e-3, 0.0102, 0.015]), rng.uniform(4, 15), rng.random() < 0.5
    assert 2 * math.sqrt(h * (2 * r - h)) < 1.4 and 2 * math.sqrt(h * r - h * h / 4) < 1.4
    at = f"at: [{p.at(-r + h / 2, 0)[4:]}, {p.at(r - h / 2, 0)[4:]}]" if pair else p.at(100 - r + h, 0)
    return (HEAD + f"  - plate: {{name: p, shape: rectangle, width: 200 mm, height: 160 mm, {p.at(0, 0)}, {p.turn()}}}\n"
            f"  - hole: {{hanging: no, diameter: {2 * r:.6f} mm, {at}}}\n")


def test_what_oversteps_by_a_hair_is_never_whole(tmp_path):
    files = [tmp_path / f"o{k}.yaml" for k in range(40)]
    for k, file in enumerate(files):
        file.write_text(oversteps(random.Random(SEED * 100_043 + k)))
    done = holdfast("check", "--json", *files, cwd=tmp_path)
    assert done.returncode == 1, done.stderr
    assert not [file.read_text() for report, file in zip(json.loads(done.stdout), files) if report["verdict"] == "whole"]


@pytest.mark.long
def test_sharing_an_edge_long(tmp_path):
    assert not told(tmp_path, 900, first=1000)


@pytest.mark.long
def test_turned_and_moved_long(tmp_path):
    assert not wrong(tmp_path, 1500, first=1000)
