# SPDX-License-Identifier: GPL-3.0-or-later
"""A drawing by itself as an order: `make`, `check` and `cure` take an SVG or DXF file where they take a
recipe; it is what a recipe of one drawing is. `look` tells, draws and begins a recipe with it. Areas are
those of plane geometry."""
import json
import math
import re
import shutil
import xml.etree.ElementTree as xml

import pytest

from conftest import TOP, holdfast

SHEET = ("--metal", "mild steel", "--thickness", "3 mm")
CUT = (*SHEET, "--kerf", "1.5 mm")
RECIPE = """holdfast: 1
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - drawing: {name: heron, file: heron.svg, height: 600 mm, white is: opening}
"""
DISC = "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\nrim\n10\n0\n20\n0\n40\n40\n0\nENDSEC\n0\nEOF\n"


@pytest.fixture
def folder(tmp_path):
    shutil.copy(TOP / "examples" / "heron.svg", tmp_path)
    (tmp_path / "disc.dxf").write_text(DISC)
    return tmp_path


def report(folder, *args):
    done = holdfast("check", *args, "--json", cwd=folder)
    assert done.returncode in (0, 1), done.stderr
    return json.loads(done.stdout)


def test_it_is_what_its_recipe_is(folder):
    (folder / "heron.yaml").write_text(RECIPE)
    by_itself = report(folder, "heron.svg", *CUT, "--height", "600 mm", "--white", "opening")
    assert by_itself == report(folder, "heron.yaml")
    assert [one["file"] for one in by_itself["drawings"]] == ["heron.svg"]


def test_it_is_made_where_a_recipe_is(folder):
    done = holdfast("make", "heron.svg", "disc.dxf", *CUT, "--white", "opening", "--width", "500 mm", cwd=folder)
    assert done.returncode == 0, done.stderr
    for name in ("heron", "disc"):
        assert (folder / "out" / name / "metal.svg").exists() and (folder / "out" / name / "report.json").exists()


def test_white_is_asked_for(folder):
    done = holdfast("check", "heron.svg", *CUT, cwd=folder)
    assert done.returncode == 2 and done.stdout == ""
    for answer in ("opening", "metal", "nothing"):
        assert f"--white {answer}" in done.stderr
        assert report(folder, "heron.svg", *CUT, "--white", answer)
    (folder / "bird.yaml").write_text(RECIPE.replace(", white is: opening", ""))
    done = holdfast("check", "bird.yaml", cwd=folder)
    assert done.returncode == 2 and "bird.yaml:5:" in done.stderr and '"white is: opening"' in done.stderr


def test_the_unit_is_asked_for(folder):
    done = holdfast("check", "disc.dxf", *CUT, cwd=folder)
    assert done.returncode == 2 and "80 x 80 mm if millimetres, 2032" in done.stderr
    assert "--unit mm" in done.stderr and "--unit in" in done.stderr and "--width" in done.stderr
    for unit, mm in {"mm": 1, "cm": 10, "in": 25.4}.items():
        disc = report(folder, "disc.dxf", *CUT, "--unit", unit)
        assert disc["figures"]["area"] == pytest.approx(math.pi * (40 * mm) ** 2, rel=3e-4)
    assert report(folder, "disc.dxf", *CUT, "--width", "90 mm")["figures"]["box"]["width"] == pytest.approx(90, abs=0.01)  # chords within 0.005 mm
    done = holdfast("check", "heron.svg", *CUT, "--unit", "in", cwd=folder)
    assert done.returncode == 2 and "SVG" in done.stderr


@pytest.mark.parametrize("args, told", [
    (("heron.svg",), "--thickness"),
    (("heron.svg", "--metal", "mild steel"), "--thickness"),
    (("heron.svg", *SHEET, "--white", "opening"), "--kerf"),
    (("nothing.svg", *CUT), "no such file"),
    (("heron.svg", *SHEET, "--kerf", "9 m"), "too large"),
    (("heron.svg", *CUT, "--metal", "mild stel"), "mild steel"),
    (("heron.svg", *CUT, "--width", "3 mm}, as: opening"), "not a length"),
    (("heron.svg", *CUT, "--piece", "whale"), 'no piece called "whale"'),
    (("heron.yaml", "--kerf", "1 mm"), "leave --kerf out"),
])
def test_what_is_missing_or_wrong_is_said(folder, args, told):
    (folder / "heron.yaml").write_text(RECIPE)
    done = holdfast("check", *args, cwd=folder)
    assert done.returncode == 2 and told in done.stderr and done.stdout == ""
    assert ".svg:" not in done.stderr.replace(".svg: ", "")  # no line of a recipe that nobody wrote


def test_a_piece_by_its_name(folder):
    whole = report(folder, "heron.svg", *CUT, "--white", "opening")
    bank = report(folder, "heron.svg", *CUT, "--piece", "bank")
    assert bank["figures"]["area"] == pytest.approx(196 * 24 + math.pi * 144, rel=1e-4) and bank["figures"]["area"] < whole["figures"]["area"]


def test_a_cure_makes_a_recipe_of_it(folder):
    small = (*CUT, "--white", "opening", "--height", "100 mm")
    told = holdfast("cure", "heron.svg", *small, cwd=folder)
    assert told.returncode == 1 and "--thickness '3 mm'" in told.stdout
    done = holdfast("cure", "heron.svg", *small, "--best", "-o", "whole.yaml", cwd=folder)
    assert done.returncode == 0, done.stderr
    assert holdfast("check", "whole.yaml", cwd=folder).returncode == 0


def test_a_name_with_everything_in_it(folder):
    name = "it's, [a] {b}: #1.svg"
    shutil.copy(folder / "heron.svg", folder / name)
    assert report(folder, name, *CUT, "--white", "opening")["drawings"][0]["file"] == name


# ---- layers and pieces by what they are ----------------------------------------------------------

def circle(layer, x, y, r):
    return f"0\nCIRCLE\n8\n{layer}\n10\n{x}\n20\n{y}\n40\n{r}\n"


ROSE = ("0\nSECTION\n2\nENTITIES\n" + circle("rim", 0, 0, 50) + circle("boss", 0, 0, 20) + circle("holes", 35, 0, 5) +
        circle("holes", 50, 0, 8) + circle("frame", 0, 0, 80) + "0\nENDSEC\n0\nEOF\n")


def lens(d, r, s):
    """Of two discs whose middles are d apart."""
    a, b = math.acos((d * d + r * r - s * s) / (2 * d * r)), math.acos((d * d + s * s - r * r) / (2 * d * s))
    return r * r * (a - math.sin(2 * a) / 2) + s * s * (b - math.sin(2 * b) / 2)


@pytest.mark.parametrize("said, area", [
    ("left out: frame, openings: holes", 2500 - 400 - 25 - lens(50, 50, 8) / math.pi),  # the boss is an opening
    ("left out: frame, openings: holes, metal: boss", 2500 - 25 - lens(50, 50, 8) / math.pi),
    ("left out: [frame, holes], openings: boss", 2500 - 400),
    ("left out: [frame, holes, boss]", 2500),
    ("openings: [holes, boss], metal: [rim, frame]", (6400 - 2500)),  # one in the other, even by odd
    ("metal: frame, openings: [holes, boss]", 6400 - 400 - 25 - 64),
    ("metal: frame, left out: [rim, holes, boss]", 6400),
])
def test_layers_are_what_is_said(folder, said, area):
    """Discs, and two that overlap, in closed form (radii in mm, areas as multiples of pi)."""
    (folder / "rose.dxf").write_text(ROSE)
    (folder / "rose.yaml").write_text(RECIPE.split("entries")[0] +
                                      f"entries:\n  - drawing: {{file: rose.dxf, unit: mm, {said}}}\n")
    made = report(folder, "rose.yaml")["figures"]
    if said.startswith("openings: [holes, boss], metal: [rim"):
        area -= (64 * math.pi - lens(50, 50, 8)) / math.pi  # what of that hole lies outside of the rim
    assert made["area"] == pytest.approx(math.pi * area, rel=1e-3)


def test_pieces_of_svg_are_what_is_said(folder):
    recipe = RECIPE.split("entries")[0] + "entries:\n  - drawing: {file: heron.svg, %s}\n"
    areas = {}
    for said in ("white is: metal", "openings: eye", "metal: eye", "metal: eye, left out: [legs, bank]"):
        (folder / "h.yaml").write_text(recipe % said)
        areas[said] = report(folder, "h.yaml")["figures"]["area"]
    assert areas["white is: metal"] == areas["metal: eye"]
    assert areas["metal: eye"] - areas["openings: eye"] == pytest.approx(math.pi * 4.5 ** 2, rel=2e-3)
    assert areas["metal: eye, left out: [legs, bank]"] < areas["metal: eye"] - 196 * 24


@pytest.mark.parametrize("said", ["openings: whole", "metal: whole", "left out: [frame, whole]"])
def test_names_that_are_not_there(folder, said):
    (folder / "rose.dxf").write_text(ROSE)
    (folder / "rose.yaml").write_text(RECIPE.split("entries")[0] + f"entries:\n  - drawing: {{file: rose.dxf, unit: mm, {said}}}\n")
    done = holdfast("check", "rose.yaml", cwd=folder)
    assert done.returncode == 2 and 'nothing called "whole"' in done.stderr and "rim, boss, holes and frame" in done.stderr
    assert "layers and blocks: rim, boss, holes and frame" in holdfast("look", "rose.dxf", cwd=folder).stdout


def test_what_is_missing_is_a_caution(folder):
    """What nobody understood may be just what was wanted: told as a finding, until somebody accepts it."""
    (folder / "frame.dxf").write_text(loose())
    found = [f for f in report(folder, "frame.dxf", *CUT, "--unit", "mm")["findings"] if f["key"] == "left-out"]
    assert len(found) == 1 and found[0]["gravity"] == "caution"
    assert 'drawing "frame.dxf": 5 things in it are missing or in doubt' in found[0]["text"]  # 2 ends, 2 crossings, 1 line
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm"><rect width="200" height="200"%s/></svg>'
    for more, n in (("", 0), (' mask="url(#m)"', 1)):
        (folder / "m.svg").write_text(svg % more)
        keys = [f["key"] for f in report(folder, "m.svg", *CUT)["findings"]]
        assert keys.count("left-out") == n
    (folder / "m.yaml").write_text(RECIPE.split("entries")[0] + "accept:\n  - {finding: left-out, reason: the mask hides nothing}\n"
                                   "entries:\n  - drawing: {file: m.svg}\n")
    (found,) = [f for f in report(folder, "m.yaml")["findings"] if f["key"] == "left-out"]
    assert found["accepted"] == "the mask hides nothing"


# ---- look ----------------------------------------------------------------------------------------

def line(layer, a, b):
    return f"0\nLINE\n8\n{layer}\n10\n{a[0]}\n20\n{a[1]}\n11\n{b[0]}\n21\n{b[1]}\n"


def loose():
    """A frame of 100 x 60 with a gap of 0.03 in its corner, a line that meets nothing, two discs that cross."""
    frame = [((0, 0), (100, 0)), ((100, 0), (100, 60)), ((100, 60), (0, 60)), ((0, 60), (0, 0.03))]
    discs = "".join(f"0\nCIRCLE\n8\nholes\n10\n{x}\n20\n30\n40\n8\n" for x in (70, 80))
    return ("0\nSECTION\n2\nENTITIES\n" + "".join(line("rim", *ab) for ab in frame) +
            line("open", (10, 10), (30, 10)) + discs + "0\nENDSEC\n0\nEOF\n")


def test_look_tells_what_was_found(folder):
    done = holdfast("look", "heron.svg", cwd=folder)
    assert done.returncode == 0 and done.stderr == ""
    assert re.match(r"heron.svg: SVG, its metal is 220 x 353 mm: as its file says\n  7 pieces\n", done.stdout)
    assert re.search(r'circle "eye" +9 x 9 mm, white, line 11', done.stdout)
    assert "names for --piece: body, heron, beak, crest, eye, legs and bank" in done.stdout
    for answer in ("opening", "metal", "nothing"):
        assert f"--white {answer}" in done.stdout
    assert "--white" not in holdfast("look", "heron.svg", "--piece", "bank", cwd=folder).stdout.split("to see it")[0]
    assert sorted(p.name for p in folder.iterdir()) == ["disc.dxf", "heron.svg"]


def test_look_tells_what_is_in_doubt_and_marks_it(folder):
    (folder / "frame.dxf").write_text(loose())
    done = holdfast("look", "frame.dxf", "--picture", "look.svg", cwd=folder)
    assert "--unit mm or --unit in" in done.stdout
    assert "a gap of 0.03 mm at 0, 0.015 was closed" in done.stdout
    assert "a line ends at 30, 10 and meets nothing" in done.stdout and 'layer "open" is not closed' in done.stdout
    numbers = dict(re.findall(r"^ +(\d+)  line \d+: .* at ([\d.]+, [\d.]+)", done.stdout, re.M))
    across = math.sqrt(64 - 25)  # where the discs cross: 5 beside each centre
    assert f"75, {30 + across:.3f}" in numbers.values()
    svg = xml.parse(folder / "look.svg").getroot()
    tag = "{http://www.w3.org/2000/svg}"
    k = 952 / 100  # 1000 pixels less the margins
    rings = {t.text: (float(c.get("cx")), float(c.get("cy"))) for c, t in zip(list(svg.iter(tag + "circle"))[1::2], svg.iter(tag + "text"))}
    for number, at in numbers.items():
        x, y = map(float, at.split(", "))
        assert rings[number] == pytest.approx((24 + k * x, 24 + k * (60 - y)), abs=0.1)


def test_look_begins_a_recipe(folder):
    (folder / "frame.dxf").write_text(loose())
    (folder / "deeper").mkdir()
    shutil.copy(folder / "heron.svg", folder / "deeper" / "it's #1.svg")
    for name in ("heron.svg", "frame.dxf", "disc.dxf", "deeper/it's #1.svg"):
        done = holdfast("look", name, "--recipe", "new.yaml", cwd=folder)
        assert done.returncode == 0, done.stderr
        text = (folder / "new.yaml").read_text()
        assert "The kerf is a guess" in text and ("Its unit is a guess" in text) == name.endswith("dxf")
        assert report(folder, "new.yaml")["drawings"][0]["file"] == name
        assert holdfast("look", name, "--recipe", "new.yaml", cwd=folder).returncode != 0  # never over a file
        assert (folder / "new.yaml").read_text() == text
        (folder / "new.yaml").unlink()
    done = holdfast("look", "heron.svg", "--recipe", "deeper/new.yaml", cwd=folder)
    assert done.returncode == 2 and "beside" in done.stderr and not (folder / "deeper" / "new.yaml").exists()


def test_look_spares_the_drawing(folder):
    before = (folder / "heron.svg").read_bytes()
    done = holdfast("look", "heron.svg", "--picture", "heron.svg", cwd=folder)
    assert done.returncode == 2 and "the drawing itself" in done.stderr
    assert (folder / "heron.svg").read_bytes() == before
    assert holdfast("look", cwd=folder).returncode == 2 and holdfast("look", "none.svg", cwd=folder).returncode == 2
