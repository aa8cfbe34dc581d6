# SPDX-License-Identifier: GPL-3.0-or-later
"""A drawing by itself as an order: `make`, `check` and `cure` take an SVG or DXF file where they take a
recipe. It is what a recipe of one drawing is; areas are those of plane geometry."""
import json
import math
import shutil

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
    assert report(folder, "disc.dxf", *CUT, "--width", "90 mm")["figures"]["box"]["width"] == pytest.approx(90, abs=1e-3)
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
